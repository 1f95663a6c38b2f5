//! The glossary as the page has it, in a file: what each word means, and its example as it
//! is drawn.

use super::demand::write_zone;
use super::judgement::{DimensionForm, write_dimension};
use super::question::{BallForm, DrawingForm, Place, write_balls, write_drawing};
use super::value::Value;
use crate::error::Error;
use crate::layout::glossary::{Mark, Run, Word, glossary, glossary_card};
use crate::physics::EventKind;
use crate::practice::Quantum;
use glam::DVec2;
use serde::Serialize;

/// All words, and the table of their examples.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct GlossaryForm {
    table: DrawingForm,
    words: Vec<WordForm>,
}

#[derive(Clone, Debug, PartialEq, Serialize)]
struct WordForm {
    id: &'static str,
    term: &'static str,
    meaning: &'static str,
    shows: String,
    balls: Vec<BallForm>,
    runs: Vec<RunForm>,
    marks: Vec<MarkForm>,
    near: Option<Place>,
}

/// A played shot: the cue ball's way to the first ball, or all of it; its way from there on;
/// the ways of the others.
#[derive(Clone, Debug, PartialEq, Serialize)]
struct RunForm {
    approach: Vec<Place>,
    path: Vec<Place>,
    others: Vec<Vec<Place>>,
    ghost: Option<Place>,
    touches: Vec<Place>,
    stop: Place,
}

#[derive(Clone, Debug, PartialEq, Serialize)]
#[serde(tag = "kind", rename_all = "lowercase")]
enum MarkForm {
    Name { at: Place, text: String },
    Line { from: Place, to: Place },
    Angle { dimension: DimensionForm },
    Zone { zone: Value },
}

/// A place to a tenth of a millimetre, as it is drawn.
fn place(at: DVec2) -> Place {
    at.to_array().map(|value| Quantum::PLACE.round(value))
}

/// All words with their examples, played.
///
/// # Errors
/// As [`glossary`].
pub fn words() -> Result<GlossaryForm, Error> {
    let words = glossary()?.iter().map(write_word).collect();
    Ok(GlossaryForm { table: write_drawing(&glossary_card()), words })
}

fn write_word(word: &Word) -> WordForm {
    WordForm {
        id: word.id,
        term: word.term,
        meaning: word.meaning,
        shows: word.shows.clone(),
        balls: word.runs.first().map_or_else(Vec::new, |run| write_balls(&run.shot)),
        runs: word.runs.iter().map(write_run).collect(),
        marks: word.marks.iter().map(write_mark).collect(),
        near: word.near.map(place),
    }
}

fn write_run(run: &Run) -> RunForm {
    let met = run.path.as_ref();
    let until = met.map_or(f64::INFINITY, |path| path.contact_time);
    let cue = &run.outcome.paths[0];
    let approach = cue.iter().filter(|sample| sample.time <= until);
    let touched = run
        .outcome
        .events
        .iter()
        .filter(|event| event.ball.is_cue() && matches!(event.kind, EventKind::Cushion(_)));
    RunForm {
        approach: approach.map(|sample| place(sample.position)).collect(),
        path: met.map_or_else(Vec::new, |path| {
            path.path.iter().map(|sample| place(sample.position)).collect()
        }),
        others: (1..run.outcome.paths.len())
            .map(|ball| run.line(ball).into_iter().map(place).collect::<Vec<_>>())
            .filter(|line| line.len() > 1)
            .collect(),
        ghost: met.map(|path| place(path.ghost)),
        touches: touched.map(|event| place(event.position)).collect(),
        stop: place(run.stop()),
    }
}

fn write_mark(mark: &Mark) -> MarkForm {
    match mark {
        Mark::Name(at, text) => MarkForm::Name { at: place(*at), text: text.clone() },
        Mark::Line(from, to) => MarkForm::Line { from: place(*from), to: place(*to) },
        Mark::Angle(dimension) => MarkForm::Angle { dimension: write_dimension(dimension) },
        Mark::Zone(zone) => MarkForm::Zone { zone: write_zone(zone) },
    }
}
