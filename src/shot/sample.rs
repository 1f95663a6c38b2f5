//! Strokes of a hand, drawn by number and played, and how often they give what is asked.

use super::{Demand, Ending, Hand, Situation, Wobble};
use crate::physics::Stroke;
use std::ops::Range;

/// Half the width of a 95 % interval, in standard deviations of a normal value.
const SIGMAS_95: f64 = 1.959_963_984_540_054;

/// What comes of the strokes with the numbers `indices` in the series `seed` of `hand`,
/// which means to play `stroke`; its errors are wider by `awkwardness` (1 for a free cue
/// ball).
///
/// Another stroke, zone or hand meets the same errors under the same numbers, so that
/// comparisons are fair, and any share of the numbers can be played by itself.
pub fn played<'a>(
    situation: &'a Situation,
    stroke: &'a Stroke,
    hand: &'a Hand,
    awkwardness: f64,
    seed: u32,
    indices: Range<u32>,
) -> impl Iterator<Item = Ending> + 'a {
    indices.map(move |index| {
        situation.play(&hand.strike(stroke, &Wobble::drawn(seed, index), awkwardness))
    })
}

/// Of so many strokes, so many gave what is asked.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Default)]
pub struct Tally {
    /// All strokes.
    pub n_strokes: u32,
    /// The ball on was met first and fell where it should, scratch or not.
    pub n_fallen: u32,
    /// The same without a scratch.
    pub n_potted: u32,
    /// All that is asked was given.
    pub n_met: u32,
}

impl Tally {
    /// Counts `endings`.
    pub fn of(demand: &Demand, endings: impl Iterator<Item = Ending>) -> Self {
        let mut tally = Self::default();
        for ending in endings {
            tally.n_strokes += 1;
            tally.n_fallen += u32::from(demand.has_fallen(&ending));
            tally.n_potted += u32::from(demand.is_potted(&ending));
            tally.n_met += u32::from(demand.is_met(&ending));
        }
        tally
    }

    /// The chance that `n` of the strokes show.
    pub fn chance(&self, n: u32) -> Chance {
        Chance::of(n, self.n_strokes)
    }
}

/// A chance as a sample shows it.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Chance {
    /// The share that was found.
    pub share: f64,
    /// Low end of its 95 % interval.
    pub low: f64,
    /// High end of its 95 % interval.
    pub high: f64,
}

impl Chance {
    /// `n` of `of` came out well; nothing is known if `of` is 0.
    ///
    /// # Source
    /// Wilson 1927, J. Am. Stat. Assoc. 22, 209: the score interval.
    pub fn of(n: u32, of: u32) -> Self {
        if of == 0 {
            return Self { share: 0.0, low: 0.0, high: 1.0 };
        }
        let (n, of) = (f64::from(n), f64::from(of));
        let square = SIGMAS_95 * SIGMAS_95;
        let middle = (n + square / 2.0) / (of + square);
        let half = SIGMAS_95 * (n * (of - n) / of + square / 4.0).sqrt() / (of + square);
        Self { share: n / of, low: (middle - half).max(0.0), high: (middle + half).min(1.0) }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::shot::example::potted;
    use crate::shot::{SpeedError, Zone};
    use glam::DVec2;

    /// Source: Newcombe 1998, Statistics in Medicine 17, 857, table I, method 3 (score
    /// without continuity correction); values from memory.
    #[test]
    fn the_interval_is_the_published_one() {
        for (n, of, low, high) in [
            (81, 263, 0.2553, 0.3662),
            (15, 148, 0.0624, 0.1605),
            (0, 20, 0.0, 0.1611),
            (1, 29, 0.0061, 0.1718),
        ] {
            let chance = Chance::of(n, of);
            assert!((chance.low - low).abs() < 5e-5, "{n} of {of}: low {}", chance.low);
            assert!((chance.high - high).abs() < 5e-5, "{n} of {of}: high {}", chance.high);
        }
        assert_eq!(Chance::of(0, 0).high, 1.0, "nothing is known of no strokes");
        assert_eq!(Chance::of(9, 9).high, 1.0, "never more than all");
    }

    #[test]
    fn counts_add_up_over_any_split_and_narrow_in_order() {
        let (situation, stroke) = potted(1.5, 0.2);
        let on = situation.on();
        let stop = situation.play(&stroke).stop;
        let zone = Some(Zone { centre: stop, half: DVec2::splat(0.05), turn: 0.0 });
        let demand = Demand { zone, ..Demand::to_pot(on) };
        let hand =
            Hand { azimuth: 0.003, elevation: 0.0, speed: SpeedError::Relative(0.05), tip: 0.02 };
        let count = |indices: Range<u32>| {
            Tally::of(&demand, played(&situation, &stroke, &hand, 1.0, 5, indices))
        };
        let (all, first, second) = (count(0..300), count(0..100), count(100..300));
        assert_eq!(all.n_met, first.n_met + second.n_met, "the numbers tell the strokes");
        assert_eq!(all.n_potted, first.n_potted + second.n_potted, "whoever plays them");
        let Tally { n_strokes, n_fallen, n_potted, n_met } = all;
        assert!(0 < n_met && n_met < n_potted, "the zone is small: {all:?}");
        assert!(n_potted <= n_fallen && n_fallen < n_strokes, "the hand is loose: {all:?}");
    }
}
