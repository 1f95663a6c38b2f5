//! Clearing a whole layout: what each leave is worth, which order is best, and how often
//! it comes off.

mod break_out;
mod foresight;
mod guide;
mod kept_stroke;
mod key_ball;
mod ladder;
mod openness;
mod play_out;
mod player;
mod rack;
mod run_out;
mod search;
mod set;
mod strokes;
mod table;
mod target;
mod watch;
mod way;
mod way_race;

pub use break_out::BreakOut;
pub use foresight::{Depth, Foresight, Worth};
pub use guide::{Fineness, Guide};
pub use kept_stroke::{Kept, Seen};
pub use key_ball::{KeyBall, key_balls};
pub use ladder::Entry;
pub use openness::Openness;
pub use play_out::{Run, Runs};
pub use player::{Care, Player};
pub use rack::{Game, Link, MOST_IN_GROUP, MOST_IN_ROTATION, Rack};
pub use run_out::{Second, Step, Wrong, run_out};
pub use search::{Choice, Planned, Search};
pub use set::BallSet;
pub use strokes::{TIPS, Tip};
pub use table::{Called, Over, Table};
pub use target::Target;
pub use way::{Foresights, Way};
pub use way_race::{Gain, Race};
