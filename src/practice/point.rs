//! Points that a player places: brought onto the cloth, drawn onto a rail, and
//! said in diamonds.

use super::item::{Call, CallPoint};
use super::rounding::in_tenths;
use crate::error::Error;
use crate::geometry::way_to_edge;
use crate::table::{Rail, TableCard, diamond_of, point_at};
use glam::DVec2;

/// How far a called point may lie off the line of touch, m: more than rounding to
/// the tenth of a millimetre, less than the eye sees.
const SLACK: f64 = 1e-3;

/// Diamonds as a player says them: "2.1", and "2" for 2.0.
fn said(diamonds: f64) -> String {
    let tenths = (10.0 * diamonds).round() / 10.0;
    format!("{}", tenths + 0.0)
}

/// Where a place on the cloth is, in words.
pub fn place_in_words(card: &TableCard, place: DVec2) -> String {
    let along = said(diamond_of(card, Rail::Right, place));
    let across = said(diamond_of(card, Rail::Head, place));
    format!("diamond {along} from the head, {across} from the right")
}

/// Where a called point is, in words.
pub fn point_in_words(card: &TableCard, point: &CallPoint) -> String {
    match point.rail {
        Some(rail) => {
            format!("{rail} rail, diamond {}", said(diamond_of(card, rail, point.position)))
        }
        None => place_in_words(card, point.position),
    }
}

/// The point that a player means who puts the cue ball's centre at `place`: on the
/// cloth, and if `snapping` on the line of touch of the nearest rail when that is
/// within `reach` metres. In whole tenths of a millimetre.
pub fn snap(card: &TableCard, place: DVec2, reach: f64, snapping: bool) -> CallPoint {
    let (least, most) = room(card);
    let inside = place.clamp(least, most);
    let gaps = [
        (Rail::Head, place.x - least.x),
        (Rail::Foot, most.x - place.x),
        (Rail::Right, place.y - least.y),
        (Rail::Left, most.y - place.y),
    ];
    let nearest = gaps
        .into_iter()
        .filter(|(_, gap)| snapping && *gap <= reach)
        .min_by(|a, b| a.1.total_cmp(&b.1));
    match nearest {
        Some((rail, _)) => touch_on(card, rail, inside),
        None => CallPoint { position: in_tenths(inside), rail: None },
    }
}

/// The point of touch on `rail` at `diamond`.
///
/// # Errors
/// [`Error::OutOfRange`] if the rail has no such diamond.
pub fn point_on_rail(card: &TableCard, rail: Rail, diamond: f64) -> Result<CallPoint, Error> {
    let last = crate::table::diamonds_on(rail);
    if !(0.0..=last).contains(&diamond) {
        let rule = format!("must lie from 0 to {last} on the {rail} rail");
        return Err(Error::out_of_range("along", diamond, rule));
    }
    Ok(touch_on(card, rail, on_touch(card, rail, diamond)))
}

/// Where the ball's centre is that touches `rail` at `diamond`, m.
pub(super) fn on_touch(card: &TableCard, rail: Rail, diamond: f64) -> DVec2 {
    let (least, most) = room(card);
    point_at(card, rail, diamond).clamp(least, most)
}

/// The point on the cloth so many diamonds from the head and from the right.
///
/// # Errors
/// [`Error::OutOfRange`] if it is not on the table.
pub fn point_on_cloth(card: &TableCard, along: f64, across: f64) -> Result<CallPoint, Error> {
    for (field, value, last) in [("along", along, 8.0), ("across", across, 4.0)] {
        if !(0.0..=last).contains(&value) {
            let rule = format!("must lie from 0 to {last}");
            return Err(Error::out_of_range(field, value, rule));
        }
    }
    let place =
        DVec2::new(point_at(card, Rail::Right, along).x, point_at(card, Rail::Head, across).y);
    Ok(snap(card, place, 0.0, false))
}

/// Where a straight way from `at` in the direction `way` meets the line of touch, m;
/// `at` itself if that lies beyond.
pub(super) fn edge(card: &TableCard, at: DVec2, way: DVec2) -> DVec2 {
    let (least, most) = room(card);
    at + way * way_to_edge(at, way, least, most).max(0.0)
}

