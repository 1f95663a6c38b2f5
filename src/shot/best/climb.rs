//! From a good plan to the best one near it.

use super::batch::Task;
use super::candidate::{TRIED_NUMBERS, Trial};
use super::frame::Frame;
use super::model::Model;
use super::plan::Plan;
use super::prospect::Outlook;
use super::worth::Leave;
use crate::normal::quantile;
use crate::physics::Stroke;
use crate::shot::spread::spread_evenly;
use crate::shot::{Demand, Wobble};
use glam::{DVec2, DVec4};

/// The number of the first errors, far from those that tops are judged by.
const FIRST: u32 = 1 << 16;

/// Pairs of opposite errors by which a place is seen (tuning choice, as are all numbers
/// below).
const PAIRS: usize = 96;

/// Steps of an ascent, in standard deviations of the strokes that were played, and how many
/// of each at most.
const STEPS: [f64; 4] = [0.8, 0.4, 0.2, 0.1];
const MOST_MOVES: usize = 4;

/// A step that gains less is the last of its length.
const LEAST_GAIN: f64 = 1e-4;

/// Up the slope these parts of a step are tried.
const STRIDES: [f64; 3] = [0.7, 1.4, 2.8];

/// So far from the middle of the strokes an ascent may lead, in standard deviations.
const REACH: f64 = 2.2;

/// Strokes farther than the root of this from a place tell nothing of it, in standard
/// deviations of the hand.
const FAR: f64 = 20.0;

/// What strokes show beyond the model counts half where so many tell of it.
const DOUBT: f64 = 60.0;

/// What an ascent gives: speed, side, height and turn of its top, and what that seems to be
/// worth.
pub(super) const ASCENT_NUMBERS: usize = 5;

/// What it counts for in plays: it takes about as long.
pub(super) const ASCENT_PLAYS: usize = 40;

/// A stroke that was played.
#[derive(Clone, Debug)]
pub(super) struct Tried {
    pub stroke: DVec4,
    /// What there is of its promise and of its worth, whatever the stop.
    pub gates: [f64; 2],
    /// Where the cue ball stopped, m, if there is something of them.
    pub stop: DVec2,
    /// How the ball on turns, rad; not a number if it is missed.
    pub turn: f64,
    /// How many strokes were to be expected here, per volume.
    density: f64,
}

impl Tried {
    /// What there is, where a promise counts for `hope`.
    pub fn gate(&self, hope: f64) -> f64 {
        hope * self.gates[0] + (1.0 - hope) * self.gates[1]
    }
}

/// A search by strokes that are used again: what every stroke round a plan came to tells of
/// all plans near it. Plans are tried widely first, then ever more closely.
///
/// # Source
/// Owen and Zhou 2000, J. Am. Stat. Assoc. 95, 135 (importance sampling from mixtures,
/// self-normalised, with control variates); from memory.
#[derive(Clone, Debug)]
pub(super) struct Climb {
    pub plan: Plan,
    /// What the aim is off the middle of the pocket, rad.
    pub turn: f64,
    /// What a promise counts for beside a worth.
    pub hope: f64,
    /// What the top seems to be worth.
    pub score: f64,
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
        Self { plan, turn, hope: 0.0, score: 0.0, frames, tried, coming }
    }

    /// Begins a stage; where there is no such pot nothing is to be played.
    pub fn begin(&mut self, trial: &Trial, stage: &Stage) {
        let frame = Frame::new(trial, self.plan, self.turn, stage.widths).or_else(|| {
            // Where it has led there is no such pot: on from where it was.
            let (last, _) = self.frames.last()?;
            (self.plan, self.turn) = last.planned(last.middle());
            Frame::new(trial, self.plan, self.turn, stage.widths)
        });
        let Some(frame) = frame else { return };
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
        let called = self.plan.pocket;
        self.coming.iter().map(move |(_, stroke)| Task::Try(*stroke, called))
    }

    /// Takes what came of these tasks off the front of `numbers`.
    pub fn take(&mut self, numbers: &mut impl Iterator<Item = f64>) {
        for (stroke, _) in std::mem::take(&mut self.coming) {
            let mut told = [0.0; TRIED_NUMBERS];
            told.iter_mut().zip(&mut *numbers).for_each(|(slot, number)| *slot = number);
            let [promised, all, x, y, turn] = told;
            let density =
                |(frame, n): &(Frame, usize)| *n as f64 * frame.density(stroke - frame.middle());
            let density = self.frames.iter().map(density).sum();
            let stop = DVec2::new(x, y);
            self.tried.push(Tried { stroke, gates: [promised, all], stop, turn, density });
        }
    }

    /// Takes what came of its ascent.
    pub fn rise(&mut self, numbers: &[f64]) {
        if let &[speed, side, height, turn, score] = numbers {
            self.plan = Plan { speed, side, height, ..self.plan };
            (self.turn, self.score) = (turn, score);
        }
    }

    /// With all that it knows, but on from here.
    pub fn back_to(self, plan: Plan, turn: f64) -> Self {
        Self { plan, turn, ..self }
    }

    /// To the best place that all strokes show, by steps that grow shorter.
    pub fn ascended(&self, demand: &Demand, next: &mut dyn Outlook) -> [f64; ASCENT_NUMBERS] {
        let (mut plan, mut turn, mut score) = (self.plan, self.turn, 0.0);
        if let Some((view, frame)) = self.view(demand, next) {
            let mut top = (DVec4::ZERO, view.score(DVec4::ZERO, next));
            for step in STEPS {
                for _ in 0..MOST_MOVES {
                    let before = top.1;
                    top = view.beside(top, step, next);
                    if top.1 <= before + LEAST_GAIN {
                        break;
                    }
                }
            }
            (plan, turn) = frame.planned(frame.stroke_seen(top.0));
            score = top.1;
        }
        [plan.speed, plan.side, plan.height, turn, score]
    }

    /// What is seen round the plan that was tried last; `None` where too little was left of
    /// the strokes.
    fn view(&self, demand: &Demand, next: &mut dyn Outlook) -> Option<(View<'_>, &Frame)> {
        let (frame, _) = self.frames.last()?;
        let model = Model::new(demand, frame, &self.tried, self.hope)?;
        Some((View::new(self, frame, model, demand, next), frame))
    }
}

