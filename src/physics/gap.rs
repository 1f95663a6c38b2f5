//! When a gap between moving things closes.

use crate::geometry::{falling_root_quadratic, first_fall};
use glam::DVec2;

/// Things nearer than this touch, m (tuning choice: half of the overlap that the
/// model allows itself).
pub(super) const TOUCH: f64 = 5e-10;

/// A ball deeper in a wall than this stands behind it, m (tuning choice). Balls
/// that lean on each other are pushed that far at most before they are put right.
pub(super) const BEHIND: f64 = 1e-7;

/// Things that touch and close slower than this move along each other, m/s
/// (tuning choice, far below the speed at which contacts rest).
pub(super) const STILL: f64 = 1e-9;

/// Accelerations toward each other below this do not press, m/s² (tuning choice:
/// rounding).
pub(super) const NO_PRESS: f64 = 1e-10;

/// Touching things that still close, for what rests does so to a rounding only, are
/// looked at again when they are so deep in each other, m (tuning choice: less than
/// the overlap that the model allows itself). They were settled at this moment: to
/// settle them again at once would change nothing.
pub(super) const SUNK: f64 = 6e-10;

/// And those that are deeper already, when they are deeper by this, m.
const SINKS: f64 = 1e-10;

/// Time within `span` at which two points come within `reach` of each other; if they
/// touch already, at which they have parted and come back, or have sunk in.
///
/// `offset`, `velocity` and `acceleration` are those of one point against the
/// other. Touching points are followed by the polynomial divided by time, so that
/// the contact just treated is not found again.
pub(super) fn meeting_time(
    offset: DVec2,
    velocity: DVec2,
    acceleration: DVec2,
    reach: f64,
    span: f64,
) -> Option<f64> {
    let distance = offset.length();
    let approach = offset.dot(velocity);
    let bend = velocity.length_squared() + offset.dot(acceleration);
    let cubic = velocity.dot(acceleration);
    let quartic = 0.25 * acceleration.length_squared();
    if distance - reach > TOUCH {
        let constant = (distance - reach) * (distance + reach);
        return first_fall(&[constant, 2.0 * approach, bend, cubic, quartic], span);
    }
    if approach > STILL * reach {
        return first_fall(&[2.0 * approach, bend, cubic, quartic], span);
    }
    if approach >= 0.0 && bend > NO_PRESS * reach {
        return first_fall(&[bend, cubic, quartic], span);
    }
    sinking_time(offset, velocity, acceleration, reach, span)
}

/// Time within `span` at which touching points, of which one may be held against the
/// other, have sunk in: arguments as in [`meeting_time`].
pub(super) fn sinking_time(
    offset: DVec2,
    velocity: DVec2,
    acceleration: DVec2,
    reach: f64,
    span: f64,
) -> Option<f64> {
    let distance = offset.length();
    let sunk = (reach - SUNK).min(distance - SINKS);
    let polynomial = [
        (distance - sunk) * (distance + sunk),
        2.0 * offset.dot(velocity),
        velocity.length_squared() + offset.dot(acceleration),
        velocity.dot(acceleration),
        0.25 * acceleration.length_squared(),
    ];
    first_fall(&polynomial, span)
}

/// The same for a point and a straight line: `gap` is the distance less the reach.
pub(super) fn falling_time(gap: f64, speed: f64, acceleration: f64) -> Option<f64> {
    if !(-BEHIND..=TOUCH).contains(&gap) {
        return falling_root_quadratic([gap, speed, 0.5 * acceleration]);
    }
    if speed > STILL {
        // A ball deeper than it ever touches rolls in from a pocket's mouth.
        return if gap < -SUNK {
            falling_root_quadratic([gap, speed, 0.5 * acceleration])
        } else {
            (acceleration < 0.0).then(|| -2.0 * speed / acceleration)
        };
    }
    sunk_time(gap, speed, acceleration)
}

/// As [`sinking_time`], for a straight line.
pub(super) fn sunk_time(gap: f64, speed: f64, acceleration: f64) -> Option<f64> {
    falling_root_quadratic([(gap + SUNK).max(SINKS), speed, 0.5 * acceleration])
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn touching_things_that_part_meet_again_only_later() {
        let (offset, velocity) = (DVec2::new(1.0, 0.0), DVec2::new(1.0, 0.0));
        let back = meeting_time(offset, velocity, DVec2::new(-2.0, 0.0), 1.0, 5.0);
        let time = back.expect("it is drawn back");
        assert!((time - 1.0).abs() < 1e-12, "out and back in a second: {time}");
        assert_eq!(meeting_time(offset, velocity, DVec2::ZERO, 1.0, 5.0), None, "gone for good");
    }

    #[test]
    fn touching_things_that_creep_meet_when_they_have_sunk() {
        let creeps = DVec2::new(-1e-10, 0.0);
        let sunk = meeting_time(DVec2::X, creeps, DVec2::ZERO, 1.0, 50.0).expect("it sinks in");
        assert!((sunk - 6.0).abs() < 1e-6, "0.6 nm at 0.1 nm/s: {sunk}");
        let deep = meeting_time(DVec2::X * (1.0 - 2e-9), creeps, DVec2::ZERO, 1.0, 50.0);
        assert!((deep.expect("deeper") - 1.0).abs() < 1e-6, "0.1 nm more: {deep:?}");
        assert_eq!(falling_time(0.0, -1e-10, 0.0), Some(6.0), "on a line too");
    }

    #[test]
    fn things_at_rest_against_each_other_stay() {
        assert_eq!(meeting_time(DVec2::X, DVec2::ZERO, DVec2::ZERO, 1.0, 5.0), None, "frozen");
        assert_eq!(falling_time(0.0, 0.0, 0.0), None, "frozen to a rail");
    }
}
