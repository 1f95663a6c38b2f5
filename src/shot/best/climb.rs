//! From a good plan to the best one near it.

use super::candidate::Trial;
use super::frame::{FRAME_AIMS, Frame};
use super::plan::{AIM_PLAYS, Plan};
use crate::normal::quantile;
use crate::shot::Wobble;
use crate::shot::spread::spread_evenly;
use glam::{DVec2, DVec4};

/// So many strokes between two looks at the caller.
const GLANCE: usize = 16;

/// The number of the first errors, far from those that tops are judged by.
const FIRST: u32 = 1 << 16;

/// Steps that are tried, of what the strokes' slope says (tuning choice).
const STRIDES: [f64; 4] = [4.0, 2.0, 1.0, 0.5];

/// Moves of one stage at most (tuning choice).
const MOST_MOVES: u32 = 12;

/// So many standard errors are taken off what strokes show (tuning choice).
const CAUTION: f64 = 1.0;

/// A stroke that was played.
#[derive(Clone, Debug)]
struct Tried {
    stroke: DVec4,
    promise: f64,
    worth: f64,
    /// How many strokes were to be expected here, per volume.
    density: f64,
}

/// A search by strokes that are used again: every stroke round a plan tells of all plans
/// near it, as far as those would have played it, too. Plans are tried widely first, then
/// ever more closely.
///
/// # Source
/// Owen and Zhou 2000, J. Am. Stat. Assoc. 95, 135 (importance sampling from mixtures,
/// self-normalised); from memory.
#[derive(Clone, Debug)]
pub(super) struct Climb {
    pub plan: Plan,
    /// What the aim is off the middle of the pocket, rad.
    pub turn: f64,
    /// This stage and those to come, the last first.
    stages: Vec<Stage>,
    /// What was tried round, and with how many strokes.
    frames: Vec<(Frame, usize)>,
    tried: Vec<Tried>,
    /// What a promise counts for beside a worth.
    hope: f64,
    /// Strokes left in this stage, if it has begun.
    left: Option<usize>,
}

/// Strokes to be played round one plan.
#[derive(Clone, Debug)]
pub(super) struct Stage {
    /// Standard deviations of the plans that are tried: logarithm of the speed, side, height.
    pub widths: [f64; 3],
    pub n_strokes: usize,
}

impl Climb {
    /// From `plan`, aimed `turn` (rad) off the middle of its pocket.
    pub fn new(plan: Plan, turn: f64) -> Self {
        Self {
            plan,
            turn,
            stages: Vec::new(),
            frames: Vec::new(),
            tried: Vec::new(),
            hope: 0.0,
            left: None,
        }
    }

    /// Goes on through these stages; a promise counts for `hope` beside a worth.
    pub fn go_on(&mut self, mut stages: Vec<Stage>, hope: f64) {
        stages.reverse();
        (self.stages, self.hope) = (stages, hope);
    }

    /// Whether all stages were gone through.
    pub fn is_over(&self) -> bool {
        self.stages.is_empty()
    }

    /// Plays a few strokes; gives their number.
    pub fn advance(&mut self, trial: &Trial, next: &dyn Fn(DVec2) -> f64) -> usize {
        let Some(left) = self.left else { return self.begin(trial) };
        let n = left.min(GLANCE);
        for _ in 0..n {
            self.play(trial, next);
        }
        self.left = Some(left - n);
        if left == n {
            self.ascend();
            self.stages.pop();
            self.left = None;
        }
        n
    }

    /// Begins a stage; where there is no such pot the climb is over.
    fn begin(&mut self, trial: &Trial) -> usize {
        let frame = self.stages.last().and_then(|stage| {
            let frame = Frame::new(trial, self.plan, self.turn, stage.widths)?;
            Some((frame, stage.n_strokes))
        });
        match frame {
            Some((frame, n)) => {
                for tried in &mut self.tried {
                    tried.density += n as f64 * frame.density(tried.stroke - frame.middle());
                }
                self.frames.push((frame, n));
                self.left = Some(n);
            }
            None => self.stages.clear(),
        }
        FRAME_AIMS * AIM_PLAYS
    }

