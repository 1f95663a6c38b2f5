//! Contacts that close so slowly that nothing bounces: they give way.

use super::gap::STILL;
use super::motion::{NO_SPEED, rolling_spin, slip};
use super::rest::{CREEPS, MOST_SWEEPS, ROLLS, SLIDES, Touch, relaxed};
use super::short_list::OfContacts;
use crate::ball::{BallId, BallMotion};
use crate::table::Cloth;
use glam::DVec2;

/// Contacts that close slower than this are taken for stopped, m/s (tuning choice:
/// rounding).
const NO_CLOSING: f64 = 1e-13;

/// Takes away what closing speed is left in contacts that rest, without any
/// bounce: the motion that comes nearest in energy and in which nothing closes, so
/// that the order of contacts plays no part. A ball that rolls goes on rolling, for
/// such a contact is no blow: the cloth has the time to turn the ball with it.
pub(super) fn stop_closing(
    motions: &mut [BallMotion],
    touches: &[Touch],
    radius: f64,
    cloth: &Cloth,
) {
    if touches.iter().all(|touch| touch.closing(motions) <= NO_CLOSING) {
        return;
    }
    let mut gives = [SLIDES; BallId::MAX_BALLS];
    for (give, motion) in gives.iter_mut().zip(&mut *motions) {
        let slip = slip(motion, radius);
        if cloth.sliding_friction > 0.0 && slip.length() <= NO_SPEED {
            *give = ROLLS;
            // What is left of a slip goes as the cloth would take it, at a loss.
            motion.velocity -= slip * (2.0 / 7.0);
        }
    }
    let rolls = gives.map(|give| give == ROLLS);
    let mut impulses: OfContacts<f64> = touches.iter().map(|_| 0.0).collect();
    while !give_way(motions, touches, &gives, &mut impulses) {
        jam(motions, touches, &mut gives);
    }
    for (motion, _) in motions.iter_mut().zip(rolls).filter(|(_, rolls)| *rolls) {
        if motion.velocity.length() <= CREEPS {
            // The cloth takes at once what would hardly be a motion.
            motion.velocity = DVec2::ZERO;
        }
        motion.spin = rolling_spin(motion.velocity, radius).extend(motion.spin.z);
    }
}

/// Lets each contact that closes give way, over and over. False if that leads
/// nowhere.
fn give_way(
    motions: &mut [BallMotion],
    touches: &[Touch],
    gives: &[f64],
    impulses: &mut [f64],
) -> bool {
    impulses.fill(0.0);
    for sweep in 0..MOST_SWEEPS {
        let relaxed = relaxed(sweep);
        let mut largest: f64 = 0.0;
        for (touch, impulse) in touches.iter().zip(&mut *impulses) {
            let give = gives[touch.ball] + touch.other.map_or(0.0, |other| gives[other]);
            if give == 0.0 {
                continue;
            }
            let change = (relaxed * touch.closing(motions) / give).max(-*impulse);
            *impulse += change;
            largest = largest.max(change.abs());
            motions[touch.ball].velocity -= touch.normal * (change * gives[touch.ball]);
            if let Some(other) = touch.other {
                motions[other].velocity += touch.normal * (change * gives[other]);
            }
        }
        if largest <= NO_CLOSING {
            return true;
        }
    }
    touches.iter().all(|touch| touch.closing(motions) <= STILL)
}

/// Stops the balls whose contacts still close, and lets them give way no more: they
/// are wedged in so narrowly that what drives them would have to shift the others
/// by next to nothing, with next to boundless force.
fn jam(motions: &mut [BallMotion], touches: &[Touch], gives: &mut [f64]) {
    let closing: OfContacts<bool> =
        touches.iter().map(|touch| touch.closing(motions) > STILL).collect();
    for (touch, _) in touches.iter().zip(closing).filter(|(_, closes)| *closes) {
        for place in [Some(touch.ball), touch.other].into_iter().flatten() {
            motions[place].velocity = DVec2::ZERO;
            gives[place] = 0.0;
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::physics::specific_energy;
    use crate::table::{TableCard, TableSize};

    const R: f64 = 0.028_575;

    /// A row of balls along y between two rails, each touching the next.
    fn row(n: usize) -> Vec<Touch> {
        let reach = 2.0 * R;
        let touch = |ball, other, normal| Touch { ball, other, normal, reach };
        let mut touches: Vec<Touch> = (1..n).map(|k| touch(k - 1, Some(k), DVec2::Y)).collect();
        touches.push(touch(0, None, DVec2::NEG_Y));
        touches.push(touch(n - 1, None, DVec2::Y));
        touches
    }

    fn settled(mut motions: Vec<BallMotion>, touches: &[Touch]) -> Vec<BallMotion> {
        let energy = |motions: &[BallMotion]| -> f64 {
            motions.iter().map(|motion| specific_energy(motion, R)).sum()
        };
        let before = energy(&motions);
        stop_closing(&mut motions, touches, R, &TableCard::of_size(TableSize::NineFoot).cloth);
        let after = energy(&motions);
        assert!(after <= before * (1.0 + 1e-12), "no energy is gained: {before} to {after}");
        for touch in touches {
            let closing = touch.closing(&motions);
            assert!(closing <= STILL, "{touch:?} still closes at {closing}");
        }
        motions
    }

    fn rolling(x: f64, y: f64) -> BallMotion {
        let velocity = DVec2::new(x, y);
        let spin = rolling_spin(velocity, R).extend(0.0);
        BallMotion { velocity, spin, ..BallMotion::default() }
    }

    #[test]
    fn what_rolls_goes_on_rolling() {
        let touch = Touch { ball: 0, other: Some(1), normal: DVec2::X, reach: 2.0 * R };
        let after = settled(vec![rolling(5e-5, 0.2), BallMotion::default()], &[touch]);
        for motion in &after {
            assert!((motion.velocity.x - 2.5e-5).abs() < 1e-15, "shared evenly: {motion:?}");
            assert!(slip(motion, R).length() < 1e-15, "it rolls: {motion:?}");
        }
    }

    #[test]
    fn sixteen_balls_between_two_rails_come_to_rest_together() {
        let motions = (0..16).map(|k| rolling(0.3, if k % 3 == 0 { 8e-5 } else { -3e-5 }));
        let after = settled(motions.collect(), &row(16));
        for motion in &after {
            assert!(motion.velocity.y.abs() < 1e-8, "nothing has room to move: {motion:?}");
            assert!((motion.velocity.x - 0.3).abs() < 1e-12, "but along the rails: {motion:?}");
        }
    }

    #[test]
    fn a_ball_wedged_in_by_a_hair_jams() {
        // The middle ball stands a hair out of the row, and is driven back into it.
        let mut touches = row(5);
        touches[1].normal = DVec2::new(-1e-6, 1.0);
        touches[2].normal = DVec2::new(1e-6, 1.0);
        let mut motions = vec![BallMotion::default(); 5];
        motions[2].velocity = DVec2::new(0.01, 0.0);
        let after = settled(motions, &touches);
        assert_eq!(after[2].velocity, DVec2::ZERO, "it would have to shift the whole row");
    }
}
