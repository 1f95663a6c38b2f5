//! One shot as a player thinks of it: how far a speed goes, how steep the cue must
//! be, where to aim.

mod aim;
mod elevation;
mod lengths;

pub use aim::{Aim, aim_at_pocket, cut_angle};
pub use elevation::least_elevation;
pub use lengths::lengths_of_speed;
