//! The next cushion or pocket on a ball's way.

use super::gap::{BEHIND, SUNK, TOUCH, falling_time, meeting_time, sinking_time, sunk_time};
use super::motion::Course;
use crate::geometry::falling_root_quadratic;
use crate::table::{PocketId, TableShape, Wall};
use glam::DVec2;

/// A ball at a jaw point stands no farther behind the line of a wall that ends there,
/// when it may come to the wall without coming over the line, m (tuning choice).
const BESIDE: f64 = 1e-3;

/// So far along a wall a ball is found to touch it, not only the jaw point, m (tuning
/// choice: rounding).
const WELL_ON_IT: f64 = 1e-12;

/// Something fixed that a ball can reach, by its place in [`TableShape`].
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Barrier {
    /// A nose or facing.
    Wall(usize),
    /// A jaw point.
    Jaw(usize),
    /// The hole of a pocket.
    Pocket(usize),
}

/// Bit masks of walls (from bit 0) and jaw points (from bit 18) against which a
/// ball is held.
pub(super) fn wall_bit(wall: usize) -> u32 {
    1 << wall
}

/// See [`wall_bit`].
pub(super) fn jaw_bit(jaw: usize) -> u32 {
    1 << (18 + jaw)
}

/// Whether the foot of the perpendicular from `point` lies on the wall.
pub(super) fn faces(wall: &Wall, point: DVec2) -> bool {
    (0.0..=wall.length).contains(&wall.foot_of(point))
}

/// Whether `point` lies where only noses can be touched, with room to spare.
pub(super) fn is_clear(shape: &TableShape, point: DVec2) -> bool {
    let least = DVec2::splat(shape.touch_distance + TOUCH);
    point.cmpgt(least).all() && point.cmplt(shape.size - least).all()
}

/// The first barrier that the ball on `course` reaches within the course's span
/// (or `longest`), and when. `held` are those it is held against.
pub(super) fn next_barrier(
    shape: &TableShape,
    course: &Course,
    held: u32,
    longest: f64,
) -> Option<(f64, Barrier)> {
    if !course.moves() {
        return None;
    }
    let span = course.span.min(longest);
    if holes_reach_in(shape) {
        return first_of_all(shape, course, held, span);
    }
    match leaves_rectangle(shape, course, span) {
        Leaving::Never if held == 0 => None,
        Leaving::Nose(time, wall) if held & wall_bit(wall) == 0 => {
            Some((time, Barrier::Wall(wall)))
        }
        _ => first_of_all(shape, course, held, span),
    }
}

/// Whether a ball that touches no nose may be over a hole, since the corners' mouths
/// are wide and their shelves short.
fn holes_reach_in(shape: &TableShape) -> bool {
    let corner = shape.pocket(PocketId::HeadRight);
    let nearest = DVec2::splat(shape.touch_distance);
    nearest.distance_squared(corner.hole) < corner.hole_radius * corner.hole_radius
}

enum Leaving {
    Never,
    /// By touching this nose.
    Nose(f64, usize),
    /// Through the gap of a pocket, or the ball is there already.
    Gap,
}

/// How the ball's centre first leaves the rectangle in which it touches nothing.
fn leaves_rectangle(shape: &TableShape, course: &Course, span: f64) -> Leaving {
    let reach = shape.touch_distance;
    let (at, v, a) = (course.start.position, course.start.velocity, course.acceleration);
    let sides = [
        (at.x - reach, v.x, a.x),
        (shape.size.x - reach - at.x, -v.x, -a.x),
        (at.y - reach, v.y, a.y),
        (shape.size.y - reach - at.y, -v.y, -a.y),
    ];
    if sides.iter().any(|side| side.0 < -SUNK) {
        return Leaving::Gap;
    }
    let mut first = (span, usize::MAX);
    for (k, (gap, speed, acceleration)) in sides.into_iter().enumerate() {
        if let Some(time) = falling_time(gap, speed, acceleration)
            && time <= first.0
        {
            first = (time, k);
        }
    }
    let (time, side) = first;
    if side == usize::MAX {
        return Leaving::Never;
    }
    let there = course.position(time);
    // The noses of head, foot, right and left, as the shape lists them.
    let noses: &[usize] = [&[0][..], &[1], &[2, 3], &[4, 5]][side];
    match noses.iter().find(|&&k| faces(&shape.walls[k], there)) {
        Some(&wall) => Leaving::Nose(time, wall),
        None => Leaving::Gap,
    }
}

