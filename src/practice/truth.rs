//! What the cue ball really did from the object ball on: the part of an outcome
//! that a Read call is measured against.

use crate::ball::BallId;
use crate::geometry::{angle_between, unit_from_angle};
use crate::physics::{BallEnd, Event, EventKind, Outcome, Sample, Shot};
use crate::table::{PocketId, Rail, Surface};
use glam::DVec2;

/// A place where the cue ball met a cushion.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Touch {
    /// What it met: a rail, or a jaw or facing by its pocket.
    pub surface: Surface,
    /// The ball's centre at that moment, m.
    pub position: DVec2,
    /// Time since the strike, s.
    pub time: f64,
}

impl Touch {
    /// The rail it met; `None` for a jaw or facing.
    pub fn rail(&self) -> Option<Rail> {
        match self.surface {
            Surface::Rail(rail) => Some(rail),
            Surface::Pocket(_) => None,
        }
    }
}

/// What the cue ball really did from the object ball on.
#[derive(Clone, Debug, PartialEq)]
pub struct CuePath {
    /// The object ball it met first.
    pub first: BallId,
    /// How high above its middle the tip met it, in radii of the ball; below is negative.
    pub height: f64,
    /// Unit direction of the cue ball's travel just before contact: the line of
    /// the shot.
    pub approach: DVec2,
    /// The ghost ball: the cue ball's centre at contact, m.
    pub ghost: DVec2,
    /// Unit vector from the cue ball to the object ball at contact.
    pub line_of_centres: DVec2,
    /// Time of contact since the strike, s.
    pub contact_time: f64,
    /// Every cushion met after contact, in order of time.
    pub touches: Vec<Touch>,
    /// Where the cue ball came to rest or fell, m; where it was last seen if it
    /// moves for ever.
    pub stop: DVec2,
    /// The pocket it fell into, if it did.
    pub pocketed: Option<PocketId>,
    /// The true curve from the ghost ball to the stop, both included, in chords
    /// within 1 mm of it.
    pub path: Vec<Sample>,
    /// The first place after contact where sliding ended, m.
    pub slide_end: Option<DVec2>,
}

impl CuePath {
    /// Takes the cue ball's path from its first contact on out of `outcome`.
    ///
    /// `None` when the cue ball meets no object ball, or when `outcome` is not
    /// one of `shot` (a ball or its path is missing).
    pub fn of(shot: &Shot, outcome: &Outcome) -> Option<Self> {
        let index_of = |id: BallId| shot.balls.iter().position(|ball| ball.id == id);
        let cue = index_of(BallId::CUE)?;
        let of_cue = |event: &&Event| event.ball.is_cue();

        // The cue ball has the lowest number, so a contact of it is its event.
        let is_contact = |event: &Event| match event.kind {
            EventKind::Contact(other) if event.ball.is_cue() => Some(other),
            _ => None,
        };
        let (at, first) = outcome
            .events
            .iter()
            .enumerate()
            .find_map(|(k, event)| is_contact(event).map(|other| (k, other)))?;
        let contact = outcome.events[at];
        let ghost = contact.position;
        let later = &outcome.events[at + 1..];

        let cue_path = outcome.paths.get(cue)?;
        let object = position_at(outcome.paths.get(index_of(first)?)?, contact.time)?;
        let (stop, pocketed) = match *outcome.ends.get(cue)? {
            BallEnd::Rest(place) | BallEnd::Moving(place) => (place, None),
            BallEnd::Pocketed(pocket) => {
                let fall = |event: &&Event| matches!(event.kind, EventKind::Pocketed(_));
                (later.iter().filter(of_cue).find(fall)?.position, Some(pocket))
            }
        };

        let touches = later
            .iter()
            .filter(of_cue)
            .filter_map(|event| match event.kind {
                EventKind::Cushion(surface) => {
                    Some(Touch { surface, position: event.position, time: event.time })
                }
                _ => None,
            })
            .collect();
        let roll = |event: &&Event| event.kind == EventKind::Roll;
        let slide_end = later.iter().filter(of_cue).find(roll).map(|event| event.position);

        Some(Self {
            first,
            height: shot.stroke.height,
            approach: approach(cue_path, &contact)
                .unwrap_or_else(|| unit_from_angle(shot.stroke.azimuth)),
            ghost,
            line_of_centres: (object - ghost).normalize_or_zero(),
            contact_time: contact.time,
            touches,
            stop,
            pocketed,
            path: path_from(cue_path, &contact, stop),
            slide_end,
        })
    }

