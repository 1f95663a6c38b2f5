//! Contacts that rest: balls that the cloth presses against a ball or a cushion.
//!
//! A pressed contact passes a normal force and no friction (a simplification of
//! this model; it lasts tenths of a second at walking-pace slips). The force
//! follows from the cloth's friction, which turns as the slip does, so a pressed
//! ball's course is short and is drawn up anew until the slip is gone.

use super::gap::{NO_PRESS, STILL, TOUCH};
use super::motion::{Course, NO_SPEED, rolling_spin, slip};
use super::short_list::{OfBalls, OfContacts};
use crate::ball::{BallId, BallMotion, Phase};
use crate::table::Cloth;
use glam::{DVec2, DVec3};

/// Two things close slower than this without bouncing, m/s (tuning choice).
pub(super) const RESTING_SPEED: f64 = 1e-4;

/// Shortest course of a pressed ball, s (tuning choice).
const SHORTEST: f64 = 1e-4;

/// A slip so small may go any way, m/s (tuning choice: a little more than counts as
/// none). The cloth takes it before the course is drawn up anew.
const NEXT_TO_NO_SLIP: f64 = 10.0 * NO_SPEED;

/// But not sooner than this, s (tuning choice).
const SOONEST: f64 = 1e-10;

/// By what share a pressed ball's slip, or its speed if it rolls, may fall during
/// one course (tuning choice).
const KEPT_SHARE: f64 = 0.1;

/// Most sweeps over a cluster's contacts (tuning choice: sixteen balls between two
/// rails take 300).
pub(super) const MOST_SWEEPS: u32 = 500;

/// By how much a contact's force is changed, as a share of what would right that
/// contact alone, in this sweep: first just so, which is all that one contact needs;
/// then by more, since in long rows what one contact takes the next gives back.
///
/// # Source
/// Cryer 1971, SIAM J. Control 9, 385 (successive over-relaxation with a bound;
/// from memory). The share is a tuning choice.
pub(super) fn relaxed(sweep: u32) -> f64 {
    if sweep < 8 { 1.0 } else { 1.7 }
}

/// Acceleration of a sliding ball's centre for each unit of force and mass.
pub(super) const SLIDES: f64 = 1.0;

/// The same for a ball that rolls or rests: it must take its spin along.
pub(super) const ROLLS: f64 = 5.0 / 7.0;

/// A pressed ball that rolls slower than this is held by the cloth as if it rested,
/// and a pressed contact that moves slower stays as it is, m/s (tuning choice: a
/// thousandth of the speed below which nothing bounces).
pub(super) const CREEPS: f64 = 1e-7;

/// Less acceleration does not set off what the cloth holds, m/s² (tuning choice: a
/// hundredth of the drag on common cloth).
const NUDGE: f64 = 1e-3;

/// A contact as the rest of a cluster sees it: places in the cluster.
#[derive(Clone, Copy, Debug)]
pub(super) struct Touch {
    /// The ball that `normal` points away from.
    pub ball: usize,
    /// The other ball, or `None` for something fixed.
    pub other: Option<usize>,
    /// Unit vector from the ball toward the other thing.
    pub normal: DVec2,
    /// Distance at which the two touch, m; infinite for a straight wall.
    pub reach: f64,
}

impl Touch {
    /// Closing speed, m/s.
    pub fn closing(&self, motions: &[BallMotion]) -> f64 {
        let other = self.other.map_or(DVec2::ZERO, |other| motions[other].velocity);
        (motions[self.ball].velocity - other).dot(self.normal)
    }
}

