//! What the page can call of Clear.

use crate::wasm::{Refusal, copied, given, set, taken, with_tracks};
use crate::wire::{self, Value};
use js_sys::{Float64Array, Reflect, Uint8Array};
use wasm_bindgen::prelude::*;

/// Deals a Clear item.
///
/// # Errors
/// If the request is not sound.
#[wasm_bindgen(js_name = dealClear, unchecked_return_type = "ClearQuestion")]
pub fn deal_clear(
    #[wasm_bindgen(unchecked_param_type = "DealClearRequest")] request: &JsValue,
) -> Result<JsValue, Refusal> {
    given(&wire::deal_clear(&taken(request)?)?)
}

/// Shows a Clear item, or what is left of one.
///
/// # Errors
/// If the item is not sound.
#[wasm_bindgen(js_name = openClear, unchecked_return_type = "ClearQuestion")]
pub fn open_clear(
    #[wasm_bindgen(unchecked_param_type = "{ item: ClearItem }")] request: &JsValue,
) -> Result<JsValue, Refusal> {
    given(&wire::open_clear(&taken(request)?)?)
}

/// Plays one shot of a run.
///
/// # Errors
/// If the request is not sound.
#[wasm_bindgen(js_name = playClear, unchecked_return_type = "ClearPlayed")]
pub fn play_clear(
    #[wasm_bindgen(unchecked_param_type = "PlayClearRequest")] request: &JsValue,
) -> Result<JsValue, Refusal> {
    let played = wire::play_clear(&taken(request)?)?;
    with_tracks(&played, played.tracks())
}

/// Tells where a run was decided.
///
/// # Errors
/// If the request is not sound.
#[wasm_bindgen(unchecked_return_type = "Decided")]
pub fn decided(
    #[wasm_bindgen(
        unchecked_param_type = "{ shots: { best: number, own: number, after: number }[] }"
    )]
    request: &JsValue,
) -> Result<JsValue, Refusal> {
    given(&wire::decide(&taken(request)?)?)
}

/// What runs say together that several workers have played out.
///
/// # Errors
/// If the request is not sound.
#[wasm_bindgen(js_name = sumOfRuns, unchecked_return_type = "Runs")]
pub fn sum_of_runs(
    #[wasm_bindgen(unchecked_param_type = "{ runs: number; cleared: number }")] request: &JsValue,
) -> Result<JsValue, Refusal> {
    given(&wire::sum_of_runs(&taken(request)?)?)
}

/// A guide to clearing a layout, kept from question to question while the layout stays.
#[wasm_bindgen]
pub struct ClearGuide(wire::ClearGuide);

#[wasm_bindgen]
impl ClearGuide {
    /// Prepares a guide and its first question; nothing is played yet.
    ///
    /// # Errors
    /// If the request is not sound.
    #[wasm_bindgen(constructor)]
    pub fn new(
        #[wasm_bindgen(unchecked_param_type = "GuideRequest")] request: &JsValue,
    ) -> Result<Self, Refusal> {
        let (plain, bytes) = without_bytes(request)?;
        Ok(Self(wire::ClearGuide::new(&plain, &bytes)?))
    }

    /// Turns to another question.
    ///
    /// # Errors
    /// If the request is not sound.
    pub fn turn(
        &mut self,
        #[wasm_bindgen(unchecked_param_type = "GuideRequest")] request: &JsValue,
    ) -> Result<(), Refusal> {
        let (plain, bytes) = without_bytes(request)?;
        Ok(self.0.turn(&plain, &bytes)?)
    }

    /// Goes on for about so many plays, and says how far it is.
    ///
    /// # Errors
    /// None that a caller can cause.
    #[wasm_bindgen(unchecked_return_type = "GuideProgress")]
    pub fn step(&mut self, plays: u32) -> Result<JsValue, Refusal> {
        let progress = self.0.step(plays);
        let reply = given(&progress)?;
        set(&reply, "bytes", &Uint8Array::from(progress.bytes()));
        set(&reply, "values", &Float64Array::from(progress.values()));
        Ok(reply)
    }
}

/// A request `{ request, bytes? }` taken apart.
fn without_bytes(request: &JsValue) -> Result<(Value, Vec<u8>), Refusal> {
    let copy = copied(request, "request")?;
    let field = |name: &str| Reflect::get(&copy, &name.into()).unwrap_or(JsValue::UNDEFINED);
    let bytes = field("bytes").dyn_into::<Uint8Array>().map(|bytes| bytes.to_vec());
    Ok((taken(&field("request"))?, bytes.unwrap_or_default()))
}
