//! Links: an item, and perhaps its sender's call, as text that survives
//! messengers or says that it did not.
//!
//! The text is `read=1.PAYLOAD.CHECK`, the part of an address after `#`: the
//! kind and the link's version, compact JSON `{"item":...,"call":...}` (of kind
//! `leave`, `{"item":...,"answer":...}`; of kind `clear`, `{"item":...}`) in base64url without padding (RFC 4648, section 5), and the CRC-32 (IEEE) of
//! everything before its dot, as six characters of base64url. Every version
//! ends with that check, so a newer link is told apart from an altered one.

use super::answer::{read_answer, write_answer};
use super::clear_item::{read_clear_item_as, write_clear_item};
use super::item::{
    read_call, read_item_as, read_leave_item_as, write_call, write_item, write_leave_item,
};
use super::reader::{Form, newer};
use super::text::{compact, parse};
use super::value::Value;
use crate::error::Error;
use crate::physics::MODEL_VERSION;
use crate::practice::{Call, ClearItem, LeaveAnswer, LeaveItem, ReadItem};
use base64::Engine;
use base64::engine::general_purpose::URL_SAFE_NO_PAD as BASE64URL;
use crc::{CRC_32_ISO_HDLC, Crc};
use percent_encoding::percent_decode_str;

/// Version of the link.
pub const LINK_VERSION: u32 = 1;

/// The longest link that is made or read, bytes, without the address before it.
pub const LONGEST_LINK: usize = 8 * 1024;

/// The longest text in which a link is looked for, bytes.
pub const LONGEST_TEXT: usize = 4 * LONGEST_LINK;

/// The field of a refusal because a newer version made the link.
const LINK_VERSION_FIELD: &str = "link version";

/// Characters of the check.
const CHECK_LENGTH: usize = 6;

/// One table of 1 kB; crates that are faster ship 16 kB of tables.
const CRC_32: Crc<u32> = Crc::<u32>::new(&CRC_32_ISO_HDLC);

/// The kind of text that carries an item.
const READ: &str = "read";

/// The kind of text that carries a call which is not to be seen yet.
const CALL: &str = "call";

/// The kind of text that carries a Leave item.
const LEAVE: &str = "leave";

/// The kind of text that carries a Clear item.
const CLEAR: &str = "clear";

/// The kind of text that carries a set.
pub(super) const SET: &str = "set";

/// The kind of text that carries the answer to one which is not to be seen yet.
const ANSWER: &str = "answer";

/// What a link of any kind held.
#[derive(Clone, Debug, PartialEq)]
pub enum AnyOpened {
    /// A Read item.
    Read(Opened),
    /// A Leave item.
    Leave(OpenedLeave),
    /// A Clear item: its sender's run is not sent along.
    Clear(ClearItem),
}

/// What a link to a Leave item held.
#[derive(Clone, Debug, PartialEq)]
pub struct OpenedLeave {
    /// The item.
    pub item: LeaveItem,
    /// The sender's answer, sealed; see [`unseal_answer`].
    pub sealed: Option<String>,
}

/// What a link held.
#[derive(Clone, Debug, PartialEq)]
pub struct Opened {
    /// The item.
    pub item: ReadItem,
    /// The sender's call, as text that is handed on unread until the receiver
    /// has called too; see [`unseal`].
    pub sealed: Option<String>,
}

/// Makes the link for an item, without `#` or an address before it.
///
/// # Errors
/// [`Error::Malformed`] if it would be longer than [`LONGEST_LINK`].
pub fn make(item: &ReadItem, call: Option<&Call>) -> Result<String, Error> {
    let mut fields = vec![("item".to_owned(), write_item(item))];
    if let Some(call) = call {
        fields.push(("call".to_owned(), write_call(call)));
    }
    linked(READ, fields)
}

/// Makes the link for a Leave item.
///
/// # Errors
/// As [`make`].
pub fn make_leave(item: &LeaveItem, answer: Option<&LeaveAnswer>) -> Result<String, Error> {
    let mut fields = vec![("item".to_owned(), write_leave_item(item))];
    if let Some(answer) = answer {
        fields.push(("answer".to_owned(), write_answer(answer)));
    }
    linked(LEAVE, fields)
}

