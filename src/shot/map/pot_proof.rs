//! What the windows say, put right by strokes that are played.

use super::errors::{Across, Errors, FAR, Intervals, line_across, share};
use crate::ball::{BallId, BallMotion};
use crate::normal::{below, quantile};
use crate::physics::{Arena, BallEnd, Event, EventKind, Listen, PlacedBall, at_the_strike};
use crate::table::PocketId;

/// Lines, and strokes on each beside those at the ends of its intervals, that are played at
/// every place, and more where one of them comes out as is not foreseen (tuning choices:
/// what two seconds allow for a map).
const FEW: (u32, u32) = (24, 16);
const MORE: (u32, u32) = (48, 10);
/// And most where it is luck that must be counted, which is rare.
const MOST: (u32, u32) = (128, 24);
const STAGES: [(u32, u32); 3] = [FEW, MORE, MOST];

/// So much may be in doubt after the few, in standard deviations of a single stroke's
/// success (tuning choice: that of ten thousand strokes').
const DOUBT: f64 = 0.01;

/// And so much after more of them (tuning choice: as ten thousand strokes leave).
const DOUBT_LEFT: f64 = 0.006;

/// Steps of the speed over which the windows' own chance is taken.
const FORESEEN: u32 = 160;

/// An end of an interval is looked for as near as this at first, in standard deviations,
/// and found to this share of the strokes.
const NEAR: f64 = 0.05;
const FINE: f64 = 0.02;

/// Ends farther out than this are left where the windows have them, standard deviations.
const OUTER: f64 = 3.0;

/// Strokes of one pot that are played to see what the windows do not.
pub(super) struct PotProof<'a> {
    errors: &'a Errors<'a>,
    pocket: PocketId,
    /// The cue ball first, then the ball on.
    balls: Vec<(BallId, BallMotion)>,
    /// Strokes since the last line.
    n_played: u32,
}

/// How far a proof has come.
#[derive(Clone, Debug, Default)]
pub(super) struct Evidence {
    /// The chance by the windows alone, once it is taken.
    foreseen: Option<f64>,
    seen: Seen,
    /// Stages that are over, and lines of the next one that are played.
    stage: usize,
    line: u32,
}

impl<'a> PotProof<'a> {
    /// `balls` are all on the table, the cue ball first, then the ball on.
    pub fn new(errors: &'a Errors<'a>, balls: &[PlacedBall], pocket: PocketId) -> Self {
        Self { errors, pocket, balls: at_the_strike(balls, BallMotion::default()), n_played: 0 }
    }

    /// Plays about as many strokes more as `left` says, which then says how many are left;
    /// the chance that the ball on falls, once enough are played.
    pub fn advance(&mut self, evidence: &mut Evidence, left: &mut u32) -> Option<f64> {
        let foreseen = *evidence.foreseen.get_or_insert_with(|| self.errors.chance(FORESEEN));
        while let Some(&(n_lines, n_strokes)) = STAGES.get(evidence.stage) {
            while evidence.line < n_lines {
                if *left == 0 {
                    return None;
                }
                self.play_line(evidence.line, n_lines, n_strokes, &mut evidence.seen);
                evidence.line += 1;
                *left = left.saturating_sub(std::mem::take(&mut self.n_played));
            }
            (evidence.stage, evidence.line) = (evidence.stage + 1, 0);
            if evidence.seen.is_enough(foreseen, evidence.stage) {
                break;
            }
        }
        Some(evidence.seen.chance(foreseen))
    }

    /// Plays over one of so many lines, and so many strokes on it.
    fn play_line(&mut self, line: u32, n_lines: u32, n_strokes: u32, seen: &mut Seen) {
        let speed = (f64::from(line) + 0.5) / f64::from(n_lines);
        let (across, shift) = line_across(line, speed);
        let foreseen = self.errors.intervals(&across);
        let found = self.found(&foreseen, &across, shift);
        seen.add_line(share(&found) - share(&foreseen));
        for k in 0..n_strokes {
            let sigmas = quantile((f64::from(k) + shift) / f64::from(n_strokes));
            let expected = found.iter().any(|[low, high]| (*low..*high).contains(&sigmas));
            seen.add_stroke(self.falls(sigmas, &across), expected);
        }
    }

    /// The intervals with their ends where strokes show them.
    fn found(&mut self, foreseen: &Intervals, across: &Across, shift: f64) -> Intervals {
        let moved = |&[low, high]: &[f64; 2]| {
            let middle = 0.5 * (low + high);
            [(low, shift), (high, (shift + 0.5).fract())]
                .map(|(end, shift)| self.end(end, middle, across, shift))
        };
        foreseen.iter().map(moved).collect()
    }

