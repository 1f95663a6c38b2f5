//! Eye as forms: what is asked, what the handle says, what an answer came to.

use super::item::read_seed;
use super::outcome::finite;
use super::question::{
    BallForm, DrawingForm, Place, StrokeForm, place, places, write_balls, write_drawing, write_tip,
};
use super::reader::Form;
use super::shot::{read_position, read_shot, write_shot};
use super::table::read_size;
use super::value::Value;
use crate::error::Error;
use crate::layout;
use crate::physics::{Arena, MODEL_VERSION};
use crate::practice::eye::{
    Answered, Estimate, EyeItem, Handle, ROUND, Sight, judge_eye, lesson, mean_mark, sight,
    summaries, task_of_eye,
};
use crate::practice::{card_in_words, deal_code};
use crate::shot::lengths_of_speed;
use glam::DVec2;
use serde::Serialize;

/// The most answers that are summed up at once.
const MOST_ANSWERS: usize = 1000;

/// The farthest that an answer may be off, in any unit.
const FARTHEST: f64 = 1e3;

/// What is shown of an estimate.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct EyeQuestionForm {
    item: Value,
    estimate: &'static str,
    title: &'static str,
    task: String,
    unit: &'static str,
    deal: Option<String>,
    card: String,
    model: u32,
    table: DrawingForm,
    balls: Vec<BallForm>,
    stroke: StrokeForm,
    ghost: Option<Place>,
    given: Vec<Place>,
    handle: HandleForm,
    /// How many there are in a round.
    round: u32,
}

/// Where the handle stands, and what it says.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct HandleForm {
    value: f64,
    x: f64,
    y: f64,
    line: Vec<Place>,
    words: String,
}

/// What an answer came to.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct EyeResultForm {
    estimate: &'static str,
    answer: f64,
    truth: HandleForm,
    error: f64,
    mark: f64,
    words: String,
    way: Vec<Place>,
}

/// What a round came to.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct EyeRoundForm {
    /// The mean mark, in whole numbers.
    mark: u32,
    kinds: Vec<EyeSummaryForm>,
    /// What to practise, in a sentence.
    words: String,
}

/// What one kind of estimate came to.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct EyeSummaryForm {
    estimate: &'static str,
    title: &'static str,
    unit: &'static str,
    n: u32,
    bias: f64,
    spread: Option<f64>,
    /// The error that halves a mark: the scale of the kind.
    half: f64,
    words: String,
}

/// Deals an estimate for `{ seed, number, size? }`.
///
/// # Errors
/// As [`Form`] and [`layout::deal_eye`].
pub fn deal_eye(request: &Value) -> Result<EyeQuestionForm, Error> {
    let form = Form::open(request, "", &["seed", "number", "size"])?;
    let seed = form.integer("seed", 0, u32::MAX)?;
    let number = form.integer("number", 0, ROUND - 1)?;
    let size = read_size(&form)?;
    let item = layout::deal_eye(seed, number, size)?;
    write_eye_question(&item, &sight(&item)?)
}

/// Shows an estimate again, for `{ item }`.
///
/// # Errors
/// As [`Form`] and [`read_eye_item`].
pub fn open_eye(request: &Value) -> Result<EyeQuestionForm, Error> {
    let form = Form::open(request, "", &["item"])?;
    let item = read_eye_item(form.value("item")?, "item")?;
    write_eye_question(&item, &sight(&item)?)
}

/// Where the handle is dragged to, for `{ item, x, y }`, or moved to by keys, for
/// `{ item, value, steps?, fine? }`.
///
/// # Errors
/// As [`Form`] and [`read_eye_item`].
pub fn mark_eye(request: &Value) -> Result<HandleForm, Error> {
    let form = Form::open(request, "", &["item", "x", "y", "value", "steps", "fine"])?;
    let item = read_eye_item(form.value("item")?, "item")?;
    let handle = sight(&item)?.handle;
    let card = &item.shot.card;
    let value = match (form.optional("value"), form.optional("steps")) {
        (Some(_), Some(_)) => {
            let (value, steps) = (form.number("value")?, form.number("steps")?);
            handle.stepped(card, value, steps, form.truth("fine")?)
        }
        (Some(_), None) => handle.within(card, form.number("value")?),
        (None, _) => handle.value_at(card, read_position(&form)?),
    };
    Ok(write_handle(&item, &handle, value))
}

