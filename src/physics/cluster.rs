//! Impacts of several balls at once: frozen balls, clusters, two hit together.
//!
//! Each contact is a spring after Hertz that gives back the square of the
//! restitution; all of them act at the same time, so that no order of the balls
//! is preferred, and a chain of frozen balls passes the blow on as real ones do.

use super::ball_ball::{closing_speed, push, surface_slip};
use super::motion::specific_energy;
use super::short_list::{OfBalls, OfContacts};
use crate::ball::{BallId, BallMotion};
use crate::table::BallContact;
use glam::DVec2;

/// Two balls of a cluster that touch.
#[derive(Clone, Copy, Debug)]
pub(super) struct Pair {
    /// Place of the first ball in the cluster.
    pub first: usize,
    /// Place of the second ball in the cluster.
    pub second: usize,
    /// Unit vector from first to second.
    pub normal: DVec2,
}

/// Step of the spring's time, in which the first compression takes about two
/// units (tuning choice: one pair then agrees with its closed form within 1e-4).
const STEP: f64 = 0.02;

/// Most steps of one impact (tuning choice, far beyond what a blow needs to cross
/// sixteen balls; what still closes then is played in the next round).
const MOST_STEPS: u32 = 50_000;

/// A contact during the impact.
#[derive(Clone, Copy)]
struct Spring {
    pair: Pair,
    /// Compression; negative once the balls have parted.
    depth: f64,
    /// Deepest compression so far.
    deepest: f64,
    /// Friction coefficient, fixed when the contact first presses.
    friction: Option<f64>,
}

impl Spring {
    /// Force at the present depth: Hertz's power law on the way in, and on the
    /// way out the same law from a dent that keeps back the energy lost.
    fn force(&mut self, restitution: f64) -> f64 {
        let power = |x: f64| x * x.sqrt();
        if self.depth >= self.deepest {
            self.deepest = self.depth;
            return power(self.depth);
        }
        let travel = self.deepest * restitution * restitution;
        let left = self.depth - (self.deepest - travel);
        if left <= 0.0 || travel <= 0.0 { 0.0 } else { power(self.deepest) * power(left / travel) }
    }
}

/// Plays the impact of all `pairs` together; `motions` are the cluster's balls.
///
/// # Source
/// Hertz 1882, J. reine angew. Math. 92, 156 (force by compression to the power
/// 3/2). The shape of the unloading curve is a tuning choice; the energy that it
/// returns is not.
pub(super) fn impact_together(
    motions: &mut [BallMotion],
    pairs: &[Pair],
    radius: f64,
    contact: &BallContact,
) {
    let closing = |motions: &[BallMotion], pair: &Pair| {
        closing_speed(&motions[pair.first], &motions[pair.second], pair.normal)
    };
    let scale = pairs.iter().map(|pair| closing(motions, pair)).fold(0.0, f64::max);
    if scale <= 0.0 {
        return;
    }
    let before: OfBalls<BallMotion> = motions.iter().copied().collect();
    let mut springs: OfContacts<Spring> = pairs
        .iter()
        .map(|&pair| Spring { pair, depth: 0.0, deepest: 0.0, friction: None })
        .collect();
    let shares = shares_of_contacts(pairs);
    let mut after = before.clone();
    for _ in 0..MOST_STEPS {
        let mut pressed = false;
        for (spring, share) in springs.iter_mut().zip(&shares) {
            let Pair { first, second, normal } = spring.pair;
            spring.depth += 0.5 * STEP * closing(motions, &spring.pair) / scale;
            let force = spring.force(contact.restitution);
            if force <= 0.0 {
                continue;
            }
            pressed = true;
            let press = force * STEP * scale;
            let slip = surface_slip(&motions[first], &motions[second], normal, radius);
            let speed = slip.length();
            let mut impulse = (normal * -press).extend(0.0);
            if speed > 0.0 {
                let mu = *spring.friction.get_or_insert_with(|| contact.friction.at(speed));
                impulse -= slip * ((mu * press).min(share * speed / 7.0) / speed);
            }
            let (mut one, mut two) = (after[first], after[second]);
            push(&mut one, &mut two, normal, radius, impulse);
            (after[first], after[second]) = (one, two);
        }
        motions.copy_from_slice(&after);
        for spring in &mut springs {
            spring.depth += 0.5 * STEP * closing(motions, &spring.pair) / scale;
        }
        if !pressed {
            break;
        }
    }
    keep_energy(&before, motions, radius);
}

/// For each pair, one over the most contacts that either of its balls has: what
/// each may take of a slip that several contacts stop together.
fn shares_of_contacts(pairs: &[Pair]) -> OfContacts<f64> {
    let mut counts = [0_u32; BallId::MAX_BALLS];
    for pair in pairs {
        counts[pair.first] += 1;
        counts[pair.second] += 1;
    }
    pairs.iter().map(|pair| 1.0 / f64::from(counts[pair.first].max(counts[pair.second]))).collect()
}

