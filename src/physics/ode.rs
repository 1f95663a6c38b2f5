//! One adaptive step of an ordinary differential equation.

/// The end of a step and the estimate of its error.
pub(super) struct Step<const N: usize> {
    /// State at the end of the step.
    pub end: [f64; N],
    /// Estimate of the largest error of any component.
    pub error: f64,
    /// The same from order five alone: far too large where the equation is smooth.
    pub coarse: f64,
}

/// Weights of the earlier slopes from which each slope after the first is taken.
const STAGES: [&[(usize, f64)]; 11] = [
    &[(0, 0.05260015195876773)],
    &[(0, 0.0197250569845379), (1, 0.0591751709536137)],
    &[(0, 0.02958758547680685), (2, 0.08876275643042054)],
    &[(0, 0.2413651341592667), (2, -0.8845494793282861), (3, 0.924834003261792)],
    &[(0, 0.037037037037037035), (3, 0.17082860872947386), (4, 0.12546768756682242)],
    &[(0, 0.037109375), (3, 0.17025221101954405), (4, 0.06021653898045596), (5, -0.017578125)],
    &[
        (0, 0.03709200011850479),
        (3, 0.17038392571223998),
        (4, 0.10726203044637328),
        (5, -0.015319437748624402),
        (6, 0.008273789163814023),
    ],
    &[
        (0, 0.6241109587160757),
        (3, -3.3608926294469414),
        (4, -0.868219346841726),
        (5, 27.59209969944671),
        (6, 20.154067550477894),
        (7, -43.48988418106996),
    ],
    &[
        (0, 0.47766253643826434),
        (3, -2.4881146199716677),
        (4, -0.590290826836843),
        (5, 21.230051448181193),
        (6, 15.279233632882423),
        (7, -33.28821096898486),
        (8, -0.020331201708508627),
    ],
    &[
        (0, -0.9371424300859873),
        (3, 5.186372428844064),
        (4, 1.0914373489967295),
        (5, -8.149787010746927),
        (6, -18.52006565999696),
        (7, 22.739487099350505),
        (8, 2.4936055526796523),
        (9, -3.0467644718982196),
    ],
    &[
        (0, 2.273310147516538),
        (3, -10.53449546673725),
        (4, -2.0008720582248625),
        (5, -17.9589318631188),
        (6, 27.94888452941996),
        (7, -2.8589982771350235),
        (8, -8.87285693353063),
        (9, 12.360567175794303),
        (10, 0.6433927460157636),
    ],
];

/// Weights of the slopes in the step of order eight.
const EIGHTH: [f64; 12] = [
    0.054293734116568765,
    0.0,
    0.0,
    0.0,
    0.0,
    4.450312892752409,
    1.8915178993145003,
    -5.801203960010585,
    0.3111643669578199,
    -0.1521609496625161,
    0.20136540080403034,
    0.04471061572777259,
];

/// What the weights of a step of order five differ by.
const FIFTH: [f64; 12] = [
    0.01312004499419488,
    0.0,
    0.0,
    0.0,
    0.0,
    -1.2251564463762044,
    -0.4957589496572502,
    1.6643771824549864,
    -0.35032884874997366,
    0.3341791187130175,
    0.08192320648511571,
    -0.022355307863886294,
];

/// What the weights of a step of order three differ by: the eighth order's,
/// but for these.
const THIRD: [(usize, f64); 3] =
    [(0, 0.2440944881889764), (8, 0.7338466882816118), (11, 0.022058823529411766)];

