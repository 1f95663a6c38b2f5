//! What the page can call, natively: one request in, one reply out.
//!
//! `wasm.rs` only turns JavaScript values into the arguments of these functions
//! and their replies into JavaScript values.

use super::link::make;
use super::request::read_link;
use super::value::Value;
use crate::error::Error;

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
