//! Whether a table card is physically meaningful, and whether it is plausible.
//!
//! What is refused here cannot be played at all. What is merely unusual is
//! advice for the screens: textbook checks need ideal balls and cloths.

use super::shape::closing_angle;
use super::{PocketId, PocketSpec, TableCard};
use crate::error::Error;
use crate::units::{INCH, OUNCE};
use glam::DVec2;
use std::f64::consts::{FRAC_1_SQRT_2, FRAC_PI_4};

/// No table, and no part of one, is larger than this, m (tuning choice: it only
/// keeps the arithmetic far from overflow).
const LARGEST: f64 = 100.0;

/// No ball is smaller than this, m (tuning choice: what counts as touching and as
/// resting would no longer be small beside it).
const SMALLEST_BALL: f64 = 1e-3;

impl TableCard {
    /// Checks that the card describes something that can be played on.
    ///
    /// # Errors
    /// [`Error::OutOfRange`] for a parameter outside its physical range,
    /// [`Error::Invalid`] for pockets that do not fit their rails. Fields are
    /// named as in the open forms.
    pub fn check(&self) -> Result<(), Error> {
        let positive = "must be a positive number";
        let size = "must be positive and at most 100 m";
        for (field, value, most, rule) in [
            ("length", self.length, LARGEST, size),
            ("width", self.width, LARGEST, size),
            ("ballRadius", self.ball.radius, LARGEST, size),
            ("ballMass", self.ball.mass, 1e6, "must be positive and at most 1e6 kg"),
            ("gravity", self.cloth.gravity, 1e4, "must be positive and at most 1e4 m/s²"),
            ("squirtMassRatio", self.squirt_mass_ratio, f64::MAX, positive),
        ] {
            if !(value > 0.0 && value <= most) {
                return Err(Error::out_of_range(field, value, rule));
            }
        }
        let share = "must lie from 0 to 1";
        let from_zero = "must lie from 0 to 10";
        let long = "must lie from 0 to 1e6";
        let friction = &self.ball_contact.friction;
        for (field, value, most, rule) in [
            ("ballRestitution", self.ball_contact.restitution, 1.0, share),
            ("cushionRestitution", self.cushion.restitution, 1.0, share),
            ("slidingFriction", self.cloth.sliding_friction, 10.0, from_zero),
            ("rollingFriction", self.cloth.rolling_friction, 10.0, from_zero),
            ("cushionFriction", self.cushion.friction, 10.0, from_zero),
            ("ballFriction.floor", friction.floor, 10.0, from_zero),
            ("ballFriction.range", friction.range, 10.0, from_zero),
            ("ballFriction.decay", friction.decay, 1e6, long),
            ("spinDecay", self.cloth.spin_decay, 1e6, long),
        ] {
            // Not minus nothing either, by which nothing can be divided.
            if !(0.0..=most).contains(&value) || value.is_sign_negative() {
                return Err(Error::out_of_range(field, value, rule));
            }
        }
        if self.ball.radius < SMALLEST_BALL {
            let rule = "must be at least a millimetre";
            return Err(Error::out_of_range("ballRadius", self.ball.radius, rule));
        }
        if !(0.0..=0.6).contains(&self.nose_sine()) {
            let rule = "must lie between R and 1.6 R above the cloth";
            return Err(Error::out_of_range("noseHeight", self.cushion.nose_height, rule));
        }
        if self.width.min(self.length) < 8.0 * self.ball.radius {
            let rule = "the table must be at least four balls wide and long";
            return Err(Error::invalid("ballRadius", rule));
        }
        self.check_pocket("cornerPocket", &self.corner_pocket, PocketId::HeadRight)?;
        self.check_pocket("sidePocket", &self.side_pocket, PocketId::SideRight)?;
        self.check_rails()
    }

    fn check_pocket(&self, name: &str, spec: &PocketSpec, id: PocketId) -> Result<(), Error> {
        let size = "must be positive and at most 100 m";
        for (part, value) in
            [("mouth", spec.mouth), ("facing", spec.facing), ("holeRadius", spec.hole_radius)]
        {
            if !(value > 0.0 && value <= LARGEST) {
                return Err(Error::out_of_range(format!("{name}.{part}"), value, size));
            }
        }
        if !(0.0..=LARGEST).contains(&spec.shelf) {
            let rule = "must lie from 0 to 100 m";
            return Err(Error::out_of_range(format!("{name}.shelf"), spec.shelf, rule));
        }
        let closing = closing_angle(id, spec);
        if !(0.0..=FRAC_PI_4).contains(&closing) {
            let rule = if id.is_side() {
                "must lie from 90 to 135 degrees"
            } else {
                "must lie from 135 to 180 degrees"
            };
            let degrees = crate::units::degrees(spec.cut_angle);
            return Err(Error::out_of_range(format!("{name}.cutAngle"), degrees, rule));
        }
        let half = spec.mouth / 2.0;
        let (sine, cosine) = (libm::sin(closing), libm::cos(closing));
        let end = DVec2::new(spec.facing * cosine, half - spec.facing * sine);
        if end.y <= 0.0 {
            let rule = "the two facings of a pocket must not meet";
            return Err(Error::invalid(format!("{name}.facing"), rule));
        }
        // A ball that follows the facing must fall before the facing ends; the
        // hole is round, so then nothing can leave the pocket another way.
        let last = end - DVec2::new(sine, cosine) * self.touch_distance();
        let hole = DVec2::new(spec.shelf + spec.hole_radius, 0.0);
        if last.y > 0.0 && (last - hole).length() > spec.hole_radius {
            let rule = "the facings must reach the hole";
            return Err(Error::invalid(format!("{name}.facing"), rule));
        }
        Ok(())
    }

