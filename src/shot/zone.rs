//! The zone in which the cue ball is to stop.

use crate::geometry::{cross, unit_from_angle};
use glam::DVec2;
use std::f64::consts::PI;

/// An ellipse on the cloth.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Zone {
    /// Its middle, m.
    pub centre: DVec2,
    /// Half its length along `turn`, and half its width across, m; both positive.
    pub half: DVec2,
    /// Direction of its length, rad, anticlockwise from +x.
    pub turn: f64,
}

impl Zone {
    /// How far out `place` lies: 0 in the middle, 1 on the edge.
    pub fn reach(&self, place: DVec2) -> f64 {
        self.in_halves(place - self.centre).length()
    }

    /// `way` (m) along the zone's length and across it, in halves of them.
    pub(super) fn in_halves(&self, way: DVec2) -> DVec2 {
        let axis = unit_from_angle(self.turn);
        DVec2::new(way.dot(axis) / self.half.x, cross(axis, way) / self.half.y)
    }

    /// Whether a cue ball whose centre is at `place` (m) stopped in it.
    pub fn contains(&self, place: DVec2) -> bool {
        self.reach(place) <= 1.0
    }

    /// Its area, m²; what of it hangs over the rails counts as well.
    pub fn area(&self) -> f64 {
        PI * self.half.x * self.half.y
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_edge_is_in_and_what_is_beyond_is_not() {
        let turn = 0.5;
        let zone = Zone { centre: DVec2::new(1.0, 0.5), half: DVec2::new(0.3, 0.1), turn };
        let (along, across) = (unit_from_angle(turn), unit_from_angle(turn + PI / 2.0));
        assert!(zone.contains(zone.centre + along * 0.2999), "along its length");
        assert!(!zone.contains(zone.centre + along * 0.3001), "past its end");
        assert!(!zone.contains(zone.centre + across * 0.1001), "past its side");
        assert!((zone.reach(zone.centre - across * 0.05) - 0.5).abs() < 1e-12, "half way out");
        assert!((zone.area() - PI * 0.03).abs() < 1e-12, "pi a b");
    }
}
