//! Where to point the cue so that a ball goes into a pocket, with throw, squirt
//! and swerve as they are.

use crate::ball::BallId;
use crate::geometry::{angle_between, cross, heading, left_of};
use crate::physics::{Arena, Course, Event, EventKind, Listen, PlacedBall, Stroke};
use crate::table::{Pocket, PocketId};
use glam::DVec2;

/// How near the object ball's path must pass the middle of the mouth, m (tuning
/// choice: far below what a pocket forgives).
const ACCURACY: f64 = 1e-5;

/// A stroke that sends the object ball through the middle of a pocket's mouth.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Aim {
    /// The stroke with the direction found.
    pub stroke: Stroke,
    /// By how much the path still misses the middle of the mouth, m, positive to
    /// the left.
    pub miss: f64,
}

/// The ghost ball: where the cue ball is as it sends `object_ball` straight to `target`, m.
pub fn ghost_ball(object_ball: DVec2, target: DVec2, radius: f64) -> DVec2 {
    object_ball - (target - object_ball).normalize_or_zero() * (2.0 * radius)
}

/// Angle between the line from cue ball to ghost ball and the line from object
/// ball to pocket, rad: 0 is full.
pub fn cut_angle(cue_ball: DVec2, object_ball: DVec2, target: DVec2, radius: f64) -> f64 {
    let line = (target - object_ball).normalize_or_zero();
    angle_between(ghost_ball(object_ball, target, radius) - cue_ball, line).abs()
}

/// Finds the direction in which `stroke` sends the ball `object` through the
/// middle of the mouth of `pocket`; the azimuth given in `stroke` is not used.
///
/// `None` if there is no angle into the pocket, something is in the way of the cue
/// ball, or the search does not settle.
pub fn aim_at_pocket(
    arena: &Arena,
    balls: &[PlacedBall],
    stroke: &Stroke,
    object: BallId,
    pocket: PocketId,
) -> Option<Aim> {
    let place = |id: BallId| balls.iter().position(|ball| ball.id == id);
    let (cue, target) = (place(BallId::CUE)?, place(object)?);
    let pocket = arena.shape().pocket(pocket);
    let radius = arena.card().ball.radius;
    let (from, ball) = (balls[cue].position, balls[target].position);
    let line = (pocket.mouth_middle - ball).normalize_or_zero();
    if line.dot(pocket.axis) <= 0.0 {
        return None;
    }
    let cut = cut_angle(from, ball, pocket.mouth_middle, radius);
    if cut >= std::f64::consts::FRAC_PI_2 {
        return None;
    }
    let ghost = ghost_ball(ball, pocket.mouth_middle, radius);
    let squirt = crate::physics::squirt_angle(stroke.side, arena.card().squirt_mass_ratio);
    let miss = |azimuth: f64| miss(arena, balls, &Stroke { azimuth, ..*stroke }, target, pocket);

    let mut azimuth = heading(ghost - from) - squirt;
    let mut error = miss(azimuth)?;
    // How the object ball answers to the aim: -D / (2 R cos cut) in direction.
    let gain = -(ghost - from).length() / (2.0 * radius * libm::cos(cut)).max(0.1 * radius);
    let mut slope = gain * (pocket.mouth_middle - ball).length();
    for _ in 0..20 {
        if error.abs() < ACCURACY {
            return Some(Aim { stroke: Stroke { azimuth, ..*stroke }, miss: error });
        }
        let step = (-error / slope).clamp(-0.02, 0.02);
        let Some(next) = miss(azimuth + step) else {
            // Too far: the cue ball passed by.
            slope *= 2.0;
            continue;
        };
        if next != error {
            slope = (next - error) / step;
        }
        azimuth += step;
        error = next;
    }
    None
}

/// By how much the object ball's path misses the middle of the mouth, m, positive
/// to the left; `None` if the cue ball meets something else first.
fn miss(
    arena: &Arena,
    balls: &[PlacedBall],
    stroke: &Stroke,
    target: usize,
    pocket: &Pocket,
) -> Option<f64> {
    let ball = balls[target];
    let line = (pocket.mouth_middle - ball.position).normalize_or_zero();
    let mut watch = Watch {
        id: ball.id,
        place: target,
        goal: pocket.mouth_middle,
        line,
        met: false,
        last: None,
        miss: None,
        over: false,
    };
    arena.strike(balls, stroke, &mut watch);
    watch.miss.or_else(|| watch.ahead())
}

