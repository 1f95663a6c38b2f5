//! A plan that is being tried with the numbered strokes of a hand.

use super::batch::Task;
use super::plan::Plan;
use super::worth::{gates, promise, worth};
use crate::geometry::heading;
use crate::physics::Stroke;
use crate::shot::{Chance, Delivery, Demand, Ending, Hand, Situation, Wobble, turn};
use crate::table::PocketId;
use glam::DVec2;

/// What a candidate is tried on.
#[derive(Clone, Debug)]
pub(super) struct Trial {
    pub situation: Situation,
    pub demand: Demand,
    pub hand: Hand,
    /// The errors of the strokes, by their numbers.
    pub wobbles: Vec<Wobble>,
}

impl Trial {
    /// Plays `stroke` for the pocket `called`.
    pub fn value(
        &self,
        stroke: &Stroke,
        called: PocketId,
        value: Value,
        next: &mut dyn FnMut(DVec2) -> f64,
    ) -> f64 {
        let ending = self.situation.play_for(&self.demand, Some(called), stroke);
        ending.map_or(0.0, |ending| value(&self.demand, &ending, next))
    }

    /// Plays `stroke` for its promise and its worth.
    pub fn values(
        &self,
        stroke: &Stroke,
        called: Option<PocketId>,
        next: &mut dyn FnMut(DVec2) -> f64,
    ) -> [f64; 2] {
        let ending = self.situation.play_for(&self.demand, called, stroke);
        let mut of = |value: Value| ending.as_ref().map_or(0.0, |it| value(&self.demand, it, next));
        [of(promise), of(worth)]
    }
}

/// What a stroke gives to a climb: its gates, where the cue ball stops, and how the ball on
/// turns.
pub(super) const TRIED_NUMBERS: usize = 5;

impl Trial {
    /// Plays `stroke`.
    pub fn tried(&self, stroke: &Stroke, called: PocketId) -> [f64; TRIED_NUMBERS] {
        let situation = &self.situation;
        let ending = situation.play_for(&self.demand, Some(called), stroke);
        let ([promised, all], stop) =
            ending.map_or(([0.0; 2], DVec2::ZERO), |it| (gates(&self.demand, &it), it.stop));
        let card = situation.arena().card();
        let (from, object) = (situation.cue_ball(), situation.object_ball());
        let line = heading(situation.arena().shape().pocket(called).mouth_middle - object);
        let turn = turn(card, from, object, stroke, line).map_or(f64::NAN, |(turn, _)| turn);
        [promised, all, stop.x, stop.y, turn]
    }
}

/// How an ending is valued.
pub(super) type Value = fn(&Demand, &Ending, &mut dyn FnMut(DVec2) -> f64) -> f64;

/// A plan, and what its strokes were worth.
#[derive(Clone, Debug)]
pub(super) struct Candidate {
    pub plan: Plan,
    /// What the aim is off the middle of the pocket, rad.
    pub turn: f64,
    pub delivery: Delivery,
    /// The strokes 0, 1, 2... up to this one (excluded) were played.
    n_strokes: usize,
    /// Sums of their promises and worths.
    promised: f64,
    worth: f64,
}

impl Candidate {
    /// Aimed `turn` (rad) off the middle of the pocket; `None` if there is no such pot.
    pub fn new(trial: &Trial, plan: Plan, turn: f64) -> Option<Self> {
        let aimed = plan.aimed(&trial.situation)?;
        let stroke = Stroke { azimuth: aimed.azimuth + turn, ..aimed };
        Some(Self { turn, ..Self::of(trial, plan, &stroke) })
    }

    /// The plan as this stroke carries it out, aimed as it is.
    pub fn of(trial: &Trial, plan: Plan, stroke: &Stroke) -> Self {
        let (arena, balls) = (trial.situation.arena(), trial.situation.balls());
        let delivery = Delivery::new(&trial.hand, arena.card(), balls, stroke);
        Self { plan, turn: 0.0, delivery, n_strokes: 0, promised: 0.0, worth: 0.0 }
    }

    /// The same with nothing played.
    pub fn unplayed(self) -> Self {
        Self { n_strokes: 0, promised: 0.0, worth: 0.0, ..self }
    }

    /// What is to be played until `n` strokes were.
    pub fn tasks(
        &self,
        trial: &Trial,
        n: usize,
        called: Option<PocketId>,
    ) -> impl Iterator<Item = Task> {
        let wobbles = &trial.wobbles[self.n_strokes.min(n)..n];
        wobbles.iter().map(move |wobble| Task::Play(self.delivery.struck(wobble), called))
    }

    /// Takes what came of these tasks off the front of `numbers`.
    pub fn take(&mut self, n: usize, numbers: &mut impl Iterator<Item = f64>) {
        while self.n_strokes < n {
            let Some((promise, worth)) = numbers.next().zip(numbers.next()) else { return };
            self.promised += promise;
            self.worth += worth;
            self.n_strokes += 1;
        }
    }

    /// Mean of all strokes, where a promise counts for `hope` beside a worth; 0 if there are
    /// none.
    pub fn mean(&self, hope: f64) -> f64 {
        (hope * self.promised + (1.0 - hope) * self.worth) / self.n_strokes.max(1) as f64
    }

    /// The chance that all strokes show. What was worth a part counts as a part, for which
    /// the interval is if anything too wide: nothing spreads more than 0 and 1 do.
    pub fn chance(&self) -> Chance {
        Chance::of(libm::round(self.worth) as u32, self.n_strokes as u32)
    }
}
