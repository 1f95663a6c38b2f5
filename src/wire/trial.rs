//! What the page asks for while a table is set up and a stroke is tried, and what it is
//! given.

use super::item::{read_leave_item, write_leave_item};
use super::judgement::{StopForm, Track, tracks};
use super::outcome::finite;
use super::question::{
    BallForm, DrawingForm, PointForm, StrokeForm, write_balls, write_drawing, write_stroke,
};
use super::reader::Form;
use super::shot::{ball_named, read_position};
use super::value::Value;
use crate::ball::BallId;
use crate::error::Error;
use crate::practice::leave::task_in_words;
use crate::practice::{
    LeaveItem, Trial, card_in_words, mirror, no_pot_in_words, place_ball, remove_ball,
    rounded_stroke, rounded_zone, trial,
};
use crate::shot::{
    Leaving, Pot, Route, Situation, Window, cheats, cut_angle, pot, pots_cushion_first,
};
use crate::table::PocketId;
use crate::units::degrees;
use serde::Serialize;

/// Directions that pot, degrees from the aim: `low` to its right, not positive.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct WindowForm {
    low: f64,
    high: f64,
}

impl WindowForm {
    fn new(window: &Window) -> Self {
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

/// The table of an item as it is drawn.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct BoardForm {
    card: String,
    table: DrawingForm,
}

/// Shows the table of `{ item }`.
///
/// # Errors
/// As [`read_leave_item`].
pub fn board(request: &Value) -> Result<BoardForm, Error> {
    let item = read_only_item(request)?;
    let card = &item.shot.card;
    Ok(BoardForm { card: card_in_words(card), table: write_drawing(card) })
}

/// An item that was changed.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct ChangedForm {
    item: Value,
}

fn write_changed(item: &LeaveItem) -> ChangedForm {
    ChangedForm { item: write_leave_item(item) }
}

/// Puts a ball where it was dropped: `{ item, ball, x, y, snap, add? }`.
///
/// # Errors
/// As [`Form`], [`read_leave_item`] and [`place_ball`].
pub fn place(request: &Value) -> Result<ChangedForm, Error> {
    let form = Form::open(request, "", &["item", "ball", "x", "y", "snap", "add"])?;
    let item = read_leave_item(form.value("item")?, "item")?;
    let ball = read_ball(&form)?;
    let adding = form.optional("add").is_some() && form.truth("add")?;
    let placed = place_ball(&item, ball, read_position(&form)?, form.truth("snap")?, adding)?;
    Ok(write_changed(&placed))
}

/// Takes a ball away: `{ item, ball }`.
///
/// # Errors
/// As [`Form`], [`read_leave_item`] and [`remove_ball`].
pub fn remove(request: &Value) -> Result<ChangedForm, Error> {
    let form = Form::open(request, "", &["item", "ball"])?;
    let item = read_leave_item(form.value("item")?, "item")?;
    Ok(write_changed(&remove_ball(&item, read_ball(&form)?)?))
}

/// Mirrors `{ item }` from left to right.
///
/// # Errors
/// As [`read_leave_item`].
pub fn mirrored(request: &Value) -> Result<ChangedForm, Error> {
    Ok(write_changed(&mirror(&read_only_item(request)?)))
}

fn read_only_item(request: &Value) -> Result<LeaveItem, Error> {
    let form = Form::open(request, "", &["item"])?;
    read_leave_item(form.value("item")?, "item")
}

fn read_ball(form: &Form) -> Result<BallId, Error> {
    let rule = "must be \"cue\" or the number of an object ball, 1 to 15, as a text";
    ball_named(form.text("ball")?).ok_or_else(|| Error::malformed(form.path_of("ball"), rule))
}

/// One pocket and what the stroke can do there.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[serde(rename_all = "camelCase")]
pub struct PocketAimForm {
    pocket: &'static str,
    cut: f64,
    refusal: Option<String>,
    ball_first: Option<WayForm>,
    cushion_first: Vec<WayForm>,
}

/// One way to pot the ball.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[serde(rename_all = "camelCase")]
struct WayForm {
    rail: Option<&'static str>,
    azimuth: f64,
    window: WindowForm,
    right: LeavingForm,
    left: LeavingForm,
}

/// What the cue ball does at one end of the window.
#[derive(Clone, Debug, PartialEq, Serialize)]
struct LeavingForm {
    azimuth: f64,
    departure: f64,
    stop: StopForm,
}

/// Looks at every pocket with the stroke of `{ item }`, whose direction is not used.
///
/// # Errors
/// As [`read_leave_item`].
pub fn aims(request: &Value) -> Result<Vec<PocketAimForm>, Error> {
    let item = read_only_item(request)?;
    let situation = Situation::new(&item.shot, item.demand.on)?;
    Ok(PocketId::ALL.into_iter().map(|pocket| write_aim(&situation, &item, pocket)).collect())
}

fn write_aim(situation: &Situation, item: &LeaveItem, pocket: PocketId) -> PocketAimForm {
    let (arena, balls, on) = (situation.arena(), situation.balls(), situation.on());
    let stroke = &item.shot.stroke;
    let mouth = arena.shape().pocket(pocket).mouth_middle;
    let radius = arena.card().ball.radius;
    let cut = cut_angle(situation.cue_ball(), situation.object_ball(), mouth, radius);
    let (ball_first, refusal) = match pot(arena, balls, stroke, on, pocket) {
        Ok(pot) => (write_way(situation, &pot), None),
        Err(reason) => (None, Some(no_pot_in_words(reason, on, pocket))),
    };
    let over = pots_cushion_first(arena, balls, stroke, on, pocket);
    PocketAimForm {
        pocket: pocket.name(),
        cut: finite(degrees(cut)),
        refusal,
        ball_first,
        cushion_first: over.iter().filter_map(|pot| write_way(situation, pot)).collect(),
    }
}

fn write_way(situation: &Situation, pot: &Pot) -> Option<WayForm> {
    let [right, left] = cheats(situation.arena(), situation.balls(), pot)?;
    let end = |leaving: &Leaving| LeavingForm {
        azimuth: finite(degrees(leaving.stroke.azimuth)),
        departure: finite(degrees(leaving.departure)),
        stop: StopForm::new(leaving.stop, leaving.scratch),
    };
    Some(WayForm {
        rail: match pot.route {
            Route::BallFirst => None,
            Route::CushionFirst(rail) => Some(rail.name()),
        },
        azimuth: finite(degrees(pot.stroke.azimuth)),
        window: WindowForm::new(&pot.window),
        right: end(&right),
        left: end(&left),
    })
}
