//! The series of a hand's errors that are in use.

/// Whoever compares strokes takes one series for all of them, and what judges a choice takes
/// another than what made it, so that it is fresh. No two have one number: as values of one
/// enum they cannot. A new one takes any that is free; one that is in use is part of every
/// outcome that was ever graded or published by it.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
#[repr(u32)]
pub enum Series {
    /// Chances of a stroke, and its margins.
    Margins = 4,
    /// The search for the best stroke, unless another series is asked for.
    Best = 5,
    /// Zones of Leave, so that an answer gets the same mark from everybody.
    Zones = 80,
    /// Strokes by which items of the ready-made sets are chosen.
    Library = 0x1ea5,
    /// Misread strokes by which Read items of those are graded.
    LibraryReadings = 0x4ead,
    /// Runs that compare first balls for those.
    LibraryRuns = 0x0dde,
    /// Runs by which a deal of Clear must be cleared once.
    ClearDeals = 0xdea1,
    /// A guide's strokes, tried.
    Guide = 0x7127,
    /// Strokes that run into stuck balls.
    BreakOuts = 0xb4ea,
    /// Strokes that a player tries in mind.
    InMind = 0x5eed,
    /// Those by which the best of these are judged.
    Fresh = 0xf4e5,
    /// Runs of the ways that race.
    Race = 0x4ace,
    /// The shots of a plan, described.
    Described = 0xde5c,
}

impl Series {
    /// By which `Wobble::drawn` and all that plays strokes by number know it.
    pub const fn number(self) -> u32 {
        self as u32
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_numbers_stay() {
        use Series::{
            Best, BreakOuts, ClearDeals, Described, Fresh, Guide, InMind, Library, LibraryReadings,
            LibraryRuns, Margins, Race, Zones,
        };
        let all = [
            Margins,
            Best,
            Zones,
            Library,
            LibraryReadings,
            LibraryRuns,
            ClearDeals,
            Guide,
            BreakOuts,
            InMind,
            Fresh,
            Race,
            Described,
        ];
        let numbers = [
            4, 5, 80, 0x1ea5, 0x4ead, 0x0dde, 0xdea1, 0x7127, 0xb4ea, 0x5eed, 0xf4e5, 0x4ace,
            0xde5c,
        ];
        assert_eq!(all.map(Series::number), numbers, "marks and sets rest on them");
    }
}
