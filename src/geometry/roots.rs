//! First roots of the polynomials that say when two things touch.
//!
//! kurbo's and polycool's solvers find all roots, but cannot promise the first
//! one in an interval, miss some, and cost more than rejecting by sign; what is
//! needed here is only the first time a gap closes.

/// Deepest halving of an interval that holds more than one root. Two roots
/// closer than the interval over 2^44 are a graze: nothing presses there.
const DEEPEST: u32 = 44;

/// The time, if any, at which `c[0] + c[1] t + c[2] t²` falls through zero,
/// at or after `t = 0`. A parabola falls through zero once at most.
pub fn falling_root_quadratic(c: [f64; 3]) -> Option<f64> {
    let [constant, linear, square] = c;
    let discriminant = linear * linear - 4.0 * square * constant;
    if discriminant < 0.0 {
        return None;
    }
    // The slope at the root is minus this root of the discriminant.
    let slope = discriminant.sqrt();
    let time = if linear > 0.0 {
        if square >= 0.0 {
            return None;
        }
        -(linear + slope) / (2.0 * square)
    } else {
        let divisor = slope - linear;
        if divisor == 0.0 {
            return None;
        }
        2.0 * constant / divisor
    };
    (time >= 0.0).then_some(time)
}

/// The first time within `(0, span]` at which the polynomial with ascending
/// coefficients `c` falls to zero, given that it is positive at 0.
///
/// Rejects by the signs of the Bernstein coefficients, halves until one root is
/// left, then closes in by Newton's method inside a bracket.
///
/// # Source
/// Lane and Riesenfeld 1981, BIT 21, 112 (bounds by Bernstein coefficients,
/// halving); from memory.
pub fn first_fall<const N: usize>(c: &[f64; N], span: f64) -> Option<f64> {
    let bernstein = to_bernstein(c, span);
    if bernstein.iter().all(|&b| b > 0.0) {
        return None;
    }
    search(c, &bernstein, 0.0, span, 0)
}

/// Bernstein coefficients over `[0, span]`.
fn to_bernstein<const N: usize>(c: &[f64; N], span: f64) -> [f64; N] {
    let degree = N - 1;
    let mut scaled = *c;
    let mut power = 1.0;
    for (i, value) in scaled.iter_mut().enumerate() {
        *value *= power / binomial(degree, i);
        power *= span;
    }
    let mut bernstein = [0.0; N];
    for (j, sum) in bernstein.iter_mut().enumerate() {
        for (i, value) in scaled.iter().enumerate().take(j + 1) {
            *sum += binomial(j, i) * value;
        }
    }
    bernstein
}

/// Binomial coefficients up to the fourth row.
fn binomial(n: usize, k: usize) -> f64 {
    const ROWS: [[f64; 5]; 5] = [
        [1.0, 0.0, 0.0, 0.0, 0.0],
        [1.0, 1.0, 0.0, 0.0, 0.0],
        [1.0, 2.0, 1.0, 0.0, 0.0],
        [1.0, 3.0, 3.0, 1.0, 0.0],
        [1.0, 4.0, 6.0, 4.0, 1.0],
    ];
    ROWS[n][k]
}

fn search<const N: usize>(
    c: &[f64; N],
    bernstein: &[f64; N],
    low: f64,
    high: f64,
    depth: u32,
) -> Option<f64> {
    if bernstein.iter().all(|&b| b > 0.0) {
        return None;
    }
    if bernstein[0] <= 0.0 {
        return Some(low);
    }
    let changes = bernstein.windows(2).filter(|pair| (pair[0] > 0.0) != (pair[1] > 0.0)).count();
    if changes == 1 {
        return Some(close_in(c, low, high));
    }
    if depth == DEEPEST {
        return (bernstein[N - 1] <= 0.0).then_some(high);
    }
    let middle = 0.5 * (low + high);
    let (left, right) = halves(bernstein);
    search(c, &left, low, middle, depth + 1).or_else(|| search(c, &right, middle, high, depth + 1))
}

