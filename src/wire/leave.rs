//! What the page can call of Leave, natively: one request in, one reply out.

use super::answer::{answer_of, write_answer};
use super::board::read_only_item;
use super::demand::write_zone;
use super::item::{read_leave_item, write_leave_item};
use super::judgement::{GradeForm, PathForm, Track, tracks, write_grade, write_path};
use super::link::unseal_answer;
use super::map::read_hand;
use super::outcome::finite;
use super::question::{
    BallForm, DrawingForm, LevelForm, Place, place, places, write_balls, write_drawing,
};
use super::reader::Form;
use super::request::read_deal;
use super::shot::write_stroke;
use super::value::Value;
use crate::error::Error;
use crate::layout::deal_leave as deal;
use crate::physics::MODEL_VERSION;
use crate::practice::leave::{
    LeaveJudgement, Playing, Worth, ZoneGrade, advice_for, hand_of_level, judge_leave, level_words,
    notice_for, task_in_words,
};
use crate::practice::{LeaveAnswer, LeaveItem, card_in_words, deal_code, rounded_answer};
use crate::shot::{NamedHand, Wobble};
use serde::Serialize;

/// The form of what is shown of a Leave item.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct LeaveQuestionForm {
    item: Value,
    task: String,
    level: LevelForm,
    deal: Option<String>,
    card: String,
    model: u32,
    advice: Vec<String>,
    notice: Option<String>,
    table: DrawingForm,
    balls: Vec<BallForm>,
    /// The hand that grades the zone if the player plays by none.
    hand: &'static str,
}

/// Deals a Leave item for `{ level, seed, size? }`.
///
/// # Errors
/// As [`read_deal`] and [`deal`].
pub fn deal_leave(request: &Value) -> Result<LeaveQuestionForm, Error> {
    let request = read_deal(request)?;
    Ok(ask_leave(&deal(request.level, request.seed, request.size)?))
}

/// Shows a Leave item that was kept: `{ item }`.
///
/// # Errors
/// As [`read_leave_item`].
pub fn open_leave(request: &Value) -> Result<LeaveQuestionForm, Error> {
    Ok(ask_leave(&read_only_item(request)?))
}

/// What is shown of `item`.
pub(super) fn ask_leave(item: &LeaveItem) -> LeaveQuestionForm {
    let card = &item.shot.card;
    LeaveQuestionForm {
        item: write_leave_item(item),
        task: task_in_words(&item.demand),
        level: LevelForm::new(item.level, level_words(item.level)),
        deal: item.seed.map(deal_code),
        card: card_in_words(card),
        model: MODEL_VERSION,
        advice: advice_for(item),
        notice: notice_for(item),
        table: write_drawing(card),
        balls: write_balls(&item.shot),
        hand: hand_of_level(item.level).id,
    }
}

/// The form of what came of an answer, but for the tracks: those are arrays of numbers,
/// which the boundary hands over as such.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[serde(rename_all = "camelCase")]
pub struct LeaveResultForm {
    duration: f64,
    stroke: Value,
    hand: &'static str,
    potted: bool,
    pocket: Option<&'static str>,
    scratch: bool,
    rails_met: bool,
    in_zone: bool,
    stop: Place,
    path: Option<PathForm>,
    grade: Option<GradeForm>,
    zone: ZoneGradeForm,
    worth: Option<WorthForm>,
    sentence: String,
    sender: Option<SenderForm>,
    #[serde(skip)]
    tracks: Vec<Track>,
}

impl LeaveResultForm {
    /// One track for each ball that moves.
    pub fn tracks(&self) -> &[Track] {
        &self.tracks
    }
}

#[derive(Clone, Debug, PartialEq, Serialize)]
struct ZoneGradeForm {
    mark: f64,
    share: f64,
    gives: f64,
    scratches: f64,
    best: Option<Value>,
    stops: Vec<Place>,
}

#[derive(Clone, Debug, PartialEq, Serialize)]
struct WorthForm {
    zone: f64,
    stops: f64,
    both: f64,
}

#[derive(Clone, Debug, PartialEq, Serialize)]
struct SenderForm {
    answer: Value,
    grade: Option<GradeForm>,
    zone: ZoneGradeForm,
    worth: Option<WorthForm>,
    sentence: String,
}

