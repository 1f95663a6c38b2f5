//! How steep the cue must be to clear the rail and the balls under it.

use crate::geometry::{cross, unit_from_angle};
use crate::physics::{PlacedBall, Stroke};
use crate::table::TableCard;
use glam::DVec2;

/// Length of the cue, m (58 inches; common practice, no source).
const CUE_LENGTH: f64 = 1.473;
/// Radius of the cue at its tip and at its butt, m (common practice, no source).
const CUE_RADIUS: (f64, f64) = (0.0065, 0.015);
/// Outline of a rail seen from the side: distance behind the nose line, m, and
/// height above the cloth in ball radii (the cloth-covered rubber is 2 inches wide
/// by the equipment specification; heights by common practice, no source).
const RAIL_OUTLINE: [(f64, f64); 3] = [(0.0, 1.4), (0.0508, 1.5), (0.14, 1.5)];

/// The least elevation (rad) at which the cue of `stroke` clears the rail behind
/// the cue ball and every other ball, 0 if a level cue does.
///
/// `balls` holds the cue ball; the elevation given in `stroke` is not used.
pub fn least_elevation(card: &TableCard, balls: &[PlacedBall], stroke: &Stroke) -> f64 {
    let Some(cue_ball) = balls.iter().find(|ball| ball.id.is_cue()) else { return 0.0 };
    let radius = card.ball.radius;
    let back = -unit_from_angle(stroke.azimuth);
    let height = stroke.height * radius;
    let mut least: f64 = 0.0;

    let (to_nose, slant) = way_to_the_rail(card, cue_ball.position, back);
    for (depth, top) in RAIL_OUTLINE {
        let distance = to_nose + depth / slant;
        if distance < CUE_LENGTH {
            // Over a point at height h above the ball's centre the axis must pass
            // at b R + d sin e - h cos e, which is at least the cue's radius.
            let rise = (top - 1.0) * radius;
            let need = cue_radius(distance) - height;
            least = least.max(angle_to_clear(distance, rise, need));
        }
    }
    for ball in balls.iter().filter(|ball| !ball.id.is_cue()) {
        let offset = ball.position - cue_ball.position;
        let distance = offset.dot(back);
        let reach = radius + cue_radius(distance);
        // Facing back, the player's right is on the left.
        let aside = cross(back, offset) - stroke.side * radius;
        if distance > 0.0 && distance < CUE_LENGTH && aside.abs() < reach {
            let need = (reach * reach - aside * aside).sqrt() - height;
            least = least.max(angle_to_clear(distance, 0.0, need));
        }
    }
    least
}

/// The smallest angle e, from 0 to a right angle, with
/// `distance sin e - rise cos e >= need`.
fn angle_to_clear(distance: f64, rise: f64, need: f64) -> f64 {
    let far = (distance * distance + rise * rise).sqrt();
    let sine = (need / far).clamp(-1.0, 1.0);
    (libm::asin(sine) + libm::atan2(rise, distance)).max(0.0)
}

/// Radius of the cue so far from the cue ball, m.
fn cue_radius(distance: f64) -> f64 {
    CUE_RADIUS.0 + (CUE_RADIUS.1 - CUE_RADIUS.0) * (distance / CUE_LENGTH).clamp(0.0, 1.0)
}

/// Distance from `from` along `back` to the nose line, and the share of a step
/// along `back` that leads away from it.
pub(super) fn way_to_the_rail(card: &TableCard, from: DVec2, back: DVec2) -> (f64, f64) {
    let along = |position: f64, direction: f64, size: f64| {
        if direction > 0.0 {
            (size - position) / direction
        } else if direction < 0.0 {
            -position / direction
        } else {
            f64::INFINITY
        }
    };
    let x = along(from.x, back.x, card.length);
    let y = along(from.y, back.y, card.width);
    if x < y { (x.max(0.0), back.x.abs()) } else { (y.max(0.0), back.y.abs()) }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::ball::BallId;
    use crate::table::TableSize;
    use crate::units::degrees;

    fn elevation(x: f64, height: f64, other: Option<(f64, f64)>) -> f64 {
        let card = TableCard::of_size(TableSize::NineFoot);
        let mut balls =
            vec![PlacedBall { id: BallId::CUE, position: DVec2::new(x, card.width / 2.0) }];
        if let Some((back, aside)) = other {
            let position = balls[0].position + DVec2::new(-back, aside);
            let id = BallId::object(5).expect("a ball");
            balls.push(PlacedBall { id, position });
        }
        let stroke = Stroke { azimuth: 0.0, elevation: 0.0, speed: 1.0, side: 0.0, height };
        degrees(least_elevation(&card, &balls, &stroke))
    }

    #[test]
    fn the_nearer_the_rail_the_steeper_the_cue() {
        let all: Vec<f64> = [0.03, 0.1, 0.3, 0.6, 1.0].map(|x| elevation(x, 0.0, None)).to_vec();
        assert!(all.windows(2).all(|pair| pair[0] > pair[1]), "{all:?}");
        assert!(all[0] > 25.0 && all[0] < 40.0, "all but frozen to it: {} degrees", all[0]);
        assert!(all[4] < 3.0, "a metre away: {} degrees", all[4]);
    }

    #[test]
    fn far_from_every_rail_the_cue_may_be_level() {
        assert_eq!(elevation(1.9, 0.0, None), 0.0, "the butt hangs over cloth");
    }

    #[test]
    fn a_low_tip_needs_more_elevation_than_a_high_one() {
        assert!(elevation(0.3, -0.4, None) > elevation(0.3, 0.4, None), "below centre is steeper");
    }

    #[test]
    fn a_ball_under_the_cue_lifts_it() {
        let close = elevation(1.9, 0.0, Some((0.08, 0.0)));
        assert!(close > 20.0, "bridging over a ball: {close} degrees");
        assert_eq!(elevation(1.9, 0.0, Some((0.08, 0.06))), 0.0, "beside the cue it is no matter");
        assert_eq!(elevation(1.9, 0.0, Some((-0.3, 0.0))), 0.0, "nor in front");
    }
}
