//! What the page can call of Leave.

use crate::wasm::{Refusal, given, taken, with_tracks};
use crate::wire;
use wasm_bindgen::prelude::*;

/// The zone that was typed in numbers.
///
/// # Errors
/// If there is no such zone.
#[wasm_bindgen(js_name = zoneAt, unchecked_return_type = "Zone")]
pub fn zone_at(
    #[wasm_bindgen(unchecked_param_type = "ZoneRequest")] request: &JsValue,
) -> Result<JsValue, Refusal> {
    given(&wire::zone_at(&taken(request)?)?)
}

/// Deals a Leave item.
///
/// # Errors
/// If the request is not sound.
#[wasm_bindgen(js_name = dealLeave, unchecked_return_type = "LeaveQuestion")]
pub fn deal_leave(
    #[wasm_bindgen(unchecked_param_type = "DealRequest")] request: &JsValue,
) -> Result<JsValue, Refusal> {
    given(&wire::deal_leave(&taken(request)?)?)
}

/// Shows a Leave item that was kept.
///
/// # Errors
/// If the item is not sound.
#[wasm_bindgen(js_name = openLeave, unchecked_return_type = "LeaveQuestion")]
pub fn open_leave(
    #[wasm_bindgen(unchecked_param_type = "{ item: LeaveItem }")] request: &JsValue,
) -> Result<JsValue, Refusal> {
    given(&wire::open_leave(&taken(request)?)?)
}

/// Plays a Leave item and grades the answer.
///
/// # Errors
/// If item, answer or seal is not sound.
#[wasm_bindgen(js_name = gradeLeave, unchecked_return_type = "LeaveResult")]
pub fn grade_leave(
    #[wasm_bindgen(unchecked_param_type = "GradeLeaveRequest")] request: &JsValue,
) -> Result<JsValue, Refusal> {
    let result = wire::grade_leave(&taken(request)?)?;
    with_tracks(&result, result.tracks())
}

/// The speeds of a table in metres a second and in lengths.
///
/// # Errors
/// If the request is not sound.
#[wasm_bindgen(js_name = speedScale, unchecked_return_type = "SpeedEntry[]")]
pub fn speed_scale(
    #[wasm_bindgen(unchecked_param_type = "{ item: LeaveItem }")] request: &JsValue,
) -> Result<JsValue, Refusal> {
    given(&wire::speed_scale(&taken(request)?)?)
}
