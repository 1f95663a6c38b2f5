//! The directions in which the ball on, alone among the others, goes into a pocket.

use crate::ball::{BallId, BallMotion};
use crate::geometry::{heading, unit_from_angle};
use crate::physics::{Arena, BallEnd, Nothing, rolling_spin};
use crate::table::PocketId;
use glam::DVec2;

/// Beyond the pocket the ball on would run so far, m (tuning choice: soft, as a player
/// pots who wants nothing more).
const PAST: f64 = 1.0;

/// What the ball on has from the impact: its speed (m/s), and its spin, as shares of
/// natural roll, about the vertical and along its way.
pub type Given = [f64; 3];

/// A rolling cue ball gives the ball on about so much spin backward.
const BACKWARD: f64 = -0.08;

/// Steps at which the edges' answers are looked for: two shares of the standard speed,
/// then spins.
const SPEEDS: [f64; 2] = [0.85, 1.18];
const SIDES: [f64; 2] = [-0.12, 0.12];
const ROLLS: [f64; 2] = [BACKWARD - 0.07, BACKWARD + 0.07];

/// So many directions are tried before edges are closed in on.
const TRIED: usize = 60;

/// Halvings of an edge's bracket.
const HALVINGS: usize = 9;

/// One edge of a window: direction (rad, against the line to the middle of the mouth)
/// for what is usually given, and how it goes with each part of that.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Edge {
    pub at: f64,
    usual: Given,
    slopes: Given,
}

impl Edge {
    /// The direction for what is given.
    pub fn for_given(&self, given: Given) -> f64 {
        let parts = given.iter().zip(self.usual).zip(self.slopes);
        self.at + parts.map(|((given, usual), slope)| (given - usual) * slope).sum::<f64>()
    }
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
        let radius = arena.card().ball.radius;
        let mut falls = |turn: f64, [speed, side, roll]: Given| {
            let velocity = unit_from_angle(line + turn) * speed;
            let flat = rolling_spin(velocity, radius) * roll;
            still[place].1.velocity = velocity;
            still[place].1.spin = flat.extend(side * speed / radius);
            arena.run(&still, &mut Nothing)[place] == BallEnd::Pocketed(pocket)
        };
        let usual = [speed, 0.0, BACKWARD];
        let mut set = |given: Given| intervals(reach, |turn| falls(turn, given));
        let standard = set(usual);
        let mut all: Vec<[Edge; 2]> = standard
            .iter()
            .map(|window| window.map(|at| Edge { at, usual, slopes: [0.0; 3] }))
            .collect();
        let steps = [SPEEDS.map(|share| share * speed), SIDES, ROLLS];
        for (part, step) in steps.into_iter().enumerate().filter(|_| !standard.is_empty()) {
            let [one, two] = step.map(|value| {
                let mut given = usual;
                given[part] = value;
                set(given)
            });
            for (window, edges) in standard.iter().zip(&mut all) {
                if let Some((one, two)) = like(window, &one).zip(like(window, &two)) {
                    for side in 0..2 {
                        edges[side].slopes[part] = (two[side] - one[side]) / (step[1] - step[0]);
                    }
                }
            }
        }
        Self { line, speed, least: speed_for(arena, distance), all }
    }
}

/// That of `others` which has most in common with `window`, if any has anything.
fn like(window: &[f64; 2], others: &[[f64; 2]]) -> Option<[f64; 2]> {
    let common = |other: &[f64; 2]| window[1].min(other[1]) - window[0].max(other[0]);
    let best = others.iter().max_by(|a, b| common(a).total_cmp(&common(b)))?;
    (common(best) > 0.0).then_some(*best)
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
