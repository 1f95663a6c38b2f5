//! What the page can call of the log, natively: one request in, one reply out.

use super::link::{make, make_leave};
use super::outcome::finite;
use super::reader::Form;
use super::record::{read_answered, read_record, write_record};
use super::text::parse;
use super::value::Value;
use crate::error::Error;
use crate::layout::ClearWish;
use crate::memory::{
    self, Calls, Dealt, Part, Record, Skill, Standing, digest, item_for, record, sentences, summary,
};
use crate::table::TableSize;
use serde::Serialize;

/// What the file of a log begins with: a line that says what it is.
const HEADER: [&str; 2] = ["leaveline-log", "kind"];

/// Calls from which on it is told how well a bias is known: of fewer the interval is wider than
/// a table (tuning choice).
const TOLD_FROM: usize = 5;

/// The longest text of kept calls that is read at once, bytes.
pub const LONGEST_LOG: usize = 4 * 1024 * 1024;

/// The most numbers of kept calls that are taken at once.
pub const MOST_NUMBERS: usize = 8_000_000;

/// A call that is kept, with its numbers.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct KeptForm {
    record: Value,
    /// As [`digest`] gives them.
    digest: Vec<f64>,
    words: String,
}

fn keep(record: &Record) -> Result<KeptForm, Error> {
    let words = record.words();
    Ok(KeptForm { record: write_record(record)?, digest: digest(record), words })
}

/// Makes what is kept of a call: `{ at, item, call }`.
///
/// # Errors
/// As [`Form`], the readers of items and calls, and [`record`].
pub fn log_record(request: &Value) -> Result<KeptForm, Error> {
    let form = Form::open(request, "", &["at", "item", "call"])?;
    let (at, answered) = read_answered(&form)?;
    keep(&record(at, answered)?)
}

/// A line that holds no call.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct RefusedForm {
    /// Its number, from 1.
    line: usize,
    words: String,
}

/// What was found in a text.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct ReadForm {
    kept: Vec<KeptForm>,
    refused: Vec<RefusedForm>,
}

/// Reads kept calls, one a line; what cannot be read is told by its line, and empty lines
/// are left out. The first line may say that this is a log.
///
/// # Errors
/// [`Error::Version`] if a newer version wrote the log.
pub fn log_read(text: &str) -> Result<ReadForm, Error> {
    let (mut kept, mut refused) = (vec![], vec![]);
    for (k, line) in text.lines().enumerate() {
        if line.trim().is_empty() || k == 0 && is_header(line)? {
            continue;
        }
        match parse(line).and_then(|value| keep(&read_record(&value)?)) {
            Ok(form) => kept.push(form),
            Err(error) => refused.push(RefusedForm { line: k + 1, words: error.to_string() }),
        }
    }
    Ok(ReadForm { kept, refused })
}

fn is_header(line: &str) -> Result<bool, Error> {
    let Ok(value) = parse(line) else { return Ok(false) };
    let kind = match &value {
        Value::Fields(fields) => fields.iter().find(|(name, _)| name == HEADER[1]),
        _ => None,
    };
    if !kind.is_some_and(|(_, kind)| *kind == Value::text(HEADER[0])) {
        return Ok(false);
    }
    Form::open_version_1(&value, "", &["version", "kind"]).map(|_| true)
}

/// What a skill's calls come to.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct SkillForm {
    id: &'static str,
    name: &'static str,
    unit: &'static str,
    n: usize,
    of: usize,
    bias: f64,
    within: Option<f64>,
    spread: Option<f64>,
    /// Each in words.
    words: String,
    interval: String,
    scatter: String,
    trend: String,
}

/// What all calls come to.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct SummaryForm {
    n: usize,
    skills: Vec<SkillForm>,
    sentences: Vec<String>,
}

/// Sums up the numbers of many calls.
///
/// # Errors
/// As [`Calls::read`].
pub fn log_summary(numbers: &[f64]) -> Result<SummaryForm, Error> {
    let calls = Calls::read(numbers)?;
    let summaries: Vec<memory::Summary> = Skill::ALL
        .into_iter()
        .zip(calls.errors())
        .filter_map(|(skill, errors)| summary(skill, &errors))
        .collect();
    Ok(SummaryForm {
        n: calls.entries().len(),
        skills: summaries.iter().map(write_summary).collect(),
        sentences: sentences(&summaries),
    })
}

fn write_summary(summary: &memory::Summary) -> SkillForm {
    let memory::Summary { skill, n, of, bias, within, spread, trend, .. } = *summary;
    let unit = skill.unit();
    let none = || "–".to_owned();
    SkillForm {
        id: skill.id(),
        name: skill.name(),
        unit: unit.name(),
        n,
        of,
        bias: finite(bias),
        within: within.map(finite),
        spread: spread.map(finite),
        words: skill.off(bias),
        interval: within
            .filter(|_| n >= TOLD_FROM)
            .map_or_else(none, |within| format!("± {}", unit.number(within))),
        scatter: spread.map_or_else(none, |spread| unit.said(spread)),
        trend: trend.map_or_else(none, |trend| {
            format!("{}, before {}", unit.number(trend.recent), unit.said(trend.before))
        }),
    }
}

/// What is drawn of a skill.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct PlotsForm {
    name: &'static str,
    unit: &'static str,
    /// In what `places` are.
    placed: &'static str,
    n: usize,
    places: PointsForm,
    groups: Vec<GroupForm>,
    stops: PointsForm,
    #[serde(skip)]
    of: Vec<u32>,
}

