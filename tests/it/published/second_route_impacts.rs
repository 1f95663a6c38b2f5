//! Impacts by a second route: the same mechanics as springs and frictions in
//! time, integrated by a general-purpose library. Nothing here is shared with the
//! core.

use super::check::check_printed;
use super::{RADIUS, balls, moving};
use crate::support::Seeded;
use differential_equations::prelude::{ExplicitRungeKutta, IVP};
use glam::{DVec2, DVec3};
use leaveline::BallMotion;
use leaveline::physics::{CushionLaw, collide};

/// Speed below which friction is rounded off in place of a sudden sign, as a
/// share of the ball's speed: what Coulomb's law loses by it is of this order.
const ROUNDING: f64 = 1e-6;

/// Stiffness and mass are one, so an impact lasts about pi; with friction and a
/// slow return it has long ended after this.
const DURATION: f64 = 12.0;

/// Force of a spring that returns `kept` (a restitution) squared of the work:
/// compressed by `now`, after `most`. Nil once the surfaces have parted.
fn spring(now: f64, most: f64, kept: f64) -> f64 {
    let square = kept * kept;
    ((now - most * (1.0 - square)) / square).max(0.0)
}

/// End state of `rates` from `start`, by the method of Dormand and Prince of order
/// eight.
fn integrate<const N: usize>(
    start: [f64; N],
    duration: f64,
    rates: impl Fn(f64, &[f64; N], &mut [f64; N]),
) -> [f64; N] {
    let method = ExplicitRungeKutta::dop853().rtol(1e-9).atol(1e-12).max_steps(20_000_000);
    let solution = IVP::ode_from_fn(rates, 0.0, duration, start).method(method).solve();
    *solution.expect("the impact is integrated").y.last().expect("it has an end")
}

/// The ball after a cushion on its +y side, by the spring; the velocity and the
/// spin times the radius. Friction is rounded off below `rounding` of the speed.
fn cushion_by_spring(law: &CushionLaw, motion: &BallMotion, rounding: f64) -> [f64; 5] {
    let (sine, cosine) = (law.sine, (1.0 - law.sine * law.sine).sqrt());
    let turn = motion.spin * law.radius;
    let start = [motion.velocity.x, motion.velocity.y, turn.x, turn.y, turn.z, 0.0, 0.0];
    let soft = rounding * motion.velocity.length();
    let end = integrate(start, DURATION, |_, s: &[f64; 7], rate: &mut [f64; 7]| {
        let [vx, vy, wx, wy, wz, now, most] = *s;
        let press = spring(now, most, law.restitution);
        // Surface of the ball over the nose, and over the bed.
        let nose = DVec2::new(vx + wy * sine - wz * cosine, wx - vy * sine);
        let bed = DVec2::new(vx - wy, vy + wx);
        let rounded = |slip: DVec2| slip / (slip.length_squared() + soft * soft).sqrt();
        let nose = rounded(nose) * (-law.nose_friction * press);
        // The bed holds what the nose's push and friction send down.
        let weight = (press * sine - nose.y * cosine).max(0.0);
        let bed = rounded(bed) * (-law.bed_friction * weight);
        let force_x = nose.x + bed.x;
        let force_y = -press * cosine - nose.y * sine + bed.y;
        // Torque r x F over 2/5, at the nose (0, cosine, sine) and the bed (0, 0, -1).
        let (fy, fz) = (-nose.y * sine, nose.y * cosine);
        let torque =
            DVec3::new(cosine * fz - sine * fy + bed.y, sine * nose.x - bed.x, -cosine * nose.x)
                * 2.5;
        let closing = cosine * vy;
        *rate = [force_x, force_y, torque.x, torque.y, torque.z, closing, closing.max(0.0)];
    });
    [end[0], end[1], end[2], end[3], end[4]]
}

fn state(motion: &BallMotion, radius: f64) -> [f64; 5] {
    let turn = motion.spin * radius;
    [motion.velocity.x, motion.velocity.y, turn.x, turn.y, turn.z]
}

/// Random impacts, from grazing to square, with any spin, on cushions of every
/// plausible kind, to 1e-4 of the speed. The rounding of the spring's friction
/// costs up to 3e-5 of it: with a tenth of the rounding, 400 impacts took a minute
/// and agreed to 1e-5.
#[test]
fn cushion_impacts_agree_with_a_spring_in_time() {
    const SEED: u64 = 2010;
    let mut seeded = Seeded::new(SEED);
    let mut worst: f64 = 0.0;
    for case in 0..150 {
        let law = CushionLaw {
            radius: RADIUS,
            sine: seeded.within(0.2, 0.4),
            restitution: seeded.within(0.6, 0.98),
            nose_friction: seeded.within(0.05, 0.35),
            bed_friction: seeded.within(0.15, 0.4),
        };
        let heading = seeded.within(3.0, 177.0).to_radians();
        let roll = seeded.within(-1.2, 1.2);
        let side = seeded.within(-1.2, 1.2);
        let mut motion = moving(DVec2::from_angle(heading), roll, side, RADIUS);
        // Every third ball has just left another and spins about any axis.
        if case % 3 == 0 {
            motion.spin.x += seeded.within(-20.0, 20.0);
            motion.spin.y += seeded.within(-20.0, 20.0);
        }
        let core = state(&law.rebound(&motion, DVec2::NEG_Y), RADIUS);
        let other = cushion_by_spring(&law, &motion, ROUNDING);
        let off = core.iter().zip(&other).map(|(a, b)| (a - b).abs()).fold(0.0, f64::max);
        if off > 1e-5 {
            println!("case {case}: off {off:e}: {law:?} {motion:?} {core:?} {other:?}");
        }
        worst = worst.max(off);
    }
    check_printed("largest difference over 150 impacts, of the speed", worst, 0.0, 1e-4);
}

