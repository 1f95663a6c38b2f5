//! What leaves are worth: the chance to clear what is left from every place of the cue ball.

use super::break_out::{BrokenOut, as_it_lies, broken_out};
use super::guide::Guide;
use super::kept_stroke::{Kept, Seen, Stop};
use super::openness::{DISTURBED, Openness};
use super::rack::Rack;
use super::set::BallSet;
use super::table::Table;
use crate::ball::BallId;
use crate::order::sort_by_number;
use crate::shot::Grid;
use glam::DVec2;

/// The weights of the stop where all goes as meant, and a root of three standard
/// deviations of the speed to either side.
///
/// # Source
/// Gauss and Hermite's formula with three nodes (Abramowitz and Stegun 1964, 25.4.46).
const WEIGHTS: [f64; 3] = [2.0 / 3.0, 1.0 / 6.0, 1.0 / 6.0];

/// A set that is nowhere worth as much as this cannot be cleared as it lies (tuning choice).
const TIED: f64 = 0.02;

/// How far a player looks ahead.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Depth {
    /// Potting is all.
    Pot,
    /// The chance of the best pot after this one counts.
    Next,
    /// The chance of clearing all that is left counts.
    All,
}

/// What the cue ball's places are worth, for every set of balls that may be left.
#[derive(Clone, Debug)]
pub struct Foresight {
    depth: Depth,
    grid: Grid,
    rack: Rack,
    /// Sets of balls that may be left, in their order.
    sets: Vec<(BallSet, Valued)>,
}

/// What is known of one set of balls.
#[derive(Clone, Debug)]
struct Valued {
    /// What each place is worth, not a number where a ball lies.
    cells: Vec<f64>,
    /// The most that any is worth.
    most: f64,
    /// How open the balls lie; `None` for one who does not look so far.
    open: Option<Openness>,
    /// Whether it can hardly be cleared as it lies.
    tied: bool,
    /// What running into others after a ball is worth, where that is wanted.
    broken: Vec<(BallId, BrokenOut)>,
}

/// What strokes at one ball of a set are worth.
#[derive(Clone, Copy, Debug)]
pub struct Worth<'a> {
    foresight: &'a Foresight,
    ball: BallId,
    after: BallSet,
    /// What is known of the balls that are left then.
    then: Option<&'a Valued>,
    broken: Option<BrokenOut>,
}

impl Worth<'_> {
    /// No stroke that pots for sure is worth more.
    fn most(&self) -> f64 {
        let then = self.then.map_or(1.0, |then| then.most);
        self.broken.map_or(then, |broken| then.max(broken.value))
    }

    /// What a stop is worth.
    fn value(&self, stop: Stop, blocked: BallSet, bumped: BallSet, rails: u8) -> f64 {
        let Some(stop) = stop.place() else { return 0.0 };
        let rack = &self.foresight.rack;
        let is_free = blocked.and(self.after).is_empty();
        if !is_free || !rack.gives(self.ball, usize::from(rails), stop, |id| rack.place_of(id)) {
            return 0.0;
        }
        let bumped = bumped.and(self.after);
        match (self.broken, self.then) {
            (Some(broken), _) if !bumped.and(broken.aims).is_empty() => broken.value,
            _ if !bumped.is_empty() => 0.0,
            (_, Some(then)) => self.foresight.grid.chance_at(&then.cells, stop),
            (_, None) => 1.0,
        }
    }

    /// What a stroke is worth, all lying where the rack has it.
    pub fn of(&self, kept: &Kept, seen: Seen) -> f64 {
        let mean = if kept.tried.is_some() {
            let (mut sum, mut n) = (0.0, 0.0);
            for one in kept.made(seen) {
                (sum, n) =
                    (sum + self.value(one.stop, one.blocked, one.bumped, one.rails), n + 1.0);
            }
            sum / f64::max(n, 1.0)
        } else {
            let stops = kept.stops.iter().zip(WEIGHTS);
            let value = |stop| self.value(stop, kept.blocked, kept.bumped, kept.rails);
            stops.map(|(stop, weight)| weight * value(*stop)).sum()
        };
        kept.chance(seen) * mean
    }
}

impl Foresight {
    /// What a full guide shows to one who looks so far ahead. Sets are valued from the
    /// smallest on: the best stroke at the best ball, by where it leaves the cue ball.
    pub fn new(guide: &Guide, depth: Depth) -> Self {
        Self::of(guide, guide.rack().clone(), depth)
    }

    /// As [`new`](Self::new), with the ball `key` kept for the last of its group.
    pub fn with_key(guide: &Guide, key: BallId) -> Self {
        Self::of(guide, guide.rack().keeping(key), Depth::All)
    }

