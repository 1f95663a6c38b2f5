//! What Read asks of the core, as a package by itself: a phone loads it before anything else,
//! and the whole one (`leaveline`) once another part is opened or nothing else is to be done.

#[cfg(target_arch = "wasm32")]
pub use leaveline_trainer::wasm::*;
