//! From one event to the next until every ball rests: no time is stepped.

mod settle;

use super::arena::Arena;
use super::barrier::{Barrier, next_barrier};
use super::contacts::part_placed;
use super::gap::{meeting_time, sinking_time};
use super::motion::Course;
use super::record::Listen;
use super::short_list::OfBalls;
use super::shot::{BallEnd, Event, EventKind};
use crate::ball::{BallId, BallMotion, Phase};
use crate::table::PocketId;
use glam::DVec2;

/// A shot is followed for so long, s (tuning choice): only on a table without
/// friction does anything still move then.
pub const LONGEST_SHOT: f64 = 300.0;

/// And through so many moments at which something happens (tuning choice: of 60,000
/// random shots, racks and wedged rows among them, none on a table that anyone has
/// had 5,000). It is the last resort that keeps a strange shot from holding up its
/// caller for more than about a second.
const MOST_MOMENTS: u32 = 50_000;

/// What a ball does next by itself.
#[derive(Clone, Copy, Debug)]
enum Next {
    Nothing,
    PhaseEnds,
    /// It is pressed against something and its course must be drawn up anew.
    Leans,
    Meets(Barrier),
}

struct Body {
    id: BallId,
    course: Course,
    /// When the course began, s.
    since: f64,
    /// Time and kind of its own next event.
    due: f64,
    next: Next,
    /// It has been at rest since it was last looked at.
    rests: bool,
    /// The course leans on something: it ends by being drawn up anew.
    leans: bool,
    /// Balls (by place) and walls against which it is held on this course.
    held_balls: u16,
    held_walls: u32,
    pocket: Option<PocketId>,
}

pub(super) struct Simulation<'a> {
    arena: &'a Arena,
    listener: &'a mut dyn Listen,
    bodies: OfBalls<Body>,
    /// When two balls meet, by their places (first lower), s.
    meetings: [[f64; BallId::MAX_BALLS]; BallId::MAX_BALLS],
    now: f64,
}

impl<'a> Simulation<'a> {
    /// `balls` stand as in [`Arena::run`].
    pub fn new(
        arena: &'a Arena,
        balls: &[(BallId, BallMotion)],
        listener: &'a mut dyn Listen,
    ) -> Self {
        let mut simulation = Self {
            arena,
            listener,
            bodies: OfBalls::new(),
            meetings: [[f64::INFINITY; BallId::MAX_BALLS]; BallId::MAX_BALLS],
            now: 0.0,
        };
        let mut placed: OfBalls<BallMotion> = balls.iter().map(|(_, motion)| *motion).collect();
        part_placed(arena.shape(), &mut placed, arena.card().ball.radius);
        for ((id, _), motion) in balls.iter().zip(placed) {
            let course = Course::new(motion, arena.card().ball.radius, &arena.card().cloth);
            simulation.bodies.push(Body {
                id: *id,
                course,
                rests: course.phase == Phase::AtRest,
                since: 0.0,
                due: f64::INFINITY,
                next: Next::Nothing,
                leans: false,
                held_balls: 0,
                held_walls: 0,
                pocket: None,
            });
        }
        simulation
    }

    /// Plays until everything rests, or the listener has heard enough.
    pub fn run(&mut self) {
        for place in 0..self.bodies.len() {
            if self.bodies[place].course.phase != Phase::AtRest {
                self.settle(&[place]);
            }
        }
        for _ in 0..MOST_MOMENTS {
            let Some((time, event)) = self.earliest() else {
                if self.bodies.iter().any(|body| body.course.phase != Phase::AtRest) {
                    self.now = LONGEST_SHOT;
                }
                break;
            };
            if self.listener.has_heard_enough() {
                return;
            }
            self.now = time;
            match event {
                Due::Meeting(first, second) => self.settle(&[first, second]),
                Due::Own(place) => self.own_event(place),
            }
        }
        for place in 0..self.bodies.len() {
            self.end_leg(place);
        }
    }

    /// The next event within the longest time, if anything still happens.
    fn earliest(&self) -> Option<(f64, Due)> {
        let n = self.bodies.len();
        let mut first = (LONGEST_SHOT, None);
        for (place, body) in self.bodies.iter().enumerate() {
            if body.due < first.0 {
                first = (body.due, Some(Due::Own(place)));
            }
            for (k, &time) in self.meetings[place][place + 1..n].iter().enumerate() {
                if time < first.0 {
                    first = (time, Some(Due::Meeting(place, place + 1 + k)));
                }
            }
        }
        first.1.map(|due| (first.0, due))
    }

