//! What a stroke is tried with: the table's speeds in lengths, and the stops of a few
//! strokes of a hand, as forms. They are only ever given.

use super::item::read_leave_item;
use super::outcome::finite;
use super::question::{Place, place};
use super::reader::Form;
use super::value::Value;
use crate::error::Error;
use crate::physics::Arena;
use crate::shot::{HANDS, Situation, lengths_of_speed, played};
use serde::Serialize;

/// The entries of the scale, and the step between them, m/s (tuning choice: between two
/// entries a straight line is good enough for a ruler, and 8 m/s is a break).
const N_ENTRIES: u32 = 41;
const STEP: f64 = 0.2;

/// Strokes that are tried (tuning choice: as many as a player has patience to compare).
const N_TRIES: u32 = 10;

/// How much wider the errors are than those of a free cue ball.
const AWKWARDNESS: f64 = 1.0;

/// A speed, m/s, and how many table lengths it is.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct SpeedForm {
    speed: f64,
    lengths: f64,
}

/// What became of one of the tries: where the cue ball stopped, m, and whether all that
/// is asked was given.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct TryForm {
    stop: Place,
    scratch: bool,
    potted: bool,
    met: bool,
}

/// The speeds of the table of `{ item }` from a standstill up.
///
/// # Errors
/// If the request is not sound.
pub fn speed_scale(request: &Value) -> Result<Vec<SpeedForm>, Error> {
    let form = Form::open(request, "", &["item"])?;
    let item = read_leave_item(form.value("item")?, "item")?;
    let arena = Arena::new(&item.shot.card);
    let entry = |k| {
        let speed = STEP * f64::from(k);
        let lengths = if k == 0 { 0.0 } else { lengths_of_speed(&arena, speed) };
        SpeedForm { speed: finite(speed), lengths: finite(lengths) }
    };
    Ok((0..N_ENTRIES).map(entry).collect())
}

/// The stroke of `{ item, hand, seed }` ten times under the hand, with the errors of the
/// series `seed`.
///
/// # Errors
/// If the request is not sound.
pub fn tries(request: &Value) -> Result<Vec<TryForm>, Error> {
    let form = Form::open(request, "", &["item", "hand", "seed"])?;
    let item = read_leave_item(form.value("item")?, "item")?;
    let hand = form.choice("hand", &HANDS, |named| named.id)?.hand;
    let seed = form.integer("seed", 0, u32::MAX)?;
    let (stroke, demand) = (&item.shot.stroke, &item.demand);
    let situation = Situation::new(&item.shot, demand.on).map_err(|e| e.within("item.demand"))?;
    let tries = played(&situation, stroke, &hand, AWKWARDNESS, seed, 0..N_TRIES).map(|ending| {
        let (potted, met) = (demand.is_potted(&ending), demand.is_met(&ending));
        TryForm { stop: place(ending.stop), scratch: ending.scratch, potted, met }
    });
    Ok(tries.collect())
}
