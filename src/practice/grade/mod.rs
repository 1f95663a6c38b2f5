//! Grading a Read call against the path the cue ball really took.
//!
//! Everything is measured between **nodes**: the ghost ball, the touches of
//! rails in order, and the stop. A leg runs from node to node. Called and real
//! touches are matched by their rails alone, in order (see `matching`); touches
//! of jaws and facings are part of the real curve, but no called rail answers
//! to them. Free points of a call bend its curve and are no nodes.
//!
//! # What is shown
//! Heading off the object ball, error along the rail and rebound of every
//! matched touch, rails left out or not touched, stop, length and whole curve,
//! each in the unit players think in: [`Errors`] has the numbers, [`GradeLine`]
//! the words.
//!
//! # The mark
//! `100 * (sum of weight * quality) / (sum of weights) * (factor of every rail
//! that was called and not touched)`, where a quality is
//! `1 / (1 + (error / tolerance)^2)`: 1 without error, one half at the tolerance.
//! The weights depend on the real path alone. The terms:
//!
//! | term | weight | error |
//! |---|---|---|
//! | heading | 3 | angle at the ghost ball between the first real and the first called node |
//! | each real touch | 1.5 | distance along the rail, diamonds |
//! | each rebound | 1 | angle **at the real touch** between the next real and the next called node |
//! | stop | 4 | distance, balls |
//! | curve | 2 | mean over the legs, by length, of half the sum of the errors at both ends, balls |
//!
//! The weight of an angle falls in proportion on a leg shorter than four balls,
//! where an angle says little, and is nothing on a leg of no length.
//!
//! Two properties hold, and `tests/it/grade/properties.rs` tries them on many thousand calls:
//!
//! 1. **The perfect call gets exactly 100**: with called points on the real
//!    touches and the real stop every error is exactly 0 and every quality 1.
//! 2. **Nearer never pays less**: take a call with the real rails, and move each
//!    of its points by a fraction of its own along the segment to the real point.
//!    No error of the table grows, because each depends on a single point, or is
//!    a sum of such parts with fixed weights:
//!    - Distances, and their components along a rail, shrink with the fraction
//!      that is left.
//!    - An angle is seen from an apex that does not move, the real ghost ball or
//!      the real touch. Put the apex at the origin and the real node at (n, 0),
//!      n > 0; the called node starts at (x, y), y > 0. After the share s it
//!      stands at (x + s (n - x), (1 - s) y), and the cotangent of its angle,
//!      (x + s (n - x)) / ((1 - s) y), has the derivative n / ((1 - s)^2 y) > 0:
//!      the angle shrinks. On the axis itself (y = 0) it is pi behind the apex
//!      and 0 before it; at the apex, where no angle can be seen, it counts as pi.
//!
//! That is why three lines are shown but enter the mark in another form:
//! - The **drawn rebound** compares two legs that both move, so better points
//!   can make it worse. It can only be wrong because one of its ends is, and is
//!   charged there: seen from the real touch.
//! - The **length** of the path can be right by two errors that cancel, and a
//!   better point can break the balance. It can only be wrong because points
//!   are, and is charged at the stop, whose tolerance is in part a share of the
//!   real path's length: per cent of length is what that error means.
//! - The **whole curve** has the same trouble, and would charge a call of
//!   straight legs for the bends of the real path. The mean of the errors at
//!   both ends is the most that two straight legs can differ on average, so the
//!   mark takes that. Around rails that do not match, where ends say too little,
//!   it takes the measured mean distance if that is larger.
//!
//! # Wrong rails
//! Naming a rail in the right order is worth a fifth of its touch, however far
//! off. A real touch **left out** keeps at most seven tenths of its touch, falling with
//! the distance from the real touch to the called curve, and nothing of its
//! rebound. A rail that was called and **not touched** takes 5 to 20 % off the
//! whole mark, rising with the distance from the called touch to the real
//! curve. Both distances look only at the part of the path between the matched
//! touches around it. So a ball that stops 2 cm before a called rail costs about
//! 5 points and not a cliff, and adding a rail can never pay.
//!
//! All weights, tolerances and shares are tuning choices.

mod bend;
mod dimension;
mod errors;
mod legs;
mod lines;
mod mark;
mod matching;
mod sentence;

pub use dimension::Dimension;
pub use errors::{Errors, HeadingError, HeadingSide, StopError, TouchError, TouchFault};
pub(in crate::practice) use legs::length_of;
pub use mark::{REFERENCE, Tolerances};

use crate::practice::{Call, CuePath};
use crate::table::TableCard;
use legs::Route;

/// How good a call was, line by line.
#[derive(Clone, Debug, PartialEq)]
pub struct Grade {
    /// 0 to 100; how it is made is told in [`mod@crate::practice::grade`].
    pub mark: f64,
    /// What was measured, in the order of the path.
    pub lines: Vec<GradeLine>,
    /// What cost most, in a sentence that teaches something.
    pub sentence: String,
    /// The numbers behind the lines.
    pub errors: Errors,
}

/// One line of a grade.
#[derive(Clone, Debug, PartialEq)]
pub struct GradeLine {
    /// `heading`, `rail-1`, `rebound-1`, `missing-2` (by the real touch),
    /// `extra-1` (by the called touch), `stop`, `length` or `curve`.
    pub id: String,
    /// What was measured.
    pub label: String,
    /// The error, short: "0.50 ◇ short".
    pub text: String,
    /// The same for a screen reader: "0.50 diamonds short".
    pub spoken: String,
    /// The same drawn on the table.
    pub dimension: Option<Dimension>,
}

/// Grades `call` against what the cue ball did, as strictly as `level` (1 to 6,
/// see [`crate::practice::level()`]) asks.
///
/// `card` is one that [`TableCard::check`] accepts. The mark is finite and
/// within 0 to 100 for every finite call; coordinates beyond 1000 km count as
/// 1000 km, which only keeps the arithmetic from overflow.
pub fn grade(card: &TableCard, truth: &CuePath, call: &Call, level: u8) -> Grade {
    let real = Route::of_truth(truth);
    let called = Route::of_call(truth.ghost, call);
    let anchors = matching::anchors(card, &real, &called);
    let errors = errors::measure(card, truth, &real, &called, &anchors);
    let tolerances = REFERENCE.at_level(level);
    let mark = mark::Mark::of(card, &real, &called, &anchors, &tolerances);
    let view = View { card, truth, real: &real, called: &called, errors: &errors };
    Grade {
        mark: mark.value,
        lines: lines::lines(&view),
        sentence: sentence::sentence(&view, &anchors, &mark, &tolerances),
        errors,
    }
}

/// What lines, dimensions and sentences are made from.
struct View<'a> {
    card: &'a TableCard,
    truth: &'a CuePath,
    real: &'a Route,
    called: &'a Route,
    errors: &'a Errors,
}
