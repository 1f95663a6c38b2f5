//! The best stroke: pocket, speed and tip with the best chance, under a hand, to pot the
//! ball on and to leave well.

mod batch;
mod candidate;
mod climb;
mod frame;
mod model;
mod plan;
mod prospect;
mod search;
mod survey;
mod worth;

pub use batch::Share;
pub use plan::{FARTHEST_TIP, Plan, SPEEDS};
pub use prospect::{Outlook, Prospect};
pub use search::{Best, MOST_PLAYS, Progress, Search};
pub use worth::worth;