    /// The cut of the shot, rad, positive if the ball goes to the left of its line.
    pub fn cut(&self) -> f64 {
        angle_between(self.approach, self.line_of_centres)
    }

    /// The rails met, in order, with the place of each touch; jaws and facings
    /// are left out.
    pub fn rail_touches(&self) -> impl Iterator<Item = (Rail, &Touch)> {
        self.touches.iter().filter_map(|touch| touch.rail().map(|rail| (rail, touch)))
    }

    /// Length of the true curve, m.
    pub fn length(&self) -> f64 {
        self.path.windows(2).map(|pair| pair[0].position.distance(pair[1].position)).sum()
    }
}

/// Where a path is at `time`, on its chords; its end when `time` lies outside.
fn position_at(path: &[Sample], time: f64) -> Option<DVec2> {
    let next = path.partition_point(|sample| sample.time < time);
    let Some(after) = path.get(next) else { return path.last().map(|sample| sample.position) };
    let Some(before) = next.checked_sub(1).map(|k| path[k]) else { return Some(after.position) };
    let share = (time - before.time) / (after.time - before.time);
    Some(before.position.lerp(after.position, share))
}

/// A chord shorter than this has no direction of its own, only that of its
/// rounding, m.
const SHORTEST_CHORD: f64 = 1e-9;

/// Direction of the last chord that leads to the contact; `None` for a cue ball
/// that touched the object ball from the start.
fn approach(path: &[Sample], contact: &Event) -> Option<DVec2> {
    path.iter()
        .rev()
        .filter(|sample| sample.time < contact.time)
        .map(|sample| contact.position - sample.position)
        .find(|chord| chord.length() > SHORTEST_CHORD)
        .map(|chord| chord.normalize())
}

