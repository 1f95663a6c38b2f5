//! The answer to a Leave item as a form, both ways.

use super::demand::{read_zone, write_zone};
use super::item::{read_call, write_call};
use super::reader::Form;
use super::shot::{read_stroke, write_stroke};
use super::value::Value;
use crate::error::Error;
use crate::physics::Stroke;
use crate::practice::LeaveAnswer;

/// Reads an answer. Whether its call lies on the table of some item is not checked.
///
/// # Errors
/// As [`read_zone`] and [`read_call`]; whatever [`Stroke::check`] refuses.
pub fn read_answer(value: &Value, path: &str) -> Result<LeaveAnswer, Error> {
    answer_of(&Form::open(value, path, &["zone", "stroke", "call"])?)
}

/// The answer whose fields are among those of `form`.
pub(super) fn answer_of(form: &Form) -> Result<LeaveAnswer, Error> {
    let field = form.path_of("stroke");
    let stroke = read_stroke(form.value("stroke")?, &field)?;
    Stroke::check(&stroke).map_err(|error| error.within(&field))?;
    Ok(LeaveAnswer {
        zone: read_zone(form.value("zone")?, &form.path_of("zone"))?,
        stroke,
        call: match form.optional("call") {
            Some(call) => Some(read_call(call, &form.path_of("call"))?),
            None => None,
        },
    })
}

/// Writes an answer.
pub fn write_answer(answer: &LeaveAnswer) -> Value {
    let mut fields = vec![
        ("zone".to_owned(), write_zone(&answer.zone)),
        ("stroke".to_owned(), write_stroke(&answer.stroke)),
    ];
    if let Some(call) = &answer.call {
        fields.push(("call".to_owned(), write_call(call)));
    }
    Value::Fields(fields)
}
