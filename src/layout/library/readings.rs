//! How hard a path is to call: by the marks of calls that misread the stroke a little.

use crate::layout::leave::aimed;
use crate::physics::{Arena, Shot};
use crate::practice::set::Meant;
use crate::practice::{Call, CallPoint, CuePath, ReadItem, grade};
use crate::shot::{Delivery, Hand, Series, SpeedError, Wobble};
use crate::table::PocketId;

/// How far players misread the stroke, in standard deviations: a tenth of the speed and half a
/// tip either way, which at a cushion is some five degrees (tuning choice).
const MISREAD: Hand =
    Hand { azimuth: 0.0, elevation: 0.0, speed: SpeedError::Relative(0.1), tip: 0.125 };

/// Readings of an item (tuning choice: the mean of so many marks is known to some three).
const READINGS: u32 = 48;

/// Who takes the path for this one calls it so.
fn call_of(path: &CuePath) -> Call {
    let touches = path.rail_touches();
    let points = touches
        .map(|(rail, touch)| CallPoint { position: touch.position, rail: Some(rail) })
        .collect();
    Call { points, stop: path.stop }
}

/// The share of the mark that misreading the stroke costs on average, 0 to 1: each reading
/// plays it as it is misread, aimed at `pocket` all the same, and calls the path that it takes.
pub(super) fn cost(item: &ReadItem, meant: &Meant, pocket: PocketId) -> f64 {
    let Shot { card, balls, stroke } = &item.shot;
    let (arena, first) = (Arena::new(card), meant.truth.first);
    let delivery = Delivery::new(&MISREAD, card, balls, stroke);
    let marks = (0..READINGS).filter_map(|k| {
        let misread = delivery.struck(&Wobble::drawn(Series::LibraryReadings.number(), k));
        let stroke = aimed(&arena, balls, &misread, first, pocket)?;
        let taken_for = Meant::of(Shot { stroke, ..item.shot.clone() })?;
        Some(grade(card, &meant.truth, &call_of(&taken_for.truth), item.level).mark)
    });
    let (sum, n) = marks.fold((0.0, 0.0), |(sum, n), mark| (sum + mark, n + 1.0));
    1.0 - sum / f64::max(n, 1.0) / 100.0
}
