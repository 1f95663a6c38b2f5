//! Runs played to their ends.

use super::guide::Guide;
use super::player::Player;
use super::search::Choice;
use super::set::BallSet;
use super::table::{Over, Table};
use crate::shot::{Delivery, Wobble};

/// Shots of one run, at most: their errors have numbers of their own.
const MOST_SHOTS: u32 = 16;

/// How a run went.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Run {
    /// Why it is over.
    pub over: Over,
    /// Balls that were cleared.
    pub cleared: usize,
}

/// Runs from one table on, by one player with the guide's hand.
#[derive(Clone, Debug)]
pub struct Runs<'a> {
    guide: &'a Guide,
    player: &'a Player<'a>,
    table: &'a Table,
    /// The shot that all begin with.
    first: Option<Choice>,
}

impl<'a> Runs<'a> {
    /// All of them begin with `first`, if there is a shot at all.
    pub fn new(
        guide: &'a Guide,
        player: &'a Player<'a>,
        table: &'a Table,
        first: Option<Choice>,
    ) -> Self {
        Self { guide, player, table, first }
    }

    /// Plays the run with number `index` of the series `seed`. Who compares players gives them
    /// the same numbers.
    pub fn play(&self, seed: u32, index: u32) -> Run {
        let (rack, arena) = (self.guide.rack(), self.guide.arena());
        let mut table = self.table.clone();
        let mut over = Over::Stuck;
        let mut next = self.first;
        for shot in 0..MOST_SHOTS {
            let Some(choice) = next else { break };
            let hand = self.guide.hand();
            let delivery = Delivery::new(hand, arena.card(), &table.balls, &choice.stroke);
            let wobble = Wobble::drawn(seed, index * MOST_SHOTS + shot);
            match table.after(rack, arena, choice.called, &delivery.struck(&wobble)) {
                Ok(after) => table = after,
                Err(why) => {
                    if why == Over::Cleared {
                        table.left = BallSet::NONE;
                    }
                    over = why;
                    break;
                }
            }
            next = self.player.choose(&table);
        }
        Run { over, cleared: rack.targets().len() - table.left.len() }
    }
}
