//! Why the cue ball ran as it did: replays with one thing changed.

use crate::support::{Seeded, any_shot};
use glam::DVec2;
use leaveline::BallId;
use leaveline::physics::{BallEnd, PlacedBall, Shot, Stroke, play};
use leaveline::practice::{Amount, Change, Replay, Why, why};
use leaveline::table::{TableCard, TableSize};

/// A stroke along +x at the 3, which lies so far to the left that it is cut by `cut`
/// degrees.
fn cut_shot(cut: f64, speed: f64, side: f64, height: f64) -> Shot {
    let card = TableCard::of_size(TableSize::NineFoot);
    let away = 2.0 * card.ball.radius * cut.to_radians().sin();
    let balls = vec![
        PlacedBall { id: BallId::CUE, position: DVec2::new(0.6, 0.5) },
        PlacedBall {
            id: BallId::object(3).expect("a ball"),
            position: DVec2::new(1.2, 0.5 + away),
        },
    ];
    let turn = leaveline::physics::squirt_angle(side, card.squirt_mass_ratio);
    Shot { card, balls, stroke: Stroke { azimuth: -turn, elevation: 0.0, speed, side, height } }
}

fn explained(shot: &Shot) -> Why {
    why(shot).expect("a sound shot").expect("the 3 is met")
}

fn of(why: &Why, change: Change) -> &Replay {
    why.replays.iter().find(|replay| replay.change == change).expect("all four are there")
}

fn turned(replay: &Replay) -> f64 {
    match replay.amount {
        Amount::Turned(angle) => angle.to_degrees(),
        other => panic!("{:?} gives {other:?}: {}", replay.change, replay.sentence),
    }
}

#[test]
fn without_side_there_is_nothing_to_take_away() {
    let why = explained(&cut_shot(30.0, 2.0, 0.0, 0.2));
    let replay = of(&why, Change::NoSide);
    assert_eq!((replay.amount, replay.strays), (Amount::Nothing, 0.0), "the same path to the bit");
    assert_eq!(replay.sentence, "Side makes no difference here.");
}

#[test]
fn side_turns_the_rebound_and_leaves_the_heading() {
    let why = explained(&cut_shot(30.0, 2.5, -0.4, 0.1));
    let replay = of(&why, Change::NoSide);
    // Left side, off the right rail: running.
    assert!(turned(replay) > 5.0, "{}", replay.sentence);
    assert!(replay.sentence.contains("rail"), "{}", replay.sentence);
    let rebound = why.facts.rebounds[0];
    let (with, without) = (rebound.left.expect("it moves"), rebound.without_side.expect("too"));
    assert!((with - without).abs() > 0.05, "what side did at the cushion: {with}, {without}");
}

/// Source: Broadfoot 1896, Billiards (Badminton Library): a gentle half-ball hit at
/// natural roll sends the cue ball off at 33 degrees; taken to 1.5, as in
/// `published::ball_ball`.
#[test]
fn natural_roll_off_a_half_ball_leaves_at_the_half_ball_angle() {
    let why = explained(&cut_shot(30.0, 2.0, 0.0, -0.4));
    let replay = of(&why, Change::NaturalRoll);
    assert!(turned(replay) > 20.0, "draw went elsewhere: {}", replay.sentence);
    // It rolls straight on from well before the samples that lie farther off than this.
    let rolls = |pair: &&[DVec2]| pair[0].distance(replay.path[0]) > 0.2 && pair[0] != pair[1];
    let rolling = replay.path.windows(2).find(rolls).expect("it goes on");
    let angle = (rolling[1] - rolling[0]).angle_to(DVec2::X).abs().to_degrees();
    assert!((angle - 33.0).abs() < 1.5, "{angle} degrees to the line of the shot");
}

#[test]
fn without_throw_the_object_ball_takes_the_line_of_centres() {
    let shot = cut_shot(40.0, 1.5, 0.0, 0.0);
    let why = explained(&shot);
    let replay = of(&why, Change::NoThrow);
    assert!((0.5..6.0).contains(&turned(replay)), "{}", replay.sentence);
    let line = (shot.balls[1].position - replay.path[0]).normalize();
    let way = (replay.object_path[1] - replay.object_path[0]).normalize();
    assert!((way - line).length() < 1e-9, "{way} along {line}");
}

