//! Who decides on the next shot of a run.

use super::foresight::Foresight;
use super::guide::Guide;
use super::kept::Kept;
use super::library::{Entry, Target};
use super::set::BallSet;
use super::table::{Called, Over, Table};
use crate::physics::Stroke;
use crate::shot::{Delivery, Wobble};

/// Balls of a group that are looked at more closely, strokes that are tried, and with how
/// many errors each (tuning choice).
const BALLS: usize = 3;
const TRIED: usize = 6;
const ERRORS: u32 = 12;

/// What a leave is worth less when a ball has moved that was planned on where it lay
/// (tuning choice).
const DISTURBED: f64 = 0.8;

/// The series of the errors with which a player tries strokes in mind.
const IN_MIND: u32 = 0x5eed;

/// A decision.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Choice {
    /// Ball and pocket.
    pub called: Called,
    /// The stroke.
    pub stroke: Stroke,
    /// What it is thought to be worth.
    pub worth: f64,
}

/// One who plays by a guide.
#[derive(Clone, Debug)]
pub struct Player<'a> {
    guide: &'a Guide,
    foresight: &'a Foresight,
    in_mind: Vec<Wobble>,
}

impl<'a> Player<'a> {
    /// One who looks as far ahead as `foresight` goes.
    pub fn new(guide: &'a Guide, foresight: &'a Foresight) -> Self {
        let in_mind = (0..ERRORS).map(|k| Wobble::drawn(IN_MIND, k)).collect();
        Self { guide, foresight, in_mind }
    }

    /// The next shot; `None` if there is none that may pot.
    pub fn choose(&self, table: &Table) -> Option<Choice> {
        let mut tried: Vec<(Called, Entry, f64)> = Vec::new();
        let balls = self.foresight.promising(self.guide, table.left, table.cue_ball(), BALLS);
        for ball in balls {
            let Some(target) = self.target(table, ball) else { continue };
            let (arena, hand) = (self.guide.arena(), self.guide.hand());
            let speeds = self.guide.n_speeds();
            let entries = target.from(arena, hand, table.cue_ball(), self.guide.tips(), speeds);
            tried.extend(entries.into_iter().map(|entry| {
                let worth = self.foresight.worth(table.left, ball, &Kept::of(&entry));
                (Called { ball, pocket: entry.pocket }, entry, worth)
            }));
        }
        tried.sort_by(|a, b| b.2.total_cmp(&a.2));
        tried.truncate(TRIED);
        let choices = tried.into_iter().map(|(called, entry, _)| self.tried(table, called, &entry));
        let better = |best: Choice, next: Choice| if next.worth > best.worth { next } else { best };
        choices.reduce(better)
    }

    /// The ball as it lies now among the others as they lie now.
    fn target(&self, table: &Table, ball: crate::ball::BallId) -> Option<Target> {
        let placed = table.ball(ball)?;
        let loose = self.guide.rack().targets();
        let known = self.guide.target(ball)?;
        known.as_on(self.guide.arena(), &table.balls, placed, loose)
    }

    /// The stroke as the hand plays it, in mind.
    fn tried(&self, table: &Table, called: Called, entry: &Entry) -> Choice {
        let (rack, arena) = (self.guide.rack(), self.guide.arena());
        let delivery = Delivery::new(self.guide.hand(), arena.card(), &table.balls, &entry.stroke);
        let sum: f64 = self
            .in_mind
            .iter()
            .map(|wobble| match table.after(rack, arena, called, &delivery.struck(wobble)) {
                Err(Over::Cleared) => 1.0,
                Err(_) => 0.0,
                Ok(after) => self.value(table, &after, called),
            })
            .sum();
        Choice { called, stroke: delivery.aimed, worth: sum / self.in_mind.len() as f64 }
    }

    fn value(&self, before: &Table, after: &Table, called: Called) -> f64 {
        // What fell by luck is thought of as still there, where nothing else is known.
        let left: BallSet = if self.foresight.knows(after.left) {
            after.left
        } else {
            before.left.without(called.ball)
        };
        let value = self.foresight.value(left, after.cue_ball());
        let moved = after.balls[1..].iter().any(|ball| before.ball(ball.id) != Some(*ball));
        if moved { DISTURBED * value } else { value }
    }
}