    fn of(guide: &Guide, rack: Rack, depth: Depth) -> Self {
        // Without a look at all that is left, what comes after the next pot counts nothing.
        let ahead = if depth == Depth::All { depth } else { Depth::Pot };
        let grid = *guide.grid();
        let mut found = Self { depth: ahead, grid, rack, sets: Vec::new() };
        if depth == Depth::Pot {
            return found;
        }
        // Of two sets the one that holds the other comes later.
        for left in found.rack.sets() {
            let valued = found.valued(guide, left);
            let at = found.sets.partition_point(|(set, _)| *set < left);
            found.sets.insert(at, (left, valued));
        }
        found.depth = depth;
        found
    }

    fn valued(&self, guide: &Guide, left: BallSet) -> Valued {
        let (arena, hand) = (guide.arena(), guide.hand());
        let table = self.rack.table_of(left);
        let open = (self.depth == Depth::All)
            .then(|| Openness::new(&self.rack, arena, hand, &table.balls, left));
        let mut valued =
            Valued { cells: Vec::new(), most: 0.0, open, tied: false, broken: Vec::new() };
        for ball in self.rack.legal(left).balls() {
            let after = left.without(ball);
            let aims = self.known(after).map_or(BallSet::NONE, |then| match &then.open {
                Some(_) if then.tied => after,
                Some(open) => open.stuck(),
                None => BallSet::NONE,
            });
            if !aims.is_empty()
                && let Some(broken) = broken_out(guide, &self.rack, &table, ball, aims)
            {
                valued.broken.push((ball, broken));
            }
        }
        let worths: Vec<Worth<'_>> = self
            .rack
            .legal(left)
            .balls()
            .map(|ball| self.worths(left, ball, &valued.broken))
            .collect();
        let cells: Vec<Option<f64>> = (0..self.grid.n_cells())
            .map(|cell| self.cell_value(guide, &worths, left, cell))
            .collect();
        let mut cells = bridged(&self.grid, &cells);
        let most = |cells: &[f64]| cells.iter().copied().fold(0.0, f64::max);
        valued.most = most(&cells);
        valued.tied = self.depth == Depth::All && valued.most < TIED;
        if valued.tied {
            // Balls that touch may well be played, but no library sees that.
            let value = |after: &Table| {
                let seen = || {
                    let open = Openness::new(&self.rack, arena, hand, &after.balls, after.left);
                    DISTURBED * open.value(&self.rack, arena, hand, after.left, after.cue_ball())
                };
                let known = self.known(after.left).filter(|_| self.rack.lies_so(after));
                known.map_or_else(seen, |then| self.grid.chance_at(&then.cells, after.cue_ball()))
            };
            let floor = DISTURBED * as_it_lies(guide, &self.rack, &table, value);
            cells
                .iter_mut()
                .filter(|value| !value.is_nan())
                .for_each(|value| *value = value.max(floor));
            valued.most = most(&cells);
        }
        valued.cells = cells;
        valued
    }

    fn known(&self, left: BallSet) -> Option<&Valued> {
        let at = self.sets.binary_search_by_key(&left, |(set, _)| *set).ok()?;
        Some(&self.sets[at].1)
    }

