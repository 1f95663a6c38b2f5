//! Strokes at a ball from one place of the cue ball: aimed, with their chances, and played.

use super::set::BallSet;
use super::strokes::{Tip, speed_at};
use super::target::Target;
use crate::geometry::{heading, unit_from_angle};
use crate::normal::below;
use crate::physics::{Arena, BallEnd, PlacedBall, Stroke, squirt_angle};
use crate::shot::{
    Given, Hand, PotWindow, SpeedError, Windows, awkwardness, least_elevation, turn,
};
use crate::table::PocketId;
use glam::DVec2;

/// A stroke with less chance to pot than this is not kept (tuning choice: it is never
/// part of a good plan, but where there is nothing else it is what there is).
pub(super) const LEAST_CHANCE: f64 = 0.02;
/// What one stroke comes to.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Entry {
    /// Where the ball is to fall.
    pub pocket: PocketId,
    /// Which tip and which speed, by their numbers.
    pub tip: u8,
    /// See `tip`.
    pub speed: u8,
    /// The stroke.
    pub stroke: Stroke,
    /// The chance that the ball falls, 0 to 1.
    pub pot: f64,
    /// Whether the cue ball stays on the table when all goes as meant.
    pub stays: bool,
    /// Where the cue ball stops, m.
    pub stop: DVec2,
    /// How the stop goes with the speed: by a standard deviation of it, m. `None` if a
    /// slower or a faster stroke scratches.
    pub drift: [Option<DVec2>; 2],
    /// Rails met after the ball.
    pub rails: u8,
    /// Balls in the way of the cue ball to the ball, or of the ball to the pocket, of those
    /// that were left out.
    pub blocked: BallSet,
    /// Those into which the cue ball runs after the ball.
    pub bumped: BallSet,
}

/// One place of the cue ball.
pub(super) struct Stand<'a> {
    pub arena: &'a Arena,
    pub hand: &'a Hand,
    pub target: &'a Target,
    pub balls: &'a [PlacedBall],
    pub place: DVec2,
}

/// A stroke that is aimed, and its chance to pot.
#[derive(Clone, Copy)]
pub(super) struct Aimed {
    pub stroke: Stroke,
    pub pot: f64,
    /// By this factor the hand's errors are wider.
    awkward: f64,
}