/// An answer to be graded.
struct GradeLeave {
    item: LeaveItem,
    answer: LeaveAnswer,
    hand: NamedHand,
    wobble: Option<Wobble>,
    sender: Option<LeaveAnswer>,
}

fn read_grade_leave(value: &Value) -> Result<GradeLeave, Error> {
    let known = &["item", "zone", "stroke", "call", "hand", "exact", "seed", "index", "sealed"];
    let form = Form::open(value, "", known)?;
    let item = read_leave_item(form.value("item")?, "item")?;
    let hand = match form.optional("hand") {
        Some(_) => read_hand(&form, "hand")?,
        None => *hand_of_level(item.level),
    };
    let wobble = if form.truth("exact")? {
        None
    } else {
        let number = |name: &str| form.integer(name, 0, u32::MAX);
        Some(Wobble::drawn(number("seed")?, number("index")?))
    };
    Ok(GradeLeave {
        answer: rounded_answer(&item.shot.card, &answer_of(&form)?),
        item,
        hand,
        wobble,
        sender: match form.optional("sealed") {
            Some(_) => Some(unseal_answer(form.text("sealed")?)?),
            None => None,
        },
    })
}

/// Plays a Leave item and grades the answer, and the sender's after it:
/// `{ item, zone, stroke, call?, hand?, exact, seed?, index?, sealed? }`. Seed and index
/// draw the errors of a stroke that is not played exactly, and are only then needed. The
/// answer is rounded first.
///
/// # Errors
/// As [`Form`], [`read_leave_item`], [`read_answer`](super::read_answer) and [`judge_leave`].
pub fn grade_leave(request: &Value) -> Result<LeaveResultForm, Error> {
    let GradeLeave { item, answer, hand, wobble, sender } = read_grade_leave(request)?;
    let judge = |answer: &LeaveAnswer, wobble| {
        judge_leave(&item, answer, &Playing { hand: hand.hand, wobble })
    };
    let judgement = judge(&answer, wobble)?;
    let sender = match &sender {
        Some(answer) => {
            let judgement = judge(answer, None).map_err(|error| error.within("sealed"))?;
            Some(SenderForm {
                answer: write_answer(answer),
                grade: write_path_grade(&judgement),
                zone: write_zone_grade(&judgement.zone),
                worth: judgement.worth.as_ref().map(write_worth),
                sentence: judgement.sentence,
            })
        }
        None => None,
    };
    let (demand, ending) = (&item.demand, &judgement.ending);
    let card = &item.shot.card;
    Ok(LeaveResultForm {
        duration: finite(judgement.outcome.duration),
        stroke: write_stroke(&judgement.shot.stroke),
        hand: hand.id,
        potted: demand.is_potted(ending),
        pocket: ending.pocket.map(|pocket| pocket.name()),
        scratch: ending.scratch,
        rails_met: demand.has_met_rails(ending),
        in_zone: !ending.scratch && answer.zone.contains(ending.stop),
        stop: place(ending.stop),
        path: judgement.path.as_ref().map(|path| write_path(card, &path.truth, path.tangent_end)),
        grade: write_path_grade(&judgement),
        zone: write_zone_grade(&judgement.zone),
        worth: judgement.worth.as_ref().map(write_worth),
        tracks: tracks(&judgement.shot, &judgement.outcome),
        sentence: judgement.sentence,
        sender,
    })
}

fn write_path_grade(judgement: &LeaveJudgement) -> Option<GradeForm> {
    judgement.path.as_ref()?.grade.as_ref().map(write_grade)
}

fn write_zone_grade(grade: &ZoneGrade) -> ZoneGradeForm {
    ZoneGradeForm {
        mark: finite(grade.mark),
        share: finite(grade.share),
        gives: finite(grade.gives),
        scratches: finite(grade.stops.share_scratched()),
        best: grade.rule.map(|rule| write_zone(&rule.best)),
        stops: places(&grade.stops.places),
    }
}

fn write_worth(worth: &Worth) -> WorthForm {
    WorthForm { zone: finite(worth.zone), stops: finite(worth.stops), both: finite(worth.both) }
}
