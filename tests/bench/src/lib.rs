//! What the benchmarks measure, and the ways they take through the core.

mod ends;
mod impacts;
mod scenes;

pub use ends::Ends;
pub use impacts::{cushion_impacts, gaps, look_aheads};
pub use scenes::{Counts, N_STROKES, Scene, scenes};
