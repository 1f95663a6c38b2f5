//! Links: an item, and perhaps its sender's call, as text that survives
//! messengers or says that it did not.
//!
//! The text is `read=2.PAYLOAD.CHECK`, the part of an address after `#`, as `envelope.rs`
//! writes it: the kind (`read`, `leave` or `clear`), the link's version and what is inside.
//! Every version ends with the check, so a newer link is told apart from an altered one.
//!
//! Version 2 holds the bits of `wire/item_bits.rs`: the item, one bit whether its sender's
//! call (`read`) or answer (`leave`) follows, and that. It ends with the byte in which it
//! ends, so a payload that is cut short is too short. Version 1 held compact JSON,
//! `{"item":...,"call":...}` (of kind `leave`, `{"item":...,"answer":...}`), and is read
//! for ever. A call that is not to be seen yet is `call=1.PAYLOAD.CHECK`, an answer
//! `answer=1.PAYLOAD.CHECK`, each with its JSON.

use super::answer::{read_answer, write_answer};
use super::bits::Bits;
use super::clear_item::{read_clear_item_as, write_clear_item};
use super::envelope::{ALTERED, LONGEST_LINK, envelop, one_version, refuse, unfold};
use super::item::{
    read_call, read_item_as, read_leave_item_as, write_call, write_item, write_leave_item,
};
use super::item_bits;
use super::reader::Form;
use super::text::compact;
use super::value::Value;
use crate::error::Error;
use crate::physics::MODEL_VERSION;
use crate::practice::{AnyItem, Call, ClearItem, LeaveAnswer, LeaveItem, ReadItem};

/// Version of the links that are made.
pub const LINK_VERSION: u32 = 2;

/// The version with JSON inside, which calls and answers still have that are not to be
/// seen yet.
const WITH_JSON: u32 = 1;

/// The kind of text that carries an item.
pub(super) const READ: &str = "read";

/// The kind of text that carries a call which is not to be seen yet.
const CALL: &str = "call";

/// The kind of text that carries a Leave item.
const LEAVE: &str = "leave";

/// The kind of text that carries a Clear item.
const CLEAR: &str = "clear";

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

/// Packs an item of any kind into bytes: the same item comes back from [`unpack_item`], to
/// the last bit. One that is on the quanta ([`rounded_item`](crate::practice::rounded_item))
/// takes few.
///
/// # Errors
/// [`Error::Malformed`] if a list in it is longer than its form accepts;
/// [`Error::OutOfRange`] or [`Error::Invalid`] for a table that cannot be.
pub fn pack_item(item: &AnyItem) -> Result<Vec<u8>, Error> {
    let mut bits = Bits::to_write();
    item_bits::item(&mut bits, Some(item))?;
    Ok(bits.written())
}

/// The item that [`pack_item`] has packed, from exactly its bytes.
///
/// # Errors
/// [`Error::Malformed`] for other bytes; as the reader of the item's form for what is not
/// sound, fields named from `item`.
pub fn unpack_item(bytes: &[u8]) -> Result<AnyItem, Error> {
    let mut bits = Bits::of(bytes);
    let item = item_bits::item(&mut bits, None)?;
    bits.end()?;
    check_item(MODEL_VERSION, &item)?;
    Ok(item)
}

/// Checks what was packed as its form would be: one strict reader for both.
fn check_item(now: u32, item: &AnyItem) -> Result<(), Error> {
    match item {
        AnyItem::Read(item) => read_item_as(now, &write_item(item), "item").map(drop),
        AnyItem::Leave(item) => read_leave_item_as(now, &write_leave_item(item), "item").map(drop),
        AnyItem::Clear(item) => read_clear_item_as(now, &write_clear_item(item), "item").map(drop),
    }
}

/// Makes the link for an item, without `#` or an address before it. Opened, it gives the
/// same item and call, to the last bit.
///
/// # Errors
/// [`Error::Malformed`] if it would be longer than [`LONGEST_LINK`]; as [`pack_item`].
pub fn make(item: &ReadItem, call: Option<&Call>) -> Result<String, Error> {
    make_any(&AnyItem::Read(item.clone()), call.cloned().map(Along::Call))
}

/// Makes the link for a Leave item.
///
/// # Errors
/// As [`make`].
pub fn make_leave(item: &LeaveItem, answer: Option<&LeaveAnswer>) -> Result<String, Error> {
    make_any(&AnyItem::Leave(item.clone()), answer.cloned().map(Along::Answer))
}

/// Makes the link for a Clear item.
///
/// # Errors
/// As [`make`].
pub fn make_clear(item: &ClearItem) -> Result<String, Error> {
    make_any(&AnyItem::Clear(item.clone()), None)
}

/// Makes the link for an item of any kind and what goes along.
pub(super) fn make_any(item: &AnyItem, along: Option<Along>) -> Result<String, Error> {
    let mut bits = Bits::to_write();
    item_bits::item(&mut bits, Some(item))?;
    pack_along(&mut bits, item, along.as_ref())?;
    let link = envelop(name_of(item), LINK_VERSION, &bits.written());
    if link.len() > LONGEST_LINK {
        return Err(refuse(format!("would be longer than {LONGEST_LINK} characters")));
    }
    Ok(link)
}

/// The kind of text that carries it.
fn name_of(item: &AnyItem) -> &'static str {
    match item {
        AnyItem::Read(_) => READ,
        AnyItem::Leave(_) => LEAVE,
        AnyItem::Clear(_) => CLEAR,
    }
}

