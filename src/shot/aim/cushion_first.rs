//! Potting a ball that lies near a cushion with the cue ball off that cushion.

use super::fate::{Fate, Route, Task, leads_to};
use super::pot::{Pot, centred, signed_cut};
use crate::ball::BallId;
use crate::geometry::{angle_between, heading};
use crate::physics::{Arena, PlacedBall, Stroke};
use crate::table::{PocketId, Rail};
use glam::DVec2;

/// Farther from the nose than so many ball radii, nobody goes over the cushion for a pot
/// (tuning choice).
const NEAR: f64 = 5.0;

/// Points of the cushion that are tried (tuning choice).
const TRIES: u32 = 64;

/// How far along the cushion they reach from the ball, in ball radii (tuning choice).
const REACH: f64 = 16.0;

/// The strokes that pot `object` into `pocket` with the cue ball off a cushion first: for
/// every rail near the object ball the one with the widest window.
pub fn pots_cushion_first(
    arena: &Arena,
    balls: &[PlacedBall],
    stroke: &Stroke,
    object: BallId,
    pocket: PocketId,
) -> Vec<Pot> {
    let Some(task) = Task::new(arena, balls, object, pocket) else { return Vec::new() };
    if stroke.check().is_err() {
        return Vec::new();
    }
    Rail::ALL
        .into_iter()
        .filter(|rail| leads_to(*rail, pocket))
        .filter_map(|rail| over(&task, stroke, rail))
        .collect()
}

fn over(task: &Task, stroke: &Stroke, rail: Rail) -> Option<Pot> {
    let shape = task.arena.shape();
    let radius = task.arena.card().ball.radius;
    let height = |at: DVec2| match rail {
        Rail::Head => at.x,
        Rail::Foot => shape.size.x - at.x,
        Rail::Right => at.y,
        Rail::Left => shape.size.y - at.y,
    };
    if height(task.object_ball()) > NEAR * radius {
        return None;
    }
    // The cue ball's centre at the cushion, so far along it from the object ball.
    let touch = |aside: f64| {
        let ball = task.object_ball();
        let line = shape.touch_distance;
        match rail {
            Rail::Head => DVec2::new(line, ball.y + aside),
            Rail::Foot => DVec2::new(shape.size.x - line, ball.y + aside),
            Rail::Right => DVec2::new(ball.x + aside, line),
            Rail::Left => DVec2::new(ball.x + aside, shape.size.y - line),
        }
    };
    let squirt = crate::physics::squirt_angle(stroke.side, task.arena.card().squirt_mass_ratio);
    let azimuth = |aside: f64| heading(touch(aside) - task.cue_ball()) - squirt;
    let route = Route::CushionFirst(rail);
    let line = shape.pocket(task.pocket).mouth_middle - task.object_ball();
    let tried = |aside: f64| {
        let (fate, velocity) = task.fate(&Stroke { azimuth: azimuth(aside), ..*stroke }, route);
        let off = (velocity != DVec2::ZERO).then(|| angle_between(line, velocity));
        (fate == Fate::Potted, off)
    };

    let mut best: Option<Pot> = None;
    let step = 2.0 * REACH * radius / f64::from(TRIES);
    let mut before = None;
    for k in 0..=TRIES {
        let aside = -REACH * radius + step * f64::from(k);
        let (potted, off) = tried(aside);
        let here = if potted { Some(aside) } else { between(&tried, before, (aside, off)) };
        before = Some((aside, off));
        let Some(aside) = here else { continue };
        let known = best.is_some_and(|pot| {
            let turn = azimuth(aside) - pot.stroke.azimuth;
            (pot.window.low..=pot.window.high).contains(&turn)
        });
        if !known {
            let stroke = Stroke { azimuth: azimuth(aside), ..*stroke };
            let pot = centred(task, &stroke, route, signed_cut(task));
            if best.is_none_or(|old| pot.window.width() > old.window.width()) {
                best = Some(pot);
            }
        }
    }
    best
}

/// A place that pots between two that send the ball to either side of the pocket.
fn between(
    tried: &impl Fn(f64) -> (bool, Option<f64>),
    before: Option<(f64, Option<f64>)>,
    (mut high, above): (f64, Option<f64>),
) -> Option<f64> {
    let (mut low, below) = before?;
    let (below, above) = (below?, above?);
    if below * above > 0.0 || (below - above).abs() > 2.0 {
        return None;
    }
    for _ in 0..24 {
        let middle = 0.5 * (low + high);
        match tried(middle) {
            (true, _) => return Some(middle),
            (false, Some(off)) if off * above > 0.0 => high = middle,
            (false, Some(_)) => low = middle,
            (false, None) => return None,
        }
    }
    None
}
