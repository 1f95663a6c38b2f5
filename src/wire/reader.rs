//! The one strict reader: fields by name, each with its type, nothing else.
//!
//! What every field passes through is kept out of line: with some sixty fields,
//! a copy at each would be a good part of the whole program.

use super::value::{Value, join, or_form, shorten};
use crate::error::Error;

/// An object that is being read, and where it stands in the whole form.
///
/// Opening it refuses every field whose name is not known, so a reader cannot
/// forget to.
pub struct Form<'a> {
    path: String,
    fields: &'a [(String, Value)],
    known: &'static [&'static str],
}

impl<'a> Form<'a> {
    /// Opens the object `value` at `path`, which may have the `known` fields.
    ///
    /// # Errors
    /// [`Error::Malformed`] if it is no object or has any other field.
    pub fn open(
        value: &'a Value,
        path: &str,
        known: &'static [&'static str],
    ) -> Result<Self, Error> {
        let form = Self::of(value, path, known)?;
        form.refuse_unknown()?;
        Ok(form)
    }

    /// Opens an object whose field `version` must be 1, as [`Form::open_version`].
    ///
    /// # Errors
    /// As [`Form::open_version`].
    pub fn open_version_1(
        value: &'a Value,
        path: &str,
        known: &'static [&'static str],
    ) -> Result<Self, Error> {
        Self::open_version(value, path, known, 1)
    }

    /// Opens an object whose field `version` must be `version`.
    ///
    /// # Errors
    /// [`Error::Version`] if a newer version made it, said before anything else:
    /// the fields that this version does not know are then no mistake. Else as
    /// [`Form::open`].
    pub fn open_version(
        value: &'a Value,
        path: &str,
        known: &'static [&'static str],
        version: u32,
    ) -> Result<Self, Error> {
        let form = Self::of(value, path, known)?;
        form.version("version", version)?;
        form.refuse_unknown()?;
        Ok(form)
    }

    /// Opens an object whose fields are looked at one by one, the unknown ones by
    /// [`unknown`](Self::unknown).
    ///
    /// # Errors
    /// [`Error::Malformed`] if it is no object.
    #[inline(never)]
    pub(super) fn of(
        value: &'a Value,
        path: &str,
        known: &'static [&'static str],
    ) -> Result<Self, Error> {
        let Value::Fields(fields) = value else {
            let rule = format!("must be an object with {}, not {}", known.join(", "), value.kind());
            return Err(Error::malformed(or_form(path), rule));
        };
        Ok(Self { path: path.to_owned(), fields, known })
    }

    fn refuse_unknown(&self) -> Result<(), Error> {
        self.unknown().into_iter().next().map_or(Ok(()), Err)
    }

    /// The refusals of all fields that are not known.
    #[inline(never)]
    pub(super) fn unknown(&self) -> Vec<Error> {
        let strange = self.fields.iter().filter(|(name, _)| !self.known.contains(&name.as_str()));
        let rule = || format!("unknown field; known are {}", self.known.join(", "));
        strange.map(|(name, _)| Error::malformed(self.path_of(name), rule())).collect()
    }

    /// The path of one of its fields.
    #[inline(never)]
    pub fn path_of(&self, name: &str) -> String {
        join(&self.path, name)
    }

    /// What the field holds, null included; `None` if it was not given.
    #[inline(never)]
    fn given(&self, name: &str) -> Option<&'a Value> {
        debug_assert!(self.known.contains(&name), "{name} is read but not listed as known");
        self.fields.iter().find(|(other, _)| other == name).map(|(_, value)| value)
    }

    /// A field that must be given.
    ///
    /// # Errors
    /// [`Error::Malformed`] if it is missing.
    #[inline(never)]
    pub fn value(&self, name: &str) -> Result<&'a Value, Error> {
        self.given(name).ok_or_else(|| Error::malformed(self.path_of(name), "must be given"))
    }

    /// A field that may be left out, or be null to the same effect.
    pub fn optional(&self, name: &str) -> Option<&'a Value> {
        self.given(name).filter(|value| !matches!(value, Value::Null))
    }

    /// A field that may be left out but not be null: null is what becomes of a
    /// NaN in JSON, and must not stand for a default.
    pub fn override_of(&self, name: &str) -> Option<&'a Value> {
        self.given(name)
    }

    /// A finite number; zero has no sign.
    ///
    /// # Errors
    /// [`Error::Malformed`] if missing or no number, [`Error::OutOfRange`] if
    /// NaN or infinite.
    #[inline(never)]
    pub fn number(&self, name: &str) -> Result<f64, Error> {
        number(self.value(name)?, &self.path_of(name))
    }

    /// A whole number from `least` to `most`.
    ///
    /// # Errors
    /// As [`Form::number`]; [`Error::OutOfRange`] outside the range.
    pub fn integer(&self, name: &str, least: u32, most: u32) -> Result<u32, Error> {
        let number = self.number(name)?;
        if number.fract() == 0.0 && (f64::from(least)..=f64::from(most)).contains(&number) {
            return Ok(number as u32);
        }
        let rule = format!("must be a whole number from {least} to {most}");
        Err(Error::out_of_range(self.path_of(name), number, rule))
    }

    /// A version number, which must be `latest` (the first is 1).
    ///
    /// # Errors
    /// [`Error::Version`] if it is later; as [`Form::number`], or
    /// [`Error::Malformed`] if it is no version at all.
    pub fn version(&self, name: &str, latest: u32) -> Result<(), Error> {
        let found = self.number(name)?;
        if found == f64::from(latest) {
            return Ok(());
        }
        let field = self.path_of(name);
        if found.fract() == 0.0 && found > f64::from(latest) {
            return Err(newer(field, found));
        }
        Err(Error::out_of_range(field, found, format!("must be {latest}")))
    }

    /// A version number up to `latest`, the first being 1.
    ///
    /// # Errors
    /// [`Error::Version`] if it is later; as [`Form::integer`] if it is no version.
    pub fn version_up_to(&self, name: &str, latest: u32) -> Result<u32, Error> {
        let found = self.number(name)?;
        if found.fract() == 0.0 && found > f64::from(latest) {
            return Err(newer(self.path_of(name), found));
        }
        self.integer(name, 1, latest)
    }

    /// True or false.
    ///
    /// # Errors
    /// [`Error::Malformed`] if missing or anything else.
    pub fn truth(&self, name: &str) -> Result<bool, Error> {
        match self.value(name)? {
            Value::Bool(truth) => Ok(*truth),
            other => Err(wrong_kind(self.path_of(name), "true or false", other)),
        }
    }

    /// A text.
    ///
    /// # Errors
    /// [`Error::Malformed`] if missing or anything else.
    #[inline(never)]
    pub fn text(&self, name: &str) -> Result<&'a str, Error> {
        match self.value(name)? {
            Value::Text(text) => Ok(text),
            other => Err(wrong_kind(self.path_of(name), "a text", other)),
        }
    }

    /// One of the names that `name_of` gives to `all`.
    ///
    /// # Errors
    /// [`Error::Malformed`] if missing, no text, or none of them.
    pub fn choice<T: Copy>(
        &self,
        name: &str,
        all: &[T],
        name_of: fn(T) -> &'static str,
    ) -> Result<T, Error> {
        let text = self.text(name)?;
        all.iter().copied().find(|&one| name_of(one) == text).ok_or_else(|| {
            let names: Vec<_> = all.iter().map(|&one| name_of(one)).collect();
            let rule = format!("must be one of {}, not {:?}", names.join(", "), shorten(text));
            Error::malformed(self.path_of(name), rule)
        })
    }

    /// A list of `least` to `most` entries, each with its path.
    ///
    /// # Errors
    /// [`Error::Malformed`] if missing or no list, [`Error::OutOfRange`] if it
    /// has too few or too many entries.
    pub fn list(
        &self,
        name: &str,
        least: usize,
        most: usize,
    ) -> Result<impl Iterator<Item = (&'a Value, String)>, Error> {
        let path = self.path_of(name);
        let list = match self.value(name)? {
            Value::List(list) => list,
            other => return Err(wrong_kind(path, "a list", other)),
        };
        if !(least..=most).contains(&list.len()) {
            let rule = format!("must have {least} to {most} entries");
            return Err(Error::out_of_range(path + ".length", list.len() as f64, rule));
        }
        Ok(list.iter().enumerate().map(move |(k, entry)| (entry, format!("{path}[{k}]"))))
    }
}

/// The finite number `value`, given at `path`.
///
/// # Errors
/// As [`Form::number`].
#[inline(never)]
pub fn number(value: &Value, path: &str) -> Result<f64, Error> {
    match value {
        Value::Number(number) if number.is_finite() => Ok(number + 0.0),
        Value::Number(number) => Err(Error::out_of_range(path, *number, "must be a finite number")),
        other => Err(wrong_kind(path.to_owned(), "a number", other)),
    }
}

/// What to say of a form or link that a later version made.
#[cold]
#[inline(never)]
pub(super) fn newer(field: String, found: f64) -> Error {
    let rule = "made by a newer version of this page: reload the page to get that version";
    Error::Version { field, found, rule: rule.to_owned() }
}

#[cold]
#[inline(never)]
fn wrong_kind(field: String, wanted: &str, found: &Value) -> Error {
    Error::malformed(field, format!("must be {wanted}, not {}", found.kind()))
}
