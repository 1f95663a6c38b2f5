//! What the page can call of Read; all that the smaller package has.

use super::{Refusal, given, taken, taken_text, with_tracks};
use crate::error::Error;
use crate::wire::{self, LONGEST_TEXT};
use wasm_bindgen::prelude::*;

/// A seed from the browser's source of randomness.
///
/// # Errors
/// If the browser has none.
#[wasm_bindgen(js_name = freshSeed)]
pub fn fresh_seed() -> Result<u32, Refusal> {
    getrandom::u32().map_err(|error| Error::malformed("seed", error.to_string()).into())
}

/// Makes a link to an item of any kind, the part of an address after `#`.
///
/// # Errors
/// If the request is not sound.
#[wasm_bindgen(js_name = makeLink)]
pub fn make_link(
    #[wasm_bindgen(unchecked_param_type = "LinkRequest")] request: &JsValue,
) -> Result<String, Refusal> {
    Ok(wire::make_link(&taken(request)?)?)
}

/// The levels of practice.
///
/// # Errors
/// None that a caller can cause.
#[wasm_bindgen(unchecked_return_type = "LevelInfo[]")]
pub fn levels() -> Result<JsValue, Refusal> {
    given(&wire::levels())
}

/// Deals an item.
///
/// # Errors
/// If the request is not sound.
#[wasm_bindgen(unchecked_return_type = "Question")]
pub fn deal(
    #[wasm_bindgen(unchecked_param_type = "DealRequest")] request: &JsValue,
) -> Result<JsValue, Refusal> {
    given(&wire::deal(&taken(request)?)?)
}

/// Shows an item that was kept.
///
/// # Errors
/// If the item is not sound.
#[wasm_bindgen(js_name = openItem, unchecked_return_type = "Question")]
pub fn open_item(
    #[wasm_bindgen(unchecked_param_type = "Item")] item: &JsValue,
) -> Result<JsValue, Refusal> {
    given(&wire::open_item(&taken(item)?)?)
}

/// Shows the item of a link.
///
/// # Errors
/// If the link is cut off, altered, of a newer version or not sound.
#[wasm_bindgen(js_name = openLink, unchecked_return_type = "OpenedLink")]
pub fn open_link(
    #[wasm_bindgen(unchecked_param_type = "string")] text: &JsValue,
) -> Result<JsValue, Refusal> {
    given(&wire::open_link(&taken_text(text, LONGEST_TEXT)?)?)
}

/// Brings a placed point onto the cloth, and onto a rail that is near.
///
/// # Errors
/// If the request is not sound.
#[wasm_bindgen(unchecked_return_type = "PlacedPoint")]
pub fn snap(
    #[wasm_bindgen(unchecked_param_type = "SnapRequest")] request: &JsValue,
) -> Result<JsValue, Refusal> {
    given(&wire::snap(&taken(request)?)?)
}

/// The point at typed diamonds.
///
/// # Errors
/// If there is no such point.
#[wasm_bindgen(js_name = pointAt, unchecked_return_type = "PlacedPoint")]
pub fn point_at(
    #[wasm_bindgen(unchecked_param_type = "PointRequest")] request: &JsValue,
) -> Result<JsValue, Refusal> {
    given(&wire::point_at(&taken(request)?)?)
}

/// Plays an item and grades the call.
///
/// # Errors
/// If item, call or seal is not sound.
#[wasm_bindgen(unchecked_return_type = "Result")]
pub fn grade(
    #[wasm_bindgen(unchecked_param_type = "GradeRequest")] request: &JsValue,
) -> Result<JsValue, Refusal> {
    let result = wire::grade(&taken(request)?)?;
    with_tracks(&result, result.tracks())
}

/// Explains an item's shot by playing it again with one thing changed at a time.
///
/// # Errors
/// If the request is not sound.
#[wasm_bindgen(unchecked_return_type = "Why")]
pub fn why(
    #[wasm_bindgen(unchecked_param_type = "WhyRequest")] request: &JsValue,
) -> Result<JsValue, Refusal> {
    given(&wire::why(&taken(request)?)?)
}
