//! What the cue ball's stops are worth for the ball after this one.

use crate::error::Error;
use crate::shot::{Demand, Grid, Hand, PotMap, Situation};
use glam::DVec2;

/// Cells of the grid, along and across (tuning choice: a map for the screen has as many).
const CELLS: (usize, usize) = (64, 32);

/// The chance to pot the next ball from every place, read off a grid.
#[derive(Clone, Debug)]
pub struct Prospect {
    grid: Grid,
    chances: Vec<f64>,
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
        let chances =
            grid.fill(&map, 0, CELLS.1, None).into_iter().map(|spot| spot.chance).collect();
        Ok(Some(Self { grid, chances }))
    }

    /// The chance from `place` (m), 0 to 1.
    pub fn chance(&self, place: DVec2) -> f64 {
        self.grid.chance_at(&self.chances, place)
    }
}
