//! The Leave exercise: how good the zone is that a player marks, what it is worth, and
//! what can be learned from the shot.

mod judge;
mod judgement;
mod lesson;
mod score;
mod words;
mod worth;

pub use judge::{Playing, hand_of_level, judge_leave};
pub use judgement::{LeaveJudgement, PathJudgement, ZoneGrade};
pub use score::{BEST_SHARE, Stops, ZONE_STROKES, ZoneRule, zone_of_stops};
pub use words::{advice_for, level_words, notice_for, task_in_words};
pub use worth::Worth;
