//! The stroke that pots a ball, with its window, or why there is none.

use super::fate::{Fate, Route, Task};
use super::solve::{aim_at_pocket, cut_angle, ghost_ball};
use super::window::Window;
use crate::ball::BallId;
use crate::geometry::{angle_between, cross, heading};
use crate::physics::{Arena, PlacedBall, Stroke};
use crate::table::PocketId;
use glam::DVec2;
use std::f64::consts::FRAC_PI_2;

/// The most directions tried to either side when the first does not pot, half of the
/// expected half width apart (tuning choice).
const MOST_TRIES: f64 = 48.0;

/// How far swerve may turn the cue ball of a cue that is nearly level, rad (tuning
/// choice: directions so far off are tried where the straight way finds no aim).
const MOST_SWERVE: f64 = 0.03;

/// How far to either side they reach, as a multiple of half the width that the jaws
/// leave open (tuning choice: a ball may come in off a jaw).
const SPREAD: f64 = 2.0;

/// The most that throw turns an object ball, rad (tuning choice: a little more than
/// the ball contact of any legal card gives).
const MOST_THROW: f64 = 0.12;

/// A stroke that pots a ball.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Pot {
    /// The stroke, turned to the middle of the window: the pocket's effective centre.
    pub stroke: Stroke,
    /// The pocket.
    pub pocket: PocketId,
    /// How the cue ball comes to the object ball.
    pub route: Route,
    /// The directions that pot, relative to the stroke's.
    pub window: Window,
    /// Cut angle by the middle of the mouth, rad, positive to the left; by a cushion
    /// first it is that of the straight way all the same.
    pub cut: f64,
}

/// Why a ball cannot be potted into a pocket with a stroke.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum NoPot {
    /// The cue ball or the object ball is not on the table.
    Missing,
    /// The tip meets the ball too far out.
    Miscue,
    /// From where it lies, the ball sees no room between the jaws.
    NoAngle,
    /// The cut would be a quarter turn or more: the angle, rad.
    TooThin(f64),
    /// This ball is in the cue ball's way.
    CueBlocked(BallId),
    /// This ball is in the object ball's way.
    ObjectBlocked(BallId),
    /// A cushion is in the cue ball's way: there is no room for it behind the ball.
    NoRoom,
    /// The cue ball stops, or passes, before it meets the ball.
    NotReached,
    /// The object ball stops on its way.
    TooSlow,
    /// The jaws do not let it in at this speed.
    Rattles,
    /// No direction turns the ball into the pocket, as when throw takes it off.
    Astray,
}

/// Half the width, rad, of the directions that send the object ball between the jaws.
///
/// # Source
/// Plane geometry: an error of aim turns the object ball by D / (2R cos cut) as much.
fn half_width(task: &Task, cut: f64) -> f64 {
    let pocket = task.arena.shape().pocket(task.pocket);
    let radius = task.arena.card().ball.radius;
    let way = pocket.mouth_middle - task.object_ball();
    let line = way.normalize_or_zero();
    let to_ghost = (ghost(task) - task.cue_ball()).length();
    let gain = (to_ghost.max(0.1 * radius) / (2.0 * radius * libm::cos(cut).max(0.05))).max(0.5);
    let room = 0.5 * pocket.mouth * line.dot(pocket.axis).max(0.3) - radius;
    room.max(0.1 * radius) / (gain * way.length().max(radius))
}

/// Finds the stroke that pots `object` into `pocket`, with its window; the azimuth given
/// in `stroke` is not used. Whether the cue ball falls after it is not asked.
///
/// # Errors
/// [`NoPot`], the reason.
pub fn pot(
    arena: &Arena,
    balls: &[PlacedBall],
    stroke: &Stroke,
    object: BallId,
    pocket: PocketId,
) -> Result<Pot, NoPot> {
    let (task, first, cut) = found(arena, balls, stroke, object, pocket)?;
    Ok(centred(&task, &first, Route::BallFirst, cut))
}

/// The same without the window: the first stroke that is found to pot, through the
/// middle of the mouth if that one does.
///
/// # Errors
/// [`NoPot`], the reason.
pub fn pot_stroke(
    arena: &Arena,
    balls: &[PlacedBall],
    stroke: &Stroke,
    object: BallId,
    pocket: PocketId,
) -> Result<Stroke, NoPot> {
    found(arena, balls, stroke, object, pocket).map(|(_, stroke, _)| stroke)
}

/// The window around `stroke`, which pots, seen from its middle.
pub(super) fn centred(task: &Task, stroke: &Stroke, route: Route, cut: f64) -> Pot {
    let window = Window::around(task, stroke, route, half_width(task, cut));
    let middle = window.middle();
    // The middle may lie in a hole.
    let turn = if task.pots(stroke, stroke.azimuth + middle, route) { middle } else { 0.0 };
    Pot {
        stroke: Stroke { azimuth: stroke.azimuth + turn, ..*stroke },
        pocket: task.pocket,
        route,
        window: window.seen_from(turn),
        cut,
    }
}

