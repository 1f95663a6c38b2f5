//! Motion on the cloth: slide, roll, spin, rest. Every phase is a polynomial of
//! degree two in time, so nothing is stepped.

use crate::ball::{BallMotion, Phase};
use crate::table::Cloth;
use glam::{DVec2, DVec3};

/// Slip or speed below this counts as none, m/s (tuning choice). A slide from it
/// lasts under 1e-9 s on any plausible cloth.
pub(crate) const NO_SPEED: f64 = 1e-9;

/// Spin about the vertical below this counts as none, rad/s (tuning choice).
const NO_SPIN: f64 = 1e-8;

/// Velocity of the ball's lowest point over the cloth, m/s.
///
/// # Source
/// Rigid-body kinematics: v + w x r with r = (0, 0, -R).
pub fn slip(motion: &BallMotion, radius: f64) -> DVec2 {
    DVec2::new(
        motion.velocity.x - radius * motion.spin.y,
        motion.velocity.y + radius * motion.spin.x,
    )
}

/// The horizontal spin of a ball that rolls with `velocity`, rad/s.
pub fn rolling_spin(velocity: DVec2, radius: f64) -> DVec2 {
    DVec2::new(-velocity.y / radius, velocity.x / radius)
}

/// Kinetic energy for each unit of mass, J/kg.
pub fn specific_energy(motion: &BallMotion, radius: f64) -> f64 {
    0.5 * motion.velocity.length_squared() + 0.2 * radius * radius * motion.spin.length_squared()
}

/// One phase of a ball's motion, from its start to its end.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Course {
    /// What the cloth does to the ball.
    pub phase: Phase,
    /// State at the start of the phase.
    pub start: BallMotion,
    /// Acceleration of the centre, m/s², constant over the phase.
    pub acceleration: DVec2,
    /// Change of the horizontal spin, rad/s², constant over the phase.
    pub spin_rate: DVec2,
    /// Decay of the spin about the vertical, rad/s².
    pub spin_decay: f64,
    /// How long the phase lasts if nothing interferes, s; infinite if it never ends.
    pub span: f64,
}

impl Course {
    /// The phase that a ball in state `start` is in, on the given cloth.
    ///
    /// # Source
    /// Newton's laws for a sphere on a level plane with Coulomb friction;
    /// derived in DEVELOPERS.md, "Slide to roll".
    pub fn new(start: BallMotion, radius: f64, cloth: &Cloth) -> Self {
        let slip = slip(&start, radius);
        let slip_speed = slip.length();
        if slip_speed > NO_SPEED {
            let friction = cloth.sliding_friction * cloth.gravity;
            let acceleration = slip * (-friction / slip_speed);
            let span = 2.0 * slip_speed / (7.0 * friction);
            return Self::sliding(start, acceleration, acceleration, radius, cloth, span);
        }
        let speed = start.velocity.length();
        if speed > NO_SPEED {
            let drag = cloth.rolling_friction * cloth.gravity;
            let acceleration = start.velocity * (-drag / speed);
            return Self {
                phase: Phase::Rolling,
                start,
                acceleration,
                spin_rate: rolling_spin(acceleration, radius),
                spin_decay: cloth.spin_decay,
                span: speed / drag,
            };
        }
        let still = BallMotion { position: start.position, ..BallMotion::default() };
        if start.spin.z.abs() > NO_SPIN {
            return Self {
                phase: Phase::Spinning,
                start: BallMotion { spin: DVec3::new(0.0, 0.0, start.spin.z), ..still },
                acceleration: DVec2::ZERO,
                spin_rate: DVec2::ZERO,
                spin_decay: cloth.spin_decay,
                span: start.spin.z.abs() / cloth.spin_decay,
            };
        }
        Self::at_rest(start.position)
    }

    /// A sliding phase: the cloth's friction gives `friction` (m/s²) to centre
    /// and spin, and the centre moves with `acceleration`, which differs from it
    /// only while something holds the ball.
    pub(crate) fn sliding(
        start: BallMotion,
        acceleration: DVec2,
        friction: DVec2,
        radius: f64,
        cloth: &Cloth,
        span: f64,
    ) -> Self {
        let turn = 2.5 / radius;
        Self {
            phase: Phase::Sliding,
            start,
            acceleration,
            spin_rate: DVec2::new(turn * friction.y, -turn * friction.x),
            spin_decay: cloth.spin_decay,
            span,
        }
    }