/// Judges `{ item, answer }`.
///
/// # Errors
/// As [`Form`], [`read_eye_item`] and [`judge_eye`].
pub fn grade_eye(request: &Value) -> Result<EyeResultForm, Error> {
    let form = Form::open(request, "", &["item", "answer"])?;
    let item = read_eye_item(form.value("item")?, "item")?;
    let judged = judge_eye(&item, form.number("answer")?)?;
    Ok(EyeResultForm {
        estimate: item.estimate.name(),
        answer: judged.answer,
        truth: write_handle(&item, &judged.sight.handle, judged.sight.truth),
        error: finite(judged.error),
        mark: judged.mark,
        words: judged.words,
        way: places(&judged.sight.way),
    })
}

/// Sums up `{ answers: [{ estimate, error }] }`: the mark of all, and each kind by itself.
///
/// # Errors
/// As [`Form`]; [`Error::OutOfRange`] for an error that no handle allows.
pub fn sum_eye(request: &Value) -> Result<EyeRoundForm, Error> {
    let form = Form::open(request, "", &["answers"])?;
    let answers = form
        .list("answers", 0, MOST_ANSWERS)?
        .map(|(entry, path)| {
            let form = Form::open(entry, &path, &["estimate", "error"])?;
            let estimate = form.choice("estimate", &Estimate::ALL, Estimate::name)?;
            let error = form.number("error")?;
            if error.abs() > FARTHEST {
                let rule = "must lie within 1000 of 0";
                return Err(Error::out_of_range(form.path_of("error"), error, rule));
            }
            Ok(Answered { estimate, error })
        })
        .collect::<Result<Vec<_>, Error>>()?;
    let written = summaries(&answers).into_iter().map(|summary| EyeSummaryForm {
        estimate: summary.estimate.name(),
        title: summary.estimate.title(),
        unit: summary.estimate.unit().name(),
        n: summary.n,
        bias: summary.bias,
        spread: summary.spread,
        half: summary.estimate.half(),
        words: summary.words,
    });
    let words = lesson(&answers);
    Ok(EyeRoundForm { mark: mean_mark(&answers), kinds: written.collect(), words })
}

/// Reads an estimate.
///
/// # Errors
/// As [`Form`] and [`read_shot`].
pub fn read_eye_item(value: &Value, path: &str) -> Result<EyeItem, Error> {
    let known = &["version", "kind", "estimate", "model", "seed", "shot"];
    let form = Form::open_version_1(value, path, known)?;
    form.choice("kind", &["eye"], |kind| kind)?;
    Ok(EyeItem {
        estimate: form.choice("estimate", &Estimate::ALL, Estimate::name)?,
        model: form.version_up_to("model", MODEL_VERSION)?,
        seed: read_seed(&form)?,
        shot: read_shot(form.value("shot")?, &form.path_of("shot"))?,
    })
}

/// Writes an estimate.
pub fn write_eye_item(item: &EyeItem) -> Value {
    let mut fields = vec![
        ("version".to_owned(), 1.0.into()),
        ("kind".to_owned(), Value::text("eye")),
        ("estimate".to_owned(), Value::text(item.estimate.name())),
        ("model".to_owned(), f64::from(item.model).into()),
    ];
    if let Some(seed) = item.seed {
        fields.push(("seed".to_owned(), f64::from(seed).into()));
    }
    fields.push(("shot".to_owned(), write_shot(&item.shot)));
    Value::Fields(fields)
}

fn write_eye_question(item: &EyeItem, sight: &Sight) -> Result<EyeQuestionForm, Error> {
    let (card, stroke) = (&item.shot.card, &item.shot.stroke);
    let home = sight.handle.home(card);
    Ok(EyeQuestionForm {
        item: write_eye_item(item),
        estimate: item.estimate.name(),
        title: item.estimate.title(),
        task: task_of_eye(item, sight),
        unit: item.estimate.unit().name(),
        deal: item.seed.map(deal_code),
        card: card_in_words(card),
        model: MODEL_VERSION,
        table: write_drawing(card),
        balls: write_balls(&item.shot),
        stroke: write_tip(stroke, lengths_of_speed(&Arena::new(card), stroke.speed)),
        ghost: sight.ghost.map(place),
        given: places(&sight.given),
        handle: write_handle(item, &sight.handle, home),
        round: ROUND,
    })
}

fn write_handle(item: &EyeItem, handle: &Handle, value: f64) -> HandleForm {
    let card = &item.shot.card;
    let DVec2 { x, y } = handle.place_of(card, value);
    let line = places(&handle.line_of(card, value));
    let words = item.estimate.value(value);
    HandleForm { value: finite(value), x: finite(x), y: finite(y), line, words }
}
