//! From a good plan to the best one near it.

use super::batch::Task;
use super::candidate::Trial;
use super::frame::Frame;
use super::plan::Plan;
use crate::normal::quantile;
use crate::physics::Stroke;
use crate::shot::Wobble;
use crate::shot::spread::spread_evenly;
use glam::DVec4;

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
    /// What a promise counts for beside a worth.
    pub hope: f64,
    /// What was tried round, and with how many strokes.
    frames: Vec<(Frame, usize)>,
    tried: Vec<Tried>,
    /// Strokes of the stage that has begun.
    coming: Vec<(DVec4, Stroke)>,
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
        let (frames, tried, coming) = (Vec::new(), Vec::new(), Vec::new());
        Self { plan, turn, hope: 0.0, frames, tried, coming }
    }

    /// Begins a stage; where there is no such pot nothing is to be played.
    pub fn begin(&mut self, trial: &Trial, stage: &Stage) {
        let Some(frame) = Frame::new(trial, self.plan, self.turn, stage.widths) else { return };
        for tried in &mut self.tried {
            let away = tried.stroke - frame.middle();
            tried.density += stage.n_strokes as f64 * frame.density(away);
        }
        let strokes = (0..stage.n_strokes).map(|k| {
            let (errors, away) = errors_and_away(FIRST + (self.tried.len() + k) as u32);
            frame.struck(&errors, away)
        });
        self.coming = strokes.collect();
        self.frames.push((frame, stage.n_strokes));
    }

    /// What is to be played in the stage that has begun.
    pub fn tasks(&self) -> impl Iterator<Item = Task> {
        let called = Some(self.plan.pocket);
        self.coming.iter().map(move |(_, stroke)| Task::Play(*stroke, called))
    }

    /// Takes what came of these tasks off the front of `numbers`, and climbs.
    pub fn take(&mut self, numbers: &mut impl Iterator<Item = f64>) {
        if self.coming.is_empty() {
            return;
        }
        for (stroke, _) in std::mem::take(&mut self.coming) {
            let Some((promise, worth)) = numbers.next().zip(numbers.next()) else { return };
            let density =
                |(frame, n): &(Frame, usize)| *n as f64 * frame.density(stroke - frame.middle());
            let density = self.frames.iter().map(density).sum();
            self.tried.push(Tried { stroke, promise, worth, density });
        }
        self.ascend();
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
    use crate::shot::best::batch::{Batch, Share};
    use crate::shot::best::candidate::Candidate;
    use crate::shot::example::potted;
    use crate::shot::{Demand, HANDS, Zone};
    use crate::table::PocketId;
    use glam::DVec2;

    fn done(trial: &Trial, tasks: Vec<Task>) -> impl Iterator<Item = f64> {
        let mut batch = Batch::new(tasks, Share::ALL);
        while batch.advance(trial, &mut |_: DVec2| 1.0).is_some() {}
        batch.into_numbers().into_iter()
    }

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
        climb.hope = 0.5;
        for width in [0.06, 0.03, 0.0] {
            climb.begin(&trial, &Stage { widths: [width; 3], n_strokes: 200 });
            climb.take(&mut done(&trial, climb.tasks().collect()));
        }
        let mean = |plan: Plan, turn: f64| {
            let mut candidate = Candidate::new(&trial, plan, turn).expect("an open pot");
            let tasks = candidate.tasks(&trial, 400, None).collect();
            candidate.take(400, &mut done(&trial, tasks));
            candidate.mean(0.0)
        };
        let (before, after) = (mean(plan, 0.0), mean(climb.plan, climb.turn));
        assert!(after > before + 0.2, "from {before} to {after}: {:?}", climb.plan);
    }
}