    /// A ball that rests at `position`.
    pub fn at_rest(position: DVec2) -> Self {
        Self {
            phase: Phase::AtRest,
            start: BallMotion { position, ..BallMotion::default() },
            acceleration: DVec2::ZERO,
            spin_rate: DVec2::ZERO,
            spin_decay: 0.0,
            span: f64::INFINITY,
        }
    }

    /// Whether the centre moves.
    pub fn moves(&self) -> bool {
        matches!(self.phase, Phase::Sliding | Phase::Rolling)
    }

    /// The centre `time` seconds after the start, m.
    pub fn position(&self, time: f64) -> DVec2 {
        self.start.position + (self.start.velocity + self.acceleration * (0.5 * time)) * time
    }

    /// Velocity of the centre `time` seconds after the start, m/s.
    pub fn velocity(&self, time: f64) -> DVec2 {
        self.start.velocity + self.acceleration * time
    }

    /// State `time` seconds after the start, for a time within the phase.
    pub fn motion(&self, time: f64) -> BallMotion {
        let flat = self.start.spin.truncate() + self.spin_rate * time;
        let upright = self.start.spin.z;
        let left = (upright.abs() - self.spin_decay * time).max(0.0);
        BallMotion {
            position: self.position(time),
            velocity: self.velocity(time),
            spin: flat.extend(left.copysign(upright)),
        }
    }

    /// State at the end of the phase, with what ended set exactly: no slip after
    /// a slide, no velocity after a roll, no spin after spinning in place.
    pub fn end(&self, radius: f64) -> BallMotion {
        let mut end = self.motion(self.span);
        match self.phase {
            Phase::Sliding => end.spin = rolling_spin(end.velocity, radius).extend(end.spin.z),
            Phase::Rolling => {
                end.velocity = DVec2::ZERO;
                end.spin = DVec3::new(0.0, 0.0, end.spin.z);
            }
            Phase::Spinning | Phase::AtRest => end.spin = DVec3::ZERO,
        }
        end
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::table::{TableCard, TableSize};

    #[test]
    fn a_ball_struck_at_centre_keeps_five_sevenths() {
        let card = TableCard::of_size(TableSize::NineFoot);
        let start = BallMotion { velocity: DVec2::new(1.4, 0.0), ..BallMotion::default() };
        let slide = Course::new(start, card.ball.radius, &card.cloth);
        assert_eq!(slide.phase, Phase::Sliding, "no spin means slip");
        let end = slide.end(card.ball.radius);
        assert!((end.velocity.x - 1.0).abs() < 1e-12, "5/7 of 1.4: {}", end.velocity.x);
        let roll = Course::new(end, card.ball.radius, &card.cloth);
        assert_eq!(roll.phase, Phase::Rolling, "the slip is gone");
        let stop = Course::new(roll.end(card.ball.radius), card.ball.radius, &card.cloth);
        assert_eq!(stop.phase, Phase::AtRest, "nothing is left");
    }

    #[test]
    fn side_spin_outlasts_the_roll() {
        let card = TableCard::of_size(TableSize::NineFoot);
        let start = BallMotion { spin: DVec3::new(0.0, 0.0, -3.0), ..BallMotion::default() };
        let spin = Course::new(start, card.ball.radius, &card.cloth);
        assert_eq!(spin.phase, Phase::Spinning, "it spins in place");
        assert!((spin.span - 0.3).abs() < 1e-12, "3 rad/s at 10 rad/s²: {}", spin.span);
        assert_eq!(spin.motion(0.1).spin.z, -2.0, "it keeps its sense");
    }

    #[test]
    fn without_friction_a_phase_never_ends() {
        let mut card = TableCard::of_size(TableSize::NineFoot);
        card.cloth.sliding_friction = 0.0;
        let start = BallMotion { velocity: DVec2::new(1.0, 0.0), ..BallMotion::default() };
        let slide = Course::new(start, card.ball.radius, &card.cloth);
        assert_eq!(slide.span, f64::INFINITY, "it slides for ever");
        assert_eq!(slide.position(2.0).x, 2.0, "at constant speed");
    }
}
