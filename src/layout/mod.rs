//! Layouts dealt from a seed.

mod clear;
mod daily;
mod day;
mod difficulty;
mod draw;
mod early_reject;
mod eye;
mod generate;
pub mod glossary;
mod leave;
pub mod library;
mod steps;

pub use clear::{ClearWish, clear_sizes, deal_clear};
pub use daily::deal_daily;
pub use day::Day;
pub use difficulty::{Features, level_of};
pub use eye::deal_eye;
pub use generate::{LEVELS, SLOTS, deal_read};
pub use leave::deal_leave;
