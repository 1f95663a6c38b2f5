//! Where a run was decided: which choice cost most, and which stroke.

use crate::practice::stroke_words::percent;

/// What is known of one shot of a run, as chances to clear all that was left.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Told {
    /// With the best shot that was found.
    pub best: f64,
    /// With the shot that was called, before it was played.
    pub own: f64,
    /// After it was played: 0 if the run was over by it, 1 if all was cleared.
    pub after: f64,
}

/// Where a run was decided.
#[derive(Clone, Debug, PartialEq)]
pub struct Decided {
    /// The shot whose choice cost most (counted from 0), and how much, if any cost something
    /// that counts.
    pub choice: Option<(usize, f64)>,
    /// The shot whose stroke cost most, and how much.
    pub stroke: Option<(usize, f64)>,
    /// Both in a sentence or two.
    pub words: String,
}

/// Less than this is within what chances are known to (tuning choice: two standard errors of
/// a hundred strokes in mind, halved by common errors).
const COUNTS: f64 = 0.04;

/// Where the run of these shots was decided.
pub fn decided(shots: &[Told]) -> Decided {
    let most = |cost: fn(&Told) -> f64| {
        shots
            .iter()
            .map(cost)
            .enumerate()
            .filter(|(_, cost)| *cost >= COUNTS)
            .reduce(|best, next| if next.1 > best.1 { next } else { best })
    };
    let choice = most(|shot| shot.best - shot.own);
    let stroke = most(|shot| shot.own - shot.after);
    let said = |shot: usize, what: &str, from: f64, to: f64| {
        format!("Shot {}: {what} cost most, from {} to {}.", shot + 1, percent(from), percent(to))
    };
    let words: Vec<String> = [
        choice.map(|(at, _)| said(at, "the choice", shots[at].best, shots[at].own)),
        stroke.map(|(at, _)| said(at, "the stroke", shots[at].own, shots[at].after)),
    ]
    .into_iter()
    .flatten()
    .collect();
    let words = if words.is_empty() {
        "No choice and no stroke cost more than can be told.".to_owned()
    } else {
        words.join(" ")
    };
    Decided { choice, stroke, words }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_dearest_choice_and_the_dearest_stroke_are_told_apart() {
        let shots = [
            Told { best: 0.6, own: 0.58, after: 0.7 },
            Told { best: 0.7, own: 0.4, after: 0.35 },
            Told { best: 0.4, own: 0.4, after: 0.0 },
        ];
        let told = decided(&shots);
        assert_eq!(told.choice.map(|(shot, _)| shot), Some(1), "{told:?}");
        assert_eq!(told.stroke.map(|(shot, _)| shot), Some(2), "{told:?}");
        assert_eq!(
            told.words,
            "Shot 2: the choice cost most, from 70 % to 40 %. Shot 3: the stroke cost most, from \
             40 % to 0 %."
        );
    }

    #[test]
    fn what_is_not_known_is_not_told() {
        let told = decided(&[Told { best: 0.51, own: 0.5, after: 0.49 }]);
        assert_eq!((told.choice, told.stroke), (None, None), "{told:?}");
        assert!(told.words.starts_with("No choice"), "{}", told.words);
    }
}