/// Draws up the courses of balls that are pressed together: adds the normal forces
/// that keep the touching ones from closing, and cuts the courses short. Returns
/// which contacts carry a force, or nothing if none does.
pub(super) fn lean_courses(
    courses: &mut [Course],
    touches: &[Touch],
    radius: f64,
    cloth: &Cloth,
) -> OfContacts<bool> {
    let closing = |touch: &Touch| against(courses, touch).0.dot(touch.normal);
    let lies = |touch: &Touch| closing(touch).abs() <= CREEPS;
    // What still parts, by next to nothing, is pressed if it would soon be back.
    let parts = |touch: &Touch| parting(courses, touch) + (-closing(touch)).max(0.0) / SHORTEST;
    if !touches.iter().any(|touch| lies(touch) && parts(touch) < -NO_PRESS) {
        return OfContacts::new();
    }
    let resting: OfContacts<bool> = touches.iter().map(lies).collect();
    let free: OfContacts<f64> = touches.iter().map(parts).collect();
    let mut forces: OfContacts<f64> = touches.iter().map(|_| 0.0).collect();
    let drag = cloth.rolling_friction * cloth.gravity;
    let give: OfBalls<f64> = courses.iter().map(yielding).collect();
    let mut push = [DVec2::ZERO; BallId::MAX_BALLS];
    let mut hold = [DVec2::ZERO; BallId::MAX_BALLS];
    for sweep in 0..MOST_SWEEPS {
        let relaxed = relaxed(sweep);
        let mut largest: f64 = 0.0;
        for (k, touch) in touches.iter().enumerate().filter(|(k, _)| resting[*k]) {
            let mut parting = free[k] - (push[touch.ball] + hold[touch.ball]).dot(touch.normal);
            let mut mobility = give[touch.ball];
            if let Some(other) = touch.other {
                parting += (push[other] + hold[other]).dot(touch.normal);
                mobility += give[other];
            }
            let force = (forces[k] - relaxed * parting / mobility).max(0.0);
            let change = force - forces[k];
            forces[k] = force;
            largest = largest.max(change.abs());
            push[touch.ball] -= touch.normal * (change * give[touch.ball]);
            if let Some(other) = touch.other {
                push[other] += touch.normal * (change * give[other]);
            }
        }
        // What rests is held by the cloth against a push up to the drag of rolling.
        for (course, (hold, push)) in courses.iter().zip(hold.iter_mut().zip(&push)) {
            if rests(course) {
                *hold = -course.acceleration - push.clamp_length_max(drag);
            }
        }
        if largest < 1e-13 {
            break;
        }
    }
    for (touch, _) in touches.iter().zip(&forces).filter(|(_, force)| **force > 0.0) {
        keep_together(courses, touch, radius);
        for place in [Some(touch.ball), touch.other].into_iter().flatten() {
            // Once, though several contacts may press it.
            let push = std::mem::take(&mut push[place]) + std::mem::take(&mut hold[place]);
            let least = if rests(&courses[place]) { NUDGE } else { NO_PRESS };
            if push.length() > least {
                courses[place] = pushed(&courses[place], push, radius, cloth);
            }
        }
    }
    shorten(courses, touches, &forces, radius, cloth);
    forces.iter().map(|force| *force > 0.0).collect()
}

/// Takes from a pressed contact the speed, next to none, at which it still parts: a
/// force that acted on it would do work that nobody pays for.
fn keep_together(courses: &mut [Course], touch: &Touch, radius: f64) {
    let parting = -against(courses, touch).0.dot(touch.normal);
    if parting <= STILL {
        return;
    }
    let give = |place: usize| {
        let course = &courses[place];
        if course.moves() { yielding(course) } else { 0.0 }
    };
    let gives = [give(touch.ball), touch.other.map_or(0.0, give)];
    for (place, give, way) in [(Some(touch.ball), gives[0], 1.0), (touch.other, gives[1], -1.0)] {
        let Some(course) = place.map(|place| &mut courses[place]).filter(|_| give > 0.0) else {
            continue;
        };
        course.start.velocity += touch.normal * (way * parting * give / (gives[0] + gives[1]));
        if course.phase != Phase::Sliding {
            let spin = rolling_spin(course.start.velocity, radius);
            course.start.spin = spin.extend(course.start.spin.z);
        }
    }
}

/// Second derivative of the gap of a touching contact whose closing speed is nil,
/// m/s²; negative when it is pressed.
fn parting(courses: &[Course], touch: &Touch) -> f64 {
    let (velocity, acceleration) = against(courses, touch);
    velocity.length_squared() / touch.reach - acceleration.dot(touch.normal)
}

/// Velocity and acceleration of the ball against what it touches.
fn against(courses: &[Course], touch: &Touch) -> (DVec2, DVec2) {
    let ball = &courses[touch.ball];
    match touch.other.map(|other| &courses[other]) {
        Some(other) => {
            (ball.start.velocity - other.start.velocity, ball.acceleration - other.acceleration)
        }
        None => (ball.start.velocity, ball.acceleration),
    }
}

