//! Two balls meet, in small steps of the impulse between them.

use super::brute::Ball;
use glam::DVec3;
use leaveline::table::TableCard;

/// The two balls after their blow: each small push along the line of centres brings
/// friction against the slip of the two surfaces, as much as the push allows and
/// never more than stops that slip. Compression ends when nothing closes;
/// restitution gives back its share of that impulse.
///
/// During the blow the balls are free in space; afterwards the cloth has taken what
/// would lift them or press them down.
pub fn blow(card: &TableCard, one: &Ball, two: &Ball, parts: u32) -> (Ball, Ball) {
    let law = &card.ball_contact;
    let radius = card.ball.radius;
    let normal = (two.at - one.at).normalize().extend(0.0);
    let mut velocities = [one.v.extend(0.0), two.v.extend(0.0)];
    // The same change for both: their surfaces are rubbed from opposite sides.
    let mut turn = DVec3::ZERO;
    let spins = (one.w + two.w) * radius;
    let slip = |velocities: &[DVec3; 2], turn: DVec3| {
        let surface = velocities[0] - velocities[1] + (spins + turn * 2.0).cross(normal);
        surface - normal * surface.dot(normal)
    };
    let first = slip(&velocities, turn).length();
    let friction = law.friction.floor + law.friction.range * (-law.friction.decay * first).exp();
    let closing = (velocities[0] - velocities[1]).dot(normal);
    // Of unit mass each: an impulse takes twice itself from the closing speed.
    for whole in [0.5 * closing, 0.5 * closing * law.restitution] {
        let part = whole / f64::from(parts);
        for _ in 0..parts {
            let slip = slip(&velocities, turn);
            let speed = slip.length();
            // Stopped by 1/7: velocities take 2 of the 7 parts, spins 5.
            let grip = (friction * part).min(speed / 7.0);
            let rub = if speed > 0.0 { slip * (-grip / speed) } else { DVec3::ZERO };
            let push = rub - normal * part;
            velocities[0] += push;
            velocities[1] -= push;
            turn += normal.cross(rub) * 2.5;
        }
    }
    let after = |ball: &Ball, velocity: DVec3| Ball {
        v: velocity.truncate(),
        w: ball.w + turn / radius,
        ..*ball
    };
    (after(one, velocities[0]), after(two, velocities[1]))
}
