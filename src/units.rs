//! Conversions to SI. Everything inside the core is in metres, seconds,
//! kilograms and radians; the factors below are exact.

use std::f64::consts::PI;

/// One international inch, in metres (exact by definition, 1959).
pub const INCH: f64 = 0.0254;

/// One foot, in metres (exact: twelve inches).
pub const FOOT: f64 = 0.3048;

/// One avoirdupois ounce, in kilograms (exact by definition, 1959).
pub const OUNCE: f64 = 0.028_349_523_125;

/// One mile an hour, in metres a second (exact).
pub const MILE_PER_HOUR: f64 = 0.447_04;

/// Degrees to radians.
pub fn radians(degrees: f64) -> f64 {
    degrees * (PI / 180.0)
}

/// Radians to degrees.
pub fn degrees(radians: f64) -> f64 {
    radians * (180.0 / PI)
}
