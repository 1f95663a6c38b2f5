//! How good an estimate was.

use super::sight::sight;
use super::{EyeItem, Sight};
use crate::error::Error;
use crate::practice::stroke_words::capital;

/// What came of an estimate.
#[derive(Clone, Debug, PartialEq)]
pub struct Judged {
    /// What was shown, with the true answer.
    pub sight: Sight,
    /// What was answered, brought into what the handle can say.
    pub answer: f64,
    /// How much that is too much, in the unit of the estimate.
    pub error: f64,
    /// 0 to 100.
    pub mark: f64,
    /// The error and the truth in a sentence.
    pub words: String,
}

/// Judges the `answer` to `item`.
///
/// # Errors
/// As [`sight`].
pub fn judge_eye(item: &EyeItem, answer: f64) -> Result<Judged, Error> {
    let sight = sight(item)?;
    let (estimate, unit) = (item.estimate, item.estimate.unit());
    let answer = sight.handle.within(&item.shot.card, answer);
    let error = sight.handle.error(answer, sight.truth);
    let told = estimate.told(sight.truth);
    let words = if error.abs() < unit.grain() {
        format!("Spot on: {told}.")
    } else {
        let said = estimate.value(answer);
        format!("{}: {told}, you said {said}.", capital(&estimate.off(error)))
    };
    Ok(Judged { sight, answer, error, mark: estimate.mark(error), words })
}
