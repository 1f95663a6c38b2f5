//! How an item is set up on a real table, as the page and a printed sheet list it.

use super::item::read_shot_of;
use super::reader::Form;
use super::value::Value;
use crate::error::Error;
use crate::practice::set_up as find;
use serde::Serialize;

/// The form of how one ball is set up.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct SpotForm {
    ball: String,
    /// From the head and from the right, to hundredths.
    diamonds: [f64; 2],
    /// From the nose lines of the head and the right rail to its centre, to tenths.
    centimetres: [f64; 2],
    words: String,
}

/// How the balls of `{ item }`, of any kind, are set up, in the order in which it is done.
///
/// # Errors
/// As [`Form`] and the reader of the item.
pub fn set_up(request: &Value) -> Result<Vec<SpotForm>, Error> {
    let form = Form::open(request, "", &["item"])?;
    let shot = read_shot_of(form.value("item")?, "item")?;
    let rounded = |value: f64, parts: f64| (parts * value).round() / parts + 0.0;
    let spots = find(&shot).into_iter().map(|spot| SpotForm {
        ball: spot.ball.to_string(),
        diamonds: spot.diamonds.to_array().map(|value| rounded(value, 100.0)),
        centimetres: spot.place.to_array().map(|value| rounded(100.0 * value, 10.0)),
        words: spot.words,
    });
    Ok(spots.collect())
}
