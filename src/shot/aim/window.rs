//! The directions around an aim that pot as well.

use super::fate::{Route, Task};
use crate::physics::Stroke;

/// Edges of a window are found to this, rad.
const EDGE: f64 = 5e-7;

/// Steps in which an edge is sought, as a share of half the expected width (tuning
/// choice: a direction that rattles out is passed over if the hole is narrower).
const STRIDE: f64 = 0.5;

/// No window is followed farther to one side than this, rad (tuning choice: a cue ball
/// that touches its object ball takes any direction).
const WIDEST: f64 = 0.5;

/// Directions of the cue that pot a ball, relative to an aim, rad: `low` to the right
/// of it, at most 0, and `high` to the left.
///
/// It is the connected interval around the aim, sought in steps of a quarter of what
/// the jaws leave open; holes narrower than that, of balls that rattle and stay out,
/// may be in it, and other directions may pot beyond it. Each edge is a change from
/// potted to not potted within 1e-6 rad.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Window {
    /// Farthest to the right, rad, not positive.
    pub low: f64,
    /// Farthest to the left, rad, not negative.
    pub high: f64,
}

impl Window {
    /// Its width, rad.
    pub fn width(&self) -> f64 {
        self.high - self.low
    }

    /// The direction in its middle, relative to the aim, rad.
    pub fn middle(&self) -> f64 {
        0.5 * (self.low + self.high)
    }

    /// The window around a stroke that pots; `half` is half the width expected, rad.
    pub(super) fn around(task: &Task, stroke: &Stroke, route: Route, half: f64) -> Self {
        let edge = |side: f64| {
            let pots = |turn: f64| task.pots(stroke, stroke.azimuth + side * turn, route);
            let mut step = STRIDE * half;
            let mut inside = 0.0;
            let mut outside = step;
            while outside < WIDEST && pots(outside) {
                (inside, outside) = (outside, outside + step);
                // Far wider than expected: a ball in the jaws, or next to the cue ball.
                if outside > 4.0 * half {
                    step *= 1.5;
                }
            }
            while outside - inside > EDGE {
                let middle = 0.5 * (inside + outside);
                if pots(middle) { inside = middle } else { outside = middle }
            }
            inside
        };
        Self { low: -edge(-1.0), high: edge(1.0) }
    }

    /// Seen from the direction `turn` (rad from the old aim).
    pub(super) fn seen_from(&self, turn: f64) -> Self {
        Self { low: self.low - turn, high: self.high - turn }
    }
}
