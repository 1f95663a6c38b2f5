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

/// serde_json's compact style, but for numbers: by the standard library, which is
/// here anyhow for words. serde_json's own are the same but for whole ones, and
/// come with 17 kB of powers of ten.
struct Numbers;

impl serde_json::ser::Formatter for Numbers {
    fn write_f64<W: ?Sized + io::Write>(&mut self, writer: &mut W, value: f64) -> io::Result<()> {
        // Zero has no sign, and outside of these numbers are written with an exponent.
        if value == 0.0 || (1e-5..1e16).contains(&value.abs()) {
            return write!(writer, "{}", value + 0.0);
        }
        let text = format!("{value:e}");
        match text.split_once('e') {
            Some((digits, power)) if !power.starts_with('-') => write!(writer, "{digits}e+{power}"),
            _ => writer.write_all(text.as_bytes()),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn numbers_are_short_and_come_back_to_the_bit() {
        for (number, text) in [
            (0.0, "0"),
            (-0.0, "0"),
            (2.0, "2"),
            (-17.0, "-17"),
            (0.1 + 0.2, "0.30000000000000004"),
            (9_999_999_999_999_998.0, "9999999999999998"),
            (1e16, "1e+16"),
            (5e-324, "5e-324"),
            (f64::MAX, "1.7976931348623157e+308"),
        ] {
            let written = compact(&Value::from(number)).expect("a number is JSON");
            assert_eq!(written, text);
            assert_eq!(parse(text), Ok(Value::from(number)), "{text} is read exactly");
        }
    }

    /// What is written here, and what serde_json would write, but for the point
    /// that it gives to whole numbers.
    fn both(number: f64) -> (String, String) {
        let written = compact(&Value::from(number)).expect("a number is JSON");
        let theirs = serde_json::to_string(&number).expect("finite");
        (written, theirs.strip_suffix(".0").unwrap_or(&theirs).to_owned())
    }

    #[test]
    fn numbers_look_as_serde_json_writes_them() {
        let all = (1..400_000_u64).map(|k| f64::from_bits(k.wrapping_mul(0x9e37_79b9_7f4a_7c15)));
        // Whatever a form holds lies far inside.
        for number in all.filter(|number| (1e-12..1e12).contains(&number.abs())) {
            let (written, theirs) = both(number);
            assert_eq!(written, theirs, "{number:e}");
        }
        for power in -323..=308 {
            let (written, theirs) = both(format!("1e{power}").parse().expect("a number"));
            assert_eq!(written, theirs, "ten to the {power}");
        }
    }

    /// The only difference: of two last digits that are equally near, as a few are
    /// for powers of two, serde_json takes the even one.
    #[test]
    fn powers_of_two_are_as_short_as_serde_json_writes_them() {
        for power in -1074..1024 {
            let number = libm::scalbn(1.0, power);
            let (written, theirs) = both(number);
            assert_eq!(written.len(), theirs.len(), "{written} for {theirs}");
            assert_eq!(parse(&written), Ok(Value::from(number)), "{written} is exact");
        }
    }

    #[test]
    fn every_kind_of_value_comes_back() {
        let text = r#"{"a":[null,true,-0.5,"b\n\u0001\"é"],"":{}}"#;
        let value = parse(text).expect("JSON");
        assert_eq!(compact(&value).as_deref(), Ok(text));
    }
}
