//! Power series cut off at one order, built up term by term.
//!
//! Two series that are treated alike stand side by side in one [`Pair`], which the
//! processor multiplies at once.

use wide::f64x2;

/// The highest power kept (tuning choice: the work of a step grows with its square,
/// the length with the error's root; from 12 to 18 the two balance).
pub(super) const ORDER: usize = 16;

/// Two numbers side by side.
pub(super) type Pair = f64x2;

/// The terms of one series.
pub(super) type Series = [f64; ORDER + 1];

/// The terms of two series side by side.
pub(super) type Pairs = [Pair; ORDER + 1];

/// A series of nothing.
pub(super) const NO_SERIES: Series = [0.0; ORDER + 1];

/// Two series of nothing.
pub(super) const NO_PAIRS: Pairs = [Pair::ZERO; ORDER + 1];

/// What a rate's term of each order is multiplied by to give the next term of
/// that which it changes.
pub(super) const NEXT: Series = {
    let mut shares = NO_SERIES;
    let mut k = 0;
    while k <= ORDER {
        shares[k] = 1.0 / (k as f64 + 1.0);
        k += 1;
    }
    shares
};

/// Two numbers side by side.
#[inline(always)]
pub(super) fn pair(one: f64, two: f64) -> Pair {
    Pair::new([one, two])
}

/// One number on both sides.
#[inline(always)]
pub(super) fn both(value: f64) -> Pair {
    Pair::splat(value)
}

#[inline(always)]
pub(super) fn first(pair: Pair) -> f64 {
    pair.to_array()[0]
}

#[inline(always)]
pub(super) fn second(pair: Pair) -> f64 {
    pair.to_array()[1]
}

/// Of the two numbers.
#[inline(always)]
pub(super) fn sum(pair: Pair) -> f64 {
    let [one, two] = pair.to_array();
    one + two
}

/// The last term of the products of two series side by side, of which as many
/// terms are given.
#[inline(always)]
pub(super) fn products(a: &[Pair], b: &[Pair]) -> Pair {
    let n = a.len();
    match n {
        0 => Pair::ZERO,
        1 => a[0] * b[0],
        _ => {
            // The newest terms come last: the processor need not wait for them.
            let old = a[1..n - 1]
                .iter()
                .zip(b[1..n - 1].iter().rev())
                .fold(Pair::ZERO, |total, (a, b)| total + *a * *b);
            old + (a[0] * b[n - 1] + a[n - 1] * b[0])
        }
    }
}

/// The last term of the squares of two series side by side.
#[inline(always)]
pub(super) fn squares(a: &[Pair]) -> Pair {
    let (low, high) = a.split_at(a.len() / 2);
    let high_half = &high[a.len() % 2..];
    let half = low.iter().rev().zip(high_half).fold(Pair::ZERO, |total, (a, b)| total + *a * *b);
    let twice = half + half;
    if a.len().is_multiple_of(2) { twice } else { high[0] * high[0] + twice }
}

/// The integral of the product of two series, side by side, from `since` to `until`.
///
/// # Source
/// The Gauss-Legendre formula of six points, NIST Digital Library of Mathematical
/// Functions, section 3.5(v) (values from memory; that it is exact up to degree 11 is
/// checked below).
#[inline]
pub(super) fn integral_of_product(series: &Pairs, since: f64, until: f64) -> f64 {
    const POINTS: [(f64, f64); 3] = [
        (0.238_619_186_083_196_9, 0.467_913_934_572_691_05),
        (0.661_209_386_466_264_5, 0.360_761_573_048_138_6),
        (0.932_469_514_203_152, 0.171_324_492_379_170_36),
    ];
    let (half, middle) = (0.5 * (until - since), 0.5 * (until + since));
    let product = |t: f64| {
        let t = both(t);
        let at = series.iter().rev().fold(Pair::ZERO, |total, term| total * t + *term);
        first(at) * second(at)
    };
    half * POINTS.iter().fold(0.0, |total, (point, weight)| {
        total + weight * (product(middle - half * point) + product(middle + half * point))
    })
}

/// The values of two series at `t`, their slopes, and half of the slopes' slopes.
#[inline(always)]
pub(super) fn values_and_slopes(series: &Pairs, t: f64) -> [Pair; 3] {
    let t = both(t);
    series.iter().rev().fold([Pair::ZERO; 3], |[value, slope, bend], term| {
        [value * t + *term, slope * t + value, bend * t + slope]
    })
}

/// The values of two series at `t`.
#[inline(always)]
pub(super) fn values(series: &Pairs, t: f64) -> Pair {
    // Even and odd powers apart, side by side.
    let (t, square) = (both(t), both(t * t));
    let pairs = series.as_chunks::<2>();
    let (mut even, mut odd) = (pairs.1[0], Pair::ZERO);
    for [a, b] in pairs.0.iter().rev() {
        even = even * square + *a;
        odd = odd * square + *b;
    }
    even + odd * t
}