#[test]
fn a_mirror_sends_the_ball_off_as_it_came() {
    // By the rail it rolls, so that its path is straight on both sides of the cushion.
    let why = explained(&cut_shot(45.0, 2.5, 0.0, 0.4));
    let replay = of(&why, Change::MirrorCushion);
    assert!(turned(replay) > 1.0, "{}", replay.sentence);
    let rebound = why.facts.rebounds[0];
    let at = replay.path.iter().position(|at| *at == rebound.position).expect("the same touch");
    let (came, left) =
        (replay.path[at] - replay.path[at - 1], replay.path[at + 1] - replay.path[at]);
    let along = |way: DVec2| way.normalize();
    let (came, left) = (along(came), along(left));
    assert!((came.x - left.x).abs() + (came.y + left.y).abs() < 1e-9, "{came} {left}");
    let length = |path: &[DVec2]| path.windows(2).map(|p| p[0].distance(p[1])).sum::<f64>();
    let outcome = play(&cut_shot(45.0, 2.5, 0.0, 0.4)).expect("a sound shot");
    let from = outcome.paths[0].iter().position(|s| s.position.distance(replay.path[0]) < 1e-9);
    let real: Vec<DVec2> = outcome.paths[0].iter().map(|sample| sample.position).collect();
    let real = length(&real[from.expect("the ghost ball")..]);
    assert!((length(&replay.path) - real).abs() < 1e-6, "as long as the real path");
}

#[test]
fn follow_bends_forward_and_draw_back() {
    let bend = |height| explained(&cut_shot(35.0, 2.0, 0.0, height)).facts.bend.expect("a cut");
    assert!(bend(0.45) > 0.3, "follow bends forward of the tangent line");
    assert!(bend(-0.45) < -0.2, "draw bends back from it");
    let why = explained(&cut_shot(35.0, 2.0, 0.0, 0.0));
    let tangent = why.facts.tangent.expect("a cut").to_degrees();
    assert!((tangent - 55.0).abs() < 0.2, "square to the line of centres: {tangent}");
    assert_eq!(explained(&cut_shot(0.0, 2.0, 0.0, 0.2)).facts.tangent, None, "a full hit has none");
}

#[test]
fn what_matters_most_comes_first() {
    let why = explained(&cut_shot(30.0, 3.0, 0.4, -0.2));
    let strays: Vec<f64> = why.replays.iter().map(|replay| replay.strays).collect();
    assert!(strays.is_sorted_by(|a, b| a >= b), "{strays:?}");
    assert_eq!(why.replays.len(), 4, "all are told");
}

#[test]
fn a_miss_has_no_why() {
    let mut shot = cut_shot(30.0, 2.0, 0.0, 0.0);
    shot.stroke.azimuth = 3.0;
    shot.stroke.speed = 0.3;
    assert_eq!(why(&shot), Ok(None), "nothing was met");
    shot.stroke.speed = -1.0;
    assert!(why(&shot).is_err(), "no stroke");
}

/// Frozen balls, kicks, scratches and combinations among them.
#[test]
fn any_shot_is_explained_from_where_it_really_was() {
    let mut seeded = Seeded::new(0x3179);
    let mut explained = 0;
    for round in 0..300 {
        let shot = any_shot(&mut seeded, 2 + round % 8);
        let Some(why) = why(&shot).expect("a sound shot") else { continue };
        explained += 1;
        for replay in &why.replays {
            let sane = replay.path.iter().all(|at| at.is_finite());
            assert!(sane && replay.strays.is_finite(), "round {round}: {:?}", replay.change);
            assert!(replay.sentence.ends_with('.'), "round {round}: {}", replay.sentence);
        }
        // A change that changes nothing plays the shot from the contact on as it was.
        let outcome = play(&shot).expect("a sound shot");
        let same = why.replays.iter().find(|replay| {
            replay.strays == 0.0 && replay.change == Change::NoSide && replay.path.len() > 2
        });
        if let (Some(replay), BallEnd::Rest(stop)) = (same, outcome.ends[0]) {
            let last = replay.path[replay.path.len() - 1];
            assert!(last.distance(stop) < 1e-4, "round {round}: {last} for {stop}");
        }
    }
    assert!(explained > 100, "{explained} of 300");
}
