//! What the page can call of sets.

use crate::error::Error;
use crate::wasm::{Refusal, copied, given, taken, taken_text};
use crate::wire::{self, LONGEST_SET, LONGEST_TEXT};
use js_sys::Reflect;
use wasm_bindgen::prelude::*;

/// Looks for a set in a text: what is good of it, and every fault with its place.
///
/// # Errors
/// If the text is too long to be looked at.
#[wasm_bindgen(js_name = openSet, unchecked_return_type = "FoundSet")]
pub fn open_set(
    #[wasm_bindgen(unchecked_param_type = "string")] text: &JsValue,
) -> Result<JsValue, Refusal> {
    given(&wire::open_set(&taken_text(text, LONGEST_SET)?))
}

/// Writes a set as it goes into a file, from its JSON text.
///
/// # Errors
/// If it is not good throughout.
#[wasm_bindgen(js_name = setText)]
pub fn set_text(
    #[wasm_bindgen(unchecked_param_type = "string")] text: &JsValue,
) -> Result<String, Refusal> {
    Ok(wire::set_text(&taken_text(text, LONGEST_SET)?)?)
}

/// Shows an item of any kind, and how it is meant to be played.
///
/// # Errors
/// If the item is not sound.
#[wasm_bindgen(js_name = showItem, unchecked_return_type = "ShownItem")]
pub fn show_item(
    #[wasm_bindgen(unchecked_param_type = "ShowRequest")] request: &JsValue,
) -> Result<JsValue, Refusal> {
    given(&wire::show_item(&taken(request)?)?)
}

/// How a set stands.
///
/// # Errors
/// If the request is not sound.
#[wasm_bindgen(js_name = tallySet, unchecked_return_type = "Tally")]
pub fn tally_set(
    #[wasm_bindgen(unchecked_param_type = "TallyRequest")] request: &JsValue,
) -> Result<JsValue, Refusal> {
    given(&wire::tally_set(&taken(request)?)?)
}

/// Makes a link to a set, the part of an address after `#`: its JSON text, and the score that
/// the sender claims.
///
/// # Errors
/// If the set is not good throughout, or too large for a link.
#[wasm_bindgen(js_name = makeSetLink)]
pub fn make_set_link(
    #[wasm_bindgen(unchecked_param_type = "SetLinkRequest")] request: &JsValue,
) -> Result<String, Refusal> {
    let request = copied(request, "form")?;
    let field = |name: &str| {
        Reflect::get(&request, &name.into())
            .map_err(|_| Error::malformed("form", "must be an object"))
    };
    let claimed = field("claimed")?;
    let score = match claimed.is_null() || claimed.is_undefined() {
        true => None,
        false => {
            Some(claimed.as_f64().ok_or_else(|| Error::malformed("claimed", "must be a number"))?)
        }
    };
    Ok(wire::make_set_link(&taken_text(&field("text")?, LONGEST_SET)?, score)?)
}

/// Opens a link to a set.
///
/// # Errors
/// If the link is cut off, altered or of a newer version.
#[wasm_bindgen(js_name = openSetLink, unchecked_return_type = "OpenedSet")]
pub fn open_set_link(
    #[wasm_bindgen(unchecked_param_type = "string")] text: &JsValue,
) -> Result<JsValue, Refusal> {
    given(&wire::open_set_link(&taken_text(text, LONGEST_TEXT)?)?)
}
