//! The map on a grid of places.

use super::{PotMap, SpotProof};
use crate::table::{PocketId, TableCard};
use glam::DVec2;
use std::ops::Range;

/// A sketch takes one cell of so many each way (tuning choice, as the next).
const STRIDE: usize = 2;

/// Between cells whose chances differ by less than this it is drawn straight.
const EVEN: f64 = 0.15;

/// A grid over all places that a cue ball's centre can have on the open cloth. Cells are
/// counted along x first, from the origin; a cell's place is its middle.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Grid {
    /// Cells along x.
    pub columns: usize,
    /// Cells along y.
    pub rows: usize,
    first: DVec2,
    step: DVec2,
}

/// The chance of one cell.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Spot {
    /// 0 to 1; not a number where the cue ball cannot lie.
    pub chance: f64,
    /// The best pocket, if the ball goes anywhere.
    pub pocket: Option<PocketId>,
}

impl Grid {
    /// A grid of so many cells, at least one each way.
    pub fn new(card: &TableCard, columns: usize, rows: usize) -> Self {
        let reach = DVec2::splat(card.touch_distance());
        let size = DVec2::new(card.length, card.width) - 2.0 * reach;
        let step = size / DVec2::new(columns as f64, rows as f64);
        Self { columns, rows, first: reach + 0.5 * step, step }
    }

    /// The place of a cell, m.
    pub fn place(&self, column: usize, row: usize) -> DVec2 {
        self.first + self.step * DVec2::new(column as f64, row as f64)
    }

    /// The number of its cells.
    pub fn n_cells(&self) -> usize {
        self.columns * self.rows
    }

    /// The place of the cell with this number, counted row by row, m.
    pub fn place_of(&self, cell: usize) -> DVec2 {
        self.place(cell % self.columns, cell / self.columns)
    }

    /// The number of the cell next to `place`, counted row by row.
    pub fn cell_at(&self, place: DVec2) -> usize {
        let most = DVec2::new(self.columns as f64 - 1.0, self.rows as f64 - 1.0);
        let at = ((place - self.first) / self.step).max(DVec2::ZERO).min(most);
        (at.y + 0.5) as usize * self.columns + (at.x + 0.5) as usize
    }

    /// The numbers of the cells that share a side with the one with this number.
    pub fn beside(&self, cell: usize) -> impl Iterator<Item = usize> {
        let (column, row) = (cell % self.columns, cell / self.columns);
        let sides = [
            (column > 0).then(|| cell - 1),
            (column + 1 < self.columns).then_some(cell + 1),
            (row > 0).then(|| cell - self.columns),
            (row + 1 < self.rows).then_some(cell + self.columns),
        ];
        sides.into_iter().flatten()
    }

    /// The numbers of the four cells around `place` and their weights there, bilinear; one
    /// without a weight may not exist.
    pub fn around(&self, place: DVec2) -> [(usize, f64); 4] {
        let at = (place - self.first) / self.step;
        let most = DVec2::new(self.columns as f64 - 1.0, self.rows as f64 - 1.0);
        let at = at.max(DVec2::ZERO).min(most);
        let (x, y) = (at.x.floor(), at.y.floor());
        let (dx, dy) = (at.x - x, at.y - y);
        let cell = y as usize * self.columns + x as usize;
        [
            (cell, (1.0 - dx) * (1.0 - dy)),
            (cell + 1, dx * (1.0 - dy)),
            (cell + self.columns, (1.0 - dx) * dy),
            (cell + self.columns + 1, dx * dy),
        ]
    }

    /// The spots of the rows `from` to `to` (excluded), row by row: the best pocket, or
    /// the named one.
    pub fn fill(
        &self,
        map: &PotMap,
        from: usize,
        to: usize,
        pocket: Option<PocketId>,
    ) -> Vec<Spot> {
        let cells = (from..to).flat_map(|row| (0..self.columns).map(move |column| (column, row)));
        let pockets = pocket.as_ref().map_or(&PocketId::ALL[..], std::slice::from_ref);
        cells.map(|(column, row)| Spot::rough(map, self.place(column, row), pockets)).collect()
    }

    /// About the chances of these rows, row by row, by the windows alone: in the best of these
    /// pockets. Some cells are taken, and where their chances hardly differ those between
    /// them are drawn straight. Not a number where the cue ball cannot lie.
    pub fn sketch(&self, map: &PotMap, rows: Range<usize>, pockets: &[PocketId]) -> Vec<f64> {
        let mut taken = vec![None; self.n_cells()];
        let mut take =
            |cell: usize| *taken[cell].get_or_insert_with(|| self.rough(map, cell, pockets));
        let mut sketched = |column: usize, row: usize| {
            let (x, along) = between_knots(column, self.columns);
            let (y, up) = between_knots(row, self.rows);
            let corners = [0, 1, 2, 3].map(|k| take(y[k / 2] * self.columns + x[k % 2]));
            if !are_even(&corners) {
                return take(row * self.columns + column);
            }
            let [low, high] = [0, 2].map(|k| corners[k] + along * (corners[k + 1] - corners[k]));
            low + up * (high - low)
        };
        let n_columns = self.columns;
        rows.flat_map(|row| (0..n_columns).map(move |column| (column, row)))
            .map(|(column, row)| sketched(column, row))
            .collect()
    }

