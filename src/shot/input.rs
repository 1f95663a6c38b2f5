//! The four things that a player sets with each stroke, one at a time.

use super::{Hand, SpeedError};
use crate::physics::{FASTEST_STROKE, MISCUE_LIMIT, Stroke};
use std::f64::consts::PI;

/// Speeds are looked at from this share of the stroke's up to this multiple (tuning
/// choice: nobody is off by more).
const SPEEDS: (f64, f64) = (0.1, 3.0);

/// Directions are looked at to both sides as far as this, rad (tuning choice: ten
/// degrees, more than any ball allows).
const DIRECTIONS: f64 = PI / 18.0;

/// One thing that a player sets with a stroke.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Input {
    /// The speed, m/s.
    Speed,
    /// The direction, rad.
    Azimuth,
    /// The tip's offset to the right, as a fraction of the radius.
    Side,
    /// The tip's offset upward, as a fraction of the radius.
    Height,
}

impl Input {
    /// All four.
    pub const ALL: [Self; 4] = [Self::Speed, Self::Azimuth, Self::Side, Self::Height];

    /// What it is in `stroke`.
    pub fn of(self, stroke: &Stroke) -> f64 {
        match self {
            Self::Speed => stroke.speed,
            Self::Azimuth => stroke.azimuth,
            Self::Side => stroke.side,
            Self::Height => stroke.height,
        }
    }

    /// `stroke` with this one set to `value`.
    #[must_use]
    pub fn set(self, stroke: &Stroke, value: f64) -> Stroke {
        let mut other = *stroke;
        match self {
            Self::Speed => other.speed = value,
            Self::Azimuth => other.azimuth = value,
            Self::Side => other.side = value,
            Self::Height => other.height = value,
        }
        other
    }

    /// The least and the largest value that is looked at, round `stroke`: for the tip the
    /// miscue limit.
    pub fn limits(self, stroke: &Stroke) -> (f64, f64) {
        let room = |other: f64| (MISCUE_LIMIT * MISCUE_LIMIT - other * other).max(0.0).sqrt();
        match self {
            Self::Speed => {
                let fastest = (SPEEDS.1 * stroke.speed).min(FASTEST_STROKE);
                (SPEEDS.0 * stroke.speed, fastest)
            }
            Self::Azimuth => (stroke.azimuth - DIRECTIONS, stroke.azimuth + DIRECTIONS),
            // A stroke on the limit may lie beyond it by a rounding.
            Self::Side => around(stroke.side, room(stroke.height)),
            Self::Height => around(stroke.height, room(stroke.side)),
        }
    }

    /// Standard deviation of what `hand` makes of it when it means to play `stroke`.
    pub fn error(self, stroke: &Stroke, hand: &Hand) -> f64 {
        match (self, hand.speed) {
            (Self::Speed, SpeedError::Relative(share)) => share * stroke.speed,
            (Self::Speed, SpeedError::Absolute(speed)) => speed,
            (Self::Azimuth, _) => hand.azimuth,
            (Self::Side | Self::Height, _) => hand.tip,
        }
    }

    /// The step with which to begin looking round `stroke` (tuning choice: a hundredth of
    /// the speed, a hundredth of a degree, a hundredth of the radius).
    pub(super) fn step(self, stroke: &Stroke) -> f64 {
        match self {
            Self::Speed => 0.01 * stroke.speed,
            Self::Azimuth => 0.01 * PI / 180.0,
            Self::Side | Self::Height => 0.01,
        }
    }
}

fn around(value: f64, room: f64) -> (f64, f64) {
    (value.min(-room), value.max(room))
}
