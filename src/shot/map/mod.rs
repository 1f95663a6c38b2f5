//! The chance to pot a ball from every place of the cue ball.
//!
//! Real windows of the ball on are found once, by playing it alone among the others; from
//! each place the strokes of a hand that lead into them follow in closed form, and a few
//! that are played put right what that does not see. DEVELOPERS.md, "Map of chances", says
//! how far it agrees with counted strokes.

mod aim;
mod answer;
mod contour;
mod edge_search;
mod errors;
mod first_chance;
mod grid;
mod pot_proof;
mod spot_proof;
mod straight;
mod window;

pub(crate) use answer::turn;
pub use grid::{Grid, Spot};
pub use spot_proof::SpotProof;
pub(crate) use window::{Given, PotWindow, Windows};

use super::hand::Hand;
use crate::ball::BallId;
use crate::error::Error;
use crate::physics::{Arena, PlacedBall, Stroke};
use crate::table::PocketId;
use aim::Aim;
use arrayvec::ArrayVec;
use edge_search::{Care, SKETCH, WHOLE};
use errors::Errors;
use first_chance::Glance;
use glam::DVec2;

/// A pocket with a rough chance of less than this share of the best cannot be the best.
const RIVAL: f64 = 0.5;

/// Where the chance is less no stroke is played.
const HOPELESS: f64 = 0.0005;

/// Steps of the speed for a quick chance.
const QUICK: u32 = 6;

/// Chances to pot one ball among others, for one hand.
#[derive(Clone, Debug)]
pub struct PotMap {
    arena: Arena,
    hand: Hand,
    /// The ball on, then the others.
    balls: Vec<(BallId, DVec2)>,
    /// By pocket, where they have been found.
    windows: [Option<Windows>; 6],
}

/// A standard stroke and what comes of it.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct StandardPot {
    /// The stroke, aimed at the middle of the widest window of cue directions.
    pub stroke: Stroke,
    /// The chance that the ball falls into the pocket, 0 to 1.
    pub chance: f64,
}

impl PotMap {
    /// The map of the ball `on` for this hand. A cue ball among `balls` is left out: it
    /// may be anywhere. The table's card and the balls' places must have been checked.
    ///
    /// # Errors
    /// [`Error::Invalid`] naming `ball` if it is not an object ball among `balls`.
    pub fn new(
        arena: &Arena,
        balls: &[PlacedBall],
        on: BallId,
        hand: &Hand,
    ) -> Result<Self, Error> {
        let mut map = Self::new_without_windows(arena, balls, on, hand)?;
        map.find_windows(&PocketId::ALL);
        Ok(map)
    }

    /// The same, but no pocket's windows are found yet: until
    /// [`find_windows`](Self::find_windows) does it, the ball goes nowhere.
    ///
    /// # Errors
    /// As [`new`](Self::new).
    pub fn new_without_windows(
        arena: &Arena,
        balls: &[PlacedBall],
        on: BallId,
        hand: &Hand,
    ) -> Result<Self, Error> {
        let mut balls: Vec<(BallId, DVec2)> = balls
            .iter()
            .filter(|ball| !ball.id.is_cue())
            .map(|ball| (ball.id, ball.position))
            .collect();
        let Some(place) = balls.iter().position(|(id, _)| *id == on) else {
            return Err(Error::invalid("ball", "must be an object ball that is on the table"));
        };
        balls.swap(0, place);
        Ok(Self { arena: arena.clone(), hand: *hand, balls, windows: [const { None }; 6] })
    }

    /// Finds the windows of these pockets, but for those that are found already.
    pub fn find_windows(&mut self, pockets: &[PocketId]) {
        self.find_with(WHOLE, pockets);
    }

    /// The same, but the windows are looked for less closely: a first picture needs no more.
    pub fn sketch_windows(&mut self, pockets: &[PocketId]) {
        self.find_with(SKETCH, pockets);
    }

    fn find_with(&mut self, care: Care, pockets: &[PocketId]) {
        for &pocket in pockets {
            self.windows[pocket as usize].get_or_insert_with(|| {
                Windows::find_with(care, &self.arena, &self.balls, 0, pocket)
            });
        }
    }

    fn windows(&self, pocket: PocketId) -> Option<&Windows> {
        self.windows[pocket as usize].as_ref()
    }

    /// The same map for another hand; the windows stay.
    #[must_use]
    pub fn in_hand(&self, hand: &Hand) -> Self {
        Self { hand: *hand, ..self.clone() }
    }

