//! Plans from everywhere, each played without an error: where it is worth looking closer.

use super::candidate::{Candidate, Trial};
use super::plan::{AIM_PLAYS, FARTHEST_TIP, Plan, SPEEDS};
use super::worth::centred;
use crate::order::sort_by_number;
use crate::physics::Stroke;
use crate::shot::{Demand, Situation, aim_at_pocket};
use crate::table::PocketId;
use glam::DVec2;

/// Speeds that are aimed, evenly spaced in their logarithms (tuning choice, as are all
/// numbers below).
const N_SPEEDS: usize = 16;
/// Speeds up to the next of them, that one included; the aim of the others is read off a
/// straight line.
const BETWEEN: usize = 2;
/// Speeds of a line that are played.
const N_TRIED: usize = (N_SPEEDS - 1) * BETWEEN + 1;
/// What a line gives in numbers, and counts for in plays.
pub(super) const LINE_NUMBERS: usize = N_SPEEDS + N_TRIED;
pub(super) const LINE_PLAYS: usize = N_SPEEDS * AIM_PLAYS + N_TRIED;
/// Steps of the tips from the middle to the farthest.
const TIP_STEPS: i32 = 3;
/// Of plans within so many steps of each other the best goes on alone.
const NEAR: f64 = 0.6;
/// How often the step of the speed is halved to stop nearer to the middle of the zone.
const HALVINGS: usize = 2;
/// What that counts for in plays.
pub(super) const CENTRE_PLAYS: usize = 2 * HALVINGS;

/// Between neighbours of the survey: logarithm of the speed, side, height.
pub(super) fn steps() -> [f64; 3] {
    let tip = FARTHEST_TIP / f64::from(TIP_STEPS);
    [libm::log(SPEEDS.end() / SPEEDS.start()) / (N_SPEEDS - 1) as f64, tip, tip]
}

/// Whether two plans are less than so many steps apart in everything.
pub(super) fn are_within(a: &Plan, b: &Plan, n_steps: f64) -> bool {
    let apart = [libm::log(a.speed / b.speed), a.side - b.side, a.height - b.height];
    a.pocket == b.pocket
        && apart.iter().zip(steps()).all(|(apart, step)| apart.abs() < n_steps * step)
}

/// Pockets and tips, each by its plan at the slowest speed.
pub(super) fn lines(situation: &Situation, demand: &Demand) -> Vec<Plan> {
    let [_, tip, _] = steps();
    let pockets = PocketId::ALL.into_iter().filter(|pocket| {
        let stroke = Stroke { azimuth: 0.0, elevation: 0.0, speed: 2.0, side: 0.0, height: 0.0 };
        demand.pocket.is_none_or(|named| named == *pocket)
            && aim_at_pocket(situation.arena(), situation.balls(), &stroke, situation.on(), *pocket)
                .is_some()
    });
    let mut plans = Vec::new();
    for pocket in pockets {
        for across in -TIP_STEPS..=TIP_STEPS {
            for up in -TIP_STEPS..=TIP_STEPS {
                let (side, height) = (f64::from(across) * tip, f64::from(up) * tip);
                let plan = Plan { pocket, speed: *SPEEDS.start(), side, height };
                if plan.is_within_reach() {
                    plans.push(plan);
                }
            }
        }
    }
    plans
}

/// A pocket and a tip, aimed at some speeds.
#[derive(Clone, Debug)]
pub(super) struct Line {
    slowest: Plan,
    /// Directions, rad; not a number where there is no such pot.
    aims: [f64; N_SPEEDS],
}

impl Line {
    /// What is tried at `speed` (m/s), its aim read off a straight line between those next
    /// to it; `None` if there is no such pot.
    fn at(&self, trial: &Trial, speed: f64) -> Option<Candidate> {
        let plan = Plan { speed: speed.clamp(*SPEEDS.start(), *SPEEDS.end()), ..self.slowest };
        let along = libm::log(plan.speed / SPEEDS.start()) / steps()[0];
        let before = (along as usize).min(N_SPEEDS - 2);
        let share = along - before as f64;
        let (low, high) = (self.aims[before], self.aims[before + 1]);
        let azimuth = if share < EXACT {
            low
        } else if share > 1.0 - EXACT {
            high
        } else {
            low + share * (high - low)
        };
        let Plan { side, height, .. } = plan;
        let stroke = Stroke { azimuth, elevation: 0.0, speed: plan.speed, side, height };
        (!azimuth.is_nan()).then(|| Candidate::of(trial, plan, &stroke))
    }
}

