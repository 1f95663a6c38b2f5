//! What the player is asked, what the player answers, and how good the answer was.
mod item;
pub use item::{Call, CallPoint, ReadItem};
