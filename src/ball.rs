//! What a ball is, which ball it is, and how it moves at one moment.

use glam::{DVec2, DVec3};
use std::fmt;

/// Size and mass of every ball on the table (all are alike).
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct BallSpec {
    /// Radius, m.
    pub radius: f64,
    /// Mass, kg. Motion does not depend on it while all balls weigh the same.
    pub mass: f64,
}

/// Which ball: the cue ball or an object ball by its number.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct BallId(u8);

impl BallId {
    /// The cue ball.
    pub const CUE: Self = Self(0);
    /// The most balls that can be on a table: the cue ball and fifteen others.
    pub const MAX_BALLS: usize = 16;

    /// The object ball with this number, 1 to 15; `None` for any other.
    pub fn object(number: u8) -> Option<Self> {
        (1..=15).contains(&number).then_some(Self(number))
    }

    /// 0 for the cue ball, else the number on the ball.
    pub fn number(self) -> u8 {
        self.0
    }

    /// Whether this is the cue ball.
    pub fn is_cue(self) -> bool {
        self.0 == 0
    }
}

impl fmt::Display for BallId {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        if self.is_cue() { f.write_str("cue") } else { write!(f, "{}", self.0) }
    }
}

/// Position, velocity and spin of one ball at one moment.
#[derive(Clone, Copy, Debug, PartialEq, Default)]
pub struct BallMotion {
    /// Centre of the ball in the table frame, m.
    pub position: DVec2,
    /// Velocity of the centre, m/s.
    pub velocity: DVec2,
    /// Angular velocity, rad/s; z points up.
    pub spin: DVec3,
}

/// What the cloth does to a ball.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Phase {
    /// The lowest point slips over the cloth.
    Sliding,
    /// No slip: the ball rolls, and may spin about the vertical.
    Rolling,
    /// The centre rests, the ball spins about the vertical.
    Spinning,
    /// No motion at all.
    AtRest,
}
