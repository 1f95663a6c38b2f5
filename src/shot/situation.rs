//! Balls on a table, on which many strokes are tried for their ends alone.

use crate::ball::{BallId, BallMotion};
use crate::error::Error;
use crate::physics::{
    Arena, BallEnd, Event, EventKind, Listen, OfBalls, Outcome, PlacedBall, Shot, Stroke,
    at_the_strike,
};
use crate::table::{PocketId, Rail, Surface};
use arrayvec::ArrayVec;
use glam::DVec2;

/// Of the rails that the cue ball meets, so many are kept, the first ones (tuning
/// choice: nobody plans more).
pub const MOST_RAILS: usize = 12;

/// Balls on a table, ready for any number of strokes.
#[derive(Clone, Debug)]
pub struct Situation {
    arena: Arena,
    balls: Vec<PlacedBall>,
    on: BallId,
    /// Every ball at rest.
    still: Vec<(BallId, BallMotion)>,
    cue_place: usize,
    on_place: usize,
}

/// What came of a stroke, in short.
#[derive(Clone, Debug, PartialEq)]
pub struct Ending {
    /// The ball that the cue ball met first.
    pub first: Option<BallId>,
    /// The pocket into which the ball on fell.
    pub pocket: Option<PocketId>,
    /// Whether the cue ball fell, or was still moving when the shot was given up.
    pub scratch: bool,
    /// Where the cue ball stopped, m; the middle of the hole it fell into.
    pub stop: DVec2,
    /// The rails that the cue ball met after its first ball, in order.
    pub rails: ArrayVec<Rail, MOST_RAILS>,
    /// The balls that do not lie any more where they lay, one bit for each number.
    pub moved: u16,
}

impl Ending {
    /// Whether this ball does not lie any more where it lay.
    pub fn has_moved(&self, ball: BallId) -> bool {
        self.moved >> ball.number() & 1 == 1
    }
}

impl Situation {
    /// The layout of `shot`, whose stroke is not used, with the ball `on` to be potted.
    ///
    /// # Errors
    /// As [`Shot::check`]; [`Error::Invalid`] naming `on` if it is not an object ball of
    /// the layout.
    pub fn new(shot: &Shot, on: BallId) -> Result<Self, Error> {
        shot.check()?;
        let place = |id: BallId| shot.balls.iter().position(|ball| ball.id == id);
        let cue_place =
            place(BallId::CUE).ok_or_else(|| Error::invalid("balls", "the cue ball is missing"))?;
        let on_place = place(on)
            .filter(|_| !on.is_cue())
            .ok_or_else(|| Error::invalid("on", "must be an object ball that is on the table"))?;
        let arena = Arena::new(&shot.card);
        let still = at_the_strike(&shot.balls, BallMotion::default());
        Ok(Self { arena, balls: shot.balls.clone(), on, still, cue_place, on_place })
    }

    /// The table.
    pub fn arena(&self) -> &Arena {
        &self.arena
    }

    /// All balls.
    pub fn balls(&self) -> &[PlacedBall] {
        &self.balls
    }

    /// The ball on.
    pub fn on(&self) -> BallId {
        self.on
    }

    /// Where the cue ball lies, m.
    pub fn cue_ball(&self) -> DVec2 {
        self.balls[self.cue_place].position
    }

    /// Where the ball on lies, m.
    pub fn object_ball(&self) -> DVec2 {
        self.balls[self.on_place].position
    }

    /// Plays `stroke`, which must have passed [`Stroke::check`].
    pub fn play(&self, stroke: &Stroke) -> Ending {
        let card = self.arena.card();
        let mut balls: OfBalls<_> = self.still.iter().copied().collect();
        let (velocity, spin) = stroke.launch(card.ball.radius, card.squirt_mass_ratio);
        let cue_ball = &mut balls[self.cue_place].1;
        (cue_ball.velocity, cue_ball.spin) = (velocity, spin);
        let mut watch = Watch::default();
        let ends = self.arena.run(&balls, &mut watch);
        self.ending(watch, &ends)
    }

    /// What came of a stroke that was played on this layout with all its events.
    pub fn ending_of(&self, outcome: &Outcome) -> Ending {
        let mut watch = Watch::default();
        for event in &outcome.events {
            watch.event(*event);
        }
        self.ending(watch, &outcome.ends)
    }

    fn ending(&self, watch: Watch, ends: &[BallEnd]) -> Ending {
        let (stop, scratch) = match ends[self.cue_place] {
            BallEnd::Rest(at) => (at, false),
            BallEnd::Moving(at) => (at, true),
            BallEnd::Pocketed(pocket) => (self.arena.shape().pocket(pocket).hole, true),
        };
        let pocket = match ends[self.on_place] {
            BallEnd::Pocketed(pocket) => Some(pocket),
            _ => None,
        };
        let moved = self.balls.iter().zip(ends).fold(0, |moved, (ball, end)| {
            let has_moved = *end != BallEnd::Rest(ball.position);
            moved | u16::from(has_moved) << ball.id.number()
        });
        Ending { first: watch.first, pocket, scratch, stop, rails: watch.rails, moved }
    }
}

/// Hears what the cue ball meets.
#[derive(Default)]
struct Watch {
    first: Option<BallId>,
    rails: ArrayVec<Rail, MOST_RAILS>,
}

impl Listen for Watch {
    fn event(&mut self, event: Event) {
        if !event.ball.is_cue() {
            return;
        }
        match event.kind {
            EventKind::Contact(other) if self.first.is_none() => self.first = Some(other),
            EventKind::Cushion(Surface::Rail(rail)) if self.first.is_some() => {
                // Only the first are kept.
                let _ = self.rails.try_push(rail);
            }
            _ => {}
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::physics::play;
    use crate::shot::example::potted;
    use crate::shot::{Demand, Zone};

    #[test]
    fn an_ending_tells_what_a_demand_asks() {
        let (situation, stroke) = potted(1.5, 0.2);
        let ending = situation.play(&stroke);
        let shot =
            Shot { card: *situation.arena().card(), balls: situation.balls().to_vec(), stroke };
        let outcome = play(&shot).expect("a legal shot");
        assert_eq!(situation.ending_of(&outcome), ending, "told of the whole shot alike");
        let mut demand = Demand::to_pot(situation.on());
        assert!(demand.is_met(&ending), "potted: {ending:?}");
        assert!(ending.has_moved(situation.on()), "it is gone");
        demand.pocket = Some(PocketId::HeadLeft);
        assert!(!demand.is_met(&ending), "in the wrong pocket");
        demand.pocket = Some(PocketId::FootLeft);
        demand.rails = ending.rails.iter().copied().collect();
        demand.zone = Some(Zone { centre: ending.stop, half: DVec2::splat(0.01), turn: 0.0 });
        assert!(demand.is_met(&ending), "all as played");
        demand.rails.insert(0, Rail::Head);
        assert!(!demand.is_met(&ending), "a rail too many");
    }

    #[test]
    fn the_ball_on_must_lie_on_the_table() {
        let (situation, stroke) = potted(1.5, 0.2);
        let shot =
            Shot { card: *situation.arena().card(), balls: situation.balls().to_vec(), stroke };
        for on in [BallId::CUE, BallId::object(4).expect("a ball")] {
            let error = Situation::new(&shot, on).expect_err("no such ball on");
            assert_eq!(error.field(), "on", "{error}");
        }
    }
}
