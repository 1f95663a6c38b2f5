//! What the page can call of a table that is set up: the Bench.

use crate::wasm::{Refusal, given, taken, with_tracks};
use crate::wire;
use wasm_bindgen::prelude::*;

/// Tries the stroke of a set-up table, aimed if asked.
///
/// # Errors
/// If the request is not sound.
#[wasm_bindgen(unchecked_return_type = "Trial")]
pub fn trial(
    #[wasm_bindgen(unchecked_param_type = "TrialRequest")] request: &JsValue,
) -> Result<JsValue, Refusal> {
    let tried = wire::try_stroke(&taken(request)?)?;
    with_tracks(&tried, tried.tracks())
}

/// Looks at every pocket for the ball on.
///
/// # Errors
/// If the request is not sound.
#[wasm_bindgen(unchecked_return_type = "PocketAim[]")]
pub fn aims(
    #[wasm_bindgen(unchecked_param_type = "BoardRequest")] request: &JsValue,
) -> Result<JsValue, Refusal> {
    given(&wire::aims(&taken(request)?)?)
}

/// Shows the table of an item.
///
/// # Errors
/// If the request is not sound.
#[wasm_bindgen(unchecked_return_type = "Board")]
pub fn board(
    #[wasm_bindgen(unchecked_param_type = "BoardRequest")] request: &JsValue,
) -> Result<JsValue, Refusal> {
    given(&wire::board(&taken(request)?)?)
}

/// Puts a ball where it was dropped, or adds it there.
///
/// # Errors
/// If the request is not sound.
#[wasm_bindgen(js_name = placeBall, unchecked_return_type = "ChangedItem")]
pub fn place_ball(
    #[wasm_bindgen(unchecked_param_type = "PlaceRequest")] request: &JsValue,
) -> Result<JsValue, Refusal> {
    given(&wire::place(&taken(request)?)?)
}

/// Takes a ball off the table.
///
/// # Errors
/// If the request is not sound.
#[wasm_bindgen(js_name = removeBall, unchecked_return_type = "ChangedItem")]
pub fn remove_ball(
    #[wasm_bindgen(unchecked_param_type = "RemoveRequest")] request: &JsValue,
) -> Result<JsValue, Refusal> {
    given(&wire::remove(&taken(request)?)?)
}

/// Mirrors a set-up table from left to right.
///
/// # Errors
/// If the request is not sound.
#[wasm_bindgen(unchecked_return_type = "ChangedItem")]
pub fn mirror(
    #[wasm_bindgen(unchecked_param_type = "BoardRequest")] request: &JsValue,
) -> Result<JsValue, Refusal> {
    given(&wire::mirrored(&taken(request)?)?)
}

/// A stroke ten times under a hand.
///
/// # Errors
/// If the request is not sound.
#[wasm_bindgen(unchecked_return_type = "Try[]")]
pub fn tries(
    #[wasm_bindgen(unchecked_param_type = "TriesRequest")] request: &JsValue,
) -> Result<JsValue, Refusal> {
    given(&wire::tries(&taken(request)?)?)
}
