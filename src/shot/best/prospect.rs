//! What the cue ball's stops are worth for the ball after this one.

use crate::error::Error;
use crate::shot::{Demand, Grid, Hand, PotMap, Situation};
use crate::table::PocketId;
use glam::DVec2;

/// Cells of the grid, along and across (tuning choice: a map for the screen has as many).
const CELLS: (usize, usize) = (64, 32);

/// A quick look knows one cell of so many each way (tuning choice).
const COARSE: usize = 2;

/// A place so near to a cell's middle, in cells, needs the cells on both sides of it: more
/// than a rounding.
const NEAR: f64 = 1e-9;

/// The chance to pot the next ball from every place, read off a grid whose cells are found
/// when they are first needed.
#[derive(Clone, Debug)]
pub struct Prospect {
    grid: Grid,
    map: PotMap,
    known: Known,
}

#[derive(Clone, Debug)]
struct Known {
    /// Not a number where it is not known, and where the cue ball cannot lie.
    chances: Vec<f64>,
    is_known: Vec<bool>,
}

impl Prospect {
    /// For the next ball of `demand`, with the ball on gone; `None` if no next ball is
    /// named or a zone says where to stop.
    ///
    /// # Errors
    /// As [`PotMap::new`].
    pub fn new(situation: &Situation, demand: &Demand, hand: &Hand) -> Result<Option<Self>, Error> {
        let (Some(next), None) = (demand.next, demand.zone) else { return Ok(None) };
        let balls: Vec<_> =
            situation.balls().iter().filter(|ball| ball.id != demand.on).copied().collect();
        let map = PotMap::new(situation.arena(), &balls, next, hand)?;
        let grid = Grid::new(situation.arena().card(), CELLS.0, CELLS.1);
        let n = grid.n_cells();
        let known = Known { chances: vec![f64::NAN; n], is_known: vec![false; n] };
        Ok(Some(Self { grid, map, known }))
    }

    /// The chance from a cell.
    fn know(&mut self, cell: usize) -> f64 {
        if !std::mem::replace(&mut self.known.is_known[cell], true) {
            self.known.chances[cell] = self.grid.rough(&self.map, cell, &PocketId::ALL);
        }
        self.known.chances[cell]
    }
}

impl Outlook for Prospect {
    fn chance(&mut self, place: DVec2) -> f64 {
        let (first, step) = (self.grid.place(0, 0), self.grid.place(1, 1) - self.grid.place(0, 0));
        let most = DVec2::new(CELLS.0 as f64, CELLS.1 as f64) - 1.0;
        let at = ((place - first) / step).clamp(DVec2::ZERO, most);
        let (from, to) = ((at - NEAR).max(DVec2::ZERO), ((at + NEAR).floor() + 1.0).min(most));
        for row in from.y as usize..=to.y as usize {
            for column in from.x as usize..=to.x as usize {
                self.know(row * CELLS.0 + column);
            }
        }
        self.grid.chance_at(&self.known.chances, place)
    }

    fn about(&mut self, place: DVec2) -> f64 {
        let nearest = self.grid.cell_at(place);
        let (row, column) = (nearest / CELLS.0 / COARSE, nearest % CELLS.0 / COARSE);
        let chance = self.know(row * COARSE * CELLS.0 + column * COARSE);
        if chance.is_nan() { self.chance(place) } else { chance }
    }
}

/// What the cue ball's stops are worth for the next ball.
pub trait Outlook {
    /// The chance to pot it from `place` (m), 0 to 1.
    fn chance(&mut self, place: DVec2) -> f64;

    /// About the same, for less.
    fn about(&mut self, place: DVec2) -> f64 {
        self.chance(place)
    }
}

impl<F: FnMut(DVec2) -> f64> Outlook for F {
    fn chance(&mut self, place: DVec2) -> f64 {
        self(place)
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::ball::BallId;
    use crate::physics::{PlacedBall, Shot};
    use crate::shot::HANDS;
    use crate::shot::example::potted;

    #[test]
    fn cells_that_are_found_when_needed_are_those_of_the_whole_grid() {
        let (situation, stroke) = potted(1.5, 0.2);
        let next = BallId::object(7).expect("a ball");
        let mut balls = situation.balls().to_vec();
        balls.push(PlacedBall { id: next, position: DVec2::new(0.7, 0.9) });
        let shot = Shot { card: *situation.arena().card(), balls, stroke };
        let situation = Situation::new(&shot, situation.on()).expect("a sound layout");
        let demand = Demand { next: Some(next), ..Demand::to_pot(situation.on()) };
        let made = || Prospect::new(&situation, &demand, &HANDS[1].hand).expect("a ball");
        let (mut lazy, mut quick) = (made().expect("a next ball"), made().expect("a next ball"));
        let all: Vec<f64> =
            lazy.grid.fill(&lazy.map, 0, CELLS.1, None).iter().map(|spot| spot.chance).collect();
        let mut off = 0.0;
        for k in 0..900 {
            // Beyond the rails, too, where no ball stops.
            let place = DVec2::new(f64::from(k % 30) * 0.09, f64::from(k / 30) * 0.045);
            let chance = lazy.chance(place);
            assert_eq!(chance, lazy.grid.chance_at(&all, place), "at {place}");
            off += (quick.about(place) - chance).abs() / 900.0;
        }
        for cell in 0..lazy.grid.n_cells() {
            let middle = lazy.grid.place_of(cell);
            assert_eq!(lazy.chance(middle), lazy.grid.chance_at(&all, middle), "in {cell}");
        }
        assert!(off < 0.05, "about the same: {off} on average");
        let n_known = quick.known.is_known.iter().filter(|known| **known).count();
        assert!(n_known < lazy.grid.n_cells() / 2, "for less: {n_known} cells");
    }

    #[test]
    fn with_a_zone_no_next_ball_counts() {
        let (situation, _) = potted(1.5, 0.2);
        let demand = Demand::to_pot(situation.on());
        let none = Prospect::new(&situation, &demand, &HANDS[1].hand).expect("a ball");
        assert!(none.is_none(), "no next ball is named");
    }
}
