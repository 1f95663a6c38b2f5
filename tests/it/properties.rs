//! What must hold for a shot and its images; what must hold for each by itself is
//! proved in `tests/soak`.

use crate::support::{Seeded, any_shot};
use glam::DVec2;
use leaveline::physics::{Arena, BallEnd, Course, Event, EventKind, Shot, play};
use leaveline::table::{Rail, Surface};
use leaveline::{BallId, BallMotion, Phase};

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
