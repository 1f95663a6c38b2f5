//! How a shot of the glossary is set up: by what it is to show.

use crate::ball::BallId;
use crate::geometry::unit_from_angle;
use crate::physics::{PlacedBall, Shot, Stroke, squirt_angle};
use crate::table::TableCard;
use crate::units::radians;
use glam::DVec2;

/// A shot, as it is set up.
#[derive(Clone, Copy, Debug)]
pub struct Scene {
    pub aim: Aim,
    /// m/s.
    pub speed: f64,
    /// The tip's offset to the right and upward, fractions of the radius.
    pub tip: (f64, f64),
    /// Elevation of the cue, degrees.
    pub raise: f64,
    /// Balls that lie around, m.
    pub around: &'static [(u8, f64, f64)],
}

/// Where the cue ball lies and where it goes.
#[derive(Clone, Copy, Debug)]
pub enum Aim {
    /// Toward nothing in particular: from here (m) in this direction (degrees).
    Free { from: (f64, f64), azimuth: f64 },
    /// To this ball, here (m), so that its line of centres has the heading `line`: cut by so
    /// many degrees, positive to the left, from so far away (m).
    Cut { ball: u8, at: (f64, f64), line: f64, cut: f64, away: f64 },
}

impl Scene {
    /// The same shot with another tip.
    pub const fn tip(self, right: f64, up: f64) -> Self {
        Self { tip: (right, up), ..self }
    }

    /// The same shot at another speed, m/s.
    pub const fn at(self, speed: f64) -> Self {
        Self { speed, ..self }
    }

    /// The same shot among these balls.
    pub const fn among(self, around: &'static [(u8, f64, f64)]) -> Self {
        Self { around, ..self }
    }

    /// The shot, the cue ball the first of its balls, then the one that it is to meet.
    pub fn shot(&self, card: &TableCard) -> Shot {
        let placed = |(number, x, y): (u8, f64, f64)| PlacedBall {
            id: BallId::object(number).unwrap_or(BallId::CUE),
            position: DVec2::new(x, y),
        };
        let (cue, azimuth, on) = match self.aim {
            Aim::Free { from: (x, y), azimuth } => (DVec2::new(x, y), radians(azimuth), None),
            Aim::Cut { ball, at: (x, y), line, cut, away } => {
                let ghost =
                    DVec2::new(x, y) - unit_from_angle(radians(line)) * (2.0 * card.ball.radius);
                let approach = radians(line - cut);
                let cue = ghost - unit_from_angle(approach) * away;
                // The cue points where the ball, squirted, comes to the ghost ball.
                let azimuth = approach - squirt_angle(self.tip.0, card.squirt_mass_ratio);
                (cue, azimuth, Some((ball, x, y)))
            }
        };
        let mut balls = vec![PlacedBall { id: BallId::CUE, position: cue }];
        balls.extend(on.into_iter().chain(self.around.iter().copied()).map(placed));
        let (side, height) = self.tip;
        let elevation = radians(self.raise);
        Shot {
            card: *card,
            balls,
            stroke: Stroke { azimuth, elevation, speed: self.speed, side, height },
        }
    }
}