    fn check_rails(&self) -> Result<(), Error> {
        let corner = self.corner_pocket.mouth * FRAC_1_SQRT_2;
        if self.width - 2.0 * corner < 2.0 * self.ball.radius {
            let rule = "the corner pockets leave less than a ball of short rail between them";
            return Err(Error::invalid("cornerPocket.mouth", rule));
        }
        if self.length / 2.0 - corner - self.side_pocket.mouth / 2.0 < 2.0 * self.ball.radius {
            let rule = "the pockets leave less than a ball of long rail between them";
            return Err(Error::invalid("sidePocket.mouth", rule));
        }
        Ok(())
    }
}

/// A parameter outside the range that real tables show.
#[derive(Clone, Debug, PartialEq)]
pub struct Advice {
    /// Name of the parameter in the open forms.
    pub field: &'static str,
    /// Its value, in the unit of the open forms.
    pub value: f64,
    /// Least plausible value.
    pub least: f64,
    /// Largest plausible value.
    pub most: f64,
}

/// The parameters of `card` that no real table is likely to have.
///
/// # Source
/// Ball, nose and mouths: WPA Tournament Table and Equipment Specifications
/// (November 2001). Sliding and rolling friction: around the values of
/// Mathavan, Jackson and Parkin 2009, quoted at second hand. The others are
/// tuning choices.
pub fn card_advice(card: &TableCard) -> Vec<Advice> {
    let nose = card.cushion.nose_height / (2.0 * card.ball.radius);
    [
        ("ballRadius", card.ball.radius, 1.125 * INCH, 1.1275 * INCH),
        ("ballMass", card.ball.mass, 5.5 * OUNCE, 6.0 * OUNCE + 1e-4),
        ("slidingFriction", card.cloth.sliding_friction, 0.15, 0.40),
        ("rollingFriction", card.cloth.rolling_friction, 0.005, 0.015),
        ("spinDecay", card.cloth.spin_decay, 5.0, 15.0),
        ("ballRestitution", card.ball_contact.restitution, 0.92, 0.98),
        ("cushionRestitution", card.cushion.restitution, 0.75, 0.98),
        ("cushionFriction", card.cushion.friction, 0.14, 0.35),
        ("noseHeight", nose, 0.625, 0.645),
        ("cornerPocket.mouth", card.corner_pocket.mouth, 4.5 * INCH, 4.625 * INCH),
        ("sidePocket.mouth", card.side_pocket.mouth, 5.0 * INCH, 5.125 * INCH),
    ]
    .into_iter()
    .filter(|&(_, value, least, most)| !(least..=most).contains(&value))
    .map(|(field, value, least, most)| Advice { field, value, least, most })
    .collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::table::TableSize;

    #[test]
    fn the_default_cards_are_sound_and_plausible() {
        for size in TableSize::ALL {
            let card = TableCard::of_size(size);
            assert_eq!(card.check(), Ok(()), "{size:?}");
            assert_eq!(card_advice(&card), [], "{size:?}");
        }
    }

    #[test]
    fn a_refusal_names_the_field_and_the_rule() {
        let mut card = TableCard::of_size(TableSize::NineFoot);
        card.cushion.restitution = 1.2;
        let error = card.check().expect_err("a cushion cannot give energy");
        assert_eq!(error.to_string(), "cushionRestitution is 1.2: must lie from 0 to 1");
        card.cushion.restitution = f64::NAN;
        assert!(card.check().is_err(), "not a number is refused");
    }

    #[test]
    fn a_table_for_a_doll_is_refused() {
        let mut card = TableCard::of_size(TableSize::NineFoot);
        card.ball.radius = 9e-4;
        let error = card.check().expect_err("no ball is so small");
        assert_eq!(error.to_string(), "ballRadius is 0.0009: must be at least a millimetre");
    }

    #[test]
    fn less_than_no_friction_is_refused() {
        let mut card = TableCard::of_size(TableSize::NineFoot);
        card.cloth.sliding_friction = -0.0;
        let error = card.check().expect_err("a slide would end before it began");
        assert_eq!(error.to_string(), "slidingFriction is -0: must lie from 0 to 10");
    }

    #[test]
    fn facings_that_stop_short_of_the_hole_are_refused() {
        let mut card = TableCard::of_size(TableSize::NineFoot);
        card.corner_pocket.facing = 0.02;
        assert!(card.check().is_err(), "a ball could leave the table behind the jaw");
    }

    #[test]
    fn cut_angles_are_accepted_to_the_ends_of_their_range() {
        let mut card = TableCard::of_size(TableSize::NineFoot);
        // A wide hole without a shelf fits behind facings at any angle.
        card.side_pocket =
            PocketSpec { mouth: 0.13, cut_angle: 0.0, shelf: 0.0, facing: 0.06, hole_radius: 0.1 };
        for (degrees, sound) in [(89.999, false), (90.0, true), (135.0, true), (135.001, false)] {
            card.side_pocket.cut_angle = crate::units::radians(degrees);
            assert_eq!(card.check().is_ok(), sound, "{degrees} degrees: {:?}", card.check());
        }
    }

    #[test]
    fn ideal_balls_are_accepted_with_advice() {
        let mut card = TableCard::of_size(TableSize::NineFoot);
        card.ball_contact.restitution = 1.0;
        assert_eq!(card.check(), Ok(()), "physically meaningful");
        assert_eq!(card_advice(&card).len(), 1, "but no real ball");
    }
}
