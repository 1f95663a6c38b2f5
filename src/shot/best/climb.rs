//! From a good plan to the best one near it.

use super::candidate::{Candidate, Trial};
use super::plan::{AIM_PLAYS, Plan};
use super::worth::worth;
use glam::DVec2;

/// A trial plays so many strokes between two looks at whether it is hopeless.
const GLANCE: usize = 16;

/// It is hopeless when it lies so many standard errors behind (tuning choice).
const HOPELESS: f64 = 2.0;

/// Steps are halved no further than to this share of the first ones.
const SMALLEST_STEP: f64 = 0.1;

/// What is tried from a plan, in steps of speed, side and height: one of them alone, then
/// two at once, for a little more speed and a little less draw often do the same.
const DIRECTIONS: [[f64; 3]; 18] = [
    [1.0, 0.0, 0.0],
    [-1.0, 0.0, 0.0],
    [0.0, 1.0, 0.0],
    [0.0, -1.0, 0.0],
    [0.0, 0.0, 1.0],
    [0.0, 0.0, -1.0],
    [1.0, 0.0, 1.0],
    [-1.0, 0.0, -1.0],
    [1.0, 0.0, -1.0],
    [-1.0, 0.0, 1.0],
    [0.0, 1.0, 1.0],
    [0.0, -1.0, -1.0],
    [0.0, 1.0, -1.0],
    [0.0, -1.0, 1.0],
    [1.0, 1.0, 0.0],
    [-1.0, -1.0, 0.0],
    [1.0, -1.0, 0.0],
    [-1.0, 1.0, 0.0],
];

/// A pattern search: speed, side and height are changed by a step, on the same numbered
/// strokes; what is better stays, and where nothing is, steps are halved.
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
    /// Which of [`DIRECTIONS`] is tried.
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
        let way = DIRECTIONS[self.direction];
        let step = |k: usize| self.scale * self.steps[k] * way[k];
        let Plan { pocket, speed, side, height } = self.best.plan;
        let speed = speed * libm::exp(step(0));
        Plan { pocket, speed, side: side + step(1), height: height + step(2) }
    }

    fn fail(&mut self) {
        self.direction = (self.direction + 1) % DIRECTIONS.len();
        self.n_failed += 1;
        if self.n_failed == DIRECTIONS.len() {
            self.n_failed = 0;
            self.scale *= 0.5;
        }
    }
}
