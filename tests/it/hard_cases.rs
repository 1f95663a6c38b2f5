//! Single shots that are hard for an event engine: contacts that graze, freeze,
//! press, come at one moment, or are missed by a hair.

use glam::{DVec2, DVec3};
use leaveline::physics::{
    Arena, BallEnd, Event, EventKind, Outcome, PlacedBall, Recorder, Shot, Stroke, play,
};
use leaveline::table::{PocketId, Rail, Surface, TableCard, TableSize};
use leaveline::{BallId, BallMotion};

fn card() -> TableCard {
    TableCard::of_size(TableSize::NineFoot)
}

fn ball(number: u8, x: f64, y: f64) -> PlacedBall {
    let id = if number == 0 { BallId::CUE } else { BallId::object(number).expect("a ball") };
    PlacedBall { id, position: DVec2::new(x, y) }
}

fn stroke(azimuth: f64, speed: f64, height: f64) -> Stroke {
    Stroke { azimuth, elevation: 0.0, speed, side: 0.0, height }
}

fn played(balls: Vec<PlacedBall>, stroke: Stroke) -> Outcome {
    play(&Shot { card: card(), balls, stroke }).unwrap_or_else(|error| panic!("{error}"))
}

fn rests(outcome: &Outcome, place: usize) -> DVec2 {
    let BallEnd::Rest(at) = outcome.ends[place] else { panic!("{:?}", outcome.ends[place]) };
    at
}

fn count(outcome: &Outcome, wanted: impl Fn(&Event) -> bool) -> usize {
    outcome.events.iter().filter(|event| wanted(event)).count()
}

fn is_contact(event: &Event) -> bool {
    matches!(event.kind, EventKind::Contact(_))
}

#[test]
fn a_graze_moves_the_ball_by_as_little_as_it_touches() {
    let reach = 2.0 * card().ball.radius;
    for depth in [1e-9, 1e-7, 1e-5] {
        let hit = played(
            vec![ball(0, 0.5, 0.6), ball(1, 1.2, 0.6 + reach - depth)],
            stroke(0.0, 1.0, 0.4),
        );
        // The line of centres is turned by acos(1 - depth / 2R), so the ball gets
        // this share of the speed.
        let share = (2.0 * depth / reach).sqrt();
        let path = &hit.paths[1];
        let gone = (rests(&hit, 1) - path[0].position).length();
        assert!(gone < 6.0 * share * share, "{depth} deep: it went {gone} m");
    }
    let miss =
        played(vec![ball(0, 0.5, 0.6), ball(1, 1.2, 0.6 + reach + 1e-9)], stroke(0.0, 1.0, 0.4));
    assert_eq!(count(&miss, is_contact), 0, "a nanometre off is a miss");
}

#[test]
fn a_ball_that_stops_a_hair_before_contact_does_not_touch() {
    let (card, speed) = (card(), 0.4);
    let run = speed * speed / (2.0 * card.cloth.rolling_friction * card.cloth.gravity);
    let reach = 2.0 * card.ball.radius;
    for (extra, contacts) in [(1e-7, 0), (-1e-7, 1)] {
        let far = 0.3 + run + reach + extra;
        let outcome = played(vec![ball(0, 0.3, 0.6), ball(1, far, 0.6)], stroke(0.0, speed, 0.4));
        let touched = count(&outcome, is_contact);
        // At a tenth of a micrometre the closing speed is some 0.1 mm/s: it rests.
        assert!(touched <= contacts, "{extra}: {touched} contacts");
        let gap = (rests(&outcome, 1) - rests(&outcome, 0)).length() - reach;
        assert!(gap > -1e-9 && gap < 2e-7, "{extra}: they rest {gap} m apart");
    }
}

#[test]
fn two_balls_hit_at_once_part_as_mirror_images() {
    let reach = 2.0 * card().ball.radius;
    let (ahead, aside) = (reach * 0.75_f64.sqrt(), reach / 2.0);
    let y = card().width / 2.0;
    let outcome = played(
        vec![ball(0, 0.6, y), ball(4, 1.2 + ahead, y + aside), ball(9, 1.2 + ahead, y - aside)],
        stroke(0.0, 2.0, 0.0),
    );
    let (one, two, cue) = (rests(&outcome, 1), rests(&outcome, 2), rests(&outcome, 0));
    assert!((one.x - two.x).abs() < 1e-6, "as far down the table: {one} and {two}");
    assert!((one.y + two.y - 2.0 * y).abs() < 1e-6, "as far to both sides: {one} and {two}");
    assert!((cue.y - y).abs() < 1e-6, "the cue ball stays on its line: {cue}");
}

#[test]
fn follow_into_a_ball_frozen_to_the_rail_ends() {
    let card = card();
    let (touch, reach) = (card.touch_distance(), 2.0 * card.ball.radius);
    let y = 0.5;
    let outcome =
        played(vec![ball(0, 1.9, y), ball(1, card.length - touch, y)], stroke(0.0, 1.5, 0.45));
    assert!(outcome.events.len() < 400, "no endless series: {} events", outcome.events.len());
    let gap = (rests(&outcome, 0) - rests(&outcome, 1)).length() - reach;
    assert!(gap > -1e-9, "no overlap at rest: {gap}");
    assert!(count(&outcome, is_contact) >= 1, "they met");
}

