//! The Leave exercise: how good the zone is that a player marks, what it is worth, and
//! what can be learned from the shot.

mod judge;
mod lesson;
mod score;
mod worth;

pub use judge::{LeaveJudgement, PathJudgement, Playing, ZoneGrade, judge_leave};
pub use score::{BEST_SHARE, Stops, ZONE_STROKES, ZoneRule};
pub use worth::Worth;
