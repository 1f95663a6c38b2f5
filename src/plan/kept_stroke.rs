//! What a guide keeps of a stroke: no more than valuing it takes, in few bytes.

use super::ladder::Entry;
use super::set::BallSet;
use super::strokes::{TIPS, Tip, speed_at};
use crate::physics::Stroke;
use crate::table::PocketId;
use glam::DVec2;

/// Tenths of a millimetre to a metre.
const TENTHS: f64 = 1e4;

/// Where a cue ball stops, in whole tenths of a millimetre.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Stop([u16; 2]);

impl Stop {
    /// It scratches, or does not stop.
    pub const NONE: Self = Self([u16::MAX; 2]);

    /// At `place`, m.
    pub fn at(place: DVec2) -> Self {
        let tenths = (place * TENTHS).round().clamp(DVec2::ZERO, DVec2::splat(65_534.0));
        Self([tenths.x as u16, tenths.y as u16])
    }

    /// The place, m; `None` where it scratches.
    pub fn place(self) -> Option<DVec2> {
        let [x, y] = self.0.map(f64::from);
        (self != Self::NONE).then(|| DVec2::new(x, y) / TENTHS)
    }

    fn bytes(self) -> [u8; 4] {
        let [[a, b], [c, d]] = self.0.map(u16::to_le_bytes);
        [a, b, c, d]
    }

    fn of_bytes([a, b, c, d]: [u8; 4]) -> Self {
        Self([u16::from_le_bytes([a, b]), u16::from_le_bytes([c, d])])
    }
}

/// What one of the hand's strokes came to that potted the ball.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Sample {
    /// Which of the strokes.
    pub number: u8,
    /// Where the cue ball stopped.
    pub stop: Stop,
    /// Balls that were in the way, if they are still there.
    pub blocked: BallSet,
    /// Balls into which the cue ball ran after the ball, if they are still there.
    pub bumped: BallSet,
    /// Rails met after the ball.
    pub rails: u8,
}

/// Some of the hand's strokes.
#[derive(Clone, Debug, PartialEq)]
pub struct Tried {
    /// How many there were.
    pub n: u32,
    /// Those that potted the ball and kept the cue ball on the table.
    pub made: Box<[Sample]>,
}

impl Tried {
    /// Appends it to `bytes`.
    pub fn write(&self, bytes: &mut Vec<u8>) {
        bytes.extend([self.n as u8, self.made.len() as u8]);
        for Sample { number, stop, blocked, bumped, rails } in &self.made {
            bytes.extend([*number, *rails]);
            bytes.extend(stop.bytes());
            bytes.extend(blocked.bits().to_le_bytes());
            bytes.extend(bumped.bits().to_le_bytes());
        }
    }

    /// Reads what [`write`](Self::write) has written, and gives the rest; `None` if there is
    /// no such.
    pub fn read(bytes: &[u8]) -> Option<(Self, &[u8])> {
        let ([n, n_made], mut rest) = bytes.split_first_chunk::<2>()?;
        let mut made = Vec::with_capacity(usize::from(*n_made));
        for _ in 0..*n_made {
            let (one, after) = rest.split_first_chunk::<SAMPLE_BYTES>()?;
            let [number, rails, a, b, c, d, e, f, g, h] = *one;
            let stop = Stop::of_bytes([a, b, c, d]);
            let (blocked, bumped) = (BallSet::of_bytes([e, f]), BallSet::of_bytes([g, h]));
            made.push(Sample { number, stop, blocked, bumped, rails });
            rest = after;
        }
        Some((Self { n: u32::from(*n), made: made.into() }, rest))
    }
}

/// A stroke of a library.
#[derive(Clone, Debug, PartialEq)]
pub struct Kept {
    /// Azimuth and elevation.
    aim: [f32; 2],
    /// The chance that the ball falls, 0 to 1.
    pub pot: f32,
    /// Where the cue ball stops when all goes as meant, and by a root of three standard
    /// deviations of the speed slower and faster.
    pub stops: [Stop; 3],
    /// Balls in the way, if they are still there.
    pub blocked: BallSet,
    /// Balls into which the cue ball runs after the ball, if they are still there.
    pub bumped: BallSet,
    /// Rails met after the ball.
    pub rails: u8,
    /// Where the ball is to fall.
    pub pocket: PocketId,
    /// Which tip and which speed, by their numbers.
    pub tip: u8,
    /// See `tip`.
    pub speed: u8,
    /// The hand's strokes, where they have been tried.
    pub tried: Option<Box<Tried>>,
}

/// What is foreseen counts as much as so many strokes that are tried (tuning choice).
const FORESEEN: f64 = 8.0;

/// Bytes of a sample.
const SAMPLE_BYTES: usize = 10;

/// Bytes of one stroke.
pub const BYTES: usize = 32;

/// Which of the strokes that were tried are looked at.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Seen {
    /// All.
    All,
    /// Every other one, from the first or from the second on.
    Half(u8),
}

impl Seen {
    fn sees(self, sample: &Sample) -> bool {
        match self {
            Self::All => true,
            Self::Half(first) => sample.number % 2 == first,
        }
    }
}

