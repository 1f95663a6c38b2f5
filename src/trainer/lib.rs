//! What is dealt, how a call is graded, what calls tell over time, and the forms of all:
//! called once a click, so compiled for size.
#[path = "../layout/mod.rs"]
pub mod layout;
#[path = "../memory/mod.rs"]
pub mod memory;
#[path = "../practice/mod.rs"]
pub mod practice;
#[cfg(target_arch = "wasm32")]
#[path = "../wasm/mod.rs"]
pub mod wasm;
#[path = "../wire/mod.rs"]
pub mod wire;

use leaveline_core::{ball, error, geometry, normal, order, physics, plan, shot, table, units};
