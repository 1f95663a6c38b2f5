//! Whole shots for the checks: a table without pockets, a ball in any state, and
//! what became of it.

use super::{GRAVITY, RADIUS};
use glam::DVec2;
use leaveline::physics::{Arena, BallEnd, Course, Event, EventKind, Listen};
use leaveline::table::{PocketSpec, Rail, Surface, TableCard, TableSize};
use leaveline::{BallId, BallMotion};

/// The nine-foot table of the derived rows: their gravity, and a cushion of the
/// given restitution and friction.
pub fn derived_card(restitution: f64, friction: f64) -> TableCard {
    let mut card = TableCard::of_size(TableSize::NineFoot);
    card.cloth.gravity = GRAVITY;
    card.cushion.restitution = restitution;
    card.cushion.friction = friction;
    card
}

/// The same table with pockets too small for a ball: a carom table.
pub fn without_pockets(mut card: TableCard) -> TableCard {
    let shut = |cut_angle: f64| PocketSpec {
        mouth: 2e-9,
        cut_angle,
        shelf: 0.0,
        facing: 1e-9,
        hole_radius: 1e-9,
    };
    card.corner_pocket = shut(card.corner_pocket.cut_angle);
    card.side_pocket = shut(card.side_pocket.cut_angle);
    card.check().expect("a legal card");
    card
}

/// A ball's course from one moment to another.
#[derive(Clone, Copy)]
pub struct Leg {
    pub place: usize,
    pub course: Course,
    pub since: f64,
    pub until: f64,
}

/// All that happened in a shot.
#[derive(Default)]
pub struct Track {
    pub events: Vec<Event>,
    pub legs: Vec<Leg>,
    pub ends: Vec<BallEnd>,
}

impl Listen for Track {
    fn event(&mut self, event: Event) {
        self.events.push(event);
    }

    fn leg(&mut self, place: usize, course: &Course, since: f64, until: f64) {
        self.legs.push(Leg { place, course: *course, since, until });
    }
}

impl Track {
    /// Plays `balls` (the first is the cue ball) on the table.
    pub fn of(card: &TableCard, balls: &[BallMotion]) -> Self {
        let named: Vec<(BallId, BallMotion)> = balls
            .iter()
            .zip(0..)
            .map(|(ball, k)| (BallId::object(k).unwrap_or(BallId::CUE), *ball))
            .collect();
        let mut track = Self::default();
        track.ends = Arena::new(card).run(&named, &mut track).to_vec();
        track
    }

    /// Rails that the cue ball touched, with its place.
    pub fn rails(&self) -> Vec<(Rail, DVec2)> {
        self.events
            .iter()
            .filter(|event| event.ball.is_cue())
            .filter_map(|event| match event.kind {
                EventKind::Cushion(Surface::Rail(rail)) => Some((rail, event.position)),
                _ => None,
            })
            .collect()
    }
}

/// A ball at `position` that moves with `velocity`; spin as shares of natural roll.
pub fn ball(position: DVec2, velocity: DVec2, roll: f64, side: f64) -> BallMotion {
    BallMotion { position, ..super::moving(velocity, roll, side, RADIUS) }
}
