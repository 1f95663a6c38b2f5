//! What the benchmarks measure, and the ways they take through the core.

mod ends;
mod scenes;

pub use ends::Ends;
pub use scenes::{Scene, scenes};
