//! Sets: items that belong together, in an order, and what counts as passed.

mod meant;

pub use meant::{Meant, meant};

use super::item::AnyItem;
use crate::physics::Stroke;

/// An item of a set.
#[derive(Clone, Debug, PartialEq)]
pub struct Entry {
    /// Its name; empty if what it asks says enough.
    pub title: String,
    /// What a coach says of it: not seen before it is asked for.
    pub note: String,
    /// The item.
    pub item: AnyItem,
    /// How it is meant to be played, where the item does not give the stroke.
    pub stroke: Option<Stroke>,
}

/// What counts as passed.
///
/// An item is passed with a mark of at least `mark`, as it is shown in whole numbers; a
/// cleared run has the mark 100 and any other 0. The set is passed with `need` items passed,
/// or with all of them if it has fewer.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Pass {
    /// The least mark, 1 to 100.
    pub mark: u8,
    /// Items that must be passed, at least 1.
    pub need: u8,
}

impl Pass {
    /// What a new set asks for: seven of ten, each half right (tuning choice).
    pub const FIRST: Self = Self { mark: 50, need: 7 };
}

/// A set.
#[derive(Clone, Debug, PartialEq)]
pub struct ItemSet {
    /// Its name.
    pub title: String,
    /// What it is for.
    pub note: String,
    /// What counts as passed.
    pub pass: Pass,
    /// The items, in order.
    pub entries: Vec<Entry>,
}

/// The mark of a run in Clear.
pub fn mark_of_run(cleared: bool) -> f64 {
    if cleared { 100.0 } else { 0.0 }
}

/// How a set stands.
#[derive(Clone, Debug, PartialEq)]
pub struct Tally {
    /// Mean of all marks in whole numbers, 0 to 100; what was not played yet counts 0.
    pub score: u32,
    /// Items played.
    pub played: usize,
    /// For each item, whether it was passed; `None` if it was not played.
    pub passed: Vec<Option<bool>>,
    /// Items that must be passed.
    pub need: usize,
}

impl Tally {
    /// How a set of so many items as there are `marks` (0 to 100) stands.
    pub fn of(pass: Pass, marks: &[Option<f64>]) -> Self {
        let shown = |mark: f64| libm::round(mark.clamp(0.0, 100.0));
        let passed = marks.iter().map(|mark| mark.map(|mark| shown(mark) >= f64::from(pass.mark)));
        let sum: f64 = marks.iter().flatten().map(|&mark| shown(mark)).sum();
        Self {
            score: libm::round(sum / marks.len().max(1) as f64) as u32,
            played: marks.iter().flatten().count(),
            passed: passed.collect(),
            need: usize::from(pass.need).min(marks.len()),
        }
    }

    /// Items passed.
    pub fn n_passed(&self) -> usize {
        self.passed.iter().filter(|passed| **passed == Some(true)).count()
    }

    /// Whether the set is passed; no set without an item is.
    pub fn is_passed(&self) -> bool {
        self.need > 0 && self.n_passed() >= self.need
    }

    /// Whether every item was played.
    pub fn is_over(&self) -> bool {
        self.played == self.passed.len()
    }

    /// How it stands in a sentence: "7 of 10 passed, 7 are needed: passed. Score 74."
    pub fn in_words(&self) -> String {
        let (n, of, need) = (self.n_passed(), self.passed.len(), self.need);
        let needed =
            if need == 1 { "1 is needed".to_owned() } else { format!("{need} are needed") };
        let verdict = match (self.is_passed(), self.is_over()) {
            (true, _) => ": passed",
            (false, true) => ": not passed",
            (false, false) => "",
        };
        format!("{n} of {of} passed, {needed}{verdict}. Score {} of 100.", self.score)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    const PASS: Pass = Pass { mark: 70, need: 2 };

    #[test]
    fn a_mark_passes_as_it_is_shown() {
        let tally = Tally::of(PASS, &[Some(69.5), Some(69.4), None]);
        assert_eq!(tally.passed, [Some(true), Some(false), None], "69.5 is shown as 70");
        assert_eq!((tally.n_passed(), tally.played), (1, 2), "one of two");
        assert!(!tally.is_passed() && !tally.is_over(), "one more is needed");
        assert_eq!(tally.score, 46, "139 over three");
        assert_eq!(tally.in_words(), "1 of 3 passed, 2 are needed. Score 46 of 100.");
    }

    #[test]
    fn a_run_is_cleared_or_not() {
        let marks = [Some(mark_of_run(true)), Some(mark_of_run(false)), Some(100.0)];
        let tally = Tally::of(PASS, &marks);
        assert!(tally.is_passed() && tally.is_over(), "two of three");
        assert_eq!(tally.in_words(), "2 of 3 passed, 2 are needed: passed. Score 67 of 100.");
    }

    #[test]
    fn a_short_set_asks_for_all_it_has() {
        assert!(Tally::of(PASS, &[Some(80.0)]).is_passed(), "one of one");
        let none = Tally::of(PASS, &[]);
        assert!(!none.is_passed(), "nothing is no pass");
        assert_eq!(none.score, 0, "and no score");
        let lost = Tally::of(Pass { need: 1, ..PASS }, &[Some(3.0)]);
        assert_eq!(lost.in_words(), "0 of 1 passed, 1 is needed: not passed. Score 3 of 100.");
    }
}
