//! The best of given strokes over given errors, so many shots ahead.

use super::rack::Rack;
use super::table::{Called, Over, Table};
use crate::order::sort_by_number;
use crate::physics::{Arena, Stroke};
use crate::shot::{Delivery, Hand, Wobble};

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

/// A stroke, and what is called with it.
pub type Planned = (Called, Stroke);

/// What a table is worth while a hand that errs in given ways, each as likely as the others,
/// plays strokes of a given list: of each the mean over the errors, of all the best. With as
/// many shots ahead as there are balls this is exact for those strokes and errors.
#[derive(Clone, Copy)]
pub struct Search<'a> {
    /// The rule.
    pub rack: &'a Rack,
    /// The table.
    pub arena: &'a Arena,
    /// The hand.
    pub hand: &'a Hand,
    /// Its errors.
    pub errors: &'a [Wobble],
    /// The strokes that may be played at a table.
    pub strokes: &'a dyn Fn(&Table) -> Vec<Planned>,
    /// What a table is worth where the search ends.
    pub leaf: &'a dyn Fn(&Table) -> f64,
}

impl Search<'_> {
    /// What `table` is worth, `ahead` shots searched.
    pub fn value(&self, table: &Table, ahead: usize) -> f64 {
        match ahead {
            0 => (self.leaf)(table),
            _ => self.choices(table, ahead).first().map_or(0.0, |choice| choice.worth),
        }
    }

    /// The strokes at `table` and what they are worth, the best first; `ahead` shots are
    /// searched, this one counted.
    pub fn choices(&self, table: &Table, ahead: usize) -> Vec<Choice> {
        let mut choices: Vec<Choice> = (self.strokes)(table)
            .into_iter()
            .map(|(called, stroke)| self.weighed(table, called, &stroke, ahead))
            .collect();
        sort_by_number(&mut choices, |choice| -choice.worth);
        choices
    }

    /// What one stroke is worth, its cue lifted as far as it must be.
    pub fn weighed(&self, table: &Table, called: Called, stroke: &Stroke, ahead: usize) -> Choice {
        let card = self.arena.card();
        let delivery = Delivery::new(self.hand, card, &table.balls, stroke);
        let sum: f64 = self
            .errors
            .iter()
            .map(|error| {
                match table.after(self.rack, self.arena, called, &delivery.struck(error)) {
                    Err(Over::Cleared) => 1.0,
                    Err(_) => 0.0,
                    Ok(after) => self.value(&after, ahead.saturating_sub(1)),
                }
            })
            .sum();
        let worth = sum / self.errors.len().max(1) as f64;
        Choice { called, stroke: delivery.aimed, worth }
    }
}
