//! What came of a call, as a form. It is only ever given.

use super::item::write_call;
use super::outcome::finite;
use super::question::{Place, PointForm, place};
use super::value::Value;
use crate::physics::{BallEnd, EventKind, Outcome, Sample, Shot};
use crate::practice::{Call, CuePath, Dimension, Grade, Judgement, ReadItem, place_in_words};
use crate::table::{PocketId, TableCard};
use crate::units::degrees;
use glam::DVec2;
use serde::Serialize;

/// The form of a judgement, but for the tracks: those are arrays of numbers, which
/// the boundary hands over as such.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[serde(rename_all = "camelCase")]
pub struct ResultForm {
    duration: f64,
    #[serde(flatten)]
    path: PathForm,
    grade: GradeForm,
    sender: Option<SenderForm>,
    #[serde(skip)]
    tracks: Vec<Track>,
}

impl ResultForm {
    /// One track for each ball that moves.
    pub fn tracks(&self) -> &[Track] {
        &self.tracks
    }
}

/// The cue ball's path from its first ball on.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[serde(rename_all = "camelCase")]
pub(super) struct PathForm {
    contact_time: f64,
    path: Vec<Place>,
    touches: Vec<TouchForm>,
    stop: StopForm,
    tangent: TangentForm,
    slide_end: Option<SaidForm>,
}

/// How one ball moved.
#[derive(Clone, Debug, PartialEq)]
pub struct Track {
    /// The ball's name.
    pub id: String,
    /// Time (s), x and y (m), one triple after the other.
    pub samples: Vec<f64>,
    /// When it fell, s.
    pub pocketed_at: Option<f64>,
}

#[derive(Clone, Debug, PartialEq, Serialize)]
struct TouchForm {
    x: f64,
    y: f64,
    rail: &'static str,
    time: f64,
}

/// Where the cue ball ends, m, and the pocket it falls into.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub(super) struct StopForm {
    x: f64,
    y: f64,
    pocket: Option<&'static str>,
}

impl StopForm {
    pub(super) fn new(at: DVec2, pocket: Option<PocketId>) -> Self {
        Self { x: finite(at.x), y: finite(at.y), pocket: pocket.map(|pocket| pocket.name()) }
    }
}

#[derive(Clone, Debug, PartialEq, Serialize)]
struct TangentForm {
    from: Place,
    to: Place,
}

#[derive(Clone, Debug, PartialEq, Serialize)]
struct SaidForm {
    #[serde(flatten)]
    at: PointForm,
    words: String,
}

#[derive(Clone, Debug, PartialEq, Serialize)]
pub(super) struct GradeForm {
    mark: f64,
    lines: Vec<LineForm>,
    sentence: String,
}

#[derive(Clone, Debug, PartialEq, Serialize)]
struct LineForm {
    id: String,
    label: String,
    text: String,
    spoken: String,
    dimension: Option<DimensionForm>,
}

#[derive(Clone, Debug, PartialEq, Serialize)]
#[serde(tag = "kind", rename_all = "lowercase")]
pub(super) enum DimensionForm {
    Arc { centre: Place, radius: f64, from: f64, to: f64, text: String },
    Line { from: Place, to: Place, text: String },
}

#[derive(Clone, Debug, PartialEq, Serialize)]
struct SenderForm {
    call: Value,
    grade: GradeForm,
}

/// Writes what came of the player's call, and of the sender's if there is one.
pub fn write_result(
    item: &ReadItem,
    judgement: &Judgement,
    sender: Option<(&Call, &Grade)>,
) -> ResultForm {
    ResultForm {
        duration: finite(judgement.outcome.duration),
        path: write_path(&item.shot.card, &judgement.truth, judgement.tangent_end),
        grade: write_grade(&judgement.grade),
        sender: sender
            .map(|(call, grade)| SenderForm { call: write_call(call), grade: write_grade(grade) }),
        tracks: tracks(&item.shot, &judgement.outcome),
    }
}

/// Writes the cue ball's path, and where its tangent line ends, m.
pub(super) fn write_path(card: &TableCard, truth: &CuePath, tangent_end: DVec2) -> PathForm {
    PathForm {
        contact_time: finite(truth.contact_time),
        path: truth.path.iter().map(|sample| place(sample.position)).collect(),
        touches: truth
            .touches
            .iter()
            .map(|touch| {
                let [x, y] = place(touch.position);
                TouchForm { x, y, rail: touch.surface.name(), time: finite(touch.time) }
            })
            .collect(),
        stop: StopForm::new(truth.stop, truth.pocketed),
        tangent: TangentForm { from: place(truth.ghost), to: place(tangent_end) },
        slide_end: truth.slide_end.map(|at| SaidForm {
            at: PointForm::new(at),
            words: format!("Sliding ended at {}.", place_in_words(card, at)),
        }),
    }
}

/// One track for each ball of `shot` that moves.
pub(super) fn tracks(shot: &Shot, outcome: &Outcome) -> Vec<Track> {
    shot.balls
        .iter()
        .zip(&outcome.paths)
        .zip(&outcome.ends)
        .filter(|((_, path), _)| path.len() > 1)
        .map(|((ball, path), end)| Track {
            id: ball.id.to_string(),
            samples: path.iter().flat_map(triple).collect(),
            pocketed_at: match end {
                BallEnd::Pocketed(_) => outcome
                    .events
                    .iter()
                    .find(|e| e.ball == ball.id && matches!(e.kind, EventKind::Pocketed(_)))
                    .map(|event| event.time),
                BallEnd::Rest(_) | BallEnd::Moving(_) => None,
            },
        })
        .collect()
}

fn triple(sample: &Sample) -> [f64; 3] {
    let [x, y] = place(sample.position);
    [finite(sample.time), x, y]
}

pub(super) fn write_grade(grade: &Grade) -> GradeForm {
    GradeForm {
        mark: finite(grade.mark),
        lines: grade
            .lines
            .iter()
            .map(|line| LineForm {
                id: line.id.clone(),
                label: line.label.clone(),
                text: line.text.clone(),
                spoken: line.spoken.clone(),
                dimension: line.dimension.as_ref().map(write_dimension),
            })
            .collect(),
        sentence: grade.sentence.clone(),
    }
}

pub(super) fn write_dimension(dimension: &Dimension) -> DimensionForm {
    match dimension {
        Dimension::Arc { centre, radius, from, to, text } => DimensionForm::Arc {
            centre: place(*centre),
            radius: finite(*radius),
            from: finite(degrees(*from)),
            to: finite(degrees(*to)),
            text: text.clone(),
        },
        Dimension::Line { from, to, text } => {
            let [from, to] = [*from, *to].map(place);
            DimensionForm::Line { from, to, text: text.clone() }
        }
    }
}
