//! A call that is kept: what was asked, called and came of it, and what it tells.

use super::skill::Skill;
use super::told::{Told, of_estimate, of_path, of_stop, of_zone};
use crate::error::Error;
use crate::geometry::unit_from_angle;
use crate::physics::{Arena, BallEnd, MODEL_VERSION, Outcome, Shot, play};
use crate::plan::{Called, Over, Table};
use crate::practice::eye::{EyeItem, judge_eye};
use crate::practice::leave::{LeaveJudgement, Playing, judge_leave};
use crate::practice::{
    Call, ClearItem, CuePath, LeaveAnswer, LeaveItem, ReadItem, card_in_words, judge,
};
use crate::shot::{Delivery, Demand, NamedHand, Wobble, Zone};
use crate::table::{PocketId, Rail};
use glam::DVec2;

/// From this mark on a call succeeds (tuning choice).
const SUCCESS: f64 = 60.0;

/// Estimates have no level; they are held to what is asked on this one, for which tolerances
/// are written down.
const LEVEL_OF_EYE: u8 = 4;

/// The part in which a call was made. Their order is that of their codes, which are kept on
/// devices: new ones go to the end.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Part {
    /// Read.
    Read,
    /// Leave.
    Leave,
    /// Clear.
    Clear,
    /// Eye.
    Eye,
}

impl Part {
    /// All, in the order of their codes.
    pub const ALL: [Self; 4] = [Self::Read, Self::Leave, Self::Clear, Self::Eye];

    /// Its number on devices.
    pub fn code(self) -> u8 {
        self as u8
    }

    /// Its name in forms.
    pub fn name(self) -> &'static str {
        match self {
            Self::Read => "read",
            Self::Leave => "leave",
            Self::Clear => "clear",
            Self::Eye => "eye",
        }
    }
}

/// How a stroke was played.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct By {
    /// The hand by which zones are graded.
    pub hand: NamedHand,
    /// Seed and index of the stroke's errors; `None` if it was played exactly.
    pub drawn: Option<(u32, u32)>,
}

impl By {
    fn wobble(&self) -> Option<Wobble> {
        self.drawn.map(|(seed, index)| Wobble::drawn(seed, index))
    }
}

/// Chances to clear what is left, 0 to 1.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Worth {
    /// With the best shot that was found.
    pub best: f64,
    /// With the called one.
    pub own: f64,
}

/// What was asked, and how it was answered.
#[derive(Clone, Debug, PartialEq)]
pub enum Answered {
    /// A path was called.
    Read {
        /// What was asked.
        item: ReadItem,
        /// The answer.
        call: Call,
    },
    /// A zone was marked and a stroke chosen.
    Leave {
        /// What was asked.
        item: LeaveItem,
        /// The answer.
        answer: LeaveAnswer,
        /// How it was played.
        by: By,
    },
    /// A shot of a run was called; the stroke is the item's.
    Clear {
        /// What was left.
        item: ClearItem,
        /// Ball and pocket.
        called: Called,
        /// Where the cue ball was to stop.
        zone: Option<Zone>,
        /// How it was played.
        by: By,
        /// What it was worth, once that is known.
        worth: Option<Worth>,
    },
    /// Something was estimated.
    Eye {
        /// What was asked.
        item: EyeItem,
        /// The answer, in its unit.
        answer: f64,
    },
}

/// What came of a call.
#[derive(Clone, Debug, PartialEq)]
pub struct Came {
    /// Where the cue ball stopped, m,
    pub stop: DVec2,
    /// and the pocket it fell into.
    pub pocket: Option<PocketId>,
    /// The rails that it met after its first ball.
    pub rails: Vec<Rail>,
    /// Why the run is over, if it is.
    pub over: Option<Over>,
}

/// A call that is kept.
#[derive(Clone, Debug, PartialEq)]
pub struct Record {
    /// When it was made, whole ms.
    pub at: f64,
    /// What was asked and answered.
    pub answered: Answered,
    /// The version of the model that played it.
    pub model: u32,
    /// The table card in words.
    pub card: String,
    /// 0 to 100; `None` where there is none.
    pub mark: Option<f64>,
    /// Whether it counts as a success.
    pub success: bool,
    /// The skills that it tells of.
    pub told: Vec<Told>,
    /// What came of it.
    pub came: Came,
}

