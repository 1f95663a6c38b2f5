//! What a cue ball does, and what a player can do with it: all that is worth compiling
//! for speed.
#[path = "../ball.rs"]
pub mod ball;
#[path = "../error.rs"]
pub mod error;
#[path = "../geometry/mod.rs"]
pub mod geometry;
#[path = "../normal.rs"]
pub mod normal;
#[path = "../order.rs"]
pub mod order;
#[path = "../physics/mod.rs"]
pub mod physics;
#[path = "../plan/mod.rs"]
pub mod plan;
#[path = "../shot/mod.rs"]
pub mod shot;
#[path = "../table/mod.rs"]
pub mod table;
#[path = "../units.rs"]
pub mod units;

pub use ball::{BallId, BallMotion, BallSpec, Phase};
pub use error::Error;
