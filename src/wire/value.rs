//! One tree for everything that comes in, whatever it came as.
//!
//! JSON text, JavaScript objects and links are all filled into a [`Value`]
//! first, by the same code and under the same limits, so that the strict reader
//! sees every field that was given and every number as it was given: a NaN is
//! still a NaN here, to be refused by name, and not a null.

use crate::error::Error;
use serde::de::{DeserializeSeed, Deserializer, MapAccess, SeqAccess, Visitor};
use serde::ser::{Serialize, SerializeMap, Serializer};
use std::fmt;

/// How deep a form may be nested. The deepest of ours needs six levels; the
/// limit also ends an object that contains itself.
const DEEPEST: usize = 16;

/// How many values a form may hold in all (ours stay under 300).
const MOST_VALUES: usize = 2_000;

/// How many entries one list may have (ours have at most 32).
const LONGEST_LIST: usize = 256;

/// How many fields one object may have (ours have at most 18).
const MOST_FIELDS: usize = 64;

/// How long one text may be, bytes: a sealed call is the longest.
const LONGEST_STRING: usize = 16 * 1024;

/// How long the name of a field may be, bytes.
const LONGEST_NAME: usize = 64;

/// Anything that a form can hold.
#[derive(Clone, Debug, PartialEq)]
pub enum Value {
    /// Nothing: null, or undefined in JavaScript.
    Null,
    /// True or false.
    Bool(bool),
    /// A number, which need not be finite yet.
    Number(f64),
    /// A text.
    Text(String),
    /// A list.
    List(Vec<Value>),
    /// An object: fields in the order given, each name once.
    Fields(Vec<(String, Value)>),
}

impl Value {
    /// A field of an object, looked at before it is read.
    pub(super) fn peek(&self, name: &str) -> Option<&Self> {
        match self {
            Self::Fields(fields) => {
                fields.iter().find(|(other, _)| other == name).map(|(_, inner)| inner)
            }
            _ => None,
        }
    }

    /// What this is, in words with an article.
    pub fn kind(&self) -> &'static str {
        match self {
            Self::Null => "nothing",
            Self::Bool(_) => "true or false",
            Self::Number(_) => "a number",
            Self::Text(_) => "a text",
            Self::List(_) => "a list",
            Self::Fields(_) => "an object",
        }
    }

    /// An object with these fields.
    pub fn fields<const N: usize>(fields: [(&str, Value); N]) -> Self {
        Self::Fields(fields.map(|(name, value)| (name.to_owned(), value)).into())
    }

    /// A text.
    pub fn text(text: impl Into<String>) -> Self {
        Self::Text(text.into())
    }

    /// Fills a value from any self-describing source.
    ///
    /// # Errors
    /// [`Error::Malformed`], with the path of the place, if the source is not
    /// well formed, names a field twice, holds what no form holds (bytes,
    /// functions), an integer that no `f64` equals, or more than the limits of
    /// this module allow.
    pub fn fill<'de, D: Deserializer<'de>>(source: D) -> Result<Self, Error> {
        let mut filling = Filling { path: Vec::new(), n_values: 0, refusal: None };
        Seed(&mut filling).deserialize(source).map_err(|error| {
            filling.refusal.take().unwrap_or_else(|| filling.refuse(shorten(&error.to_string())))
        })
    }
}

impl From<f64> for Value {
    fn from(number: f64) -> Self {
        Self::Number(number)
    }
}

impl Serialize for Value {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        match self {
            Self::Null => serializer.serialize_unit(),
            Self::Bool(truth) => serializer.serialize_bool(*truth),
            Self::Number(number) => serializer.serialize_f64(*number),
            Self::Text(text) => serializer.serialize_str(text),
            Self::List(list) => serializer.collect_seq(list),
            Self::Fields(fields) => {
                let mut map = serializer.serialize_map(Some(fields.len()))?;
                for (name, value) in fields {
                    map.serialize_entry(name, value)?;
                }
                map.end()
            }
        }
    }
}

/// One step of the way from the root to a value.
enum Step {
    Field(String),
    Entry(usize),
}

