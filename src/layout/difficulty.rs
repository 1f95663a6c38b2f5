//! How hard a path is to read, computed from the path itself.

use crate::geometry::angle_between;
use crate::physics::Shot;
use crate::practice::CuePath;

/// What makes a path hard to read.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Features {
    /// Cushions the cue ball touches after the object ball.
    pub cushions: u32,
    /// Turn from leaving the object ball until sliding ends, rad, at least 0.
    pub bend: f64,
    /// Tip offset to the side, as a fraction of the radius, at least 0.
    pub side: f64,
    /// Length of the path after the object ball, in table lengths.
    pub lengths: f64,
}

/// Where one level ends and the next begins, on the scale of
/// [`Features::difficulty`] (tuning choice, set by looking at what each level deals;
/// the spread is printed by `cargo test deals -- --nocapture`).
const BOUNDS: [f64; 5] = [0.7, 1.2, 1.8, 2.5, 3.1];

impl Features {
    /// The features of `path`, which came of `shot`.
    pub fn of(shot: &Shot, path: &CuePath) -> Self {
        Self {
            cushions: path.touches.len() as u32,
            bend: bend_of(path),
            side: shot.stroke.side.abs(),
            lengths: path.length() / shot.card.travel_length(),
        }
    }

    /// One number for how hard the path is to read (tuning choice): a cushion
    /// counts 1/2 and another 1/4 for each tip (a quarter radius) of side that acts
    /// on it; a bend of 40 degrees counts 1, up to 60 degrees: a ball that comes
    /// straight back is no harder; a table length counts 1/3.
    pub fn difficulty(&self) -> f64 {
        let cushions = f64::from(self.cushions);
        let tips = 4.0 * self.side;
        cushions * (0.5 + 0.25 * tips)
            + crate::units::degrees(self.bend).min(60.0) / 40.0
            + self.lengths / 3.0
    }
}

/// The level, 1 to 6, to which a difficulty belongs.
pub fn level_of(difficulty: f64) -> u8 {
    1 + BOUNDS.iter().filter(|bound| difficulty >= **bound).count() as u8
}

/// Turn between leaving the object ball and the end of sliding, or the first cushion
/// if that comes before, rad.
fn bend_of(path: &CuePath) -> f64 {
    let mut directions =
        path.path.windows(2).map(|pair| (pair[0].time, pair[1].position - pair[0].position));
    let Some((_, first)) = directions.next() else { return 0.0 };
    // A path that rolls is straight: the last direction is that of the roll.
    let until = path.touches.first().map_or(f64::INFINITY, |touch| touch.time);
    let last = directions.take_while(|(time, _)| *time < until).last();
    last.map_or(0.0, |(_, last)| angle_between(first, last).abs())
}

/// The difficulty that no path of this level reaches.
pub(super) fn ceiling(level: u8) -> f64 {
    BOUNDS.get(usize::from(level.saturating_sub(1))).copied().unwrap_or(f64::INFINITY)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn more_of_anything_is_harder() {
        let plain = Features { cushions: 1, bend: 0.2, side: 0.25, lengths: 1.0 };
        for harder in [
            Features { cushions: 2, ..plain },
            Features { bend: 0.4, ..plain },
            Features { side: 0.5, ..plain },
            Features { lengths: 2.0, ..plain },
        ] {
            assert!(harder.difficulty() > plain.difficulty(), "{harder:?}");
        }
    }

    #[test]
    fn levels_run_from_one_to_six() {
        assert_eq!((level_of(0.0), level_of(100.0)), (1, 6), "both ends");
    }

    #[test]
    fn a_level_ends_below_its_ceiling() {
        for level in 1..=5 {
            let end = ceiling(level);
            assert_eq!(level_of(end), level + 1, "the next begins there");
            assert_eq!(level_of(end.next_down()), level, "just below");
        }
        assert_eq!(ceiling(6), f64::INFINITY, "the hardest has no end");
    }
}
