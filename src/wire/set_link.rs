//! Links to sets, and the score that a sender claims.

use super::LONGEST_LINK;
use super::link::{SET, envelop, one_version, refuse, unfold};
use super::reader::Form;
use super::set::{find_set, read_claim, read_set, write_set};
use super::sets::{FoundSetForm, write_found};
use super::text::compact;
use super::value::Value;
use crate::error::Error;
use serde::Serialize;

/// Makes the link to the set of a text, with the score that its sender claims (0 to 100).
///
/// # Errors
/// As [`read_set`]; [`Error::Malformed`] if it would be longer than [`LONGEST_LINK`];
/// [`Error::OutOfRange`] for a score that there is not.
pub fn make_set_link(text: &str, claimed: Option<f64>) -> Result<String, Error> {
    let mut fields = vec![("set".to_owned(), write_set(&read_set(text)?))];
    if let Some(claimed) = claimed {
        let wish = Value::fields([("claimed", claimed.into())]);
        read_claim(&Form::open(&wish, "", &["claimed"])?)?;
        fields.push(("claimed".to_owned(), claimed.into()));
    }
    let link = envelop(SET, &Value::Fields(fields))?;
    if link.len() > LONGEST_LINK {
        let rule = format!("a link to this set would be longer than {LONGEST_LINK} characters");
        return Err(refuse(rule));
    }
    Ok(link)
}

/// What was found in a link to a set.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct OpenedSetForm {
    set: FoundSetForm,
    claimed: Option<u8>,
}

/// Opens a link to a set, as [`open`](super::open) does those to items.
///
/// # Errors
/// As [`open`](super::open); what is wrong with the set itself is part of the reply.
pub fn open_set_link(text: &str) -> Result<OpenedSetForm, Error> {
    let opened = unfold(&[SET], text).and_then(|(_, value)| {
        let form = Form::open(&value, "", &["set", "claimed"])?;
        let set = write_found(&find_set(&compact(form.value("set")?)?));
        Ok(OpenedSetForm { set, claimed: read_claim(&form)? })
    });
    opened.map_err(one_version)
}
