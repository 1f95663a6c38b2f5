//! The one public error: what was wrong, where, and which rule it broke.

use std::fmt;

/// Why something from outside was refused.
///
/// Every variant names the field as a path from the root of the form
/// (`stroke.speed`, `balls[2].x`) and the rule in a short sentence.
#[derive(Clone, Debug, PartialEq)]
#[non_exhaustive]
pub enum Error {
    /// A number lies outside the range that its field accepts.
    OutOfRange {
        /// Path of the field.
        field: String,
        /// The value given.
        value: f64,
        /// The range, in words.
        rule: String,
    },
    /// A value that is well formed breaks a rule together with others.
    Invalid {
        /// Path of the field.
        field: String,
        /// The rule it broke.
        rule: String,
    },
    /// A form could not be read: wrong type, unknown or missing field, bad text.
    Malformed {
        /// Path of the field, or the name of the form.
        field: String,
        /// What was expected.
        rule: String,
    },
    /// A form or a link was made by a version that this one does not know.
    Version {
        /// Path of the field.
        field: String,
        /// The version found.
        found: f64,
        /// What this version reads, in words.
        rule: String,
    },
}

// Cold, because a form is read much more often than it is refused: what leads
// here is then compiled to be small.
impl Error {
    /// An [`Error::OutOfRange`].
    #[cold]
    #[inline(never)]
    pub fn out_of_range(field: impl Into<String>, value: f64, rule: impl Into<String>) -> Self {
        Self::OutOfRange { field: field.into(), value, rule: rule.into() }
    }

    /// An [`Error::Invalid`].
    #[cold]
    #[inline(never)]
    pub fn invalid(field: impl Into<String>, rule: impl Into<String>) -> Self {
        Self::Invalid { field: field.into(), rule: rule.into() }
    }

    /// An [`Error::Malformed`].
    #[cold]
    #[inline(never)]
    pub fn malformed(field: impl Into<String>, rule: impl Into<String>) -> Self {
        Self::Malformed { field: field.into(), rule: rule.into() }
    }

    /// The path of the field that was refused.
    pub fn field(&self) -> &str {
        match self {
            Self::OutOfRange { field, .. }
            | Self::Invalid { field, .. }
            | Self::Malformed { field, .. }
            | Self::Version { field, .. } => field,
        }
    }

    /// The rule that was broken, in words.
    pub fn rule(&self) -> &str {
        match self {
            Self::OutOfRange { rule, .. }
            | Self::Invalid { rule, .. }
            | Self::Malformed { rule, .. }
            | Self::Version { rule, .. } => rule,
        }
    }

    /// The same error with `prefix` put before the path of its field, so that a
    /// part can be checked without knowing where in a form it stands.
    #[must_use]
    #[cold]
    #[inline(never)]
    pub fn within(mut self, prefix: &str) -> Self {
        match &mut self {
            Self::OutOfRange { field, .. }
            | Self::Invalid { field, .. }
            | Self::Malformed { field, .. }
            | Self::Version { field, .. } => {
                let dot = if field.is_empty() || field.starts_with('[') { "" } else { "." };
                *field = format!("{prefix}{dot}{field}");
            }
        }
        self
    }
}

impl fmt::Display for Error {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::OutOfRange { field, value, rule } => write!(f, "{field} is {value}: {rule}"),
            Self::Invalid { field, rule } | Self::Malformed { field, rule } => {
                write!(f, "{field}: {rule}")
            }
            Self::Version { field, found, rule } => write!(f, "{field} is {found}: {rule}"),
        }
    }
}

impl std::error::Error for Error {}
