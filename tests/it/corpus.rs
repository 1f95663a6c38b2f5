//! The shots of the digest, each drawn from its own number alone.

use crate::support::{Seeded, any_shot_on, any_size, any_stroke, direction, free_place};
use glam::DVec2;
use leaveline::BallId;
use leaveline::physics::{EventKind, PlacedBall, Shot, play};
use leaveline::table::{FrictionCurve, Surface, TableCard, TableShape, TableSize};
use leaveline::wire::{compact, write_shot};
use std::collections::BTreeMap;
use std::f64::consts::{FRAC_PI_3, PI};

/// Shots in the corpus.
pub const SHOTS: usize = 10_000;

/// The form of shot `number` as JSON text. Whoever plays the corpus reads these
/// texts, so all play the same bits.
pub fn text_of(number: usize) -> String {
    compact(&write_shot(&shot(number))).expect("a shot is JSON")
}

/// Shot `number`: one to sixteen balls, on the sizes' own cards and on any other,
/// spread or close together.
fn shot(number: usize) -> Shot {
    let mut seeded = Seeded::new(0x1dea_1b17 + number as u64);
    let seeded = &mut seeded;
    let n_balls = 1 + number % BallId::MAX_BALLS;
    let card = TableCard::of_size(any_size(seeded));
    let card = if seeded.below(2) == 0 { any_card(seeded, card) } else { card };
    let mut shot = if seeded.below(4) == 0 {
        cluster(seeded, card, n_balls)
    } else {
        any_shot_on(seeded, card, n_balls)
    };
    // At one of the balls, or anywhere.
    if n_balls > 1 && seeded.below(2) == 0 {
        let target = shot.balls[1 + seeded.below(n_balls as u64 - 1) as usize].position;
        let toward = target - shot.balls[0].position;
        let off = seeded.within(-1.0, 1.0) * 2.0 * shot.card.ball.radius / toward.length();
        shot.stroke.azimuth = libm::atan2(toward.y, toward.x) + off;
    }
    shot
}

/// A card that can be played on: each parameter its own or anywhere in its range.
fn any_card(seeded: &mut Seeded, mut card: TableCard) -> TableCard {
    let own = card;
    let mut draw = |value: &mut f64, low: f64, high: f64| {
        *value = match seeded.below(16) {
            0..8 => *value,
            8 => low,
            9 => high,
            _ => seeded.within(low, high),
        };
    };
    draw(&mut card.length, 0.9 * own.length, 1.1 * own.length);
    draw(&mut card.width, 0.9 * own.width, 1.1 * own.width);
    draw(&mut card.ball.radius, 0.026, 0.031);
    draw(&mut card.ball.mass, 0.1, 0.3);
    draw(&mut card.cloth.gravity, 1.6, 12.0);
    draw(&mut card.cloth.sliding_friction, 0.0, 0.6);
    draw(&mut card.cloth.rolling_friction, 0.004, 0.05);
    draw(&mut card.cloth.spin_decay, 0.0, 40.0);
    // Less lively balls take up to a minute over a rack: they touch more than a million times.
    draw(&mut card.ball_contact.restitution, 0.7, 1.0);
    let FrictionCurve { floor, range, decay } = &mut card.ball_contact.friction;
    draw(floor, 0.0, 0.3);
    draw(range, 0.0, 0.3);
    draw(decay, 0.0, 3.0);
    draw(&mut card.cushion.restitution, 0.0, 1.0);
    draw(&mut card.cushion.friction, 0.0, 0.6);
    draw(&mut card.squirt_mass_ratio, 5.0, 200.0);
    let mut height = card.cushion.nose_height / own.ball.radius;
    draw(&mut height, 1.0, 1.6);
    card.cushion.nose_height = height.clamp(1.0001, 1.5999) * card.ball.radius;
    draw(&mut card.corner_pocket.mouth, 0.105, 0.13);
    draw(&mut card.corner_pocket.shelf, 0.02, 0.05);
    draw(&mut card.side_pocket.mouth, 0.115, 0.145);
    draw(&mut card.side_pocket.hole_radius, 0.06, 0.07);
    if card.check().is_ok() { card } else { own }
}

