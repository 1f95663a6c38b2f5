//! What mechanics keeps when two balls meet.

use super::check::{check_between, check_printed};
use super::cloth::random_state;
use super::{RADIUS, balls};
use crate::support::Seeded;
use glam::{DVec2, DVec3};
use leaveline::BallMotion;
use leaveline::physics::{closing_speed, collide, specific_energy};

/// Derived: momentum in the plane is kept to rounding, so is the angular momentum
/// about the point of contact of each ball by itself, and energy never grows. The
/// vertical momentum that friction would give is stopped by the cloth or dropped, so
/// only its moment is counted.
#[test]
fn collisions_keep_momentum_and_lose_energy() {
    const SEED: u64 = 25;
    let mut seeded = Seeded::new(SEED);
    let (mut momentum, mut turning, mut kept): (f64, f64, f64) = (0.0, 0.0, 0.0);
    for case in 0..5000 {
        let mut one = random_state(&mut seeded);
        let two = random_state(&mut seeded);
        let line = DVec2::from_angle(seeded.within(-3.2, 3.2));
        if closing_speed(&one, &two, line) < 0.0 {
            one.velocity += line * 12.0;
        }
        let contact = balls(seeded.within(0.0, 1.0), seeded.within(0.0, 0.3));
        let (after, other) = collide(&one, &two, line, RADIUS, &contact);

        let total = (after.velocity + other.velocity - one.velocity - two.velocity).length();
        momentum = momentum.max(total / (one.velocity.length() + two.velocity.length()));
        assert!(total < 1e-12 * 20.0, "seed {SEED}, case {case}: momentum changed by {total:e}");

        // About the contact, the impulse there has no moment: what the centre gains
        // in the plane the spin loses.
        let arm = line.extend(0.0) * RADIUS;
        for (before, now, arm) in [(&one, &after, arm), (&two, &other, -arm)] {
            let about = |m: &BallMotion| {
                m.spin * (0.4 * RADIUS * RADIUS) - arm.cross(m.velocity.extend(0.0))
            };
            let change = about(now) - about(before);
            // The part about horizontal axes belongs to the vertical impulse.
            let upright = change.dot(DVec3::Z).abs() / RADIUS;
            assert!(upright < 1e-12 * 20.0, "seed {SEED}, case {case}: turned by {upright:e}");
            turning = turning.max(upright);
        }

        let before = specific_energy(&one, RADIUS) + specific_energy(&two, RADIUS);
        let share = (specific_energy(&after, RADIUS) + specific_energy(&other, RADIUS)) / before;
        assert!(share <= 1.0 + 1e-12, "seed {SEED}, case {case}: energy grew to {share}");
        kept = kept.max(share);
    }
    check_printed("largest change of momentum, of the speeds", momentum, 0.0, 1e-12);
    check_printed("largest change of angular momentum over R, m/s", turning, 0.0, 2e-11);
    check_between("largest share of energy kept", kept, 0.0, 1.0 + 1e-12);
}
