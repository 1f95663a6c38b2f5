//! The model against the literature, one test for one source where that can be.
//!
//! Every value says how well it is founded: "seen in the source"; "quoted by
//! another", when the source itself was not read; "from memory"; "derived", when
//! it follows from the named law and was worked out for these tests, in most
//! cases by two routes. Printed values are met to half their last digit, closed
//! forms to 1e-9, impacts that are integrated to 1e-4; any other tolerance is
//! explained beside it.
//!
//! Not checked, because the model has no such part: the speed of the cue and its
//! loss in the stroke (a stroke is given by the ball's speed), height of the bed,
//! width of the rails, back draft, slate radius and thickness of the facings; the
//! one-contact cushion law attributed to Han 2005, which is another law than the
//! one in force (its coefficients are from memory besides); the angle at the
//! object ball's edge by which billiards books sight a half-ball (about 35
//! degrees, Badminton Library 1896), which is no path of a ball.

mod ball_ball;
mod carom_tables;
mod check;
mod cloth;
mod cushion;
mod cushion_tables;
mod diamonds;
mod equipment;
mod hands;

mod invariants;
mod pockets;
mod rules_of_thumb;
mod second_route_cloth;
mod second_route_impacts;
mod shots;
mod speeds;
mod stroke;
mod thin_and_full;

use glam::{DVec2, DVec3};
use leaveline::physics::{Course, rolling_spin};
use leaveline::table::{BallContact, Cloth, FrictionCurve};
use leaveline::{BallMotion, Phase};

/// Radius of a pool ball, m.
pub const RADIUS: f64 = 0.028_575;

/// Gravity with which the derived values were worked out, m/s².
pub const GRAVITY: f64 = 9.81;

/// Cloth with the given sliding and rolling friction.
pub fn cloth(sliding_friction: f64, rolling_friction: f64) -> Cloth {
    Cloth { gravity: GRAVITY, sliding_friction, rolling_friction, spin_decay: 10.0 }
}

/// Balls with friction that does not depend on speed.
pub fn balls(restitution: f64, friction: f64) -> BallContact {
    let friction = FrictionCurve { floor: friction, range: 0.0, decay: 0.0 };
    BallContact { restitution, friction }
}

/// A ball that moves with `velocity`; `roll` is its spin about the horizontal
/// axis and `side` its spin about the vertical, as shares of natural roll.
pub fn moving(velocity: DVec2, roll: f64, side: f64, radius: f64) -> BallMotion {
    let flat = rolling_spin(velocity, radius) * roll;
    let upright = side * velocity.length() / radius;
    BallMotion { position: DVec2::ZERO, velocity, spin: flat.extend(upright) }
}

/// The ball once the cloth has turned what it does into rolling.
pub fn rerolled(motion: &BallMotion, radius: f64, cloth: &Cloth) -> BallMotion {
    let course = Course::new(*motion, radius, cloth);
    if course.phase == Phase::Sliding { course.end(radius) } else { *motion }
}

/// Direction of `v`, degrees, anticlockwise from +x.
pub fn direction(v: DVec2) -> f64 {
    v.y.atan2(v.x).to_degrees()
}

/// What `spin` about the horizontal axis across +x is.
pub fn spin_across(rate: f64) -> DVec3 {
    DVec3::new(0.0, rate, 0.0)
}
