//! A ball among others, and what strokes at it come to from places of the cue ball.

use super::kept_stroke::{Sample, Stop, Tried};
use super::ladder::{Aimed, Entry, LEAST_CHANCE, Stand};
use super::set::BallSet;
use super::strokes::Tip;
use super::watch::Watch;
use crate::ball::BallId;
use crate::physics::{Arena, BallEnd, OfBalls, PlacedBall, Stroke};
use crate::shot::{Delivery, Hand, Windows, Wobble};
use crate::table::PocketId;
use glam::DVec2;

/// A pocket whose first strokes have less than this share of another's chance is left.
const RIVAL: f64 = 0.2;

/// What stays the same while strokes at one ball are tried from many places.
#[derive(Clone, Debug)]
pub struct Target {
    ball: PlacedBall,
    /// Balls that lie there in any case.
    fixed: Vec<PlacedBall>,
    /// Balls that may lie there or be gone.
    others: Vec<PlacedBall>,
    windows: [Windows; 6],
}

impl Target {
    /// The ball `ball` of `balls`, of which those of `loose` may be gone. A cue ball among
    /// them is left out.
    pub fn new(arena: &Arena, balls: &[PlacedBall], ball: PlacedBall, loose: BallSet) -> Self {
        let (others, fixed) = around(balls, ball, loose);
        let windows = found(arena, ball, &fixed);
        Self { ball, fixed, others, windows }
    }

    /// The ball.
    pub fn ball(&self) -> PlacedBall {
        self.ball
    }

    /// The ways of it into `pocket`.
    pub(super) fn windows(&self, pocket: PocketId) -> &Windows {
        &self.windows[pocket as usize]
    }

    /// The same ball, where it lies as `ball`, on a table where some balls have moved or are
    /// gone. Only what differs is worked out anew; if it is to be quick and not to be found, what
    /// a ball that has moved finds of pockets is guessed by the straight ways to them.
    pub fn as_on(
        &self,
        arena: &Arena,
        balls: &[PlacedBall],
        ball: PlacedBall,
        loose: BallSet,
        finds: bool,
    ) -> Self {
        let (others, fixed) = around(balls, ball, loose);
        let windows = if ball == self.ball && (!finds || fixed == self.fixed) {
            self.windows.clone()
        } else if finds {
            found(arena, ball, &fixed)
        } else {
            PocketId::ALL.map(|pocket| Windows::guessed(arena, ball.position, pocket))
        };
        Self { ball, fixed, others, windows }
    }

    /// Whether the cue ball can lie at `place` beside this ball and those that are there in
    /// any case.
    pub fn leaves_free(&self, arena: &Arena, place: DVec2) -> bool {
        let reach = 2.0 * arena.card().ball.radius;
        std::iter::once(&self.ball)
            .chain(&self.fixed)
            .all(|ball| ball.position.distance(place) >= reach)
            && arena.shape().refusal(place).is_none()
    }

    /// What the strokes of `tips` and speeds come to from `place`.
    pub fn from(
        &self,
        arena: &Arena,
        hand: &Hand,
        place: DVec2,
        tips: &[Tip],
        n_speeds: u8,
    ) -> Vec<Entry> {
        let balls = self.with_cue_ball(place);
        let stand = Stand { arena, hand, target: self, balls: &balls, place };
        let mut routes: Vec<(PocketId, f64)> = PocketId::ALL
            .into_iter()
            .filter_map(|pocket| Some((pocket, stand.rough(pocket)?)))
            .collect();
        let most = routes.iter().map(|(_, chance)| *chance).fold(LEAST_CHANCE, f64::max);
        routes.retain(|(_, chance)| *chance >= RIVAL * most);
        let mut entries = Vec::new();
        for (pocket, _) in routes {
            for (number, tip) in tips.iter().enumerate() {
                stand.ladder(pocket, number as u8, *tip, n_speeds, &mut entries);
            }
        }
        entries
    }
}

impl Target {
    /// Tries `stroke` from `place` with these errors of the hand.
    pub fn tried(
        &self,
        arena: &Arena,
        hand: &Hand,
        place: DVec2,
        stroke: &Stroke,
        pocket: PocketId,
        wobbles: &[Wobble],
    ) -> Tried {
        let balls = self.with_cue_ball(place);
        let delivery = Delivery::new(hand, arena.card(), &balls, stroke);
        let made = wobbles.iter().enumerate().filter_map(|(number, wobble)| {
            let (ends, watch) = self.played(arena, &balls, &delivery.struck(wobble));
            let falls = !watch.wrong && ends[1] == BallEnd::Pocketed(pocket);
            let BallEnd::Rest(stop) = ends[0] else { return None };
            let Watch { blocked, bumped, rails, .. } = watch;
            let (stop, number) = (Stop::at(stop), number as u8);
            falls.then_some(Sample { number, stop, blocked, bumped, rails })
        });
        Tried { n: wobbles.len() as u32, made: made.collect() }
    }

    /// The stroke of a tip at a speed that carries the ball from `place` to the pocket, and its
    /// chance to, as the windows have it; `None` if there is none.
    pub fn aimed(
        &self,
        arena: &Arena,
        hand: &Hand,
        place: DVec2,
        (pocket, tip, speed): (PocketId, Tip, f64),
    ) -> Option<(Stroke, f64)> {
        let balls = self.with_cue_ball(place);
        let stand = Stand { arena, hand, target: self, balls: &balls, place };
        let plain =
            Stroke { azimuth: 0.0, elevation: 0.0, speed, side: tip.side, height: tip.height };
        let Aimed { stroke, pot, .. } =
            stand.aimed(pocket, &stand.lifted(pocket, &plain)?, Some(1.0))?;
        Some((stroke, pot))
    }

    /// The balls of a play, but for those that may be gone.
    fn with_cue_ball(&self, place: DVec2) -> Vec<PlacedBall> {
        let cue_ball = PlacedBall { id: BallId::CUE, position: place };
        [cue_ball, self.ball].into_iter().chain(self.fixed.iter().copied()).collect()
    }

    /// Plays `stroke` among `balls`, and tells what both met.
    pub(super) fn played(
        &self,
        arena: &Arena,
        balls: &[PlacedBall],
        stroke: &Stroke,
    ) -> (OfBalls<BallEnd>, Watch<'_>) {
        let reach = 2.0 * arena.card().ball.radius;
        let mut watch = Watch::new(self.ball.id, &self.others, reach);
        let ends = arena.strike(balls, stroke, &mut watch);
        (ends, watch)
    }
}

/// The ways of `ball` into the pockets among those that are there in any case.
fn found(arena: &Arena, ball: PlacedBall, fixed: &[PlacedBall]) -> [Windows; 6] {
    let among: Vec<(BallId, DVec2)> = std::iter::once((ball.id, ball.position))
        .chain(fixed.iter().map(|other| (other.id, other.position)))
        .collect();
    PocketId::ALL.map(|pocket| Windows::find(arena, &among, 0, pocket))
}

/// The others of `balls` beside `ball`: those of `loose`, and those that are there in any case.
fn around(
    balls: &[PlacedBall],
    ball: PlacedBall,
    loose: BallSet,
) -> (Vec<PlacedBall>, Vec<PlacedBall>) {
    let others = balls.iter().copied().filter(|other| !other.id.is_cue() && other.id != ball.id);
    others.partition(|other| loose.has(other.id))
}
