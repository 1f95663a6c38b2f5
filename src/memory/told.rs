//! What a call tells of the skills it takes: what was called and what was.

use super::skill::Skill;
use super::unit::Unit;
use crate::geometry::{cross, left_of};
use crate::practice::eye::{Estimate, EyeItem, Handle, Judged};
use crate::practice::grade::{Errors, TouchFault};
use crate::practice::leave::ZoneGrade;
use crate::practice::{CuePath, LeaveAnswer, TIP};
use crate::shot::Zone;
use crate::table::{Rail, TableCard};
use crate::units::degrees;
use glam::DVec2;

/// A stun ball leaves along the tangent line; nearer to it than this it counts as one
/// (tuning choice), sine of 5 degrees.
const STUN: f64 = 0.087;

/// From half a tip on a stroke counts as one with side (tuning choice).
const SIDE: f64 = 0.5 * TIP;

/// What one call tells of a skill: what was called and what was.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Told {
    /// The skill.
    pub skill: Skill,
    /// What was called,
    pub called: f64,
    /// and what was, in one unit.
    pub real: f64,
}

impl Told {
    /// How much too much was called, in the unit of the skill; what a choice cost.
    pub fn error(&self) -> f64 {
        let Self { skill, called, real } = *self;
        match (skill, skill.unit()) {
            (Skill::Order, _) => real - called,
            (_, Unit::PerCent) if real != 0.0 => 100.0 * (called / real - 1.0),
            _ => called - real,
        }
    }
}

/// What the grade of a called path tells. `side` is the stroke's.
pub(super) fn of_path(card: &TableCard, side: f64, truth: &CuePath, errors: &Errors) -> Vec<Told> {
    let mut told = vec![];
    if let Some(heading) = errors.heading {
        let (called, real) = (degrees(heading.called_turn), degrees(heading.turn));
        told.push(Told { skill: heading_of(truth), called, real });
    }
    for error in &errors.touches {
        let (TouchFault::Met { along, travels, rebound, leaves, comes }, Some(touch)) =
            (error.fault, error.real)
        else {
            continue;
        };
        // Where the path runs squarely to a rail, there is no long and no short.
        if travels {
            told.push(Told { skill: Skill::rail(touch), called: comes + along, real: comes });
        }
        let Some(rebound) = rebound.filter(|_| travels) else { continue };
        let (called, real) = (degrees(leaves + rebound), degrees(leaves));
        told.push(Told { skill: Skill::rebound(touch), called, real });
        if touch == 1 && side.abs() >= SIDE {
            let sign = push(side, truth, leaves);
            told.push(Told { skill: Skill::Side, called: sign * called, real: sign * real });
        }
    }
    if let Some(share) = errors.length {
        let real = errors.real_length / card.length;
        told.push(Told { skill: Skill::Speed, called: real * (1.0 + share), real });
    }
    let off = |skill, called| Told { skill, called, real: 0.0 };
    told.push(off(Skill::StopAlong, errors.stop.along));
    told.push(off(Skill::StopAcross, errors.stop.across));
    told
}

/// What an estimate of Eye tells; what a path would tell, too, is told as a path tells it.
pub(super) fn of_estimate(item: &EyeItem, judged: &Judged) -> Told {
    let Judged { sight, answer, .. } = judged;
    let (card, answer, truth) = (&item.shot.card, *answer, sight.truth);
    let told = |skill, called, real| Told { skill, called, real };
    match item.estimate {
        Estimate::Tangent => told(Skill::HeadingStun, answer, truth),
        Estimate::Roll => told(Skill::HeadingRoll, answer, truth),
        Estimate::Draw => told(Skill::HeadingDraw, answer, truth),
        Estimate::Cut => told(Skill::Cut, answer, truth),
        Estimate::Rebound => told(Skill::FirstRebound, answer, truth),
        Estimate::Side => {
            // Right side turns the ball anticlockwise and pushes it to the right of its way into
            // the rail, which is the left of the way out.
            let toward = match sight.handle {
                Handle::Swing { toward, .. } => toward * item.shot.stroke.side,
                _ => 1.0,
            };
            let sign = if toward < 0.0 { -1.0 } else { 1.0 };
            told(Skill::Side, sign * answer, sign * truth)
        }
        Estimate::ThirdRail => {
            let (long, from) = match sight.handle {
                Handle::OnRail { long, from, .. } => (long, from),
                _ => (1.0, 0.0),
            };
            told(Skill::ThirdRail, long * (answer - from), long * (truth - from))
        }
        Estimate::Distance => {
            let lengths = card.travel_length() / card.length;
            told(Skill::Speed, lengths * answer, lengths * truth)
        }
    }
}

/// Which heading it was, by where the ball left as seen from the tangent line.
fn heading_of(truth: &CuePath) -> Skill {
    let first = truth.rail_touches().next().map_or(truth.stop, |(_, touch)| touch.position);
    let forward = (first - truth.ghost).normalize_or_zero().dot(truth.line_of_centres);
    if forward > STUN {
        Skill::HeadingRoll
    } else if forward < -STUN {
        Skill::HeadingDraw
    } else {
        Skill::HeadingStun
    }
}

/// 1 where the angle `leaves` of the first rebound counts toward the way to which the side
/// pushes, else -1.
fn push(side: f64, truth: &CuePath, leaves: f64) -> f64 {
    let mut touches = truth.rail_touches();
    let Some((rail, touch)) = touches.next() else { return 1.0 };
    let leg = touches.next().map_or(truth.stop, |(_, next)| next.position) - touch.position;
    let out = match rail {
        Rail::Head => DVec2::NEG_X,
        Rail::Foot => DVec2::X,
        Rail::Right => DVec2::NEG_Y,
        Rail::Left => DVec2::Y,
    };
    // Right side turns the ball anticlockwise: at a rail ahead it pushes to the right.
    let goes_along = side * cross(leg, out) >= 0.0;
    if goes_along == (leaves >= 0.0) { 1.0 } else { -1.0 }
}

/// What the grade of a zone tells; the cue ball comes to it in the direction `travel`.
pub(super) fn of_zone(
    card: &TableCard,
    zone: &Zone,
    grade: &ZoneGrade,
    travel: DVec2,
) -> Vec<Told> {
    let Some(rule) = &grade.rule else { return vec![] };
    let ball = 2.0 * card.ball.radius;
    let off = (zone.centre - rule.best.centre) / ball;
    let across = |zone: &Zone| 2.0 * (zone.half.x * zone.half.y).sqrt() / ball;
    vec![
        Told { skill: Skill::ZoneAlong, called: off.dot(travel), real: 0.0 },
        Told { skill: Skill::ZoneAcross, called: off.dot(left_of(travel)), real: 0.0 },
        Told { skill: Skill::ZoneSize, called: across(zone), real: across(&rule.best) },
    ]
}

/// Where a stop lies from the middle of a called zone, as a call of a stop is told.
pub(super) fn of_stop(
    card: &TableCard,
    answer: &LeaveAnswer,
    stop: DVec2,
    travel: DVec2,
) -> [Told; 2] {
    let off = (answer.zone.centre - stop) / (2.0 * card.ball.radius);
    [
        Told { skill: Skill::StopAlong, called: off.dot(travel), real: 0.0 },
        Told { skill: Skill::StopAcross, called: off.dot(left_of(travel)), real: 0.0 },
    ]
}
