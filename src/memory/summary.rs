//! What the calls of a skill come to: bias, spread and trend.

use super::anytime_tests::{chance_of_bias, share_of};
use super::skill::Skill;
use super::student_t::{half_width, two_sided};

/// Bias and spread are those of the last so many calls (tuning choice: what a player does
/// now, and enough to see a bias of a fifth of the spread).
pub const WINDOW: usize = 200;

/// The trend is found anew after so many calls, and sets these
const RECENT: usize = 30;
/// against the ones before them, up to so many (tuning choices),
const BEFORE: usize = 90;
/// and fewer than this tell nothing.
const FEWEST: usize = 30;

/// What a skill's calls come to.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Summary {
    /// The skill.
    pub skill: Skill,
    /// How many calls tell of it in all,
    pub n: usize,
    /// and how many of them the following is about.
    pub of: usize,
    /// The mean error, in the skill's unit.
    pub bias: f64,
    /// Half the width of its 95 % interval; `None` of a single call.
    pub within: Option<f64>,
    /// Standard deviation of the errors; `None` of a single call.
    pub spread: Option<f64>,
    /// What the last calls are against those before; `None` as long as there are too few.
    pub trend: Option<Trend>,
    /// A bound on the probability of so much bias, or of more, at any look in calls that have
    /// none (of a cost: of no more than is allowed).
    pub chance: f64,
}

/// The mean size of errors lately and before.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Trend {
    /// Of the last calls.
    pub recent: f64,
    /// Of those before them.
    pub before: f64,
    /// A bound on the probability of so much difference, or of more, at any look where there
    /// is none.
    pub chance: f64,
}

/// Sums up `errors`, in the order of time; `None` if there are none.
pub fn summary(skill: Skill, errors: &[f64]) -> Option<Summary> {
    let last = &errors[errors.len().saturating_sub(WINDOW)..];
    if last.is_empty() {
        return None;
    }
    let Moments { n, mean, variance } = moments(last.iter().copied());
    let several = last.len() > 1;
    let error = (variance / n).sqrt();
    // A cost is one only beyond what a choice may be off by.
    let nothing = if skill.is_cost() { skill.tolerance(4) } else { 0.0 };
    let chance = if skill.is_cost() && mean <= nothing {
        1.0
    } else {
        let beyond: Vec<f64> = errors.iter().map(|error| error - nothing).collect();
        chance_of_bias(&beyond, WINDOW)
    };
    Some(Summary {
        skill,
        n: errors.len(),
        of: last.len(),
        bias: mean,
        within: several.then(|| half_width(0.05, n - 1.0) * error),
        spread: several.then(|| variance.sqrt()),
        trend: trend(errors),
        chance,
    })
}

/// Welch's test of the sizes of errors, once in [`RECENT`] calls: each time has its share of
/// the false alarms.
///
/// # Source
/// Welch 1947, Biometrika 34, 28; shares that add up to one, by Bonferroni (both from memory).
fn trend(errors: &[f64]) -> Option<Trend> {
    let n_times = errors.len() / RECENT;
    let (before, recent) = errors[..n_times * RECENT].split_at(n_times.checked_sub(1)? * RECENT);
    let before = &before[before.len().saturating_sub(BEFORE)..];
    if before.len() < FEWEST {
        return None;
    }
    let size = |all: &[f64]| moments(all.iter().map(|error| error.abs()));
    let (new, old) = (size(recent), size(before));
    let [a, b] = [new, old].map(|of| of.variance / of.n);
    let freedom = (a + b) * (a + b) / (a * a / (new.n - 1.0) + b * b / (old.n - 1.0));
    let t = (new.mean - old.mean) / (a + b).sqrt();
    // Without any spread there is nothing to tell by.
    let chance = if freedom.is_finite() { two_sided(t, freedom) } else { 1.0 };
    let chance = (chance / share_of(n_times - 2)).min(1.0);
    Some(Trend { recent: new.mean, before: old.mean, chance })
}

/// Number, mean and variance.
#[derive(Clone, Copy)]
pub(super) struct Moments {
    pub n: f64,
    pub mean: f64,
    pub variance: f64,
}

/// The moments of one value or more; the variance of one is nil.
pub(super) fn moments(values: impl Iterator<Item = f64> + Clone) -> Moments {
    let n = values.clone().count() as f64;
    let mean = values.clone().sum::<f64>() / n;
    let squares = values.map(|value| (value - mean) * (value - mean)).sum::<f64>();
    Moments { n, mean, variance: if n > 1.0 { squares / (n - 1.0) } else { 0.0 } }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn mean_deviation_and_interval_are_those_of_the_book() {
        let summed = summary(Skill::HeadingStun, &[2.0, 4.0, 4.0, 4.0, 5.0, 5.0, 7.0, 9.0]);
        let summed = summed.expect("eight calls");
        assert_eq!((summed.n, summed.of, summed.bias), (8, 8, 5.0), "{summed:?}");
        let spread = summed.spread.expect("of several");
        assert!((spread - (32.0_f64 / 7.0).sqrt()).abs() < 1e-12, "{spread}");
        // Source: t of 7 degrees, 2.365 (printed table, from memory).
        let within = summed.within.expect("of several");
        assert!((within - 2.365 * spread / 8_f64.sqrt()).abs() < 1e-3, "{within}");
        assert_eq!(summed.trend, None, "too few for one");
    }

    #[test]
    fn one_call_has_no_spread_and_none_no_summary() {
        assert_eq!(summary(Skill::Speed, &[]), None, "nothing to sum up");
        let one = summary(Skill::Speed, &[3.0]).expect("one call");
        assert_eq!((one.bias, one.within, one.spread, one.chance), (3.0, None, None, 1.0), "one");
        let same = summary(Skill::Speed, &[3.0, 3.0, 3.0]).expect("three calls");
        assert_eq!(same.spread, Some(0.0), "without any spread");
        let nil = summary(Skill::Speed, &[0.0, 0.0]).expect("two calls");
        assert_eq!(nil.chance, 1.0, "no bias at all");
    }

    #[test]
    fn only_the_last_calls_count() {
        let errors: Vec<f64> =
            (0..300).map(|k| if k < 100 { 50.0 } else { f64::from(k % 2) }).collect();
        let summed = summary(Skill::Speed, &errors).expect("calls");
        assert_eq!((summed.n, summed.of, summed.bias), (300, WINDOW, 0.5), "{summed:?}");
    }

    #[test]
    fn a_cost_within_what_is_allowed_is_no_fault() {
        let costs = |mean: f64| {
            let all: Vec<f64> = (0..100).map(|k| mean + f64::from(k % 3) - 1.0).collect();
            summary(Skill::Order, &all).expect("choices").chance
        };
        assert_eq!(costs(2.0), 1.0, "less than allowed");
        assert!(costs(6.0) < 1e-6, "more than allowed");
    }
}
