//! The Read exercise: what is shown of an item, and what comes of a call.

use super::grade::{Grade, grade};
use super::item::{Call, ReadItem};
use super::point::{check_call, edge};
use super::truth::CuePath;
use crate::ball::BallId;
use crate::error::Error;
use crate::geometry::cross;
use crate::physics::{Arena, EventKind, MODEL_VERSION, Outcome, Shot, play};
use crate::shot::lengths_of_speed;
use crate::table::{PocketId, Surface, TableCard, card_advice};
use glam::DVec2;

/// Normal speed at a cushion up to which its law was measured, m/s.
///
/// # Source
/// Mathavan, Jackson and Parkin 2010, Proc. IMechE C 224(9), 1863, abstract.
const MEASURED_REBOUND: f64 = 2.5;

/// What the player is shown.
#[derive(Clone, Debug, PartialEq)]
pub struct Question {
    /// The ball that the cue ball meets first.
    pub first: BallId,
    /// The cue ball's centre as it meets that ball, m.
    pub ghost: DVec2,
    /// The cue ball's way to the ghost ball, m.
    pub approach: Vec<DVec2>,
    /// Where the first ball goes, m, and the pocket it falls into.
    pub object_path: Vec<DVec2>,
    /// See `object_path`.
    pub pocket: Option<PocketId>,
    /// Cut angle, rad, positive when the object ball goes to the left.
    pub cut: f64,
    /// The stroke's speed in table lengths.
    pub lengths: f64,
    /// What the player should know about the limits of the model here.
    pub advice: Vec<String>,
    /// What must be said of the item itself before it is played.
    pub notice: Option<String>,
}

/// What came of a call.
#[derive(Clone, Debug, PartialEq)]
pub struct Judgement {
    /// The whole shot.
    pub outcome: Outcome,
    /// The cue ball's path from the object ball on.
    pub truth: CuePath,
    /// Where the tangent line meets the edge of the cloth, m.
    pub tangent_end: DVec2,
    /// The grade of the call.
    pub grade: Grade,
}

/// What is shown of `item`.
///
/// # Errors
/// As [`play`]; [`Error::Invalid`] if the cue ball meets no object ball.
pub fn question(item: &ReadItem) -> Result<Question, Error> {
    question_as(MODEL_VERSION, item)
}

/// What is shown of `item` by version `now` of the model, which is one that plays
/// as this one does.
///
/// # Errors
/// As [`question`].
pub fn question_as(now: u32, item: &ReadItem) -> Result<Question, Error> {
    let (outcome, truth) = played(&item.shot)?;
    let card = &item.shot.card;
    let path_of = |id: BallId| {
        let place = item.shot.balls.iter().position(|ball| ball.id == id);
        place.map_or(&[][..], |place| outcome.paths[place].as_slice())
    };
    let mut approach: Vec<DVec2> = path_of(BallId::CUE)
        .iter()
        .take_while(|sample| sample.time < truth.contact_time)
        .map(|sample| sample.position)
        .collect();
    approach.push(truth.ghost);
    let pocket = outcome.events.iter().find_map(|event| match event.kind {
        EventKind::Pocketed(pocket) if event.ball == truth.first => Some(pocket),
        _ => None,
    });
    Ok(Question {
        first: truth.first,
        ghost: truth.ghost,
        approach,
        object_path: path_of(truth.first).iter().map(|sample| sample.position).collect(),
        pocket,
        cut: truth.cut(),
        lengths: lengths_of_speed(&Arena::new(card), item.shot.stroke.speed),
        advice: advice(&item.shot, &outcome),
        notice: older(item.model, now),
    })
}

/// Plays `item` and grades `call`.
///
/// # Errors
/// As [`question`] and [`check_call`].
pub fn judge(item: &ReadItem, call: &Call) -> Result<Judgement, Error> {
    check_call(&item.shot.card, call).map_err(|error| error.within("call"))?;
    let (outcome, truth) = played(&item.shot)?;
    let grade = grade(&item.shot.card, &truth, call, item.level);
    let tangent_end = tangent_end(&item.shot.card, &truth);
    Ok(Judgement { outcome, truth, tangent_end, grade })
}

fn played(shot: &Shot) -> Result<(Outcome, CuePath), Error> {
    let outcome = play(shot)?;
    let truth = CuePath::of(shot, &outcome)
        .ok_or_else(|| Error::invalid("shot", "the cue ball must meet an object ball"))?;
    Ok((outcome, truth))
}

/// Where the tangent line leaves the area of the cue ball's centre; the ghost ball
/// itself after a full hit, which has no tangent.
pub(super) fn tangent_end(card: &TableCard, truth: &CuePath) -> DVec2 {
    let side = cross(truth.line_of_centres, truth.approach);
    let direction = crate::geometry::left_of(truth.line_of_centres) * side.signum();
    if side.abs() < 1e-9 {
        return truth.ghost;
    }
    edge(card, truth.ghost, direction)
}

/// What to know of an item that version `made` of the model made, where `now` plays it.
pub(super) fn older(made: u32, now: u32) -> Option<String> {
    (made < now).then(|| {
        format!(
            "This item was made with version {made} of the model and is played with version \
             {now}: the balls may run otherwise than its maker saw."
        )
    })
}

/// Where the model's limits matter for this shot, in sentences.
fn advice(shot: &Shot, outcome: &Outcome) -> Vec<String> {
    let mut sentences = advice_on(&shot.card);
    if hardest_rebound(outcome) > MEASURED_REBOUND {
        sentences.push(
            "The cue ball meets a cushion faster than 2.5 m/s, beyond what was measured.".into(),
        );
    }
    sentences
}

/// What to know of the table, in sentences.
pub(super) fn advice_on(card: &TableCard) -> Vec<String> {
    card_advice(card)
        .into_iter()
        .map(|advice| {
            format!(
                "{} is {}; real tables lie between {} and {}.",
                advice.field, advice.value, advice.least, advice.most
            )
        })
        .collect()
}

/// Largest speed at which the cue ball comes in upon a rail, m/s.
fn hardest_rebound(outcome: &Outcome) -> f64 {
    let Some(path) = outcome.events.first().and_then(|strike| {
        outcome.paths.iter().find(|path| path.first().map(|s| s.position) == Some(strike.position))
    }) else {
        return 0.0;
    };
    outcome
        .events
        .iter()
        .filter(|event| event.ball.is_cue())
        .filter_map(|event| match event.kind {
            EventKind::Cushion(Surface::Rail(rail)) => {
                let k = path.iter().position(|sample| sample.time >= event.time)?;
                let before = path.get(k.checked_sub(1)?)?;
                let step = (path[k].position - before.position) / (path[k].time - before.time);
                Some(if rail.is_long() { step.y.abs() } else { step.x.abs() })
            }
            _ => None,
        })
        .fold(0.0, f64::max)
}
