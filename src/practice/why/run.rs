//! Plays on from one moment of a shot, and keeps enough to look back and to change
//! something on the way.

use crate::ball::{BallId, BallMotion, Phase};
use crate::physics::{Arena, BallEnd, Course, Event, EventKind, Listen, Recorder, Sample};
use crate::table::{PocketId, Rail, Surface};
use glam::DVec2;

/// A mirror is met so often at most (tuning choice: nobody follows a path farther).
const MOST_MIRRORS: usize = 12;

/// Slower than this there is no direction, m/s.
const NO_WAY: f64 = 1e-6;

/// The balls at one moment.
pub(super) type State = Vec<(BallId, BallMotion)>;

/// One leg of one ball.
#[derive(Clone, Copy)]
pub(super) struct Leg {
    pub place: usize,
    pub course: Course,
    pub since: f64,
    pub until: f64,
}

impl Leg {
    /// Whether the ball slides.
    pub fn slides(&self) -> bool {
        self.course.phase == Phase::Sliding
    }

    /// Which way the ball goes as a slide ends or is cut short, or as it rolls; `None`
    /// if it does not move.
    pub fn way(&self) -> Option<DVec2> {
        self.way_after(self.until - self.since)
    }

    /// The same if the leg had lasted for `time` or as long as its slide, if that is less, s.
    fn way_after(&self, time: f64) -> Option<DVec2> {
        let slide = if self.slides() { time } else { 0.0 };
        let velocity = self.course.velocity(slide.min(self.course.span));
        (velocity.length() > NO_WAY).then(|| velocity.normalize())
    }
}

/// Where a ball that has just become `motion` goes if nothing is met within `time`, s.
pub(super) fn way_of(arena: &Arena, motion: BallMotion, time: f64) -> Option<DVec2> {
    let card = arena.card();
    let course = Course::new(motion, card.ball.radius, &card.cloth);
    Leg { place: 0, course, since: 0.0, until: time }.way_after(time)
}

/// A rail that the cue ball met.
pub(super) struct Touch {
    pub rail: Rail,
    pub position: DVec2,
    pub time: f64,
}

/// What came of a state: times count from it.
pub(super) struct Run {
    pub events: Vec<Event>,
    pub paths: Vec<Vec<Sample>>,
    pub ends: Vec<BallEnd>,
    legs: Vec<Leg>,
}

impl Run {
    /// Plays on from `state`.
    pub fn from(arena: &Arena, state: &State) -> Self {
        let mut tape = Tape { recorder: Recorder::new(state.len()), legs: Vec::new() };
        let ends = arena.run(state, &mut tape).to_vec();
        let Recorder { events, paths } = tape.recorder.in_order();
        Self { events, paths, ends, legs: tape.legs }
    }

    /// The cue ball's path from `state` on where each rail mirrors it, spin and all: it
    /// runs on as if the table went on behind the rail and were folded back. Balls and
    /// jaws are what they are.
    pub fn mirrored(arena: &Arena, state: &State) -> Vec<DVec2> {
        let mut path: Vec<DVec2> = Vec::new();
        let mut state = state.clone();
        for _ in 0..MOST_MIRRORS {
            let run = Self::from(arena, &state);
            let Some(cue) = place_of(&state, BallId::CUE) else { break };
            // Each run begins where the last one ended.
            path.pop();
            let Some(touch) = run.touches().next() else {
                path.extend(run.line(cue, f64::INFINITY));
                break;
            };
            path.extend(run.line(cue, touch.time));
            state = run.state_before(&state, touch.time);
            let Some((_, ball)) = state.iter_mut().find(|(id, _)| id.is_cue()) else { break };
            mirror(ball, touch.rail.inward());
        }
        path
    }

    /// The path of the ball at `place` up to `time`.
    pub fn line(&self, place: usize, time: f64) -> impl Iterator<Item = DVec2> {
        let path = self.paths.get(place).map_or(&[][..], Vec::as_slice);
        path.iter().take_while(move |sample| sample.time <= time).map(|sample| sample.position)
    }

