//! The quanta of an item: what the page sets up is rounded onto them before it is played,
//! so that a short link carries it to the last bit.
//!
//! Each is far below what a player can set up, see or repeat, which is why it was chosen
//! (tuning choices): a place to 0.1 mm is nearer than a ball can be put by hand; 0.0001
//! degrees of aim are 5 µm at the far end of the table; 0.1 mm/s, a ten thousandth of the
//! radius and 0.01 degrees of elevation move a stroke by less than a tenth of the errors of
//! the steadiest hand; a zone is drawn with a finger.

use super::item::{AnyItem, Call, CallPoint, ClearItem, LeaveAnswer, LeaveItem};
use super::places::settled;
use super::point::{check_call, touch_on};
use crate::physics::{Shot, Stroke};
use crate::shot::Zone;
use crate::table::TableCard;
use crate::units::{degrees, radians};
use glam::DVec2;

/// A number of equal steps to the unit.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Quantum(f64);

impl Quantum {
    /// Places and sizes: 0.1 mm.
    pub const PLACE: Self = Self(1e4);
    /// The direction of the cue: 0.0001 degrees.
    pub const AZIMUTH: Self = Self(1e4);
    /// The direction from a ball to one that touches it: 0.001 degrees, which moves a ball
    /// by half a micrometre at most.
    pub const DIRECTION: Self = Self(1e3);
    /// Elevation of the cue, and the turn of a zone: 0.01 degrees.
    pub const ANGLE: Self = Self(1e2);
    /// Speed: 0.1 mm/s, in which the page sets it.
    pub const SPEED: Self = Self(1e4);
    /// The tip's offset: a ten thousandth of the radius, so that a quarter of a tip, a
    /// sixteenth of the radius, is a whole number of steps.
    pub const TIP: Self = Self(1e4);

    /// That of so many decimals.
    pub fn of_decimals(decimals: u8) -> Self {
        Self((0..decimals).fold(1.0, |steps, _| 10.0 * steps))
    }

    /// The nearest whole number of steps.
    pub fn steps(self, value: f64) -> f64 {
        (value * self.0).round()
    }

    /// So many steps: the number that a form has for this decimal.
    pub fn value(self, steps: f64) -> f64 {
        // Zero has no sign.
        steps / self.0 + 0.0
    }

    /// The nearest value.
    pub fn round(self, value: f64) -> f64 {
        self.value(self.steps(value))
    }

    /// The nearest angle in whole steps of degrees; both rad.
    pub fn round_angle(self, angle: f64) -> f64 {
        radians(self.round(degrees(angle)))
    }
}

/// `place` in whole tenths of a millimetre.
pub(super) fn in_tenths(place: DVec2) -> DVec2 {
    DVec2::new(Quantum::PLACE.round(place.x), Quantum::PLACE.round(place.y))
}

/// `stroke` on the quanta; one that can be played stays so.
pub fn rounded_stroke(stroke: &Stroke) -> Stroke {
    let near = Stroke {
        azimuth: Quantum::AZIMUTH.round_angle(stroke.azimuth),
        elevation: Quantum::ANGLE.round_angle(stroke.elevation),
        speed: Quantum::SPEED.round(stroke.speed).max(Quantum::SPEED.value(1.0)),
        side: Quantum::TIP.round(stroke.side),
        height: Quantum::TIP.round(stroke.height),
    };
    if near.check().is_ok() {
        return near;
    }
    // Rounded outward, a tip at the limit would miscue.
    let inward = |share: f64| Quantum::TIP.value((Quantum::TIP.0 * share).trunc());
    Stroke { side: inward(stroke.side), height: inward(stroke.height), ..near }
}

/// `zone` on the quanta, a millimetre half wide at least.
pub fn rounded_zone(zone: &Zone) -> Zone {
    let least = Quantum::PLACE.value(10.0);
    Zone {
        centre: in_tenths(zone.centre),
        half: in_tenths(zone.half).max(DVec2::splat(least)),
        turn: Quantum::ANGLE.round_angle(zone.turn),
    }
}

/// `call` on the quanta, what touches a rail exactly on the line of touch; as it is if it
/// does not fit the table.
pub fn rounded_call(card: &TableCard, call: &Call) -> Call {
    if check_call(card, call).is_err() {
        return call.clone();
    }
    let point = |point: &CallPoint| match point.rail {
        Some(rail) => touch_on(card, rail, point.position),
        None => CallPoint { position: in_tenths(point.position), rail: None },
    };
    Call { points: call.points.iter().map(point).collect(), stop: in_tenths(call.stop) }
}

/// `answer` on the quanta.
pub fn rounded_answer(card: &TableCard, answer: &LeaveAnswer) -> LeaveAnswer {
    LeaveAnswer {
        zone: rounded_zone(&answer.zone),
        stroke: rounded_stroke(&answer.stroke),
        call: answer.call.as_ref().map(|call| rounded_call(card, call)),
    }
}

/// `shot` on the quanta: the stroke, and the balls as [`settled`] puts them.
pub fn rounded_shot(shot: &Shot) -> Shot {
    Shot {
        card: shot.card,
        balls: settled(&shot.card, &shot.balls),
        stroke: rounded_stroke(&shot.stroke),
    }
}

/// `item` on the quanta, its zone included.
pub fn rounded_leave(item: &LeaveItem) -> LeaveItem {
    let mut rounded = LeaveItem { shot: rounded_shot(&item.shot), ..item.clone() };
    rounded.demand.zone = item.demand.zone.as_ref().map(rounded_zone);
    rounded
}

/// An item on the quanta of its kind. Rounded again it stays as it is. What the page deals
/// and sets up is rounded already; an item of a file may not be. The table's own
/// parameters stay as they are.
pub fn rounded_item(item: &AnyItem) -> AnyItem {
    match item {
        AnyItem::Read(item) => {
            AnyItem::Read(super::ReadItem { shot: rounded_shot(&item.shot), ..item.clone() })
        }
        AnyItem::Leave(item) => AnyItem::Leave(rounded_leave(item)),
        AnyItem::Clear(item) => {
            AnyItem::Clear(ClearItem { shot: rounded_shot(&item.shot), ..item.clone() })
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_tip_at_the_limit_stays_within_it() {
        for k in 0..3600 {
            let at = crate::geometry::unit_from_angle(radians(f64::from(k) / 10.0)) * 0.5;
            let stroke =
                Stroke { azimuth: 0.1, elevation: 0.0, speed: 1e-4, side: at.x, height: at.y };
            let once = rounded_stroke(&stroke);
            assert_eq!(once.check(), Ok(()), "{at}");
            assert_eq!(rounded_stroke(&once), once, "rounded twice, {at}");
            assert!((once.side - at.x).abs() < 1e-3, "{at} became {}", once.side);
        }
    }

    #[test]
    fn a_step_is_the_number_of_a_form() {
        for k in -40_000_i32..40_000 {
            let text = format!("{k}e-4");
            assert_eq!(Ok(Quantum::PLACE.value(f64::from(k))), text.parse(), "{text}");
            let angle = Quantum::AZIMUTH.round_angle(radians(f64::from(k) / 100.0));
            assert_eq!(angle, radians(f64::from(k) / 100.0), "{k} hundredths of a degree");
        }
    }
}
