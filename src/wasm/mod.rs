//! The boundary to JavaScript. It converts and decides nothing: every export
//! hands its arguments to a function of [`crate::wire`] that native tests reach.
//!
//! Objects are copied by the browser before they are read, so a getter runs
//! once and what it throws is caught; replies are plain objects, and arrays of
//! numbers are copies, never views into this module's memory.

mod clear;
mod eye;
mod log;
mod paper;
mod sets;

pub use paper::{code, set_up};

use crate::error::Error;
use crate::physics::MODEL_VERSION;
use crate::wire::{self, LONGEST_JSON, LONGEST_TEXT, Track, Value};
use js_sys::{Array, Float64Array, JsString, Object, Reflect, Uint32Array};
use serde::Serialize;
use serde_wasm_bindgen::{Deserializer, Serializer};
use wasm_bindgen::Clamped;
use wasm_bindgen::prelude::*;
use web_sys::{ImageData, OffscreenCanvasRenderingContext2d};

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

/// An array of numbers from JavaScript; `check` sees its length before it is copied
/// into the core.
fn taken_numbers(
    value: &JsValue,
    name: &str,
    check: fn(usize) -> Result<(), Error>,
) -> Result<Vec<f64>, Error> {
    let malformed = || Error::malformed(name, "must be a Float64Array");
    if !value.is_instance_of::<Float64Array>() {
        return Err(malformed());
    }
    // A class that extends the array may lie about its length; a copy is a plain array.
    let copy: Float64Array = copied(value, name)?.dyn_into().map_err(|_| malformed())?;
    check(copy.length() as usize)?;
    Ok(copy.to_vec())
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

/// The levels of practice.
///
/// # Errors
/// None that a caller can cause.
#[wasm_bindgen(unchecked_return_type = "LevelInfo[]")]
pub fn levels() -> Result<JsValue, Refusal> {
    given(&wire::levels())
}

/// The hands to choose from.
///
/// # Errors
/// None that a caller can cause.
#[wasm_bindgen(unchecked_return_type = "HandInfo[]")]
pub fn hands() -> Result<JsValue, Refusal> {
    given(&wire::hands())
}

/// The colours of a map's legend, from chance 0 to 1.
///
/// # Errors
/// Unless there are 2 to 256.
#[wasm_bindgen(js_name = mapScale, unchecked_return_type = "string[]")]
pub fn map_scale(colours: u32) -> Result<JsValue, Refusal> {
    given(&wire::map_scale(colours)?)
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

/// Makes a link to a Leave item.
///
/// # Errors
/// If the request is not sound.
#[wasm_bindgen(js_name = makeLeaveLink)]
pub fn make_leave_link(
    #[wasm_bindgen(unchecked_param_type = "LeaveLinkRequest")] request: &JsValue,
) -> Result<String, Refusal> {
    Ok(wire::make_leave_link(&taken(request)?)?)
}

/// A result as a plain object, with its tracks.
fn with_tracks(result: &impl Serialize, tracks: &[Track]) -> Result<JsValue, Refusal> {
    let reply = given(result)?;
    let tracks: Array = tracks.iter().map(track).collect();
    set(&reply, "tracks", &tracks);
    Ok(reply)
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

/// Tries the stroke of a set-up table, aimed if asked.
///
/// # Errors
/// If the request is not sound.
#[wasm_bindgen(unchecked_return_type = "Trial")]
pub fn trial(
    #[wasm_bindgen(unchecked_param_type = "TrialRequest")] request: &JsValue,
) -> Result<JsValue, Refusal> {
    let tried = wire::try_stroke(&taken(request)?)?;
    let reply = given(&tried)?;
    let tracks: Array = tried.tracks().iter().map(track).collect();
    set(&reply, "tracks", &tracks);
    Ok(reply)
}

/// Looks at every pocket for the ball on.
///
/// # Errors
/// If the request is not sound.
#[wasm_bindgen(unchecked_return_type = "PocketAim[]")]
pub fn aims(
    #[wasm_bindgen(unchecked_param_type = "BoardRequest")] request: &JsValue,
) -> Result<JsValue, Refusal> {
    given(&wire::aims(&taken(request)?)?)
}

/// Shows the table of an item.
///
/// # Errors
/// If the request is not sound.
#[wasm_bindgen(unchecked_return_type = "Board")]
pub fn board(
    #[wasm_bindgen(unchecked_param_type = "BoardRequest")] request: &JsValue,
) -> Result<JsValue, Refusal> {
    given(&wire::board(&taken(request)?)?)
}

/// Puts a ball where it was dropped, or adds it there.
///
/// # Errors
/// If the request is not sound.
#[wasm_bindgen(js_name = placeBall, unchecked_return_type = "ChangedItem")]
pub fn place_ball(
    #[wasm_bindgen(unchecked_param_type = "PlaceRequest")] request: &JsValue,
) -> Result<JsValue, Refusal> {
    given(&wire::place(&taken(request)?)?)
}

/// Takes a ball off the table.
///
/// # Errors
/// If the request is not sound.
#[wasm_bindgen(js_name = removeBall, unchecked_return_type = "ChangedItem")]
pub fn remove_ball(
    #[wasm_bindgen(unchecked_param_type = "RemoveRequest")] request: &JsValue,
) -> Result<JsValue, Refusal> {
    given(&wire::remove(&taken(request)?)?)
}

/// Mirrors a set-up table from left to right.
///
/// # Errors
/// If the request is not sound.
#[wasm_bindgen(unchecked_return_type = "ChangedItem")]
pub fn mirror(
    #[wasm_bindgen(unchecked_param_type = "BoardRequest")] request: &JsValue,
) -> Result<JsValue, Refusal> {
    given(&wire::mirrored(&taken(request)?)?)
}

/// How far a stroke may be off, how often a hand makes it, and how it comes to the next
/// ball.
///
/// # Errors
/// If the item is not sound or the hand unknown.
#[wasm_bindgen(unchecked_return_type = "Margins")]
pub fn margins(
    #[wasm_bindgen(unchecked_param_type = "MarginsRequest")] request: &JsValue,
) -> Result<JsValue, Refusal> {
    given(&wire::margins(&taken(request)?)?)
}

/// A search for the best stroke, which goes on in steps.
#[wasm_bindgen]
pub struct BestSearch(wire::BestSearch);

#[wasm_bindgen]
impl BestSearch {
    /// Starts a search; nothing is played yet.
    ///
    /// # Errors
    /// If the item is not sound or the hand unknown.
    #[wasm_bindgen(constructor)]
    pub fn new(
        #[wasm_bindgen(unchecked_param_type = "BestRequest")] request: &JsValue,
    ) -> Result<Self, Refusal> {
        Ok(Self(wire::BestSearch::new(&taken(request)?)?))
    }

    /// Plays about `plays` strokes more, and says how far the search is.
    ///
    /// # Errors
    /// None that a caller can cause.
    #[wasm_bindgen(unchecked_return_type = "BestProgress")]
    pub fn step(&mut self, plays: u32) -> Result<JsValue, Refusal> {
        given(&self.0.step(plays))
    }

    /// What the other workers that share the search are to be told, once each time.
    pub fn tell(&mut self) -> Option<Float64Array> {
        self.0.tell().map(|numbers| Float64Array::from(numbers.as_slice()))
    }

    /// Takes in what worker `from` tells.
    ///
    /// # Errors
    /// If it is not what was to be expected.
    pub fn hear(
        &mut self,
        from: u32,
        #[wasm_bindgen(unchecked_param_type = "Float64Array")] numbers: &JsValue,
    ) -> Result<(), Refusal> {
        Ok(self.0.hear(from, &taken_numbers(numbers, "numbers", wire::check_told)?)?)
    }
}

/// A map of chances, which is found in steps and turned from layout to layout.
#[wasm_bindgen]
pub struct ChanceMap(wire::ChanceMap);

#[wasm_bindgen]
impl ChanceMap {
    /// Prepares a map; no chance is known yet.
    ///
    /// # Errors
    /// If the request is not sound.
    #[wasm_bindgen(constructor)]
    pub fn new(
        #[wasm_bindgen(unchecked_param_type = "MapRequest")] request: &JsValue,
    ) -> Result<Self, Refusal> {
        Ok(Self(wire::ChanceMap::new(&taken(request)?)?))
    }

    /// Turns to another request, and keeps what it has in common with the last.
    ///
    /// # Errors
    /// If the request is not sound; then nothing has changed.
    pub fn turn(
        &mut self,
        #[wasm_bindgen(unchecked_param_type = "MapRequest")] request: &JsValue,
    ) -> Result<(), Refusal> {
        Ok(self.0.turn(&taken(request)?)?)
    }

    /// Tells what is rough at once, or proves a little more at every step.
    #[wasm_bindgen(unchecked_return_type = "MapProgress")]
    pub fn step(&mut self, plays: u32) -> Object {
        let wire::MapProgress { done, cells, chances } = self.0.step(plays);
        let object = Object::new();
        set(&object, "done", &done.into());
        set(&object, "cells", &Uint32Array::from(cells.as_slice()));
        set(&object, "chances", &Float64Array::from(chances.as_slice()));
        object
    }

    /// Draws the chances of all cells, one pixel a cell, and makes the canvas as large: the
    /// page's style stretches it over the table. Where the cue ball cannot lie the canvas
    /// is clear. Gives the lines of the chance `level` as path data in millimetres.
    ///
    /// # Errors
    /// If there is not a chance for each cell, or the canvas cannot be drawn on.
    pub fn draw(
        &self,
        context: &OffscreenCanvasRenderingContext2d,
        #[wasm_bindgen(unchecked_param_type = "Float64Array")] chances: &JsValue,
        level: f64,
    ) -> Result<String, Refusal> {
        let chances = taken_numbers(chances, "chances", wire::check_chances)?;
        let picture = self.0.picture(&chances)?;
        let (columns, rows) = self.0.size();
        let canvas = context.canvas();
        canvas.set_width(columns);
        canvas.set_height(rows);
        ImageData::new_with_u8_clamped_array_and_sh(Clamped(&picture), columns, rows)
            .and_then(|image| context.put_image_data(&image, 0.0, 0.0))
            .map_err(|_| Error::malformed("context", "must be one that can be drawn on"))?;
        Ok(self.0.line(&chances, level))
    }
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

/// A stroke ten times under a hand.
///
/// # Errors
/// If the request is not sound.
#[wasm_bindgen(unchecked_return_type = "Try[]")]
pub fn tries(
    #[wasm_bindgen(unchecked_param_type = "TriesRequest")] request: &JsValue,
) -> Result<JsValue, Refusal> {
    given(&wire::tries(&taken(request)?)?)
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
