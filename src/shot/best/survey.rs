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
/// Steps of the tips from the middle to the farthest.
const TIP_STEPS: i32 = 3;
/// Of plans within so many steps of each other the best goes on alone.
const NEAR: f64 = 0.6;
/// How often the step of the speed is halved to stop nearer to the middle of the zone.
const HALVINGS: u32 = 2;

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

/// What has promise of a line's speeds is added to `found`; gives the number of plays.
pub(super) fn survey(
    trial: &Trial,
    line: Plan,
    found: &mut Vec<Candidate>,
    next: &dyn Fn(DVec2) -> f64,
) -> usize {
    let at = |k: f64| {
        let speed = (SPEEDS.start() * libm::exp(steps()[0] * k)).min(*SPEEDS.end());
        Plan { speed, ..line }
    };
    let mut n_plays = 0;
    let mut before: Option<Stroke> = None;
    for k in 0..N_SPEEDS {
        let aimed = at(k as f64).aimed(&trial.situation);
        n_plays += AIM_PLAYS;
        for part in 1..=BETWEEN {
            let share = part as f64 / BETWEEN as f64;
            let (Some(after), Some(from)) = (aimed, before.or(aimed)) else { break };
            if before.is_none() && part < BETWEEN {
                continue;
            }
            let plan = at(k as f64 - 1.0 + share);
            let azimuth = from.azimuth + share * (after.azimuth - from.azimuth);
            let stroke = Stroke { azimuth, speed: plan.speed, ..after };
            let mut candidate = Candidate::of(trial, plan, &stroke);
            let value = trial.value(&candidate.delivery.aimed, centred, next);
            n_plays += 1;
            if value > 0.0 {
                candidate.values.push(value);
                found.push(candidate);
            }
        }
        before = aimed;
    }
    n_plays
}

/// The best of each pocket, so many in all, none of them near a better one.
pub(super) fn of_each_pocket(mut found: Vec<Candidate>, n: usize) -> Vec<Candidate> {
    by_mean(&mut found);
    let is_there = |pocket: &PocketId| found.iter().any(|it| it.plan.pocket == *pocket);
    let n_pockets = PocketId::ALL.iter().filter(|pocket| is_there(pocket)).count().max(1);
    let mut chosen: Vec<Candidate> = Vec::new();
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

/// The best first; of equals the earlier.
pub(super) fn by_mean(field: &mut Vec<Candidate>) {
    sort_by_number(field, |candidate| -candidate.mean());
}

/// Moves the speed of what the survey found to where the stroke without an error stops
/// best; gives the number of plays.
pub(super) fn centre(
    trial: &Trial,
    candidate: &mut Candidate,
    next: &dyn Fn(DVec2) -> f64,
) -> usize {
    let mut n_plays = 0;
    let mut best = candidate.values.pop().unwrap_or(0.0);
    let mut step = 0.5 * steps()[0] / BETWEEN as f64;
    for _ in 0..HALVINGS {
        let plan = candidate.plan;
        for by in [step, -step] {
            let speed = (plan.speed * libm::exp(by)).clamp(*SPEEDS.start(), *SPEEDS.end());
            n_plays += AIM_PLAYS + 1;
            let Some(other) = Candidate::new(trial, Plan { speed, ..plan }, 0.0) else { continue };
            let value = trial.value(&other.delivery.aimed, centred, next);
            if value > best {
                (best, *candidate) = (value, other);
            }
        }
        step *= 0.5;
    }
    n_plays
}
