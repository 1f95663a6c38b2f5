//! The outcome as plain numbers, for callers that want nothing else.

use super::outcome::finite;
use crate::physics::{BallEnd, Event, EventKind, Outcome, PlacedBall};
use crate::table::{PocketId, Rail, Surface};

/// Version of the packed layout.
pub const PACKED_VERSION: f64 = 1.0;

/// Numbers in the header.
pub const HEADER: usize = 5;
/// Numbers for each ball.
pub const PER_BALL: usize = 7;
/// Numbers for each event.
pub const PER_EVENT: usize = 6;
/// Numbers for each sample.
pub const PER_SAMPLE: usize = 3;

/// Packs what came of a shot with these `balls`.
///
/// Header: packed version (1), duration (s), number of balls, of events, of
/// samples. Then for each ball, in the shot's order: ball, state (0 rest,
/// 1 pocketed, 2 moving), x, y (m; of a pocketed ball where it fell), pocket
/// or -1, its first sample, its number of samples. Then for each event: t (s),
/// kind (0 strike, 1 contact, 2 cushion, 3 roll, 4 stop, 5 pocketed), ball,
/// with, x, y. Then the samples: t, x, y.
///
/// A ball is its number, the cue ball 0. `with` of a contact is a ball; else a
/// surface: rails 0 head, 1 foot, 2 right, 3 left, and 4 plus a pocket; -1 where
/// there is none. Pockets: 0 head-right, 1 head-left, 2 foot-right, 3 foot-left,
/// 4 side-right, 5 side-left. So ball k starts at 5 + 7 k, event k at
/// 5 + 7 n_balls + 6 k, and sample k at 5 + 7 n_balls + 6 n_events + 3 k.
pub fn pack(balls: &[PlacedBall], outcome: &Outcome) -> Vec<f64> {
    debug_assert_eq!(balls.len(), outcome.ends.len(), "every ball has an end");
    debug_assert_eq!(balls.len(), outcome.paths.len(), "every ball has a path");
    let n_samples: usize = outcome.paths.iter().map(Vec::len).sum();
    let mut packed = Vec::with_capacity(
        HEADER + PER_BALL * balls.len() + PER_EVENT * outcome.events.len() + PER_SAMPLE * n_samples,
    );
    let counts = [balls.len(), outcome.events.len(), n_samples].map(|n| n as f64);
    packed.extend([PACKED_VERSION, finite(outcome.duration), counts[0], counts[1], counts[2]]);

    let mut first = 0;
    for ((ball, end), path) in balls.iter().zip(&outcome.ends).zip(&outcome.paths) {
        let last = path.last().map_or(ball.position, |sample| sample.position);
        let (state, at, pocket) = match *end {
            BallEnd::Rest(at) => (0.0, at, -1.0),
            BallEnd::Pocketed(pocket) => (1.0, last, pocket_number(pocket)),
            BallEnd::Moving(at) => (2.0, at, -1.0),
        };
        packed.extend([f64::from(ball.id.number()), state, finite(at.x), finite(at.y), pocket]);
        packed.extend([first as f64, path.len() as f64]);
        first += path.len();
    }
    for event in &outcome.events {
        packed.extend(pack_event(event));
    }
    for sample in outcome.paths.iter().flatten() {
        packed.extend([sample.time, sample.position.x, sample.position.y].map(finite));
    }
    packed
}

fn pack_event(event: &Event) -> [f64; PER_EVENT] {
    let (kind, with) = match event.kind {
        EventKind::Strike => (0.0, -1.0),
        EventKind::Contact(other) => (1.0, f64::from(other.number())),
        EventKind::Cushion(Surface::Rail(rail)) => (2.0, rail_number(rail)),
        EventKind::Cushion(Surface::Pocket(pocket)) => (2.0, 4.0 + pocket_number(pocket)),
        EventKind::Roll => (3.0, -1.0),
        EventKind::Stop => (4.0, -1.0),
        EventKind::Pocketed(pocket) => (5.0, 4.0 + pocket_number(pocket)),
    };
    let [t, x, y] = [event.time, event.position.x, event.position.y].map(finite);
    [t, kind, f64::from(event.ball.number()), with, x, y]
}

fn rail_number(rail: Rail) -> f64 {
    match rail {
        Rail::Head => 0.0,
        Rail::Foot => 1.0,
        Rail::Right => 2.0,
        Rail::Left => 3.0,
    }
}

/// The number of a pocket.
pub(super) fn pocket_number(pocket: PocketId) -> f64 {
    match pocket {
        PocketId::HeadRight => 0.0,
        PocketId::HeadLeft => 1.0,
        PocketId::FootRight => 2.0,
        PocketId::FootLeft => 3.0,
        PocketId::SideRight => 4.0,
        PocketId::SideLeft => 5.0,
    }
}
