//! The best stroke: pocket, speed and tip with the best chance, under a hand, to pot the
//! ball on and to leave well.

mod batch;
mod candidate;
mod climb;
mod frame;
mod model;
mod narrowing;
mod plan;
mod prospect;
mod search;
mod survey;
mod worth;

pub use batch::Share;
pub use narrowing::Best;
pub use plan::{FARTHEST_TIP, Plan, SPEEDS};
pub use prospect::{Outlook, Prospect};
pub use search::{MOST_PLAYS, Progress, Search};
pub use worth::worth;
