//! The Leave exercise: how good the zone is that a player marks, what it is worth, and
//! what can be learned from the shot.

mod score;

pub use score::{BEST_SHARE, Stops, ZONE_STROKES, ZoneRule};