    /// The table.
    pub fn arena(&self) -> &Arena {
        &self.arena
    }

    /// Whether the cue ball can lie at `place`.
    pub fn is_free(&self, place: DVec2) -> bool {
        let least = 2.0 * self.arena.card().ball.radius;
        self.arena.shape().refusal(place).is_none()
            && self.balls.iter().all(|(_, at)| at.distance_squared(place) >= least * least)
    }

    /// The best pocket from `place`, where the cue ball must be free, and its chance;
    /// `None` if the ball goes nowhere.
    pub fn best_from(&self, place: DVec2) -> Option<(PocketId, StandardPot)> {
        SpotProof::new(self, place, None).whole(self).best()
    }

    /// As [`best_from`](Self::best_from), but by the windows alone: no stroke is played, so
    /// that what the cue ball or others do to the ball on later is not seen.
    pub fn quick_best_from(&self, place: DVec2) -> Option<(PocketId, StandardPot)> {
        best_of(&self.pots(&self.with_cue_ball(place), place))
    }

    /// As [`pot_from`](Self::pot_from), but by the windows alone.
    pub fn quick_pot_from(&self, place: DVec2, pocket: PocketId) -> Option<StandardPot> {
        self.pot(&self.with_cue_ball(place), place, pocket)
    }

    /// The best of these pockets from `place` and about its chance, quicker than
    /// [`quick_best_from`](Self::quick_best_from) since no stroke is told.
    pub fn first_best_from(&self, place: DVec2, pockets: &[PocketId]) -> Option<(PocketId, f64)> {
        Glance::new(self, &self.with_cue_ball(place), place).best(pockets)
    }

    /// The pots that may be the best, by the windows alone.
    fn pots(&self, balls: &[PlacedBall], place: DVec2) -> ArrayVec<(PocketId, StandardPot), 6> {
        let aims: ArrayVec<_, 6> = PocketId::ALL
            .into_iter()
            .filter_map(|pocket| Some((pocket, self.aim(balls, place, pocket)?)))
            .collect();
        let errors: ArrayVec<_, 6> = aims
            .iter()
            .filter_map(|(pocket, aim)| {
                let errors = Errors::new(aim)?;
                let rough = errors.rough_chance();
                Some((*pocket, errors, rough))
            })
            .collect();
        let most = errors.iter().map(|(.., rough)| *rough).fold(0.0, f64::max);
        errors
            .iter()
            .filter(|(.., rough)| *rough >= RIVAL * most)
            .map(|(pocket, errors, _)| {
                let chance = errors.chance(QUICK);
                (*pocket, StandardPot { stroke: errors.aim.stroke, chance })
            })
            .filter(|(_, pot)| pot.chance > 0.0)
            .collect()
    }

    /// The standard stroke from `place` into `pocket`, and its chance; `None` if there is
    /// none. A scratch is not counted: the ball on falls, whatever the cue ball does.
    ///
    /// The standard stroke (tuning choice): no side, at centre, higher the more the cue
    /// must be lifted; as fast as carries the ball on a metre past the pocket, and at most
    /// 6 m/s.
    pub fn pot_from(&self, place: DVec2, pocket: PocketId) -> Option<StandardPot> {
        SpotProof::new(self, place, Some(pocket)).whole(self).best().map(|(_, pot)| pot)
    }

    fn with_cue_ball(&self, place: DVec2) -> Vec<PlacedBall> {
        let mut balls = vec![PlacedBall { id: BallId::CUE, position: place }];
        balls.extend(self.balls.iter().map(|&(id, position)| PlacedBall { id, position }));
        balls
    }

    fn pot(&self, balls: &[PlacedBall], place: DVec2, pocket: PocketId) -> Option<StandardPot> {
        let aim = self.aim(balls, place, pocket)?;
        let chance = Errors::new(&aim)?.chance(QUICK);
        (chance > 0.0).then_some(StandardPot { stroke: aim.stroke, chance })
    }

    fn aim(&self, balls: &[PlacedBall], place: DVec2, pocket: PocketId) -> Option<Aim<'_>> {
        Aim::new(self, balls, place, self.windows(pocket)?)
    }
}

/// The first of the greatest chance, in the order of the pockets.
fn best_of(pots: &[(PocketId, StandardPot)]) -> Option<(PocketId, StandardPot)> {
    let better = |best: (PocketId, StandardPot), next: (PocketId, StandardPot)| {
        if next.1.chance > best.1.chance { next } else { best }
    };
    pots.iter().copied().reduce(better)
}
