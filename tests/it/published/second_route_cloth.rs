//! Sliding, rolling and spinning by a second route: the raw equations of motion,
//! integrated by a general-purpose library. Nothing here is shared with the core.

use super::check::check_printed;
use super::cloth::random_state;
use super::{GRAVITY, RADIUS, cloth, moving};
use crate::support::Seeded;
use differential_equations::prelude::{ExplicitRungeKutta, IVP};
use glam::{DVec2, DVec3};
use leaveline::physics::Course;
use leaveline::{BallMotion, Phase};

/// Position, velocity, spin.
type State = [f64; 7];

fn state(motion: &BallMotion) -> State {
    let (p, v, w) = (motion.position, motion.velocity, motion.spin);
    [p.x, p.y, v.x, v.y, w.x, w.y, w.z]
}

/// The state after `time` under `rates`, by the method of Dormand and Prince of
/// order eight.
fn after(start: State, time: f64, rates: impl Fn(f64, &State, &mut State)) -> State {
    let method = ExplicitRungeKutta::dop853().rtol(1e-11).atol(1e-12).max_steps(1_000_000);
    let solution = IVP::ode_from_fn(rates, 0.0, time, start).method(method).solve();
    *solution.expect("the motion is integrated").y.last().expect("it has an end")
}

/// Largest difference, spins counted as surface speeds.
fn difference(one: &State, two: &State) -> f64 {
    (0..7).map(|k| (one[k] - two[k]).abs() * if k >= 4 { RADIUS } else { 1.0 }).fold(0.0, f64::max)
}

/// Newton and Euler for a sphere that slides: friction against the slip, its moment
/// about the centre, and a decay of the spin about the vertical.
fn sliding(friction: f64, rounding: f64) -> impl Fn(f64, &State, &mut State) {
    move |_, s, rate| {
        let force = {
            let slip = DVec2::new(s[2] - RADIUS * s[5], s[3] + RADIUS * s[4]);
            slip * (-friction * GRAVITY / (slip.length_squared() + rounding * rounding).sqrt())
        };
        let moment =
            DVec3::new(0.0, 0.0, -RADIUS).cross(force.extend(0.0)) / (0.4 * RADIUS * RADIUS);
        *rate = [s[2], s[3], force.x, force.y, moment.x, moment.y, -10.0 * s[6].signum()];
    }
}

/// Random slides, at a third, two thirds and nearly all of their course. Both routes
/// are good to some 1e-11; the tolerance is what the checks of closed forms ask.
#[test]
fn slides_agree_with_the_raw_equations() {
    const SEED: u64 = 10;
    let mut seeded = Seeded::new(SEED);
    let mut worst: f64 = 0.0;
    for case in 0..200 {
        let mut start = random_state(&mut seeded);
        // The spin about the vertical must not end within the slide: the raw
        // equation has a jump there.
        start.spin.z = 300.0f64.copysign(start.spin.z);
        let friction = seeded.within(0.1, 0.4);
        let course = Course::new(start, RADIUS, &cloth(friction, 0.01));
        assert_eq!(course.phase, Phase::Sliding, "seed {SEED}, case {case}: it slips");
        for share in [0.33, 0.67, 0.99] {
            let time = course.span * share;
            let core = state(&course.motion(time));
            let raw = after(state(&start), time, sliding(friction, 0.0));
            let off = difference(&core, &raw) / start.velocity.length();
            assert!(off < 1e-9, "seed {SEED}, case {case} at {share}: off by {off:e}");
            worst = worst.max(off);
        }
    }
    check_printed("largest difference over 200 slides, of the speed", worst, 0.0, 1e-9);
}

/// When a slide ends, and with what velocity: the raw equation, with friction
/// rounded off below 1e-6 m/s so that it can run past the end, comes to the same.
/// The rounding lets the last 1e-6 m/s of slip decay instead of stop.
#[test]
fn slides_end_as_by_the_raw_equations() {
    const SEED: u64 = 11;
    let mut seeded = Seeded::new(SEED);
    let mut worst: f64 = 0.0;
    for case in 0..20 {
        let mut start = random_state(&mut seeded);
        start.spin.z = 300.0f64.copysign(start.spin.z);
        let friction = seeded.within(0.1, 0.4);
        let course = Course::new(start, RADIUS, &cloth(friction, 0.0));
        let end = course.end(RADIUS);
        let longer = course.span + 1e-4;
        let raw = after(state(&start), longer, sliding(friction, 1e-6));
        let velocity = (DVec2::new(raw[2], raw[3]) - end.velocity).length();
        let place = end.position + end.velocity * 1e-4;
        let place = (DVec2::new(raw[0], raw[1]) - place).length();
        let off = velocity.max(place);
        assert!(off < 2e-6, "seed {SEED}, case {case}: off by {off:e} m or m/s");
        worst = worst.max(off);
    }
    check_printed("largest difference at the end of 20 slides, m or m/s", worst, 0.0, 2e-6);
}

/// Random rolls, the raw equation being a drag along the path with the spin tied to
/// the velocity; the spin about the vertical falls by itself.
#[test]
fn rolls_agree_with_the_raw_equations() {
    const SEED: u64 = 12;
    let mut seeded = Seeded::new(SEED);
    let mut worst: f64 = 0.0;
    for case in 0..200 {
        let velocity = DVec2::from_angle(seeded.within(-3.2, 3.2)) * seeded.within(0.05, 2.0);
        let mut start = moving(velocity, 1.0, 0.0, RADIUS);
        start.spin.z = 2000.0 * if case % 2 == 0 { 1.0 } else { -1.0 };
        let resistance = seeded.within(0.005, 0.02);
        let course = Course::new(start, RADIUS, &cloth(0.2, resistance));
        assert_eq!(course.phase, Phase::Rolling, "seed {SEED}, case {case}: no slip");
        let rolling = |_: f64, s: &State, rate: &mut State| {
            let velocity = DVec2::new(s[2], s[3]);
            let drag = velocity * (-resistance * GRAVITY / velocity.length());
            let upright = -10.0 * s[6].signum();
            *rate = [s[2], s[3], drag.x, drag.y, -drag.y / RADIUS, drag.x / RADIUS, upright];
        };
        for share in [0.33, 0.67, 0.99] {
            let time = course.span * share;
            let core = state(&course.motion(time));
            let raw = after(state(&start), time, rolling);
            let off = difference(&core, &raw) / velocity.length();
            assert!(off < 1e-9, "seed {SEED}, case {case} at {share}: off by {off:e}");
            worst = worst.max(off);
        }
    }
    check_printed("largest difference over 200 rolls, of the speed", worst, 0.0, 1e-9);
}
