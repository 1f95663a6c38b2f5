//! A plan that is being tried with the numbered strokes of a hand.

use super::plan::Plan;
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

/// How an ending is valued.
pub(super) type Value = fn(&Demand, &Ending, &dyn Fn(DVec2) -> f64) -> f64;

/// A plan, and what its strokes were worth.
#[derive(Clone, Debug)]
pub(super) struct Candidate {
    pub plan: Plan,
    pub delivery: Delivery,
    /// Of the strokes 0, 1, 2...
    pub values: Vec<f64>,
}

impl Candidate {
    /// `None` if there is no such pot.
    pub fn new(trial: &Trial, plan: Plan) -> Option<Self> {
        let stroke = plan.aimed(&trial.situation)?;
        Some(Self::of(trial, plan, &stroke))
    }

    /// The plan as this stroke carries it out.
    pub fn of(trial: &Trial, plan: Plan, stroke: &Stroke) -> Self {
        let (arena, balls) = (trial.situation.arena(), trial.situation.balls());
        let delivery = Delivery::new(&trial.hand, arena.card(), balls, stroke);
        Self { plan, delivery, values: Vec::new() }
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
            let ending = trial.situation.play(&self.delivery.struck(wobble));
            self.values.push(value(&trial.demand, &ending, next));
        }
        n.saturating_sub(from)
    }

    /// Mean of all values, 0 if there are none.
    pub fn mean(&self) -> f64 {
        mean(&self.values)
    }

    /// The chance that all values show. What was worth a part counts as a part, for which
    /// the interval is if anything too wide: nothing spreads more than 0 and 1 do.
    pub fn chance(&self) -> Chance {
        let sum: f64 = self.values.iter().sum();
        Chance::of(libm::round(sum) as u32, self.values.len() as u32)
    }

    /// By how much this one is better than `other` on the strokes that both have played,
    /// and the standard error of that.
    pub fn lead(&self, other: &Self) -> (f64, f64) {
        let pairs = || self.values.iter().zip(&other.values).map(|(a, b)| a - b);
        let n = pairs().count().max(1) as f64;
        let mean = pairs().sum::<f64>() / n;
        let variance = pairs().map(|d| (d - mean) * (d - mean)).sum::<f64>() / n;
        (mean, (variance / n).sqrt())
    }
}

fn mean(values: &[f64]) -> f64 {
    values.iter().sum::<f64>() / values.len().max(1) as f64
}