/// How far from 0 series go whose last two terms are at most `before` and `last`,
/// for an error of about `tolerance`: without end if they end before.
///
/// # Source
/// Jorba and Zou 2005, Experimental Mathematics 14, 99: the step of a Taylor method
/// from its last two terms (the idea; the roots are taken our way).
#[inline]
pub(super) fn reach(before: f64, last: f64, tolerance: f64) -> f64 {
    // Where all but the first terms are nil, both roots are those of infinity.
    let last = root::<{ ORDER as i64 }>(tolerance / last);
    let before = root::<{ ORDER as i64 - 1 }>(MOST_BEFORE * tolerance / before);
    last.min(before)
}

/// By how much the last term but one may exceed the tolerance.
const MOST_BEFORE: f64 = 8.0;

/// The root of so high a degree, good to some six per cent: a number's bits are about
/// its logarithm. (The true root takes a tenth of the whole impact.)
#[inline]
fn root<const DEGREE: i64>(x: f64) -> f64 {
    let one = 1.0_f64.to_bits() as i64;
    f64::from_bits(((x.to_bits() as i64 - one) / DEGREE + one) as u64)
}

#[cfg(test)]
mod tests {
    use super::*;

    /// The terms of e to the power of `rate` t.
    fn exponential(rate: f64) -> Series {
        let mut terms = NO_SERIES;
        terms[0] = 1.0;
        for k in 0..ORDER {
            terms[k + 1] = terms[k] * rate * NEXT[k];
        }
        terms
    }

    fn side_by_side(one: &Series, two: &Series) -> Pairs {
        std::array::from_fn(|k| pair(one[k], two[k]))
    }

    #[test]
    fn products_and_squares_of_exponentials_are_exponentials() {
        let (slow, fast) = (exponential(1.0), exponential(-0.5));
        let (a, b) = (side_by_side(&slow, &fast), side_by_side(&fast, &slow));
        let (sum, double, half) = (exponential(0.5), exponential(2.0), exponential(-1.0));
        for k in 0..=ORDER {
            let product = products(&a[..=k], &b[..=k]).to_array();
            assert!((product[0] - sum[k]).abs() < 1e-15, "term {k} of the product");
            assert!((product[1] - sum[k]).abs() < 1e-15, "term {k} of the product");
            let square = squares(&a[..=k]).to_array();
            assert!((square[0] - double[k]).abs() < 1e-15, "term {k} of the square");
            assert!((square[1] - half[k]).abs() < 1e-15, "term {k} of the square");
        }
    }

    #[test]
    fn a_series_is_summed_with_its_slopes() {
        let (series, t) = (exponential(-0.5), 0.7_f64);
        let exact = libm::exp(-0.5 * t);
        let two = side_by_side(&series, &exponential(0.0));
        let [value, slope, bend] = values_and_slopes(&two, t).map(first);
        assert!((value - exact).abs() < 1e-15, "value {value}");
        assert!((slope + 0.5 * exact).abs() < 1e-15, "slope {slope}");
        assert!((bend - 0.125 * exact).abs() < 1e-15, "half of the slope's slope {bend}");
        let pair = values(&two, t).to_array();
        assert!((pair[0] - exact).abs() < 1e-15 && pair[1] == 1.0, "side by side {pair:?}");
    }

    #[test]
    fn the_integral_is_exact_up_to_degree_eleven() {
        let power = |n: usize| std::array::from_fn(|k| if k == n { 1.0 } else { 0.0 });
        for n in 0..12 {
            let product = side_by_side(&power(n / 2), &power(n - n / 2));
            let got = integral_of_product(&product, 0.5, 1.5);
            let order = n as f64 + 1.0;
            let exact = (libm::pow(1.5, order) - libm::pow(0.5, order)) / order;
            assert!((got - exact).abs() < 1e-14 * exact, "degree {n}: {got} for {exact}");
        }
        let product = side_by_side(&power(6), &power(6));
        let beyond = integral_of_product(&product, 0.0, 1.0) - 1.0 / 13.0;
        assert!(beyond.abs() > 1e-9, "and not beyond, {beyond}");
    }

    #[test]
    fn a_series_reaches_as_far_as_its_last_terms_allow() {
        // The terms of 1 / (1 - t / 2), which fall by half at each order.
        let term = |k: i32| libm::pow(0.5, f64::from(k));
        let far = reach(term(15), term(16), 1e-9);
        let left_out = libm::pow(0.5 * far, 17.0) / (1.0 - 0.5 * far);
        assert!((1e-10..2e-9).contains(&left_out), "{left_out} is left out at {far}");
        assert!(reach(0.0, 0.0, 1e-9) > 1e15, "a series that ends goes anywhere");
        assert!(reach(1e-3, 0.0, 1e-9) < 1.0, "a last term that is nil by chance");
    }

    #[test]
    fn a_root_is_good_to_six_per_cent() {
        for k in -200..200 {
            let x = libm::pow(1.37, f64::from(k));
            let exact = libm::pow(x, 1.0 / 16.0);
            let got = root::<16>(x);
            assert!((got / exact - 1.0).abs() < 0.063, "{got} for {exact}, of {x}");
        }
    }
}
