//! The ruler of speeds of a table: how many of its lengths each speed is.

use super::board::read_only_item;
use super::outcome::finite;
use super::value::Value;
use crate::error::Error;
use crate::physics::Arena;
use crate::shot::lengths_of_speed;
use serde::Serialize;

/// The entries of the scale, and the step between them, m/s (tuning choice: between two
/// entries a straight line is good enough for a ruler, and 8 m/s is a break).
const N_ENTRIES: u32 = 41;
const STEP: f64 = 0.2;

/// A speed, m/s, and how many table lengths it is.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct SpeedForm {
    speed: f64,
    lengths: f64,
}

/// The speeds of the table of `{ item }` from a standstill up.
///
/// # Errors
/// If the request is not sound.
pub fn speed_scale(request: &Value) -> Result<Vec<SpeedForm>, Error> {
    let item = read_only_item(request)?;
    let arena = Arena::new(&item.shot.card);
    let entry = |k| {
        let speed = STEP * f64::from(k);
        let lengths = if k == 0 { 0.0 } else { lengths_of_speed(&arena, speed) };
        SpeedForm { speed: finite(speed), lengths: finite(lengths) }
    };
    Ok((0..N_ENTRIES).map(entry).collect())
}