    fn play(&mut self, trial: &Trial, next: &dyn Fn(DVec2) -> f64) {
        let Some((frame, _)) = self.frames.last() else { return };
        let (errors, away) = errors_and_away(FIRST + self.tried.len() as u32);
        let (stroke, struck) = frame.struck(&errors, away);
        let (promise, worth) = trial.values(&struck, next);
        let density =
            |(frame, n): &(Frame, usize)| *n as f64 * frame.density(stroke - frame.middle());
        let density = self.frames.iter().map(density).sum();
        self.tried.push(Tried { stroke, promise, worth, density });
    }

    /// To the best place that all strokes show, seen as widely as the last ones were tried.
    fn ascend(&mut self) {
        let Some((frame, _)) = self.frames.last() else { return };
        let mut at = frame.middle();
        let mut view = self.view(frame, at);
        for _ in 0..MOST_MOVES {
            let mut better = None;
            for stride in STRIDES {
                let there = frame.within_reach(at + view.slope * stride);
                let other = self.view(frame, there);
                if other.score > better.as_ref().map_or(view.score, |(_, it): &(_, View)| it.score)
                {
                    better = Some((there, other));
                }
            }
            let Some((there, other)) = better else { break };
            (at, view) = (there, other);
        }
        (self.plan, self.turn) = frame.planned(at);
    }

    fn view(&self, frame: &Frame, at: DVec4) -> View {
        let weight = |tried: &Tried| frame.density(tried.stroke - at) / tried.density;
        let weights: Vec<f64> = self.tried.iter().map(weight).collect();
        let value = |tried: &Tried| self.hope * tried.promise + (1.0 - self.hope) * tried.worth;
        let each = || self.tried.iter().zip(&weights);
        let all: f64 = weights.iter().sum();
        let mean = each().map(|(tried, weight)| weight * value(tried)).sum::<f64>() / all;
        let (mut variance, mut slope) = (0.0, DVec4::ZERO);
        for (tried, weight) in each() {
            let off = value(tried) - mean;
            variance += (weight * off) * (weight * off);
            slope += (tried.stroke - at) * (weight * off);
        }
        View { score: mean - CAUTION * variance.sqrt() / all, slope: slope / all }
    }
}

/// What strokes show of a plan.
struct View {
    score: f64,
    /// Of the mean, times the covariance of the strokes.
    slope: DVec4,
}

/// Errors with this number of a series that fills their space evenly, and how far the plan
/// is away.
pub(super) fn errors_and_away(index: u32) -> (Wobble, [f64; 3]) {
    let [azimuth, speed, side, height, away @ .., elevation] =
        spread_evenly::<8>(index).map(|share| quantile(share.clamp(1e-6, 1.0 - 1e-6)));
    (Wobble { azimuth, speed, side, height, elevation }, away)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::shot::best::candidate::Candidate;
    use crate::shot::best::worth::worth;
    use crate::shot::example::potted;
    use crate::shot::{Demand, HANDS, Zone};
    use crate::table::PocketId;

    #[test]
    fn a_climb_leads_from_beside_the_zone_into_it() {
        let (situation, stroke) = potted(1.5, 0.2);
        let centre = situation.play(&stroke).stop;
        let zone = Some(Zone { centre, half: DVec2::splat(0.1), turn: 0.0 });
        let demand = Demand { zone, ..Demand::to_pot(situation.on()) };
        let wobbles = (0..400).map(|k| Wobble::drawn(3, k)).collect();
        let trial = Trial { situation, demand, hand: HANDS[1].hand, wobbles };
        let plan = Plan { pocket: PocketId::FootLeft, speed: 2.1, side: 0.05, height: 0.1 };
        let mut climb = Climb::new(plan, 0.0);
        let stage = |width: f64| Stage { widths: [width; 3], n_strokes: 200 };
        climb.go_on(vec![stage(0.06), stage(0.03), stage(0.0)], 0.5);
        while !climb.is_over() {
            climb.advance(&trial, &|_| 1.0);
        }
        let mean = |plan: Plan, turn: f64| {
            let mut candidate = Candidate::new(&trial, plan, turn).expect("an open pot");
            candidate.play(&trial, 400, worth, &|_| 1.0);
            candidate.mean()
        };
        let (before, after) = (mean(plan, 0.0), mean(climb.plan, climb.turn));
        assert!(after > before + 0.2, "from {before} to {after}: {:?}", climb.plan);
    }
}