/// Takes back the trace of energy that finite steps may have added, by shortening
/// all changes alike, which keeps every momentum.
fn keep_energy(before: &[BallMotion], after: &mut [BallMotion], radius: f64) {
    let energy = |motions: &[BallMotion]| -> f64 {
        motions.iter().map(|motion| specific_energy(motion, radius)).sum()
    };
    let (then, now) = (energy(before), energy(after));
    if now <= then {
        return;
    }
    // Along before + x (after - before) energy is then + linear x + square x²,
    // and the change dissipates at first: it comes back to `then` at -linear/square.
    let change: OfBalls<BallMotion> = before
        .iter()
        .zip(after.iter())
        .map(|(b, a)| BallMotion {
            position: b.position,
            velocity: a.velocity - b.velocity,
            spin: a.spin - b.spin,
        })
        .collect();
    let square = energy(&change);
    let linear = now - then - square;
    let share = (-linear / square).clamp(0.0, 1.0);
    for ((a, b), c) in after.iter_mut().zip(before).zip(&change) {
        a.velocity = b.velocity + c.velocity * share;
        a.spin = b.spin + c.spin * share;
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::physics::collide;
    use crate::table::{TableCard, TableSize};

    const R: f64 = 0.028_575;

    fn contact(restitution: f64) -> BallContact {
        BallContact { restitution, ..TableCard::of_size(TableSize::NineFoot).ball_contact }
    }

    fn moving(x: f64, y: f64) -> BallMotion {
        BallMotion { velocity: DVec2::new(x, y), ..BallMotion::default() }
    }

    #[test]
    fn one_pair_comes_out_as_the_closed_form() {
        let normal = DVec2::new(0.8, 0.6);
        let pair = Pair { first: 0, second: 1, normal };
        let start = [moving(1.7, 0.2), BallMotion::default()];
        let mut together = start;
        impact_together(&mut together, &[pair], R, &contact(0.93));
        let (one, two) = collide(&start[0], &start[1], normal, R, &contact(0.93));
        for (a, b) in together.iter().zip([one, two]) {
            assert!((a.velocity - b.velocity).length() < 1e-4, "{a:?} and {b:?}");
            assert!((a.spin - b.spin).length() * R < 1e-4, "{a:?} and {b:?}");
        }
    }

    #[test]
    fn two_balls_hit_together_leave_as_mirror_images() {
        let (x, y) = (0.75_f64.sqrt(), 0.5);
        let pairs = [
            Pair { first: 0, second: 1, normal: DVec2::new(x, y) },
            Pair { first: 0, second: 2, normal: DVec2::new(x, -y) },
        ];
        let mut balls = [moving(1.0, 0.0), BallMotion::default(), BallMotion::default()];
        let mut smooth = contact(1.0);
        smooth.friction.floor = 0.0;
        smooth.friction.range = 0.0;
        impact_together(&mut balls, &pairs, R, &smooth);
        // Momentum and energy alone fix it: P = (1 + e) v cos 30 / (1 + 2 cos² 30).
        let press = 2.0 * x / 2.5;
        assert!((balls[0].velocity.x - (1.0 - 2.0 * press * x)).abs() < 1e-4, "{:?}", balls[0]);
        assert!((balls[1].velocity.length() - press).abs() < 1e-4, "{:?}", balls[1]);
        assert_eq!(balls[0].velocity.y, 0.0, "straight back");
        assert_eq!(balls[1].velocity.y, -balls[2].velocity.y, "mirror images");
    }

    #[test]
    fn a_frozen_line_passes_the_blow_to_its_end() {
        let pairs: Vec<Pair> =
            (0..4).map(|k| Pair { first: k, second: k + 1, normal: DVec2::X }).collect();
        let mut balls = [BallMotion::default(); 5];
        balls[0] = moving(1.0, 0.0);
        impact_together(&mut balls, &pairs, R, &contact(1.0));
        let momentum: f64 = balls.iter().map(|ball| ball.velocity.x).sum();
        assert!((momentum - 1.0).abs() < 1e-12, "momentum is kept: {momentum}");
        assert!(balls[4].velocity.x > 0.9, "most of it leaves at the far end: {balls:?}");
    }

    #[test]
    fn energy_never_rises() {
        let third = std::f64::consts::FRAC_PI_3;
        let pairs: Vec<Pair> = (0..6)
            .map(|k| {
                let angle = third * f64::from(k);
                let normal = crate::geometry::unit_from_angle(angle);
                Pair { first: 0, second: k as usize + 1, normal }
            })
            .collect();
        let mut balls = [BallMotion::default(); 7];
        balls[0] = moving(1.0, 0.3);
        balls[3] = moving(2.0, -1.0);
        let before: f64 = balls.iter().map(|b| specific_energy(b, R)).sum();
        impact_together(&mut balls, &pairs, R, &contact(1.0));
        let after: f64 = balls.iter().map(|b| specific_energy(b, R)).sum();
        assert!(after <= before * (1.0 + 1e-14), "{before} to {after}");
    }
}
