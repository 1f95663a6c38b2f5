//! What the ball on does when the cue ball is struck at it, in closed form.

use super::window::Given;
use crate::ball::BallMotion;
use crate::geometry::{heading, wrap_angle};
use crate::physics::{Course, Stroke, collide};
use crate::table::TableCard;
use glam::DVec2;

/// Direction (rad) and the rest that the ball on at `object` gets from a cue ball
/// struck at `from`, with nothing else on the table; `None` if they do not meet.
pub fn answer(
    card: &TableCard,
    from: DVec2,
    object: DVec2,
    stroke: &Stroke,
) -> Option<(f64, Given)> {
    let radius = card.ball.radius;
    let (velocity, spin) = stroke.launch(radius, card.squirt_mass_ratio);
    let mut start = BallMotion { position: from, velocity, spin };
    // It slides, then rolls.
    for _ in 0..2 {
        let course = Course::new(start, radius, &card.cloth);
        if let Some(time) = meeting(&course, object, 2.0 * radius) {
            let cue_ball = course.motion(time);
            let still = BallMotion { position: object, ..BallMotion::default() };
            let normal = (object - cue_ball.position).normalize_or_zero();
            let (_, hit) = collide(&cue_ball, &still, normal, radius, &card.ball_contact);
            return Some((heading(hit.velocity), given(&hit, radius)));
        }
        start = course.end(radius);
    }
    None
}

/// What a blow gives to a ball beside its direction.
pub fn given(hit: &BallMotion, radius: f64) -> Given {
    let speed = hit.velocity.length().max(1e-9);
    let ahead = hit.velocity / speed;
    let roll = (hit.spin.y * ahead.x - hit.spin.x * ahead.y) * radius / speed;
    [speed, roll]
}

/// When the course comes within `reach` of `object`: Newton's steps from the start of
/// the straight way, on a course that hardly bends.
fn meeting(course: &Course, object: DVec2, reach: f64) -> Option<f64> {
    let mut time = 0.0;
    for _ in 0..6 {
        let offset = object - course.position(time);
        let velocity = course.velocity(time);
        let square = velocity.length_squared();
        let along = offset.dot(velocity);
        let gap = offset.length_squared() - reach * reach;
        let root = along * along - square * gap;
        if root < 0.0 || square <= 0.0 {
            return None;
        }
        // To the near side of the circle along the tangent of the course.
        let step = gap / (along + root.sqrt().copysign(along));
        time += step;
        if !(0.0..=course.span).contains(&time) {
            return None;
        }
        if step.abs() < 1e-10 {
            break;
        }
    }
    Some(time)
}

/// Turn of the ball on against `line`, and the rest.
#[inline(never)]
pub fn turn(
    card: &TableCard,
    from: DVec2,
    object: DVec2,
    stroke: &Stroke,
    line: f64,
) -> Option<(f64, Given)> {
    answer(card, from, object, stroke).map(|(heading, given)| (wrap_angle(heading - line), given))
}