/// A step of length `h` from `start`, whose rates are given: the explicit
/// Runge-Kutta step of order eight with twelve slopes, its error estimated from
/// orders five and three.
///
/// # Source
/// Dormand and Prince's pair as given in Hairer, Norsett and Wanner, Solving
/// Ordinary Differential Equations I, second edition, II.5 (coefficients as
/// published with their code; the order is checked below).
#[inline]
pub(super) fn step<const N: usize>(
    start: &[f64; N],
    rates: &[f64; N],
    h: f64,
    mut f: impl FnMut(&[f64; N]) -> [f64; N],
) -> Step<N> {
    let mut slopes = [[0.0; N]; 12];
    slopes[0] = *rates;
    for (k, weights) in STAGES.iter().enumerate() {
        let mut at = *start;
        for &(j, weight) in *weights {
            add(&mut at, h * weight, &slopes[j]);
        }
        slopes[k + 1] = f(&at);
    }
    let (mut end, mut fifth, mut third) = (*start, [0.0; N], [0.0; N]);
    for (j, slope) in slopes.iter().enumerate() {
        add(&mut end, h * EIGHTH[j], slope);
        add(&mut fifth, h * FIFTH[j], slope);
        add(&mut third, h * EIGHTH[j], slope);
    }
    for (j, weight) in THIRD {
        add(&mut third, -h * weight, &slopes[j]);
    }
    let (fifth, third) = (largest(&fifth), largest(&third));
    // Where the fifth order's difference is nil by chance, the third order's counts.
    let fine = if fifth > 0.0 { fifth * fifth / (fifth + 0.1 * third) } else { 0.0 };
    let error = fine + 0.3 * third * third;
    Step { end, error, coarse: fifth }
}

/// Whether a step of length `h` with this error is good enough, and the length
/// to try next. The error is of order eight in the length.
pub(super) fn adapt(h: f64, error: f64, tolerance: f64) -> (bool, f64) {
    // Three roots of two are one of eight, and cheaper than a power.
    let factor = 0.9 * (tolerance / error).sqrt().sqrt().sqrt();
    // A state that is not a number is refused.
    (error <= tolerance, h * if factor > 0.2 { factor.min(8.0) } else { 0.2 })
}

#[inline]
fn add<const N: usize>(sum: &mut [f64; N], weight: f64, slope: &[f64; N]) {
    for (value, rate) in sum.iter_mut().zip(slope) {
        *value += weight * rate;
    }
}

#[inline]
fn largest<const N: usize>(values: &[f64; N]) -> f64 {
    // The comparison is written so that a value that is not a number remains.
    values.iter().fold(0.0, |most: f64, v| if v.abs() <= most { most } else { v.abs() })
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Error after a quarter turn of the harmonic oscillator in `n` equal steps,
    /// and the estimate made in the first.
    fn quarter_turn(n: u32) -> (f64, f64) {
        let h = std::f64::consts::FRAC_PI_2 / f64::from(n);
        let f = |s: &[f64; 2]| [s[1], -s[0]];
        let mut state = [1.0, 0.0];
        let estimate = step(&state, &f(&state), h, f).error;
        for _ in 0..n {
            state = step(&state, &f(&state), h, f).end;
        }
        (state[0].hypot(state[1] + 1.0), estimate)
    }

    /// Error of x' = -2 t x^2, x(0) = 1, at t = 1, whose answer is 1/2: a system
    /// that is neither linear nor free of the time.
    fn witch(n: u32) -> f64 {
        let h = 1.0 / f64::from(n);
        let f = |s: &[f64; 2]| [-2.0 * s[1] * s[0] * s[0], 1.0];
        let mut state = [1.0, 0.0];
        for _ in 0..n {
            state = step(&state, &f(&state), h, f).end;
        }
        (state[0] - 0.5).abs()
    }

    #[test]
    fn the_step_is_of_eighth_order() {
        let order = (quarter_turn(1).0 / quarter_turn(2).0).log2();
        assert!((7.5..9.5).contains(&order), "halving the step gains 2^8: order {order}");
        let order = (witch(4) / witch(8)).log2();
        assert!((7.3..9.5).contains(&order), "halving the step gains 2^8: order {order}");
    }

    #[test]
    fn the_estimate_bounds_the_error_and_falls_with_it() {
        let (error, estimate) = quarter_turn(2);
        assert!(error < estimate, "the error {error} is below its estimate {estimate}");
        let order = (estimate / quarter_turn(4).1).log2();
        assert!((7.0..9.5).contains(&order), "halving the step gains 2^8: order {order}");
    }
}
