//! What a guide keeps of a stroke: no more than valuing it takes, in few bytes.

use super::library::Entry;
use super::set::BallSet;
use glam::{DVec2, Vec2};

/// A stroke of a library. Places are good to some tenths of a micrometre.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Kept {
    /// The chance that the ball falls, 0 to 1.
    pub pot: f32,
    /// Where the cue ball stops when all goes as meant, and by a root of three standard
    /// deviations of the speed slower and faster, m; not a number where it scratches.
    pub stops: [Vec2; 3],
    /// Balls in the way of either ball, if they are still there.
    pub blocked: BallSet,
    /// Rails met after the ball.
    pub rails: u8,
}

/// Bytes of one stroke.
pub const BYTES: usize = 4 * 7 + 2 + 1;

impl Kept {
    /// What is kept of `entry`.
    pub fn of(entry: &Entry) -> Self {
        let gone = Vec2::NAN;
        let stop = |stop: DVec2| stop.as_vec2();
        let astray = |drift: Option<DVec2>| {
            drift.map_or(gone, |drift| stop(entry.stop + drift * 3.0_f64.sqrt()))
        };
        Self {
            pot: entry.pot as f32,
            stops: [
                if entry.stays { stop(entry.stop) } else { gone },
                astray(entry.drift[0]),
                astray(entry.drift[1]),
            ],
            blocked: entry.blocked,
            rails: entry.rails,
        }
    }

    /// Appends the stroke to `bytes`, the least byte of a number first.
    pub fn write(&self, bytes: &mut Vec<u8>) {
        let numbers = std::iter::once(self.pot).chain(self.stops.iter().flat_map(|s| [s.x, s.y]));
        for number in numbers {
            bytes.extend(number.to_le_bytes());
        }
        bytes.extend(self.blocked.bits().to_le_bytes());
        bytes.push(self.rails);
    }

    /// Reads what [`write`](Self::write) has written.
    pub fn read(bytes: &[u8; BYTES]) -> Self {
        let number = |k: usize| {
            let at = |byte: usize| bytes[4 * k + byte];
            f32::from_le_bytes([at(0), at(1), at(2), at(3)])
        };
        let stop = |k: usize| Vec2::new(number(k), number(k + 1));
        Self {
            pot: number(0),
            stops: [stop(1), stop(3), stop(5)],
            blocked: BallSet::of_bits(u16::from_le_bytes([bytes[28], bytes[29]])),
            rails: bytes[30],
        }
    }
}
