//! What the player is asked, what the player answers, and how good the answer was.
pub mod grade;
mod item;
mod level;
mod truth;

pub use grade::{Dimension, Errors, Grade, GradeLine, grade};
pub use item::{Call, CallPoint, ReadItem};
pub use level::{LEVELS, Level, level};
pub use truth::{CuePath, Touch};
