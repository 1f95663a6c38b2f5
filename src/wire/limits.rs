//! How much is taken of what a player types and chooses, for the page to offer no more.

use super::item::MOST_CALL_POINTS;
use super::set::{LONGEST_NOTE, LONGEST_TITLE, MOST_ENTRIES};
use crate::layout::clear_sizes;
use crate::shot::MOST_DEMANDED_RAILS;
use crate::table::TableSize;
use serde::Serialize;

/// What is taken; the core refuses more.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[serde(rename_all = "camelCase")]
pub struct LimitsForm {
    /// The longest title of a set or an item, characters.
    longest_title: usize,
    /// The longest note, characters.
    longest_note: usize,
    /// The most items of a set.
    most_entries: usize,
    /// The most rails that are asked for.
    most_rails: usize,
    /// The most points of a call, with its stop.
    most_points: usize,
    /// How many balls may be dealt to be cleared in rotation,
    rotation: Vec<u8>,
    /// and how many of a group.
    group: Vec<u8>,
    /// The tables, by their names in forms.
    tables: Vec<&'static str>,
}

/// How much is taken.
pub fn limits() -> LimitsForm {
    LimitsForm {
        longest_title: LONGEST_TITLE,
        longest_note: LONGEST_NOTE,
        most_entries: MOST_ENTRIES,
        most_rails: MOST_DEMANDED_RAILS,
        most_points: MOST_CALL_POINTS + 1,
        rotation: clear_sizes(true).collect(),
        group: clear_sizes(false).collect(),
        tables: TableSize::ALL.map(TableSize::name).to_vec(),
    }
}
