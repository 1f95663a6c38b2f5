//! JSON text, in and out.

use super::value::{Value, or_form};
use crate::error::Error;
use serde::Serialize;
use std::io;

/// The longest JSON text that is read, bytes.
pub const LONGEST_JSON: usize = 256 * 1024;

/// Reads JSON text.
///
/// # Errors
/// [`Error::Malformed`] if it is longer than [`LONGEST_JSON`], is not JSON, or
/// breaks a rule of [`Value::fill`].
pub fn parse(text: &str) -> Result<Value, Error> {
    if text.len() > LONGEST_JSON {
        let rule = format!("the text is longer than {LONGEST_JSON} bytes");
        return Err(Error::malformed(or_form(""), rule));
    }
    let mut source = serde_json::Deserializer::from_str(text);
    let value = Value::fill(&mut source)?;
    let at_end = |error: serde_json::Error| Error::malformed(or_form(""), error.to_string());
    source.end().map_err(at_end)?;
    Ok(value)
}

/// Writes the shortest JSON text that reads back to the same bits.
///
/// The one way in which numbers are written here: whole ones without a point,
/// as JavaScript does, so that the text of a form does not depend on who wrote it.
///
/// # Errors
/// [`Error::Malformed`] if `form` cannot be JSON at all, which no form of this
/// module is.
pub fn compact(form: &impl Serialize) -> Result<String, Error> {
    let mut bytes = Vec::new();
    let mut writer = serde_json::Serializer::with_formatter(&mut bytes, Numbers);
    let refuse = |rule: String| Error::malformed(or_form(""), rule);
    form.serialize(&mut writer).map_err(|error| refuse(error.to_string()))?;
    String::from_utf8(bytes).map_err(|error| refuse(error.to_string()))
}

/// serde_json's compact style, but for whole numbers.
struct Numbers;

impl serde_json::ser::Formatter for Numbers {
    fn write_f64<W: ?Sized + io::Write>(&mut self, writer: &mut W, value: f64) -> io::Result<()> {
        // Up to here every whole number is exact, and no exponent is shorter.
        const PLAIN: f64 = 1e15;
        if value.fract() == 0.0 && value.abs() < PLAIN {
            return write!(writer, "{}", value as i64);
        }
        serde_json::ser::CompactFormatter.write_f64(writer, value)
    }
}
