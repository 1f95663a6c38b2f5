//! How an entry of a set is meant to be played.

use super::Entry;
use crate::physics::{Arena, Outcome, Shot, Stroke, play};
use crate::practice::read::tangent_end;
use crate::practice::{AnyItem, CuePath, stroke_in_words};
use crate::shot::{Situation, lengths_of_speed};
use glam::DVec2;

/// The stroke that is meant, and what comes of it.
#[derive(Clone, Debug, PartialEq)]
pub struct Meant {
    /// The layout with that stroke.
    pub shot: Shot,
    /// What came of it.
    pub outcome: Outcome,
    /// The cue ball's path from the object ball on.
    pub truth: CuePath,
    /// Where the tangent line meets the edge of the cloth, m.
    pub tangent_end: DVec2,
    /// The stroke in words.
    pub words: String,
}

impl Meant {
    /// What comes of `shot`; `None` if it cannot be played or meets no ball.
    pub fn of(shot: Shot) -> Option<Self> {
        let outcome = play(&shot).ok()?;
        let truth = CuePath::of(&shot, &outcome)?;
        let lengths = lengths_of_speed(&Arena::new(&shot.card), shot.stroke.speed);
        let words = stroke_in_words(&shot.stroke, truth.cut(), lengths);
        let tangent_end = tangent_end(&shot.card, &truth);
        Some(Self { shot, outcome, truth, tangent_end, words })
    }
}

/// The stroke that `entry` names; in Read the item's own, and in Leave the item's own if it
/// does what is asked. `None` where nobody said how it is to be played.
fn stroke_of(entry: &Entry) -> Option<Stroke> {
    let own = entry.item.shot().stroke;
    entry.stroke.or(match &entry.item {
        AnyItem::Read(_) => Some(own),
        AnyItem::Leave(item) => {
            let situation = Situation::new(&item.shot, item.demand.on).ok()?;
            item.demand.is_met(&situation.play(&own)).then_some(own)
        }
        AnyItem::Clear(_) => None,
    })
}

/// How `entry` is meant to be played, if anybody said so and it meets a ball.
pub fn meant(entry: &Entry) -> Option<Meant> {
    let stroke = stroke_of(entry)?;
    Meant::of(Shot { stroke, ..entry.item.shot().clone() })
}