/// The samples after the contact, between the ghost ball and the stop.
fn path_from(path: &[Sample], contact: &Event, stop: DVec2) -> Vec<Sample> {
    let start = Sample { time: contact.time, position: contact.position };
    let mut samples = vec![start];
    samples.extend(path.iter().filter(|sample| sample.time > contact.time));
    let last = samples[samples.len() - 1];
    if last.position != stop {
        samples.push(Sample { time: last.time, position: stop });
    }
    samples
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::physics::{PlacedBall, Stroke};
    use crate::table::{TableCard, TableSize};

    fn at(time: f64, x: f64, y: f64) -> Sample {
        Sample { time, position: DVec2::new(x, y) }
    }

    fn event(time: f64, ball: BallId, kind: EventKind, x: f64, y: f64) -> Event {
        Event { time, ball, kind, position: DVec2::new(x, y) }
    }

    /// The cue ball comes off the head rail, meets the 3, then a jaw and the
    /// foot rail, and stops.
    fn played() -> (Shot, Outcome) {
        let three = BallId::object(3).expect("a ball");
        let cue = BallId::CUE;
        let balls = vec![
            PlacedBall { id: three, position: DVec2::new(1.5, 0.5) },
            PlacedBall { id: cue, position: DVec2::new(0.5, 0.5) },
        ];
        let stroke = Stroke { azimuth: 3.0, elevation: 0.0, speed: 2.0, side: 0.0, height: 0.0 };
        let shot = Shot { card: TableCard::of_size(TableSize::NineFoot), balls, stroke };
        let events = vec![
            event(0.0, cue, EventKind::Strike, 0.5, 0.5),
            event(0.3, cue, EventKind::Cushion(Surface::Rail(Rail::Head)), 0.03, 0.5),
            event(0.4, cue, EventKind::Roll, 0.1, 0.5),
            event(1.0, cue, EventKind::Contact(three), 1.5, 0.45),
            event(1.1, three, EventKind::Roll, 1.6, 0.6),
            event(1.2, cue, EventKind::Roll, 1.6, 0.4),
            event(1.5, cue, EventKind::Cushion(Surface::Pocket(PocketId::FootRight)), 2.4, 0.03),
            event(1.8, cue, EventKind::Cushion(Surface::Rail(Rail::Foot)), 2.51, 0.2),
            event(3.0, cue, EventKind::Stop, 2.0, 0.6),
        ];
        let ends = vec![BallEnd::Rest(DVec2::new(1.9, 1.2)), BallEnd::Rest(DVec2::new(2.0, 0.6))];
        let three_path = vec![at(0.0, 1.5, 0.5), at(1.0, 1.5, 0.5), at(2.0, 1.9, 1.2)];
        let cue_path = vec![
            at(0.0, 0.5, 0.5),
            at(0.3, 0.03, 0.5),
            at(0.4, 0.1, 0.5),
            at(1.0, 1.5, 0.45),
            at(1.2, 1.6, 0.4),
            at(1.5, 2.4, 0.03),
            at(1.8, 2.51, 0.2),
            at(3.0, 2.0, 0.6),
        ];
        let paths = vec![three_path, cue_path];
        (shot, Outcome { duration: 3.0, events, ends, paths })
    }

    #[test]
    fn only_what_follows_the_contact_counts() {
        let (shot, outcome) = played();
        let path = CuePath::of(&shot, &outcome).expect("the 3 is met");
        assert_eq!(path.first.number(), 3, "the 3 is met");
        assert_eq!(path.ghost, DVec2::new(1.5, 0.45), "the centre at contact");
        assert_eq!(path.line_of_centres, DVec2::Y, "the 3 lies to the left");
        assert!(path.approach.x > 0.99 && path.approach.y < 0.0, "off the head rail, not the cue");
        let surfaces: Vec<_> = path.touches.iter().map(|touch| touch.surface).collect();
        let jaw = Surface::Pocket(PocketId::FootRight);
        assert_eq!(surfaces, [jaw, Surface::Rail(Rail::Foot)], "the head rail came before");
        assert_eq!(path.rail_touches().count(), 1, "a jaw is no rail");
        assert_eq!(path.slide_end, Some(DVec2::new(1.6, 0.4)), "not the roll before contact");
        assert_eq!(path.path.first().map(|s| s.position), Some(path.ghost), "from the ghost ball");
        assert_eq!(path.path.last().map(|s| s.position), Some(path.stop), "to the stop");
        assert_eq!(path.path.len(), 5, "and everything between");
    }

    #[test]
    fn a_scratch_ends_where_the_ball_fell() {
        let (shot, mut outcome) = played();
        outcome.events.pop();
        let pocket = PocketId::FootLeft;
        outcome.events.push(event(2.0, BallId::CUE, EventKind::Pocketed(pocket), 2.55, 1.28));
        outcome.ends[1] = BallEnd::Pocketed(pocket);
        let path = CuePath::of(&shot, &outcome).expect("the 3 is met");
        assert_eq!(path.pocketed, Some(pocket), "it fell");
        assert_eq!(path.stop, DVec2::new(2.55, 1.28), "there");
    }

    #[test]
    fn a_miss_has_no_path_to_grade() {
        let (shot, mut outcome) = played();
        outcome.events.retain(|event| !matches!(event.kind, EventKind::Contact(_)));
        assert_eq!(CuePath::of(&shot, &outcome), None, "nothing was met");
    }

    #[test]
    fn a_frozen_pair_takes_the_line_from_the_cue() {
        let (shot, mut outcome) = played();
        for event in &mut outcome.events[..4] {
            event.time = 0.0;
        }
        outcome.paths[1].drain(1..4);
        outcome.paths[1][0].position = outcome.events[3].position;
        let path = CuePath::of(&shot, &outcome).expect("the 3 is met");
        assert!((path.approach - unit_from_angle(3.0)).length() < 1e-12, "along the cue");
    }
}
