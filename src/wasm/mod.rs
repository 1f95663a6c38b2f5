//! The boundary to JavaScript. It converts and decides nothing: every export
//! hands its arguments to a function of [`crate::wire`] that native tests reach.
//!
//! Objects are copied by the browser before they are read, so a getter runs
//! once and what it throws is caught; replies are plain objects, and arrays of
//! numbers are copies, never views into this module's memory.
//!
//! Without the feature `parts` there is only what Read asks for: the small package with
//! which the page begins (`src/read/`).

#[cfg(feature = "parts")]
mod parts;
mod read;

#[cfg(feature = "parts")]
pub use parts::*;
pub use read::*;

use crate::error::Error;
use crate::wire::{self, Track, Value};
use js_sys::{Array, Float64Array, JsString, Object, Reflect};
use serde::Serialize;
use serde_wasm_bindgen::{Deserializer, Serializer};
use wasm_bindgen::prelude::*;

#[wasm_bindgen(typescript_custom_section)]
const TYPES: &str = include_str!("types.d.ts");

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

/// The browser's own copy of something from JavaScript, which runs no code any more.
fn copied(value: &JsValue, name: &str) -> Result<JsValue, Error> {
    structured_clone(value).map_err(|error| {
        Error::malformed(name, format!("cannot be copied: {}", String::from(error.message())))
    })
}

/// An object from JavaScript, as the strict reader takes it.
fn taken(value: &JsValue) -> Result<Value, Error> {
    Value::fill(Deserializer::from(copied(value, "form")?))
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

/// A result as a plain object, with its tracks.
fn with_tracks(result: &impl Serialize, tracks: &[Track]) -> Result<JsValue, Refusal> {
    let reply = given(result)?;
    let tracks: Array = tracks.iter().map(track).collect();
    set(&reply, "tracks", &tracks);
    Ok(reply)
}

/// A track whose samples are one array of numbers.
fn track(track: &Track) -> Object {
    let object = Object::new();
    set(&object, "id", &track.id.as_str().into());
    set(&object, "samples", &Float64Array::from(track.samples.as_slice()));
    set(&object, "pocketedAt", &track.pocketed_at.map_or(JsValue::NULL, JsValue::from_f64));
    object
}

/// Sets a field of a plain object of our own, which cannot refuse it.
fn set(object: &JsValue, field: &str, value: &JsValue) {
    let done = Reflect::set(object, &field.into(), value);
    debug_assert!(done.is_ok(), "a plain object takes the field {field}");
}
