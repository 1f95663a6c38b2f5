//! A few strokes of a hand: where each stops, and what came of it.

use super::item::read_leave_item;
use super::question::{Place, place};
use super::reader::Form;
use super::value::Value;
use crate::error::Error;
use crate::shot::{HANDS, Situation, played};
use serde::Serialize;

/// Strokes that are tried (tuning choice: as many as a player has patience to compare).
const N_TRIES: u32 = 10;

/// How much wider the errors are than those of a free cue ball.
const AWKWARDNESS: f64 = 1.0;

/// What became of one of the tries: where the cue ball stopped, m, and whether all that
/// is asked was given.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct TryForm {
    stop: Place,
    scratch: bool,
    potted: bool,
    met: bool,
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