    fn worths(&self, left: BallSet, ball: BallId, broken: &[(BallId, BrokenOut)]) -> Worth<'_> {
        let after = left.without(ball);
        let looks = !after.is_empty() && self.depth != Depth::Pot;
        Worth {
            foresight: self,
            ball,
            after,
            then: if looks { self.known(after) } else { None },
            broken: broken.iter().find(|(of, _)| *of == ball).map(|(_, broken)| *broken),
        }
    }

    /// What strokes at `ball` are worth while `left` are left.
    pub fn worth(&self, left: BallSet, ball: BallId) -> Worth<'_> {
        self.worths(left, ball, self.known(left).map_or(&[], |valued| &valued.broken))
    }

    /// What the best stroke from the place with number `cell` is worth; not a number where a
    /// ball lies, `None` where strokes are not worked out yet. The strokes that were tried are
    /// halved: the one that is best by one half counts as the other half has it, for the best of
    /// many is overrated by what made it so.
    fn cell_value(
        &self,
        guide: &Guide,
        worths: &[Worth<'_>],
        left: BallSet,
        cell: usize,
    ) -> Option<f64> {
        let place = self.grid.place_of(cell);
        let reach = 2.0 * self.rack.card.ball.radius;
        let lies_there = |ball| self.rack.place_of(ball).distance(place) < reach;
        if left.balls().any(lies_there) {
            return Some(f64::NAN);
        }
        // By each half the best, and what it is by the other.
        let mut best = [(0.0, 0.0); 2];
        for worth in worths {
            let most = worth.most();
            for kept in guide.worked_out(worth.ball, cell)? {
                let halves = if kept.tried.is_some() {
                    [Seen::Half(0), Seen::Half(1)]
                } else if f64::from(kept.pot) * most <= f64::min(best[0].0, best[1].0) {
                    continue;
                } else {
                    [Seen::All; 2]
                };
                let first = worth.of(kept, halves[0]);
                let second = if kept.tried.is_some() { worth.of(kept, halves[1]) } else { first };
                if first > best[0].0 {
                    best[0] = (first, second);
                }
                if second > best[1].0 {
                    best[1] = (second, first);
                }
            }
        }
        Some(0.5 * (best[0].1 + best[1].1))
    }

    /// The best stroke at `ball` from the place with number `cell`, by its number on the shelf,
    /// and its worth.
    fn best_of(&self, guide: &Guide, worth: &Worth<'_>, cell: usize) -> Option<(usize, f64)> {
        let most = worth.most();
        let mut best: Option<(usize, f64)> = None;
        for (number, kept) in guide.shelf(worth.ball, cell).iter().enumerate() {
            if kept.chance(Seen::All) * most > best.map_or(0.0, |(_, worth)| worth) {
                let value = worth.of(kept, Seen::All);
                if best.is_none_or(|(_, worth)| value > worth) {
                    best = Some((number, value));
                }
            }
        }
        best
    }

    /// The strokes that this foresight rests on at `cell` and that the hand has not tried yet:
    /// for every set the best one at every ball that may be played. Balls and numbers on their
    /// shelves.
    pub fn untried(&self, guide: &Guide, cell: usize) -> Vec<(BallId, usize)> {
        let mut found = Vec::new();
        for (left, _) in &self.sets {
            for ball in self.rack.legal(*left).balls() {
                let best = self.best_of(guide, &self.worth(*left, ball), cell);
                let Some((number, _)) = best.filter(|(_, worth)| *worth > 0.0) else { continue };
                let one = (ball, number);
                if guide.shelf(ball, cell)[number].tried.is_none() && !found.contains(&one) {
                    found.push(one);
                }
            }
        }
        found
    }

    /// The balls that may be played from `from`, those that seem best first, `most` at most.
    pub fn promising(&self, guide: &Guide, left: BallSet, from: DVec2, most: usize) -> Vec<BallId> {
        let mut legal: Vec<BallId> = self.rack.legal(left).balls().collect();
        if legal.len() <= 1 {
            return legal;
        }
        let cell = self.grid.cell_at(from);
        let worth = |ball: BallId| self.best_of(guide, &self.worth(left, ball), cell);
        sort_by_number(&mut legal, |ball| -worth(*ball).map_or(0.0, |(_, worth)| worth));
        legal.truncate(most);
        legal
    }

    /// How far it looks ahead.
    pub fn depth(&self) -> Depth {
        self.depth
    }

    /// The chance to clear `left` (or what counts instead) from `place`, 0 to 1. What fell by
    /// luck is thought of as still there, where nothing else is known.
    pub fn value(&self, left: BallSet, place: DVec2) -> f64 {
        if left.is_empty() || self.depth == Depth::Pot {
            return 1.0;
        }
        self.covering(left).map_or(0.0, |valued| self.grid.chance_at(&valued.cells, place))
    }

    /// How open the balls `left` lie where the rack has them, if that is known.
    pub fn open(&self, left: BallSet) -> Option<&Openness> {
        self.covering(left)?.open.as_ref()
    }

    /// What is known of the smallest set that holds `left`.
    fn covering(&self, left: BallSet) -> Option<&Valued> {
        self.known(left).or_else(|| {
            let holding = self.sets.iter().filter(|(set, _)| left.minus(*set).is_empty());
            holding.min_by_key(|(set, _)| set.len()).map(|(_, valued)| valued)
        })
    }

    /// What each place is worth while `left` are left, not a number where a ball lies; `None`
    /// if that was not worked out.
    pub fn values(&self, left: BallSet) -> Option<&[f64]> {
        self.known(left).map(|valued| valued.cells.as_slice())
    }
}

/// The values of all cells: what is not known of one is the mean of what is of its neighbours,
/// not a number if nothing is.
fn bridged(grid: &Grid, cells: &[Option<f64>]) -> Vec<f64> {
    let mean = |cell: usize| {
        let of = |beside: usize| cells[beside].filter(|value| !value.is_nan());
        let (sum, n) = grid
            .beside(cell)
            .filter_map(of)
            .fold((0.0, 0.0), |(sum, n), value| (sum + value, n + 1.0));
        sum / n
    };
    cells.iter().enumerate().map(|(cell, value)| value.unwrap_or_else(|| mean(cell))).collect()
}
