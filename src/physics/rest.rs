//! Contacts that rest: what touches and closes so slowly that nothing bounces,
//! and balls that the cloth presses against a ball or a cushion.
//!
//! A pressed contact passes a normal force and no friction (a simplification of
//! this model; it lasts tenths of a second at walking-pace slips). The force
//! follows from the cloth's friction, which turns as the slip does, so a pressed
//! ball's course is short and is drawn up anew until the slip is gone.

use super::gap::{NO_PRESS, STILL, TOUCH};
use super::motion::{Course, slip};
use crate::ball::{BallMotion, Phase};
use crate::table::Cloth;
use glam::DVec2;

/// Two things close slower than this without bouncing, m/s (tuning choice).
pub(super) const RESTING_SPEED: f64 = 1e-4;

/// Shortest course of a pressed ball, s (tuning choice).
const SHORTEST: f64 = 1e-4;

/// By what share a pressed ball's slip, or its speed if it rolls, may fall during
/// one course (tuning choice).
const KEPT_SHARE: f64 = 0.1;

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

/// Takes away what closing speed is left in contacts that rest, without any
/// bounce: each gives way by its share at the same time, over and over.
pub(super) fn stop_closing(motions: &mut [BallMotion], touches: &[Touch]) {
    for _ in 0..400 {
        let mut counts = [0_u32; 16];
        let closing: Vec<f64> = touches.iter().map(|touch| touch.closing(motions)).collect();
        for (touch, _) in touches.iter().zip(&closing).filter(|(_, speed)| **speed > 1e-13) {
            counts[touch.ball] += 1;
            if let Some(other) = touch.other {
                counts[other] += 1;
            }
        }
        if counts.iter().all(|&count| count == 0) {
            return;
        }
        for (touch, speed) in touches.iter().zip(closing).filter(|(_, speed)| *speed > 1e-13) {
            match touch.other {
                Some(other) => {
                    let share = 1.0 / f64::from(counts[touch.ball].max(counts[other]));
                    let change = touch.normal * (0.5 * speed * share);
                    motions[touch.ball].velocity -= change;
                    motions[other].velocity += change;
                }
                None => {
                    let share = 1.0 / f64::from(counts[touch.ball]);
                    motions[touch.ball].velocity -= touch.normal * (speed * share);
                }
            }
        }
    }
}

/// Lets the courses of a cluster lean on each other where they press, and says
/// which of `touches` carry a force.
pub(super) fn lean(
    courses: &mut [Course],
    touches: &[Touch],
    radius: f64,
    cloth: &Cloth,
) -> Vec<bool> {
    let mut forces = vec![0.0_f64; touches.len()];
    let free: Vec<f64> = touches.iter().map(|touch| parting(courses, touch)).collect();
    let resting: Vec<bool> = touches
        .iter()
        .map(|touch| {
            let other = touch.other.map_or(DVec2::ZERO, |other| courses[other].start.velocity);
            (courses[touch.ball].start.velocity - other).dot(touch.normal).abs() <= STILL
        })
        .collect();
    if !free.iter().zip(&resting).any(|(parting, rests)| *rests && *parting < -NO_PRESS) {
        return vec![false; touches.len()];
    }
    let give: Vec<f64> = courses.iter().map(yielding).collect();
    let mut push = vec![DVec2::ZERO; courses.len()];
    for _ in 0..2000 {
        let mut largest: f64 = 0.0;
        for (k, touch) in touches.iter().enumerate().filter(|(k, _)| resting[*k]) {
            let mut parting = free[k] - push[touch.ball].dot(touch.normal);
            let mut mobility = give[touch.ball];
            if let Some(other) = touch.other {
                parting += push[other].dot(touch.normal);
                mobility += give[other];
            }
            let force = (forces[k] - parting / mobility).max(0.0);
            let change = force - forces[k];
            forces[k] = force;
            largest = largest.max(change.abs());
            push[touch.ball] -= touch.normal * (change * give[touch.ball]);
            if let Some(other) = touch.other {
                push[other] += touch.normal * (change * give[other]);
            }
        }
        if largest < 1e-13 {
            break;
        }
    }
    for (course, push) in courses.iter_mut().zip(&push) {
        if push.length() > NO_PRESS {
            *course = pushed(course, *push, radius, cloth);
        }
    }
    shorten(courses, touches, &forces, radius, cloth);
    forces.iter().map(|force| *force > 0.0).collect()
}

