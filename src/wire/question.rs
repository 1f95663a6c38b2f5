//! What the page is shown of an item, as a form. It is only ever given.

use super::item::write_item;
use super::outcome::finite;
use super::value::Value;
use crate::physics::{MISCUE_LIMIT, PlacedBall, Shot, Stroke};
use crate::practice::{
    CallPoint, LEVELS, Question, ReadItem, TIP, card_in_words, deal_code, level, place_in_words,
    point_in_words, stroke_in_words, tip_in_words,
};
use crate::table::{SIGHT_SET_BACK, TableCard, TableShape, sights};
use crate::units::degrees;
use glam::DVec2;
use serde::Serialize;

/// A place, m.
pub(super) type Place = [f64; 2];

pub(super) fn place(at: DVec2) -> Place {
    [finite(at.x), finite(at.y)]
}

pub(super) fn places(all: &[DVec2]) -> Vec<Place> {
    all.iter().copied().map(place).collect()
}

/// One of the levels.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct LevelForm {
    level: u8,
    name: &'static str,
    words: &'static str,
}

impl LevelForm {
    /// The level with this number, and what it means where it is shown.
    pub(super) fn new(number: u8, words: &'static str) -> Self {
        let step = level(number);
        Self { level: step.number, name: step.name, words }
    }
}

/// All levels, easiest first.
pub fn levels() -> Vec<LevelForm> {
    LEVELS.iter().map(|level| LevelForm::new(level.number, level.words)).collect()
}

/// The form of a question.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct QuestionForm {
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
    aim: AimForm,
    stroke: StrokeForm,
}

/// The table as it is drawn, m.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[serde(rename_all = "camelCase")]
pub(super) struct DrawingForm {
    length: f64,
    width: f64,
    touch: f64,
    ball_radius: f64,
    outline: Vec<Place>,
    pockets: Vec<PocketForm>,
    sights: Vec<Place>,
    rail: f64,
}

#[derive(Clone, Debug, PartialEq, Serialize)]
struct PocketForm {
    id: &'static str,
    x: f64,
    y: f64,
    r: f64,
}

/// A ball where it lies.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub(super) struct BallForm {
    id: String,
    x: f64,
    y: f64,
    words: String,
}

#[derive(Clone, Debug, PartialEq, Serialize)]
#[serde(rename_all = "camelCase")]
struct AimForm {
    path: Vec<Place>,
    ghost: PointForm,
    first: String,
    pocket: Option<&'static str>,
    pocket_path: Vec<Place>,
}

/// A point by its coordinates, m.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct PointForm {
    x: f64,
    y: f64,
}

impl PointForm {
    pub(super) fn new(at: DVec2) -> Self {
        Self { x: finite(at.x), y: finite(at.y) }
    }
}

/// A stroke as it is shown.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub(super) struct StrokeForm {
    side: f64,
    height: f64,
    elevation: f64,
    speed: f64,
    lengths: f64,
    miscue: f64,
    tips: TipsForm,
    words: String,
}

#[derive(Clone, Debug, PartialEq, Serialize)]
struct TipsForm {
    side: f64,
    height: f64,
}

/// Writes what is shown of `item`.
pub fn write_question(item: &ReadItem, question: &Question) -> QuestionForm {
    let (card, stroke) = (&item.shot.card, &item.shot.stroke);
    QuestionForm {
        item: write_item(item),
        task: format!("Where does the cue ball go off the {}?", question.first),
        level: LevelForm::new(item.level, level(item.level).words),
        deal: item.seed.map(deal_code),
        card: card_in_words(card),
        model: crate::physics::MODEL_VERSION,
        advice: question.advice.clone(),
        notice: question.notice.clone(),
        table: write_drawing(card),
        balls: write_balls(&item.shot),
        aim: AimForm {
            path: places(&question.approach),
            ghost: PointForm::new(question.ghost),
            first: question.first.to_string(),
            pocket: question.pocket.map(|pocket| pocket.name()),
            pocket_path: places(&question.object_path),
        },
        stroke: write_stroke(stroke, question.cut, question.lengths),
    }
}

/// Writes every ball with where it lies in words.
pub(super) fn write_balls(shot: &Shot) -> Vec<BallForm> {
    let written = |ball: &PlacedBall| {
        let name =
            if ball.id.is_cue() { "cue ball".to_owned() } else { format!("{} ball", ball.id) };
        let (x, y) = (finite(ball.position.x), finite(ball.position.y));
        let words = format!("{name}, {}", place_in_words(&shot.card, ball.position));
        BallForm { id: ball.id.to_string(), x, y, words }
    };
    shot.balls.iter().map(written).collect()
}

/// Writes a stroke with its cut angle (rad, positive to the left) and its speed in table
/// lengths.
pub(super) fn write_stroke(stroke: &Stroke, cut: f64, lengths: f64) -> StrokeForm {
    stroke_form(stroke, lengths, stroke_in_words(stroke, cut, lengths))
}

/// Writes a stroke whose cut is not to be told.
pub(super) fn write_tip(stroke: &Stroke, lengths: f64) -> StrokeForm {
    stroke_form(stroke, lengths, tip_in_words(stroke, lengths))
}

fn stroke_form(stroke: &Stroke, lengths: f64, words: String) -> StrokeForm {
    StrokeForm {
        side: finite(stroke.side),
        height: finite(stroke.height),
        elevation: finite(degrees(stroke.elevation)),
        speed: finite(stroke.speed),
        lengths: finite(lengths),
        miscue: MISCUE_LIMIT,
        tips: TipsForm { side: finite(stroke.side / TIP), height: finite(stroke.height / TIP) },
        words,
    }
}

/// Writes what is drawn of the table.
pub(super) fn write_drawing(card: &TableCard) -> DrawingForm {
    let shape = TableShape::new(card);
    DrawingForm {
        length: card.length,
        width: card.width,
        touch: card.touch_distance(),
        ball_radius: card.ball.radius,
        outline: places(shape.outline()),
        pockets: shape
            .pockets
            .iter()
            .map(|pocket| PocketForm {
                id: pocket.id.name(),
                x: finite(pocket.hole.x),
                y: finite(pocket.hole.y),
                r: pocket.hole_radius,
            })
            .collect(),
        sights: places(&sights(card)),
        // As far behind the sights as these are behind the nose, less their own size.
        rail: 1.6 * SIGHT_SET_BACK,
    }
}

/// A point of a call, with where it is in words.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct PlacedForm {
    x: f64,
    y: f64,
    #[serde(skip_serializing_if = "Option::is_none")]
    rail: Option<&'static str>,
    words: String,
}

/// Writes a point that was placed on the table of `card`.
pub fn write_placed(card: &TableCard, point: &CallPoint) -> PlacedForm {
    PlacedForm {
        x: finite(point.position.x),
        y: finite(point.position.y),
        rail: point.rail.map(|rail| rail.name()),
        words: point_in_words(card, point),
    }
}
