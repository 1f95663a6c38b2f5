//! What the page can call of the daily set.

use crate::wasm::{Refusal, given, taken};
use crate::wire;
use wasm_bindgen::prelude::*;

/// Deals the set of a day.
///
/// # Errors
/// If the request is not sound, or the day has not begun.
#[wasm_bindgen(js_name = dailySet, unchecked_return_type = "DailySet")]
pub fn daily_set(
    #[wasm_bindgen(unchecked_param_type = "DailyRequest")] request: &JsValue,
) -> Result<JsValue, Refusal> {
    given(&wire::daily_set(&taken(request)?)?)
}

/// The result of a day's set, to be handed on.
///
/// # Errors
/// If the request is not sound, or something was not played.
#[wasm_bindgen(js_name = dailyResult, unchecked_return_type = "DailyResult")]
pub fn daily_result(
    #[wasm_bindgen(unchecked_param_type = "DailyResultRequest")] request: &JsValue,
) -> Result<JsValue, Refusal> {
    given(&wire::daily_result(&taken(request)?)?)
}
