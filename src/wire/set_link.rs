//! Links to sets, and the score that a sender claims.
//!
//! The text is `set=2.PAYLOAD.CHECK`, as links to items are; there is no version 1. The bits
//! are those of the set: whether a score is claimed and which, title and note, what counts as
//! passed, and each entry's title, note, item as in a link of its own, and stroke, if any.
//! A text is its length in bytes and those.

use super::bits::Bits;
use super::envelope::{envelop, one_version, refuse, unfold};
use super::item_bits;
use super::link::LINK_VERSION;
use super::set::{find_set, read_claim, read_set, write_set};
use super::sets::{FoundSetForm, write_found};
use super::text::compact;
use super::value::Value;
use super::{Form, LONGEST_LINK};
use crate::error::Error;
use crate::practice::set::{Entry, ItemSet, Pass};
use serde::Serialize;

/// The kind of text that carries a set.
const SET: &str = "set";

/// Bits of a claimed score, of a mark, and of a number of items.
const OF_HUNDRED: u32 = 7;
const OF_ITEMS: u32 = 6;

/// Makes the link to the set of a text, with the score that its sender claims (0 to 100).
///
/// # Errors
/// As [`read_set`]; [`Error::Malformed`] if it would be longer than [`LONGEST_LINK`];
/// [`Error::OutOfRange`] for a score that there is not.
pub fn make_set_link(text: &str, claimed: Option<f64>) -> Result<String, Error> {
    let set = read_set(text)?;
    let claimed = match claimed {
        Some(claimed) => {
            let wish = Value::fields([("claimed", claimed.into())]);
            read_claim(&Form::open(&wish, "", &["claimed"])?)?
        }
        None => None,
    };
    let mut bits = Bits::to_write();
    whole_set(&mut bits, Some((&set, claimed)))?;
    let link = envelop(SET, LINK_VERSION, &bits.written());
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
    let opened = unfold(&[SET], LINK_VERSION, text).and_then(|whole| {
        let mut bits = Bits::of(&whole.bytes);
        let (set, claimed) = whole_set(&mut bits, None)?;
        bits.end()?;
        // What was packed is read as a file would be: one strict reader for both.
        let found = find_set(&compact(&write_set(&set))?);
        Ok(OpenedSetForm { set: write_found(&found), claimed })
    });
    opened.map_err(one_version)
}

/// A set and the score that is claimed.
fn whole_set(
    bits: &mut Bits,
    given: Option<(&ItemSet, Option<u8>)>,
) -> Result<(ItemSet, Option<u8>), Error> {
    let claimed = given.and_then(|(_, claimed)| claimed);
    let claimed = bits.optional(claimed.as_ref(), |bits, claimed| {
        Ok(bits.whole(claimed.map(|score| u64::from(*score)), OF_HUNDRED)? as u8)
    })?;
    let set = given.map(|(set, _)| set);
    let title = words(bits, set.map(|set| set.title.as_str()))?;
    let note = words(bits, set.map(|set| set.note.as_str()))?;
    let mark = bits.whole(set.map(|set| u64::from(set.pass.mark)), OF_HUNDRED)? as u8;
    let need = bits.whole(set.map(|set| u64::from(set.pass.need)), OF_ITEMS)? as u8;
    let entries = bits.list(set.map(|set| set.entries.as_slice()), OF_ITEMS, entry)?;
    Ok((ItemSet { title, note, pass: Pass { mark, need }, entries }, claimed))
}

fn entry(bits: &mut Bits, given: Option<&Entry>) -> Result<Entry, Error> {
    let title = words(bits, given.map(|entry| entry.title.as_str()))?;
    let note = words(bits, given.map(|entry| entry.note.as_str()))?;
    let item = item_bits::item(bits, given.map(|entry| &entry.item))?;
    let stroke = given.and_then(|entry| entry.stroke);
    let stroke = bits.optional(stroke.as_ref(), item_bits::stroke)?;
    Ok(Entry { title, note, item, stroke })
}

/// A text.
fn words(bits: &mut Bits, given: Option<&str>) -> Result<String, Error> {
    let n_bytes = bits.small(given.map(|text| text.len() as u32))? as usize;
    let mut bytes = Vec::new();
    for k in 0..n_bytes {
        let byte = given.and_then(|text| text.as_bytes().get(k));
        bytes.push(bits.whole(byte.map(|byte| u64::from(*byte)), 8)? as u8);
    }
    String::from_utf8(bytes).map_err(|_| refuse("holds what is no text"))
}