/// What is known while a value is being filled.
struct Filling {
    path: Vec<Step>,
    n_values: usize,
    /// Why the filling stopped, if it was for a rule of ours: the source's own
    /// error type can only carry text.
    refusal: Option<Error>,
}

impl Filling {
    #[cold]
    #[inline(never)]
    fn refuse(&self, rule: impl Into<String>) -> Error {
        let mut path = String::new();
        for step in &self.path {
            path = match step {
                Step::Field(name) => join(&path, name),
                Step::Entry(idx) => format!("{path}[{idx}]"),
            };
        }
        Error::malformed(or_form(&path), rule)
    }

    /// Notes a refusal at the present path, and gives what the source wants to hear.
    #[cold]
    #[inline(never)]
    fn stop<E: serde::de::Error>(&mut self, rule: impl Into<String>) -> E {
        let refusal = self.refuse(rule);
        let text = refusal.to_string();
        self.refusal = Some(refusal);
        E::custom(text)
    }
}

/// The path of a field inside the part at `path`.
#[inline(never)]
pub(super) fn join(path: &str, name: &str) -> String {
    let plain = !name.is_empty() && name.bytes().all(|b| b.is_ascii_alphanumeric() || b == b'_');
    match (path.is_empty(), plain) {
        (true, true) => name.to_owned(),
        (false, true) => format!("{path}.{name}"),
        (_, false) => format!("{path}[{name:?}]"),
    }
}

/// `path`, or a word for the whole form.
pub(super) fn or_form(path: &str) -> String {
    if path.is_empty() { "form".to_owned() } else { path.to_owned() }
}

/// The beginning of a text of unknown length and content, fit for a message.
#[cold]
#[inline(never)]
pub(super) fn shorten(text: &str) -> String {
    const MOST: usize = 160;
    let mut short: String =
        text.chars().take(MOST).map(|c| if c.is_control() { ' ' } else { c }).collect();
    if text.chars().nth(MOST).is_some() {
        short.push('…');
    }
    short
}

/// What a form may hold, in words.
const TAKEN: &str = "a number, a text, true or false, a list or a plain object";

struct Seed<'a>(&'a mut Filling);

impl<'de> DeserializeSeed<'de> for Seed<'_> {
    type Value = Value;

    fn deserialize<D: Deserializer<'de>>(self, source: D) -> Result<Value, D::Error> {
        self.0.n_values += 1;
        if self.0.n_values > MOST_VALUES {
            let rule = format!("the form holds more than {MOST_VALUES} values");
            return Err(self.0.stop(rule));
        }
        source.deserialize_any(self)
    }
}

impl Seed<'_> {
    fn descend<E: serde::de::Error>(&mut self) -> Result<(), E> {
        if self.0.path.len() < DEEPEST {
            return Ok(());
        }
        // The place is as deep as its path is long: name its first steps only.
        self.0.path.truncate(3);
        Err(self.0.stop(format!("nested more than {DEEPEST} levels deep, or inside itself")))
    }

    fn integer<E: serde::de::Error>(self, integer: i128) -> Result<Value, E> {
        let number = integer as f64;
        if number as i128 == integer {
            return Ok(Value::Number(number));
        }
        Err(self.0.stop(format!("{integer} has more digits than a number here can keep")))
    }
}

