//! Who decides on the next shot of a run.

use super::foresight::{Depth, Foresight};
use super::guide::Guide;
use super::kept::Seen;
use super::library::{Entry, Target};
use super::open::{DISTURBED, Open};
use super::search::{Choice, Planned, Search};
use super::set::BallSet;
use super::strokes::{TIPS, speed_at};
use super::table::{Called, Table};
use crate::ball::BallId;
use crate::order::sort_by_number;
use crate::physics::Stroke;
use crate::shot::Wobble;
use crate::table::PocketId;
use glam::DVec2;

/// How much thought a player gives to a shot.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Care {
    /// Balls of a group that are looked at more closely.
    pub balls: usize,
    /// How many strokes are tried in mind with how many errors, round after round: the best of
    /// one go on to the next.
    pub rounds: [(usize, u32); 2],
    /// With how many errors that nothing was chosen by the best ones are judged; if with none,
    /// as the last round has them.
    pub fresh: u32,
}

impl Care {
    /// For runs that are played by the thousand (tuning choice).
    pub const QUICK: Self = Self { balls: 3, rounds: [(16, 4), (4, 24)], fresh: 0 };
    /// For a shot that is shown (tuning choice).
    pub const CALM: Self = Self { balls: 7, rounds: [(48, 16), (20, 64)], fresh: 256 };
}

/// The series of the errors with which a player tries strokes in mind.
const IN_MIND: u32 = 0x5eed;

/// And of those by which the best ones are judged.
const FRESH: u32 = 0xf4e5;

/// A stroke that runs into others is worth less than it seems where these have a way (tuning
/// choice).
const BUMPED: f64 = 0.5;

/// One who plays by a guide.
#[derive(Clone, Debug)]
pub struct Player<'a> {
    guide: &'a Guide,
    foresight: &'a Foresight,
    care: Care,
    in_mind: Vec<Wobble>,
    fresh: Vec<Wobble>,
}

impl<'a> Player<'a> {
    /// One who looks as far ahead as `foresight` goes.
    pub fn new(guide: &'a Guide, foresight: &'a Foresight, care: Care) -> Self {
        let drawn = |series, n| (0..n).map(|k| Wobble::drawn(series, k)).collect();
        let most = care.rounds.iter().map(|(_, errors)| *errors).max().unwrap_or_default();
        let (in_mind, fresh) = (drawn(IN_MIND, most), drawn(FRESH, care.fresh));
        Self { guide, foresight, care, in_mind, fresh }
    }

    /// The next shot; `None` if there is none that may pot.
    pub fn choose(&self, table: &Table) -> Option<Choice> {
        self.options(table).into_iter().next()
    }

    /// Every ball and pocket that a stroke in mind made something of, each with its best
    /// stroke, the best first.
    pub fn options(&self, table: &Table) -> Vec<Choice> {
        let mut rest = self.candidates(table);
        let mut choices: Vec<Choice> = Vec::new();
        for (n, errors) in self.care.rounds {
            keep(&mut rest, n);
            choices = self.judged(table, &self.in_mind[..errors as usize], &rest);
            rest = choices.iter().map(|choice| (choice.called, choice.stroke)).collect();
        }
        let mut best: Vec<Choice> = Vec::new();
        for choice in choices {
            if best.iter().all(|other| other.called != choice.called) {
                best.push(choice);
            }
        }
        if self.fresh.is_empty() {
            return best;
        }
        let best: Vec<Planned> = best.iter().map(|one| (one.called, one.stroke)).collect();
        self.judged(table, &self.fresh, &best)
    }

    /// What a shot is worth, 0 to 1, by the hand's strokes in mind, those that nothing was
    /// chosen by if there are such.
    pub fn weighed(&self, table: &Table, called: Called, stroke: &Stroke) -> f64 {
        let errors = if self.fresh.is_empty() { &self.in_mind } else { &self.fresh };
        let choices = self.judged(table, errors, &[(called, *stroke)]);
        choices.first().map_or(0.0, |choice| choice.worth)
    }

    /// What `strokes` are worth with these errors, and with what is left by the foresight; the
    /// best first.
    fn judged(&self, table: &Table, errors: &[Wobble], strokes: &[Planned]) -> Vec<Choice> {
        let search = Search {
            rack: self.guide.rack(),
            arena: self.guide.arena(),
            hand: self.guide.hand(),
            errors,
            strokes: &|_| strokes.to_vec(),
            leaf: &|after| self.value(after),
        };
        search.choices(table, 1)
    }

    /// Strokes at the balls that seem best, the most promising first.
    fn candidates(&self, table: &Table) -> Vec<Planned> {
        let most = self.care.balls;
        let from = table.cue_ball();
        let balls = self.foresight.promising(self.guide, table.left, from, most);
        let lies_so = self.guide.rack().lies_so(table);
        let mut found: Vec<(Called, Stroke, f64)> = Vec::new();
        if lies_so {
            for ball in &balls {
                self.add_known(table, *ball, &mut found);
            }
        }
        // Where the guide knows nothing, all is looked at as it lies.
        if found.is_empty() {
            for ball in balls {
                self.add_as_it_lies(table, ball, &mut found);
            }
        }
        sort_by_number(&mut found, |(.., worth)| -worth);
        found.into_iter().map(|(called, stroke, _)| (called, stroke)).collect()
    }

