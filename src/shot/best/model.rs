//! What strokes near a plan come to, drawn from those that were played there.

use super::climb::Tried;
use super::frame::Frame;
use super::prospect::Outlook;
use super::worth::Leave;
use crate::shot::Demand;
use glam::{DVec2, DVec4};

/// Terms of a quadratic in four variables.
const N_TERMS: usize = 15;

type Terms = [f64; N_TERMS];

/// Parts of the turns over which the gate is told.
const N_PARTS: usize = 40;

/// So many standard deviations of the turns to each side are told apart.
const SPAN: f64 = 3.0;

/// Strokes so far from the middle count less than half, in standard deviations.
const NEAR: f64 = 3.0;

/// A part of the turns is told of by strokes that count for so many.
const ENOUGH: f64 = 0.5;

/// What a quadratic term has to overcome, in strokes (tuning choice).
const STIFFNESS: f64 = 0.5;

/// With fewer strokes that leave the cue ball somewhere nothing is drawn.
const LEAST: usize = 10;

/// Where the gate is less no stop is asked for.
const SHUT: f64 = 1e-3;

/// One, the variables, their squares and products.
fn terms(x: DVec4) -> Terms {
    let [a, b, c, d] = x.to_array();
    [1.0, a, b, c, d, a * a, a * b, a * c, a * d, b * b, b * c, b * d, c * c, c * d, d * d]
}

fn sum(factors: &Terms, terms: &Terms) -> f64 {
    factors.iter().zip(terms).map(|(a, b)| a * b).sum()
}

/// How the ball on turns and where the cue ball stops, as quadratics of a stroke, and which
/// turns pot.
pub(super) struct Model {
    turn: Terms,
    stop: [Terms; 2],
    /// Standard deviation of a stop about what is drawn, each way, m.
    noise: f64,
    gate: Gate,
    hope: f64,
    leave: Leave,
}

/// What a turn of the ball on is worth, whatever the leave.
struct Gate {
    from: f64,
    part: f64,
    shares: [f64; N_PARTS],
}

impl Gate {
    /// Of strokes by their turn, what it was worth, and what they count for.
    fn new(all: &[(f64, f64, f64)]) -> Self {
        let weight: f64 = all.iter().map(|(.., weight)| weight).sum();
        let mean = all.iter().map(|(turn, _, weight)| turn * weight).sum::<f64>() / weight;
        let square = |(turn, _, weight): &(f64, f64, f64)| (turn - mean) * (turn - mean) * weight;
        let width = (all.iter().map(square).sum::<f64>() / weight).sqrt().max(1e-9);
        let (from, part) = (mean - SPAN * width, 2.0 * SPAN * width / N_PARTS as f64);
        let mut found = [(0.0, 0.0); N_PARTS];
        for (turn, value, weight) in all {
            let at = (((turn - from) / part).max(0.0) as usize).min(N_PARTS - 1);
            found[at].0 += value * weight;
            found[at].1 += weight;
        }
        let mut shares = [0.0; N_PARTS];
        for (k, share) in shares.iter_mut().enumerate() {
            // As far about as there are strokes.
            let (mut value, mut weight) = (2.0 * found[k].0, 2.0 * found[k].1);
            for reach in 1..N_PARTS {
                for at in [k.checked_sub(reach), Some(k + reach)].into_iter().flatten() {
                    let (its, of) = found.get(at).copied().unwrap_or_default();
                    value += its;
                    weight += of;
                }
                if weight > ENOUGH {
                    break;
                }
            }
            *share = if weight > 0.0 { value / weight } else { 0.0 };
        }
        Self { from, part, shares }
    }

    fn at(&self, turn: f64) -> f64 {
        let at = ((turn - self.from) / self.part - 0.5).clamp(0.0, (N_PARTS - 1) as f64);
        let below = (at as usize).min(N_PARTS - 2);
        let share = at - below as f64;
        self.shares[below] + (self.shares[below + 1] - self.shares[below]) * share
    }
}

impl Model {
    /// Of these strokes as `frame` sees them, a promise counting for `hope`; `None` if there
    /// are too few.
    pub fn new(demand: &Demand, frame: &Frame, tried: &[Tried], hope: f64) -> Option<Self> {
        let mut stops = Fit::<2>::new();
        let mut turns = Fit::<1>::new();
        let mut gates = Vec::with_capacity(tried.len());
        let seen: Vec<(Terms, f64)> = tried
            .iter()
            .map(|it| {
                let x = frame.seen(it.stroke);
                (terms(x), libm::exp(-0.5 * x.length_squared() / (NEAR * NEAR)))
            })
            .collect();
        for (it, (terms, weight)) in tried.iter().zip(&seen) {
            if it.turn.is_finite() {
                turns.add(terms, *weight, [it.turn]);
                gates.push((it.turn, it.gate(hope), *weight));
            }
            if it.gates[0] > 0.0 {
                stops.add(terms, *weight, it.stop.to_array());
            }
        }
        if stops.n < LEAST {
            return None;
        }
        let n_stops = stops.n;
        // Few strokes are met more nearly than others would be.
        let n_free = (n_stops - n_stops.min(N_TERMS) / 2) as f64;
        let (stop, turn) = (stops.solved()?, turns.solved()?[0]);
        let (mut square, mut weights) = (0.0, 0.0);
        for (it, (terms, weight)) in tried.iter().zip(&seen).filter(|(it, _)| it.gates[0] > 0.0) {
            let off = it.stop - DVec2::new(sum(&stop[0], terms), sum(&stop[1], terms));
            square += 0.5 * weight * off.length_squared();
            weights += weight;
        }
        let noise = (square / weights * n_stops as f64 / n_free).sqrt();
        let (gate, leave) = (Gate::new(&gates), Leave::of(demand));
        Some(Self { turn, stop, noise, gate, hope, leave })
    }