impl Record {
    /// The part in which it was made.
    pub fn part(&self) -> Part {
        match self.answered {
            Answered::Read { .. } => Part::Read,
            Answered::Leave { .. } => Part::Leave,
            Answered::Clear { .. } => Part::Clear,
            Answered::Eye { .. } => Part::Eye,
        }
    }

    /// Its level, 1 to 6.
    pub fn level(&self) -> u8 {
        match &self.answered {
            Answered::Read { item, .. } => item.level,
            Answered::Leave { item, .. } => item.level,
            Answered::Clear { item, .. } => item.level,
            Answered::Eye { .. } => LEVEL_OF_EYE,
        }
    }

    /// How it went, in a few words.
    pub fn words(&self) -> String {
        let off = |skill: Skill| {
            let told = self.told.iter().find(|told| told.skill == skill)?;
            let error = told.error();
            (error.abs() >= 0.05).then(|| skill.off(error))
        };
        let stop: Vec<String> =
            [Skill::StopAlong, Skill::StopAcross].into_iter().filter_map(off).collect();
        let how = match (&self.answered, self.came.over) {
            (Answered::Clear { called, .. }, None | Some(Over::Cleared)) => {
                return format!("the {} in the {} pocket: potted", called.ball, called.pocket);
            }
            (Answered::Clear { called, .. }, Some(_)) => {
                return format!(
                    "the {} in the {} pocket: the run ended",
                    called.ball, called.pocket
                );
            }
            (Answered::Eye { item, .. }, _) => {
                let off = self.told.first().map(|told| told.skill.off(told.error()));
                let mark = libm::round(self.mark.unwrap_or(0.0));
                let title = item.estimate.title().to_ascii_lowercase();
                return format!("{title}: {mark} points, {}", off.unwrap_or_default());
            }
            (Answered::Leave { .. }, _) => "zone",
            (Answered::Read { .. }, _) => "stop",
        };
        let off = if stop.is_empty() { "spot on".to_owned() } else { stop.join(", ") };
        format!("{} points, {how} {off}", libm::round(self.mark.unwrap_or(0.0)))
    }
}

/// Plays and grades what was answered at the time `at` once more, and keeps what it tells.
///
/// # Errors
/// As [`judge`], [`judge_leave`], [`ClearItem::rack`] and [`judge_eye`].
pub fn record(at: f64, answered: Answered) -> Result<Record, Error> {
    match &answered {
        Answered::Read { item, call } => {
            let judged = judge(item, call)?;
            let (card, side) = (&item.shot.card, item.shot.stroke.side);
            let told = of_path(card, side, &judged.truth, &judged.grade.errors);
            let came = came_of(&judged.truth);
            let (mark, card) = (judged.grade.mark, card_in_words(card));
            Ok(kept(at, answered, card, (Some(mark), mark >= SUCCESS), told, came))
        }
        Answered::Leave { item, answer, by } => {
            let judged = judge_leave(item, answer, &playing(by))?;
            let card = &item.shot.card;
            let travel = travel(&judged);
            let mut told = of_zone(card, &answer.zone, &judged.zone, travel);
            let path = judged.path.as_ref();
            match path.and_then(|path| Some((path, path.grade.as_ref()?))) {
                Some((path, grade)) => {
                    told.extend(of_path(card, answer.stroke.side, &path.truth, &grade.errors));
                }
                // A zone alone says where the ball is to stop, too.
                None if !judged.ending.scratch => {
                    told.extend(of_stop(card, answer, judged.ending.stop, travel));
                }
                None => {}
            }
            let (shot, outcome) = (&judged.shot, &judged.outcome);
            let came = path.map_or_else(|| came_to(shot, outcome), |path| came_of(&path.truth));
            let (mark, card) = (judged.zone.mark, card_in_words(card));
            Ok(kept(at, answered, card, (Some(mark), mark >= SUCCESS), told, came))
        }
        Answered::Clear { item, called, zone, by, worth } => {
            let told = of_shot(item, *called, zone.as_ref(), by, *worth)?;
            let came = came_of_shot(item, *called, by)?;
            let success = matches!(came.over, None | Some(Over::Cleared));
            let card = card_in_words(&item.shot.card);
            Ok(kept(at, answered, card, (None, success), told, came))
        }
        Answered::Eye { item, answer } => {
            let judged = judge_eye(item, *answer)?;
            let told = vec![of_estimate(item, &judged)];
            let came = came_to(&item.shot, &play(&item.shot)?);
            let (mark, card) = (judged.mark, card_in_words(&item.shot.card));
            Ok(kept(at, answered, card, (Some(mark), mark >= SUCCESS), told, came))
        }
    }
}

