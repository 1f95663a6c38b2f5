//! What leaves are worth: the chance to clear what is left from every place of the cue ball.

use super::guide::Guide;
use super::kept::Kept;
use super::rack::Rack;
use super::set::BallSet;
use crate::ball::BallId;
use crate::order::sort_by_number;
use crate::shot::Grid;
use glam::{DVec2, Vec2};

/// The weights of the stop where all goes as meant, and a root of three standard
/// deviations of the speed to either side.
///
/// # Source
/// Gauss and Hermite's formula with three nodes (Abramowitz and Stegun 1964, 25.4.46).
const WEIGHTS: [f64; 3] = [2.0 / 3.0, 1.0 / 6.0, 1.0 / 6.0];

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
    /// Sets of balls that may be left, in their order, and what each place is worth then.
    values: Vec<(BallSet, Vec<f64>)>,
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
        let mut found = Self { depth: ahead, grid, rack, values: Vec::new() };
        if depth == Depth::Pot {
            return found;
        }
        // Of two sets the one that holds the other comes later.
        for left in found.rack.sets() {
            let cells = 0..grid.n_cells();
            let values = cells.map(|cell| found.cell_value(guide, left, cell)).collect();
            let at = found.values.partition_point(|(set, _)| *set < left);
            found.values.insert(at, (left, values));
        }
        found.depth = depth;
        found
    }

    /// Not a number where a ball lies.
    fn cell_value(&self, guide: &Guide, left: BallSet, cell: usize) -> f64 {
        let place = self.grid.place_of(cell);
        let reach = 2.0 * self.rack.card.ball.radius;
        let lies_there = |ball| self.rack.place_of(ball).distance(place) < reach;
        if left.balls().any(lies_there) {
            return f64::NAN;
        }
        let legal = self.rack.legal(left);
        legal.balls().map(|ball| self.best(guide, left, ball, cell)).fold(0.0, f64::max)
    }

    /// The worth of the best stroke at `ball` from the place with number `cell`.
    fn best(&self, guide: &Guide, left: BallSet, ball: BallId, cell: usize) -> f64 {
        self.best_of(guide, left, ball, cell).map_or(0.0, |(_, worth)| worth)
    }

    /// That stroke, by its number on the shelf, and its worth.
    fn best_of(
        &self,
        guide: &Guide,
        left: BallSet,
        ball: BallId,
        cell: usize,
    ) -> Option<(usize, f64)> {
        let worth = |kept: &Kept| self.worth(left, ball, kept);
        let all = guide.shelf(ball, cell).iter().map(worth).enumerate();
        all.reduce(|best, next| if next.1 > best.1 { next } else { best })
    }

    /// What a stroke at `ball` is worth while `left` are left, all where the rack has them.
    pub fn worth(&self, left: BallSet, ball: BallId, kept: &Kept) -> f64 {
        let after = left.without(ball);
        let value = |stop: Vec2, blocked: BallSet, rails: u8| {
            let stop = stop.as_dvec2();
            let is_free = blocked.and(after).is_empty();
            let is_given = is_free
                && self.rack.gives(ball, usize::from(rails), stop, |id| self.rack.place_of(id));
            if is_given { self.value(after, stop) } else { 0.0 }
        };
        let mean = match &kept.tried {
            Some(tried) => {
                let made = tried.made.iter();
                let sum: f64 = made.map(|one| value(one.stop, one.blocked, one.rails)).sum();
                sum / tried.made.len().max(1) as f64
            }
            None => {
                let stops = kept.stops.iter().zip(WEIGHTS).filter(|(stop, _)| !stop.is_nan());
                stops.map(|(stop, weight)| weight * value(*stop, kept.blocked, kept.rails)).sum()
            }
        };
        kept.chance() * mean
    }

    /// The strokes that this foresight rests on at `cell` and that the hand has not tried yet:
    /// for every set the best one at every ball that may be played. Balls and numbers on their
    /// shelves.
    pub fn untried(&self, guide: &Guide, cell: usize) -> Vec<(BallId, usize)> {
        let mut found = Vec::new();
        for (left, _) in &self.values {
            for ball in self.rack.legal(*left).balls() {
                let best = self.best_of(guide, *left, ball, cell).filter(|(_, worth)| *worth > 0.0);
                let Some((number, _)) = best else { continue };
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
        let legal: Vec<BallId> = self.rack.legal(left).balls().collect();
        if legal.len() <= 1 {
            return legal;
        }
        let cell = self.grid.cell_at(from);
        let mut legal = legal;
        sort_by_number(&mut legal, |ball| -self.best(guide, left, *ball, cell));
        legal.truncate(most);
        legal
    }

    /// The chance to clear `left` (or what counts instead) from `place`, 0 to 1.
    pub fn value(&self, left: BallSet, place: DVec2) -> f64 {
        if left.is_empty() || self.depth == Depth::Pot {
            return 1.0;
        }
        self.values(left).map_or(0.0, |values| self.grid.chance_at(values, place))
    }

    /// What each place is worth while `left` are left, not a number where a ball lies; `None`
    /// if that was not worked out.
    pub fn values(&self, left: BallSet) -> Option<&[f64]> {
        let at = self.values.binary_search_by_key(&left, |(set, _)| *set).ok()?;
        Some(&self.values[at].1)
    }

    /// Whether places are valued for this set.
    pub fn knows(&self, left: BallSet) -> bool {
        self.depth == Depth::Pot || left.is_empty() || self.values(left).is_some()
    }
}
