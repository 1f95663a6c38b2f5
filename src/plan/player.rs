//! Who decides on the next shot of a run.

use super::foresight::Foresight;
use super::guide::Guide;
use super::kept::Kept;
use super::library::{Entry, Target};
use super::set::BallSet;
use super::table::{Called, Over, Table};
use crate::ball::BallId;
use crate::order::sort_by_number;
use crate::physics::Stroke;
use crate::shot::{Delivery, Wobble};

/// How much thought a player gives to a shot.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Care {
    /// Balls of a group that are looked at more closely.
    pub balls: usize,
    /// Strokes that are tried in mind.
    pub tried: usize,
    /// With how many errors each.
    pub errors: u32,
}

impl Care {
    /// For runs that are played by the thousand (tuning choice).
    pub const QUICK: Self = Self { balls: 3, tried: 6, errors: 12 };
    /// For a shot that is shown (tuning choice).
    pub const CALM: Self = Self { balls: 7, tried: 24, errors: 96 };
}

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
    care: Care,
    in_mind: Vec<Wobble>,
}

impl<'a> Player<'a> {
    /// One who looks as far ahead as `foresight` goes.
    pub fn new(guide: &'a Guide, foresight: &'a Foresight, care: Care) -> Self {
        let in_mind = (0..care.errors).map(|k| Wobble::drawn(IN_MIND, k)).collect();
        Self { guide, foresight, care, in_mind }
    }

    /// The next shot; `None` if there is none that may pot.
    pub fn choose(&self, table: &Table) -> Option<Choice> {
        self.options(table).into_iter().next()
    }

    /// Every ball and pocket that a stroke in mind made something of, each with its best
    /// stroke, the best first.
    pub fn options(&self, table: &Table) -> Vec<Choice> {
        let mut tried: Vec<(Called, Entry, f64)> = Vec::new();
        let balls =
            self.foresight.promising(self.guide, table.left, table.cue_ball(), self.care.balls);
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
        // Where nothing is thought to be worth anything, the likeliest pot goes first.
        sort_by_number(&mut tried, |(_, entry, worth)| -(worth + 1e-9 * entry.pot));
        tried.truncate(self.care.tried);
        let mut choices: Vec<Choice> = tried
            .into_iter()
            .map(|(called, entry, _)| self.weighed(table, called, &entry.stroke))
            .collect();
        sort_by_number(&mut choices, |choice| -choice.worth);
        let mut best: Vec<Choice> = Vec::new();
        for choice in choices {
            if best.iter().all(|other| other.called != choice.called) {
                best.push(choice);
            }
        }
        best
    }

    /// The ball as it lies now among the others as they lie now.
    fn target(&self, table: &Table, ball: BallId) -> Option<Target> {
        let placed = table.ball(ball)?;
        let loose = self.guide.rack().targets();
        let known = self.guide.target(ball)?;
        Some(known.as_on(self.guide.arena(), &table.balls, placed, loose))
    }

    /// What a shot is worth, by the hand's strokes in mind.
    pub fn weighed(&self, table: &Table, called: Called, stroke: &Stroke) -> Choice {
        let (rack, arena) = (self.guide.rack(), self.guide.arena());
        let delivery = Delivery::new(self.guide.hand(), arena.card(), &table.balls, stroke);
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

    /// What the table is worth after a shot that stayed in the run.
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