    /// Strokes that the guide has for the places around the cue ball, aimed from where it lies.
    fn add_known(&self, table: &Table, ball: BallId, found: &mut Vec<(Called, Stroke, f64)>) {
        let Some(target) = self.guide.target(ball) else { return };
        let worth = self.foresight.worth(table.left, ball);
        let from = table.cue_ball();
        let mut sums: Vec<(PocketId, u8, u8, f64)> = Vec::new();
        for (cell, weight) in self.guide.grid().around(from) {
            if weight <= 0.0 {
                continue;
            }
            for kept in self.guide.shelf(ball, cell) {
                let value = weight * likely(worth.of(kept, Seen::All), kept.chance(Seen::All));
                let same = |one: &&mut (PocketId, u8, u8, f64)| {
                    (one.0, one.1, one.2) == (kept.pocket, kept.tip, kept.speed)
                };
                match sums.iter_mut().find(same) {
                    Some(one) => one.3 += value,
                    None => sums.push((kept.pocket, kept.tip, kept.speed, value)),
                }
            }
        }
        sort_by_number(&mut sums, |one| -one.3);
        sums.truncate(2 * self.care.rounds[0].0);
        for (pocket, tip, speed, value) in sums {
            let how = (pocket, TIPS[usize::from(tip)], speed_at(speed, self.guide.n_speeds()));
            let aimed = target.aimed(self.guide.arena(), self.guide.hand(), from, how);
            if let Some(stroke) = aimed {
                found.push((Called { ball, pocket }, stroke, value));
            }
        }
    }

    /// Strokes at `ball` as all lies now.
    fn add_as_it_lies(&self, table: &Table, ball: BallId, found: &mut Vec<(Called, Stroke, f64)>) {
        let Some(target) = self.target(table, ball) else { return };
        let (rack, arena, hand) = (self.guide.rack(), self.guide.arena(), self.guide.hand());
        let from = table.cue_ball();
        let entries = target.from(arena, hand, from, self.guide.tips(), self.guide.n_speeds());
        let after = table.left.without(ball);
        let others: Vec<_> = table.balls.iter().copied().filter(|other| other.id != ball).collect();
        let open = Open::new(rack, arena, hand, &others, after);
        for entry in entries {
            let called = Called { ball, pocket: entry.pocket };
            let value = entry.pot * self.leave(&open, after, &entry);
            found.push((called, entry.stroke, likely(value, entry.pot)));
        }
    }

    /// What the stop of a stroke is worth, by how open the balls lie.
    fn leave(&self, open: &Open, after: BallSet, entry: &Entry) -> f64 {
        if !entry.blocked.and(after).is_empty() {
            return 0.0;
        }
        let value = self.by_sight(open, after, entry.stop);
        if entry.bumped.and(after).is_empty() { value } else { BUMPED * value }
    }

    /// The ball as it lies now among the others as they lie now.
    fn target(&self, table: &Table, ball: BallId) -> Option<Target> {
        let placed = table.ball(ball)?;
        let loose = self.guide.rack().targets();
        let known = self.guide.target(ball)?;
        Some(known.as_on(self.guide.arena(), &table.balls, placed, loose))
    }

    /// What a table is worth that is left by a shot.
    fn value(&self, after: &Table) -> f64 {
        let (rack, arena, hand) = (self.guide.rack(), self.guide.arena(), self.guide.hand());
        let (left, place) = (after.left, after.cue_ball());
        let planned = self.foresight.value(left, place);
        if self.foresight.depth() == Depth::Pot || rack.lies_so(after) {
            return planned;
        }
        let open = Open::new(rack, arena, hand, &after.balls, left);
        let now = self.by_sight(&open, left, place);
        // As much better or worse than planned as it looks better or worse.
        let meant = self.foresight.open(left).map_or(0.0, |open| self.by_sight(open, left, place));
        if meant > NOTHING && planned > NOTHING {
            planned * (now / meant).min(1.0)
        } else {
            DISTURBED * now
        }
    }

    /// What a layout is worth to one who looks so far ahead, by how open it lies.
    fn by_sight(&self, open: &Open, left: BallSet, place: DVec2) -> f64 {
        let (rack, arena, hand) = (self.guide.rack(), self.guide.arena(), self.guide.hand());
        match self.foresight.depth() {
            Depth::Pot => 1.0,
            _ if left.is_empty() => 1.0,
            Depth::Next => {
                let pots = rack.legal(left).balls().map(|ball| open.pot(arena, hand, ball, place));
                pots.fold(0.0, f64::max)
            }
            Depth::All => open.value(rack, arena, hand, left, place),
        }
    }
}

/// Less than this counts as nothing when two chances are compared (tuning choice).
const NOTHING: f64 = 0.02;

/// Where nothing is thought to be worth anything, the likeliest pot goes first.
fn likely(worth: f64, pot: f64) -> f64 {
    worth + 1e-9 * pot
}

/// Keeps the best `n` of `strokes`, which are sorted; the best at each ball and pocket is
/// among them if these are few.
fn keep(strokes: &mut Vec<Planned>, n: usize) {
    let mut called: Vec<Called> = Vec::new();
    let (mut first, mut others) = (Vec::new(), Vec::new());
    for stroke in strokes.drain(..) {
        if called.contains(&stroke.0) {
            others.push(stroke);
        } else {
            called.push(stroke.0);
            first.push(stroke);
        }
    }
    first.truncate(n / 2);
    others.truncate(n - first.len());
    first.append(&mut others);
    *strokes = first;
}
