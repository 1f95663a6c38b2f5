//! Setting up a table: balls moved, added and taken away, the whole mirrored, and
//! whether the player can reach the cue ball.

use super::item::LeaveItem;
use super::rounding::{in_tenths, rounded_leave};
use crate::ball::BallId;
use crate::error::Error;
use crate::geometry::{unit_from_angle, way_to_edge};
use crate::physics::{MODEL_VERSION, PlacedBall, Shot};
use crate::shot::BRIDGE;
use crate::table::{PocketId, Rail, TableCard, TableShape};
use glam::DVec2;
use std::f64::consts::TAU;

/// A ball that is dropped so near another one touches it, m (tuning choice: nearer than
/// a finger can aim).
const VERY_NEAR: f64 = 0.004;

/// Directions in which a place beside another ball is sought (tuning choice).
const DIRECTIONS: u32 = 90;

/// How far behind the nose line a player's body stands, m: the width of a rail (common
/// practice, no source).
const BODY: f64 = 0.14;

/// How far the bridge hand reaches from the edge of the table, m (common practice, no
/// source; tuning choice: the middle of a nine-foot table is just within it).
const ARM: f64 = 1.05;

/// How far beside the line of the cue the player may stand, rad (tuning choice: 50
/// degrees, seen from the bridge hand).
const ASIDE: f64 = 50.0 * TAU / 360.0;

/// `item` with `ball` at the legal place nearest to `place`; the ball is new on the table
/// if it was not there and `adding`.
///
/// With `snapping` the place is first drawn to the nearest half diamond each way (at a
/// rail: to the cushion), or next to another ball that is very near.
///
/// # Errors
/// [`Error::Invalid`] naming `ball` if it is not on the table, or is and should be
/// added, or if there is no room left.
pub fn place_ball(
    item: &LeaveItem,
    ball: BallId,
    place: DVec2,
    snapping: bool,
    adding: bool,
) -> Result<LeaveItem, Error> {
    let there = item.shot.balls.iter().position(|other| other.id == ball);
    let shot = &item.shot;
    let others: Vec<DVec2> =
        shot.balls.iter().filter(|other| other.id != ball).map(|other| other.position).collect();
    let position = legal_place(&shot.card, &others, place, snapping)
        .ok_or_else(|| Error::invalid("ball", "there is no room for it"))?;
    let mut changed = changed(item);
    match (there, adding) {
        (Some(k), false) => changed.shot.balls[k].position = position,
        (None, true) => changed.shot.balls.push(PlacedBall { id: ball, position }),
        (Some(_), true) => return Err(Error::invalid("ball", "is on the table already")),
        (None, false) => return Err(Error::invalid("ball", "is not on the table")),
    }
    Ok(rounded_leave(&changed))
}

/// `item` without `ball`; if that was the next ball, none is asked for.
///
/// # Errors
/// [`Error::Invalid`] naming `ball` if it is not on the table, or is the cue ball or the
/// ball on.
pub fn remove_ball(item: &LeaveItem, ball: BallId) -> Result<LeaveItem, Error> {
    if ball.is_cue() {
        return Err(Error::invalid("ball", "the cue ball stays on the table"));
    }
    if ball == item.demand.on {
        let rule = "is the ball on: choose another to be potted before it is taken away";
        return Err(Error::invalid("ball", rule));
    }
    let mut changed = changed(item);
    changed.shot.balls.retain(|other| other.id != ball);
    if changed.shot.balls.len() == item.shot.balls.len() {
        return Err(Error::invalid("ball", "is not on the table"));
    }
    changed.demand.next = changed.demand.next.filter(|next| *next != ball);
    Ok(rounded_leave(&changed))
}

/// `item` mirrored from left to right: balls, stroke, pocket, rails and zone. Mirrored
/// twice it is as it was, if it was on the quanta; else within a rounding.
pub fn mirror(item: &LeaveItem) -> LeaveItem {
    let mut mirrored = changed(item);
    let width = item.shot.card.width;
    let across = |place: DVec2| DVec2::new(place.x, width - place.y);
    for ball in &mut mirrored.shot.balls {
        ball.position = across(ball.position);
    }
    let stroke = &mut mirrored.shot.stroke;
    // Zero has no sign.
    stroke.azimuth = 0.0 - stroke.azimuth;
    stroke.side = 0.0 - stroke.side;
    let demand = &mut mirrored.demand;
    demand.pocket = demand.pocket.map(opposite);
    for rail in &mut demand.rails {
        *rail = match *rail {
            Rail::Right => Rail::Left,
            Rail::Left => Rail::Right,
            end => end,
        };
    }
    if let Some(zone) = &mut demand.zone {
        zone.centre = across(zone.centre);
        zone.turn = 0.0 - zone.turn;
    }
    rounded_leave(&mirrored)
}

