//! Leaveline's core: what a cue ball does, and how good a call of it was.
//!
//! Two crates of one tree, so that each is compiled for what it is for: `leaveline-core`
//! plays by the thousand and is for speed, `leaveline-trainer` is called once a click and
//! is for size. This one is their door.

pub use leaveline_core::{
    BallId, BallMotion, BallSpec, Error, Phase, ball, error, geometry, normal, order, physics,
    plan, shot, table, units,
};
#[cfg(target_arch = "wasm32")]
pub use leaveline_trainer::wasm;
pub use leaveline_trainer::{layout, memory, practice, wire};
