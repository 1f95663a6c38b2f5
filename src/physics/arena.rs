//! A table made ready for playing, the door to the simulation.

use super::cushion::CushionLaw;
use super::record::Listen;
use super::short_list::OfBalls;
use super::shot::{BallEnd, PlacedBall, Stroke, at_the_strike};
use super::simulation::Simulation;
use crate::ball::{BallId, BallMotion};
use crate::table::{TableCard, TableShape};

/// A table made ready for playing: its card, shape and cushion law.
#[derive(Clone, Debug)]
pub struct Arena {
    card: TableCard,
    shape: TableShape,
    law: CushionLaw,
}

impl Arena {
    /// Makes ready the table described by `card`, which must have passed
    /// [`TableCard::check`].
    pub fn new(card: &TableCard) -> Self {
        Self { card: *card, shape: TableShape::new(card), law: CushionLaw::new(card) }
    }

    /// The card.
    pub fn card(&self) -> &TableCard {
        &self.card
    }

    /// Cushions and pockets.
    pub fn shape(&self) -> &TableShape {
        &self.shape
    }

    /// How its cushions give a ball back.
    pub(super) fn law(&self) -> &CushionLaw {
        &self.law
    }

    /// Plays on from the given states until everything rests, and returns where
    /// each ball ended, in the order of `balls`. The first event is at time 0.
    ///
    /// Balls must stand legally and not overlap; `listener` hears every event, and
    /// may end the shot before its end: balls are then told as moving.
    pub fn run(
        &self,
        balls: &[(BallId, BallMotion)],
        listener: &mut dyn Listen,
    ) -> OfBalls<BallEnd> {
        let mut simulation = Simulation::new(self, balls, listener);
        simulation.run();
        simulation.ends()
    }

    /// Plays `stroke`, which must have passed [`Stroke::check`], on `balls` at rest; the rest
    /// is as in [`run`](Self::run).
    pub fn strike(
        &self,
        balls: &[PlacedBall],
        stroke: &Stroke,
        listener: &mut dyn Listen,
    ) -> OfBalls<BallEnd> {
        let (velocity, spin) = stroke.launch(self.card.ball.radius, self.card.squirt_mass_ratio);
        let struck = BallMotion { velocity, spin, ..BallMotion::default() };
        self.run(&at_the_strike(balls, struck), listener)
    }
}