fn first_of_all(
    shape: &TableShape,
    course: &Course,
    held: u32,
    span: f64,
) -> Option<(f64, Barrier)> {
    let (at, v, a) = (course.start.position, course.start.velocity, course.acceleration);
    let mut first: Option<(f64, Barrier)> = None;
    let mut offer = |time: f64, barrier| {
        if time <= first.map_or(span, |(earliest, _)| earliest) {
            first = Some((time, barrier));
        }
    };
    for (k, wall) in shape.walls.iter().enumerate() {
        let gap = wall.height_of(at) - shape.touch_distance;
        let (speed, acceleration) = (v.dot(wall.normal), a.dot(wall.normal));
        if held & wall_bit(k) != 0 {
            if let Some(time) = sunk_time(gap, speed, acceleration) {
                offer(time, Barrier::Wall(k));
            }
        } else if let Some(time) = falling_time(gap, speed, acceleration)
            && faces(wall, course.position(time))
        {
            offer(time, Barrier::Wall(k));
        } else if (-BESIDE..=TOUCH).contains(&gap)
            && !faces(wall, at)
            && let Some(time) = rounds_the_end(wall, course, shape.touch_distance)
        {
            offer(time, Barrier::Wall(k));
        }
    }
    for (k, jaw) in shape.jaw_points.iter().enumerate() {
        let time_of = if held & jaw_bit(k) != 0 { sinking_time } else { meeting_time };
        if let Some(time) = time_of(at - jaw.position, v, a, shape.touch_distance, span) {
            offer(time, Barrier::Jaw(k));
        }
    }
    for (k, pocket) in shape.pockets.iter().enumerate() {
        if let Some(time) = meeting_time(at - pocket.hole, v, a, pocket.hole_radius, span) {
            offer(time, Barrier::Pocket(k));
        }
    }
    first
}

