//! What a guide keeps of a stroke: no more than valuing it takes, in few bytes.

use super::library::Entry;
use super::set::BallSet;
use crate::physics::Stroke;
use crate::table::PocketId;
use glam::{DVec2, Vec2};

/// What one of the hand's strokes came to that potted the ball.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Sample {
    /// Where the cue ball stopped, m.
    pub stop: Vec2,
    /// Balls that were in the way of either ball, if they are still there.
    pub blocked: BallSet,
    /// Rails met after the ball.
    pub rails: u8,
}

/// Some of the hand's strokes.
#[derive(Clone, Debug, PartialEq)]
pub struct Tried {
    /// How many there were.
    pub n: u32,
    /// Those that potted the ball and kept the cue ball on the table.
    pub made: Vec<Sample>,
}

impl Tried {
    /// Appends it to `bytes`.
    pub fn write(&self, bytes: &mut Vec<u8>) {
        bytes.extend([self.n as u8, self.made.len() as u8]);
        for Sample { stop, blocked, rails } in &self.made {
            bytes.extend(stop.x.to_le_bytes());
            bytes.extend(stop.y.to_le_bytes());
            bytes.extend(blocked.bits().to_le_bytes());
            bytes.push(*rails);
        }
    }

    /// Reads what [`write`](Self::write) has written, and gives the rest; `None` if there is
    /// no such.
    pub fn read(bytes: &[u8]) -> Option<(Self, &[u8])> {
        let ([n, n_made], mut rest) = bytes.split_first_chunk::<2>()?;
        let mut made = Vec::with_capacity(usize::from(*n_made));
        for _ in 0..*n_made {
            let (one, after) = rest.split_first_chunk::<SAMPLE_BYTES>()?;
            let [a, b, c, d, e, f, g, h, low, high, rails] = *one;
            let stop =
                Vec2::new(f32::from_le_bytes([a, b, c, d]), f32::from_le_bytes([e, f, g, h]));
            let blocked = BallSet::of_bits(u16::from_le_bytes([low, high]));
            made.push(Sample { stop, blocked, rails });
            rest = after;
        }
        Some((Self { n: u32::from(*n), made }, rest))
    }
}

/// A stroke of a library. Places are good to some tenths of a micrometre.
#[derive(Clone, Debug, PartialEq)]
pub struct Kept {
    /// The stroke: azimuth, elevation, speed, side and height.
    stroke: [f32; 5],
    /// Where the ball is to fall.
    pub pocket: PocketId,
    /// The chance that the ball falls, 0 to 1.
    pub pot: f32,
    /// Where the cue ball stops when all goes as meant, and by a root of three standard
    /// deviations of the speed slower and faster, m; not a number where it scratches.
    pub stops: [Vec2; 3],
    /// Balls in the way of either ball, if they are still there.
    pub blocked: BallSet,
    /// Rails met after the ball.
    pub rails: u8,
    /// The hand's strokes, where they have been tried.
    pub tried: Option<Tried>,
}

/// What is foreseen counts as much as so many strokes that are tried (tuning choice).
const FORESEEN: f64 = 8.0;

/// Bytes of a sample.
const SAMPLE_BYTES: usize = 11;

/// Bytes of one stroke.
pub const BYTES: usize = 4 * NUMBERS + 2 + 1 + 1;
const NUMBERS: usize = 12;

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
            stroke: [
                entry.stroke.azimuth as f32,
                entry.stroke.elevation as f32,
                entry.stroke.speed as f32,
                entry.stroke.side as f32,
                entry.stroke.height as f32,
            ],
            pocket: entry.pocket,
            tried: None,
        }
    }

    /// The chance that the ball falls and all stays well: what is foreseen, corrected by what
    /// was tried, where that has more weight the more there is of it.
    pub fn chance(&self) -> f64 {
        let foreseen = f64::from(self.pot);
        match &self.tried {
            Some(Tried { n, made }) => {
                (made.len() as f64 + FORESEEN * foreseen) / (f64::from(*n) + FORESEEN)
            }
            None => foreseen,
        }
    }

    /// The stroke.
    pub fn stroke(&self) -> Stroke {
        let [azimuth, elevation, speed, side, height] = self.stroke.map(f64::from);
        Stroke { azimuth, elevation, speed, side, height }
    }

    /// Appends the stroke, but for what was tried, to `bytes`, the least byte of a number first.
    pub fn write(&self, bytes: &mut Vec<u8>) {
        let stops = self.stops.iter().flat_map(|stop| [stop.x, stop.y]);
        let numbers = std::iter::once(self.pot).chain(stops).chain(self.stroke);
        for number in numbers {
            bytes.extend(number.to_le_bytes());
        }
        bytes.extend(self.blocked.bits().to_le_bytes());
        bytes.extend([self.rails, self.pocket as u8]);
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
            stroke: [7, 8, 9, 10, 11].map(number),
            blocked: BallSet::of_bits(u16::from_le_bytes([bytes[48], bytes[49]])),
            rails: bytes[50],
            pocket: PocketId::ALL[usize::from(bytes[51]) % PocketId::ALL.len()],
            tried: None,
        }
    }
}