/// Whether the cloth holds the ball where it is, against what presses it.
fn rests(course: &Course) -> bool {
    course.phase != Phase::Sliding && course.start.velocity.length() <= CREEPS
}

/// Acceleration of the centre for each unit of force and mass.
fn yielding(course: &Course) -> f64 {
    if course.phase == Phase::Sliding { SLIDES } else { ROLLS }
}

/// `course` with the acceleration `push` added to its centre, without an end.
fn pushed(course: &Course, push: DVec2, radius: f64, cloth: &Cloth) -> Course {
    let acceleration = course.acceleration + push;
    if course.phase == Phase::Sliding {
        return Course { acceleration, span: f64::INFINITY, ..*course };
    }
    Course {
        phase: Phase::Rolling,
        acceleration,
        spin_rate: rolling_spin(acceleration, radius),
        spin_decay: cloth.spin_decay,
        span: f64::INFINITY,
        ..*course
    }
}

/// What the cloth takes from a ball while it moves: slip, or speed if it rolls; and
/// how that changes along the course.
fn fading(course: &Course, radius: f64) -> (DVec2, DVec2) {
    match course.phase {
        Phase::Sliding => {
            let turn = DVec2::new(-course.spin_rate.y, course.spin_rate.x) * radius;
            (slip(&course.start, radius), course.acceleration + turn)
        }
        _ => (course.start.velocity, course.acceleration),
    }
}

/// Cuts the courses that lean so short that the force stays what it is.
fn shorten(courses: &mut [Course], touches: &[Touch], forces: &[f64], radius: f64, cloth: &Cloth) {
    let mut span = f64::INFINITY;
    for (touch, _) in touches.iter().zip(forces).filter(|(_, force)| **force > 0.0) {
        for place in [Some(touch.ball), touch.other].into_iter().flatten() {
            let course = &courses[place];
            if !course.moves() {
                continue;
            }
            if rests(course) {
                span = span.min(SHORTEST);
            }
            let (left, rate) = fading(course, radius);
            let fall = match course.phase {
                Phase::Sliding => 3.5 * cloth.sliding_friction * cloth.gravity,
                _ => rate.length(),
            };
            span = span.min((KEPT_SHARE * left.length() / fall).max(SHORTEST));
            // Not beyond its end, where the cloth would drive it back.
            let against = -left.dot(rate);
            if course.phase == Phase::Sliding && left.length() <= NEXT_TO_NO_SLIP {
                span = span.min((left.length() / fall).max(SOONEST));
            } else if against > 0.0 && left.length() > NO_SPEED {
                span = span.min(left.length_squared() / against);
            }
        }
        // The gap to what is round goes with the third power of time.
        let (velocity, acceleration) = against(courses, touch);
        let cubic = velocity.dot(acceleration).abs();
        if touch.reach.is_finite() && cubic > 0.0 {
            span = span.min(libm::cbrt(touch.reach * TOUCH / cubic).max(0.1 * SHORTEST));
        }
    }
    for (touch, _) in touches.iter().zip(forces).filter(|(_, force)| **force > 0.0) {
        for place in [Some(touch.ball), touch.other].into_iter().flatten() {
            courses[place].span = courses[place].span.min(span);
        }
    }
}

/// Stops what is left of a pressed ball's slip, or of its speed if it rolls, when
/// one short course more would reverse it. `motion` is the ball's on this course.
pub(super) fn stop_fading(course: &Course, motion: &mut BallMotion, radius: f64, cloth: &Cloth) {
    match course.phase {
        Phase::Sliding => {
            let slip = slip(motion, radius);
            if slip.length() <= 3.5 * cloth.sliding_friction * cloth.gravity * SHORTEST {
                motion.velocity -= slip * (2.0 / 7.0);
                motion.spin = rolling_spin(motion.velocity, radius).extend(motion.spin.z);
            }
        }
        Phase::Rolling => {
            let slows = course.start.velocity.dot(course.acceleration) < 0.0;
            let least = cloth.rolling_friction * cloth.gravity * SHORTEST;
            let speed = motion.velocity.length();
            if slows && speed <= least || speed <= CREEPS {
                motion.velocity = DVec2::ZERO;
                motion.spin = DVec3::new(0.0, 0.0, motion.spin.z);
            }
        }
        Phase::Spinning | Phase::AtRest => {}
    }
}
