//! How exactly a player strokes: a model of execution error.

use crate::normal::quantile;
use crate::physics::{FASTEST_STROKE, MISCUE_LIMIT, Stroke};
use rand_chacha::ChaCha8Rng;
use rand_chacha::rand_core::{Rng, SeedableRng};

/// Slowest stroke that an error can make of another, m/s (tuning choice: no stroke
/// stands still).
const SLOWEST_STROKE: f64 = 0.01;

/// Steepest cue that an error can make, rad (what strokes may have, less a rounding).
const STEEPEST: f64 = 84.9 * std::f64::consts::PI / 180.0;

/// Standard deviation of the speed.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum SpeedError {
    /// As a fraction of the speed.
    Relative(f64),
    /// In m/s.
    Absolute(f64),
}

/// Standard deviations of independent normal errors.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Hand {
    /// Of the direction, rad.
    pub azimuth: f64,
    /// Of the elevation, rad.
    pub elevation: f64,
    /// Of the speed.
    pub speed: SpeedError,
    /// Of the tip's offset, sideways and in height alike, as a fraction of the radius.
    pub tip: f64,
}

/// The errors of one stroke, in standard deviations.
#[derive(Clone, Copy, Debug, PartialEq, Default)]
pub struct Wobble {
    /// Of the direction.
    pub azimuth: f64,
    /// Of the elevation.
    pub elevation: f64,
    /// Of the speed.
    pub speed: f64,
    /// Of the tip's sideways offset.
    pub side: f64,
    /// Of the tip's height.
    pub height: f64,
}

/// Words of random numbers kept for one wobble: a block of the generator.
const WORDS: u128 = 16;

impl Wobble {
    /// The errors with number `index` of the series `seed`: the same on every engine,
    /// in whatever order they are drawn, by however many workers.
    ///
    /// # Source
    /// ChaCha with 8 rounds (Bernstein 2008), a generator that counts; normal values
    /// by [`quantile`].
    pub fn drawn(seed: u32, index: u32) -> Self {
        let mut rng = ChaCha8Rng::seed_from_u64(u64::from(seed));
        rng.set_word_pos(u128::from(index) * WORDS);
        // Half a step away from 0 and 1, whose quantiles are infinite.
        let mut next = || quantile(((rng.next_u64() >> 11) as f64 + 0.5) / (1_u64 << 53) as f64);
        Self { azimuth: next(), elevation: next(), speed: next(), side: next(), height: next() }
    }
}

impl Hand {
    /// What becomes of the stroke `aimed` with the errors `wobble`, all wider by the
    /// factor `awkwardness` (1 for a free cue ball).
    ///
    /// The stroke can be played if `aimed` can: the cue is not lowered into the bed, and
    /// a tip that would miscue meets the ball at the miscue limit, for the model has no
    /// miscues.
    pub fn strike(&self, aimed: &Stroke, wobble: &Wobble, awkwardness: f64) -> Stroke {
        let speed_error = match self.speed {
            SpeedError::Relative(share) => share * aimed.speed,
            SpeedError::Absolute(speed) => speed,
        };
        let mut stroke = Stroke {
            azimuth: aimed.azimuth + awkwardness * self.azimuth * wobble.azimuth,
            elevation: (aimed.elevation + awkwardness * self.elevation * wobble.elevation)
                .clamp(0.0, STEEPEST.max(aimed.elevation)),
            speed: (aimed.speed + awkwardness * speed_error * wobble.speed)
                .clamp(SLOWEST_STROKE.min(aimed.speed), FASTEST_STROKE),
            side: aimed.side + awkwardness * self.tip * wobble.side,
            height: aimed.height + awkwardness * self.tip * wobble.height,
        };
        let offset = (stroke.side * stroke.side + stroke.height * stroke.height).sqrt();
        if offset > MISCUE_LIMIT {
            stroke.side *= MISCUE_LIMIT / offset;
            stroke.height *= MISCUE_LIMIT / offset;
        }
        stroke
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn errors_are_drawn_by_index_and_are_standard_normal() {
        let all: Vec<Wobble> = (0..4000).map(|index| Wobble::drawn(7, index)).collect();
        assert_eq!(all[1234], Wobble::drawn(7, 1234), "whatever came before");
        assert_ne!(all[0], Wobble::drawn(8, 0), "another series");
        for (name, of) in [
            ("azimuth", (|w| w.azimuth) as fn(&Wobble) -> f64),
            ("elevation", |w| w.elevation),
            ("speed", |w| w.speed),
            ("side", |w| w.side),
            ("height", |w| w.height),
        ] {
            let n = all.len() as f64;
            let mean = all.iter().map(of).sum::<f64>() / n;
            let square = all.iter().map(|w| of(w) * of(w)).sum::<f64>() / n;
            // Four standard errors.
            assert!(mean.abs() < 4.0 / n.sqrt(), "mean of {name}: {mean}");
            assert!((square - 1.0).abs() < 4.0 * (2.0 / n).sqrt(), "variance of {name}: {square}");
        }
    }

    #[test]
    fn every_struck_stroke_can_be_played() {
        let hand =
            Hand { azimuth: 0.1, elevation: 0.5, speed: SpeedError::Absolute(2.0), tip: 0.3 };
        let aimed = Stroke { azimuth: 1.0, elevation: 0.0, speed: 0.5, side: 0.3, height: -0.4 };
        for index in 0..2000 {
            let stroke = hand.strike(&aimed, &Wobble::drawn(3, index), 3.0);
            assert_eq!(stroke.check(), Ok(()), "stroke {index}: {stroke:?}");
        }
    }
}
