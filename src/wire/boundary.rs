//! What the page can call, natively: one request in, one reply out.
//!
//! `wasm.rs` only turns JavaScript values into the arguments of these functions
//! and their replies into JavaScript values.

use super::link::make;
use super::outcome::{OutcomeForm, write_outcome};
use super::packed::pack;
use super::request::read_link;
use super::shot::read_shot;
use super::text::{compact, parse};
use super::value::Value;
use crate::error::Error;
use crate::physics;

/// Plays a shot.
///
/// # Errors
/// As [`read_shot`].
pub fn play(shot: &Value) -> Result<OutcomeForm, Error> {
    let shot = read_shot(shot, "")?;
    Ok(write_outcome(&shot.balls, &physics::play(&shot)?))
}

/// Plays a shot given as JSON text, and gives the outcome as JSON text.
///
/// # Errors
/// As [`parse`] and [`read_shot`].
pub fn play_text(shot: &str) -> Result<String, Error> {
    compact(&play(&parse(shot)?)?)
}

/// Plays a shot, and gives the outcome as the plain numbers of [`pack`].
///
/// # Errors
/// As [`read_shot`].
pub fn play_packed(shot: &Value) -> Result<Vec<f64>, Error> {
    let shot = read_shot(shot, "")?;
    Ok(pack(&shot.balls, &physics::play(&shot)?))
}

/// Makes a link from `{ item, call? }`.
///
/// # Errors
/// As [`read_link`] and [`make`].
pub fn make_link(request: &Value) -> Result<String, Error> {
    let request = read_link(request)?;
    make(&request.item, request.call.as_ref())
}

/// Whether a text of `length` characters is worth copying into the core.
///
/// # Errors
/// [`Error::OutOfRange`] if it is longer than `longest`.
pub fn check_length(length: usize, longest: usize) -> Result<(), Error> {
    if length <= longest {
        return Ok(());
    }
    let rule = format!("must have at most {longest} characters");
    Err(Error::out_of_range("text.length", length as f64, rule))
}
