//! How much harder a cue ball is to strike well near a rail or over a ball, and the
//! one way in which a hand's stroke is played.

use super::elevation::{least_elevation, way_to_the_rail};
use super::hand::{Hand, Wobble};
use crate::geometry::unit_from_angle;
use crate::physics::{PlacedBall, Stroke};
use crate::table::TableCard;
use std::f64::consts::PI;

/// A cue lifted no more than this is as steady as a level one, rad (tuning choice: what
/// it takes to clear a rail half a metre behind the ball).
const FREE_LIFT: f64 = 5.0 * PI / 180.0;

/// Lifting the cue by so much more widens every error by its own size, rad (tuning
/// choice: a cue ball frozen to the rail behind it doubles the errors).
const LIFT: f64 = 20.0 * PI / 180.0;

/// From the cue ball to the bridge hand, m: the room behind the cue ball that it takes to
/// lie on the cloth (tuning choice: about eight inches by common practice, no source).
pub const BRIDGE: f64 = 0.2;

/// With no room at all, and the hand on the rail, errors are wider by this share (tuning
/// choice).
const ON_THE_RAIL: f64 = 0.3;

/// The factor, at least 1, by which the errors of `stroke` are wider than those of a
/// free cue ball: since the cue must be lifted over a rail or a ball, and since the
/// bridge hand has no room on the cloth.
///
/// `balls` holds the cue ball. A cue that is held steeper than it must be counts as much.
pub fn awkwardness(card: &TableCard, balls: &[PlacedBall], stroke: &Stroke) -> f64 {
    let Some(cue_ball) = balls.iter().find(|ball| ball.id.is_cue()) else { return 1.0 };
    let lift = stroke.elevation.max(least_elevation(card, balls, stroke));
    let (room, _) = way_to_the_rail(card, cue_ball.position, -unit_from_angle(stroke.azimuth));
    1.0 + (lift - FREE_LIFT).max(0.0) / LIFT + ON_THE_RAIL * (1.0 - room / BRIDGE).max(0.0)
}

/// A stroke as a hand delivers it, any number of times: the cue lifted as needed, the
/// errors as wide as the cue ball's place makes them.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Delivery {
    /// What is meant: the stroke aimed, its cue lifted over what lies under it.
    pub aimed: Stroke,
    /// See [`awkwardness`].
    pub awkwardness: f64,
    hand: Hand,
}

impl Delivery {
    /// The stroke `aimed`, lifted as far as it must be, in this hand. `balls` holds the
    /// cue ball.
    pub fn new(hand: &Hand, card: &TableCard, balls: &[PlacedBall], aimed: &Stroke) -> Self {
        let least = least_elevation(card, balls, aimed);
        let aimed = Stroke { elevation: aimed.elevation.max(least), ..*aimed };
        Self { aimed, awkwardness: awkwardness(card, balls, &aimed), hand: *hand }
    }

    /// The stroke that comes of these errors. A cue that must clear something errs upward
    /// and downward alike: the player leaves room for it.
    pub fn struck(&self, wobble: &Wobble) -> Stroke {
        self.hand.strike(&self.aimed, wobble, self.awkwardness)
    }

    /// The stroke with number `index` of the series `seed`. Who compares strokes gives
    /// them the same numbers, so that luck is the same for all.
    pub fn drawn(&self, seed: u32, index: u32) -> Stroke {
        self.struck(&Wobble::drawn(seed, index))
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::ball::BallId;
    use crate::shot::HANDS;
    use crate::table::TableSize;
    use crate::units::radians;
    use glam::DVec2;

    fn at(x: f64, other: Option<f64>) -> (TableCard, Vec<PlacedBall>, Stroke) {
        let card = TableCard::of_size(TableSize::NineFoot);
        let position = DVec2::new(x, card.width / 2.0);
        let mut balls = vec![PlacedBall { id: BallId::CUE, position }];
        if let Some(back) = other {
            let id = BallId::object(5).expect("a ball");
            balls.push(PlacedBall { id, position: position - DVec2::new(back, 0.0) });
        }
        let stroke = Stroke { azimuth: 0.0, elevation: 0.0, speed: 1.5, side: 0.0, height: 0.0 };
        (card, balls, stroke)
    }

    fn factor(x: f64, other: Option<f64>) -> f64 {
        let (card, balls, stroke) = at(x, other);
        awkwardness(&card, &balls, &stroke)
    }

    #[test]
    fn a_free_cue_ball_is_not_awkward() {
        assert_eq!(factor(1.9, None), 1.0, "nothing near");
        assert_eq!(factor(1.9, Some(-0.1)), 1.0, "a ball in front is no matter");
    }

    #[test]
    fn the_nearer_the_rail_or_the_ball_the_more_awkward() {
        let rail: Vec<f64> = [0.03, 0.08, 0.15, 0.25].map(|x| factor(x, None)).to_vec();
        assert!(rail.windows(2).all(|pair| pair[0] > pair[1]), "{rail:?}");
        assert!(rail[0] > 2.0 && rail[0] < 3.5, "frozen to it: {}", rail[0]);
        let over: Vec<f64> = [0.06, 0.1, 0.15].map(|back| factor(1.9, Some(back))).to_vec();
        assert!(over.windows(2).all(|pair| pair[0] > pair[1]), "{over:?}");
        assert!(over[0] > 1.5, "bridging over a ball: {}", over[0]);
    }

    #[test]
    fn a_delivery_lifts_the_cue_and_widens_the_errors() {
        let (card, balls, stroke) = at(0.05, None);
        let delivery = Delivery::new(&HANDS[2].hand, &card, &balls, &stroke);
        assert!(delivery.aimed.elevation > radians(10.0), "{:?}", delivery.aimed);
        let wobble = Wobble { azimuth: 1.0, ..Wobble::default() };
        let off = delivery.struck(&wobble).azimuth / HANDS[2].hand.azimuth;
        assert!((off - delivery.awkwardness).abs() < 1e-12, "{off} sigmas");
        assert_eq!(delivery.drawn(3, 4), delivery.struck(&Wobble::drawn(3, 4)), "by number");
    }

    #[test]
    fn a_steeper_cue_than_needed_is_awkward_too() {
        let (card, balls, stroke) = at(1.9, None);
        let raised = Stroke { elevation: radians(25.0), ..stroke };
        let factor = awkwardness(&card, &balls, &raised);
        assert!((factor - 2.0).abs() < 1e-12, "20 degrees above what is free: {factor}");
    }
}
