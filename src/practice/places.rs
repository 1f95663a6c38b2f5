//! Where balls lie, told so that touching stays touching: each ball's place is a step of
//! 0.1 mm, the line of touch of a rail, or follows from balls that it touches.

use super::rounding::Quantum;
use crate::geometry::{cross, heading, left_of, unit_from_angle};
use crate::physics::PlacedBall;
use crate::table::{Rail, TableCard, TableShape};
use crate::units::{degrees, radians};
use glam::DVec2;

/// Balls, or a ball and a rail, that are nearer than this touch, m (tuning choice: nobody
/// sees a hundredth of a millimetre).
const TOUCHING: f64 = 1e-5;

/// No ball that touches moves farther than this when it is rounded, m; else it is told by
/// fewer touches.
const FARTHEST: f64 = 1e-4;

/// Less than any gap: then nothing touches, m.
const APART: f64 = -1.0;

/// Balls may be as deep in each other, m: half of what a shot accepts.
const SLACK: f64 = 5e-10;

/// Rounding is repeated so often at most (tuning choice).
const MOST_ROUNDS: u32 = 8;

/// One coordinate of a ball.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Mark {
    /// Touching the head rail, or the right one.
    Low,
    /// Touching the foot rail, or the left one.
    High,
    /// So many tenths of a millimetre from the nose line of the head or the right rail.
    Step(i32),
}

/// How the place of one ball is told. Others are named by where they stand in the list.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Place {
    /// By its two coordinates.
    Free([Mark; 2]),
    /// It touches a ball, and lies in this direction from it, in steps of
    /// [`Quantum::DIRECTION`].
    Beside(usize, i32),
    /// It touches two balls, and lies to the left of the way from the first to the second,
    /// or to the right.
    Between(usize, usize, bool),
    /// It touches a rail and a ball, and lies farther along the rail than that, or less far.
    Against(Rail, usize, bool),
    /// Nothing of this fits: m.
    Exact(DVec2),
}

impl Place {
    /// Where that is once the others are `found`; `None` as long as one is missing, or if
    /// nothing touches both.
    fn resolve(self, card: &TableCard, found: &[Option<DVec2>]) -> Option<DVec2> {
        let ball = |k: usize| found.get(k).copied().flatten();
        let reach = 2.0 * card.ball.radius;
        match self {
            Self::Free(marks) => Some(of_marks(card, marks)),
            Self::Beside(other, steps) => {
                let direction = radians(Quantum::DIRECTION.value(f64::from(steps)));
                Some(ball(other)? + unit_from_angle(direction) * reach)
            }
            Self::Between(first, second, left) => {
                let (first, second) = (ball(first)?, ball(second)?);
                let half = (second - first) / 2.0;
                let off = (reach * reach - half.length_squared()).max(0.0).sqrt();
                let aside = left_of(half).try_normalize()?;
                let at = first + half + aside * if left { off } else { -off };
                ((at - first).length() <= reach + SLACK).then_some(at)
            }
            Self::Against(rail, other, farther) => {
                let other = ball(other)?;
                let line = line_of(card, rail);
                let across = if rail.is_long() { line - other.y } else { line - other.x };
                let off = (reach * reach - across * across).max(0.0).sqrt();
                let way = if farther { off } else { -off };
                let at = if rail.is_long() {
                    DVec2::new(other.x + way, line)
                } else {
                    DVec2::new(line, other.y + way)
                };
                (across.abs() <= reach).then_some(at)
            }
            Self::Exact(at) => Some(at),
        }
    }
}

/// The coordinate across `rail` of a ball that touches it, m.
fn line_of(card: &TableCard, rail: Rail) -> f64 {
    let touch = card.touch_distance();
    match rail {
        Rail::Head | Rail::Right => touch,
        Rail::Foot => card.length - touch,
        Rail::Left => card.width - touch,
    }
}

/// The rail at the low end of each coordinate, and at its high end.
const RAILS: [[Rail; 2]; 2] = [[Rail::Head, Rail::Foot], [Rail::Right, Rail::Left]];

/// The place of two coordinates, m.
pub fn of_marks(card: &TableCard, marks: [Mark; 2]) -> DVec2 {
    let coordinate = |axis: usize| match marks[axis] {
        Mark::Low => line_of(card, RAILS[axis][0]),
        Mark::High => line_of(card, RAILS[axis][1]),
        Mark::Step(steps) => Quantum::PLACE.value(f64::from(steps)),
    };
    DVec2::new(coordinate(0), coordinate(1))
}