/// Checks that every point of a call is where a cue ball can be, and every touch
/// on the line of touch of its rail.
///
/// # Errors
/// [`Error::Invalid`] naming the point.
pub fn check_call(card: &TableCard, call: &Call) -> Result<(), Error> {
    let (least, most) = room(card);
    let outside =
        |place: DVec2| !(place.cmpge(least - SLACK).all() && place.cmple(most + SLACK).all());
    for (k, point) in call.points.iter().enumerate() {
        let field = || format!("points[{k}]");
        if outside(point.position) {
            return Err(Error::invalid(field(), "must lie on the cloth"));
        }
        if let Some(rail) = point.rail {
            let off = (touch_on(card, rail, point.position).position - point.position).length();
            if off > SLACK {
                let rule = format!("must touch the {rail} rail, as it says");
                return Err(Error::invalid(field(), rule));
            }
        }
    }
    if outside(call.stop) {
        return Err(Error::invalid("stop", "must lie on the cloth"));
    }
    Ok(())
}

/// Where a ball's centre can be, from corner to corner, m.
fn room(card: &TableCard) -> (DVec2, DVec2) {
    let least = DVec2::splat(card.touch_distance());
    (least, DVec2::new(card.length, card.width) - least)
}

/// `place` moved onto the line of touch of `rail`.
pub(super) fn touch_on(card: &TableCard, rail: Rail, place: DVec2) -> CallPoint {
    let (least, most) = room(card);
    let mut position = in_tenths(place);
    match rail {
        Rail::Head => position.x = least.x,
        Rail::Foot => position.x = most.x,
        Rail::Right => position.y = least.y,
        Rail::Left => position.y = most.y,
    }
    CallPoint { position, rail: Some(rail) }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::table::TableSize;

    fn card() -> TableCard {
        TableCard::of_size(TableSize::NineFoot)
    }

    #[test]
    fn a_point_near_a_rail_is_drawn_onto_it() {
        let point = snap(&card(), DVec2::new(2.5, 0.5), 0.03, true);
        assert_eq!(point.rail, Some(Rail::Foot), "two centimetres away");
        assert_eq!(point.position.x, card().length - card().touch_distance(), "on the line");
        let free = snap(&card(), DVec2::new(2.5, 0.5), 0.03, false);
        assert_eq!((free.rail, free.position), (None, DVec2::new(2.5, 0.5)), "unless it is free");
    }

    #[test]
    fn a_point_off_the_table_comes_back() {
        let point = snap(&card(), DVec2::new(9.0, -3.0), 0.03, true);
        assert_eq!(point.rail, Some(Rail::Foot), "the rail it is farthest beyond");
        let above = point.position.y - card().touch_distance();
        assert!(above.abs() < 1e-4, "at its end: {above}");
    }

    #[test]
    fn typed_diamonds_are_said_again() {
        let card = card();
        let rail = point_on_rail(&card, Rail::Left, 2.5).expect("a diamond");
        assert_eq!(point_in_words(&card, &rail), "left rail, diamond 2.5");
        let cloth = point_on_cloth(&card, 3.0, 1.25).expect("on the cloth");
        assert_eq!(point_in_words(&card, &cloth), "diamond 3 from the head, 1.3 from the right");
        assert!(point_on_rail(&card, Rail::Head, 5.0).is_err(), "a short rail has four");
        assert!(point_on_cloth(&card, 3.0, f64::NAN).is_err(), "no number, no point");
    }

    #[test]
    fn a_call_must_lie_where_it_says() {
        let card = card();
        let touch = point_on_rail(&card, Rail::Left, 2.5).expect("a diamond");
        let mut call = Call { points: vec![touch], stop: DVec2::new(1.0, 0.5) };
        assert_eq!(check_call(&card, &call), Ok(()), "as drawn");
        call.points[0].position.y -= 0.2;
        let error = check_call(&card, &call).expect_err("off the rail").to_string();
        assert_eq!(error, "points[0]: must touch the left rail, as it says");
        call.points.clear();
        call.stop.x = 4.0;
        assert!(check_call(&card, &call).is_err(), "off the table");
    }
}
