//! What is heard of a stroke: which balls are in its way, and which it runs into.

use super::set::BallSet;
use crate::ball::BallId;
use crate::geometry::first_fall;
use crate::physics::{Course, Event, EventKind, Listen, PlacedBall};
use crate::table::Surface;

/// Hears what the two balls meet, and which of the balls left out they would.
pub(super) struct Watch<'a> {
    /// The ball that is to be met.
    ball: BallId,
    /// Those that are left out.
    others: &'a [PlacedBall],
    /// Centres that are so near touch, m.
    reach: f64,
    pub blocked: BallSet,
    pub bumped: BallSet,
    /// When the cue ball met its first ball, s.
    pub met: Option<f64>,
    pub rails: u8,
    /// Another ball was met first.
    pub wrong: bool,
}

impl<'a> Watch<'a> {
    pub fn new(ball: BallId, others: &'a [PlacedBall], reach: f64) -> Self {
        let (blocked, bumped) = (BallSet::NONE, BallSet::NONE);
        Self { ball, others, reach, blocked, bumped, met: None, rails: 0, wrong: false }
    }
}

impl Listen for Watch<'_> {
    fn event(&mut self, event: Event) {
        match event.kind {
            EventKind::Contact(other) if event.ball.is_cue() && self.met.is_none() => {
                self.met = Some(event.time);
                self.wrong = other != self.ball;
            }
            EventKind::Cushion(Surface::Rail(_)) if event.ball.is_cue() && self.met.is_some() => {
                self.rails = self.rails.saturating_add(1);
            }
            _ => {}
        }
    }

    fn leg(&mut self, place: usize, course: &Course, since: f64, until: f64) {
        if place > 1 || !course.moves() {
            return;
        }
        // A meeting is told before the leg that ends with it.
        let is_after = self.met.is_some_and(|met| since >= met);
        let found = if place == 0 && is_after { &mut self.bumped } else { &mut self.blocked };
        for other in self.others {
            if found.has(other.id) {
                continue;
            }
            let offset = course.start.position - other.position;
            let velocity = course.start.velocity;
            let distance = offset.length();
            let inside = distance <= self.reach;
            let meets = inside || {
                let polynomial = [
                    (distance - self.reach) * (distance + self.reach),
                    2.0 * offset.dot(velocity),
                    velocity.length_squared() + offset.dot(course.acceleration),
                    velocity.dot(course.acceleration),
                    0.25 * course.acceleration.length_squared(),
                ];
                first_fall(&polynomial, until - since).is_some()
            };
            if meets {
                *found = found.with(other.id);
            }
        }
    }

    fn has_heard_enough(&self) -> bool {
        self.wrong
    }
}
