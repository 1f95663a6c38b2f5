//! The boundary to JavaScript. It converts and decides nothing: every export
//! hands its arguments to a function of [`crate::wire`] that native tests reach.
//!
//! Objects are copied by the browser before they are read, so a getter runs
//! once and what it throws is caught; replies are plain objects, and arrays of
//! numbers are copies, never views into this module's memory.

use crate::error::Error;
use crate::physics::MODEL_VERSION;
use crate::wire::{self, LONGEST_JSON, Value};
use js_sys::{Float64Array, JsString};
use serde::Serialize;
use serde_wasm_bindgen::{Deserializer, Serializer};
use wasm_bindgen::prelude::*;

#[wasm_bindgen(typescript_custom_section)]
const TYPES: &str = include_str!("wasm.d.ts");

#[wasm_bindgen]
extern "C" {
    /// The `Error` that is thrown: a plain one with two fields more.
    #[wasm_bindgen(js_name = Error, extends = js_sys::Error)]
    pub type Refusal;

    #[wasm_bindgen(constructor, js_class = "Error")]
    fn new(message: &str) -> Refusal;

    #[wasm_bindgen(method, setter)]
    fn set_name(this: &Refusal, name: &str);

    #[wasm_bindgen(method, setter)]
    fn set_field(this: &Refusal, field: &str);

    #[wasm_bindgen(method, setter)]
    fn set_rule(this: &Refusal, rule: &str);

    #[wasm_bindgen(catch, js_name = structuredClone)]
    fn structured_clone(value: &JsValue) -> Result<JsValue, js_sys::Error>;
}

impl From<Error> for Refusal {
    fn from(error: Error) -> Self {
        let refusal = Self::new(&error.to_string());
        refusal.set_name("LeavelineError");
        refusal.set_field(error.field());
        refusal.set_rule(error.rule());
        refusal
    }
}

/// An object from JavaScript, as the strict reader takes it.
fn taken(value: &JsValue) -> Result<Value, Error> {
    let copy = structured_clone(value).map_err(|error| {
        Error::malformed("form", format!("cannot be copied: {}", String::from(error.message())))
    })?;
    Value::fill(Deserializer::from(copy))
}

/// A text from JavaScript, measured before it is copied.
fn taken_text(value: &JsValue, longest: usize) -> Result<String, Error> {
    let Some(text) = value.dyn_ref::<JsString>() else {
        return Err(Error::malformed("text", "must be a text"));
    };
    wire::check_length(text.length() as usize, longest)?;
    Ok(text.into())
}

/// A plain JavaScript object.
fn given(reply: &impl Serialize) -> Result<JsValue, Refusal> {
    reply
        .serialize(&Serializer::json_compatible())
        .map_err(|error| Error::malformed("reply", error.to_string()).into())
}

/// Reports a broken promise of the core on the console: all that JavaScript
/// sees of it is "unreachable".
#[wasm_bindgen(start, skip_typescript)]
fn report_panics() {
    std::panic::set_hook(Box::new(|panic| {
        web_sys::console::error_1(&panic.to_string().into());
    }));
}

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
/// `src/wire/packed.rs` says.
///
/// # Errors
/// If the shot is not sound.
#[wasm_bindgen(js_name = playPacked)]
pub fn play_packed(
    #[wasm_bindgen(unchecked_param_type = "Shot")] shot: &JsValue,
) -> Result<Float64Array, Refusal> {
    Ok(Float64Array::from(wire::play_packed(&taken(shot)?)?.as_slice()))
}

/// Version of the physical model.
#[wasm_bindgen(js_name = modelVersion)]
pub fn model_version() -> u32 {
    MODEL_VERSION
}

/// A seed from the browser's source of randomness.
///
/// # Errors
/// If the browser has none.
#[wasm_bindgen(js_name = freshSeed)]
pub fn fresh_seed() -> Result<u32, Refusal> {
    getrandom::u32().map_err(|error| Error::malformed("seed", error.to_string()).into())
}

/// Makes a link, the part of an address after `#`.
///
/// # Errors
/// If the request is not sound.
#[wasm_bindgen(js_name = makeLink)]
pub fn make_link(
    #[wasm_bindgen(unchecked_param_type = "LinkRequest")] request: &JsValue,
) -> Result<String, Refusal> {
    Ok(wire::make_link(&taken(request)?)?)
}
