//! A plan that is being tried with the numbered strokes of a hand.

use super::plan::Plan;
use super::worth::{promise, worth};
use crate::physics::Stroke;
use crate::shot::{Chance, Delivery, Demand, Ending, Hand, Situation, Wobble};
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
    /// Plays `stroke`.
    pub fn value(&self, stroke: &Stroke, value: Value, next: &dyn Fn(DVec2) -> f64) -> f64 {
        let ending = self.situation.play_for(&self.demand, stroke);
        ending.map_or(0.0, |ending| value(&self.demand, &ending, next))
    }

    /// Plays `stroke` for its promise and its worth.
    pub fn values(&self, stroke: &Stroke, next: &dyn Fn(DVec2) -> f64) -> (f64, f64) {
        let ending = self.situation.play_for(&self.demand, stroke);
        let of = |value: Value| ending.as_ref().map_or(0.0, |it| value(&self.demand, it, next));
        (of(promise), of(worth))
    }
}

/// How an ending is valued.
pub(super) type Value = fn(&Demand, &Ending, &dyn Fn(DVec2) -> f64) -> f64;

/// A plan, and what its strokes were worth.
#[derive(Clone, Debug)]
pub(super) struct Candidate {
    pub plan: Plan,
    /// What the aim is off the middle of the pocket, rad.
    pub turn: f64,
    pub delivery: Delivery,
    /// Of the strokes 0, 1, 2...
    pub values: Vec<f64>,
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
        Self { plan, turn: 0.0, delivery, values: Vec::new() }
    }

    /// Plays on until there are `n` values; gives the number of plays.
    pub fn play(
        &mut self,
        trial: &Trial,
        n: usize,
        value: Value,
        next: &dyn Fn(DVec2) -> f64,
    ) -> usize {
        let from = self.values.len();
        for wobble in &trial.wobbles[from.min(n)..n] {
            self.values.push(trial.value(&self.delivery.struck(wobble), value, next));
        }
        n.saturating_sub(from)
    }

    /// Mean of all values, 0 if there are none.
    pub fn mean(&self) -> f64 {
        self.values.iter().sum::<f64>() / self.values.len().max(1) as f64
    }

    /// The chance that all values show. What was worth a part counts as a part, for which
    /// the interval is if anything too wide: nothing spreads more than 0 and 1 do.
    pub fn chance(&self) -> Chance {
        let sum: f64 = self.values.iter().sum();
        Chance::of(libm::round(sum) as u32, self.values.len() as u32)
    }
}