/// Makes the link for a Clear item.
///
/// # Errors
/// As [`make`].
pub fn make_clear(item: &ClearItem) -> Result<String, Error> {
    linked(CLEAR, vec![("item".to_owned(), write_clear_item(item))])
}

fn linked(kind: &str, fields: Vec<(String, Value)>) -> Result<String, Error> {
    let link = envelop(kind, &Value::Fields(fields))?;
    if link.len() > LONGEST_LINK {
        return Err(refuse(format!("would be longer than {LONGEST_LINK} characters")));
    }
    Ok(link)
}

/// Opens a link: the whole address, the part after `#`, or a message that has
/// one of them in it.
///
/// What messengers do to links is undone where the check proves that nothing
/// was lost: percent encoding, line breaks and invisible characters inside,
/// brackets, punctuation and other words around.
///
/// # Errors
/// [`Error::Malformed`] if there is no link, it is too long, cut off or
/// altered; [`Error::Version`] with the field `link version` if a newer version
/// of the link, of a form in it or of the model made it; as [`read_item_as`] and
/// [`read_call`] if it is whole but its content is not sound.
pub fn open(text: &str) -> Result<Opened, Error> {
    open_as(MODEL_VERSION, text)
}

/// Opens a link as version `now` of the model does.
///
/// # Errors
/// As [`open`].
pub fn open_as(now: u32, text: &str) -> Result<Opened, Error> {
    unfold(&[READ], text).and_then(|(_, value)| read(now, &value)).map_err(one_version)
}

/// Opens a link of any kind, the first whole one of its text; as [`open`].
///
/// # Errors
/// As [`open`].
pub fn open_any(text: &str) -> Result<AnyOpened, Error> {
    open_any_as(MODEL_VERSION, text)
}

/// Opens a link of any kind as version `now` of the model does.
///
/// # Errors
/// As [`open`].
pub fn open_any_as(now: u32, text: &str) -> Result<AnyOpened, Error> {
    let opened = unfold(&[READ, LEAVE, CLEAR], text).and_then(|(kind, value)| {
        if kind == READ {
            return read(now, &value).map(AnyOpened::Read);
        }
        if kind == CLEAR {
            let form = Form::open(&value, "", &["item"])?;
            return read_clear_item_as(now, form.value("item")?, "item").map(AnyOpened::Clear);
        }
        let form = Form::open(&value, "", &["item", "answer"])?;
        let item = read_leave_item_as(now, form.value("item")?, "item")?;
        let sealed = match form.optional("answer") {
            Some(answer) => Some(seal_answer(&read_answer(answer, "answer")?)?),
            None => None,
        };
        Ok(AnyOpened::Leave(OpenedLeave { item, sealed }))
    });
    opened.map_err(one_version)
}

/// Who opens a link has one question, whichever part of it is the newer one.
pub(super) fn one_version(error: Error) -> Error {
    match error {
        Error::Version { found, rule, .. } => {
            Error::Version { field: LINK_VERSION_FIELD.to_owned(), found, rule }
        }
        other => other,
    }
}

fn read(now: u32, value: &Value) -> Result<Opened, Error> {
    let form = Form::open(value, "", &["item", "call"])?;
    let item = read_item_as(now, form.value("item")?, "item")?;
    let sealed = match form.optional("call") {
        Some(call) => Some(seal(&read_call(call, "call")?)?),
        None => None,
    };
    Ok(Opened { item, sealed })
}

/// Puts a call into text that cannot be read at a glance.
///
/// # Errors
/// None for a call whose numbers are finite.
pub fn seal(call: &Call) -> Result<String, Error> {
    envelop(CALL, &write_call(call))
}

/// Reads a sealed call.
///
/// # Errors
/// As [`open`].
pub fn unseal(sealed: &str) -> Result<Call, Error> {
    read_call(&unfold(&[CALL], sealed)?.1, "call")
}

/// Puts an answer into text that cannot be read at a glance.
///
/// # Errors
/// None for an answer whose numbers are finite.
pub fn seal_answer(answer: &LeaveAnswer) -> Result<String, Error> {
    envelop(ANSWER, &write_answer(answer))
}

