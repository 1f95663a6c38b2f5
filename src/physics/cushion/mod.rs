//! A ball meets a cushion: `rebound` turns it into slips and back, `impact` follows
//! them to the end, `course` one step of the way by power series (`series`) under one
//! of the `laws`; `events` is where slips start, creep, vanish or hold, `vanish` how
//! long one still lasts, and `grip` has the frictions.

mod course;
mod events;
mod grip;
mod impact;
mod laws;
mod rebound;
mod series;
mod vanish;

pub use rebound::CushionLaw;
