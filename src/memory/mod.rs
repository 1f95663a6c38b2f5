//! What a player's calls tell over time: each kept with its errors, every skill summed up,
//! and what to practise next.
//!
//! Nothing here knows a clock: times are milliseconds since the beginning of 1970, given by
//! the caller.

mod anytime_tests;
mod calls;
mod due;
mod next;
mod plots;
mod record;
mod sentences;
mod skill;
mod student_t;
mod summary;
mod told;
mod topic;
mod unit;

pub use calls::{Calls, Entry, HEAD, PER_ERROR, digest};
pub use due::{Memory, SESSION};
pub use next::{
    Dealt, Next, Standing, TARGET, item_for, level_for, next, standings, went_in_words,
};
pub use plots::{Group, Plots, plots};
pub use record::{Answered, By, Came, Part, Record, Worth, record};
pub use sentences::{FALSE_ALARMS, sentences};
pub use skill::Skill;
pub use student_t::{half_width, two_sided};
pub use summary::{Summary, Trend, WINDOW, summary};
pub use told::Told;
pub use topic::Topic;
pub use unit::Unit;
