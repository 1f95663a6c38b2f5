//! What the player is asked, what the player answers, and how good the answer was.
mod bench;
pub mod clear;
pub mod eye;
pub mod grade;
mod item;
pub mod leave;
mod level;
mod places;
mod point;
mod read;
mod rounding;
pub mod set;
mod set_up;
mod stroke_words;
mod trial;
mod truth;
mod why;
mod zone;

pub use bench::{is_in_reach, mirror, place_ball, remove_ball};
pub use grade::{Dimension, Errors, Grade, GradeLine, grade};
pub use item::{AnyItem, Call, CallPoint, ClearItem, LeaveAnswer, LeaveItem, ReadItem};
pub use level::{HARDEST, LEVELS, Level, level};
pub use places::{Mark, Place, marks_of, of_marks, resolved, settled, told};
pub use point::{check_call, place_in_words, point_in_words, point_on_cloth, point_on_rail, snap};
pub use read::{Judgement, Question, judge, question, question_as};
pub use rounding::{
    Quantum, rounded_answer, rounded_call, rounded_item, rounded_leave, rounded_shot,
    rounded_stroke, rounded_zone,
};
pub use set_up::{Spot, set_up};
pub use stroke_words::{TIP, card_in_words, deal_code, stroke_in_words, tip_in_words};
pub(crate) use stroke_words::{capital, percent, whole_percent};
pub use trial::{Trial, no_pot_in_words, trial};
pub use truth::{CuePath, Touch};
pub use why::{
    Amount, Change, Facts, Rebound, Replay, Why, angle_in_words, distance_in_words, why,
};
pub use zone::{Measure, typed_zone};
