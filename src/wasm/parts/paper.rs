//! What the page can call for paper: a code for a camera, and how balls are set up.

use crate::wasm::{Refusal, given, taken, taken_text};
use crate::wire::{self, LONGEST_TEXT};
use wasm_bindgen::prelude::*;

/// A text as a code for a camera.
///
/// # Errors
/// If the text is longer than a code can hold.
#[wasm_bindgen(unchecked_return_type = "Code")]
pub fn code(
    #[wasm_bindgen(unchecked_param_type = "string")] text: &JsValue,
) -> Result<JsValue, Refusal> {
    given(&wire::code(&taken_text(text, LONGEST_TEXT)?)?)
}

/// How the balls of an item of any kind are set up on a real table.
///
/// # Errors
/// If the item is not sound.
#[wasm_bindgen(js_name = setUp, unchecked_return_type = "SetUpSpot[]")]
pub fn set_up(
    #[wasm_bindgen(unchecked_param_type = "{ item: Item | LeaveItem | ClearItem }")]
    request: &JsValue,
) -> Result<JsValue, Refusal> {
    given(&wire::set_up(&taken(request)?)?)
}
