//! The open forms: how everything looks outside of this crate, and the one
//! strict reader that lets it in.
//!
//! JSON text, JavaScript objects and links are filled into a [`Value`], which a
//! [`Form`] then takes apart; what goes out is a [`Value`] or a mirror with a
//! serde derive (no other module has one). The forms are published as JSON
//! Schemas in `www/schema/`. Angles are degrees here and radians in the core;
//! everything else keeps its SI unit.

mod angle;
mod answer;
mod ball_ends;
mod best;
mod bits;
mod board;
mod boundary;
mod card_bits;
mod clear;
mod clear_item;
mod daily;
mod demand;
mod envelope;
mod eye;
mod glossary;
mod guide;
mod hand_tries;
mod item;
mod item_bits;
mod judgement;
mod leave;
mod limits;
mod link;
mod log;
mod map;
mod map_scale;
mod margins;
mod outcome;
mod outcome_numbers;
mod place_bits;
mod pocket_aims;
mod qr;
mod question;
mod reader;
mod record;
mod request;
mod set;
mod set_link;
mod set_pieces;
mod set_up;
mod sets;
mod shot;
mod speed_scale;
mod table;
mod text;
mod try_stroke;
mod value;
mod why;

pub use angle::degrees_for;
pub use answer::{read_answer, write_answer};
pub use ball_ends::{MOST_STROKES, PER_END, PER_STROKE, check_strokes, ends};
pub use best::{BestForm, BestSearch, check_told};
pub use board::{BoardForm, ChangedForm, board, mirrored, place, remove};
pub use boundary::{
    OpenedForm, check_length, deal, grade, make_link, open_item, open_link, play, play_packed,
    play_text, point_at, snap, zone_at,
};
pub use clear::{
    ClearPlayedForm, ClearQuestionForm, DecidedForm, deal_clear, decide, open_clear, play_clear,
};
pub use clear_item::{read_clear_item, read_clear_item_as, write_clear_item};
pub use daily::{DailyForm, DailyResultForm, daily_result, daily_set};
pub use demand::{read_demand, read_zone, write_demand, write_zone};
pub use envelope::{LONGEST_LINK, LONGEST_TEXT};
pub use eye::{
    EyeQuestionForm, EyeResultForm, EyeRoundForm, EyeSummaryForm, HandleForm, deal_eye, grade_eye,
    mark_eye, open_eye, read_eye_item, sum_eye, write_eye_item,
};
pub use glossary::{GlossaryForm, words};
pub use guide::{ClearGuide, GuideProgress, RunsForm, sum_of_runs};
pub use hand_tries::{TryForm, tries};
pub use item::{
    HARDEST_LEVEL, ITEM_VERSION, MOST_CALL_POINTS, read_any_item, read_call, read_item,
    read_item_as, read_leave_item, read_leave_item_as, write_any_item, write_call, write_item,
    write_leave_item, write_point,
};
pub use judgement::{ResultForm, Track, write_result};
pub use leave::{LeaveQuestionForm, LeaveResultForm, deal_leave, grade_leave, open_leave};
pub use limits::{LimitsForm, limits};
pub use link::{
    AnyOpened, LINK_VERSION, Opened, OpenedLeave, make, make_clear, make_leave, open, open_any,
    open_any_as, open_as, pack_item, seal, seal_answer, unpack_item, unseal, unseal_answer,
};
pub use log::{
    KeptForm, LONGEST_LOG, MOST_NUMBERS, NextForm, PlotsForm, ReadForm, SummaryForm, check_numbers,
    log_next, log_plots, log_read, log_record, log_summary,
};
pub use map::{ChanceMap, HandForm, MapProgress, check_chances, hands, read_hand};
pub use map_scale::map_scale;
pub use margins::{MarginsForm, MarginsRequest, margins, read_margins};
pub use outcome::{OutcomeForm, write_outcome};
pub use outcome_numbers::{HEADER, PACKED_VERSION, PER_BALL, PER_EVENT, PER_SAMPLE, pack};
pub use pocket_aims::{PocketAimForm, aims};
pub use qr::{CodeForm, code};
pub use question::{
    LevelForm, PlacedForm, PointForm, QuestionForm, levels, write_placed, write_question,
};
pub use reader::{Form, number};
pub use record::{RECORD_VERSION, read_record, record_id, write_record};
pub use request::{
    DealRequest, Diamonds, GradeRequest, PointRequest, SnapRequest, read_deal, read_grade,
    read_point, read_snap,
};
pub use set::{
    FoundSet, LONGEST_NOTE, LONGEST_SET, LONGEST_TITLE, MOST_ENTRIES, SET_VERSION, find_set,
    read_set, write_set,
};
pub use set_link::{OpenedSetForm, make_set_link, open_set_link};
pub use set_up::{SpotForm, set_up};
pub use sets::{FoundSetForm, ShownForm, TallyForm, open_set, set_text, show_item, tally_set};
pub use shot::{FORM_VERSION, read_position, read_shot, write_shot, write_stroke};
pub use speed_scale::{SpeedForm, speed_scale};
pub use table::{read_card, write_card};
pub use text::{LONGEST_JSON, compact, parse};
pub use try_stroke::{TrialForm, WindowForm, try_stroke};
pub use value::Value;
pub use why::{WhyForm, why};