/// Cut angle by the middle of the mouth, rad, positive to the left.
pub(super) fn signed_cut(task: &Task) -> f64 {
    let target = task.arena.shape().pocket(task.pocket).mouth_middle;
    let radius = task.arena.card().ball.radius;
    let cut = cut_angle(task.cue_ball(), task.object_ball(), target, radius);
    let line = target - task.object_ball();
    cut.copysign(cross(ghost(task) - task.cue_ball(), line))
}

fn found<'a>(
    arena: &'a Arena,
    balls: &'a [PlacedBall],
    stroke: &Stroke,
    object: BallId,
    pocket: PocketId,
) -> Result<(Task<'a>, Stroke, f64), NoPot> {
    let task = Task::new(arena, balls, object, pocket).ok_or(NoPot::Missing)?;
    if stroke.check().is_err() {
        return Err(NoPot::Miscue);
    }
    let cut = signed_cut(&task);
    check_angles(&task, cut)?;
    let half = half_width(&task, cut);
    let (middle, fate, spread) = match aim_at_pocket(arena, balls, stroke, object, pocket) {
        Some(aim) => {
            let fate = task.fate(&aim.stroke, Route::BallFirst).0;
            if fate == Fate::Potted {
                return Ok((task, aim.stroke, cut));
            }
            (aim.stroke, fate, SPREAD * half)
        }
        None => {
            let plain = straight(&task, stroke);
            let (fate, _) = task.fate(&plain, Route::BallFirst);
            let thrown = MOST_THROW * half / mouth_angle(&task);
            (plain, fate, MOST_SWERVE.max(SPREAD * half + thrown))
        }
    };
    let tries = (2.0 * spread / half).ceil().clamp(4.0, MOST_TRIES);
    let step = spread / tries;
    for k in 1..=tries as u32 {
        for side in [1.0, -1.0] {
            let azimuth = middle.azimuth + side * step * f64::from(k);
            if task.pots(stroke, azimuth, Route::BallFirst) {
                return Ok((task, Stroke { azimuth, ..*stroke }, cut));
            }
        }
    }
    Err(reason(fate, cut, gap_behind(&task)))
}

/// Half the angle, rad, under which the object ball sees the open mouth.
fn mouth_angle(task: &Task) -> f64 {
    let pocket = task.arena.shape().pocket(task.pocket);
    let radius = task.arena.card().ball.radius;
    let way = (pocket.mouth_middle - task.object_ball()).length().max(radius);
    (0.5 * pocket.mouth - radius).max(0.1 * radius) / way
}

/// The stroke along the line to the ghost ball, less squirt.
fn straight(task: &Task, stroke: &Stroke) -> Stroke {
    let card = task.arena.card();
    let ghost = ghost(task);
    let squirt = crate::physics::squirt_angle(stroke.side, card.squirt_mass_ratio);
    Stroke { azimuth: heading(ghost - task.cue_ball()) - squirt, ..*stroke }
}

fn ghost(task: &Task) -> DVec2 {
    let target = task.arena.shape().pocket(task.pocket).mouth_middle;
    ghost_ball(task.object_ball(), target, task.arena.card().ball.radius)
}

/// How far the ghost ball stands off the nearest nose line, m; negative inside one.
fn gap_behind(task: &Task) -> f64 {
    let shape = task.arena.shape();
    let (low, high) = (ghost(task), shape.size - ghost(task));
    low.min(high).min_element() - shape.touch_distance
}

fn check_angles(task: &Task, cut: f64) -> Result<(), NoPot> {
    let pocket = task.arena.shape().pocket(task.pocket);
    let way = pocket.mouth_middle - task.object_ball();
    let radius = task.arena.card().ball.radius;
    // Between the jaw points, seen from the ball, a ball must fit.
    let room = pocket.mouth * libm::cos(angle_between(way, pocket.axis)) - 2.0 * radius;
    let beside = way.dot(pocket.axis) <= 0.0 && way.length() > pocket.mouth;
    if beside || (room <= -radius && way.length() > pocket.mouth) {
        return Err(NoPot::NoAngle);
    }
    if cut.abs() >= FRAC_PI_2 {
        return Err(NoPot::TooThin(cut.abs()));
    }
    Ok(())
}

/// `gap` is the room behind the object ball, m.
fn reason(fate: Fate, cut: f64, gap: f64) -> NoPot {
    match fate {
        Fate::CueMeets(ball) => NoPot::CueBlocked(ball),
        Fate::Meets(ball) => NoPot::ObjectBlocked(ball),
        Fate::CueMeetsCushion | Fate::NotReached if gap < 0.0 => NoPot::NoRoom,
        Fate::CueMeetsCushion | Fate::NotReached if cut.abs() > 0.85 * FRAC_PI_2 => {
            NoPot::TooThin(cut.abs())
        }
        Fate::CueMeetsCushion | Fate::NotReached => NoPot::NotReached,
        Fate::TooSlow => NoPot::TooSlow,
        Fate::Rattles => NoPot::Rattles,
        Fate::Astray if cut.abs() > 0.85 * FRAC_PI_2 => NoPot::TooThin(cut.abs()),
        Fate::Astray | Fate::Potted => NoPot::Astray,
    }
}