    fn own_event(&mut self, place: usize) {
        let radius = self.arena.card().ball.radius;
        match self.bodies[place].next {
            Next::Nothing => {}
            Next::Meets(Barrier::Pocket(pocket)) => self.pocket(place, PocketId::ALL[pocket]),
            Next::Meets(_) | Next::Leans => self.settle(&[place]),
            Next::PhaseEnds => {
                let ended = self.bodies[place].course.phase;
                let motion = self.bodies[place].course.end(radius);
                if ended == Phase::Sliding {
                    self.tell(place, EventKind::Roll, motion.position);
                }
                self.start_leg(place, motion);
                self.settle(&[place]);
            }
        }
    }

    fn pocket(&mut self, place: usize, pocket: PocketId) {
        let position = self.position_now(place);
        self.end_leg(place);
        self.tell(place, EventKind::Pocketed(pocket), position);
        let body = &mut self.bodies[place];
        body.pocket = Some(pocket);
        body.course = Course::at_rest(position);
        body.since = self.now;
        (body.due, body.next) = (f64::INFINITY, Next::Nothing);
        for other in 0..self.bodies.len() {
            *self.meeting(place, other) = f64::INFINITY;
        }
    }

    /// Ends the ball's leg and begins one from `motion`.
    fn start_leg(&mut self, place: usize, motion: BallMotion) {
        let (radius, cloth) = (self.arena.card().ball.radius, self.arena.card().cloth);
        self.end_leg(place);
        let body = &mut self.bodies[place];
        body.course = Course::new(motion, radius, &cloth);
        body.since = self.now;
    }

    fn end_leg(&mut self, place: usize) {
        let body = &self.bodies[place];
        if body.pocket.is_none() {
            self.listener.leg(place, &body.course, body.since, self.now);
        }
    }

    /// Predicts what the ball does next, alone and with every other.
    fn look_ahead(&mut self, place: usize) {
        let body = &mut self.bodies[place];
        let course = &body.course;
        (body.due, body.next) = if course.span.is_finite() {
            let next = if body.leans { Next::Leans } else { Next::PhaseEnds };
            (body.since + course.span, next)
        } else {
            (f64::INFINITY, Next::Nothing)
        };
        let longest = LONGEST_SHOT - self.now;
        if let Some((time, barrier)) =
            next_barrier(self.arena.shape(), course, body.held_walls, longest)
        {
            body.due = body.since + time;
            body.next = Next::Meets(barrier);
        }
        for other in 0..self.bodies.len() {
            if other != place && self.bodies[other].pocket.is_none() {
                let time = self.meeting_of(place, other);
                *self.meeting(place, other) = time;
            }
        }
    }

    fn meeting(&mut self, one: usize, two: usize) -> &mut f64 {
        &mut self.meetings[one.min(two)][one.max(two)]
    }

    fn meeting_of(&self, one: usize, two: usize) -> f64 {
        let (a, b) = (&self.bodies[one], &self.bodies[two]);
        if !(a.course.moves() || b.course.moves()) {
            return f64::INFINITY;
        }
        let left = |body: &Body| {
            if body.course.moves() {
                body.since + body.course.span - self.now
            } else {
                f64::INFINITY
            }
        };
        let span = left(a).min(left(b)).min(LONGEST_SHOT - self.now);
        let (age_a, age_b) = (self.now - a.since, self.now - b.since);
        let offset = b.course.position(age_b) - a.course.position(age_a);
        let velocity = b.course.velocity(age_b) - a.course.velocity(age_a);
        let acceleration = b.course.acceleration - a.course.acceleration;
        let reach = 2.0 * self.arena.card().ball.radius;
        let held = a.held_balls & (1 << two) != 0;
        let time_of = if held { sinking_time } else { meeting_time };
        time_of(offset, velocity, acceleration, reach, span)
            .map_or(f64::INFINITY, |time| self.now + time)
    }

    fn position_now(&self, place: usize) -> DVec2 {
        let body = &self.bodies[place];
        body.course.position(self.now - body.since)
    }

    fn motion_now(&self, place: usize) -> BallMotion {
        let body = &self.bodies[place];
        body.course.motion(self.now - body.since)
    }

    fn tell(&mut self, place: usize, kind: EventKind, position: DVec2) {
        self.listener.event(Event { time: self.now, ball: self.bodies[place].id, kind, position });
    }

    /// Where each ball ended.
    pub fn ends(&self) -> OfBalls<BallEnd> {
        self.bodies
            .iter()
            .enumerate()
            .map(|(place, body)| match body.pocket {
                Some(pocket) => BallEnd::Pocketed(pocket),
                None if body.course.phase == Phase::AtRest => {
                    BallEnd::Rest(body.course.start.position)
                }
                None => BallEnd::Moving(self.position_now(place)),
            })
            .collect()
    }
}

enum Due {
    Meeting(usize, usize),
    Own(usize),
}