    /// The chance from the cell with this number, row by row, by the windows alone: in the
    /// best of these pockets. Not a number where the cue ball cannot lie.
    pub fn rough(&self, map: &PotMap, cell: usize, pockets: &[PocketId]) -> f64 {
        Spot::rough(map, self.place_of(cell), pockets).chance
    }

    /// The chance in the best pocket, or the named one, proved by strokes that are played.
    pub fn proved(&self, map: &PotMap, cell: usize, pocket: Option<PocketId>) -> f64 {
        Spot::proved(map, self.place_of(cell), pocket).chance
    }

    /// The same, to be proved in parts.
    pub fn proving(&self, map: &PotMap, cell: usize, pocket: Option<PocketId>) -> SpotProof {
        SpotProof::new(map, self.place_of(cell), pocket)
    }

    /// The chance at `place` between the cells' middles, from `chances` of all cells:
    /// bilinear, without those where the cue ball cannot lie; 0 if all around are such.
    pub fn chance_at(&self, chances: &[f64], place: DVec2) -> f64 {
        let (mut sum, mut weights) = (0.0, 0.0);
        for (cell, weight) in self.around(place) {
            let chance = chances.get(cell).copied().unwrap_or(f64::NAN);
            if weight > 0.0 && !chance.is_nan() {
                sum += weight * chance;
                weights += weight;
            }
        }
        if weights > 0.0 { sum / weights } else { 0.0 }
    }
}

/// The rows or columns on both sides of this one, of `n`, that a sketch takes, and how far it
/// lies from the first to the second.
fn between_knots(at: usize, n: usize) -> ([usize; 2], f64) {
    let low = at / STRIDE * STRIDE;
    if at == low || at + 1 == n {
        return ([at; 2], 0.0);
    }
    let high = (low + STRIDE).min(n - 1);
    ([low, high], (at - low) as f64 / (high - low) as f64)
}

/// Whether chances may be drawn straight between these; not where one is not a number.
fn are_even(chances: &[f64; 4]) -> bool {
    let [least, most] = [f64::min, f64::max].map(|of| chances.iter().copied().fold(chances[0], of));
    chances.iter().all(|chance| !chance.is_nan()) && most - least < EVEN
}

impl Spot {
    /// What a map ends with at `place`: proved by strokes that are played.
    pub fn proved(map: &PotMap, place: DVec2, pocket: Option<PocketId>) -> Self {
        SpotProof::new(map, place, pocket).whole(map).spot()
    }

    fn rough(map: &PotMap, place: DVec2, pockets: &[PocketId]) -> Self {
        if !map.is_free(place) {
            return Self { chance: f64::NAN, pocket: None };
        }
        let best = map.first_best_from(place, pockets);
        Self {
            chance: best.map_or(0.0, |(_, chance)| chance),
            pocket: best.map(|(pocket, _)| pocket),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::ball::BallId;
    use crate::physics::{Arena, PlacedBall};
    use crate::shot::HANDS;
    use crate::table::TableSize;

    #[test]
    fn a_sketch_is_near_to_what_is_found_for_each_cell() {
        let arena = Arena::new(&TableCard::of_size(TableSize::NineFoot));
        let ball = |number: u8, x: f64, y: f64| PlacedBall {
            id: BallId::object(number).expect("1 to 15"),
            position: DVec2::new(x, y),
        };
        let balls = [ball(1, 1.7, 0.9), ball(2, 1.2, 0.6), ball(3, 2.2, 0.4)];
        let grid = Grid::new(arena.card(), 32, 16);
        for named in HANDS {
            let made = |balls: &[PlacedBall]| {
                PotMap::new_without_windows(&arena, balls, balls[0].id, &named.hand)
                    .expect("a sound map")
            };
            let (mut whole, mut sketch) = (made(&balls), made(&balls));
            whole.find_windows(&PocketId::ALL);
            sketch.sketch_windows(&PocketId::ALL);
            let sketched = grid.sketch(&sketch, 0..16, &PocketId::ALL);
            let mut offs = Vec::new();
            for (cell, chance) in sketched.iter().enumerate() {
                let exact = grid.rough(&whole, cell, &PocketId::ALL);
                assert_eq!(chance.is_nan(), exact.is_nan(), "cell {cell} is free or not");
                assert!(chance.is_nan() || (0.0..=1.0).contains(chance), "{cell}: {chance}");
                if !exact.is_nan() {
                    offs.push((chance - exact).abs());
                }
            }
            offs.sort_by(f64::total_cmp);
            let at = |share: f64| offs[(share * (offs.len() - 1) as f64) as usize];
            assert!(at(0.5) < 0.01 && at(0.9) < 0.05, "{} {}", at(0.5), at(0.9));
        }
    }
}
