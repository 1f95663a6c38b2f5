//! How exact the model is, shown by routes that share nothing with `src/physics`.
//!
//! - `rubber` follows a cushion's impact with friction rounded off, `impacts` holds
//!   the model's impact against it.
//! - `brute` plays a whole shot in small steps, `corpus` makes shots by category,
//!   `agreement` holds the model's shots against it.
//! - `exact` solves for first contacts in whole numbers, `times` holds the model's
//!   times of events against it.
//!
//! Nothing here knows the model's events or impacts. What is shared is what
//! defines the task: the card, the shape of the table, and in `times` the courses,
//! whose coefficients are the exact question that is asked.
//! `cargo test truth -- --nocapture` prints what was measured.

mod agreement;
mod audit;
mod blow;
mod brute;
mod corpus;
mod exact;
mod gaps;
mod hard;
mod impacts;
mod meetings;
mod rubber;
mod springs;
mod times;

/// Middle, 99th of a hundred, and largest of what was measured.
#[derive(Clone, Copy, Debug)]
pub struct Spread {
    pub count: usize,
    pub median: f64,
    pub high: f64,
    pub worst: f64,
}

/// The spread of `values`; all nil if there are none.
pub fn spread(mut values: Vec<f64>) -> Spread {
    values.sort_by(f64::total_cmp);
    let count = values.len();
    let at = |share: f64| values.get((count as f64 * share) as usize).copied();
    let worst = values.last().copied().unwrap_or(0.0);
    Spread { count, median: at(0.5).unwrap_or(0.0), high: at(0.99).unwrap_or(0.0), worst }
}
