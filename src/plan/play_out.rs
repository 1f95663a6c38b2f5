//! A run played to its end.

use super::guide::Guide;
use super::player::Player;
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

/// The run with number `index` of the series `seed`, played by `player` from `table` on with
/// the guide's hand. Who compares players gives them the same numbers.
pub fn play_out(guide: &Guide, player: &Player<'_>, table: &Table, seed: u32, index: u32) -> Run {
    let mut table = table.clone();
    let mut over = Over::Stuck;
    for shot in 0..MOST_SHOTS {
        let Some(choice) = player.choose(&table) else { break };
        let (rack, arena) = (guide.rack(), guide.arena());
        let delivery = Delivery::new(guide.hand(), arena.card(), &table.balls, &choice.stroke);
        let wobble = Wobble::drawn(seed, index * MOST_SHOTS + shot);
        match table.after(rack, arena, choice.called, &delivery.struck(&wobble)) {
            Ok(after) => table = after,
            Err(why) => {
                if why == Over::Cleared {
                    table.left = super::BallSet::NONE;
                }
                over = why;
                break;
            }
        }
    }
    let all = guide.rack().targets().len();
    Run { over, cleared: all - table.left.len() }
}
