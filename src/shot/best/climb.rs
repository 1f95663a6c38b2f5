//! From a good plan to the best one near it.

use super::candidate::{Candidate, Trial};
use super::plan::Plan;
use super::search::AIM_PLAYS;
use super::worth::worth;
use glam::DVec2;

/// A trial plays so many strokes between two looks at whether it is hopeless.
const GLANCE: usize = 16;

/// It is hopeless when it lies so many standard errors behind (tuning choice).
const HOPELESS: f64 = 2.0;

/// Steps are halved no further than to this share of the first ones.
const SMALLEST_STEP: f64 = 0.1;

/// A pattern search: one of speed, side and height is changed by a step at a time, up or
/// down, on the same numbered strokes; what is better stays, and where nothing is, steps
/// are halved.
///
/// # Source
/// Hooke and Jeeves 1961, J. ACM 8, 212.
#[derive(Clone, Debug)]
pub(super) struct Climb {
    pub best: Candidate,
    trial: Option<Candidate>,
    /// Of the speed's logarithm, side and height.
    steps: [f64; 3],
    /// Share of the first steps.
    scale: f64,
    /// 0 to 5: which of the three, up or down.
    direction: usize,
    n_failed: usize,
    n_strokes: usize,
    /// Plays that are left.
    left: usize,
}

impl Climb {
    /// From `start`, with these first steps, on `n_strokes` strokes a trial, for about
    /// `budget` plays.
    pub fn new(start: Candidate, steps: [f64; 3], n_strokes: usize, budget: usize) -> Self {
        Self {
            best: start,
            trial: None,
            steps,
            scale: 1.0,
            direction: 0,
            n_failed: 0,
            n_strokes,
            left: budget,
        }
    }

    /// Whether there is nothing left to be tried, or to try it with.
    pub fn is_over(&self) -> bool {
        self.left == 0 || self.scale < SMALLEST_STEP
    }

    /// Plays a few strokes; gives their number.
    pub fn advance(&mut self, trial: &Trial, next: &dyn Fn(DVec2) -> f64) -> usize {
        let n_plays = self.glance(trial, next);
        self.left = self.left.saturating_sub(n_plays);
        n_plays
    }

    fn glance(&mut self, trial: &Trial, next: &dyn Fn(DVec2) -> f64) -> usize {
        let played = self.best.values.len();
        if played < self.n_strokes {
            let n = (played + GLANCE).min(self.n_strokes);
            return self.best.play(trial, n, worth, next);
        }
        let Some(mut other) = self.trial.take() else {
            let plan = self.moved();
            self.trial = if plan.is_within_reach() { Candidate::new(trial, plan) } else { None };
            if self.trial.is_none() {
                self.fail();
            }
            return AIM_PLAYS;
        };
        let n = (other.values.len() + GLANCE).min(self.n_strokes);
        let n_plays = other.play(trial, n, worth, next);
        let (lead, error) = other.lead(&self.best);
        if n < self.n_strokes && lead >= -HOPELESS * error {
            self.trial = Some(other);
        } else if n == self.n_strokes && lead > 0.0 {
            self.best = other;
            self.n_failed = 0;
        } else {
            self.fail();
        }
        n_plays
    }

    /// The next plan to be tried.
    fn moved(&self) -> Plan {
        let mut plan = self.best.plan;
        let sign = if self.direction.is_multiple_of(2) { 1.0 } else { -1.0 };
        let step = sign * self.scale * self.steps[self.direction / 2];
        match self.direction / 2 {
            0 => plan.speed *= libm::exp(step),
            1 => plan.side += step,
            _ => plan.height += step,
        }
        plan
    }

    fn fail(&mut self) {
        self.direction = (self.direction + 1) % 6;
        self.n_failed += 1;
        if self.n_failed == 6 {
            self.n_failed = 0;
            self.scale *= 0.5;
        }
    }
}
