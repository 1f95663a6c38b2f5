//! What the page can call to play shots as such.

use super::numbers::taken_numbers;
use crate::physics::MODEL_VERSION;
use crate::wasm::{Refusal, given, taken, taken_text};
use crate::wire::{self, LONGEST_JSON};
use js_sys::Float64Array;
use wasm_bindgen::prelude::*;

/// Plays a shot.
///
/// # Errors
/// If the shot is not sound.
#[wasm_bindgen(unchecked_return_type = "Outcome")]
pub fn play(
    #[wasm_bindgen(unchecked_param_type = "Shot")] shot: &JsValue,
) -> Result<JsValue, Refusal> {
    given(&wire::play(&taken(shot)?)?)
}

/// Plays a shot, from JSON text to JSON text.
///
/// # Errors
/// If the text is not a sound shot.
#[wasm_bindgen(js_name = playText)]
pub fn play_text(
    #[wasm_bindgen(unchecked_param_type = "string")] json: &JsValue,
) -> Result<String, Refusal> {
    Ok(wire::play_text(&taken_text(json, LONGEST_JSON)?)?)
}

/// Plays a shot, and gives numbers only, laid out as `pack` in
/// `src/wire/outcome_numbers.rs` says.
///
/// # Errors
/// If the shot is not sound.
#[wasm_bindgen(js_name = playPacked)]
pub fn play_packed(
    #[wasm_bindgen(unchecked_param_type = "Shot")] shot: &JsValue,
) -> Result<Float64Array, Refusal> {
    Ok(Float64Array::from(wire::play_packed(&taken(shot)?)?.as_slice()))
}

/// Plays many strokes on the layout of one shot, whose own stroke is left alone, and
/// gives only where the balls end.
///
/// # Errors
/// If the shot or one of the strokes is not sound.
#[wasm_bindgen(unchecked_return_type = "Ends")]
pub fn ends(
    #[wasm_bindgen(unchecked_param_type = "Shot")] shot: &JsValue,
    #[wasm_bindgen(unchecked_param_type = "Strokes")] strokes: &JsValue,
) -> Result<Float64Array, Refusal> {
    let strokes = taken_numbers(strokes, "strokes", wire::check_strokes)?;
    Ok(Float64Array::from(wire::ends(&taken(shot)?, &strokes)?.as_slice()))
}

/// Version of the physical model.
#[wasm_bindgen(js_name = modelVersion)]
pub fn model_version() -> u32 {
    MODEL_VERSION
}