impl<'de> Visitor<'de> for Seed<'_> {
    type Value = Value;

    fn expecting(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(TAKEN)
    }

    fn visit_unit<E>(self) -> Result<Value, E> {
        Ok(Value::Null)
    }

    fn visit_bool<E>(self, truth: bool) -> Result<Value, E> {
        Ok(Value::Bool(truth))
    }

    fn visit_f64<E>(self, number: f64) -> Result<Value, E> {
        Ok(Value::Number(number))
    }

    fn visit_i64<E: serde::de::Error>(self, integer: i64) -> Result<Value, E> {
        self.integer(integer.into())
    }

    fn visit_u64<E: serde::de::Error>(self, integer: u64) -> Result<Value, E> {
        self.integer(integer.into())
    }

    fn visit_str<E: serde::de::Error>(self, text: &str) -> Result<Value, E> {
        if text.len() > LONGEST_STRING {
            return Err(self.0.stop(format!("a text of more than {LONGEST_STRING} bytes")));
        }
        Ok(Value::Text(text.to_owned()))
    }

    fn visit_bytes<E: serde::de::Error>(self, bytes: &[u8]) -> Result<Value, E> {
        // Not `invalid_type`: it can tell of floats, so all of serde_json's own
        // writing of them would come along.
        Err(E::custom(format_args!("invalid type: {} raw bytes, expected {TAKEN}", bytes.len())))
    }

    fn visit_seq<A: SeqAccess<'de>>(mut self, mut source: A) -> Result<Value, A::Error> {
        self.descend()?;
        let mut list = Vec::new();
        loop {
            self.0.path.push(Step::Entry(list.len()));
            let entry = source.next_element_seed(Seed(self.0))?;
            // Not reached after an error: then the path stays where it happened.
            self.0.path.pop();
            let Some(entry) = entry else { return Ok(Value::List(list)) };
            if list.len() == LONGEST_LIST {
                return Err(self.0.stop(format!("a list of more than {LONGEST_LIST} entries")));
            }
            list.push(entry);
        }
    }

    fn visit_map<A: MapAccess<'de>>(mut self, mut source: A) -> Result<Value, A::Error> {
        self.descend()?;
        let mut fields: Vec<(String, Value)> = Vec::new();
        while let Some(name) = source.next_key_seed(Name(self.0))? {
            let twice = fields.iter().any(|(other, _)| *other == name);
            self.0.path.push(Step::Field(name.clone()));
            if twice {
                return Err(self.0.stop("given twice"));
            }
            if fields.len() == MOST_FIELDS {
                return Err(self.0.stop(format!("an object of more than {MOST_FIELDS} fields")));
            }
            let value = source.next_value_seed(Seed(self.0))?;
            self.0.path.pop();
            fields.push((name, value));
        }
        Ok(Value::Fields(fields))
    }
}

/// The name of a field.
struct Name<'a>(&'a mut Filling);

impl<'de> DeserializeSeed<'de> for Name<'_> {
    type Value = String;

    fn deserialize<D: Deserializer<'de>>(self, source: D) -> Result<String, D::Error> {
        source.deserialize_str(self)
    }
}

impl Visitor<'_> for Name<'_> {
    type Value = String;

    fn expecting(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str("the name of a field")
    }

    fn visit_str<E: serde::de::Error>(self, name: &str) -> Result<String, E> {
        if name.len() > LONGEST_NAME {
            return Err(self.0.stop(format!("a field's name of more than {LONGEST_NAME} bytes")));
        }
        Ok(name.to_owned())
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn paths_quote_names_that_are_no_words() {
        assert_eq!(join("", "stroke"), "stroke");
        assert_eq!(join("stroke", "speed"), "stroke.speed");
        assert_eq!(join("stroke", "a.b\n"), r#"stroke["a.b\n"]"#);
        assert_eq!(join("", ""), r#"[""]"#);
    }

    #[test]
    fn messages_do_not_repeat_everything_they_were_given() {
        assert_eq!(shorten("a\u{7}b"), "a b", "control characters are spaces");
        assert_eq!(shorten(&"é".repeat(161)).chars().count(), 161, "160 and the dots");
        assert_eq!(shorten(&"é".repeat(160)).chars().count(), 160, "all of it");
    }

    #[test]
    fn only_integers_that_a_number_can_keep_are_taken() {
        let fill = |integer: u64| Value::fill(serde_json::Value::from(integer));
        assert_eq!(fill(1 << 53), Ok(Value::Number((1u64 << 53) as f64)));
        assert!(fill((1 << 53) + 1).is_err(), "one more would be rounded");
        assert_eq!(fill(1 << 60), Ok(Value::Number((1u64 << 60) as f64)), "a power of two is kept");
        assert!(fill(u64::MAX).is_err(), "and the largest is not");
    }
}
