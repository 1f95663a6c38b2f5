//! How open balls lie, by geometry alone: for layouts that no guide is to.

use super::rack::{Game, Rack};
use super::set::BallSet;
use crate::ball::BallId;
use crate::order::sort_by_number;
use crate::physics::{Arena, PlacedBall};
use crate::shot::{Grid, Hand, NextShot, distance_from};
use crate::table::PocketId;
use glam::DVec2;

/// Places of the cue ball from which a ball is looked at, along the table and across
/// (tuning choice).
const PLACES: (usize, usize) = (7, 4);

/// From so many of these places a ball with a good leave is played at least as well as it is
/// thought to be (tuning choice: an eighth of the table is left open to the cue ball).
const LEAVE: f64 = 0.125;

/// A ball whose chance from a good leave is less than this has no way to a pocket (tuning
/// choice).
const NO_WAY: f64 = 0.1;

/// What a layout that no guide is to is worth, by how open it lies, is taken for so much less
/// (tuning choice: what comes of it is less sure).
pub const DISTURBED: f64 = 0.8;

/// How open the balls of a layout lie that are to be cleared.
#[derive(Clone, Debug)]
pub struct Openness {
    balls: Vec<PlacedBall>,
    /// The chance of each ball from a good leave, by then, 0 to 1.
    ways: Vec<(BallId, f64)>,
    /// Those that never get a way while all lie as they do.
    stuck: BallSet,
}

impl Openness {
    /// The balls `left` to clear among `balls`; a cue ball among these is left out.
    ///
    /// A ball is looked at among those that are still there when its turn comes: in rotation
    /// the later ones, in a group those that do not get out of the way before it.
    pub fn new(
        rack: &Rack,
        arena: &Arena,
        hand: &Hand,
        balls: &[PlacedBall],
        left: BallSet,
    ) -> Self {
        let balls: Vec<PlacedBall> =
            balls.iter().copied().filter(|ball| !ball.id.is_cue()).collect();
        let mut open = Self { balls, ways: Vec::new(), stuck: BallSet::NONE };
        let places = Grid::new(&rack.card, PLACES.0, PLACES.1);
        let way = |open: &Self, ball: BallId, gone: BallSet| {
            let there: Vec<PlacedBall> =
                open.balls.iter().copied().filter(|other| !gone.has(other.id)).collect();
            way(arena, hand, &places, &there, ball)
        };
        let (group, last) = match rack.game {
            Game::Rotation => {
                let mut gone = BallSet::NONE;
                for ball in left.balls() {
                    let chance = way(&open, ball, gone);
                    open.add(ball, chance);
                    gone = gone.with(ball);
                }
                return open;
            }
            Game::Group { group, last } => (left.and(group), last),
        };
        let (mut rest, mut gone) = (group, BallSet::NONE);
        loop {
            let found: Vec<(BallId, f64)> = rest
                .balls()
                .map(|ball| (ball, way(&open, ball, gone)))
                .filter(|(_, chance)| *chance >= NO_WAY)
                .collect();
            if found.is_empty() {
                break;
            }
            for (ball, chance) in found {
                open.add(ball, chance);
                (rest, gone) = (rest.without(ball), gone.with(ball));
            }
        }
        rest.balls().for_each(|ball| open.add(ball, 0.0));
        if left.has(last) {
            let chance = way(&open, last, group);
            open.add(last, chance);
        }
        open
    }

    fn add(&mut self, ball: BallId, chance: f64) {
        if chance < NO_WAY {
            self.stuck = self.stuck.with(ball);
        }
        self.ways.push((ball, chance));
    }

    /// Balls that never get a way to a pocket while all lie as they do.
    pub fn stuck(&self) -> BallSet {
        self.stuck
    }

    /// The chance of the best way to clear all from `place`, roughly: the ball that is played
    /// from there, all others from good leaves. 0 to 1.
    pub fn value(
        &self,
        rack: &Rack,
        arena: &Arena,
        hand: &Hand,
        left: BallSet,
        place: DVec2,
    ) -> f64 {
        let others = |ball: BallId| -> f64 {
            self.ways.iter().filter(|(other, _)| *other != ball).map(|(_, chance)| chance).product()
        };
        let radius = arena.card().ball.radius;
        let all = |ball: BallId| {
            let others = others(ball);
            if others == 0.0 {
                return 0.0;
            }
            let shot = NextShot::of(arena, &self.balls, ball, None, place);
            others * shot.map_or(0.0, |shot| shot.rough_chance(hand, radius))
        };
        rack.legal(left).balls().map(all).fold(0.0, f64::max)
    }

    /// The chance of `ball` from `place`, by geometry alone, 0 to 1.
    pub fn pot(&self, arena: &Arena, hand: &Hand, ball: BallId, place: DVec2) -> f64 {
        let shot = NextShot::of(arena, &self.balls, ball, None, place);
        shot.map_or(0.0, |shot| shot.rough_chance(hand, arena.card().ball.radius))
    }
}

/// The chance of `ball` among `balls` from a good leave.
fn way(arena: &Arena, hand: &Hand, places: &Grid, balls: &[PlacedBall], ball: BallId) -> f64 {
    let Some(at) = balls.iter().find(|other| other.id == ball).map(|ball| ball.position) else {
        return 0.0;
    };
    let radius = arena.card().ball.radius;
    let is_open = |pocket: &PocketId| {
        let mouth = arena.shape().pocket(*pocket).mouth_middle;
        let others = balls.iter().filter(|other| other.id != ball);
        others.map(|other| distance_from(at, mouth, other.position)).all(|gap| gap >= 2.0 * radius)
    };
    let pockets: Vec<PocketId> = PocketId::ALL.into_iter().filter(is_open).collect();
    if pockets.is_empty() {
        return 0.0;
    }
    let mut chances: Vec<f64> = (0..places.n_cells())
        .map(|cell| {
            let shots = pockets.iter().filter_map(|pocket| {
                NextShot::of(arena, balls, ball, Some(*pocket), places.place_of(cell))
            });
            shots.map(|shot| shot.rough_chance(hand, radius)).fold(0.0, f64::max)
        })
        .collect();
    sort_by_number(&mut chances, |chance| -chance);
    chances[(LEAVE * chances.len() as f64) as usize]
}
