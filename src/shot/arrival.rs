//! How the cue ball comes to its stop, and what it leaves behind.

use super::Situation;
use crate::ball::BallId;
use crate::physics::{BallEnd, Course, Event, EventKind, Listen, PlacedBall, Stroke};
use glam::DVec2;

/// Pieces into which a curved leg is cut to measure its length (tuning choice: a parabola
/// that turns by a right angle is then short by less than one in a hundred).
const PIECES: u32 = 8;

/// How the cue ball came to its stop.
#[derive(Clone, Debug, PartialEq)]
pub struct Arrival {
    /// Unit vector along the last piece of its path; none if it never moved on.
    pub heading: Option<DVec2>,
    /// Length of its path from its first ball on, m.
    pub run: f64,
    /// The balls that are left on the table, the cue ball among them unless it fell.
    pub left: Vec<PlacedBall>,
}

impl Situation {
    /// Plays `stroke`, which must have passed [`Stroke::check`], for the cue ball's way to
    /// its stop.
    pub fn arrival(&self, stroke: &Stroke) -> Arrival {
        let cue_place = self.balls().iter().position(|ball| ball.id.is_cue());
        let mut watch =
            Watch { cue_place: cue_place.unwrap_or_default(), met: false, heading: None, run: 0.0 };
        let ends = self.arena().strike(self.balls(), stroke, &mut watch);
        let left = self.balls().iter().zip(&ends).filter_map(|(ball, end)| match *end {
            BallEnd::Rest(position) | BallEnd::Moving(position) => {
                Some(PlacedBall { position, ..*ball })
            }
            BallEnd::Pocketed(_) => None,
        });
        Arrival { heading: watch.heading, run: watch.run, left: left.collect() }
    }
}

/// Follows the cue ball from its first ball on.
struct Watch {
    cue_place: usize,
    met: bool,
    heading: Option<DVec2>,
    run: f64,
}

impl Listen for Watch {
    fn event(&mut self, event: Event) {
        self.met |= event.ball == BallId::CUE && matches!(event.kind, EventKind::Contact(_));
    }

    fn leg(&mut self, place: usize, course: &Course, since: f64, until: f64) {
        if place != self.cue_place || !self.met || !course.moves() {
            return;
        }
        let step = (until - since) / f64::from(PIECES);
        let mut at = course.start.position;
        for piece in 1..=PIECES {
            let next = course.position(step * f64::from(piece));
            let way = next - at;
            let length = way.length();
            if length > 0.0 {
                self.heading = Some(way / length);
            }
            self.run += length;
            at = next;
        }
    }
}