/// The coordinates nearest to `place`: on a line of touch, if it is `near` to it (m), else
/// in whole steps.
pub fn marks_of(card: &TableCard, place: DVec2, near: f64) -> [Mark; 2] {
    [0, 1].map(|axis| {
        let value = place[axis];
        let on = |rail: Rail| (value - line_of(card, rail)).abs() <= near;
        match RAILS[axis] {
            [low, _] if on(low) => Mark::Low,
            [_, high] if on(high) => Mark::High,
            _ => Mark::Step(Quantum::PLACE.steps(value) as i32),
        }
    })
}

/// The places that are told so, m; `None` if they wait for each other or do not fit.
pub fn resolved(card: &TableCard, places: &[Place]) -> Option<Vec<DVec2>> {
    let mut found = vec![None; places.len()];
    // Each round places one ball at least, or none will follow.
    for _ in 0..places.len() {
        for (k, place) in places.iter().enumerate() {
            if found[k].is_none() {
                found[k] = place.resolve(card, &found);
            }
        }
    }
    found.into_iter().collect()
}

/// How places are told that [`settled`] has made: exactly. Of others each is told by its
/// coordinates if it has such, else as it is.
pub fn told(card: &TableCard, balls: &[PlacedBall]) -> Vec<Place> {
    let at: Vec<DVec2> = balls.iter().map(|ball| ball.position).collect();
    if let Some((places, rounded)) = Layout::new(card, &at, TOUCHING).round()
        && rounded == at
    {
        return places;
    }
    let single = |at: &DVec2| {
        let marks = marks_of(card, *at, 0.0);
        if of_marks(card, marks) == *at { Place::Free(marks) } else { Place::Exact(*at) }
    };
    at.iter().map(single).collect()
}

/// The balls where a link can tell them, which is where they are then played.
///
/// A ball that lies by itself comes to the nearest tenths of a millimetre where it is
/// legal; one that touches a rail lies exactly at its nose. The balls of a cluster are
/// placed one after the other, always the one that touches most of what is placed: one ball
/// at exactly 2 R in a direction of whole thousandths of a degree, two balls or a ball and a
/// rail at the point that touches both. Of alike balls those that lie on tenths already come
/// first, then in the order of the list. Rounded again, nothing moves. Where
/// no such layout is near, all stays as it is.
pub fn settled(card: &TableCard, balls: &[PlacedBall]) -> Vec<PlacedBall> {
    let given: Vec<DVec2> = balls.iter().map(|ball| ball.position).collect();
    let mut at = given.clone();
    let mut is_settled = false;
    for round in 0..=MOST_ROUNDS {
        // In the last resort what touches comes apart, for then nothing depends on another.
        let (from, touching) = if round < MOST_ROUNDS { (&at, TOUCHING) } else { (&given, APART) };
        let Some((_, next)) = Layout::new(card, from, touching).round() else { break };
        is_settled = next == at;
        at = next;
        if is_settled {
            break;
        }
    }
    let last = Layout::new(card, &at, TOUCHING).round();
    if !is_settled && last.is_none_or(|(_, again)| again != at) {
        at = given;
    }
    balls.iter().zip(at).map(|(ball, position)| PlacedBall { id: ball.id, position }).collect()
}

/// Balls that are being rounded.
struct Layout<'a> {
    card: &'a TableCard,
    shape: TableShape,
    wanted: &'a [DVec2],
    touching: f64,
    found: Vec<Option<DVec2>>,
}

impl<'a> Layout<'a> {
    fn new(card: &'a TableCard, wanted: &'a [DVec2], touching: f64) -> Self {
        let found = vec![None; wanted.len()];
        Self { card, shape: TableShape::new(card), wanted, touching, found }
    }

    /// How each ball is told, and where it then is; `None` if one finds no place.
    fn round(mut self) -> Option<(Vec<Place>, Vec<DVec2>)> {
        let mut places = vec![None; self.wanted.len()];
        while let Some(ball) = self.next() {
            let place = self.choose(ball)?;
            self.found[ball] = place.resolve(self.card, &self.found);
            places[ball] = Some(place);
        }
        Some((
            places.into_iter().collect::<Option<_>>()?,
            self.found.into_iter().collect::<Option<_>>()?,
        ))
    }

