//! The curve of stops as one input of a stroke varies.

use super::{Demand, Ending, Hand, Input, Situation};
use crate::physics::Stroke;
use glam::DVec2;

/// Values with which a trace begins, evenly over its range (tuning choice).
const COARSE: u32 = 16;

/// Stops of neighbours are brought as near as this, m (tuning choice: a ball's diameter).
const NEAR: f64 = 0.06;

/// How often a step may be halved: what is farther apart after that is a jump (tuning
/// choice: a five-hundredth of the range).
const HALVINGS: u32 = 5;

/// The most points of a trace (tuning choice: what a drawing needs and time allows).
pub const MOST_TRACE_POINTS: usize = 128;

/// One stop of a trace.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct TracePoint {
    /// The value of the input.
    pub value: f64,
    /// Where the cue ball stops, m; the middle of the hole it fell into.
    pub stop: DVec2,
    /// Whether the ball on is potted without a scratch.
    pub potted: bool,
    /// Whether all that is asked is given.
    pub met: bool,
    /// Whether the curve jumps from here to the next point: another cushion, another
    /// ball, a scratch.
    pub jumps: bool,
}

/// The stops of a stroke as one input varies.
#[derive(Clone, Debug, PartialEq)]
pub struct Trace {
    /// Which input.
    pub input: Input,
    /// The stops, in order of the input.
    pub points: Vec<TracePoint>,
}

/// The range of an input that `hand` covers within `sigmas` standard deviations when it
/// means to play `stroke`, its errors wider by `awkwardness`.
pub fn range_under(
    hand: &Hand,
    stroke: &Stroke,
    input: Input,
    sigmas: f64,
    awkwardness: f64,
) -> (f64, f64) {
    let reach = sigmas * awkwardness * input.error(stroke, hand);
    let (own, (least, most)) = (input.of(stroke), input.limits(stroke));
    ((own - reach).max(least), (own + reach).min(most))
}

/// The stops of `stroke`, which must have passed [`Stroke::check`], as `input` goes over
/// `range`, which must lie within [`Input::limits`]; all on the real model.
///
/// Begins with even steps and halves those over which the stop moves far; where it still
/// does after that, the trace is said to jump.
pub fn trace(
    situation: &Situation,
    demand: &Demand,
    stroke: &Stroke,
    input: Input,
    range: (f64, f64),
) -> Trace {
    let play = |value: f64| (value, situation.play(&input.set(stroke, value)));
    let (least, most) = range;
    let n_steps = if most > least { COARSE } else { 0 };
    let step = (most - least) / f64::from(n_steps.max(1));
    let mut points: Vec<(f64, Ending)> =
        (0..=n_steps).map(|k| play(least + step * f64::from(k))).collect();
    for halving in 1..=HALVINGS {
        let fine = step / f64::from(1 << halving) * 1.01;
        let mut k = 0;
        while k + 1 < points.len() && points.len() < MOST_TRACE_POINTS {
            let (from, to) = (&points[k], &points[k + 1]);
            let (middle, gap) = (0.5 * (from.0 + to.0), to.0 - from.0);
            if is_far(&from.1, &to.1) && gap > fine {
                points.insert(k + 1, play(middle));
                k += 1;
            }
            k += 1;
        }
    }
    let jumps: Vec<bool> = points.windows(2).map(|pair| is_far(&pair[0].1, &pair[1].1)).collect();
    let points = points.into_iter().enumerate().map(|(k, (value, ending))| TracePoint {
        value,
        stop: ending.stop,
        potted: demand.is_potted(&ending),
        met: demand.is_met(&ending),
        jumps: jumps.get(k).is_some_and(|jumps| *jumps),
    });
    Trace { input, points: points.collect() }
}

fn is_far(from: &Ending, to: &Ending) -> bool {
    from.scratch != to.scratch || (from.stop - to.stop).length() > NEAR
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::shot::SpeedError;
    use crate::shot::example::potted;

    #[test]
    fn neighbours_are_near_unless_the_trace_jumps() {
        let (situation, stroke) = potted(2.0, 0.1);
        let demand = Demand::to_pot(situation.on());
        for (input, range) in [
            (Input::Speed, (1.0, 3.0)),
            (Input::Azimuth, (stroke.azimuth - 0.02, stroke.azimuth + 0.02)),
            (Input::Height, (-0.4, 0.4)),
        ] {
            let found = trace(&situation, &demand, &stroke, input, range);
            let points = &found.points;
            assert_eq!((points[0].value, points[points.len() - 1].value), range, "{input:?}");
            assert!(points.len() <= MOST_TRACE_POINTS, "{input:?}: {} points", points.len());
            for pair in points.windows(2) {
                assert!(pair[0].value < pair[1].value, "{input:?} in order");
                let gap = (pair[0].stop - pair[1].stop).length();
                assert!(pair[0].jumps || gap <= NEAR, "{input:?}: {gap} m at {}", pair[0].value);
            }
            let calm = points.iter().filter(|point| !point.jumps).count();
            assert!(2 * calm > points.len(), "{input:?} is mostly smooth: {calm}");
        }
    }

    #[test]
    fn a_pot_that_fails_is_marked() {
        let (situation, stroke) = potted(2.0, 0.1);
        let demand = Demand::to_pot(situation.on());
        let range = (stroke.azimuth - 0.02, stroke.azimuth + 0.02);
        let points = trace(&situation, &demand, &stroke, Input::Azimuth, range).points;
        assert!(!points[0].potted && !points[points.len() - 1].potted, "a degree off misses");
        let middle = points.iter().find(|point| point.value >= stroke.azimuth).expect("inside");
        assert!(middle.potted, "as aimed it falls");
    }

    #[test]
    fn the_range_is_the_hands_within_what_can_be_played() {
        let (_, stroke) = potted(2.0, 0.1);
        let hand =
            Hand { azimuth: 0.002, elevation: 0.0, speed: SpeedError::Relative(0.05), tip: 0.3 };
        let (low, high) = range_under(&hand, &stroke, Input::Speed, 2.0, 1.5);
        assert!((low - 1.7).abs() < 1e-12 && (high - 2.3).abs() < 1e-12, "{low} to {high}");
        let tip = range_under(&hand, &stroke, Input::Height, 2.0, 1.0);
        assert_eq!(tip, (-0.5, 0.5), "as far as the miscue limit");
        let none = Hand { speed: SpeedError::Absolute(0.0), ..hand };
        let (low, high) = range_under(&none, &stroke, Input::Speed, 2.0, 1.0);
        assert_eq!((low, high), (stroke.speed, stroke.speed), "no error, no range");
    }
}
