//! The outcome as a form. It is only ever given, never taken.

use super::shot::FORM_VERSION;
use crate::physics::{BallEnd, Event, EventKind, Outcome, PlacedBall, Sample};
use glam::DVec2;
use serde::ser::{Serialize, SerializeMap, Serializer};

/// The form of an outcome.
#[derive(Clone, Debug, PartialEq, serde::Serialize)]
pub struct OutcomeForm {
    version: u32,
    duration: f64,
    events: Vec<EventForm>,
    balls: Vec<EndForm>,
    paths: Paths,
}

#[derive(Clone, Debug, PartialEq, serde::Serialize)]
struct EventForm {
    t: f64,
    kind: &'static str,
    ball: String,
    #[serde(skip_serializing_if = "Option::is_none")]
    with: Option<String>,
    x: f64,
    y: f64,
}

#[derive(Clone, Debug, PartialEq, serde::Serialize)]
#[serde(tag = "state", rename_all = "lowercase")]
enum EndForm {
    Rest { id: String, x: f64, y: f64 },
    Pocketed { id: String, pocket: &'static str },
    Moving { id: String, x: f64, y: f64 },
}

/// One path a ball, in the order of the shot's balls, named by the ball.
#[derive(Clone, Debug, PartialEq)]
struct Paths(Vec<(String, Vec<[f64; 3]>)>);

impl Serialize for Paths {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        let mut map = serializer.serialize_map(Some(self.0.len()))?;
        for (id, samples) in &self.0 {
            map.serialize_entry(id, samples)?;
        }
        map.end()
    }
}

/// Writes what came of a shot with these `balls`.
pub fn write_outcome(balls: &[PlacedBall], outcome: &Outcome) -> OutcomeForm {
    debug_assert_eq!(balls.len(), outcome.ends.len(), "every ball has an end");
    debug_assert_eq!(balls.len(), outcome.paths.len(), "every ball has a path");
    let named = |k: usize| balls[k].id.to_string();
    OutcomeForm {
        version: FORM_VERSION,
        duration: finite(outcome.duration),
        events: outcome.events.iter().map(write_event).collect(),
        balls: outcome.ends.iter().enumerate().map(|(k, end)| write_end(named(k), end)).collect(),
        paths: Paths(
            outcome
                .paths
                .iter()
                .enumerate()
                .map(|(k, path)| (named(k), path.iter().map(write_sample).collect()))
                .collect(),
        ),
    }
}

fn write_event(event: &Event) -> EventForm {
    let with = match event.kind {
        EventKind::Contact(other) => Some(other.to_string()),
        EventKind::Cushion(surface) => Some(surface.name().to_owned()),
        EventKind::Pocketed(pocket) => Some(pocket.name().to_owned()),
        EventKind::Strike | EventKind::Roll | EventKind::Stop => None,
    };
    let (x, y) = place(event.position);
    EventForm {
        t: finite(event.time),
        kind: kind_name(event.kind),
        ball: event.ball.to_string(),
        with,
        x,
        y,
    }
}

/// The name of a kind of event in forms.
pub(super) fn kind_name(kind: EventKind) -> &'static str {
    match kind {
        EventKind::Strike => "strike",
        EventKind::Contact(_) => "contact",
        EventKind::Cushion(_) => "cushion",
        EventKind::Roll => "roll",
        EventKind::Stop => "stop",
        EventKind::Pocketed(_) => "pocketed",
    }
}

fn write_end(id: String, end: &BallEnd) -> EndForm {
    match *end {
        BallEnd::Rest(at) => {
            let (x, y) = place(at);
            EndForm::Rest { id, x, y }
        }
        BallEnd::Pocketed(pocket) => EndForm::Pocketed { id, pocket: pocket.name() },
        BallEnd::Moving(at) => {
            let (x, y) = place(at);
            EndForm::Moving { id, x, y }
        }
    }
}

fn write_sample(sample: &Sample) -> [f64; 3] {
    let (x, y) = place(sample.position);
    [finite(sample.time), x, y]
}

fn place(at: DVec2) -> (f64, f64) {
    (finite(at.x), finite(at.y))
}

/// A number on its way out; zero has no sign.
///
/// JSON would write a NaN as null, and a reader would find out late. No outcome
/// has one.
pub(super) fn finite(number: f64) -> f64 {
    debug_assert!(number.is_finite(), "{number} in an outcome");
    number + 0.0
}
