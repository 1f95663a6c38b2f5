//! The six levels of practice, and how strictly each of them is marked.

/// A level of difficulty.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Level {
    /// 1 to 6.
    pub number: u8,
    /// Its name on the screen.
    pub name: &'static str,
    /// Whom it suits, in a sentence.
    pub words: &'static str,
    /// What the tolerances of a mark are multiplied with; smaller is stricter.
    pub tolerance: f64,
}

/// All levels, easiest first.
///
/// The tolerances are a tuning choice: level 4 is the reference of
/// [`Tolerances`](super::grade::Tolerances), and every step asks for about four
/// fifths of the error of the step before.
pub const LEVELS: [Level; 6] = [
    Level {
        number: 1,
        name: "first",
        words: "The right idea earns most of the mark.",
        tolerance: 2.0,
    },
    Level { number: 2, name: "easy", words: "Roughly the right line and length.", tolerance: 1.6 },
    Level { number: 3, name: "steady", words: "Half a diamond still pays.", tolerance: 1.25 },
    Level { number: 4, name: "even", words: "What a good club player calls.", tolerance: 1.0 },
    Level { number: 5, name: "hard", words: "A ball's width at the rail matters.", tolerance: 0.8 },
    Level { number: 6, name: "exact", words: "Only a close call pays.", tolerance: 0.65 },
];

/// The number of the hardest level; the easiest is 1.
pub const HARDEST: u8 = LEVELS.len() as u8;

/// The level with this number; numbers below 1 or above the hardest give the nearest.
pub fn level(number: u8) -> &'static Level {
    &LEVELS[usize::from(number.clamp(1, HARDEST)) - 1]
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn levels_are_numbered_and_get_stricter() {
        for (k, step) in LEVELS.iter().enumerate() {
            assert_eq!(usize::from(step.number), k + 1, "{} is in its place", step.name);
        }
        for pair in LEVELS.windows(2) {
            assert!(pair[1].tolerance < pair[0].tolerance, "{} is stricter", pair[1].name);
        }
    }

    #[test]
    fn numbers_outside_give_the_nearest_level() {
        assert_eq!(level(0).number, 1, "below the first");
        assert_eq!(level(9).number, 6, "above the last");
        assert_eq!(level(3).name, "steady", "within");
    }
}