/// A speed so near to one that was aimed is that one, in steps.
const EXACT: f64 = 1e-6;

/// The speed with number `k` of those that are played, m/s.
fn tried_speed(k: usize) -> f64 {
    SPEEDS.start() * libm::exp(steps()[0] * k as f64 / BETWEEN as f64)
}

/// Surveys the line of a plan at the slowest speed: gives its aims and what its strokes are
/// worth without an error.
pub(super) fn survey(
    trial: &Trial,
    slowest: Plan,
    numbers: &mut [f64],
    next: &mut dyn FnMut(DVec2) -> f64,
) {
    let aims = std::array::from_fn(|k| {
        let speed = tried_speed(k * BETWEEN).min(*SPEEDS.end());
        let aimed = Plan { speed, ..slowest }.aimed(&trial.situation);
        aimed.map_or(f64::NAN, |stroke| stroke.azimuth)
    });
    let line = Line { slowest, aims };
    let (told, values) = numbers.split_at_mut(N_SPEEDS);
    told.copy_from_slice(&line.aims);
    for (k, value) in values.iter_mut().enumerate() {
        *value = line.at(trial, tried_speed(k)).map_or(0.0, |it| it.centred(trial, next));
    }
}

impl Candidate {
    /// What it is worth without an error.
    fn centred(&self, trial: &Trial, next: &mut dyn FnMut(DVec2) -> f64) -> f64 {
        trial.value(&self.delivery.aimed, self.plan.pocket, centred, next)
    }
}

/// What has promise.
#[derive(Clone, Debug)]
pub(super) struct Find {
    pub line: Line,
    plan: Plan,
    pub value: f64,
}

impl Find {
    /// Its speed, m/s.
    pub fn speed(&self) -> f64 {
        self.plan.speed
    }

    /// The same at another speed (m/s).
    pub fn at(&self, trial: &Trial, speed: f64) -> Option<Candidate> {
        self.line.at(trial, speed)
    }
}

/// What has promise on these lines, by what surveying them gave.
pub(super) fn finds(lines: &[Plan], numbers: &[f64]) -> Vec<Find> {
    let mut found = Vec::new();
    for (slowest, numbers) in lines.iter().zip(numbers.chunks_exact(LINE_NUMBERS)) {
        let (aims, values) = numbers.split_at(N_SPEEDS);
        let line = Line { slowest: *slowest, aims: std::array::from_fn(|k| aims[k]) };
        for (k, value) in values.iter().enumerate().filter(|(_, value)| **value > 0.0) {
            let plan = Plan { speed: tried_speed(k).min(*SPEEDS.end()), ..*slowest };
            found.push(Find { line: line.clone(), plan, value: *value });
        }
    }
    found
}

/// The best of each pocket, so many in all, none of them near a better one.
pub(super) fn of_each_pocket(mut found: Vec<Find>, n: usize) -> Vec<Find> {
    sort_by_number(&mut found, |it| -it.value);
    let is_there = |pocket: &PocketId| found.iter().any(|it| it.plan.pocket == *pocket);
    let n_pockets = PocketId::ALL.iter().filter(|pocket| is_there(pocket)).count().max(1);
    let mut chosen: Vec<Find> = Vec::new();
    for pocket in PocketId::ALL {
        let mut left = n / n_pockets;
        for it in found.iter().filter(|it| it.plan.pocket == pocket) {
            if left > 0 && !chosen.iter().any(|better| are_within(&better.plan, &it.plan, NEAR)) {
                chosen.push(it.clone());
                left -= 1;
            }
        }
    }
    chosen
}

/// The speed (m/s) near this one at which the stroke without an error stops best, and its
/// value; `value` is that of this one.
pub(super) fn centre(
    trial: &Trial,
    line: &Line,
    speed: f64,
    value: f64,
    next: &mut dyn FnMut(DVec2) -> f64,
) -> [f64; 2] {
    let mut best = [speed, value];
    let mut step = 0.5 * steps()[0] / BETWEEN as f64;
    for _ in 0..HALVINGS {
        let from = best[0];
        for by in [step, -step] {
            let Some(other) = line.at(trial, from * libm::exp(by)) else { continue };
            let value = other.centred(trial, next);
            if value > best[1] {
                best = [other.plan.speed, value];
            }
        }
        step *= 0.5;
    }
    best
}