/// A triangle of touching balls, at any angle, anywhere, and the cue ball alone.
fn cluster(seeded: &mut Seeded, card: TableCard, n_balls: usize) -> Shot {
    let shape = TableShape::new(&card);
    let pitch = 2.0 * card.ball.radius;
    loop {
        let apex = DVec2::new(seeded.within(0.0, card.length), seeded.within(0.0, card.width));
        let turn = if seeded.below(2) == 0 { 0.0 } else { seeded.within(-PI, PI) };
        let (down, across) = (direction(turn - FRAC_PI_3 / 2.0), direction(turn + FRAC_PI_3 / 2.0));
        let places: Vec<DVec2> = (0..5)
            .flat_map(|row| (0..=row).map(move |k| (row - k, k)))
            .map(|(a, b)| apex + (down * f64::from(a) + across * f64::from(b)) * pitch)
            .take(n_balls - 1)
            .collect();
        if places.iter().any(|at| shape.refusal(*at).is_some()) {
            continue;
        }
        let object = |(k, &position): (usize, &DVec2)| PlacedBall {
            id: BallId::object(k as u8 + 1).expect("1 to 15"),
            position,
        };
        let mut balls: Vec<PlacedBall> = places.iter().enumerate().map(object).collect();
        if let Some(position) = free_place(seeded, &card, &shape, &balls) {
            balls.insert(0, PlacedBall { id: BallId::CUE, position });
            return Shot { card, balls, stroke: any_stroke(seeded) };
        }
    }
}

#[test]
fn every_kind_of_shot_and_event_is_among_them() {
    let mut counts: BTreeMap<&str, usize> = BTreeMap::new();
    for number in 0..SHOTS / 10 {
        let shot = shot(number);
        let (card, stroke) = (&shot.card, &shot.stroke);
        let mut is = |what, holds: bool| *counts.entry(what).or_default() += usize::from(holds);
        for (size, name) in TableSize::ALL.iter().zip(["nine-foot", "eight-foot", "seven-foot"]) {
            is(name, card.size == *size);
        }
        is("a card of its own", *card != TableCard::of_size(card.size));
        is("a raised cue", stroke.elevation > 0.1);
        is("left side", stroke.side < -0.1);
        is("right side", stroke.side > 0.1);
        is("draw", stroke.height < -0.1);
        is("follow", stroke.height > 0.1);
        is("fast", stroke.speed > 4.0);
        is("slow", stroke.speed < 0.2);
        is("the cue ball alone", shot.balls.len() == 1);
        is("sixteen balls", shot.balls.len() == 16);
        let touching = |a: &PlacedBall, b: &PlacedBall| {
            a.id != b.id && a.position.distance(b.position) < 2.0 * card.ball.radius + 1e-9
        };
        let frozen =
            |ball: &PlacedBall| shot.balls.iter().filter(|other| touching(ball, other)).count();
        is("a frozen ball", shot.balls.iter().any(|ball| frozen(ball) == 1));
        is("a cluster", shot.balls.iter().any(|ball| frozen(ball) >= 3));
        let at_rail = |ball: &PlacedBall| ball.position.x < card.touch_distance() + 1e-9;
        is("frozen to a rail", shot.balls.iter().any(at_rail));

        let outcome = play(&shot).expect("legal");
        let events = |wanted: fn(&EventKind) -> bool| {
            outcome.events.iter().filter(|event| wanted(&event.kind)).count()
        };
        is("a contact", events(|kind| matches!(kind, EventKind::Contact(_))) > 0);
        is("many contacts", events(|kind| matches!(kind, EventKind::Contact(_))) > 10);
        is("a rail", events(|kind| matches!(kind, EventKind::Cushion(Surface::Rail(_)))) > 0);
        is("a jaw", events(|kind| matches!(kind, EventKind::Cushion(Surface::Pocket(_)))) > 0);
        is("a ball that falls", events(|kind| matches!(kind, EventKind::Pocketed(_))) > 0);
        is("rolling", events(|kind| matches!(kind, EventKind::Roll)) > 0);
        is("a stop", events(|kind| matches!(kind, EventKind::Stop)) > 0);
    }
    for (what, count) in counts {
        assert!(count >= 20, "{what}: only {count} shots in {}", SHOTS / 10);
    }
}
