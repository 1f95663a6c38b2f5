//! What the page can call of the glossary.

use crate::wasm::{Refusal, given};
use crate::wire;
use wasm_bindgen::prelude::*;

/// All trade words with what they mean, each with a played shot that shows it.
///
/// # Errors
/// None that a caller can cause.
#[wasm_bindgen(unchecked_return_type = "Glossary")]
pub fn words() -> Result<JsValue, Refusal> {
    given(&wire::words()?)
}
