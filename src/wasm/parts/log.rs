//! What the page can call of the log. Many calls come as one array of numbers.

use super::numbers::{copied_numbers, taken_numbers};
use crate::error::Error;
use crate::wasm::{Refusal, copied, given, set, taken, taken_text};
use crate::wire::{self, LONGEST_LOG};
use js_sys::{Reflect, Uint32Array};
use wasm_bindgen::prelude::*;

/// Makes what is kept of a call.
///
/// # Errors
/// If item or call is not sound.
#[wasm_bindgen(js_name = logRecord, unchecked_return_type = "Kept")]
pub fn log_record(
    #[wasm_bindgen(unchecked_param_type = "RecordRequest")] request: &JsValue,
) -> Result<JsValue, Refusal> {
    given(&wire::log_record(&taken(request)?)?)
}

/// Reads kept calls, one a line.
///
/// # Errors
/// If a newer version wrote them.
#[wasm_bindgen(js_name = logRead, unchecked_return_type = "ReadLog")]
pub fn log_read(
    #[wasm_bindgen(unchecked_param_type = "string")] text: &JsValue,
) -> Result<JsValue, Refusal> {
    given(&wire::log_read(&taken_text(text, LONGEST_LOG)?)?)
}

/// Sums up many calls.
///
/// # Errors
/// If they are not sound.
#[wasm_bindgen(js_name = logSummary, unchecked_return_type = "LogSummary")]
pub fn log_summary(
    #[wasm_bindgen(unchecked_param_type = "Float64Array")] calls: &JsValue,
) -> Result<JsValue, Refusal> {
    given(&wire::log_summary(&taken_numbers(calls, "calls", wire::check_numbers)?)?)
}

/// What is drawn of a skill.
///
/// # Errors
/// If the calls are not sound, or there is no such skill.
#[wasm_bindgen(js_name = logPlots, unchecked_return_type = "LogPlots")]
pub fn log_plots(
    #[wasm_bindgen(unchecked_param_type = "{ calls: Float64Array; skill: string }")]
    request: &JsValue,
) -> Result<JsValue, Refusal> {
    let (calls, field) = apart(request)?;
    let skill = taken_text(&field("skill"), wire::LONGEST_TEXT)?;
    let plots = wire::log_plots(&calls, &skill)?;
    let reply = given(&plots)?;
    set(&reply, "of", &Uint32Array::from(plots.of()));
    Ok(reply)
}

/// What to practise next.
///
/// # Errors
/// If the calls are not sound, or there is no such topic.
#[wasm_bindgen(js_name = logNext, unchecked_return_type = "LogNext")]
pub fn log_next(
    #[wasm_bindgen(
        unchecked_param_type = "{ calls: Float64Array; now: number; seed: number; topic?: string | null }"
    )]
    request: &JsValue,
) -> Result<JsValue, Refusal> {
    let (calls, field) = apart(request)?;
    let number = |name: &str| {
        let malformed = || Error::malformed(name, "must be a finite number");
        field(name).as_f64().filter(|number| number.is_finite()).ok_or_else(malformed)
    };
    let topic = match field("topic") {
        topic if topic.is_null() || topic.is_undefined() => None,
        topic => Some(taken_text(&topic, wire::LONGEST_TEXT)?),
    };
    let next = wire::log_next(&calls, number("now")?, number("seed")? as u32, topic.as_deref())?;
    given(&next)
}

/// The calls of a request, and its other fields.
fn apart(request: &JsValue) -> Result<(Vec<f64>, impl Fn(&str) -> JsValue), Refusal> {
    let copy = copied(request, "request")?;
    let field = move |name: &str| Reflect::get(&copy, &name.into()).unwrap_or(JsValue::UNDEFINED);
    let calls = copied_numbers(&field("calls"), "calls", wire::check_numbers)?;
    Ok((calls, field))
}