/// When a ball that goes around the jaw point at an end of the wall comes to touch
/// the wall: there the two leave each other no gap, but for rounding.
fn rounds_the_end(wall: &Wall, course: &Course, reach: f64) -> Option<f64> {
    let (at, v, a) = (course.start.position, course.start.velocity, course.acceleration);
    let (foot, speed, acceleration) = (wall.foot_of(at), v.dot(wall.along), a.dot(wall.along));
    let time = if foot < 0.0 {
        falling_root_quadratic([WELL_ON_IT - foot, -speed, -0.5 * acceleration])?
    } else {
        falling_root_quadratic([foot - wall.length + WELL_ON_IT, speed, 0.5 * acceleration])?
    };
    let gap = wall.height_of(course.position(time)) - reach;
    let closes = course.velocity(time).dot(wall.normal) < 0.0 || a.dot(wall.normal) < 0.0;
    ((-BEHIND..=TOUCH).contains(&gap) && closes).then_some(time)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::ball::BallMotion;
    use crate::table::{Rail, Surface, TableCard, TableSize};

    fn rolling(from: (f64, f64), velocity: (f64, f64)) -> (TableShape, Course) {
        let card = TableCard::of_size(TableSize::NineFoot);
        let velocity = DVec2::from(velocity);
        let spin = super::super::motion::rolling_spin(velocity, card.ball.radius).extend(0.0);
        let start = BallMotion { position: from.into(), velocity, spin };
        (TableShape::new(&card), Course::new(start, card.ball.radius, &card.cloth))
    }

    #[test]
    fn a_ball_reaches_the_nose_ahead() {
        let (shape, course) = rolling((1.0, 0.4), (2.0, 0.1));
        let (time, barrier) = next_barrier(&shape, &course, 0, 100.0).expect("a rail");
        let Barrier::Wall(wall) = barrier else { panic!("{barrier:?}") };
        assert_eq!(shape.walls[wall].surface, Surface::Rail(Rail::Foot), "straight down the table");
        let touch = shape.size.x - course.position(time).x;
        assert!((touch - shape.touch_distance).abs() < 1e-12, "{touch}");
    }

    #[test]
    fn a_ball_into_the_middle_of_a_corner_falls() {
        let (shape, course) = rolling((1.27, 0.0), (0.0, 0.0));
        assert_eq!(next_barrier(&shape, &course, 0, 100.0), None, "a resting ball goes nowhere");
        let middle = shape.pocket(PocketId::FootLeft).mouth_middle;
        let (shape, course) = rolling((middle.x - 0.5, middle.y - 0.5), (1.0, 1.0));
        let (_, barrier) = next_barrier(&shape, &course, 0, 100.0).expect("the hole");
        assert_eq!(barrier, Barrier::Pocket(PocketId::FootLeft as usize), "in the middle");
    }

    #[test]
    fn a_ball_off_the_middle_meets_the_jaw_point() {
        let (shape, course) = rolling((2.1, 0.78), (1.0, 1.0));
        let (_, barrier) = next_barrier(&shape, &course, 0, 100.0).expect("the jaw");
        assert!(matches!(barrier, Barrier::Jaw(_)), "{barrier:?}");
    }

    #[test]
    fn a_hole_that_reaches_in_front_of_the_noses_is_seen() {
        let mut card = TableCard::of_size(TableSize::NineFoot);
        card.corner_pocket.mouth = 0.29;
        card.corner_pocket.shelf = 0.012;
        card.corner_pocket.hole_radius = 0.18;
        assert_eq!(card.check(), Ok(()), "a wide pocket is a pocket");
        let shape = TableShape::new(&card);
        let hole = shape.pocket(PocketId::FootLeft);
        let velocity = DVec2::new(0.2, 0.2);
        let spin = super::super::motion::rolling_spin(velocity, card.ball.radius).extend(0.0);
        let start = BallMotion { position: hole.mouth_middle - 0.02, velocity, spin };
        let course = Course::new(start, card.ball.radius, &card.cloth);
        let (time, barrier) = next_barrier(&shape, &course, 0, 100.0).expect("the hole");
        assert_eq!(barrier, Barrier::Pocket(PocketId::FootLeft as usize), "no nose is near");
        let past = (course.position(time) - hole.hole).length() - hole.hole_radius;
        assert!(past.abs() < 1e-12, "it falls at the brink: {past}");
    }

    #[test]
    fn a_ball_that_rounds_a_jaw_point_meets_the_wall_behind_it() {
        let (shape, _) = rolling((1.0, 0.4), (1.0, 0.0));
        let wall = shape.walls[0];
        // A hair before the nose begins, on the arc around the jaw point but for a
        // rounding, and pressed toward the rail.
        let (before, reach) = (1e-5, shape.touch_distance);
        let off = wall.normal * ((reach * reach - before * before).sqrt() - 1e-11);
        let start = BallMotion {
            position: wall.from - wall.along * before + off,
            velocity: wall.along * 0.1 + wall.normal * (0.1 * before / reach),
            ..BallMotion::default()
        };
        let course = Course {
            // What keeps it on the arc.
            acceleration: wall.normal * (-0.1 * 0.1 / reach),
            span: 1.0,
            ..Course::new(start, 0.028_575, &TableCard::of_size(TableSize::NineFoot).cloth)
        };
        let held = jaw_bit(0) | jaw_bit(1);
        let (time, barrier) = next_barrier(&shape, &course, held, 100.0).expect("the rail");
        assert_eq!(barrier, Barrier::Wall(0), "the head rail");
        assert!((time - 1e-4).abs() < 1e-6, "where it begins: {time}");
    }

    #[test]
    fn a_ball_that_stops_short_reaches_nothing() {
        let (shape, course) = rolling((1.27, 0.6), (0.1, 0.0));
        assert_eq!(next_barrier(&shape, &course, 0, 100.0), None, "5 cm and it lies still");
    }
}