fn kept(
    at: f64,
    answered: Answered,
    card: String,
    (mark, success): (Option<f64>, bool),
    told: Vec<Told>,
    came: Came,
) -> Record {
    Record { at, answered, model: MODEL_VERSION, card, mark, success, told, came }
}

fn playing(by: &By) -> Playing {
    Playing { hand: by.hand.hand, wobble: by.wobble() }
}

/// The way in which the cue ball came to its stop; that of the best zone where it never
/// met a ball.
fn travel(judged: &LeaveJudgement) -> DVec2 {
    let path = judged.path.as_ref().map(|path| path.truth.path.as_slice());
    let last = path.and_then(|path| {
        path.windows(2).rev().find_map(|pair| (pair[1].position - pair[0].position).try_normalize())
    });
    let turn = judged.zone.rule.as_ref().map_or(0.0, |rule| rule.best.turn);
    last.unwrap_or_else(|| unit_from_angle(turn))
}

fn came_of(truth: &CuePath) -> Came {
    let rails = truth.rail_touches().map(|(rail, _)| rail).collect();
    Came { stop: truth.stop, pocket: truth.pocketed, rails, over: None }
}

/// What came of a shot that may have met nothing.
fn came_to(shot: &Shot, outcome: &Outcome) -> Came {
    if let Some(truth) = CuePath::of(shot, outcome) {
        return came_of(&truth);
    }
    let cue = shot.balls.iter().position(|ball| ball.id.is_cue());
    let (stop, pocket) = match cue.and_then(|cue| outcome.ends.get(cue)) {
        Some(BallEnd::Rest(stop) | BallEnd::Moving(stop)) => (*stop, None),
        Some(BallEnd::Pocketed(pocket)) => {
            (Arena::new(&shot.card).shape().pocket(*pocket).hole, Some(*pocket))
        }
        None => (DVec2::ZERO, None),
    };
    Came { stop, pocket, rails: vec![], over: None }
}

/// What a called shot of a run tells: of its zone, if one was marked, and of the choice.
fn of_shot(
    item: &ClearItem,
    called: Called,
    zone: Option<&Zone>,
    by: &By,
    worth: Option<Worth>,
) -> Result<Vec<Told>, Error> {
    let mut told = vec![];
    if let Some(zone) = zone {
        let demand = Demand { pocket: Some(called.pocket), ..Demand::to_pot(called.ball) };
        let ClearItem { shot, model, level, .. } = item;
        let leave =
            LeaveItem { shot: shot.clone(), demand, model: *model, level: *level, seed: None };
        let answer = LeaveAnswer { zone: *zone, stroke: shot.stroke, call: None };
        let judged = judge_leave(&leave, &answer, &playing(by))?;
        let travel = travel(&judged);
        told.extend(of_zone(&shot.card, zone, &judged.zone, travel));
        if !judged.ending.scratch {
            told.extend(of_stop(&shot.card, &answer, judged.ending.stop, travel));
        }
    }
    if let Some(Worth { best, own }) = worth {
        told.push(Told { skill: Skill::Order, called: 100.0 * own, real: 100.0 * best });
    }
    Ok(told)
}

fn came_of_shot(item: &ClearItem, called: Called, by: &By) -> Result<Came, Error> {
    let Shot { card, balls, stroke } = &item.shot;
    let stroke = match by.wobble() {
        Some(wobble) => Delivery::new(&by.hand.hand, card, balls, stroke).struck(&wobble),
        None => *stroke,
    };
    let shot = Shot { stroke, ..item.shot.clone() };
    let rack = item.rack()?;
    let over = Table::of(&rack).after(&rack, &Arena::new(card), called, &stroke).err();
    Ok(Came { over, ..came_to(&shot, &play(&shot)?) })
}