/// Second derivative of the gap of a touching contact whose closing speed is nil,
/// m/s²; negative when it is pressed.
fn parting(courses: &[Course], touch: &Touch) -> f64 {
    let ball = &courses[touch.ball];
    let (other_velocity, other_acceleration) =
        touch.other.map_or((DVec2::ZERO, DVec2::ZERO), |other| {
            (courses[other].start.velocity, courses[other].acceleration)
        });
    let swing = (ball.start.velocity - other_velocity).length_squared() / touch.reach;
    swing - (ball.acceleration - other_acceleration).dot(touch.normal)
}

/// Acceleration of the centre for each unit of force per mass: a ball that rolls
/// or rests must take its spin along.
fn yielding(course: &Course) -> f64 {
    if course.phase == Phase::Sliding { 1.0 } else { 5.0 / 7.0 }
}

/// `course` with the acceleration `push` added to its centre.
fn pushed(course: &Course, push: DVec2, radius: f64, cloth: &Cloth) -> Course {
    let acceleration = course.acceleration + push;
    if course.phase == Phase::Sliding {
        return Course { acceleration, ..*course };
    }
    let mut rolling = Course { phase: Phase::Rolling, acceleration, ..*course };
    rolling.spin_rate = super::motion::rolling_spin(acceleration, radius);
    rolling.spin_decay = cloth.spin_decay;
    rolling
}

/// Cuts the courses that lean so short that the force stays what it is.
fn shorten(courses: &mut [Course], touches: &[Touch], forces: &[f64], radius: f64, cloth: &Cloth) {
    let mut span = f64::INFINITY;
    for (touch, _) in touches.iter().zip(forces).filter(|(_, force)| **force > 0.0) {
        for place in [Some(touch.ball), touch.other].into_iter().flatten() {
            let course = &courses[place];
            let (left, fall) = match course.phase {
                Phase::Sliding => (
                    slip(&course.start, radius).length(),
                    3.5 * cloth.sliding_friction * cloth.gravity,
                ),
                Phase::Rolling => (course.start.velocity.length(), course.acceleration.length()),
                Phase::Spinning | Phase::AtRest => continue,
            };
            span = span.min((KEPT_SHARE * left / fall).max(SHORTEST));
        }
        if let Some(other) = touch.other {
            // The gap between two balls goes with the third power of time.
            let velocity = courses[touch.ball].start.velocity - courses[other].start.velocity;
            let acceleration = courses[touch.ball].acceleration - courses[other].acceleration;
            let cubic = velocity.dot(acceleration).abs();
            if cubic > 0.0 {
                span = span.min(libm::cbrt(touch.reach * TOUCH / cubic).max(0.1 * SHORTEST));
            }
        }
    }
    for (touch, _) in touches.iter().zip(forces).filter(|(_, force)| **force > 0.0) {
        for place in [Some(touch.ball), touch.other].into_iter().flatten() {
            courses[place].span = courses[place].span.min(span);
        }
    }
}

/// A pressed ball whose slip is so small that one short course more would reverse
/// it: friction stops the slip at once.
pub(super) fn stop_slip(motion: &mut BallMotion, radius: f64, cloth: &Cloth) {
    let slip = slip(motion, radius);
    if slip.length() <= 3.5 * cloth.sliding_friction * cloth.gravity * SHORTEST {
        motion.velocity -= slip * (2.0 / 7.0);
        motion.spin = super::motion::rolling_spin(motion.velocity, radius).extend(motion.spin.z);
    }
}
