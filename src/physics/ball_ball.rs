//! Two balls meet: restitution along the line of centres, friction across it.

use crate::ball::BallMotion;
use crate::table::{BallContact, FrictionCurve};
use glam::{DVec2, DVec3};

impl FrictionCurve {
    /// Coefficient of friction at a surface speed (m/s, at least 0).
    pub fn at(&self, surface_speed: f64) -> f64 {
        self.floor + self.range * libm::exp(-self.decay * surface_speed)
    }
}

/// Speed of approach along `normal` (unit, from first to second), m/s; negative
/// when the balls part.
pub fn closing_speed(first: &BallMotion, second: &BallMotion, normal: DVec2) -> f64 {
    (first.velocity - second.velocity).dot(normal)
}

/// Velocity of the first ball's surface over the second's at their contact, m/s.
///
/// # Source
/// Rigid-body kinematics: v1 - v2 + R (w1 + w2) x n, less its normal part.
pub fn surface_slip(first: &BallMotion, second: &BallMotion, normal: DVec2, radius: f64) -> DVec3 {
    let relative = first.velocity - second.velocity;
    let along = relative.dot(normal);
    let sum = first.spin + second.spin;
    (relative - normal * along).extend(0.0) + sum.cross(normal.extend(0.0)) * radius
}

/// Gives the impulse `impulse` (for each unit of mass, m/s) to the first ball at
/// its contact with the second, and its opposite to the second. The vertical
/// part changes spin only: the balls stay on the cloth.
pub(crate) fn push(
    first: &mut BallMotion,
    second: &mut BallMotion,
    normal: DVec2,
    radius: f64,
    impulse: DVec3,
) {
    let turn = normal.extend(0.0).cross(impulse) * (2.5 / radius);
    first.velocity += impulse.truncate();
    second.velocity -= impulse.truncate();
    first.spin += turn;
    second.spin += turn;
}

/// The two balls after their impact.
///
/// `normal` is the unit vector from the first ball's centre to the second's.
/// Balls that part are returned as they came.
///
/// # Source
/// Impulse and momentum for equal spheres with Coulomb friction; the friction
/// impulse is the lesser of mu times the normal one and m u / 7, which stops the
/// slip. Derived in DEVELOPERS.md, "Ball on ball".
pub fn collide(
    first: &BallMotion,
    second: &BallMotion,
    normal: DVec2,
    radius: f64,
    contact: &BallContact,
) -> (BallMotion, BallMotion) {
    let (mut one, mut two) = (*first, *second);
    let closing = closing_speed(first, second, normal);
    if closing <= 0.0 {
        return (one, two);
    }
    let press = 0.5 * (1.0 + contact.restitution) * closing;
    let slip = surface_slip(first, second, normal, radius);
    let slip_speed = slip.length();
    let mut impulse = (normal * -press).extend(0.0);
    if slip_speed > 0.0 {
        let grip = (contact.friction.at(slip_speed) * press).min(slip_speed / 7.0);
        impulse -= slip * (grip / slip_speed);
    }
    push(&mut one, &mut two, normal, radius, impulse);
    (one, two)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::table::{TableCard, TableSize};

    #[test]
    fn a_full_hit_at_stun_stops_the_cue_ball() {
        let mut contact = TableCard::of_size(TableSize::NineFoot).ball_contact;
        contact.restitution = 1.0;
        let moving = BallMotion { velocity: DVec2::new(2.0, 0.0), ..BallMotion::default() };
        let rest = BallMotion::default();
        let (one, two) = collide(&moving, &rest, DVec2::X, 0.028_575, &contact);
        assert_eq!(one.velocity, DVec2::ZERO, "all of it goes over");
        assert_eq!(two.velocity, moving.velocity, "to the object ball");
    }

    #[test]
    fn parting_balls_are_left_alone() {
        let contact = TableCard::of_size(TableSize::NineFoot).ball_contact;
        let moving = BallMotion { velocity: DVec2::new(-1.0, 0.2), ..BallMotion::default() };
        let rest = BallMotion::default();
        let (one, two) = collide(&moving, &rest, DVec2::X, 0.028_575, &contact);
        assert_eq!((one, two), (moving, rest), "nothing happens");
    }
}
