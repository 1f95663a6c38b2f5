//! What must hold for every shot.

use crate::support::{Seeded, any_shot};
use glam::DVec2;
use leaveline::physics::{
    Arena, BallEnd, Course, Event, EventKind, Listen, Shot, at_the_strike, play, specific_energy,
};
use leaveline::table::{Rail, Surface, TableShape};
use leaveline::{BallId, BallMotion, Phase};

/// Keeps the legs of every ball.
#[derive(Default)]
struct Legs {
    legs: Vec<(usize, Course, f64, f64)>,
    events: Vec<Event>,
}

impl Listen for Legs {
    fn event(&mut self, event: Event) {
        self.events.push(event);
    }

    fn leg(&mut self, place: usize, course: &Course, since: f64, until: f64) {
        assert!(until >= since, "time runs forward: {since} to {until}");
        let end = course.motion(until - since);
        assert!(end.position.is_finite() && end.velocity.is_finite(), "finite: {end:?}");
        self.legs.push((place, *course, since, until));
    }
}

impl Legs {
    /// Checks that the energy of all balls together never grows from one moment
    /// at which a leg begins to the next.
    fn check_energy(&self, n_balls: usize, radius: f64, struck: f64) {
        let mut starts: Vec<&(usize, Course, f64, f64)> = self.legs.iter().collect();
        starts.sort_by(|a, b| a.2.total_cmp(&b.2));
        let mut now: Vec<Option<(Course, f64, f64)>> = vec![None; n_balls];
        let (mut before, mut k) = (struck, 0);
        while k < starts.len() {
            let time = starts[k].2;
            while k < starts.len() && starts[k].2 == time {
                let (place, course, since, until) = *starts[k];
                // A leg of no length is only a step on the way to the next one.
                if until > since || now[place].is_none() {
                    now[place] = Some((course, since, until));
                }
                k += 1;
            }
            let energy: f64 = now
                .iter()
                .flatten()
                // A ball whose last leg has ended has fallen.
                .filter(|(_, _, until)| *until >= time)
                .map(|(course, since, _)| specific_energy(&course.motion(time - since), radius))
                .sum();
            assert!(
                energy <= before + 1e-9 * struck,
                "energy grew by {:e} of {struck} at {time}",
                energy - before
            );
            before = energy;
        }
    }
}

/// Plays `shot` and returns its events, after checking energy along every leg.
fn inspect(shot: &Shot) -> (Vec<Event>, Vec<BallEnd>) {
    shot.check().unwrap_or_else(|error| panic!("a legal shot: {error}"));
    let struck = shot.struck().expect("there is a cue ball");
    let balls = at_the_strike(&shot.balls, struck);
    let mut legs = Legs::default();
    let ends = Arena::new(&shot.card).run(&balls, &mut legs);
    let radius = shot.card.ball.radius;
    legs.check_energy(balls.len(), radius, specific_energy(&struck, radius));
    (legs.events, ends)
}

/// Distances between balls and to cushions at every event, from the sampled paths.
fn check_room(shot: &Shot) {
    let outcome = play(shot).expect("a legal shot");
    let radius = shot.card.ball.radius;
    for event in &outcome.events {
        let mut places: Vec<(BallId, DVec2)> = Vec::new();
        for (ball, path) in shot.balls.iter().zip(&outcome.paths) {
            let fell = outcome.events.iter().any(|e| {
                e.ball == ball.id
                    && matches!(e.kind, EventKind::Pocketed(_))
                    && e.time <= event.time
            });
            // Only exact where a sample stands: chords are up to 1 mm off.
            let exact = path.iter().find(|s| s.time == event.time);
            let rests = path.last().filter(|s| s.time <= event.time);
            if let Some(sample) = exact.or(rests)
                && !fell
            {
                places.push((ball.id, sample.position));
            }
        }
        for (k, (a, at)) in places.iter().enumerate() {
            for (b, there) in &places[..k] {
                let gap = (*at - *there).length() - 2.0 * radius;
                assert!(gap > -1e-9, "{a} and {b} overlap by {} at {}", -gap, event.time);
            }
        }
    }
}

/// Checks everything that must hold for one shot; returns its number of events.
pub fn check_shot(shot: &Shot) -> usize {
    let (events, ends) = inspect(shot);
    assert!(events.len() < 5000, "{} events", events.len());
    let shape = TableShape::new(&shot.card);
    for end in ends {
        match end {
            BallEnd::Rest(at) => assert_eq!(shape.refusal(at), None, "on the table: {at}"),
            BallEnd::Pocketed(_) => {}
            BallEnd::Moving(at) => panic!("still moving at {at}"),
        }
    }
    check_room(shot);
    events.len()
}