/// What its sender lets go along with an item.
pub(super) enum Along {
    Call(Call),
    Answer(LeaveAnswer),
}

/// What goes along with `item`, to the bits or from them: nothing with one of Clear.
fn pack_along(
    bits: &mut Bits,
    item: &AnyItem,
    given: Option<&Along>,
) -> Result<Option<Along>, Error> {
    match item {
        AnyItem::Read(item) => bits.optional(given, |bits, given| {
            let call = match given {
                Some(Along::Call(call)) => Some(call),
                _ => None,
            };
            item_bits::call(bits, &item.shot.card, call).map(Along::Call)
        }),
        AnyItem::Leave(item) => bits.optional(given, |bits, given| {
            let answer = match given {
                Some(Along::Answer(answer)) => Some(answer),
                _ => None,
            };
            item_bits::answer(bits, &item.shot.card, answer).map(Along::Answer)
        }),
        AnyItem::Clear(_) => Ok(None),
    }
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
    match opened(now, &[READ], text)? {
        AnyOpened::Read(opened) => Ok(opened),
        _ => Err(refuse(ALTERED)),
    }
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
    opened(now, &[READ, LEAVE, CLEAR], text)
}

fn opened(now: u32, kinds: &[&str], text: &str) -> Result<AnyOpened, Error> {
    let whole = unfold(kinds, LINK_VERSION, text);
    let opened = whole.and_then(|whole| match whole.version {
        WITH_JSON => {
            let (item, along) = read_sent(now, whole.kind, &whole.json()?)?;
            sealed(item, along)
        }
        _ => of_bits(now, whole.kind, &whole.bytes),
    });
    opened.map_err(one_version)
}

/// What version 2 of a link held.
fn of_bits(now: u32, kind: &str, bytes: &[u8]) -> Result<AnyOpened, Error> {
    let mut bits = Bits::of(bytes);
    let item = item_bits::item(&mut bits, None)?;
    check_item(now, &item)?;
    if kind != name_of(&item) {
        return Err(refuse("is of another kind than it says"));
    }
    let along = pack_along(&mut bits, &item, None)?;
    let opened = sealed(item, along)?;
    bits.end()?;
    Ok(opened)
}

/// The item with what goes along sealed, once that has been checked as its form would be.
fn sealed(item: AnyItem, along: Option<Along>) -> Result<AnyOpened, Error> {
    let sealed = match along {
        Some(Along::Call(call)) => {
            read_call(&write_call(&call), "call")?;
            Some(seal(&call)?)
        }
        Some(Along::Answer(answer)) => {
            read_answer(&write_answer(&answer), "answer")?;
            Some(seal_answer(&answer)?)
        }
        None => None,
    };
    Ok(match item {
        AnyItem::Read(item) => AnyOpened::Read(Opened { item, sealed }),
        AnyItem::Leave(item) => AnyOpened::Leave(OpenedLeave { item, sealed }),
        AnyItem::Clear(item) => AnyOpened::Clear(item),
    })
}

/// Reads `{ item, call? }`, `{ item, answer? }` or `{ item }`, by the item's kind.
pub(super) fn read_sent(
    now: u32,
    kind: &str,
    value: &Value,
) -> Result<(AnyItem, Option<Along>), Error> {
    match kind {
        LEAVE => {
            let form = Form::open(value, "", &["item", "answer"])?;
            let item = read_leave_item_as(now, form.value("item")?, "item")?;
            let answer = form.optional("answer").map(|answer| read_answer(answer, "answer"));
            Ok((AnyItem::Leave(item), answer.transpose()?.map(Along::Answer)))
        }
        CLEAR => {
            let form = Form::open(value, "", &["item"])?;
            Ok((AnyItem::Clear(read_clear_item_as(now, form.value("item")?, "item")?), None))
        }
        _ => {
            let form = Form::open(value, "", &["item", "call"])?;
            let item = read_item_as(now, form.value("item")?, "item")?;
            let call = form.optional("call").map(|call| read_call(call, "call"));
            Ok((AnyItem::Read(item), call.transpose()?.map(Along::Call)))
        }
    }
}

/// Puts a call into text that cannot be read at a glance.
///
/// # Errors
/// None for a call whose numbers are finite.
pub fn seal(call: &Call) -> Result<String, Error> {
    Ok(envelop(CALL, WITH_JSON, compact(&write_call(call))?.as_bytes()))
}

/// Reads a sealed call.
///
/// # Errors
/// As [`open`].
pub fn unseal(sealed: &str) -> Result<Call, Error> {
    read_call(&unfold(&[CALL], WITH_JSON, sealed)?.json()?, "call")
}

/// Puts an answer into text that cannot be read at a glance.
///
/// # Errors
/// None for an answer whose numbers are finite.
pub fn seal_answer(answer: &LeaveAnswer) -> Result<String, Error> {
    Ok(envelop(ANSWER, WITH_JSON, compact(&write_answer(answer))?.as_bytes()))
}

/// Reads a sealed answer.
///
/// # Errors
/// As [`open`].
pub fn unseal_answer(sealed: &str) -> Result<LeaveAnswer, Error> {
    read_answer(&unfold(&[ANSWER], WITH_JSON, sealed)?.json()?, "answer")
}
