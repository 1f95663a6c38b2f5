//! What a simulation tells while it runs.

use super::motion::Course;
use super::shot::{Event, Sample};
use crate::ball::Phase;

/// Listens to a simulation. The default does nothing and costs nothing.
pub trait Listen {
    /// Something happened.
    fn event(&mut self, _event: Event) {}

    /// The ball at `place` followed `course` from time `since` until `until`, s.
    fn leg(&mut self, _place: usize, _course: &Course, _since: f64, _until: f64) {}

    /// Whether the rest of the shot is of no interest; asked after every event.
    fn has_heard_enough(&self) -> bool {
        false
    }
}

/// Listens to nothing: for callers that only need where the balls end.
pub struct Nothing;

impl Listen for Nothing {}

/// How far the chord between two samples may be from the true curve, m.
const CHORD: f64 = 1e-3;

/// Keeps all events, and samples of every path.
#[derive(Default)]
pub struct Recorder {
    /// The events, in order of time.
    pub events: Vec<Event>,
    /// The samples, by place of the ball.
    pub paths: Vec<Vec<Sample>>,
}

impl Recorder {
    /// A recorder for so many balls.
    pub fn new(n_balls: usize) -> Self {
        Self { events: Vec::new(), paths: vec![Vec::new(); n_balls] }
    }
}

impl Listen for Recorder {
    fn event(&mut self, event: Event) {
        self.events.push(event);
    }

    fn leg(&mut self, place: usize, course: &Course, since: f64, until: f64) {
        let path = &mut self.paths[place];
        if path.last().is_none_or(|last| last.time < since) {
            path.push(Sample { time: since, position: course.start.position });
        }
        let time = until - since;
        if time <= 0.0 || course.phase == Phase::AtRest {
            return;
        }
        // A chord over h seconds of a parabola lies within a h²/8 of it.
        let longest = (8.0 * CHORD / course.acceleration.length()).sqrt();
        let pieces = if longest > 0.0 { (time / longest).ceil().clamp(1.0, 1e4) } else { 1.0 };
        for k in 1..=pieces as u32 {
            let at = time * f64::from(k) / pieces;
            path.push(Sample { time: since + at, position: course.position(at) });
        }
    }
}