#[test]
fn every_shot_ends_without_gain_or_overlap() {
    for seed in 0..1500 {
        let mut seeded = Seeded::new(seed);
        let n_balls = 1 + seeded.below(16) as usize;
        let shot = any_shot(&mut seeded, n_balls);
        let checked = std::panic::catch_unwind(|| check_shot(&shot));
        assert!(checked.is_ok(), "seed {seed} with {n_balls} balls: {shot:?}");
    }
}

fn mirrored(shot: &Shot, x: bool, y: bool) -> Shot {
    let mut other = shot.clone();
    for ball in &mut other.balls {
        ball.position = image(shot, ball.position, x, y);
    }
    let stroke = &mut other.stroke;
    if x {
        stroke.azimuth = std::f64::consts::PI - stroke.azimuth;
        stroke.side = -stroke.side;
    }
    if y {
        stroke.azimuth = -stroke.azimuth;
        stroke.side = -stroke.side;
    }
    other
}

fn image(shot: &Shot, at: DVec2, x: bool, y: bool) -> DVec2 {
    DVec2::new(
        if x { shot.card.length - at.x } else { at.x },
        if y { shot.card.width - at.y } else { at.y },
    )
}

fn is_contact(event: &Event) -> bool {
    matches!(event.kind, EventKind::Contact(_) | EventKind::Cushion(_))
}

/// Each ball's contacts before the sixth one on the table. Where sliding ends or a
/// ball stops is left out: balls that lean on each other do so more than once.
fn before_the_sixth_contact(events: &[Event]) -> Vec<Event> {
    let sixth = events
        .iter()
        .filter(|event| is_contact(event))
        .nth(5)
        .map_or(f64::INFINITY, |event| event.time);
    // Events nearer to it than rounding may fall on either side.
    let mut before: Vec<Event> = events
        .iter()
        .filter(|event| event.time < sixth - 1e-5)
        .filter(|event| !matches!(event.kind, EventKind::Roll | EventKind::Stop))
        .copied()
        .collect();
    before.sort_by_key(|event| event.ball);
    before
}

fn same_surface(kind: EventKind, x: bool, y: bool) -> EventKind {
    match kind {
        EventKind::Cushion(Surface::Rail(rail)) => EventKind::Cushion(Surface::Rail(match rail {
            Rail::Head if x => Rail::Foot,
            Rail::Foot if x => Rail::Head,
            Rail::Right if y => Rail::Left,
            Rail::Left if y => Rail::Right,
            same => same,
        })),
        other => other,
    }
}

fn check_images(shot: &Shot, seed: u64) {
    let original = play(shot).expect("a legal shot");
    for (x, y) in [(true, false), (false, true), (true, true)] {
        let image_of = mirrored(shot, x, y);
        let reflected = play(&image_of).expect("a legal image");
        let (one, two) = (
            before_the_sixth_contact(&original.events),
            before_the_sixth_contact(&reflected.events),
        );
        for (a, b) in one.iter().zip(&two) {
            let distance = (image(shot, a.position, x, y) - b.position).length();
            assert!(
                a.ball == b.ball && distance < 1e-6,
                "seed {seed}, mirrored in x {x} y {y}: {a:?} against {b:?}, {distance} m"
            );
            if !matches!(a.kind, EventKind::Cushion(Surface::Pocket(_)) | EventKind::Pocketed(_)) {
                assert_eq!(same_surface(a.kind, x, y), b.kind, "seed {seed}");
            }
        }
        assert_eq!(one.len(), two.len(), "seed {seed}: as many contacts up to the sixth");
        let contacts = original.events.iter().filter(|event| is_contact(event)).count();
        if contacts < 6 {
            for (a, b) in original.ends.iter().zip(&reflected.ends) {
                if let (BallEnd::Rest(a), BallEnd::Rest(b)) = (a, b) {
                    let distance = (image(shot, *a, x, y) - *b).length();
                    assert!(distance < 1e-6, "seed {seed}: rests {distance} m apart");
                }
            }
        }
    }
}

#[test]
fn the_mirrored_layout_gives_the_mirrored_outcome() {
    for seed in 0..400 {
        let mut seeded = Seeded::new(10_000 + seed);
        let n_balls = 1 + seeded.below(10) as usize;
        check_images(&any_shot(&mut seeded, n_balls), seed);
    }
}

#[test]
fn a_resting_table_stays_at_rest() {
    let mut seeded = Seeded::new(77);
    let shot = any_shot(&mut seeded, 16);
    let balls: Vec<(BallId, BallMotion)> = shot
        .balls
        .iter()
        .map(|b| (b.id, BallMotion { position: b.position, ..BallMotion::default() }))
        .collect();
    let ends = Arena::new(&shot.card).run(&balls, &mut leaveline::physics::Nothing);
    for (ball, end) in shot.balls.iter().zip(ends) {
        assert_eq!(end, BallEnd::Rest(ball.position), "{} was not touched", ball.id);
    }
    assert_eq!(Course::at_rest(DVec2::ZERO).phase, Phase::AtRest, "and rest is a phase");
}
