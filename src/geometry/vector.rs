//! Directions and angles in the plane. Transcendental functions come from
//! `libm`, so every engine gives the same bits.

use glam::DVec2;
use std::f64::consts::{PI, TAU};

/// The unit vector at `angle` (rad), anticlockwise from +x.
pub fn unit_from_angle(angle: f64) -> DVec2 {
    DVec2::new(libm::cos(angle), libm::sin(angle))
}

/// The direction of `v` (rad, from -pi to pi), anticlockwise from +x; 0 for the
/// zero vector.
pub fn heading(v: DVec2) -> f64 {
    libm::atan2(v.y, v.x)
}

/// `v` turned a quarter anticlockwise: what lies to the left of someone facing `v`.
pub fn left_of(v: DVec2) -> DVec2 {
    DVec2::new(-v.y, v.x)
}

/// The z component of the cross product: positive when `b` lies to the left of `a`.
pub fn cross(a: DVec2, b: DVec2) -> f64 {
    a.x * b.y - a.y * b.x
}

/// The turn from `a` to `b` (rad, from -pi to pi), positive anticlockwise; 0 if
/// either is zero.
pub fn angle_between(a: DVec2, b: DVec2) -> f64 {
    libm::atan2(cross(a, b), a.dot(b))
}

/// How far along the straight way between two places the one lies that is nearest to `point`,
/// 0 to 1; 0 where there is no way.
pub fn share_along(from: DVec2, to: DVec2, point: DVec2) -> f64 {
    let way = to - from;
    ((point - from).dot(way) / way.length_squared().max(f64::MIN_POSITIVE)).clamp(0.0, 1.0)
}

/// The way from `at` along the unit vector `direction` to the edge of a box, m; infinite for
/// the zero vector, and not positive if `at` lies beyond.
pub fn way_to_edge(at: DVec2, direction: DVec2, least: DVec2, most: DVec2) -> f64 {
    let way = |at: f64, step: f64, low: f64, high: f64| {
        if step > 0.0 {
            (high - at) / step
        } else if step < 0.0 {
            (low - at) / step
        } else {
            f64::INFINITY
        }
    };
    let x = way(at.x, direction.x, least.x, most.x);
    x.min(way(at.y, direction.y, least.y, most.y))
}

/// `angle` (rad) brought into the interval from -pi (excluded) to pi.
pub fn wrap_angle(angle: f64) -> f64 {
    let turned = angle - TAU * (angle / TAU).round();
    if turned <= -PI { turned + TAU } else { turned }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn turns_are_signed_anticlockwise() {
        let quarter = angle_between(DVec2::X, DVec2::Y);
        assert!((quarter - PI / 2.0).abs() < 1e-15, "from x to y is a left turn: {quarter}");
        assert_eq!(left_of(DVec2::X), DVec2::Y, "left of x is y");
    }

    #[test]
    fn wrapped_angles_stay_within_half_a_turn() {
        for k in -4..=4 {
            let wrapped = wrap_angle(1.0 + f64::from(k) * TAU);
            assert!((wrapped - 1.0).abs() < 1e-12, "{k} turns change nothing: {wrapped}");
        }
        assert_eq!(wrap_angle(-PI), PI, "half a turn is positive");
    }
}
