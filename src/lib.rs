//! Leaveline's core: what a cue ball does, and how good a call of it was.
pub mod ball;
pub mod error;
pub mod geometry;
pub mod layout;
pub mod normal;
pub mod order;
pub mod physics;
pub mod practice;
pub mod shot;
pub mod table;
pub mod units;
#[cfg(target_arch = "wasm32")]
pub mod wasm;
pub mod wire;

pub use ball::{BallId, BallMotion, BallSpec, Phase};
pub use error::Error;