impl Kept {
    /// What is kept of `entry`.
    pub fn of(entry: &Entry) -> Self {
        let astray = |drift: Option<DVec2>| {
            drift.map_or(Stop::NONE, |drift| Stop::at(entry.stop + drift * 3.0_f64.sqrt()))
        };
        Self {
            aim: [entry.stroke.azimuth as f32, entry.stroke.elevation as f32],
            pot: entry.pot as f32,
            stops: [
                if entry.stays { Stop::at(entry.stop) } else { Stop::NONE },
                astray(entry.drift[0]),
                astray(entry.drift[1]),
            ],
            blocked: entry.blocked,
            bumped: entry.bumped,
            rails: entry.rails,
            pocket: entry.pocket,
            tip: entry.tip,
            speed: entry.speed,
            tried: None,
        }
    }

    /// The chance that the ball falls and all stays well: what is foreseen, corrected by what
    /// was tried, where that has more weight the more there is of it.
    pub fn chance(&self, seen: Seen) -> f64 {
        let foreseen = f64::from(self.pot);
        let Some(tried) = &self.tried else { return foreseen };
        let share = if seen == Seen::All { 1.0 } else { 0.5 };
        let made = self.made(seen).count() as f64;
        (made + share * FORESEEN * foreseen) / (share * (f64::from(tried.n) + FORESEEN))
    }

    /// Those that were tried and made.
    pub fn made(&self, seen: Seen) -> impl Iterator<Item = &Sample> {
        let made = self.tried.iter().flat_map(|tried| &tried.made);
        made.filter(move |sample| seen.sees(sample))
    }

    /// Its tip.
    pub fn tip(&self) -> Tip {
        TIPS[usize::from(self.tip) % TIPS.len()]
    }

    /// The stroke, of a guide with so many speeds.
    pub fn stroke(&self, n_speeds: u8) -> Stroke {
        let [azimuth, elevation] = self.aim.map(f64::from);
        let Tip { side, height } = self.tip();
        Stroke { azimuth, elevation, speed: speed_at(self.speed, n_speeds), side, height }
    }

    /// Appends the stroke, but for what was tried, to `bytes`, the least byte of a number first.
    pub fn write(&self, bytes: &mut Vec<u8>) {
        let [azimuth, elevation] = self.aim;
        for number in [azimuth, elevation, self.pot] {
            bytes.extend(number.to_le_bytes());
        }
        self.stops.iter().for_each(|stop| bytes.extend(stop.bytes()));
        bytes.extend(self.blocked.bits().to_le_bytes());
        bytes.extend(self.bumped.bits().to_le_bytes());
        bytes.extend([self.rails, self.pocket as u8, self.tip, self.speed]);
    }

    /// Reads what [`write`](Self::write) has written.
    pub fn read(bytes: &[u8; BYTES]) -> Self {
        let four = |k: usize| [0, 1, 2, 3].map(|byte| bytes[k + byte]);
        let number = |k: usize| f32::from_le_bytes(four(k));
        let set = |k: usize| BallSet::of_bytes([bytes[k], bytes[k + 1]]);
        Self {
            aim: [number(0), number(4)],
            pot: number(8),
            stops: [12, 16, 20].map(|k| Stop::of_bytes(four(k))),
            blocked: set(24),
            bumped: set(26),
            rails: bytes[28],
            pocket: PocketId::ALL[usize::from(bytes[29]) % PocketId::ALL.len()],
            tip: bytes[30],
            speed: bytes[31],
            tried: None,
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_stroke_comes_back_from_its_bytes() {
        let ball = |number| crate::ball::BallId::object(number).expect("a ball");
        let kept = Kept {
            aim: [1.25, 0.5],
            pot: 0.75,
            stops: [Stop::at(DVec2::new(1.234_56, 0.7)), Stop::NONE, Stop::at(DVec2::ZERO)],
            blocked: BallSet::NONE.with(ball(3)),
            bumped: BallSet::NONE.with(ball(15)),
            rails: 2,
            pocket: PocketId::ALL[4],
            tip: 7,
            speed: 9,
            tried: None,
        };
        let mut bytes = Vec::new();
        kept.write(&mut bytes);
        assert_eq!(Kept::read(bytes.as_chunks::<BYTES>().0.first().expect("whole")), kept);
        let place = kept.stops[0].place().expect("it stops");
        assert!((place - DVec2::new(1.234_6, 0.7)).length() < 1e-9, "to a tenth of a millimetre");
        assert_eq!(kept.stops[1].place(), None, "it scratches");

        let sample = |number, x: f64| {
            let (blocked, bumped) = (kept.blocked, kept.bumped);
            Sample { number, stop: Stop::at(DVec2::new(x, 1.0)), blocked, bumped, rails: 1 }
        };
        let tried = Tried { n: 4, made: [sample(0, 0.5), sample(1, 0.6), sample(3, 0.7)].into() };
        let mut bytes = Vec::new();
        tried.write(&mut bytes);
        assert_eq!(Tried::read(&bytes), Some((tried.clone(), &[][..])));
        let kept = Kept { tried: Some(Box::new(tried)), ..kept };
        let halves = [Seen::Half(0), Seen::Half(1)].map(|half| kept.chance(half));
        assert_eq!(
            halves,
            [4.0 / 6.0, 5.0 / 6.0],
            "each half by itself, and half of what is foreseen"
        );
        assert_eq!(kept.chance(Seen::All), 0.5 * (halves[0] + halves[1]), "and all of it");
    }
}
