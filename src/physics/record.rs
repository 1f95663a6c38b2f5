//! What a simulation tells while it runs.

use super::motion::Course;
use super::shot::{Event, Sample};
use crate::ball::Phase;

/// Listens to a simulation. The default does nothing.
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

    /// The same, with the events of one moment in the order of the balls. They come all
    /// but sorted, so each is moved forward by itself.
    pub fn in_order(mut self) -> Self {
        let key = |event: &Event| (event.time, event.ball);
        for next in 1..self.events.len() {
            let mut at = next;
            while at > 0 && key(&self.events[at - 1]) > key(&self.events[at]) {
                self.events.swap(at - 1, at);
                at -= 1;
            }
        }
        self
    }
}

impl Listen for Recorder {
    fn event(&mut self, event: Event) {
        self.events.push(event);
    }

    fn leg(&mut self, place: usize, course: &Course, since: f64, until: f64) {
        let path = &mut self.paths[place];
        let start = Sample { time: since, position: course.start.position };
        match path.last_mut() {
            // What an impact or the drawing up of the course set right is the truth.
            Some(last) if last.time >= since => last.position = start.position,
            _ => path.push(start),
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
            // Not since + at: off by a rounding, the next leg would begin with a
            // chord of no length, whose direction is noise.
            let when = if f64::from(k) < pieces { since + at } else { until };
            path.push(Sample { time: when, position: course.position(at) });
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::ball::BallMotion;
    use crate::table::{TableCard, TableSize};
    use glam::DVec2;

    #[test]
    fn a_leg_ends_where_the_next_begins() {
        let cloth = TableCard::of_size(TableSize::NineFoot).cloth;
        let radius = 0.028;
        let mut recorder = Recorder::new(1);
        // Times whose differences round.
        let times = [0.0, 0.1, 0.3, 0.7, 1.1, 1.3];
        for pair in times.windows(2) {
            let start = BallMotion {
                position: DVec2::new(pair[0], 0.5),
                velocity: DVec2::new(1.0, 0.0),
                ..BallMotion::default()
            };
            let course = Course::new(start, radius, &cloth);
            recorder.leg(0, &course, pair[0], pair[1]);
        }
        let path = &recorder.paths[0];
        for time in times {
            assert!(path.iter().any(|sample| sample.time == time), "a sample at {time} s");
        }
        for pair in path.windows(2) {
            let between = pair[1].time - pair[0].time;
            assert!(between > 1e-6, "{between} s from {:?}", pair[0]);
        }
    }
}
