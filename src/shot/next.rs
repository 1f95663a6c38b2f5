//! The shot that a stop leaves on the next ball.

use super::Hand;
use crate::ball::BallId;
use crate::geometry::{angle_between, left_of, share_along};
use crate::normal::below;
use crate::physics::{Arena, PlacedBall};
use crate::table::{Pocket, PocketId};
use glam::DVec2;
use std::f64::consts::FRAC_PI_2;

/// Thinnest cut that is still called a shot, rad (tuning choice: 80 degrees, where the
/// ball on keeps a sixth of the speed).
const THINNEST: f64 = 80.0 * FRAC_PI_2 / 90.0;

/// A shot on the next ball.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct NextShot {
    /// The pocket with the smallest cut of those that are open.
    pub pocket: PocketId,
    /// Where the cue ball meets it, m.
    pub ghost: DVec2,
    /// Unit vector of the line of the shot, from the cue ball to the ghost ball.
    pub line: DVec2,
    /// Distance along the line, m.
    pub distance: f64,
    /// Distance from the ball to the middle of the pocket's mouth, m.
    pub to_pocket: f64,
    /// The cut, rad, positive if the ball goes to the left of the line.
    pub cut: f64,
    /// How far to each side the ball may go past the middle of the mouth, m.
    pub room: f64,
}

impl NextShot {
    /// The shot with the smallest cut on the ball `next` for a cue ball at `place` (m),
    /// among all `balls` on the table; a cue ball among them is passed over. Only into
    /// `pocket`, if one is named. By geometry alone: a ball in the way of either ball
    /// closes a pocket, and so does a mouth too narrow for the ball's line.
    ///
    /// `None` if `next` is not among `balls`, or there is no such shot.
    pub fn of(
        arena: &Arena,
        balls: &[PlacedBall],
        next: BallId,
        pocket: Option<PocketId>,
        place: DVec2,
    ) -> Option<Self> {
        let ball = balls.iter().find(|ball| ball.id == next)?.position;
        let others = balls.iter().filter(|ball| !ball.id.is_cue() && ball.id != next);
        let radius = arena.card().ball.radius;
        arena
            .shape()
            .pockets
            .iter()
            .filter(|one| pocket.is_none_or(|named| named == one.id))
            .filter_map(|one| Self::into(one, ball, place, radius))
            .filter(|shot| {
                let mouth = arena.shape().pocket(shot.pocket).mouth_middle;
                others.clone().all(|other| {
                    let gap = distance_from(place, shot.ghost, other.position).min(distance_from(
                        ball,
                        mouth,
                        other.position,
                    ));
                    gap >= 2.0 * radius
                })
            })
            .min_by(|a, b| a.cut.abs().total_cmp(&b.cut.abs()))
    }

    fn into(pocket: &Pocket, ball: DVec2, place: DVec2, radius: f64) -> Option<Self> {
        let way = pocket.mouth_middle - ball;
        let course = way.normalize_or_zero();
        // The ball passes between the jaws as it sees them.
        let room = 0.5 * pocket.mouth * course.dot(pocket.axis) - radius;
        let ghost = ball - course * (2.0 * radius);
        let line = (ghost - place).normalize_or_zero();
        let cut = angle_between(line, course);
        let shot = Self {
            pocket: pocket.id,
            ghost,
            line,
            distance: (ghost - place).length(),
            to_pocket: way.length(),
            cut,
            room,
        };
        (room > 0.0 && line != DVec2::ZERO && cut.abs() <= THINNEST).then_some(shot)
    }

    /// The chance of this shot by geometry alone: an error of `hand`'s direction sends the
    /// ball off by distance over twice the radius and the cosine of the cut, and it falls
    /// if it passes between the jaws. No throw, no jaws that help, no speed; for
    /// comparisons, not for forecasts.
    ///
    /// # Source
    /// Geometry of the ghost ball: an aim off by e moves the contact by distance times e
    /// across the line, which turns the line of centres by that over 2 R cos(cut).
    pub fn rough_chance(&self, hand: &Hand, radius: f64) -> f64 {
        let turned = hand.azimuth * self.distance / (2.0 * radius * libm::cos(self.cut));
        let sigmas = self.room / (turned * self.to_pocket).max(f64::MIN_POSITIVE);
        2.0 * below(sigmas) - 1.0
    }

    /// What lies to the left of the line.
    pub fn left(&self) -> DVec2 {
        left_of(self.line)
    }
}

/// Distance of `point` from the straight way between two places, m.
pub fn distance_from(from: DVec2, to: DVec2, point: DVec2) -> f64 {
    (point - from - (to - from) * share_along(from, to, point)).length()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::shot::{SpeedError, cut_angle};
    use crate::table::{TableCard, TableSize};

    fn ball(number: u8, x: f64, y: f64) -> PlacedBall {
        PlacedBall { id: BallId::object(number).expect("a ball"), position: DVec2::new(x, y) }
    }

    fn shot(balls: &[PlacedBall], x: f64, y: f64) -> Option<NextShot> {
        let arena = Arena::new(&TableCard::of_size(TableSize::NineFoot));
        NextShot::of(&arena, balls, balls[0].id, None, DVec2::new(x, y))
    }

    #[test]
    fn the_pocket_with_the_least_cut_is_taken() {
        let found = shot(&[ball(3, 2.0, 0.9)], 1.5, 0.65).expect("an open shot");
        assert_eq!(found.pocket, PocketId::FootLeft, "{found:?}");
        let mouth = Arena::new(&TableCard::of_size(TableSize::NineFoot));
        let mouth = mouth.shape().pocket(found.pocket).mouth_middle;
        let cut = cut_angle(DVec2::new(1.5, 0.65), DVec2::new(2.0, 0.9), mouth, 0.028_575);
        assert!((found.cut.abs() - cut).abs() < 1e-12, "the cut of an aim: {found:?}");
        let other = shot(&[ball(3, 2.0, 0.9)], 2.3, 0.8).expect("an open shot");
        assert_ne!(other.pocket, PocketId::FootLeft, "it lies behind: {other:?}");
    }

    #[test]
    fn a_ball_in_the_way_closes_a_pocket() {
        let free = shot(&[ball(3, 2.0, 0.9)], 1.5, 0.65).expect("an open shot");
        for other in [ball(5, 1.75, 0.77), ball(5, 2.25, 1.08)] {
            let found = shot(&[ball(3, 2.0, 0.9), other], 1.5, 0.65);
            assert_ne!(found.map(|s| s.pocket), Some(free.pocket), "past {other:?}");
        }
        let aside = shot(&[ball(3, 2.0, 0.9), ball(5, 1.5, 1.1)], 1.5, 0.65);
        assert_eq!(aside, Some(free), "a ball aside is none in the way");
    }

    #[test]
    fn farther_and_thinner_is_harder() {
        let hand =
            Hand { azimuth: 0.004, elevation: 0.0, speed: SpeedError::Relative(0.0), tip: 0.0 };
        let chance = |x: f64, y: f64| {
            shot(&[ball(3, 2.0, 0.9)], x, y).expect("a shot").rough_chance(&hand, 0.028_575)
        };
        let (near, far, thin) = (chance(1.7, 0.75), chance(0.8, 0.3), chance(1.75, 1.1));
        assert!(near > far && far > 0.0 && near > thin && near < 1.0, "{near} {far} {thin}");
    }
}
