//! What the page can call of Clear, natively: one request in, one reply out.

use super::clear_item::{read_clear_item, read_object, write_clear_item};
use super::judgement::{StopForm, Track, tracks};
use super::map::read_hand;
use super::outcome::finite;
use super::question::{BallForm, DrawingForm, LevelForm, write_balls, write_drawing};
use super::reader::Form;
use super::shot::write_stroke;
use super::table::read_size;
use super::value::Value;
use crate::error::Error;
use crate::layout::{ClearWish, deal_clear as deal};
use crate::physics::{Arena, BallEnd, MODEL_VERSION, Shot, play};
use crate::plan::{Called, Over, Table};
use crate::practice::clear::{
    Told, also_fell_in_words, clear_in_words, decided, notice_for, over_in_words, shot_in_words,
};
use crate::practice::{ClearItem, card_in_words, deal_code, level, settled};
use crate::shot::{Delivery, Wobble};
use crate::table::PocketId;
use serde::Serialize;

/// The most balls a wish can name; how many there may be is the deal's to say.
const MOST_BALLS: u32 = 15;

/// What is shown of a Clear item.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct ClearQuestionForm {
    item: Value,
    task: String,
    level: LevelForm,
    deal: Option<String>,
    card: String,
    model: u32,
    table: DrawingForm,
    balls: Vec<BallForm>,
    /// What is still to be cleared, and what of it may be played now.
    left: Vec<String>,
    open: Vec<String>,
    notice: Option<String>,
}

/// Deals a Clear item for `{ level, seed, size?, game, balls, demands? }`; `game` is
/// "rotation" or "group".
///
/// # Errors
/// As [`Form`] and [`deal`].
pub fn deal_clear(request: &Value) -> Result<ClearQuestionForm, Error> {
    let form = Form::open(request, "", &["level", "seed", "size", "game", "balls", "demands"])?;
    let wish = ClearWish {
        level: form.integer("level", 1, super::HARDEST_LEVEL)? as u8,
        rotation: form.choice("game", &["rotation", "group"], |kind| kind)? == "rotation",
        n_balls: form.integer("balls", 1, MOST_BALLS)? as u8,
        demands: form.optional("demands").is_some() && form.truth("demands")?,
        seed: form.integer("seed", 0, u32::MAX)?,
        size: read_size(&form)?,
    };
    ask_clear(&deal(&wish)?)
}

/// Shows a Clear item, or what is left of one: `{ item }`.
///
/// # Errors
/// As [`read_clear_item`].
pub fn open_clear(request: &Value) -> Result<ClearQuestionForm, Error> {
    let form = Form::open(request, "", &["item"])?;
    ask_clear(&read_clear_item(form.value("item")?, "item")?)
}

/// What is shown of `item`.
///
/// # Errors
/// As [`ClearItem::rack`].
pub(super) fn ask_clear(item: &ClearItem) -> Result<ClearQuestionForm, Error> {
    let (rack, card) = (item.rack()?, &item.shot.card);
    let left = rack.targets();
    let names = |balls: crate::plan::BallSet| balls.balls().map(|ball| ball.to_string()).collect();
    Ok(ClearQuestionForm {
        item: write_clear_item(item),
        task: clear_in_words(item),
        level: LevelForm::new(item.level, level(item.level).words),
        deal: item.seed.map(deal_code),
        card: card_in_words(card),
        model: MODEL_VERSION,
        table: write_drawing(card),
        balls: write_balls(&item.shot),
        left: names(left),
        open: names(rack.legal(left)),
        notice: notice_for(item),
    })
}

/// What came of one shot of a run, but for the tracks.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct ClearPlayedForm {
    duration: f64,
    stroke: Value,
    stop: StopForm,
    /// Why the run is over, if it is.
    over: Option<&'static str>,
    cleared: bool,
    /// What is left, to go on with.
    next: Option<ClearQuestionForm>,
    words: String,
    #[serde(skip)]
    tracks: Vec<Track>,
}

impl ClearPlayedForm {
    /// One track for each ball that moves.
    pub fn tracks(&self) -> &[Track] {
        &self.tracks
    }
}

/// Reads a call: `{ ball, pocket }`.
pub(super) fn read_called(value: &Value, path: &str, item: &ClearItem) -> Result<Called, Error> {
    let form = Form::open(value, path, &["ball", "pocket"])?;
    let ball = read_object(form.value("ball")?, &form.path_of("ball"))?;
    let rack = item.rack()?;
    if !rack.legal(rack.targets()).has(ball) {
        let open: Vec<String> =
            rack.legal(rack.targets()).balls().map(|ball| ball.to_string()).collect();
        let rule = format!("must be a ball that may be played now: {}", open.join(", "));
        return Err(Error::invalid(form.path_of("ball"), rule));
    }
    Ok(Called { ball, pocket: form.choice("pocket", &PocketId::ALL, PocketId::name)? })
}

