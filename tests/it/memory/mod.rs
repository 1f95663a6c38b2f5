//! What calls tell over time: simulated players and learners, and what is kept of real calls.

mod estimates;
mod learners;
mod players;
mod records;
