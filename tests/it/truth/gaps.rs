//! What a ball can meet, and how far away it is, for the small steps of `brute`.

use super::brute::{Ball, Mode, Table};
use glam::DVec2;
use leaveline::table::Surface;

/// Two things that can meet: a ball, and another by its place on the table.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Thing {
    Balls(usize, usize),
    Wall(usize, usize),
    Jaw(usize, usize),
    Hole(usize, usize),
}

/// Something within reach of a step, as the step begins.
#[derive(Clone, Copy, Debug)]
pub struct Near {
    pub thing: Thing,
    pub gap: f64,
    pub rate: f64,
}

impl Thing {
    /// Distance left until the two meet, m, and a measure of how it changes, with its
    /// sign.
    pub fn gap(self, table: &Table<'_>, balls: &[Ball]) -> (f64, f64) {
        let round = |offset: DVec2, velocity: DVec2, reach: f64| {
            (offset.length() - reach, offset.dot(velocity))
        };
        let (shape, radius) = (table.shape, table.card.ball.radius);
        match self {
            Thing::Balls(one, two) => {
                let (one, two) = (&balls[one], &balls[two]);
                round(two.at - one.at, two.v - one.v, 2.0 * radius)
            }
            Thing::Wall(ball, wall) => {
                let (ball, wall) = (&balls[ball], &shape.walls[wall]);
                let height = (ball.at - wall.from).dot(wall.normal);
                (height - shape.touch_distance, ball.v.dot(wall.normal))
            }
            Thing::Jaw(ball, jaw) => {
                let offset = balls[ball].at - shape.jaw_points[jaw].position;
                round(offset, balls[ball].v, shape.touch_distance)
            }
            Thing::Hole(ball, pocket) => {
                let pocket = &shape.pockets[pocket];
                round(balls[ball].at - pocket.hole, balls[ball].v, pocket.hole_radius)
            }
        }
    }

    /// Whether the ball is in front of the piece of wall, not of its continuation.
    pub fn is_faced(self, table: &Table<'_>, balls: &[Ball]) -> bool {
        let Thing::Wall(ball, wall) = self else {
            return true;
        };
        let wall = &table.shape.walls[wall];
        (0.0..=wall.length).contains(&(balls[ball].at - wall.from).dot(wall.along))
    }

    /// Away from the thing, toward the ball (of two, toward the second).
    pub fn normal(self, table: &Table<'_>, balls: &[Ball]) -> DVec2 {
        match self {
            Thing::Balls(one, two) => (balls[two].at - balls[one].at).normalize(),
            Thing::Wall(_, wall) => table.shape.walls[wall].normal,
            Thing::Jaw(ball, jaw) => {
                (balls[ball].at - table.shape.jaw_points[jaw].position).normalize()
            }
            Thing::Hole(ball, pocket) => {
                (balls[ball].at - table.shape.pockets[pocket].hole).normalize()
            }
        }
    }

    /// By how little a contact might not have been, m: how deep the straight line on
    /// would lead, and how near the end of the wall is.
    pub fn margin(self, table: &Table<'_>, balls: &[Ball]) -> f64 {
        let shape = table.shape;
        let depth = |reach: f64, velocity: DVec2| {
            let across = self.normal(table, balls).perp_dot(velocity.normalize_or_zero());
            reach * (1.0 - across.abs())
        };
        let ends = |ball: usize, wall: usize| {
            let wall = &shape.walls[wall];
            let foot = (balls[ball].at - wall.from).dot(wall.along);
            foot.abs().min((wall.length - foot).abs())
        };
        match self {
            Thing::Balls(one, two) => {
                depth(2.0 * table.card.ball.radius, balls[two].v - balls[one].v)
            }
            Thing::Wall(ball, wall) => ends(ball, wall),
            Thing::Jaw(ball, jaw) => {
                let at = shape.jaw_points[jaw].position;
                let joins = (0..18).filter(|&k| shape.walls[k].distance(at) < 1e-9);
                let ends = joins.map(|k| ends(ball, k)).fold(f64::INFINITY, f64::min);
                depth(shape.touch_distance, balls[ball].v).min(ends)
            }
            Thing::Hole(ball, pocket) => depth(shape.pockets[pocket].hole_radius, balls[ball].v),
        }
    }

    /// The name of a cushion.
    pub fn surface(self, table: &Table<'_>) -> Surface {
        match self {
            Thing::Wall(_, wall) => table.shape.walls[wall].surface,
            Thing::Jaw(_, jaw) => Surface::Pocket(table.shape.jaw_points[jaw].pocket),
            Thing::Balls(..) | Thing::Hole(..) => panic!("{self:?} is no cushion"),
        }
    }

    pub fn shares_a_ball(self, other: Self) -> bool {
        let balls = |thing: Self| match thing {
            Thing::Balls(one, two) => [one, two],
            Thing::Wall(ball, _) | Thing::Jaw(ball, _) | Thing::Hole(ball, _) => [ball, ball],
        };
        balls(self).iter().any(|ball| balls(other).contains(ball))
    }
}

/// Everything that could be met within `time`.
pub fn near(table: &Table<'_>, balls: &[Ball], time: f64) -> Vec<Near> {
    let mut nears = Vec::new();
    let (shape, cloth) = (table.shape, &table.card.cloth);
    let live = |ball: &Ball| matches!(ball.mode, Mode::Slides | Mode::Rolls);
    let way =
        |ball: &Ball| (ball.v.length() + cloth.sliding_friction * cloth.gravity * time) * time;
    let mut offer = |thing: Thing, way: f64| {
        let (gap, rate) = thing.gap(table, balls);
        // A wall behind the ball is none; what is left of a contact is rounding.
        if gap <= way && (gap > -1e-9 || !matches!(thing, Thing::Wall(..))) {
            nears.push(Near { thing, gap, rate });
        }
    };
    for (k, ball) in balls.iter().enumerate() {
        if matches!(ball.mode, Mode::Fallen(_)) {
            continue;
        }
        for (j, other) in balls.iter().enumerate().skip(k + 1) {
            if !matches!(other.mode, Mode::Fallen(_)) && (live(ball) || live(other)) {
                offer(Thing::Balls(k, j), way(ball) + way(other));
            }
        }
        let way = way(ball);
        let room = DVec2::splat(shape.touch_distance + way);
        let is_clear = ball.at.cmpgt(room).all() && ball.at.cmplt(shape.size - room).all();
        if is_clear || !live(ball) {
            continue;
        }
        (0..18).for_each(|wall| offer(Thing::Wall(k, wall), way));
        (0..12).for_each(|jaw| offer(Thing::Jaw(k, jaw), way));
        (0..6).for_each(|pocket| offer(Thing::Hole(k, pocket), way));
    }
    nears
}
