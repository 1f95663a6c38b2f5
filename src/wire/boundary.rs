//! What the page can call, natively: one request in, one reply out.
//!
//! `wasm/` only turns JavaScript values into the arguments of these functions
//! and their replies into JavaScript values.

use super::clear::{ClearQuestionForm, ask_clear};
use super::demand::write_zone;
use super::item::{kind_of, read_item, read_shot_of};
use super::judgement::{ResultForm, write_result};
use super::leave::{LeaveQuestionForm, ask_leave};
use super::link::{Along, AnyOpened, READ, make_any, open_any, read_sent};
use super::outcome::{OutcomeForm, write_outcome};
use super::outcome_numbers::pack;
use super::question::{PlacedForm, QuestionForm, write_placed, write_question};
use super::reader::Form;
use super::request::{Diamonds, read_deal, read_grade, read_point, read_snap};
use super::shot::read_shot;
use super::text::{compact, parse};
use super::value::Value;
use crate::error::Error;
use crate::layout::deal_read;
use crate::physics::{self, MODEL_VERSION};
use crate::practice::{
    AnyItem, Measure, ReadItem, judge, point_on_cloth, point_on_rail, question, rounded_answer,
    rounded_zone, snap as snap_point, typed_zone,
};
use serde::Serialize;

/// Plays a shot.
///
/// # Errors
/// As [`read_shot`].
pub fn play(shot: &Value) -> Result<OutcomeForm, Error> {
    let shot = read_shot(shot, "")?;
    Ok(write_outcome(&shot.balls, &physics::play(&shot)?))
}

/// Plays a shot given as JSON text, and gives the outcome as JSON text.
///
/// # Errors
/// As [`parse`] and [`read_shot`].
pub fn play_text(shot: &str) -> Result<String, Error> {
    compact(&play(&parse(shot)?)?)
}

/// Plays a shot, and gives the outcome as the plain numbers of [`pack`].
///
/// # Errors
/// As [`read_shot`].
pub fn play_packed(shot: &Value) -> Result<Vec<f64>, Error> {
    let shot = read_shot(shot, "")?;
    Ok(pack(&shot.balls, &physics::play(&shot)?))
}

/// Makes a link from `{ item, call?, answer? }`: a call goes along with an item of Read, an
/// answer, rounded as it is graded, with one of Leave.
///
/// # Errors
/// As the readers of items, of calls and of answers, and [`make`](super::make).
pub fn make_link(request: &Value) -> Result<String, Error> {
    let kind = request.peek("item").and_then(kind_of).unwrap_or(READ);
    let (item, along) = read_sent(MODEL_VERSION, kind, request)?;
    let along = match (&item, along) {
        (AnyItem::Leave(item), Some(Along::Answer(answer))) => {
            Some(Along::Answer(rounded_answer(&item.shot.card, &answer)))
        }
        (_, along) => along,
    };
    make_any(&item, along)
}

/// Deals an item for `{ level, seed, size? }`.
///
/// # Errors
/// As [`read_deal`] and [`deal_read`].
pub fn deal(request: &Value) -> Result<QuestionForm, Error> {
    let request = read_deal(request)?;
    ask(&deal_read(request.level, request.seed, request.size)?)
}

/// Shows an item that was kept.
///
/// # Errors
/// As [`read_item`] and [`question`].
pub fn open_item(item: &Value) -> Result<QuestionForm, Error> {
    ask(&read_item(item, "")?)
}

/// An item that came by link: only one of Read does not tell its kind.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[serde(untagged)]
pub enum OpenedForm {
    /// An item of Read.
    Read {
        /// What is shown of it.
        question: QuestionForm,
        /// The sender's call, sealed.
        sealed: Option<String>,
    },
    /// An item of Leave.
    Leave {
        /// `leave`.
        kind: &'static str,
        /// What is shown of it.
        question: LeaveQuestionForm,
        /// The sender's answer, sealed.
        sealed: Option<String>,
    },
    /// An item of Clear.
    Clear {
        /// `clear`.
        kind: &'static str,
        /// What is shown of it.
        question: ClearQuestionForm,
    },
}

/// Shows the item of a link, and keeps the sender's answer sealed.
///
/// # Errors
/// As [`open_any`] and [`question`].
pub fn open_link(text: &str) -> Result<OpenedForm, Error> {
    Ok(match open_any(text)? {
        AnyOpened::Read(opened) => {
            OpenedForm::Read { question: ask(&opened.item)?, sealed: opened.sealed }
        }
        AnyOpened::Leave(opened) => OpenedForm::Leave {
            kind: "leave",
            question: ask_leave(&opened.item),
            sealed: opened.sealed,
        },
        AnyOpened::Clear(item) => OpenedForm::Clear { kind: "clear", question: ask_clear(&item)? },
    })
}

fn ask(item: &ReadItem) -> Result<QuestionForm, Error> {
    Ok(write_question(item, &question(item)?))
}

/// Brings a placed point onto the cloth, and onto a rail that is near.
///
/// # Errors
/// As [`read_snap`].
pub fn snap(request: &Value) -> Result<PlacedForm, Error> {
    let request = read_snap(request)?;
    let card = &request.card;
    let point = snap_point(card, request.position, request.reach, request.snap);
    Ok(write_placed(card, &point))
}

/// The point at typed diamonds.
///
/// # Errors
/// As [`read_point`], [`point_on_rail`] and [`point_on_cloth`].
pub fn point_at(request: &Value) -> Result<PlacedForm, Error> {
    let request = read_point(request)?;
    let card = &request.card;
    let point = match request.place {
        Diamonds::Rail(rail, diamond) => point_on_rail(card, rail, diamond)?,
        Diamonds::Cloth(along, across) => point_on_cloth(card, along, across)?,
    };
    Ok(write_placed(card, &point))
}

/// The zone that was typed as `{ item, along, across, long, wide, measure, turn }`:
/// its middle in diamonds, half its length and width, degrees.
///
/// # Errors
/// As [`Form`], the reader of any item and [`typed_zone`].
pub fn zone_at(request: &Value) -> Result<Value, Error> {
    let known = &["item", "along", "across", "long", "wide", "measure", "turn"];
    let form = Form::open(request, "", known)?;
    let card = read_shot_of(form.value("item")?, "item")?.card;
    let middle = [form.number("along")?, form.number("across")?];
    let halves = [form.number("long")?, form.number("wide")?];
    let measure = form.choice("measure", &Measure::ALL, Measure::name)?;
    let zone = typed_zone(&card, middle, halves, measure, form.number("turn")?)?;
    Ok(write_zone(&rounded_zone(&zone)))
}

/// Plays an item and grades the call, and the sender's after it.
///
/// # Errors
/// As [`read_grade`] and [`judge`].
pub fn grade(request: &Value) -> Result<ResultForm, Error> {
    let request = read_grade(request)?;
    let judgement = judge(&request.item, &request.call)?;
    let sender = match &request.sender {
        Some(call) => {
            Some((call, judge(&request.item, call).map_err(|e| e.within("sealed"))?.grade))
        }
        None => None,
    };
    let sender = sender.as_ref().map(|(call, grade)| (*call, grade));
    Ok(write_result(&request.item, &judgement, sender))
}

/// Whether a text of `length` characters is worth copying into the core.
///
/// # Errors
/// [`Error::OutOfRange`] if it is longer than `longest`.
pub fn check_length(length: usize, longest: usize) -> Result<(), Error> {
    if length <= longest {
        return Ok(());
    }
    let rule = format!("must have at most {longest} characters");
    Err(Error::out_of_range("text.length", length as f64, rule))
}
