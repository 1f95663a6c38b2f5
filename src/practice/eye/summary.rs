//! Bias and spread of a round's estimates, each kind by itself.

use super::estimate::Estimate;

/// An estimate that was made.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Answered {
    /// What was estimated.
    pub estimate: Estimate,
    /// How much the answer was too much, in its unit.
    pub error: f64,
}

/// What a kind of estimate came to.
#[derive(Clone, Debug, PartialEq)]
pub struct Summary {
    /// The kind.
    pub estimate: Estimate,
    /// How many were made.
    pub n: u32,
    /// The mean error, in its unit.
    pub bias: f64,
    /// The standard deviation of the errors; `None` of a single one.
    pub spread: Option<f64>,
    /// Both in words.
    pub words: String,
}

/// The mean mark of `answers` in whole numbers, 0 if there are none.
pub fn mean_mark(answers: &[Answered]) -> u32 {
    let sum: f64 = answers.iter().map(|answered| answered.estimate.mark(answered.error)).sum();
    libm::round(sum / answers.len().max(1) as f64) as u32
}

/// The mean mark of a kind from which on it needs no practice (tuning choice: an error of a
/// quarter of what halves a mark).
const WELL_SEEN: f64 = 84.0;

/// Which kind to practise, by the lowest mean mark, in a sentence; empty without answers.
pub fn lesson(answers: &[Answered]) -> String {
    let mark_of = |estimate| {
        let of_kind = answers.iter().filter(|answered| answered.estimate == estimate);
        let (sum, n) = of_kind
            .fold((0.0, 0.0), |(sum, n), answered| (sum + estimate.mark(answered.error), n + 1.0));
        (n > 0.0).then(|| (estimate, sum / n))
    };
    let kinds = Estimate::ALL.into_iter().filter_map(mark_of);
    match kinds.min_by(|a, b| a.1.total_cmp(&b.1)) {
        Some((_, mark)) if mark >= WELL_SEEN => "You see every kind well.".to_owned(),
        Some((estimate, mark)) => format!(
            "Practise “{}” first: {} of 100 on average.",
            estimate.title(),
            libm::round(mark)
        ),
        None => String::new(),
    }
}

/// Sums up the kinds that occur among `answers`.
pub fn summaries(answers: &[Answered]) -> Vec<Summary> {
    Estimate::ALL.into_iter().filter_map(|estimate| sum_up(estimate, answers)).collect()
}

fn sum_up(estimate: Estimate, answers: &[Answered]) -> Option<Summary> {
    let of_kind = answers.iter().filter(|answered| answered.estimate == estimate);
    let errors: Vec<f64> = of_kind.map(|answered| answered.error).collect();
    if errors.is_empty() {
        return None;
    }
    let n = errors.len() as f64;
    let bias = errors.iter().sum::<f64>() / n;
    let squares = errors.iter().map(|error| (error - bias) * (error - bias)).sum::<f64>();
    let spread = (errors.len() > 1).then(|| (squares / (n - 1.0)).sqrt());
    let unit = estimate.unit();
    let middle = if bias.abs() < unit.grain() { "right".to_owned() } else { estimate.off(bias) };
    let words = match spread {
        Some(spread) => format!("{middle}, give or take {}", unit.said(spread)),
        None => middle,
    };
    Some(Summary { estimate, n: errors.len() as u32, bias, spread, words })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_mark_of_a_round_is_the_mean_of_its_marks() {
        let half = Answered { estimate: Estimate::Cut, error: -Estimate::Cut.half() };
        let right = Answered { estimate: Estimate::ThirdRail, error: 0.0 };
        assert_eq!(mean_mark(&[half, right]), 75, "50 and 100");
        assert_eq!(mean_mark(&[]), 0, "nothing yet");
    }

    #[test]
    fn the_kind_with_the_lowest_marks_is_to_be_practised() {
        let of = |estimate, error| Answered { estimate, error };
        let all = [of(Estimate::Cut, 1.0), of(Estimate::Roll, -5.0), of(Estimate::Cut, 0.5)];
        assert_eq!(lesson(&all), "Practise “Natural roll” first: 50 of 100 on average.");
        assert_eq!(lesson(&all[..1]), "You see every kind well.");
        assert_eq!(lesson(&[]), "", "nothing yet");
    }

    #[test]
    fn bias_and_spread_are_told_apart() {
        let of = |estimate, error| Answered { estimate, error };
        let answers = [
            of(Estimate::Roll, 7.0),
            of(Estimate::Cut, -2.0),
            of(Estimate::Roll, 3.0),
            of(Estimate::Roll, 5.0),
        ];
        let [roll, cut] = summaries(&answers).try_into().expect("two kinds");
        assert_eq!((roll.n, roll.bias, roll.spread), (3, 5.0, Some(2.0)), "mean and deviation");
        assert_eq!(roll.words, "5° too wide, give or take 2°");
        assert_eq!((cut.spread, cut.words.as_str()), (None, "2° too full"), "of one no spread");
    }
}