/// Reads a sealed answer.
///
/// # Errors
/// As [`open`].
pub fn unseal_answer(sealed: &str) -> Result<LeaveAnswer, Error> {
    read_answer(&unfold(&[ANSWER], sealed)?.1, "answer")
}

pub(super) fn envelop(kind: &str, value: &Value) -> Result<String, Error> {
    let payload = BASE64URL.encode(compact(value)?);
    let body = format!("{kind}={LINK_VERSION}.{payload}");
    let check = check_of(&body);
    Ok(format!("{body}.{check}"))
}

fn check_of(body: &str) -> String {
    BASE64URL.encode(CRC_32.checksum(body.as_bytes()).to_be_bytes())
}

pub(super) fn refuse(rule: impl Into<String>) -> Error {
    Error::malformed("link", rule)
}

/// The kind of the first whole text of one of these `kinds` anywhere in `text`, and the
/// value inside.
pub(super) fn unfold<'a>(kinds: &[&'a str], text: &str) -> Result<(&'a str, Value), Error> {
    if text.len() > LONGEST_TEXT {
        return Err(refuse("the text is too long to be a link"));
    }
    let plain = percent_decoded(text);
    let unbroken: String =
        plain.chars().filter(|c| !c.is_whitespace() && !is_invisible(*c)).collect();
    let mut worst = refuse("there is no link in this text: paste the whole of it");
    for text in [plain, unbroken] {
        let begins = |&at: &usize| kinds.iter().find(|kind| text[..at].ends_with(**kind));
        let equals = text.match_indices('=').map(|(at, _)| at);
        for (at, kind) in equals.filter_map(|at| begins(&at).map(|kind| (at - kind.len(), *kind))) {
            match whole_part(&text[at..]) {
                Part::Whole { version: LINK_VERSION, payload } => {
                    return Ok((kind, read_payload(payload)?));
                }
                Part::Whole { version, .. } => {
                    return Err(newer(LINK_VERSION_FIELD.to_owned(), f64::from(version)));
                }
                Part::TooLong => {
                    worst = refuse(format!("is longer than {LONGEST_LINK} characters"));
                }
                Part::Altered => worst = refuse(ALTERED),
            }
        }
    }
    Err(worst)
}

const ALTERED: &str = "the link is cut off or altered: ask for it again";

enum Part<'a> {
    Whole { version: u32, payload: &'a str },
    Altered,
    TooLong,
}

/// Checks the text `kind=VERSION.PAYLOAD.CHECK` that `text` begins with; what
/// follows the check is not part of it.
fn whole_part(text: &str) -> Part<'_> {
    let Some((version, rest)) = text.split_once('=').and_then(|(_, rest)| rest.split_once('.'))
    else {
        return Part::Altered;
    };
    let Some((payload, after)) = rest.split_once('.') else { return Part::Altered };
    let body = &text[..text.len() - after.len() - 1];
    if body.len() + 1 + CHECK_LENGTH > LONGEST_LINK {
        return Part::TooLong;
    }
    match (version.parse(), after.get(..CHECK_LENGTH)) {
        (Ok(version), Some(check)) if check == check_of(body) => Part::Whole { version, payload },
        _ => Part::Altered,
    }
}

fn read_payload(payload: &str) -> Result<Value, Error> {
    let bytes = BASE64URL.decode(payload).map_err(|_| refuse(ALTERED))?;
    let text = String::from_utf8(bytes).map_err(|_| refuse(ALTERED))?;
    parse(&text)
}

/// Percent encoding undone, also where two messengers did it one after the other.
fn percent_decoded(text: &str) -> String {
    let mut plain = text.to_owned();
    for _ in 0..3 {
        if !plain.contains('%') {
            break;
        }
        plain = percent_decode_str(&plain).decode_utf8_lossy().into_owned();
    }
    plain
}

/// Soft hyphens and characters of no width that messengers put into long words.
fn is_invisible(c: char) -> bool {
    matches!(c, '\u{ad}' | '\u{200b}'..='\u{200f}' | '\u{2060}'..='\u{2064}' | '\u{feff}')
}
