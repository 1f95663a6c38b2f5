//! Where to point the cue so that a ball goes into a pocket: the aim itself, the
//! directions around it that pot as well, why there is none, what its two ends do to
//! the cue ball, and the way over a cushion.

mod cheat;
mod cushion_first;
mod fate;
mod pot;
mod solve;
mod window;

pub use cheat::{Leaving, cheats, leaving};
pub use cushion_first::pots_cushion_first;
pub use fate::Route;
pub(super) use fate::leads_to;
pub use pot::{NoPot, Pot, pot, pot_stroke};
pub use solve::{Aim, aim_at_pocket, cut_angle, ghost_ball};
pub use window::Window;