    /// What a stroke here, as the frame sees it, is worth.
    pub fn value(&self, x: DVec4, next: &mut dyn Outlook) -> f64 {
        let terms = terms(x);
        let gate = self.gate.at(sum(&self.turn, &terms));
        if gate < SHUT {
            return 0.0;
        }
        let stop = DVec2::new(sum(&self.stop[0], &terms), sum(&self.stop[1], &terms));
        gate * self.leave.about(stop, self.noise, self.hope, next)
    }
}

/// Least squares for several values of a stroke at once.
struct Fit<const N: usize> {
    n: usize,
    gram: [Terms; N_TERMS],
    sums: [Terms; N],
}

impl<const N: usize> Fit<N> {
    fn new() -> Self {
        Self { n: 0, gram: [[0.0; N_TERMS]; N_TERMS], sums: [[0.0; N_TERMS]; N] }
    }

    fn add(&mut self, terms: &Terms, weight: f64, values: [f64; N]) {
        self.n += 1;
        for (row, (line, term)) in self.gram.iter_mut().zip(terms).enumerate() {
            let by = weight * term;
            for (slot, other) in line[..=row].iter_mut().zip(terms) {
                *slot += by * other;
            }
        }
        for (sums, value) in self.sums.iter_mut().zip(values) {
            for (slot, term) in sums.iter_mut().zip(terms) {
                *slot += weight * value * term;
            }
        }
    }

    /// The factors of the terms, by Cholesky's method; `None` if there is no answer.
    fn solved(mut self) -> Option<[Terms; N]> {
        for k in 1..N_TERMS {
            self.gram[k][k] += if k < 5 { 1e-6 } else { STIFFNESS };
        }
        let lower = &mut self.gram;
        for i in 0..N_TERMS {
            for j in 0..=i {
                let rest = (0..j).fold(lower[i][j], |rest, k| rest - lower[i][k] * lower[j][k]);
                if i == j && rest <= 0.0 {
                    return None;
                }
                lower[i][j] = if i == j { rest.sqrt() } else { rest / lower[j][j] };
            }
        }
        for sums in &mut self.sums {
            for i in 0..N_TERMS {
                for k in 0..i {
                    sums[i] -= lower[i][k] * sums[k];
                }
                sums[i] /= lower[i][i];
            }
            for i in (0..N_TERMS).rev() {
                for k in i + 1..N_TERMS {
                    sums[i] -= lower[k][i] * sums[k];
                }
                sums[i] /= lower[i][i];
            }
        }
        Some(self.sums)
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::normal::quantile;
    use crate::shot::spread::spread_evenly;

    fn places(n: u32) -> impl Iterator<Item = DVec4> {
        (0..n).map(|k| DVec4::from_array(spread_evenly::<4>(k).map(quantile)))
    }

    #[test]
    fn a_quadratic_is_found_again() {
        let known: Terms = std::array::from_fn(|k| 0.3 - 0.05 * k as f64);
        let mut fit = Fit::<2>::new();
        for x in places(400) {
            let (terms, value) = (terms(x), sum(&known, &terms(x)));
            fit.add(&terms, 1.0, [value, 2.0 * value]);
        }
        let [one, two] = fit.solved().expect("enough strokes");
        for k in 0..N_TERMS {
            assert!((one[k] - known[k]).abs() < 0.003, "term {k}: {} of {}", one[k], known[k]);
            assert!((two[k] - 2.0 * one[k]).abs() < 1e-12, "twice as much: term {k}");
        }
    }

    #[test]
    fn nothing_is_drawn_through_nothing() {
        assert!(Fit::<1>::new().solved().is_none(), "no stroke at all");
    }

    #[test]
    fn a_gate_is_open_where_strokes_potted() {
        let all: Vec<(f64, f64, f64)> = places(300)
            .map(|x| (0.02 * x.x, f64::from(u8::from((-0.01..0.02).contains(&(0.02 * x.x)))), 1.0))
            .collect();
        let gate = Gate::new(&all);
        // Parts are 0.003 wide, and each is told with those beside it.
        for (turn, open) in [(-0.03, 0.0), (-0.017, 0.0), (-0.003, 1.0), (0.013, 1.0), (0.03, 0.0)]
        {
            assert!((gate.at(turn) - open).abs() < 0.05, "at {turn}: {}", gate.at(turn));
        }
        assert!((0.2..0.8).contains(&gate.at(0.02)), "half open on the edge: {}", gate.at(0.02));
        assert_eq!(gate.at(1.0), gate.at(0.5), "far off as at the end");
    }
}
