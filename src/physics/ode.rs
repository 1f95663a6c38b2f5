//! One adaptive step of an ordinary differential equation.

/// The end of a step and the estimate of its error.
pub(super) struct Step<const N: usize> {
    /// State at the end of the step.
    pub end: [f64; N],
    /// Largest difference between the last two orders.
    pub error: f64,
}

/// Into how many pieces the midpoint rule divides the step, for each column.
const PIECES: [usize; 4] = [2, 4, 6, 8];

/// A step of length `h` from `start`, whose rates are given: the midpoint rule,
/// whose error is even in the length of its pieces, extrapolated to order eight.
///
/// # Source
/// Gragg 1965, SIAM J. Numer. Anal. 2, 384; Bulirsch and Stoer 1966, Numer.
/// Math. 8, 1 (from memory; the order is checked below).
pub(super) fn extrapolated_step<const N: usize>(
    start: &[f64; N],
    rates: &[f64; N],
    h: f64,
    mut f: impl FnMut(&[f64; N]) -> [f64; N],
) -> Step<N> {
    let mut columns = [[0.0; N]; PIECES.len()];
    let mut error: f64 = 0.0;
    for (k, &pieces) in PIECES.iter().enumerate() {
        let piece = h / pieces as f64;
        let mut before = *start;
        let mut now = moved(start, piece, rates);
        for _ in 1..pieces {
            let next = moved(&before, 2.0 * piece, &f(&now));
            before = now;
            now = next;
        }
        // Neville's scheme in the square of the piece; columns[j] keeps the
        // newest value that rests on the pieces from j on.
        columns[k] = now;
        for j in (0..k).rev() {
            let ratio = pieces as f64 / PIECES[j] as f64;
            let weight = 1.0 / (ratio * ratio - 1.0);
            error = 0.0;
            let newer = columns[j + 1];
            for (value, new) in columns[j].iter_mut().zip(newer) {
                let better = new + (new - *value) * weight;
                error = error.max((better - new).abs());
                *value = better;
            }
        }
    }
    Step { end: columns[0], error }
}

/// Whether a step of length `h` with this error is good enough, and the length
/// to try next. The error is of order seven in the length.
pub(super) fn adapt(h: f64, error: f64, tolerance: f64) -> (bool, f64) {
    if error <= 0.0 {
        return (true, h * 4.0);
    }
    let factor = 0.8 * libm::pow(tolerance / error, 1.0 / 7.0);
    (error <= tolerance, h * factor.clamp(0.2, 4.0))
}

fn moved<const N: usize>(start: &[f64; N], time: f64, rates: &[f64; N]) -> [f64; N] {
    let mut end = *start;
    for (value, rate) in end.iter_mut().zip(rates) {
        *value += time * rate;
    }
    end
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Error after a quarter turn of the harmonic oscillator in `n` equal steps.
    fn quarter_turn(n: u32) -> f64 {
        let h = std::f64::consts::FRAC_PI_2 / f64::from(n);
        let f = |s: &[f64; 2]| [s[1], -s[0]];
        let mut state = [1.0, 0.0];
        for _ in 0..n {
            state = extrapolated_step(&state, &f(&state), h, f).end;
        }
        state[0].hypot(state[1] + 1.0)
    }

    #[test]
    fn the_step_is_of_eighth_order() {
        let order = (quarter_turn(2) / quarter_turn(4)).log2();
        assert!((7.5..9.0).contains(&order), "halving the step gains 2^8: order {order}");
    }
}
