//! What the tip gives the cue ball: velocity, spin, squirt.

use super::shot::{FASTEST_STROKE, MISCUE_LIMIT, Stroke};
use crate::error::Error;
use crate::geometry::unit_from_angle;
use glam::{DVec2, DVec3};

/// Steepest cue that is accepted, rad (85 degrees; tuning choice: nearer to
/// upright the tip drives the ball into the cloth, which this model leaves out).
const STEEPEST: f64 = 85.0 * std::f64::consts::PI / 180.0;

impl Stroke {
    /// Checks that the stroke can be played.
    ///
    /// # Errors
    /// [`Error::OutOfRange`] naming the field, and [`Error::Invalid`] for a tip
    /// offset that miscues.
    pub fn check(&self) -> Result<(), Error> {
        if !self.azimuth.is_finite() {
            return Err(Error::out_of_range("azimuth", self.azimuth, "must be a finite angle"));
        }
        if !(0.0..=STEEPEST).contains(&self.elevation) {
            let rule = "must lie from 0 to 85 degrees";
            let degrees = crate::units::degrees(self.elevation);
            return Err(Error::out_of_range("elevation", degrees, rule));
        }
        if !(self.speed > 0.0 && self.speed <= FASTEST_STROKE) {
            let rule = "must be positive and at most 15 m/s";
            return Err(Error::out_of_range("speed", self.speed, rule));
        }
        for (field, value) in [("side", self.side), ("height", self.height)] {
            if !(-1.0..=1.0).contains(&value) {
                return Err(Error::out_of_range(field, value, "must lie from -1 to 1"));
            }
        }
        let offset = self.side * self.side + self.height * self.height;
        // The slack is the rounding of decimals such as 0.3 and 0.4.
        if offset > MISCUE_LIMIT * MISCUE_LIMIT * (1.0 + 1e-12) {
            let rule = "miscue: side and height together must stay within half a radius";
            return Err(Error::invalid("side", rule));
        }
        Ok(())
    }

    /// Velocity (m/s) and spin (rad/s) of the cue ball as it leaves the tip.
    ///
    /// The impulse runs along the cue's axis through the point of contact; the
    /// cloth stops its downward part. Squirt turns the velocity away from the
    /// struck side and leaves the spin alone. `squirt_mass_ratio` is the ball's
    /// mass over the cue's effective end mass.
    ///
    /// # Source
    /// Impulse through the contact point, w = r x J / I. Squirt: end-mass model
    /// of Cross 2008, Am. J. Phys. 76, 205.
    pub fn launch(&self, radius: f64, squirt_mass_ratio: f64) -> (DVec2, DVec3) {
        let ahead = unit_from_angle(self.azimuth);
        let right = DVec3::new(ahead.y, -ahead.x, 0.0);
        let (dip, level) = (libm::sin(self.elevation), libm::cos(self.elevation));
        let up = (ahead * dip).extend(level);
        let spin = (up * self.side - right * self.height) * (2.5 * self.speed / radius);
        let turn = squirt_angle(self.side, squirt_mass_ratio);
        let velocity = unit_from_angle(self.azimuth + turn) * (self.speed * level);
        (velocity, spin)
    }
}

/// The angle by which squirt turns the cue ball, rad, anticlockwise positive:
/// a ball struck on its right leaves to the left.
///
/// `side` is the offset as a fraction of the radius, `mass_ratio` the ball's
/// mass over the cue's effective end mass.
///
/// # Source
/// Cross 2008, Am. J. Phys. 76, 205 (end-mass model).
pub fn squirt_angle(side: f64, mass_ratio: f64) -> f64 {
    let offset = side.abs();
    let depth = 1.0 - offset * offset;
    let tangent = 2.5 * offset * depth.sqrt() / (1.0 + mass_ratio + 2.5 * depth);
    libm::atan(tangent).copysign(side)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn level(side: f64, height: f64) -> Stroke {
        Stroke { azimuth: 0.0, elevation: 0.0, speed: 2.0, side, height }
    }

    #[test]
    fn right_side_turns_anticlockwise_and_squirts_left() {
        let (velocity, spin) = level(0.3, 0.0).launch(0.028_575, 30.0);
        assert!(spin.z > 0.0, "anticlockwise seen from above: {}", spin.z);
        assert!(velocity.y > 0.0, "away from the struck side: {}", velocity.y);
    }

    #[test]
    fn a_high_tip_gives_topspin() {
        let (velocity, spin) = level(0.0, 0.4).launch(0.028_575, 30.0);
        let roll = spin.y * 0.028_575 / velocity.x;
        assert!((roll - 1.0).abs() < 1e-12, "two fifths of the radius rolls at once: {roll}");
    }

    #[test]
    fn a_miscue_is_refused_in_words() {
        assert_eq!(level(0.3, 0.4).check(), Ok(()), "on the limit");
        let error = level(0.4, 0.4).check().expect_err("beyond the limit");
        assert!(error.to_string().contains("miscue"), "{error}");
    }

    #[test]
    fn a_raised_cue_with_side_lays_the_spin_over() {
        let stroke = Stroke { elevation: 0.5, ..level(0.3, 0.0) };
        let (_, spin) = stroke.launch(0.028_575, 1e9);
        assert!(spin.x > 0.0 && spin.z > 0.0, "spin leans along the shot and swerves it: {spin}");
    }
}
