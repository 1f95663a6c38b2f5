//! The whole steps in which deals are made, so that a link carries them exactly.

use crate::units::{degrees, radians};
use glam::DVec2;

/// `place` in whole tenths of a millimetre.
pub(super) fn in_tenths(place: DVec2) -> DVec2 {
    (place * 1e4).round() / 1e4
}

/// A direction (rad) in whole thousandths of a degree.
pub(super) fn in_thousandths(direction: f64) -> f64 {
    // Zero has no sign here, for it has none in a form; nor below.
    radians((1000.0 * degrees(direction)).round() / 1000.0 + 0.0)
}

/// A speed (m/s) or a tip's offset (ball radii) in whole twentieths.
pub(super) fn in_twentieths(number: f64) -> f64 {
    (20.0 * number).round() / 20.0 + 0.0
}
