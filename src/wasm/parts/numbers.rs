//! Arrays of numbers that come from JavaScript.

use crate::error::Error;
use crate::wasm::copied;
use js_sys::Float64Array;
use wasm_bindgen::prelude::*;

/// An array of numbers from JavaScript; `check` sees its length before it is copied
/// into the core.
pub(super) fn taken_numbers(
    value: &JsValue,
    name: &str,
    check: fn(usize) -> Result<(), Error>,
) -> Result<Vec<f64>, Error> {
    let malformed = || Error::malformed(name, "must be a Float64Array");
    if !value.is_instance_of::<Float64Array>() {
        return Err(malformed());
    }
    // A class that extends the array may lie about its length; a copy is a plain array.
    let copy: Float64Array = copied(value, name)?.dyn_into().map_err(|_| malformed())?;
    check(copy.length() as usize)?;
    Ok(copy.to_vec())
}
