//! The directions in which the ball on, alone among the others, goes into a pocket.

use crate::ball::{BallId, BallMotion};
use crate::geometry::{heading, unit_from_angle};
use crate::physics::{Arena, BallEnd, Nothing};
use crate::table::PocketId;
use glam::DVec2;

/// Beyond the pocket the ball on would run so far, m (tuning choice: soft, as a player
/// pots who wants nothing more).
const PAST: f64 = 1.0;

/// Speeds at which windows are looked for, as shares of the standard one.
const SPEEDS: [f64; 3] = [1.0, 0.8, 1.25];

/// So many directions are tried before edges are closed in on.
const TRIED: usize = 40;

/// Halvings of an edge's bracket.
const HALVINGS: usize = 9;

/// One edge of a window: direction (rad, against the line to the middle of the mouth)
/// at the standard speed, and how it goes with the speed, rad for each m/s.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Edge {
    pub at: f64,
    pub slope: f64,
}

/// The windows of one pocket.
#[derive(Clone, Debug, PartialEq)]
pub struct Windows {
    /// Direction from the ball on to the middle of the mouth, rad.
    pub line: f64,
    /// Speed that carries the ball on a metre past the pocket, m/s.
    pub speed: f64,
    /// Speed at which it just arrives, m/s.
    pub least: f64,
    /// Right and left edge of each window, from right to left.
    pub all: Vec<[Edge; 2]>,
}

impl Windows {
    /// The windows of `pocket` for the ball at `place` of `balls`, which holds no cue ball.
    pub fn find(arena: &Arena, balls: &[(BallId, DVec2)], place: usize, pocket: PocketId) -> Self {
        let mouth = arena.shape().pocket(pocket).mouth_middle;
        let way = mouth - balls[place].1;
        let distance = way.length();
        let speed = speed_for(arena, distance + PAST);
        let reach = (2.0 * arena.shape().pocket(pocket).mouth / distance.max(1e-9)).min(1.2);
        let line = heading(way);
        let mut still: Vec<(BallId, BallMotion)> = balls
            .iter()
            .map(|&(id, position)| (id, BallMotion { position, ..BallMotion::default() }))
            .collect();
        let mut falls = |turn: f64, speed: f64| {
            still[place].1.velocity = unit_from_angle(line + turn) * speed;
            arena.run(&still, &mut Nothing)[place] == BallEnd::Pocketed(pocket)
        };
        let [standard, slow, fast] =
            SPEEDS.map(|share| intervals(reach, |turn| falls(turn, share * speed)));
        let slopes = slow.len() == standard.len() && fast.len() == standard.len();
        let edge = |k: usize, side: usize| Edge {
            at: standard[k][side],
            slope: if slopes {
                (fast[k][side] - slow[k][side]) / ((SPEEDS[2] - SPEEDS[1]) * speed)
            } else {
                0.0
            },
        };
        let all = (0..standard.len()).map(|k| [edge(k, 0), edge(k, 1)]).collect();
        Self { line, speed, least: speed_for(arena, distance), all }
    }
}

/// The intervals of turns within `reach` to either side at which `falls`.
fn intervals(reach: f64, mut falls: impl FnMut(f64) -> bool) -> Vec<[f64; 2]> {
    let turn = |k: usize| reach * (2.0 * k as f64 / TRIED as f64 - 1.0);
    let mut found: Vec<[f64; 2]> = Vec::new();
    let mut before = false;
    for k in 0..=TRIED {
        let now = falls(turn(k));
        if now != before && k > 0 {
            let (mut low, mut high) = (turn(k - 1), turn(k));
            for _ in 0..HALVINGS {
                let middle = 0.5 * (low + high);
                if falls(middle) == before { low = middle } else { high = middle }
            }
            let edge = 0.5 * (low + high);
            match found.last_mut() {
                Some(last) if !now => last[1] = edge,
                _ => found.push([edge, reach]),
            }
        } else if now && k == 0 {
            found.push([-reach, reach]);
        }
        before = now;
    }
    found
}

/// The speed (m/s) at which a ball that starts without spin runs so far, m.
fn speed_for(arena: &Arena, distance: f64) -> f64 {
    let cloth = &arena.card().cloth;
    let slide = 12.0 / (49.0 * cloth.sliding_friction * cloth.gravity);
    let roll = 25.0 / (98.0 * cloth.rolling_friction * cloth.gravity);
    (distance / (slide + roll)).sqrt()
}
