//! The Eye exercise: quick single estimates of an angle, a diamond or a distance, each
//! answered by one handle.
mod estimate;
mod handle;
mod judged;
mod sight;
mod summary;
mod words;

pub use estimate::{Estimate, Unit};
pub use handle::Handle;
pub use judged::{Judged, judge_eye};
pub use sight::{Sight, sight};
pub use summary::{Answered, Summary, lesson, mean_mark, summaries};
pub use words::task_of_eye;

use crate::physics::Shot;

/// How many estimates a round has.
pub const ROUND: u32 = 20;

/// One estimate that is asked.
#[derive(Clone, Debug, PartialEq)]
pub struct EyeItem {
    /// What is to be estimated.
    pub estimate: Estimate,
    /// The shot of which it is asked.
    pub shot: Shot,
    /// The version of the model that it was made with.
    pub model: u32,
    /// The seed of its round, if it was dealt.
    pub seed: Option<u32>,
}
