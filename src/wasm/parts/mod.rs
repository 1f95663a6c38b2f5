//! What the page can call beside Read. Only the whole package has it.

mod bench;
mod clear;
mod daily;
mod eye;
mod hand;
mod leave;
mod limits;
mod log;
mod numbers;
mod paper;
mod sets;
mod shot;

pub use paper::{code, set_up};
pub use shot::{ends, model_version, play, play_packed, play_text};
