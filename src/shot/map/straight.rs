//! How a stroke without side, which runs straight, meets the ball on: in closed form.

use super::answer::given;
use super::window::Given;
use crate::ball::BallMotion;
use crate::geometry::{heading, unit_from_angle};
use crate::physics::{Stroke, collide};
use crate::table::TableCard;
use glam::{DVec2, DVec3};

/// A stroke without side: its speed along the cloth, and the speed of the ball's surface by
/// its forward spin, m/s.
#[derive(Clone, Copy)]
pub(super) struct Launch {
    speed: f64,
    spin: f64,
}

impl Launch {
    pub fn of(stroke: &Stroke) -> Self {
        let speed = stroke.speed * libm::cos(stroke.elevation);
        Self { speed, spin: 2.5 * stroke.speed * stroke.height }
    }
}

/// The ball on, seen from one place of the cue ball.
pub(super) struct Straight<'a> {
    card: &'a TableCard,
    /// From centre to centre, m.
    distance: f64,
    /// The direction of a full hit, rad.
    pub full: f64,
    /// How far beside it the ball on is all but missed, rad.
    pub thinnest: f64,
}

impl<'a> Straight<'a> {
    pub fn new(card: &'a TableCard, from: DVec2, object: DVec2) -> Self {
        let way = object - from;
        let distance = way.length();
        let thinnest = libm::asin((2.0 * card.ball.radius / distance).min(1.0));
        Self { card, distance, full: heading(way), thinnest: 0.9999 * thinnest }
    }

    /// How the ball on goes after a stroke so far `aside` of a full hit: its direction
    /// against that of a full hit, rad, and the rest; `None` if it is not met.
    #[inline(never)]
    pub fn hit(&self, aside: f64, launch: Launch) -> Option<(f64, Given)> {
        let card = self.card;
        let radius = card.ball.radius;
        let (sine, cosine) = (libm::sin(aside), libm::cos(aside));
        let across = -self.distance * sine;
        let square = 4.0 * radius * radius - across * across;
        if square < 0.0 || cosine <= 0.0 {
            return None;
        }
        let depth = square.sqrt();
        let (speed, spin) = self.arriving(launch, self.distance * cosine - depth)?;
        let cue_ball = BallMotion {
            velocity: DVec2::new(speed, 0.0),
            spin: DVec3::new(0.0, spin / radius, 0.0),
            ..BallMotion::default()
        };
        let normal = DVec2::new(depth, across) / (2.0 * radius);
        let still = BallMotion { position: normal * (2.0 * radius), ..BallMotion::default() };
        let (_, hit) = collide(&cue_ball, &still, normal, radius, &card.ball_contact);
        Some((aside + heading(hit.velocity), given(&hit, radius)))
    }

    /// Speed and forward spin of the cue ball after so far, m; `None` if it does not come so
    /// far.
    fn arriving(&self, Launch { speed, spin }: Launch, way: f64) -> Option<(f64, f64)> {
        let cloth = &self.card.cloth;
        let slip = speed - spin;
        let pull = (cloth.sliding_friction * cloth.gravity).copysign(slip);
        let time = 2.0 * slip.abs() / (7.0 * pull.abs());
        let slides = time * (speed - 0.5 * pull * time);
        if way <= slides {
            let now = (speed * speed - 2.0 * pull * way).max(0.0).sqrt();
            return Some((now, spin + 2.5 * (speed - now)));
        }
        let rolls = speed - pull * time;
        let square = rolls * rolls - 2.0 * cloth.rolling_friction * cloth.gravity * (way - slides);
        (square > 0.0).then(|| (square.sqrt(), square.sqrt()))
    }

    /// How far beside a full hit the ball on goes that way, but for throw, rad.
    pub fn way_to(&self, line: f64) -> f64 {
        let reach = 2.0 * self.card.ball.radius;
        let line = unit_from_angle(line - self.full);
        libm::atan2(-reach * line.y, self.distance - reach * line.x)
    }

    /// How the ball on turns with the cue, but for throw.
    pub fn slope(&self, aside: f64) -> f64 {
        let reach = 2.0 * self.card.ball.radius;
        let (sine, cosine) = (libm::sin(aside), libm::cos(aside));
        let across = self.distance * sine;
        1.0 - self.distance * cosine / (reach * reach - across * across).max(1e-9).sqrt()
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::shot::map::turn;
    use crate::table::TableSize;

    #[test]
    fn a_stroke_without_side_meets_the_ball_on_as_its_course_does() {
        let card = TableCard::of_size(TableSize::NineFoot);
        let object = DVec2::new(1.7, 0.9);
        for (from, speed, height) in [
            (DVec2::new(0.6, 0.5), 2.0, 0.0),
            (DVec2::new(0.2, 1.0), 1.2, 0.3),
            (DVec2::new(1.5, 0.8), 3.0, -0.3),
        ] {
            let sight = Straight::new(&card, from, object);
            for part in [-0.9, -0.4, 0.0, 0.5, 0.95] {
                let aside = part * sight.thinnest;
                let azimuth = sight.full + aside;
                let stroke = Stroke { azimuth, elevation: 0.05, speed, side: 0.0, height };
                let exact = turn(&card, from, object, &stroke, sight.full);
                let (exact, given) = exact.expect("it is met");
                let (turned, got) = sight.hit(aside, Launch::of(&stroke)).expect("it is met");
                assert!((turned - exact).abs() < 1e-7, "{part}: {turned} for {exact}");
                for (got, given) in got.into_iter().zip(given) {
                    assert!((got - given).abs() < 1e-6, "{part}: {got} for {given}");
                }
            }
        }
    }
}
