//! Arrays of numbers that come from JavaScript.

use crate::error::Error;
use crate::wasm::copied;
use js_sys::Float64Array;
use wasm_bindgen::prelude::*;

/// What a number array must be.
fn malformed(name: &str) -> Error {
    Error::malformed(name, "must be a Float64Array")
}

/// An array of numbers from JavaScript; `check` sees its length before it is copied
/// into the core.
pub(super) fn taken_numbers(
    value: &JsValue,
    name: &str,
    check: fn(usize) -> Result<(), Error>,
) -> Result<Vec<f64>, Error> {
    if !value.is_instance_of::<Float64Array>() {
        return Err(malformed(name));
    }
    // A class that extends the array may lie about its length; a copy is a plain array.
    copied_numbers(&copied(value, name)?, name, check)
}

/// As [`taken_numbers`], of an array that is the browser's own copy already.
pub(super) fn copied_numbers(
    copy: &JsValue,
    name: &str,
    check: fn(usize) -> Result<(), Error>,
) -> Result<Vec<f64>, Error> {
    let copy: &Float64Array = copy.dyn_ref().ok_or_else(|| malformed(name))?;
    check(copy.length() as usize)?;
    Ok(copy.to_vec())
}