    /// The ball to be placed next: the one that touches most of what is placed.
    fn next(&self) -> Option<usize> {
        let mut best = None;
        for ball in 0..self.wanted.len() {
            if self.found[ball].is_some() {
                continue;
            }
            let touches = self.rails(ball).len() + self.placed_beside(ball).len();
            let at = self.wanted[ball];
            let tidy = of_marks(self.card, marks_of(self.card, at, 0.0)) == at;
            if best.is_none_or(|(most, _)| (touches, tidy) > most) {
                best = Some(((touches, tidy), ball));
            }
        }
        best.map(|(_, ball)| ball)
    }

    /// The rails that a ball touches.
    fn rails(&self, ball: usize) -> Vec<Rail> {
        let marks = marks_of(self.card, self.wanted[ball], self.touching);
        let rail = |axis: usize| match marks[axis] {
            Mark::Low => Some(RAILS[axis][0]),
            Mark::High => Some(RAILS[axis][1]),
            Mark::Step(_) => None,
        };
        [0, 1].into_iter().filter_map(rail).collect()
    }

    fn touches(&self, ball: usize, other: usize) -> bool {
        let gap = (self.wanted[ball] - self.wanted[other]).length() - 2.0 * self.card.ball.radius;
        ball != other && gap <= self.touching
    }

    /// The placed balls that a ball touches.
    fn placed_beside(&self, ball: usize) -> Vec<usize> {
        let is_placed = |&other: &usize| self.found[other].is_some() && self.touches(ball, other);
        (0..self.wanted.len()).filter(is_placed).collect()
    }

    /// How to tell the place of `ball`.
    fn choose(&self, ball: usize) -> Option<Place> {
        let (at, others, rails) = (self.wanted[ball], self.placed_beside(ball), self.rails(ball));
        for &other in &others {
            let place = self.wanted[other];
            for &rail in &rails {
                let farther = if rail.is_long() { at.x > place.x } else { at.y > place.y };
                let way = Place::Against(rail, other, farther);
                if self.does(ball, way) {
                    return Some(way);
                }
            }
        }
        for (k, &first) in others.iter().enumerate() {
            let from = self.wanted[first];
            for &second in &others[k + 1..] {
                let left = cross(self.wanted[second] - from, at - from) > 0.0;
                let way = Place::Between(first, second, left);
                if self.does(ball, way) {
                    return Some(way);
                }
            }
        }
        for &other in &others {
            let steps = Quantum::DIRECTION.steps(degrees(heading(at - self.wanted[other])));
            let way = Place::Beside(other, steps as i32);
            if self.does(ball, way) {
                return Some(way);
            }
        }
        self.nearest(ball).map(Place::Free)
    }

    /// Whether `way` leads to a legal place near the ball's own.
    fn does(&self, ball: usize, way: Place) -> bool {
        way.resolve(self.card, &self.found).is_some_and(|to| {
            (to - self.wanted[ball]).length() <= FARTHEST && self.is_legal(ball, to)
        })
    }

    /// The nearest legal coordinates, up to three steps away; what touches a rail stays
    /// there.
    fn nearest(&self, ball: usize) -> Option<[Mark; 2]> {
        let at = self.wanted[ball];
        let marks = marks_of(self.card, at, self.touching);
        let mut best = None;
        for k in 0..49 {
            let off = [k % 7 - 3, k / 7 - 3];
            let moved = [0, 1].map(|axis: usize| match marks[axis] {
                Mark::Step(steps) => Mark::Step(steps.saturating_add(off[axis])),
                rail => rail,
            });
            let place = of_marks(self.card, moved);
            let away = (place - at).length_squared();
            if best.is_none_or(|(least, _)| away < least) && self.is_legal(ball, place) {
                best = Some((away, moved));
            }
        }
        best.map(|(_, marks)| marks)
    }

    /// Whether `ball` can lie at `place` beside what is placed; what it did not touch, it
    /// must not come to touch.
    fn is_legal(&self, ball: usize, place: DVec2) -> bool {
        let reach = 2.0 * self.card.ball.radius;
        self.shape.refusal(place).is_none()
            && self.found.iter().enumerate().all(|(other, there)| {
                let room = if self.touches(ball, other) { -SLACK } else { TOUCHING };
                there.is_none_or(|there| (there - place).length() >= reach + room)
            })
    }
}
