//! Tests that may be looked at after every call: however many looks, what is not so is found
//! with no more than the chance that is asked for.

/// The test of a bias is begun anew so often, calls (tuning choice), so that it is always about
/// the latest of them.
const EVERY: usize = 50;

/// The bias, as a share of the spread, for which that test is made: its square (tuning choice:
/// half of it; much smaller and much larger ones are found a little later).
const LIKELY: f64 = 0.25;

/// The share of all false alarms that the test number `k` of a series may have; all of them
/// together have one.
pub(super) fn share_of(k: usize) -> f64 {
    1.0 / ((k + 1) as f64 * (k + 2) as f64)
}

/// A bound on the probability of so much bias of `errors`, ever, in calls that have none: in
/// the latest of them, no more than `window` and no fewer by [`EVERY`].
///
/// # Source
/// The t test by a mixture over the bias in units of the spread, which is a martingale where
/// there is no bias: Lai 1976, Annals of Statistics 4, 265; in this form Wang and Ramdas 2025,
/// Sequential Analysis 44, 56. It exceeds x with a chance of 1/x, ever: Ville 1939. (All from
/// memory; checked by simulated players who look after every call.)
pub(super) fn chance_of_bias(errors: &[f64], window: usize) -> f64 {
    let begun = errors.len().saturating_sub(window).div_ceil(EVERY);
    let latest = &errors[EVERY * begun..];
    let n = latest.len() as f64;
    let sum: f64 = latest.iter().sum();
    let squares: f64 = latest.iter().map(|error| error * error).sum();
    if squares == 0.0 {
        return 1.0;
    }
    let wide = squares * (1.0 + n * LIKELY);
    let log =
        0.5 * n * libm::log(wide / (wide - LIKELY * sum * sum)) - 0.5 * libm::log(1.0 + n * LIKELY);
    (libm::exp(-log) / share_of(begun)).min(1.0)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn all_shares_are_one() {
        let sum: f64 = (0..10_000).map(share_of).sum();
        assert!((sum - 1.0 + 1e-4).abs() < 1e-6, "{sum}, and what is left after so many");
    }

    /// The mixture itself, by summing the likelihoods over biases and spreads.
    #[test]
    fn the_closed_form_is_the_mixture() {
        let errors = [0.9, -0.2, 1.4, 0.3, 0.8, 1.1, -0.6, 0.7];
        let likelihood = |share: f64| {
            // Over spreads with the density 1/s, s in even steps of its logarithm.
            let step = 0.01;
            let at = |k: i32| {
                let spread = libm::exp(step * f64::from(k));
                let off: f64 = errors
                    .iter()
                    .map(|error| (error / spread - share) * (error / spread - share))
                    .sum();
                libm::exp(-0.5 * off) / spread.powi(errors.len() as i32)
            };
            (-600..600).map(at).sum::<f64>() * step
        };
        let (mut mixed, step) = (0.0, 0.01);
        for k in -400..=400 {
            let share = step * f64::from(k);
            let weight = libm::exp(-0.5 * share * share / LIKELY)
                / (2.0 * std::f64::consts::PI * LIKELY).sqrt();
            mixed += step * weight * likelihood(share);
        }
        let expected = likelihood(0.0) / mixed / share_of(0);
        let found = chance_of_bias(&errors, 200);
        assert!((found / expected - 1.0).abs() < 1e-6, "{found} for {expected}");
    }

    #[test]
    fn the_latest_calls_count() {
        let errors: Vec<f64> =
            (0..300).map(|k| if k < 100 { 9.0 } else { 0.0 } + f64::from(k % 2 * 2 - 1)).collect();
        assert!(chance_of_bias(&errors[..100], 200) < 1e-9, "a bias");
        assert_eq!(chance_of_bias(&errors, 200), 1.0, "that is no more");
        assert_eq!(chance_of_bias(&[0.0, 0.0], 200), 1.0, "no error at all");
    }
}
