//! What the build writes down for the page to offer no more than is taken.

use crate::wasm::{Refusal, given};
use crate::wire;
use wasm_bindgen::prelude::*;

/// How much is taken of what a player types and chooses.
///
/// # Errors
/// None that a caller can cause.
#[wasm_bindgen(unchecked_return_type = "Limits")]
pub fn limits() -> Result<JsValue, Refusal> {
    given(&wire::limits())
}