impl PlotsForm {
    /// The places of its calls among those given: the boundary hands them over.
    pub fn of(&self) -> &[u32] {
        &self.of
    }
}

/// Points of a plot, in two lists.
#[derive(Clone, Debug, PartialEq, Serialize)]
struct PointsForm {
    x: Vec<f64>,
    y: Vec<f64>,
}

#[derive(Clone, Debug, PartialEq, Serialize)]
struct GroupForm {
    at: f64,
    n: usize,
    bias: f64,
    low: f64,
    high: f64,
    words: String,
}

/// What is drawn of the skill with this name, from the numbers of many calls.
///
/// # Errors
/// As [`Calls::read`]; [`Error::Malformed`] if there is no such skill.
pub fn log_plots(numbers: &[f64], skill: &str) -> Result<PlotsForm, Error> {
    let named = Value::fields([("skill", Value::text(skill))]);
    let skill = Form::open(&named, "", &["skill"])?.choice("skill", &Skill::ALL, Skill::id)?;
    let calls = Calls::read(numbers)?;
    let plots = memory::plots(&calls, skill);
    let points = |all: &[[f64; 2]]| PointsForm {
        x: all.iter().map(|point| finite(point[0])).collect(),
        y: all.iter().map(|point| finite(point[1])).collect(),
    };
    let group = |memory::Group { at, n, bias, within }: &memory::Group| GroupForm {
        at: *at,
        n: *n,
        bias: finite(*bias),
        low: finite(bias - within),
        high: finite(bias + within),
        words: format!("{} ± {}", skill.off(*bias), skill.unit().said(*within)),
    };
    let of: Vec<u32> = calls.places_of(skill).into_iter().map(|place| place as u32).collect();
    Ok(PlotsForm {
        name: skill.name(),
        unit: skill.unit().name(),
        placed: skill.placed_in(),
        n: of.len(),
        places: points(&plots.places),
        groups: plots.groups.iter().map(group).collect(),
        stops: points(&plots.stops),
        of,
    })
}

/// What to practise next.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct NextForm {
    topic: &'static str,
    part: &'static str,
    level: u8,
    reason: String,
    /// A link to an item for it; `None` where the part deals by itself.
    link: Option<String>,
    /// What Clear is to deal for it.
    deal: Option<WishForm>,
    standings: Vec<StandingForm>,
}

/// What [`deal_clear`](super::deal_clear) takes.
#[derive(Clone, Debug, PartialEq, Serialize)]
struct WishForm {
    level: u8,
    seed: u32,
    size: &'static str,
    game: &'static str,
    balls: u8,
    demands: bool,
}

fn write_wish(wish: &ClearWish) -> WishForm {
    let ClearWish { level, rotation, n_balls, demands, seed, size } = *wish;
    let game = if rotation { "rotation" } else { "group" };
    WishForm { level, seed, size: size.name(), game, balls: n_balls, demands }
}

#[derive(Clone, Debug, PartialEq, Serialize)]
struct StandingForm {
    topic: &'static str,
    name: &'static str,
    n: usize,
    failed: usize,
    of: usize,
    recall: Option<f64>,
    due: bool,
    /// How the calls went; nothing where there are none.
    words: String,
}

/// Chooses what to practise next by the numbers of many calls, at the time `now` (ms), by
/// the lot of `seed`; `topic` names what the player would rather practise.
///
/// # Errors
/// As [`Calls::read`] and [`item_for`]; [`Error::Malformed`] if there is no such topic.
pub fn log_next(
    numbers: &[f64],
    now: f64,
    seed: u32,
    topic: Option<&str>,
) -> Result<NextForm, Error> {
    let calls = Calls::read(numbers)?;
    let mut next = memory::next(&calls, now, seed);
    if let Some(wanted) = topic {
        let named = Value::fields([("topic", Value::text(wanted))]);
        let form = Form::open(&named, "", &["topic"])?;
        next.topic = form.choice("topic", &memory::Topic::ALL, memory::Topic::id)?;
        next.level = memory::level_for(calls.entries(), next.topic.part());
        next.reason = format!("Your choice: {}.", next.topic.name());
    }
    let (link, deal) = match item_for(next.topic, next.level, seed, TableSize::NineFoot)? {
        Some(Dealt::Read(item)) => (Some(make(&item, None)?), None),
        Some(Dealt::Leave(item)) => (Some(make_leave(&item, None)?), None),
        Some(Dealt::Clear(wish)) => (None, Some(write_wish(&wish))),
        None => (None, None),
    };
    let part: Part = next.topic.part();
    Ok(NextForm {
        topic: next.topic.id(),
        part: part.name(),
        level: next.level,
        reason: next.reason,
        link,
        deal,
        standings: next.standings.iter().map(write_standing).collect(),
    })
}

fn write_standing(standing: &Standing) -> StandingForm {
    let Standing { topic, n, of, failed, memory, .. } = *standing;
    StandingForm {
        topic: topic.id(),
        name: topic.name(),
        n,
        failed,
        of,
        recall: memory.map(|memory| memory.recall),
        due: memory.is_some_and(|memory| memory.is_due()),
        words: if of == 0 { String::new() } else { memory::went_in_words(failed, of) },
    }
}

/// Whether so many numbers are worth copying into the core.
///
/// # Errors
/// [`Error::OutOfRange`] if they are too many.
pub fn check_numbers(length: usize) -> Result<(), Error> {
    if length <= MOST_NUMBERS {
        return Ok(());
    }
    let rule = format!("must have at most {MOST_NUMBERS} numbers");
    Err(Error::out_of_range("calls.length", length as f64, rule))
}
