//! What the page can call of hands: chances, margins, the best stroke, maps.

use super::numbers::taken_numbers;
use crate::error::Error;
use crate::wasm::{Refusal, given, set, taken};
use crate::wire;
use js_sys::{Float64Array, Object, Uint32Array};
use wasm_bindgen::Clamped;
use wasm_bindgen::prelude::*;
use web_sys::{ImageData, OffscreenCanvasRenderingContext2d};

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

    /// Tells what is rough, and proves a little more at every later step.
    #[wasm_bindgen(unchecked_return_type = "MapProgress")]
    pub fn step(&mut self, plays: u32) -> Object {
        let wire::MapProgress { done, rough, cells, chances } = self.0.step(plays);
        let object = Object::new();
        set(&object, "done", &done.into());
        set(&object, "rough", &rough.into());
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
