//! The table: its card (every physical parameter), the shape of cushions and
//! pockets that follows from it, and the diamonds.

mod card;
mod check;
mod diamonds;
mod name;
mod shape;

pub use card::{BallContact, Cloth, Cushion, FrictionCurve, PocketSpec, TableCard, TableSize};
pub use check::{Advice, card_advice};
pub use diamonds::{SIGHT_SET_BACK, diamond_of, diamonds_on, point_at, sights};
pub use name::{PocketId, Rail, Surface};
pub use shape::{JawPoint, Pocket, TableShape, Wall};