/// Follows the object ball until it passes the mouth or touches something.
struct Watch {
    id: BallId,
    place: usize,
    goal: DVec2,
    line: DVec2,
    met: bool,
    last: Option<(DVec2, DVec2)>,
    miss: Option<f64>,
    over: bool,
}

impl Watch {
    /// Where a ball that stopped or was stopped short would have passed.
    fn ahead(&self) -> Option<f64> {
        let (at, direction) = self.last?;
        let forward = direction.dot(self.line);
        if forward <= 0.0 {
            return None;
        }
        let there = at + direction * ((self.goal - at).dot(self.line) / forward);
        Some((there - self.goal).dot(left_of(self.line)))
    }
}

impl Listen for Watch {
    fn event(&mut self, event: Event) {
        match event.kind {
            EventKind::Contact(other) if !self.met => {
                self.met = event.ball.is_cue() && other == self.id;
                self.over = !self.met;
            }
            EventKind::Cushion(_) if !self.met => self.over = true,
            _ if self.met && event.ball == self.id => {
                self.over |= !matches!(event.kind, EventKind::Roll);
            }
            _ => {}
        }
    }

    fn leg(&mut self, place: usize, course: &Course, since: f64, until: f64) {
        if place != self.place || !course.moves() || self.miss.is_some() {
            return;
        }
        let time = until - since;
        let end = course.position(time);
        self.last = Some((course.start.position, course.start.velocity));
        if (end - self.goal).dot(self.line) < 0.0 {
            return;
        }
        // The path crosses the mouth's height within this leg; it is all but straight.
        let (start, chord) = (course.start.position, end - course.start.position);
        let forward = chord.dot(self.line);
        if forward > 0.0 {
            let share = (self.goal - start).dot(self.line) / forward;
            let there = course.position(time_at(course, self.line, share * forward, time));
            self.miss = Some(cross(self.line, there - self.goal));
            self.over = true;
        }
    }

    fn has_heard_enough(&self) -> bool {
        self.over
    }
}

/// When the ball has gone `distance` along `line`, within the leg's `time`.
fn time_at(course: &Course, line: DVec2, distance: f64, time: f64) -> f64 {
    let (speed, acceleration) = (course.start.velocity.dot(line), course.acceleration.dot(line));
    let root = (speed * speed + 2.0 * acceleration * distance).max(0.0).sqrt();
    (2.0 * distance / (speed + root)).clamp(0.0, time)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::physics::{BallEnd, Shot, play};
    use crate::table::{TableCard, TableSize};

    #[test]
    fn the_aimed_ball_falls_with_side_and_follow_and_draw() {
        let card = TableCard::of_size(TableSize::NineFoot);
        let arena = Arena::new(&card);
        let object = BallId::object(3).expect("a ball");
        let balls = vec![
            PlacedBall { id: BallId::CUE, position: DVec2::new(0.8, 0.5) },
            PlacedBall { id: object, position: DVec2::new(1.7, 0.9) },
        ];
        for (side, height) in [(0.0, 0.0), (0.4, 0.0), (-0.4, 0.2), (0.0, -0.45), (0.2, 0.4)] {
            let stroke = Stroke { azimuth: 0.0, elevation: 0.05, speed: 2.0, side, height };
            let aim = aim_at_pocket(&arena, &balls, &stroke, object, PocketId::FootLeft)
                .expect("an open pot");
            let shot = Shot { card, balls: balls.clone(), stroke: aim.stroke };
            let outcome = play(&shot).expect("a legal shot");
            let end = outcome.ends[1];
            assert_eq!(end, BallEnd::Pocketed(PocketId::FootLeft), "side {side} height {height}");
        }
    }

    #[test]
    fn no_angle_is_no_aim() {
        let card = TableCard::of_size(TableSize::NineFoot);
        let arena = Arena::new(&card);
        let object = BallId::object(3).expect("a ball");
        let balls = vec![
            PlacedBall { id: BallId::CUE, position: DVec2::new(2.0, 1.0) },
            PlacedBall { id: object, position: DVec2::new(1.7, 0.9) },
        ];
        let stroke = Stroke { azimuth: 0.0, elevation: 0.0, speed: 2.0, side: 0.0, height: 0.0 };
        let aim = aim_at_pocket(&arena, &balls, &stroke, object, PocketId::FootLeft);
        assert_eq!(aim, None, "the pocket is behind the cue ball");
    }
}
