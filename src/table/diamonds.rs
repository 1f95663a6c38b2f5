//! Counting in diamonds: 0 to 8 from the head along a long rail, 0 to 4 from the
//! right along a short one, both on the nose line.

use super::{Rail, TableCard};
use crate::units::INCH;
use glam::DVec2;

/// Distance of a sight's centre behind the nose line, m.
///
/// # Source
/// WPA Tournament Table and Equipment Specifications (November 2001), section 6.
pub const SIGHT_SET_BACK: f64 = (3.0 + 11.0 / 16.0) * INCH;

/// How many diamonds a rail counts: 8 on a long rail, 4 on a short one.
pub fn diamonds_on(rail: Rail) -> f64 {
    if rail.is_long() { 8.0 } else { 4.0 }
}

/// The diamond on `rail` opposite `point`.
pub fn diamond_of(card: &TableCard, rail: Rail, point: DVec2) -> f64 {
    if rail.is_long() { point.x / (card.length / 8.0) } else { point.y / (card.width / 4.0) }
}

/// The point on the nose line of `rail` at `diamond`, m.
pub fn point_at(card: &TableCard, rail: Rail, diamond: f64) -> DVec2 {
    match rail {
        Rail::Head => DVec2::new(0.0, diamond * card.width / 4.0),
        Rail::Foot => DVec2::new(card.length, diamond * card.width / 4.0),
        Rail::Right => DVec2::new(diamond * card.length / 8.0, 0.0),
        Rail::Left => DVec2::new(diamond * card.length / 8.0, card.width),
    }
}

/// The centres of the eighteen sights, m. The side pockets take the place of
/// the fourth sight of a long rail.
pub fn sights(card: &TableCard) -> Vec<DVec2> {
    let mut sights = Vec::with_capacity(18);
    for rail in Rail::ALL {
        let last = if rail.is_long() { 7 } else { 3 };
        for diamond in (1..=last).filter(|&k| !(rail.is_long() && k == 4)) {
            sights.push(point_at(card, rail, f64::from(diamond)) - rail.inward() * SIGHT_SET_BACK);
        }
    }
    sights
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::table::TableSize;

    /// Source: WPA specifications, section 6: 18 sights, 12 1/2 inches apart on
    /// a nine-foot table and 11 1/2 on an eight-foot one.
    #[test]
    fn sights_stand_as_specified() {
        for (size, inches) in [(TableSize::NineFoot, 12.5), (TableSize::EightFoot, 11.5)] {
            let card = TableCard::of_size(size);
            let all = sights(&card);
            assert_eq!(all.len(), 18, "{size:?} has eighteen sights");
            let step = point_at(&card, Rail::Left, 3.0).x - point_at(&card, Rail::Left, 2.0).x;
            assert!((step - inches * INCH).abs() < 1e-12, "{size:?}: {step} m apart");
        }
    }

    #[test]
    fn a_point_finds_its_diamond_again() {
        let card = TableCard::of_size(TableSize::NineFoot);
        for rail in Rail::ALL {
            let there = point_at(&card, rail, 2.25);
            let back = diamond_of(&card, rail, there);
            assert!((back - 2.25).abs() < 1e-12, "{rail}: {back}");
        }
    }
}