fn opposite(pocket: PocketId) -> PocketId {
    match pocket {
        PocketId::HeadRight => PocketId::HeadLeft,
        PocketId::HeadLeft => PocketId::HeadRight,
        PocketId::FootRight => PocketId::FootLeft,
        PocketId::FootLeft => PocketId::FootRight,
        PocketId::SideRight => PocketId::SideLeft,
        PocketId::SideLeft => PocketId::SideRight,
    }
}

/// A copy to be changed: no longer what its seed dealt, and of this version of the model.
fn changed(item: &LeaveItem) -> LeaveItem {
    LeaveItem { seed: None, model: MODEL_VERSION, ..item.clone() }
}

/// Whether the player reaches the cue ball of `shot` without a rest.
pub fn is_in_reach(shot: &Shot) -> bool {
    let Some(cue_ball) = shot.balls.iter().find(|ball| ball.id.is_cue()) else { return true };
    let hand = cue_ball.position - unit_from_angle(shot.stroke.azimuth) * BRIDGE;
    let (least, most) = (DVec2::splat(-BODY), DVec2::new(shot.card.length, shot.card.width) + BODY);
    // The bridge hand may lie on the rail or beyond it.
    if hand.cmple(least).any() || hand.cmpge(most).any() {
        return true;
    }
    (-10..=10).any(|k| {
        let turn = ASIDE * f64::from(k) / 10.0;
        let back = -unit_from_angle(shot.stroke.azimuth + turn);
        way_to_edge(hand, back, least, most) <= ARM
    })
}

/// The legal place for a ball nearest to `place`, drawn to the marks if `snapping`.
fn legal_place(card: &TableCard, others: &[DVec2], place: DVec2, snapping: bool) -> Option<DVec2> {
    let shape = TableShape::new(card);
    let reach = 2.0 * card.ball.radius;
    let is_legal = |at: DVec2| {
        shape.refusal(at).is_none() && others.iter().all(|other| (*other - at).length() >= reach)
    };
    let wanted = if shape.refusal(place).is_none() { place } else { inside(card, place) };
    let touching = |other: &DVec2| {
        let gap = (wanted - *other).length() - reach;
        snapping && gap.abs() <= VERY_NEAR
    };
    if let Some(other) = others.iter().find(|other| touching(other)) {
        let at = beside(*other, wanted - *other, reach);
        if is_legal(at) {
            return Some(at);
        }
    }
    let wanted = if snapping { on_marks(card, wanted) } else { wanted };
    if let Some(at) = [in_tenths(wanted), wanted].into_iter().find(|at| is_legal(*at)) {
        return Some(at);
    }
    let around = others.iter().flat_map(|other| {
        let toward = std::iter::once(wanted - *other);
        let all =
            (0..DIRECTIONS).map(|k| unit_from_angle(TAU * f64::from(k) / f64::from(DIRECTIONS)));
        toward.chain(all).map(|direction| beside(*other, direction, reach))
    });
    // Where balls and cushions leave no place beside a ball, any free one will do.
    let room = inside(card, DVec2::splat(f64::MAX)) - DVec2::splat(card.touch_distance());
    let grid = (0..=64 * 32).map(|k| {
        let share = DVec2::new(f64::from(k % 65) / 64.0, f64::from(k / 65) / 32.0);
        DVec2::splat(card.touch_distance()) + room * share.min(DVec2::ONE)
    });
    around
        .chain(grid)
        .filter(|at| is_legal(*at))
        .min_by(|a, b| (*a - wanted).length().total_cmp(&(*b - wanted).length()))
}

/// The place that touches `other` in `direction`, no nearer for any rounding.
fn beside(other: DVec2, direction: DVec2, reach: f64) -> DVec2 {
    let unit = if direction.length() > 1e-9 { direction.normalize() } else { DVec2::X };
    let at = other + unit * reach;
    if (at - other).length() >= reach { at } else { other + unit * (reach * (1.0 + 1e-14) + 1e-15) }
}

/// `place` brought to where balls lie away from the pockets.
fn inside(card: &TableCard, place: DVec2) -> DVec2 {
    let least = DVec2::splat(card.touch_distance());
    place.clamp(least, DVec2::new(card.length, card.width) - least)
}

