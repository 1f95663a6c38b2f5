//! A ball meets the cushion's nose: the law of the impact, with friction at the
//! nose and at the cloth.
//!
//! Frame of the impact: y points into the cushion, z up, x along the nose. All
//! speeds are scaled by the ball's own, since the law is homogeneous in speed,
//! and a spin w is carried as the speed R w.

use super::grip::{Contacts, Slips};
use super::impact::{Precision, USUAL, slips_after};
use crate::ball::BallMotion;
use crate::physics::motion::specific_energy;
use crate::table::TableCard;
use glam::{DVec2, DVec3};

/// The cushion as one impact sees it.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct CushionLaw {
    /// Radius of the ball, m.
    pub radius: f64,
    /// Sine of the angle under which the nose is seen from the ball's centre.
    pub sine: f64,
    /// Root of the share of work that the rubber returns.
    pub restitution: f64,
    /// Coefficient of friction at the nose.
    pub nose_friction: f64,
    /// Coefficient of friction at the cloth.
    pub bed_friction: f64,
}

impl CushionLaw {
    /// The law for the table described by `card`.
    pub fn new(card: &TableCard) -> Self {
        Self {
            radius: card.ball.radius,
            sine: card.nose_sine(),
            restitution: card.cushion.restitution,
            nose_friction: card.cushion.friction,
            bed_friction: card.cloth.sliding_friction,
        }
    }

    /// The ball after its impact with a cushion whose horizontal unit normal,
    /// toward the table, is `normal`.
    ///
    /// A ball that moves away is returned as it came.
    ///
    /// # Source
    /// Mathavan, Jackson and Parkin 2010, Proc. IMechE C 224(9), 1863: the rigid
    /// cushion in impulse space, restitution by work. The equations are derived
    /// in DEVELOPERS.md, "Ball on cushion". Measured up to 2.5 m/s of normal speed.
    pub fn rebound(&self, motion: &BallMotion, normal: DVec2) -> BallMotion {
        self.rebound_within(USUAL, motion, normal)
    }

    pub(super) fn rebound_within(
        &self,
        precision: Precision,
        motion: &BallMotion,
        normal: DVec2,
    ) -> BallMotion {
        if motion.velocity.dot(normal) >= 0.0 {
            return *motion;
        }
        let scale = (2.0 * specific_energy(motion, self.radius)).sqrt();
        let along = DVec2::new(-normal.y, normal.x);
        let turned = |v: DVec2| DVec2::new(v.dot(along), -v.dot(normal));
        let flat = turned(motion.spin.truncate()) * (self.radius / scale);
        let before = Scaled {
            velocity: turned(motion.velocity) / scale,
            spin: flat.extend(motion.spin.z * (self.radius / scale)),
        };
        let after = self.impact(precision, &before).without_gain();
        let back = |v: DVec2| along * v.x - normal * v.y;
        let spin = back(after.spin.truncate()).extend(after.spin.z);
        BallMotion {
            position: motion.position,
            velocity: back(after.velocity) * scale,
            spin: spin * (scale / self.radius),
        }
    }

    fn impact(&self, precision: Precision, before: &Scaled) -> Scaled {
        let (sine, cosine) = (self.sine, (1.0 - self.sine * self.sine).sqrt());
        let contacts = Contacts {
            sine,
            cosine,
            nose_friction: self.nose_friction,
            bed_friction: self.bed_friction,
        };
        let (v, w) = (before.velocity, before.spin);
        let slips = Slips {
            nose: DVec2::new(v.x + w.y * sine - w.z * cosine, w.x - v.y * sine),
            bed: DVec2::new(v.x - w.y, v.y + w.x),
        };
        let Some(after) = slips_after(&contacts, self.restitution, slips, precision) else {
            // Jammed: the ball stops dead against the rubber.
            return Scaled { velocity: DVec2::ZERO, spin: DVec3::ZERO };
        };
        let normal = (after.bed.y - after.nose.y) / (1.0 + sine);
        // Along the nose, each contact's friction has slowed its own slip 3.5-fold
        // and the other's by the cross share.
        let cross = 1.0 - 2.5 * sine;
        let (nose, bed) = (slips.nose.x - after.nose.x, slips.bed.x - after.bed.x);
        let share = 1.0 / (3.5 * 3.5 - cross * cross);
        let (nose, bed) = ((3.5 * nose - cross * bed) * share, (3.5 * bed - cross * nose) * share);
        Scaled {
            velocity: DVec2::new(v.x - nose - bed, normal),
            spin: DVec3::new(
                after.bed.y - normal,
                w.y - 2.5 * (sine * nose - bed),
                w.z + 2.5 * cosine * nose,
            ),
        }
    }
}