/// De Casteljau's halving.
fn halves<const N: usize>(bernstein: &[f64; N]) -> ([f64; N], [f64; N]) {
    let (mut left, mut right) = ([0.0; N], *bernstein);
    for (i, value) in left.iter_mut().enumerate() {
        *value = right[0];
        for j in 0..N - 1 - i {
            right[j] = 0.5 * (right[j] + right[j + 1]);
        }
    }
    (left, right)
}

/// The one root in a bracket at whose lower end the polynomial is positive and at
/// whose upper end it is not.
fn close_in<const N: usize>(c: &[f64; N], mut low: f64, mut high: f64) -> f64 {
    let mut time = 0.5 * (low + high);
    for _ in 0..100 {
        let (value, slope) = value_and_slope(c, time);
        if value > 0.0 {
            low = time;
        } else {
            high = time;
        }
        let newton = time - value / slope;
        let next = if newton > low && newton < high { newton } else { 0.5 * (low + high) };
        if (next - time).abs() <= 4.0 * f64::EPSILON * high || next == low || next == high {
            return next;
        }
        time = next;
    }
    time
}

fn value_and_slope<const N: usize>(c: &[f64; N], time: f64) -> (f64, f64) {
    let (mut value, mut slope) = (0.0, 0.0);
    for &coefficient in c.iter().rev() {
        slope = slope * time + value;
        value = value * time + coefficient;
    }
    (value, slope)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_parabola_falls_once() {
        assert_eq!(falling_root_quadratic([2.0, -3.0, 1.0]), Some(1.0), "opens upward: first root");
        assert_eq!(falling_root_quadratic([-2.0, 3.0, -1.0]), Some(2.0), "downward: second root");
        assert_eq!(falling_root_quadratic([1.0, -0.5, 0.0]), Some(2.0), "a line");
        assert_eq!(falling_root_quadratic([1.0, 0.5, 0.0]), None, "a rising line");
        assert_eq!(falling_root_quadratic([1.0, 0.0, 1.0]), None, "no root");
        assert_eq!(falling_root_quadratic([-1.0, -1.0, 0.0]), None, "it fell before");
        assert_eq!(falling_root_quadratic([0.0, 0.0, 0.0]), None, "nothing moves");
    }

    #[test]
    fn the_first_of_several_roots_is_found() {
        // (t - 1)(t - 2)(t - 3)(t - 4), positive at 0.
        let c = [24.0, -50.0, 35.0, -10.0, 1.0];
        let root = first_fall(&c, 10.0).expect("it has roots");
        assert!((root - 1.0).abs() < 1e-14, "{root}");
        assert_eq!(first_fall(&c, 0.9), None, "none in a short interval");
    }

    #[test]
    fn roots_a_hair_apart_are_told_from_none() {
        // (t - 1)² + shift: a graze from below, then just a miss.
        for (shift, expected) in [(-1e-10, true), (1e-10, false)] {
            let c = [1.0 + shift, -2.0, 1.0, 0.0, 0.0];
            assert_eq!(first_fall(&c, 3.0).is_some(), expected, "shift {shift}");
        }
    }

    #[test]
    fn agrees_with_a_library_on_random_quartics() {
        let mut state = 0x9e37_79b9_7f4a_7c15_u64;
        let mut uniform = || {
            state = state.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1);
            (state >> 11) as f64 / (1_u64 << 53) as f64 * 2.0 - 1.0
        };
        for case in 0..4000 {
            let mut c = [0.0; 5];
            c.fill_with(&mut uniform);
            c[0] = c[0].abs() + 1e-3;
            let ours = first_fall(&c, 1.0);
            let all = polycool::Poly::new(c).roots_between(0.0, 1.0, 1e-13);
            let theirs = all.into_iter().next();
            match (ours, theirs) {
                (Some(a), Some(b)) => assert!((a - b).abs() < 1e-9, "case {case}: {a} and {b}"),
                (None, None) => {}
                other => panic!("case {case}: {other:?} for {c:?}"),
            }
        }
    }
}
