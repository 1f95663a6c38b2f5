//! What leaves are worth: the chance to clear what is left from every place of the cue ball.

use super::guide::Guide;
use super::kept::Kept;
use super::rack::Rack;
use super::set::BallSet;
use crate::ball::BallId;
use crate::shot::Grid;
use glam::DVec2;
use std::collections::BTreeMap;

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
    /// Where the balls lie that are to be cleared.
    places: BTreeMap<BallId, DVec2>,
    values: BTreeMap<BallSet, Vec<f64>>,
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
        let places = rack.balls.iter().map(|ball| (ball.id, ball.position)).collect();
        let mut sets = sets(&rack);
        sets.sort_by_key(|set| (set.len(), *set));
        // Without a look at all that is left, what comes after the next pot counts nothing.
        let ahead = if depth == Depth::All { depth } else { Depth::Pot };
        let grid = *guide.grid();
        let mut found = Self { depth: ahead, grid, rack, places, values: BTreeMap::new() };
        if depth == Depth::Pot {
            return found;
        }
        for left in sets {
            let cells = 0..grid.n_cells();
            let values = cells.map(|cell| found.cell_value(guide, left, cell)).collect();
            found.values.insert(left, values);
        }
        found.depth = depth;
        found
    }

    /// Not a number where a ball lies.
    fn cell_value(&self, guide: &Guide, left: BallSet, cell: usize) -> f64 {
        let place = self.grid.place_of(cell);
        let reach = 2.0 * self.rack.card.ball.radius;
        let lies_there =
            |ball| self.places.get(&ball).is_some_and(|at: &DVec2| at.distance(place) < reach);
        if left.balls().any(lies_there) {
            return f64::NAN;
        }
        let legal = self.rack.legal(left);
        legal.balls().map(|ball| self.best(guide, left, ball, cell)).fold(0.0, f64::max)
    }

    /// The worth of the best stroke at `ball` from the place with number `cell`.
    fn best(&self, guide: &Guide, left: BallSet, ball: BallId, cell: usize) -> f64 {
        let shelf = guide.shelf(ball, cell).iter();
        shelf.map(|kept| self.worth(left, ball, kept)).fold(0.0, f64::max)
    }

    /// What a stroke at `ball` is worth while `left` are left, all where the rack has them.
    pub fn worth(&self, left: BallSet, ball: BallId, kept: &Kept) -> f64 {
        let after = left.without(ball);
        if !kept.blocked.and(after).is_empty() {
            return 0.0;
        }
        let at = |id| self.places.get(&id).copied().unwrap_or_default();
        let value = |stop: DVec2| {
            let is_given = self.rack.gives(ball, usize::from(kept.rails), stop, at);
            if is_given { self.value(after, stop) } else { 0.0 }
        };
        let stops = kept.stops.iter().zip(WEIGHTS).filter(|(stop, _)| !stop.is_nan());
        f64::from(kept.pot)
            * stops.map(|(stop, weight)| weight * value(stop.as_dvec2())).sum::<f64>()
    }

    /// The balls that may be played from `from`, those that seem best first, `most` at most.
    pub fn promising(&self, guide: &Guide, left: BallSet, from: DVec2, most: usize) -> Vec<BallId> {
        let legal: Vec<BallId> = self.rack.legal(left).balls().collect();
        if legal.len() <= 1 {
            return legal;
        }
        let cell = self.grid.cell_at(from);
        let mut valued: Vec<(BallId, f64)> =
            legal.into_iter().map(|ball| (ball, self.best(guide, left, ball, cell))).collect();
        valued.sort_by(|a, b| b.1.total_cmp(&a.1).then(a.0.cmp(&b.0)));
        valued.into_iter().take(most).map(|(ball, _)| ball).collect()
    }

    /// The chance to clear `left` (or what counts instead) from `place`, 0 to 1.
    pub fn value(&self, left: BallSet, place: DVec2) -> f64 {
        if left.is_empty() || self.depth == Depth::Pot {
            return 1.0;
        }
        self.values.get(&left).map_or(0.0, |values| self.grid.chance_at(values, place))
    }

    /// What each place is worth while `left` are left, not a number where a ball lies; `None`
    /// if that was not worked out.
    pub fn values(&self, left: BallSet) -> Option<&[f64]> {
        self.values.get(&left).map(Vec::as_slice)
    }

    /// Whether places are valued for this set.
    pub fn knows(&self, left: BallSet) -> bool {
        self.depth == Depth::Pot || left.is_empty() || self.values.contains_key(&left)
    }
}

/// Sets that may be left after some legal pots, the empty one not counted.
fn sets(rack: &Rack) -> Vec<BallSet> {
    let mut found = vec![rack.targets()];
    let mut next = 0;
    while let Some(&left) = found.get(next) {
        next += 1;
        for ball in rack.legal(left).balls() {
            let after = left.without(ball);
            if !after.is_empty() && !found.contains(&after) {
                found.push(after);
            }
        }
    }
    found
}
