//! What the cue ball did off the object ball, in numbers.

use super::run::{Run, State, Touch, way_of};
use crate::geometry::angle_between;
use crate::physics::{Arena, CushionLaw};
use crate::practice::grade::length_of;
use crate::table::Rail;
use glam::DVec2;
use std::f64::consts::FRAC_PI_2;

/// A hit fuller than this cut angle has no tangent line to speak of, rad.
const NEARLY_FULL: f64 = 0.05;

/// A rail that the cue ball met, and what its side did there. Angles are measured from
/// the line square to the rail, positive the way it travels along the rail, rad.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Rebound {
    /// The rail.
    pub rail: Rail,
    /// The ball's centre, m.
    pub position: DVec2,
    /// The angle at which it came; a perfect mirror sends it off at the same.
    pub came: f64,
    /// The angle at which it left, once sliding had ended or was cut short; `None` if it
    /// stopped there.
    pub left: Option<f64>,
    /// The same if it had come without any spin about the vertical.
    pub without_side: Option<f64>,
}

/// What the cue ball did.
#[derive(Clone, Debug, PartialEq)]
pub struct Facts {
    /// Angle between the line of the shot and the tangent line, rad; `None` for a full
    /// hit, which has none.
    pub tangent: Option<f64>,
    /// Angle between the tangent line and where it went once sliding had ended or was
    /// cut short, rad, positive forward; `None` without a tangent line or if it stopped.
    pub bend: Option<f64>,
    /// Its way until sliding ended, m; `None` if it met something before that, and 0 if
    /// it rolled off.
    pub slid: Option<f64>,
    /// The rails it met, in order.
    pub rebounds: Vec<Rebound>,
}

/// The two balls at the contact.
#[derive(Clone, Copy)]
pub(super) struct Contact {
    pub cue: usize,
    pub object: usize,
    /// Unit vector from cue ball to object ball.
    pub line: DVec2,
    /// Unit direction in which the cue ball comes.
    pub approach: DVec2,
}

/// Measures the run that began in `state`.
pub(super) fn facts(arena: &Arena, state: &State, run: &Run, contact: &Contact) -> Facts {
    let Contact { cue, line, approach, .. } = *contact;
    let across = (approach - line * approach.dot(line))
        .try_normalize()
        .filter(|_| angle_between(line, approach).abs() >= NEARLY_FULL);
    let leg = run.leg_from(cue, 0.0);
    let way = leg.and_then(super::run::Leg::way);
    let slid = leg.and_then(|leg| {
        let rolls = run.events.iter().any(|event| {
            event.ball.is_cue()
                && event.kind == crate::physics::EventKind::Roll
                && event.time == leg.until
        });
        if !leg.slides() {
            return Some(0.0);
        }
        rolls.then(|| length_of(&run.line(cue, leg.until).collect::<Vec<_>>()))
    });
    Facts {
        tangent: across.map(|_| FRAC_PI_2 - angle_between(line, approach).abs()),
        bend: across.zip(way).map(|(across, way)| libm::atan2(way.dot(line), way.dot(across))),
        slid,
        rebounds: run
            .touches()
            .filter_map(|touch| rebound(arena, state, run, cue, &touch))
            .collect(),
    }
}

/// Where the cue ball went off a touch of a rail.
pub(super) fn way_off(run: &Run, cue: usize, touch: &Touch) -> Option<DVec2> {
    run.leg_from(cue, touch.time)?.way()
}

/// The angle of `way` from the line square to `rail`, positive toward `along`.
pub(super) fn from_square(rail: Rail, way: DVec2, along: DVec2) -> f64 {
    libm::atan2(way.dot(along), way.dot(rail.inward()))
}

/// The way along `rail` of a ball that comes with `velocity`.
pub(super) fn along(rail: Rail, velocity: DVec2) -> DVec2 {
    let square = rail.inward();
    let tangent = crate::geometry::left_of(square);
    tangent * velocity.dot(tangent).signum()
}

fn rebound(arena: &Arena, state: &State, run: &Run, cue: usize, touch: &Touch) -> Option<Rebound> {
    let rail = touch.rail;
    let motion = run.motion_before(cue, touch.time).unwrap_or(state[cue].1);
    let way = along(rail, motion.velocity);
    // It comes against the normal: turned round, that is the angle of a mirror.
    let came = std::f64::consts::PI - from_square(rail, motion.velocity, way);
    let leg = run.leg_from(cue, touch.time)?;
    let mut plain = motion;
    plain.spin.z = 0.0;
    let plain = CushionLaw::new(arena.card()).rebound(&plain, rail.inward());
    let without = way_of(arena, plain, leg.until - leg.since);
    let angle = |direction: DVec2| from_square(rail, direction, way);
    Some(Rebound {
        rail,
        position: touch.position,
        came,
        left: leg.way().map(angle),
        without_side: without.map(angle),
    })
}