    /// The true end of an interval near the foreseen `end`, as strokes show; its `middle`
    /// if none falls. It is told in steps, which lie otherwise for each `shift`, so that
    /// on average it is right.
    fn end(&mut self, end: f64, middle: f64, across: &Across, shift: f64) -> f64 {
        if end.abs() > OUTER {
            return end;
        }
        let inward = NEAR.min(0.4 * (middle - end).abs()).copysign(middle - end);
        let (mut within, mut without) =
            (end + inward * (0.5 + shift), end - inward * (1.5 - shift));
        if self.falls(within, across) {
            // It may reach farther out.
            while self.falls(without, across) {
                within = without;
                without = end + 3.0 * (without - end);
                if without.abs() > FAR {
                    return within;
                }
            }
        } else {
            // It may end farther in.
            loop {
                without = within;
                within = end + 3.0 * (within - end);
                if (within - middle) * inward >= 0.0 {
                    return middle;
                }
                if self.falls(within, across) {
                    break;
                }
            }
        }
        while (below(within) - below(without)).abs() > FINE {
            let half = 0.5 * (within + without);
            if self.falls(half, across) { within = half } else { without = half }
        }
        0.5 * (within + without)
    }

    /// Whether the ball on falls after the stroke `sigmas` along the line.
    fn falls(&mut self, sigmas: f64, across: &Across) -> bool {
        self.n_played += 1;
        let stroke = self.errors.at(sigmas, across);
        let arena: &Arena = self.errors.aim.map.arena();
        let card = arena.card();
        let cue_ball = &mut self.balls[0].1;
        (cue_ball.velocity, cue_ball.spin) =
            stroke.launch(card.ball.radius, card.squirt_mass_ratio);
        let mut watch = Watch { on: self.balls[1].0, has_fallen: false };
        arena.run(&self.balls, &mut watch)[1] == BallEnd::Pocketed(self.pocket)
    }
}

/// What strokes show that the windows do not say.
#[derive(Clone, Debug, Default)]
struct Seen {
    n_lines: f64,
    /// Sums over the lines of the share by which ends of intervals lie farther out, and of
    /// its square.
    moved: [f64; 2],
    n_strokes: f64,
    /// Strokes that fall beside the intervals, and those that do not fall within.
    more: f64,
    less: f64,
}

impl Seen {
    fn add_line(&mut self, moved: f64) {
        self.n_lines += 1.0;
        self.moved[0] += moved;
        self.moved[1] += moved * moved;
    }

    fn add_stroke(&mut self, falls: bool, expected: bool) {
        self.n_strokes += 1.0;
        self.more += f64::from(u8::from(falls && !expected));
        self.less += f64::from(u8::from(expected && !falls));
    }

    /// The chance that the windows foresee, put right.
    fn chance(&self, foreseen: f64) -> f64 {
        (foreseen + self.correction()).clamp(0.0, 1.0)
    }

    /// Whether so many stages show enough.
    fn is_enough(&self, foreseen: f64, n_stages: usize) -> bool {
        let chance = self.chance(foreseen);
        let spread = (chance * (1.0 - chance)).sqrt();
        if n_stages == 1 {
            let strayed = (self.more + self.less) / self.n_strokes;
            return strayed + (chance - foreseen).abs() < DOUBT * spread;
        }
        self.error() < DOUBT_LEFT * spread
    }

    /// Variances of the two parts of the correction.
    fn variances(&self) -> [f64; 2] {
        let moved = self.moved[0] / self.n_lines;
        let spread = (self.moved[1] / self.n_lines - moved * moved).max(0.0) / self.n_lines;
        [spread, (self.more + self.less) / (self.n_strokes * self.n_strokes)]
    }

    /// Standard error of the correction.
    fn error(&self) -> f64 {
        self.variances().iter().sum::<f64>().sqrt()
    }

    /// By how much the chance is greater than the windows say: what lines and strokes show
    /// on average, the less of it the more likely it is luck.
    fn correction(&self) -> f64 {
        let credible = |mean: f64, variance: f64| {
            if mean == 0.0 { 0.0 } else { mean * mean * mean / (mean * mean + variance) }
        };
        let (moved, strayed) =
            (self.moved[0] / self.n_lines, (self.more - self.less) / self.n_strokes);
        let [spread, luck] = self.variances();
        credible(moved, spread) + credible(strayed, 2.0 * luck)
    }
}

/// Hears when the ball on falls: what comes later is of no interest.
struct Watch {
    on: BallId,
    has_fallen: bool,
}

impl Listen for Watch {
    fn event(&mut self, event: Event) {
        self.has_fallen |= event.ball == self.on && matches!(event.kind, EventKind::Pocketed(_));
    }

    fn has_heard_enough(&self) -> bool {
        self.has_fallen
    }
}
