//! The balls as they lie during a run, and what a shot makes of them.

use super::rack::{Game, Rack};
use super::set::BallSet;
use crate::ball::BallId;
use crate::physics::{Arena, BallEnd, Course, Event, EventKind, Listen, PlacedBall, Stroke};
use crate::table::{PocketId, Surface};
use glam::DVec2;

/// Balls on the table in the middle of a run.
#[derive(Clone, Debug, PartialEq)]
pub struct Table {
    /// The balls, the cue ball first.
    pub balls: Vec<PlacedBall>,
    /// Those that are still to be cleared.
    pub left: BallSet,
}

/// What the player says before a shot.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Called {
    /// The ball to be potted.
    pub ball: BallId,
    /// Where.
    pub pocket: PocketId,
}

/// Why a run is over.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum Over {
    /// Nothing is left.
    Cleared,
    /// The called ball did not fall where it should.
    Missed,
    /// The cue ball fell, or never came to rest.
    Scratched,
    /// The cue ball met nothing, or what it may not meet first.
    WrongBall,
    /// The last ball fell while others were left.
    LastBallEarly,
    /// What was asked between two balls was not given.
    NotAsAsked,
    /// No shot is left to play.
    Stuck,
}

impl Table {
    /// A rack before its first shot.
    pub fn of(rack: &Rack) -> Self {
        Self { balls: rack.balls.clone(), left: rack.targets() }
    }

    /// Where the cue ball lies, m.
    pub fn cue_ball(&self) -> DVec2 {
        self.balls.first().map_or(DVec2::ZERO, |ball| ball.position)
    }

    /// The ball on the table with this name.
    pub fn ball(&self, id: BallId) -> Option<PlacedBall> {
        self.balls.iter().find(|ball| ball.id == id).copied()
    }

    /// Plays `stroke` and tells what it makes of the run: how the table lies after it, or why
    /// the run is over.
    pub fn after(
        &self,
        rack: &Rack,
        arena: &Arena,
        called: Called,
        stroke: &Stroke,
    ) -> Result<Self, Over> {
        self.played(rack, arena, called, stroke).0
    }

    /// As [`after`](Self::after), and how far the cue ball went after it met the first ball, m.
    pub fn played(
        &self,
        rack: &Rack,
        arena: &Arena,
        called: Called,
        stroke: &Stroke,
    ) -> (Result<Self, Over>, f64) {
        let may_be_met = rack.may_be_met(self.left);
        let mut watch = Watch { may_be_met, first: None, met: 0.0, rails: 0, way: 0.0 };
        let ends = arena.strike(&self.balls, stroke, &mut watch);
        (self.judged(rack, called, &watch, &ends), watch.way)
    }

    fn judged(
        &self,
        rack: &Rack,
        called: Called,
        watch: &Watch,
        ends: &[BallEnd],
    ) -> Result<Self, Over> {
        if watch.first.is_none_or(|first| !watch.may_be_met.has(first)) {
            return Err(Over::WrongBall);
        }
        let Some(BallEnd::Rest(stop)) = ends.first().copied() else { return Err(Over::Scratched) };
        let mut table = Self { balls: Vec::with_capacity(self.balls.len()), left: self.left };
        let mut falls = false;
        for (ball, end) in self.balls.iter().zip(ends) {
            match *end {
                BallEnd::Pocketed(pocket) => {
                    table.left = table.left.without(ball.id);
                    falls |= ball.id == called.ball && pocket == called.pocket;
                }
                BallEnd::Rest(position) | BallEnd::Moving(position) => {
                    table.balls.push(PlacedBall { id: ball.id, position });
                }
            }
        }
        if let Game::Group { last, .. } = rack.game
            && !table.left.has(last)
            && (!table.left.is_empty() || called.ball != last)
        {
            return Err(Over::LastBallEarly);
        }
        if !falls {
            return Err(Over::Missed);
        }
        let at = |id| self.ball(id).map_or(DVec2::ZERO, |ball| ball.position);
        if !rack.gives(called.ball, watch.rails, stop, at) {
            return Err(Over::NotAsAsked);
        }
        if table.left.is_empty() { Err(Over::Cleared) } else { Ok(table) }
    }
}

/// Hears what the cue ball meets.
struct Watch {
    may_be_met: BallSet,
    first: Option<BallId>,
    /// When it met the first, s.
    met: f64,
    rails: usize,
    way: f64,
}

impl Listen for Watch {
    fn event(&mut self, event: Event) {
        if !event.ball.is_cue() {
            return;
        }
        match event.kind {
            EventKind::Contact(other) if self.first.is_none() => {
                (self.first, self.met) = (Some(other), event.time);
            }
            EventKind::Cushion(Surface::Rail(_)) if self.first.is_some() => self.rails += 1,
            _ => {}
        }
    }

    fn leg(&mut self, place: usize, course: &Course, since: f64, until: f64) {
        // A meeting is told before the leg that ends with it.
        if place == 0 && self.first.is_some() && since >= self.met {
            // Of a bend the chord will do.
            self.way += course.position(until - since).distance(course.start.position);
        }
    }

    fn has_heard_enough(&self) -> bool {
        self.first.is_some_and(|first| !self.may_be_met.has(first))
    }
}