#[test]
fn a_frozen_line_against_the_rail_stays_together() {
    let card = card();
    let (touch, reach) = (card.touch_distance(), 2.0 * card.ball.radius);
    let end = card.length - touch;
    let balls = vec![
        ball(0, 1.8, 0.5),
        ball(1, end - 2.0 * reach, 0.5),
        ball(2, end - reach, 0.5),
        ball(3, end, 0.5),
    ];
    let outcome = played(balls, stroke(0.0, 0.6, 0.0));
    for place in 0..4 {
        let at = rests(&outcome, place);
        assert!((at.y - 0.5).abs() < 1e-6, "ball {place} stays on the line: {at}");
    }
    assert!(
        count(&outcome, |e| e.ball == BallId::object(3).expect("a ball")
            && matches!(e.kind, EventKind::Cushion(_)))
            >= 1,
        "the last one met the rail"
    );
}

#[test]
fn a_ball_frozen_to_the_rail_rolls_along_it() {
    let card = card();
    let touch = card.touch_distance();
    let outcome = played(vec![ball(0, 0.3, touch)], stroke(0.0, 0.5, 0.4));
    let at = rests(&outcome, 0);
    assert!((at.y - touch).abs() < 1e-9, "along the nose: {at}");
    assert_eq!(count(&outcome, |e| matches!(e.kind, EventKind::Cushion(_))), 0, "no rebound");
}

#[test]
fn a_ball_struck_into_its_own_rail_rebounds_at_once() {
    let card = card();
    let outcome = played(vec![ball(0, 0.9, card.touch_distance())], stroke(-1.0, 1.0, 0.0));
    let first = outcome.events[1];
    assert_eq!(first.kind, EventKind::Cushion(Surface::Rail(Rail::Right)), "{first:?}");
    assert_eq!(first.time, 0.0, "it touches already");
    assert!(rests(&outcome, 0).y > 0.1, "and comes off");
}

#[test]
fn a_ball_hanging_in_the_jaws_falls_when_touched() {
    let arena = Arena::new(&card());
    let pocket = arena.shape().pocket(PocketId::FootLeft);
    let hanging = pocket.hole - pocket.axis * (pocket.hole_radius + 0.002);
    let from = hanging - pocket.axis * 0.5;
    let azimuth = pocket.axis.y.atan2(pocket.axis.x);
    let outcome = played(
        vec![ball(0, from.x, from.y), ball(7, hanging.x, hanging.y)],
        stroke(azimuth, 0.7, 0.0),
    );
    assert_eq!(outcome.ends[1], BallEnd::Pocketed(PocketId::FootLeft), "a nudge is enough");
    assert!(matches!(outcome.ends[0], BallEnd::Rest(_)), "the stunned cue ball stays");
}

#[test]
fn a_ball_frozen_to_a_jaw_point_rests_and_is_driven_off_it() {
    let arena = Arena::new(&card());
    let shape = arena.shape();
    let jaw = *shape
        .jaw_points
        .iter()
        .find(|jaw| jaw.pocket == PocketId::SideLeft)
        .expect("a side pocket has jaws");
    // Half way between the two faces that meet at the point.
    let normal = shape
        .walls
        .iter()
        .filter(|wall| wall.distance(jaw.position) < 1e-9)
        .map(|wall| wall.normal)
        .sum::<DVec2>()
        .normalize();
    let at = jaw.position + normal * card().touch_distance();
    let from = at + normal * 0.4;
    let azimuth = (-normal.y).atan2(-normal.x);
    let outcome =
        played(vec![ball(0, from.x, from.y), ball(5, at.x, at.y)], stroke(azimuth, 1.0, 0.0));
    let five = BallId::object(5).expect("a ball");
    let jaws = count(&outcome, |e| {
        e.ball == five && e.kind == EventKind::Cushion(Surface::Pocket(jaw.pocket))
    });
    assert!(jaws >= 1, "it is squeezed against the point");
    assert!(arena.shape().refusal(rests(&outcome, 1)).is_none(), "and ends on the table");
}

#[test]
fn a_spinning_ball_is_met_where_it_spins() {
    let card = card();
    let spinning = BallMotion {
        position: DVec2::new(1.5, 0.6),
        spin: DVec3::new(0.0, 0.0, 60.0),
        ..BallMotion::default()
    };
    let coming = BallMotion {
        position: DVec2::new(1.0, 0.6),
        velocity: DVec2::new(1.0, 0.0),
        spin: DVec3::new(0.0, 1.0 / card.ball.radius, 0.0),
    };
    let balls = [(BallId::CUE, coming), (BallId::object(2).expect("a ball"), spinning)];
    let mut recorder = Recorder::new(2);
    Arena::new(&card).run(&balls, &mut recorder);
    let met = recorder.events.iter().find(|event| is_contact(event)).expect("they meet");
    let expected = 1.5 - 2.0 * card.ball.radius;
    assert!((met.position.x - expected).abs() < 1e-9, "where it stood: {met:?}");
    let side = recorder.paths[1].last().expect("a path").position.y - 0.6;
    assert!(side.abs() > 1e-3, "its spin throws it aside: {side}");
}

#[test]
fn a_drawn_cue_ball_comes_back_past_its_start() {
    let outcome = played(vec![ball(0, 1.0, 0.6), ball(1, 1.5, 0.6)], stroke(0.0, 2.5, -0.45));
    assert!(rests(&outcome, 0).x < 0.95, "it draws back: {}", rests(&outcome, 0));
}

#[test]
fn a_shot_without_friction_is_followed_for_a_stated_time() {
    let mut card = card();
    card.cloth.rolling_friction = 0.0;
    let balls = vec![ball(0, 1.0, 0.6)];
    let shot = Shot { card, balls, stroke: stroke(0.3, 1.0, 0.4) };
    let outcome = play(&shot).expect("it is playable");
    if let BallEnd::Rest(at) = outcome.ends[0] {
        panic!("nothing stops it, yet it rests at {at}");
    }
    assert!(outcome.duration <= leaveline::physics::LONGEST_SHOT, "{}", outcome.duration);
}
