//! A zone as a player says it in numbers.

use super::point::point_on_cloth;
use crate::error::Error;
use crate::shot::Zone;
use crate::table::TableCard;
use crate::units::radians;
use glam::DVec2;
use std::f64::consts::PI;

/// Half a typed zone's length and width lie between these, m (tuning choice: as small as
/// a drag makes it, and as far as from the middle of the longest table to its rail).
const HALVES: (f64, f64) = (0.01, 1.27);

/// In what the size of a zone is typed.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Measure {
    /// Centimetres.
    Centimetres,
    /// Ball diameters.
    Balls,
}

impl Measure {
    /// Both.
    pub const ALL: [Self; 2] = [Self::Centimetres, Self::Balls];

    /// Its name in forms and in words.
    pub fn name(self) -> &'static str {
        match self {
            Self::Centimetres => "cm",
            Self::Balls => "balls",
        }
    }

    /// Metres for each.
    fn metres(self, card: &TableCard) -> f64 {
        match self {
            Self::Centimetres => 0.01,
            Self::Balls => 2.0 * card.ball.radius,
        }
    }
}

/// The zone whose middle lies so many diamonds from the head and from the right, with
/// half its length and width in `measure`, turned by so many `degrees` from +x.
///
/// # Errors
/// [`Error::OutOfRange`] if its middle is not on the table or a half is too small or too
/// large, naming `along`, `across`, `long` or `wide`.
pub fn typed_zone(
    card: &TableCard,
    [along, across]: [f64; 2],
    halves: [f64; 2],
    measure: Measure,
    degrees: f64,
) -> Result<Zone, Error> {
    let centre = point_on_cloth(card, along, across)?.position;
    let metres = measure.metres(card);
    let (least, most) = HALVES;
    for (field, half) in [("long", halves[0]), ("wide", halves[1])] {
        if !(least..=most).contains(&(half * metres)) {
            let low = (10.0 * least / metres).ceil() / 10.0;
            let high = (10.0 * most / metres).floor() / 10.0;
            let rule =
                format!("must lie from {low} to {high} {}, half of the whole", measure.name());
            return Err(Error::out_of_range(field, half, rule));
        }
    }
    // Half a turn changes nothing: the least one is kept, as a drag does.
    let turn = radians(degrees);
    let turn = turn - PI * (turn / PI).round();
    Ok(Zone { centre, half: DVec2::from_array(halves) * metres, turn })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::table::TableSize;

    #[test]
    fn a_zone_is_typed_in_centimetres_and_in_balls() {
        let card = TableCard::of_size(TableSize::NineFoot);
        let zone = typed_zone(&card, [4.0, 2.0], [20.0, 10.0], Measure::Centimetres, 30.0);
        let zone = zone.expect("a zone");
        assert_eq!(zone.centre, DVec2::new(card.length, card.width) / 2.0, "in the middle");
        assert!((zone.half - DVec2::new(0.2, 0.1)).length() < 1e-12, "half of it in each way");
        assert!((zone.turn - radians(30.0)).abs() < 1e-12, "as typed");
        let balls = typed_zone(&card, [4.0, 2.0], [4.0, 2.0], Measure::Balls, 210.0);
        let balls = balls.expect("a zone");
        assert!((balls.half.x - 8.0 * card.ball.radius).abs() < 1e-12, "four diameters");
        assert!((balls.turn - radians(30.0)).abs() < 1e-12, "half a turn on it is the same");
    }

    #[test]
    fn a_zone_must_be_on_the_table_and_of_some_size() {
        let card = TableCard::of_size(TableSize::NineFoot);
        let refused = |at, halves, measure| {
            typed_zone(&card, at, halves, measure, 0.0).expect_err("no zone").to_string()
        };
        assert_eq!(
            refused([9.0, 1.0], [20.0, 10.0], Measure::Centimetres),
            "along is 9: must lie from 0 to 8"
        );
        assert_eq!(
            refused([4.0, 2.0], [20.0, 0.5], Measure::Centimetres),
            "wide is 0.5: must lie from 1 to 127 cm, half of the whole"
        );
        assert_eq!(
            refused([4.0, 2.0], [f64::NAN, 2.0], Measure::Balls),
            "long is NaN: must lie from 0.2 to 22.2 balls, half of the whole"
        );
    }
}