/// Velocity, and spin as a speed, in the frame of the impact, as shares of the
/// ball's speed.
struct Scaled {
    velocity: DVec2,
    spin: DVec3,
}

impl Scaled {
    /// The same without the trace of energy that the impact's own error may add:
    /// against a cushion that gives everything back it would add up for ever.
    fn without_gain(self) -> Self {
        let energy = self.velocity.length_squared() + 0.4 * self.spin.length_squared();
        if energy <= 1.0 {
            return self;
        }
        let share = 1.0 / energy.sqrt();
        Self { velocity: self.velocity * share, spin: self.spin * share }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Pool geometry with the pair of constants of Mathavan, Jackson and Parkin.
    const LAW: CushionLaw = CushionLaw {
        radius: 0.028_575,
        sine: 0.27,
        restitution: 0.98,
        nose_friction: 0.14,
        bed_friction: 0.2,
    };

    /// A ball of speed `v` at `angle` degrees to the cushion line +x, with spin
    /// ratios `k` (roll) and `q` (side), into a cushion on the +y side.
    fn arriving(v: f64, angle: f64, k: f64, q: f64) -> BallMotion {
        let (sine, cosine) = angle.to_radians().sin_cos();
        let spin = v / LAW.radius;
        BallMotion {
            position: DVec2::ZERO,
            velocity: DVec2::new(v * cosine, v * sine),
            spin: DVec3::new(-k * spin * sine, k * spin * cosine, q * spin),
        }
    }

    /// Source: the equations of Mathavan, Jackson and Parkin 2010 integrated by a
    /// second route (the nose as a spring, in time), good to 1e-4.
    #[test]
    fn a_rolling_ball_at_forty_five_degrees() {
        let after = LAW.rebound(&arriving(1.0, 45.0, 1.0, 0.0), DVec2::NEG_Y);
        let expected = [0.542153, -0.686871, -9.514455, 20.561788, 14.113500];
        let got = [after.velocity.x, after.velocity.y, after.spin.x, after.spin.y, after.spin.z];
        for (got, expected) in got.iter().zip(expected) {
            assert!((got - expected).abs() < 1e-4 * expected.abs(), "{got} for {expected}");
        }
    }

    #[test]
    fn without_friction_only_the_normal_speed_changes() {
        let law = CushionLaw { nose_friction: 0.0, bed_friction: 0.0, restitution: 0.85, ..LAW };
        let after = law.rebound(&arriving(1.0, 40.0, 1.0, 0.3), DVec2::NEG_Y);
        assert!((after.velocity.x - 0.766_044_443).abs() < 1e-9, "{}", after.velocity.x);
        assert!((after.velocity.y + 0.85 * 0.642_787_610).abs() < 1e-9, "{}", after.velocity.y);
    }

    #[test]
    fn a_mirrored_impact_gives_the_mirrored_rebound() {
        for k in 0..40 {
            let angle = 4.0 + 2.1 * f64::from(k);
            let one = LAW.rebound(&arriving(1.3, angle, 0.7, 0.4), DVec2::NEG_Y);
            let mut mirrored = arriving(1.3, angle, 0.7, 0.4);
            mirrored.velocity.x = -mirrored.velocity.x;
            mirrored.spin.y = -mirrored.spin.y;
            mirrored.spin.z = -mirrored.spin.z;
            let two = LAW.rebound(&mirrored, DVec2::NEG_Y);
            assert!((one.velocity.x + two.velocity.x).abs() < 1e-9, "mirror at {angle} degrees");
            assert!((one.velocity.y - two.velocity.y).abs() < 1e-9, "mirror at {angle} degrees");
        }
    }

    #[test]
    fn energy_never_rises_even_with_absurd_friction() {
        for friction in [0.0, 0.25, 1.0, 4.0, 10.0] {
            let law =
                CushionLaw { nose_friction: friction, bed_friction: friction, sine: 0.6, ..LAW };
            for k in 0..50 {
                let spin = 0.2 * f64::from(k % 11) - 1.0;
                let before = arriving(1.0, 1.0 + 1.77 * f64::from(k), spin, -1.3 * spin);
                let after = law.rebound(&before, DVec2::NEG_Y);
                let (then, now) =
                    (specific_energy(&before, LAW.radius), specific_energy(&after, LAW.radius));
                assert!(
                    now <= then * (1.0 + 1e-9),
                    "friction {friction}, case {k}: {then} to {now}"
                );
                assert!(after.velocity.y <= 1e-9, "it leaves the cushion: {}", after.velocity.y);
            }
        }
    }

    /// Numbers from 0 to 1, the same in every run (SplitMix64; from memory, any
    /// well-mixed sequence would do).
    fn numbers() -> impl FnMut(f64, f64) -> f64 {
        let mut state: u64 = 20;
        move |low, high| {
            state = state.wrapping_add(0x9E37_79B9_7F4A_7C15);
            let mut z = state;
            z = (z ^ (z >> 30)).wrapping_mul(0xBF58_476D_1CE4_E5B9);
            z = (z ^ (z >> 27)).wrapping_mul(0x94D0_49BB_1331_11EB);
            low + (high - low) * ((z ^ (z >> 31)) >> 11) as f64 / (1u64 << 53) as f64
        }
    }

    /// Any law and any ball that a table could show; every other one rolls or has
    /// no side, and every third law is the default.
    fn any_impact(case: u32, number: &mut impl FnMut(f64, f64) -> f64) -> (CushionLaw, BallMotion) {
        let law = CushionLaw {
            radius: LAW.radius,
            sine: number(0.0, 0.4),
            restitution: number(0.0, 1.0),
            nose_friction: number(0.0, 0.5),
            bed_friction: number(0.0, 0.5),
        };
        let usual = CushionLaw { restitution: 0.92, nose_friction: 0.25, ..LAW };
        let (k, q) = (number(-1.25, 2.0), number(-2.0, 2.0));
        let k = if case.is_multiple_of(4) { 1.0 } else { k };
        let q = if case % 4 == 1 { 0.0 } else { q };
        let law = if case.is_multiple_of(3) { usual } else { law };
        (law, arriving(1.0, number(1.0, 90.0), k, q))
    }

    /// Largest difference of velocity, and of spin as a speed.
    fn difference(one: &BallMotion, two: &BallMotion) -> f64 {
        let spin = (one.spin - two.spin).abs().max_element() * LAW.radius;
        (one.velocity - two.velocity).abs().max_element().max(spin)
    }

    #[test]
    fn any_rebound_is_good_to_a_hundred_millionth_of_the_speed() {
        let tight = Precision { tolerance: 1e-13, no_slip: 1e-10, finish: 1e-14, creep: 2e-5 };
        let mut number = numbers();
        let mut differences: Vec<f64> = (0..2000)
            .map(|case| {
                let (law, before) = any_impact(case, &mut number);
                let exact = law.rebound_within(tight, &before, DVec2::NEG_Y);
                difference(&law.rebound(&before, DVec2::NEG_Y), &exact)
            })
            .collect();
        differences.sort_by(f64::total_cmp);
        assert!(differences[1000] < 5e-10, "median difference {}", differences[1000]);
        assert!(differences[1999] < 1e-8, "largest difference {}", differences[1999]);
    }

    /// Source: the same equations with the slips' directions smoothed over a slip of
    /// 1e-6 of the speed, integrated by the midpoint rule in steps of 2.5e-7. In the
    /// first the hold at the nose breaks; in the second it all but does.
    #[test]
    fn a_hold_that_breaks_or_nearly_does() {
        let cases = [
            ((0.4, 0.98, 0.14, 0.212), (46.130_387_088_873, -0.034_271_110_142, 0.901_195_467_852)),
            ((0.27, 0.98, 0.14, 0.2), (31.240_208_493_831, -0.360_740_351_404, 0.707_722_769_768)),
        ];
        let expected = [[0.619_427_4, -0.624_888_9], [0.758_065_7, -0.490_737_1]];
        for (((sine, restitution, nose_friction, bed_friction), (angle, k, q)), expected) in
            cases.into_iter().zip(expected)
        {
            let law =
                CushionLaw { radius: LAW.radius, sine, restitution, nose_friction, bed_friction };
            let after = law.rebound(&arriving(1.0, angle, k, q), DVec2::NEG_Y).velocity;
            let away = (after - DVec2::from(expected)).length();
            assert!(away < 5e-6, "{after} for {expected:?}");
        }
    }

    #[test]
    fn a_plausible_impact_never_jams() {
        let mut number = numbers();
        for case in 0..20_000 {
            let (law, before) = any_impact(case, &mut number);
            let after = law.rebound(&before, DVec2::NEG_Y);
            assert!(after.velocity.is_finite() && after.spin.is_finite(), "case {case}");
            assert!(after.velocity.length() > 0.0, "case {case} stops dead: {law:?} {before:?}");
        }
    }
}
