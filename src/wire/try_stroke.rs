//! A stroke that is tried while a table is set up: what the page asks, and what it is given.

use super::item::{read_leave_item, write_leave_item};
use super::judgement::{StopForm, Track, tracks};
use super::outcome::finite;
use super::question::{BallForm, PointForm, StrokeForm, write_balls, write_stroke};
use super::reader::Form;
use super::value::Value;
use crate::error::Error;
use crate::practice::leave::task_in_words;
use crate::practice::{Trial, rounded_stroke, rounded_zone, trial};
use crate::shot::Window;
use crate::units::degrees;
use serde::Serialize;

/// Directions that pot, degrees from the aim: `low` to its right, not positive.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct WindowForm {
    low: f64,
    high: f64,
}

impl WindowForm {
    pub(super) fn new(window: &Window) -> Self {
        Self { low: finite(degrees(window.low)), high: finite(degrees(window.high)) }
    }
}

/// The form of a tried stroke, but for the tracks, which are arrays of numbers.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[serde(rename_all = "camelCase")]
pub struct TrialForm {
    item: Value,
    task: String,
    balls: Vec<BallForm>,
    refusal: Option<String>,
    pocket: Option<&'static str>,
    window: Option<WindowForm>,
    duration: f64,
    contact_time: Option<f64>,
    ghost: Option<PointForm>,
    first: Option<String>,
    cut: f64,
    stop: StopForm,
    words: String,
    is_met: bool,
    is_lifted: bool,
    reach: ReachForm,
    stroke: StrokeForm,
    #[serde(skip)]
    tracks: Vec<Track>,
}

impl TrialForm {
    /// One track for each ball that moves.
    pub fn tracks(&self) -> &[Track] {
        &self.tracks
    }
}

#[derive(Clone, Debug, PartialEq, Serialize)]
#[serde(rename_all = "camelCase")]
struct ReachForm {
    needs_rest: bool,
    words: &'static str,
}

/// Tries the stroke of `{ item, aim }`, turned to pot the ball on if `aim`. Stroke and zone
/// are rounded first.
///
/// # Errors
/// As [`read_leave_item`]. That there is no pot is no error: `refusal` says it.
pub fn try_stroke(request: &Value) -> Result<TrialForm, Error> {
    let form = Form::open(request, "", &["item", "aim"])?;
    let mut item = read_leave_item(form.value("item")?, "item")?;
    // What is dragged and typed comes as it is; from here on it is what a link can carry.
    item.shot.stroke = rounded_stroke(&item.shot.stroke);
    item.demand.zone = item.demand.zone.as_ref().map(rounded_zone);
    Ok(write_trial(&trial(&item, form.truth("aim")?)?))
}

fn write_trial(trial: &Trial) -> TrialForm {
    let path = trial.path.as_ref();
    let scratch = path.and_then(|path| path.pocketed);
    let words = if trial.is_in_reach {
        "The cue ball is in reach without a rest."
    } else {
        "The cue ball is out of reach without a rest."
    };
    TrialForm {
        item: write_leave_item(&trial.item),
        task: task_in_words(&trial.item.demand),
        balls: write_balls(&trial.item.shot),
        refusal: trial.refusal.clone(),
        pocket: trial.pot.map(|pot| pot.pocket.name()),
        window: trial.pot.map(|pot| WindowForm::new(&pot.window)),
        duration: finite(trial.outcome.duration),
        contact_time: path.map(|path| finite(path.contact_time)),
        ghost: path.map(|path| PointForm::new(path.ghost)),
        first: path.map(|path| path.first.to_string()),
        cut: finite(degrees(trial.cut)),
        stop: StopForm::new(trial.ending.stop, scratch),
        words: trial.words.clone(),
        is_met: trial.is_met,
        is_lifted: trial.is_lifted,
        reach: ReachForm { needs_rest: !trial.is_in_reach, words },
        stroke: write_stroke(&trial.item.shot.stroke, trial.cut, trial.lengths),
        tracks: tracks(&trial.item.shot, &trial.outcome),
    }
}
