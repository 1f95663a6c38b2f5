//! The set of a day as a form, the link to it, and its result as text.

use super::reader::{Form, newer};
use super::set::write_set;
use super::sets::read_marks;
use super::value::Value;
use crate::error::Error;
use crate::layout::{Day, deal_daily};
use crate::physics::MODEL_VERSION;
use crate::practice::set::{Pass, Tally};
use serde::Serialize;

/// A link to the set of a day is this, a dot, the day, another dot, and the version of the
/// model that deals it; this alone is the set of whichever day it is.
const LINK: &str = "set=day";

/// The longest address that is put into a result, bytes.
const LONGEST_ADDRESS: usize = 2000;

/// The set of a day.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct DailyForm {
    day: String,
    set: Value,
    link: String,
    /// What is to be said of it, if another version of the model dealt it to the sender.
    notice: Option<&'static str>,
}

/// Deals the set of `{ now, link }`, or of `{ now, day }`; of the day that it is if neither
/// names one. `now` is in ms since the beginning of 1970.
///
/// # Errors
/// As [`Form`] and [`deal_daily`]; [`Error::Malformed`] for what is no such link or no day,
/// [`Error::Invalid`] for a day to come, [`Error::Version`] for a link of a newer version.
pub fn daily_set(request: &Value) -> Result<DailyForm, Error> {
    let form = Form::open(request, "", &["now", "link", "day"])?;
    let today = Day::at(form.number("now")?)
        .ok_or_else(|| Error::malformed("now", "must be a moment from 1970 to 9999"))?;
    let (day, model) = match (form.optional("link"), form.optional("day")) {
        (Some(_), _) => read_link(form.text("link")?, today)?,
        (None, Some(_)) => (named(form.text("day")?)?, MODEL_VERSION),
        (None, None) => (today, MODEL_VERSION),
    };
    if day > today {
        return Err(Error::invalid("day", "has not begun yet: days begin at midnight UTC"));
    }
    Ok(DailyForm {
        day: day.to_string(),
        set: write_set(&deal_daily(day)?),
        link: format!("{LINK}.{day}.{MODEL_VERSION}"),
        notice: (model < MODEL_VERSION).then_some(
            "An earlier version of this page made the link: its items may have been others.",
        ),
    })
}

fn named(text: &str) -> Result<Day, Error> {
    Day::named(text).ok_or_else(|| Error::malformed("day", "must be a day, as 2026-11-26"))
}

fn read_link(link: &str, today: Day) -> Result<(Day, u32), Error> {
    let refuse = || Error::malformed("link", "must be the link to the set of a day");
    let rest = link.strip_prefix(LINK).ok_or_else(refuse)?;
    if rest.is_empty() {
        return Ok((today, MODEL_VERSION));
    }
    let (day, model) =
        rest.strip_prefix('.').and_then(|rest| rest.split_once('.')).ok_or_else(refuse)?;
    let model: u32 = model.parse().map_err(|_| refuse())?;
    if model > MODEL_VERSION {
        return Err(newer("link".to_owned(), f64::from(model)));
    }
    Ok((named(day)?, model))
}

/// What a day's set came to.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct DailyResultForm {
    score: u32,
    /// What is said of it on the page.
    words: String,
    /// What is handed on: day, score and marks, with the address, and nothing of the items.
    text: String,
}

/// The result of `{ day, marks, address }`: the marks of all items, and the address of the set.
///
/// # Errors
/// As [`Form`]; [`Error::Invalid`] if something was not played.
pub fn daily_result(request: &Value) -> Result<DailyResultForm, Error> {
    let form = Form::open(request, "", &["day", "marks", "address"])?;
    let day = named(form.text("day")?)?;
    let marks = read_marks(&form)?;
    let tally = Tally::of(Pass::FIRST, &marks);
    if !tally.is_over() {
        return Err(Error::invalid("marks", "must be those of all items"));
    }
    let address = form.text("address")?;
    if address.len() > LONGEST_ADDRESS {
        let rule = format!("must have at most {LONGEST_ADDRESS} bytes");
        return Err(Error::out_of_range("address.length", address.len() as f64, rule));
    }
    let (score, n, of) = (tally.score, tally.n_passed(), marks.len());
    let each: Vec<String> =
        marks.iter().flatten().map(|mark| libm::round(*mark).to_string()).collect();
    let text = format!(
        "Leaveline, the set of {}\n{score} of 100, {n} of {of} passed\n{}\n{address}",
        day.in_words(),
        each.join(" · ")
    );
    Ok(DailyResultForm { score, words: format!("What counts for this day: {score} of 100."), text })
}
