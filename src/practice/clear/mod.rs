//! Clear: what is asked of a whole layout, and where a run was decided, in words.

mod decided;
mod words;

pub use decided::{Decided, Told, decided};
pub use words::{
    also_fell_in_words, break_out_in_words, clear_in_words, key_in_words, notice_for,
    over_in_words, race_in_words, runs_in_words, second_in_words, shot_in_words,
};
