//! Ways to play a run: a shot to begin with, and who goes on from there.

use super::foresight::{Depth, Foresight};
use super::guide::Guide;
use super::play_out::Runs;
use super::player::{Care, Player};
use super::search::Choice;
use super::table::{Over, Table};
use std::ops::Range;

/// Of each player so many shots are tried to begin with (tuning choice).
const BEGINNINGS: usize = 2;

/// A way to play a run.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Way {
    /// The first shot; `None` if there is none that may pot.
    pub first: Option<Choice>,
    /// How far the one looks ahead who decides on all others.
    pub depth: Depth,
}

/// What those see of a guide who look ahead differently far.
#[derive(Clone, Debug)]
pub struct Foresights {
    pot: Foresight,
    next: Foresight,
    all: Foresight,
}

impl Foresights {
    /// What a full guide shows to each.
    pub fn new(guide: &Guide) -> Self {
        let [pot, next, all] =
            [Depth::Pot, Depth::Next, Depth::All].map(|depth| Foresight::new(guide, depth));
        Self { pot, next, all }
    }

    /// What one sees who looks so far ahead.
    pub fn of(&self, depth: Depth) -> &Foresight {
        match depth {
            Depth::Pot => &self.pot,
            Depth::Next => &self.next,
            Depth::All => &self.all,
        }
    }
}

impl Way {
    /// The ways to clear `table` that may be best: first the one of who looks one ball ahead,
    /// then that of who only pots, then what those who look ahead would begin with, followed by
    /// each of them.
    pub fn all(guide: &Guide, foresights: &Foresights, table: &Table) -> Vec<Self> {
        let options = |depth| Player::new(guide, foresights.of(depth), Care::CALM).options(table);
        let (next, all) = (options(Depth::Next), options(Depth::All));
        let pot = options(Depth::Pot).first().copied();
        let mut ways = vec![
            Self { first: next.first().copied(), depth: Depth::Next },
            Self { first: pot, depth: Depth::Pot },
        ];
        let begun = all.iter().take(BEGINNINGS).chain(next.iter().take(BEGINNINGS));
        for (depth, first) in begun.flat_map(|first| [(Depth::All, first), (Depth::Next, first)]) {
            let is_same = |way: &Self| {
                let same =
                    |other: Choice| (other.called, other.stroke) == (first.called, first.stroke);
                way.depth == depth && way.first.is_some_and(same)
            };
            if !ways.iter().any(is_same) {
                ways.push(Self { first: Some(*first), depth });
            }
        }
        ways
    }

    /// Which of the runs with these numbers of the series `seed` are cleared so, by quick
    /// decisions.
    pub fn cleared(
        &self,
        guide: &Guide,
        foresights: &Foresights,
        table: &Table,
        seed: u32,
        runs: Range<u32>,
    ) -> Vec<bool> {
        let player = Player::new(guide, foresights.of(self.depth), Care::QUICK);
        let from = Runs::new(guide, &player, table, self.first);
        runs.map(|run| from.play(seed, run).over == Over::Cleared).collect()
    }
}