/// Two balls as a compliant contact with friction of constant coefficient, in
/// three dimensions: velocities, and spins times the radius.
fn balls_by_spring(one: &BallMotion, two: &BallMotion, line: DVec2, e: f64, mu: f64) -> [f64; 12] {
    let n = line.extend(0.0);
    let speed = (one.velocity - two.velocity).length();
    let soft = ROUNDING * speed;
    let mut start = [0.0; 14];
    let parts =
        [one.velocity.extend(0.0), two.velocity.extend(0.0), one.spin * RADIUS, two.spin * RADIUS];
    for (k, part) in parts.iter().enumerate() {
        start[3 * k..3 * k + 3].copy_from_slice(&part.to_array());
    }
    let end = integrate(start, DURATION, |_, s: &[f64; 14], rate: &mut [f64; 14]| {
        let part = |k: usize| DVec3::new(s[3 * k], s[3 * k + 1], s[3 * k + 2]);
        let press = spring(s[12], s[13], e);
        // Surface of the first ball at n over that of the second at -n.
        let surface = part(0) + part(2).cross(n) - part(1) + part(3).cross(n);
        let closing = surface.dot(n);
        let slip = surface - n * closing;
        let rub = slip * (-mu * press / (slip.length_squared() + soft * soft).sqrt());
        let turn = n.cross(rub) * 2.5;
        let force = rub - n * press;
        for (k, part) in [force, -force, turn, turn].iter().enumerate() {
            rate[3 * k..3 * k + 3].copy_from_slice(&part.to_array());
        }
        rate[12] = closing;
        rate[13] = closing.max(0.0);
    });
    let mut parts = [0.0; 12];
    parts.copy_from_slice(&end[..12]);
    parts
}

/// Random meetings of two moving, spinning balls, from full to grazing. The
/// vertical velocities that the spring gives are not compared: balls stay on the
/// cloth.
#[test]
fn collisions_agree_with_a_spring_in_time() {
    const SEED: u64 = 2014;
    let mut seeded = Seeded::new(SEED);
    let mut worst: f64 = 0.0;
    for case in 0..100 {
        let mut one = super::cloth::random_state(&mut seeded);
        let mut two = super::cloth::random_state(&mut seeded);
        if case % 2 == 0 {
            two = BallMotion::default();
        }
        let line = DVec2::from_angle(seeded.within(-3.2, 3.2));
        let closing = (one.velocity - two.velocity).dot(line);
        if closing < 0.0 {
            // Turned about, they close.
            one.velocity = -one.velocity;
            two.velocity = -two.velocity;
        }
        let (e, mu) = (seeded.within(0.8, 0.99), seeded.within(0.01, 0.15));
        let core = collide(&one, &two, line, RADIUS, &balls(e, mu));
        let other = balls_by_spring(&one, &two, line, e, mu);
        let speed = (one.velocity - two.velocity).length();
        for (ball, motion) in [core.0, core.1].iter().enumerate() {
            let (v, w) = (3 * ball, 6 + 3 * ball);
            let velocity = DVec2::new(other[v], other[v + 1]) - motion.velocity;
            let spin = DVec3::new(other[w], other[w + 1], other[w + 2]) - motion.spin * RADIUS;
            let off = (velocity.length() + spin.length()) / speed;
            assert!(off < 1e-4, "seed {SEED}, case {case}: off by {off:e} of the speed");
            worst = worst.max(off);
        }
    }
    check_printed("largest difference over 100 collisions, of the speed", worst, 0.0, 1e-4);
}

/// The rounding explains a printed value: "0.959956" for the square rebound of a
/// rolling ball is what friction rounded off below 1e-4 of the speed gives.
#[test]
fn rounded_friction_gives_the_printed_square_rebound() {
    let law = super::cushion::pool(0.98);
    let motion = moving(DVec2::Y, 1.0, 0.0, RADIUS);
    let rounded = cushion_by_spring(&law, &motion, 1e-4);
    check_printed("rounded at 1e-4", -rounded[1], 0.959_956, 5e-7);
    let core = law.rebound(&motion, DVec2::NEG_Y);
    let fine = cushion_by_spring(&law, &motion, 1e-7);
    check_printed("rounded at 1e-7: the model's", -fine[1], -core.velocity.y, 1e-6);
}