/// The nearest crossing of half diamonds; at a rail it touches the cushion.
fn on_marks(card: &TableCard, place: DVec2) -> DVec2 {
    let pitch = DVec2::new(card.length / 16.0, card.width / 8.0);
    inside(card, (place / pitch).round() * pitch)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::physics::Stroke;
    use crate::shot::{Demand, Zone};
    use crate::table::TableSize;

    fn item() -> LeaveItem {
        let at = |number: u8, x: f64, y: f64| PlacedBall {
            id: BallId::object(number).unwrap_or(BallId::CUE),
            position: DVec2::new(x, y),
        };
        let on = BallId::object(3).expect("a ball");
        let stroke = Stroke { azimuth: 0.4, elevation: 0.0, speed: 1.5, side: 0.2, height: 0.2 };
        let zone = Zone { centre: DVec2::new(1.2, 0.3), half: DVec2::new(0.2, 0.1), turn: 0.7 };
        let demand = Demand {
            pocket: Some(PocketId::SideLeft),
            next: BallId::object(5),
            rails: vec![Rail::Left, Rail::Foot],
            zone: Some(zone),
            ..Demand::to_pot(on)
        };
        let balls = vec![at(0, 0.8, 0.5), at(3, 1.7, 0.9), at(5, 2.1, 0.4031)];
        let card = TableCard::of_size(TableSize::NineFoot);
        LeaveItem { shot: Shot { card, balls, stroke }, demand, model: 1, level: 2, seed: Some(7) }
    }

    #[test]
    fn a_placed_ball_is_always_legal() {
        let mut item = item();
        for k in 0..600_u32 {
            // A walk over the table and off it, by the golden ratio.
            let (x, y) = (f64::from(k) * 0.618_033_988_7, f64::from(k) * 0.754_877_666_2);
            let place = DVec2::new(3.0 * x.fract() - 0.2, 1.7 * y.fract() - 0.2);
            let ball = item.shot.balls[(k % 3) as usize].id;
            item = place_ball(&item, ball, place, k % 2 == 0, false).expect("room enough");
            assert_eq!(item.shot.check(), Ok(()), "ball {ball} dropped at {place}");
        }
    }

    #[test]
    fn many_balls_dropped_on_one_spot_make_room() {
        let mut item = item();
        for number in [1, 2, 4, 6, 7, 8, 9, 10, 11, 12, 13, 14, 15] {
            let ball = BallId::object(number).expect("a ball");
            let at = DVec2::new(1.7, 0.9);
            item = place_ball(&item, ball, at, false, true).expect("room enough");
            assert_eq!(item.shot.check(), Ok(()), "the {number} is added");
            let off = (item.shot.balls.last().expect("added").position - at).length();
            assert!(off < 0.2, "the {number} lies {off} m away");
        }
    }

    #[test]
    fn snapping_draws_to_half_diamonds_cushions_and_balls() {
        let item = item();
        let place = |x: f64, y: f64| {
            let placed = place_ball(&item, BallId::CUE, DVec2::new(x, y), true, false);
            placed.expect("a place").shot.balls[0].position
        };
        let half = DVec2::new(2.54 / 16.0, 1.27 / 8.0);
        assert!((place(0.33, 0.30) - half * 2.0).length() < 1e-4, "a diamond each way");
        let touch = item.shot.card.touch_distance();
        assert!((place(0.33, 0.01).y - touch).abs() < 1e-4, "at the right cushion");
        let pair = (place(1.70, 0.84) - DVec2::new(1.7, 0.9)).length();
        assert!((pair - 2.0 * item.shot.card.ball.radius).abs() < 1e-12, "touching: {pair}");
    }

    #[test]
    fn mirrored_twice_it_is_as_it_was() {
        let item = item();
        let once = mirror(&item);
        assert_eq!(once.demand.pocket, Some(PocketId::SideRight), "the other side");
        assert_eq!(once.demand.rails, [Rail::Right, Rail::Foot], "and the other rail");
        assert_eq!(once.shot.stroke.side, -0.2, "right side becomes left");
        let rounded = rounded_leave(&LeaveItem { seed: None, ..item });
        assert_eq!(mirror(&once), rounded, "but for the seed");
    }

    #[test]
    fn the_ball_on_stays() {
        let item = item();
        let [three, five, six] = [3, 5, 6].map(|n| BallId::object(n).expect("a ball"));
        assert_eq!(remove_ball(&item, five).expect("the next ball").demand.next, None, "gone");
        for ball in [BallId::CUE, three, six] {
            let error = remove_ball(&item, ball).expect_err("not to be taken away");
            assert_eq!(error.field(), "ball", "{error}");
        }
        let error = place_ball(&item, five, DVec2::ONE, false, true).expect_err("there already");
        assert_eq!(error.to_string(), "ball: is on the table already");
    }

    #[test]
    fn a_rest_is_for_the_far_side_of_the_table() {
        let mut shot = item().shot;
        let mut reaches = |x: f64, y: f64, azimuth: f64| {
            shot.balls[0].position = DVec2::new(x, y);
            shot.stroke.azimuth = azimuth;
            is_in_reach(&shot)
        };
        assert!(reaches(0.4, 0.6, 0.0), "from the head");
        assert!(reaches(1.27, 0.1, 0.0), "along the right rail");
        assert!(reaches(1.27, 0.635, 0.0), "the middle, just");
        assert!(!reaches(1.27, 1.2, TAU / 4.0), "straight across to the far rail");
    }
}