/// What a model, put right by the strokes that were played, says of plans near it.
struct View<'a> {
    frame: &'a Frame,
    model: Model,
    /// Errors of the hand, as the frame sees them.
    errors: Vec<DVec4>,
    /// Strokes that were played, what each was worth beyond what the model says, and how
    /// rare it is.
    beyond: Vec<(DVec4, f64, f64)>,
}

impl<'a> View<'a> {
    fn new(
        climb: &Climb,
        frame: &'a Frame,
        model: Model,
        demand: &Demand,
        next: &mut dyn Outlook,
    ) -> Self {
        let (leave, hope) = (Leave::of(demand), climb.hope);
        let beyond = climb.tried.iter().map(|it| {
            let gate = it.gate(hope);
            let found = if gate > 0.0 { gate * leave.mixed(it.stop, hope, next) } else { 0.0 };
            (it.stroke, found - model.value(frame.seen(it.stroke), next), 1.0 / it.density)
        });
        let beyond = beyond.collect();
        let of = |k: usize| DVec4::from_array(spread_evenly::<4>(k as u32).map(quantile));
        // As wide as they should be, however few they are.
        let square: DVec4 = (0..PAIRS).map(|k| of(k) * of(k)).sum();
        let factor = frame.errors() / (square / PAIRS as f64).map(f64::sqrt);
        let errors = (0..PAIRS).map(|k| frame.seen_change(factor * of(k))).collect();
        Self { frame, model, errors, beyond }
    }

    /// The best place a step from `top` (a place and its score), along one axis or up the
    /// slope; `top` itself if none is better.
    fn beside(&self, top: (DVec4, f64), step: f64, next: &mut dyn Outlook) -> (DVec4, f64) {
        let (from, mut best, mut slope) = (top.0, top, DVec4::ZERO);
        let mut tried = |by: DVec4| {
            let there = self.within_reach(from + by);
            let score = self.score(there, next);
            if score > best.1 {
                best = (there, score);
            }
            score
        };
        for axis in DVec4::AXES {
            slope += axis * (tried(axis * step) - tried(axis * -step));
        }
        for stride in STRIDES {
            tried(slope.normalize_or_zero() * (stride * step));
        }
        best
    }

    /// The nearest place where a plan may be.
    fn within_reach(&self, x: DVec4) -> DVec4 {
        let near = x.clamp_length_max(REACH);
        self.frame.seen(self.frame.within_reach(self.frame.stroke_seen(near)))
    }

    /// What the hand's strokes at `x` are worth: by the model, and by what those that were
    /// played near there were worth beyond it.
    fn score(&self, x: DVec4, next: &mut dyn Outlook) -> f64 {
        let mut value = |x: DVec4| self.model.value(x, next);
        let sum: f64 = self.errors.iter().map(|by| value(x + *by) + value(x - *by)).sum();
        let (at, sharp) = (self.frame.stroke_seen(x), self.frame.errors().recip());
        let (mut all, mut squares, mut off) = (0.0, 0.0, 0.0);
        for (stroke, beyond, rare) in &self.beyond {
            let square = ((*stroke - at) * sharp).length_squared();
            if square < FAR {
                let weight = rare * libm::exp(-0.5 * square);
                all += weight;
                squares += weight * weight;
                off += weight * beyond;
            }
        }
        // As many equal strokes would tell as much.
        let n = if squares > 0.0 { all * all / squares } else { 0.0 };
        let put_right = if n > 0.0 { off / all * n / (n + DOUBT) } else { 0.0 };
        sum / (2 * PAIRS) as f64 + put_right
    }
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
            let ascent = vec![Task::Ascend(Box::new(climb.clone()))];
            climb.rise(&done(&trial, ascent).collect::<Vec<f64>>());
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
