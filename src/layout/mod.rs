//! Layouts dealt from a seed.

mod difficulty;
mod draw;
mod generate;
mod leave;
mod screen;

pub use difficulty::{Features, level_of};
pub use generate::{LEVELS, SLOTS, deal_read};
pub use leave::deal_leave;
