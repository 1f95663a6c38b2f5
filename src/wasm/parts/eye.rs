//! What the page can call of Eye.

use crate::wasm::{Refusal, given, taken};
use crate::wire;
use wasm_bindgen::prelude::*;

/// Deals one estimate of a round.
///
/// # Errors
/// If the request is not sound.
#[wasm_bindgen(js_name = dealEye, unchecked_return_type = "EyeQuestion")]
pub fn deal_eye(
    #[wasm_bindgen(unchecked_param_type = "DealEyeRequest")] request: &JsValue,
) -> Result<JsValue, Refusal> {
    given(&wire::deal_eye(&taken(request)?)?)
}

/// Tells what the handle says where it was dragged to, or where it stands when it says so.
///
/// # Errors
/// If the request is not sound.
#[wasm_bindgen(js_name = markEye, unchecked_return_type = "EyeHandle")]
pub fn mark_eye(
    #[wasm_bindgen(unchecked_param_type = "MarkEyeRequest")] request: &JsValue,
) -> Result<JsValue, Refusal> {
    given(&wire::mark_eye(&taken(request)?)?)
}

/// Judges an estimate.
///
/// # Errors
/// If the request is not sound.
#[wasm_bindgen(js_name = gradeEye, unchecked_return_type = "EyeResult")]
pub fn grade_eye(
    #[wasm_bindgen(unchecked_param_type = "{ item: EyeItem; answer: number }")] request: &JsValue,
) -> Result<JsValue, Refusal> {
    given(&wire::grade_eye(&taken(request)?)?)
}

/// Sums up the errors of a round, each kind of estimate by itself.
///
/// # Errors
/// If the request is not sound.
#[wasm_bindgen(js_name = sumEye, unchecked_return_type = "EyeSummary[]")]
pub fn sum_eye(
    #[wasm_bindgen(unchecked_param_type = "{ answers: EyeAnswered[] }")] request: &JsValue,
) -> Result<JsValue, Refusal> {
    given(&wire::sum_eye(&taken(request)?)?)
}
