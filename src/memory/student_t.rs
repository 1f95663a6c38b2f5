//! Student's t distribution, by `libm` alone.

/// Probability that a value of Student's distribution with `freedom` degrees lies farther
/// from nil than `t`, on either side.
///
/// # Source
/// By the regularised incomplete beta function, DLMF 8.17; its continued fraction is
/// 8.17.22 (both from memory, checked against closed forms).
pub fn two_sided(t: f64, freedom: f64) -> f64 {
    if !t.is_finite() {
        return if t.is_nan() { 1.0 } else { 0.0 };
    }
    beta(freedom / (freedom + t * t), 0.5 * freedom, 0.5)
}

/// Beyond this value of t lies the share `outside` of Student's distribution with `freedom`
/// degrees, on both sides together: half the width of an interval, in standard errors.
pub fn half_width(outside: f64, freedom: f64) -> f64 {
    // What lies outside falls ever more slowly, so Newton's steps from nil never go too far.
    let mut t = 0.0;
    for _ in 0..100 {
        let step = 0.5 * (two_sided(t, freedom) - outside) / density(t, freedom);
        t += step;
        if step <= 1e-12 * t {
            break;
        }
    }
    t
}

/// The density of Student's distribution.
fn density(t: f64, freedom: f64) -> f64 {
    let half = 0.5 * (freedom + 1.0);
    let log = libm::lgamma(half) - libm::lgamma(0.5 * freedom);
    let scale = (std::f64::consts::PI * freedom).sqrt();
    libm::exp(log - half * libm::log1p(t * t / freedom)) / scale
}

/// The regularised incomplete beta function.
fn beta(x: f64, a: f64, b: f64) -> f64 {
    if x <= 0.0 || x >= 1.0 {
        return x.clamp(0.0, 1.0);
    }
    // The fraction is quick on this side of the mean; the other is its mirror.
    if x > (a + 1.0) / (a + b + 2.0) {
        return 1.0 - beta(1.0 - x, b, a);
    }
    let ends = a * libm::log(x) + b * libm::log1p(-x);
    let front = ends + libm::lgamma(a + b) - libm::lgamma(a) - libm::lgamma(b);
    libm::exp(front) * fraction(x, a, b) / a
}

/// Its continued fraction, by the method of Lentz.
fn fraction(x: f64, a: f64, b: f64) -> f64 {
    const TINY: f64 = 1e-300;
    let away = |value: f64| if value.abs() < TINY { TINY } else { value };
    let (mut c, mut d) = (1.0, 1.0 / away(1.0 - (a + b) * x / (a + 1.0)));
    let mut product = d;
    for m in 1..300 {
        let m = f64::from(m);
        let even = m * (b - m) * x / ((a + 2.0 * m - 1.0) * (a + 2.0 * m));
        let odd = -(a + m) * (a + b + m) * x / ((a + 2.0 * m) * (a + 2.0 * m + 1.0));
        let before = product;
        for term in [even, odd] {
            d = 1.0 / away(1.0 + term * d);
            c = away(1.0 + term / c);
            product *= c * d;
        }
        if (product / before - 1.0).abs() < 1e-15 {
            break;
        }
    }
    product
}

#[cfg(test)]
mod tests {
    use super::*;
    use std::f64::consts::PI;

    /// Source: with one degree it is Cauchy's distribution, with two it has a closed form
    /// (Johnson, Kotz and Balakrishnan, Continuous Univariate Distributions 2, ch. 28; from
    /// memory).
    #[test]
    fn closed_forms_are_met() {
        for t in [0.0, 0.3, 1.0, 2.5, 12.0, 400.0_f64] {
            let cauchy = 1.0 - 2.0 * libm::atan(t) / PI;
            assert!((two_sided(t, 1.0) - cauchy).abs() < 1e-13, "one degree, t = {t}");
            let two = 1.0 - t / (2.0 + t * t).sqrt();
            assert!((two_sided(-t, 2.0) - two).abs() < 1e-13, "two degrees, t = {t}");
        }
    }

    #[test]
    fn many_degrees_are_normal() {
        for t in [0.5, 1.0, 1.96, 3.0] {
            let normal = 2.0 * leaveline_core::normal::below(-t);
            let off = two_sided(t, 1e7) - normal;
            assert!(off.abs() < 1e-6, "t = {t}: {off}");
        }
    }

    /// Source: the printed table of Student's distribution (values from memory).
    #[test]
    fn the_printed_table_is_met() {
        for (freedom, t) in [(1.0, 12.706), (9.0, 2.262), (30.0, 2.042), (120.0, 1.980)] {
            let found = half_width(0.05, freedom);
            assert!((found - t).abs() < 0.0005, "{freedom} degrees: {found}");
        }
    }

    #[test]
    fn what_lies_outside_is_what_was_asked_for() {
        for freedom in [1.0, 2.0, 7.0, 199.0] {
            for outside in [0.9, 0.05, 1e-6] {
                let off = two_sided(half_width(outside, freedom), freedom) / outside - 1.0;
                assert!(off.abs() < 1e-8, "{outside} of {freedom} degrees: {off}");
            }
        }
    }
}