    /// The rails that the cue ball meets, in order.
    pub fn touches(&self) -> impl Iterator<Item = Touch> {
        self.events.iter().filter(|event| event.ball.is_cue()).filter_map(|event| {
            match event.kind {
                EventKind::Cushion(Surface::Rail(rail)) => {
                    Some(Touch { rail, position: event.position, time: event.time })
                }
                _ => None,
            }
        })
    }

    /// When the cue ball meets its first object ball, s, and which.
    pub fn first_contact(&self) -> Option<(f64, BallId)> {
        let first = self.met().next()?;
        let is_it = |event: &&Event| event.kind == EventKind::Contact(first);
        let event = self.events.iter().filter(|event| event.ball.is_cue()).find(is_it)?;
        Some((event.time, first))
    }

    /// Which way the ball at `place` starts when it is first pushed.
    pub fn starts(&self, place: usize) -> Option<DVec2> {
        let moves = |leg: &&Leg| leg.place == place && leg.course.start.velocity.length() > NO_WAY;
        self.legs.iter().find(moves)?.course.start.velocity.try_normalize()
    }

    /// The object balls that the cue ball meets, in order.
    pub fn met(&self) -> impl Iterator<Item = BallId> {
        self.events.iter().filter(|event| event.ball.is_cue()).filter_map(|event| {
            match event.kind {
                EventKind::Contact(other) => Some(other),
                _ => None,
            }
        })
    }

    /// The pocket into which the ball at `place` fell.
    pub fn pocket(&self, place: usize) -> Option<PocketId> {
        match self.ends.get(place)? {
            BallEnd::Pocketed(pocket) => Some(*pocket),
            BallEnd::Rest(_) | BallEnd::Moving(_) => None,
        }
    }

    /// The first leg of the ball at `place` that begins at `time` or later and lasts.
    pub fn leg_from(&self, place: usize, time: f64) -> Option<&Leg> {
        self.legs
            .iter()
            .find(|leg| leg.place == place && leg.since >= time && leg.until > leg.since)
    }

    /// The ball at `place` right before what happens to it at `time`; `None` if nothing
    /// is known of it from before.
    pub fn motion_before(&self, place: usize, time: f64) -> Option<BallMotion> {
        let on = |leg: &&Leg| leg.place == place && leg.since < time && leg.until >= time;
        let leg = self.legs.iter().find(on)?;
        Some(leg.course.motion(time - leg.since))
    }

    /// All balls right before what happens at `time` to the run that began in `start`;
    /// those that have fallen are left out.
    pub fn state_before(&self, start: &State, time: f64) -> State {
        let ball = |(place, (id, motion)): (usize, &(BallId, BallMotion))| {
            if time == 0.0 {
                return Some((*id, *motion));
            }
            Some((*id, self.motion_before(place, time)?))
        };
        start.iter().enumerate().filter_map(ball).collect()
    }
}

/// Where a ball stands in the list.
pub(super) fn place_of(state: &State, id: BallId) -> Option<usize> {
    state.iter().position(|(other, _)| *other == id)
}

/// Turns what runs against `normal` round; spin, which turns about an axis, keeps its
/// part along the normal and changes the sign of the others.
pub(super) fn mirror(ball: &mut BallMotion, normal: DVec2) {
    ball.velocity -= normal * (2.0 * ball.velocity.dot(normal));
    let axis = normal.extend(0.0);
    ball.spin = axis * (2.0 * ball.spin.dot(axis)) - ball.spin;
}

struct Tape {
    recorder: Recorder,
    legs: Vec<Leg>,
}

impl Listen for Tape {
    fn event(&mut self, event: Event) {
        self.recorder.event(event);
    }

    fn leg(&mut self, place: usize, course: &Course, since: f64, until: f64) {
        self.recorder.leg(place, course, since, until);
        self.legs.push(Leg { place, course: *course, since, until });
    }
}