/// Plays the stroke of `{ item, called, hand?, seed?, index? }`: exactly, or as the hand
/// does with the errors of that number.
///
/// # Errors
/// As [`Form`], [`read_clear_item`] and [`play`].
pub fn play_clear(request: &Value) -> Result<ClearPlayedForm, Error> {
    let form = Form::open(request, "", &["item", "called", "hand", "seed", "index"])?;
    let item = read_clear_item(form.value("item")?, "item")?;
    let called = read_called(form.value("called")?, "called", &item)?;
    let Shot { card, balls, .. } = &item.shot;
    let stroke = match form.optional("hand") {
        Some(_) => {
            let hand = read_hand(&form, "hand")?.hand;
            let seed = form.integer("seed", 0, u32::MAX)?;
            let wobble = Wobble::drawn(seed, form.integer("index", 0, u32::MAX)?);
            Delivery::new(&hand, card, balls, &item.shot.stroke).struck(&wobble)
        }
        None => item.shot.stroke,
    };
    let shot = Shot { stroke, ..item.shot.clone() };
    let outcome = play(&shot)?;
    let (rack, arena) = (item.rack()?, Arena::new(card));
    let table = Table::of(&rack);
    let cue = shot.balls.iter().position(|ball| ball.id.is_cue());
    let stop = match cue.and_then(|cue| outcome.ends.get(cue)) {
        Some(BallEnd::Pocketed(pocket)) => {
            StopForm::new(arena.shape().pocket(*pocket).hole, Some(*pocket))
        }
        Some(BallEnd::Rest(at) | BallEnd::Moving(at)) => StopForm::new(*at, None),
        None => StopForm::new(table.cue_ball(), None),
    };
    let fell = shot.balls.iter().zip(&outcome.ends);
    let fell = fell.filter(|(ball, end)| {
        let is_other = !ball.id.is_cue() && ball.id != called.ball;
        is_other && matches!(end, BallEnd::Pocketed(_))
    });
    let too = also_fell_in_words(fell.map(|(ball, _)| ball.id).collect());
    let (over, next) = match table.after(&rack, &arena, called, &stroke) {
        Ok(after) => {
            // What is left is played on from where a link can tell it.
            let balls = settled(card, &after.balls);
            let shot = Shot { balls, ..item.shot.clone() };
            (None, Some(ask_clear(&ClearItem { shot, ..item.clone() })?))
        }
        Err(over) => (Some(over), None),
    };
    Ok(ClearPlayedForm {
        duration: finite(outcome.duration),
        stroke: write_stroke(&stroke),
        stop,
        over: over.map(over_name),
        cleared: over == Some(Over::Cleared),
        next,
        words: match over {
            None => format!("{}: potted.{too}", shot_in_words(called)),
            Some(over) => format!("{}{too}", over_in_words(over)),
        },
        tracks: tracks(&shot, &outcome),
    })
}

/// All that can end a run.
pub(super) const OVERS: [Over; 7] = [
    Over::Cleared,
    Over::Missed,
    Over::Scratched,
    Over::WrongBall,
    Over::LastBallEarly,
    Over::NotAsAsked,
    Over::Stuck,
];

pub(super) fn over_name(over: Over) -> &'static str {
    match over {
        Over::Cleared => "cleared",
        Over::Missed => "missed",
        Over::Scratched => "scratched",
        Over::WrongBall => "wrong-ball",
        Over::LastBallEarly => "last-ball-early",
        Over::NotAsAsked => "not-as-asked",
        Over::Stuck => "stuck",
    }
}

/// Where a run was decided.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct DecidedForm {
    choice: Option<usize>,
    stroke: Option<usize>,
    words: String,
}

/// Tells where the run of `{ shots: [{ best, own, after }] }` was decided.
///
/// # Errors
/// As [`Form`]; [`Error::OutOfRange`] for a chance outside of 0 to 1.
pub fn decide(request: &Value) -> Result<DecidedForm, Error> {
    let form = Form::open(request, "", &["shots"])?;
    let shots = form
        .list("shots", 0, 64)?
        .map(|(entry, path)| {
            let form = Form::open(entry, &path, &["best", "own", "after"])?;
            let chance = |name: &str| {
                let chance = form.number(name)?;
                if (0.0..=1.0).contains(&chance) {
                    return Ok(chance);
                }
                Err(Error::out_of_range(form.path_of(name), chance, "must lie from 0 to 1"))
            };
            Ok(Told { best: chance("best")?, own: chance("own")?, after: chance("after")? })
        })
        .collect::<Result<Vec<Told>, Error>>()?;
    let told = decided(&shots);
    let shot = |cost: Option<(usize, f64)>| cost.map(|(shot, _)| shot);
    Ok(DecidedForm { choice: shot(told.choice), stroke: shot(told.stroke), words: told.words })
}