impl Stand<'_> {
    /// The chance of a plain stroke that brings the ball to the pocket; `None` if there is no
    /// way there.
    pub fn rough(&self, pocket: PocketId) -> Option<f64> {
        let speed = 2.0 * self.windows(pocket).speed;
        let plain = Stroke { azimuth: 0.0, elevation: 0.0, speed, side: 0.0, height: 0.0 };
        Some(self.aimed(pocket, &self.lifted(pocket, &plain)?, None)?.pot)
    }

    fn windows(&self, pocket: PocketId) -> &Windows {
        self.target.windows(pocket)
    }

    /// `plain` turned toward the ghost ball and lifted as far as it must be.
    pub fn lifted(&self, pocket: PocketId, plain: &Stroke) -> Option<Stroke> {
        let radius = self.arena.card().ball.radius;
        let [right, left] = self.windows(pocket).main()?.usual();
        let line = unit_from_angle(self.windows(pocket).line + 0.5 * (right + left));
        let way = self.target.ball().position - line * (2.0 * radius) - self.place;
        if way.dot(line) <= 0.0 {
            return None;
        }
        let squirt = squirt_angle(plain.side, self.arena.card().squirt_mass_ratio);
        let turned = Stroke { azimuth: heading(way) - squirt, ..*plain };
        let elevation = least_elevation(self.arena.card(), self.balls, &turned);
        Some(Stroke { elevation, ..turned })
    }

    /// By how much the ball goes past the middle of the window, rad, and what it is given.
    fn past(&self, pocket: PocketId, window: &PotWindow, stroke: &Stroke) -> Option<(f64, Given)> {
        let windows = self.windows(pocket);
        let object = self.target.ball().position;
        let (turn, given) = turn(self.arena.card(), self.place, object, stroke, windows.line)?;
        let edges = [0, 1].map(|side| windows.edge(window, side, given));
        Some((turn - 0.5 * (edges[0] + edges[1]), given))
    }

    /// The stroke aimed at the middle of the window, from a direction that is nearly right.
    pub fn aimed(&self, pocket: PocketId, start: &Stroke, awkward: Option<f64>) -> Option<Aimed> {
        let window = self.windows(pocket).main()?;
        let mut stroke = *start;
        let (mut past, mut given) = self.past(pocket, window, &stroke)?;
        let step = 1e-4;
        let (aside, _) =
            self.past(pocket, window, &Stroke { azimuth: stroke.azimuth + step, ..stroke })?;
        let mut slope = (aside - past) / step;
        for _ in 0..6 {
            if past.abs() < 1e-4 {
                break;
            }
            let azimuth = stroke.azimuth - (past / slope).clamp(-0.02, 0.02);
            let next = Stroke { azimuth, ..stroke };
            let (there, gives) = self.past(pocket, window, &next)?;
            if (there - past) / (azimuth - stroke.azimuth) < 0.0 {
                slope = (there - past) / (azimuth - stroke.azimuth);
            }
            (stroke, past, given) = (next, there, gives);
        }
        let awkward =
            awkward.unwrap_or_else(|| awkwardness(self.arena.card(), self.balls, &stroke));
        let spread = self.spread(pocket, window, &stroke, past, slope, awkward);
        let edges = [0, 1].map(|side| self.windows(pocket).edge(window, side, given));
        let half = 0.5 * (edges[1] - edges[0]);
        let pot = (below((half - past) / spread) - below((-half - past) / spread)).max(0.0);
        Some(Aimed { stroke, pot, awkward })
    }

    /// Standard deviation of the ball's direction under the hand, rad.
    fn spread(
        &self,
        pocket: PocketId,
        window: &PotWindow,
        stroke: &Stroke,
        past: f64,
        slope: f64,
        awkward: f64,
    ) -> f64 {
        let tip = self.hand.tip;
        let direct = slope * self.hand.azimuth;
        let by = |changed: Stroke| {
            self.past(pocket, window, &changed).map_or(0.0, |(there, _)| there - past)
        };
        let side = by(Stroke { side: stroke.side + 0.02, ..*stroke }) / 0.02 * tip;
        let height = by(Stroke { height: stroke.height - 0.02, ..*stroke }) / 0.02 * tip;
        let speed = by(Stroke { speed: 1.02 * stroke.speed, ..*stroke }) / 0.02
            * self.speed_error(stroke.speed);
        awkward * (direct * direct + side * side + height * height + speed * speed).sqrt()
    }

    /// Standard deviation of the speed, as a share of it.
    fn speed_error(&self, speed: f64) -> f64 {
        match self.hand.speed {
            SpeedError::Relative(share) => share,
            SpeedError::Absolute(error) => error / speed,
        }
    }

    /// Strokes of one tip at all speeds that carry the ball to the pocket.
    pub fn ladder(
        &self,
        pocket: PocketId,
        number: u8,
        tip: Tip,
        n_speeds: u8,
        entries: &mut Vec<Entry>,
    ) {
        let plain =
            Stroke { azimuth: 0.0, elevation: 0.0, speed: 2.0, side: tip.side, height: tip.height };
        let Some(mut start) = self.lifted(pocket, &plain) else { return };
        let first = entries.len();
        let mut awkward = None;
        for k in 0..n_speeds {
            start.speed = speed_at(k, n_speeds);
            let Some(aimed) = self.aimed(pocket, &start, awkward) else { continue };
            (start.azimuth, awkward) = (aimed.stroke.azimuth, Some(aimed.awkward));
            if aimed.pot < LEAST_CHANCE {
                continue;
            }
            entries.push(self.played(pocket, number, k, &aimed));
        }
        drifts(&mut entries[first..], |stroke| {
            let awkward = awkward.unwrap_or(1.0);
            awkward * self.speed_error(stroke.speed)
        });
    }

    fn played(&self, pocket: PocketId, tip: u8, speed: u8, aimed: &Aimed) -> Entry {
        let Aimed { stroke, pot, .. } = *aimed;
        let (ends, watch) = self.target.played(self.arena, self.balls, &stroke);
        let (stop, stays) = match ends[0] {
            BallEnd::Rest(at) => (at, true),
            BallEnd::Moving(at) => (at, false),
            BallEnd::Pocketed(_) => (self.place, false),
        };
        // What the windows foresee must come true when all goes as meant.
        let falls = watch.met.is_some() && !watch.wrong && ends[1] == BallEnd::Pocketed(pocket);
        Entry {
            pocket,
            tip,
            speed,
            stroke,
            pot: if falls { pot } else { 0.0 },
            stays,
            stop,
            drift: [None; 2],
            rails: watch.rails,
            blocked: watch.blocked,
            bumped: watch.bumped,
        }
    }
}

/// Reads off neighbours in speed how stops go with it.
fn drifts(ladder: &mut [Entry], error: impl Fn(&Stroke) -> f64) {
    for k in 0..ladder.len() {
        let here = ladder[k];
        let toward = |other: Option<&Entry>| {
            let other = other.filter(|other| other.stays)?;
            let way = libm::log(other.stroke.speed / here.stroke.speed).abs();
            Some((other.stop - here.stop) * (error(&here.stroke) / way).min(1.0))
        };
        let slower = toward(k.checked_sub(1).and_then(|k| ladder.get(k)));
        let faster = toward(ladder.get(k + 1));
        // At an end of the ladder the other side tells.
        let edge = |drift: Option<DVec2>, other: Option<DVec2>, is_edge: bool| {
            if is_edge { other.map(|other| -other) } else { drift }
        };
        ladder[k].drift =
            [edge(slower, faster, k == 0), edge(faster, slower, k + 1 == ladder.len())];
    }
}
