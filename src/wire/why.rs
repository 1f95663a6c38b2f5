//! Why the cue ball ran as it did, as a form. It is only ever given.

use super::item::read_shot_of;
use super::judgement::{DimensionForm, write_dimension};
use super::outcome::finite;
use super::question::{Place, places};
use super::reader::Form;
use super::value::Value;
use crate::error::Error;
use crate::practice::{Amount, Change, Replay, why as explain};
use serde::Serialize;

/// The form of an explanation.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct WhyForm {
    first: Option<String>,
    facts: Vec<FactForm>,
    replays: Vec<ReplayForm>,
}

#[derive(Clone, Debug, PartialEq, Serialize)]
struct FactForm {
    label: String,
    text: String,
}

#[derive(Clone, Debug, PartialEq, Serialize)]
#[serde(rename_all = "camelCase")]
struct ReplayForm {
    id: &'static str,
    label: &'static str,
    text: String,
    sentence: String,
    differs: bool,
    path: Vec<Place>,
    object_path: Vec<Place>,
    pocket: Option<&'static str>,
    dimension: Option<DimensionForm>,
}

/// Explains the shot of `{ item }`, which is one of Read or of Leave. Where the cue ball
/// meets no ball there is nothing to explain, and the lists are empty.
///
/// # Errors
/// As the reader of any item.
pub fn why(request: &Value) -> Result<WhyForm, Error> {
    let form = Form::open(request, "", &["item"])?;
    let shot = read_shot_of(form.value("item")?, "item")?;
    let Some(why) = explain(&shot)? else {
        return Ok(WhyForm { first: None, facts: Vec::new(), replays: Vec::new() });
    };
    let facts = why.lines.into_iter().map(|(label, text)| FactForm { label, text }).collect();
    let replays = why.replays.iter().map(write_replay).collect();
    Ok(WhyForm { first: Some(why.first.to_string()), facts, replays })
}

fn write_replay(replay: &Replay) -> ReplayForm {
    let (id, label) = match replay.change {
        Change::NoSide => ("side", "without side"),
        Change::NaturalRoll => ("roll", "at natural roll"),
        Change::NoThrow => ("throw", "without throw"),
        Change::MirrorCushion => ("mirror", "mirror cushion"),
    };
    ReplayForm {
        id,
        label,
        text: replay.text.clone(),
        sentence: replay.sentence.clone(),
        differs: replay.amount != Amount::Nothing && finite(replay.strays) > 0.0,
        path: places(&replay.path),
        object_path: places(&replay.object_path),
        pocket: replay.pocketed.map(|pocket| pocket.name()),
        dimension: replay.dimension.as_ref().map(write_dimension),
    }
}
