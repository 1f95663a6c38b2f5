//! Marks and numbers that players should find fair.

use super::{call, card, graded, on, perfect, text, truth, two_rails};
use glam::DVec2;
use leaveline::practice::{CallPoint, Dimension, grade};
use leaveline::table::Rail;

/// The sketch of a good but not exact call: it should get about two thirds.
#[test]
fn a_decent_call_gets_about_two_thirds() {
    let truth = two_rails();
    let card = card();
    let diamond = card.length / 8.0;
    let call = call(
        &[
            (Rail::Left, on(&card, Rail::Left, 1.5 + 0.25 * diamond)),
            (Rail::Foot, on(&card, Rail::Foot, 0.75 - 0.35 * diamond)),
        ],
        truth.stop + DVec2::new(0.15, 0.0),
    );
    let mark = graded(&truth, &call).mark;
    assert!((60.0..75.0).contains(&mark), "{mark}");
    let marks: Vec<f64> = (1..=6).map(|level| grade(&card, &truth, &call, level).mark).collect();
    assert!(marks.windows(2).all(|pair| pair[1] < pair[0]), "stricter by level: {marks:?}");
}

#[test]
fn errors_are_told_in_the_units_of_players() {
    let truth = two_rails();
    let card = card();
    let diamond = card.length / 8.0;
    let call = call(
        &[
            (Rail::Left, on(&card, Rail::Left, 1.5 - 0.5 * diamond)),
            (Rail::Foot, on(&card, Rail::Foot, 0.75 - 0.25 * diamond)),
        ],
        truth.stop
            + (truth.stop - truth.touches[1].position).normalize() * (5.0 * card.ball.radius),
    );
    let grade = graded(&truth, &call);
    let labels: Vec<_> =
        grade.lines.iter().map(|line| (line.id.as_str(), line.label.as_str())).collect();
    assert_eq!(
        labels,
        [
            ("heading", "heading off the 3"),
            ("rail-1", "left rail"),
            ("rebound-1", "off the left rail"),
            ("rail-2", "foot rail"),
            ("rebound-2", "off the foot rail"),
            ("stop", "stop"),
            ("length", "length"),
            ("curve", "whole curve"),
        ],
        "in the order of the path"
    );
    assert_eq!(text(&grade, "rail-1"), "0.50 ◇ short", "the ball runs toward the foot");
    assert_eq!(text(&grade, "rail-2"), "0.25 ◇ long", "the ball runs toward the right");
    assert_eq!(text(&grade, "stop"), "2.5 balls long", "beyond the real stop");
    let spoken = &grade.lines[1].spoken;
    assert_eq!(spoken, "0.50 diamonds short", "for the ear");
    // The real heading is atan(0.71875 / 0.5), 10.2 degrees left of the shot's 45;
    // the called one, nearer the head, is atan(0.71875 / 0.34375), 19.4 degrees left.
    assert_eq!(text(&grade, "heading"), "9.3° too wide", "turned farther off the shot");
}

#[test]
fn dimensions_lie_where_the_errors_are() {
    let truth = two_rails();
    let card = card();
    let mut call = perfect(&truth);
    call.points[0].position.x += 0.125;
    call.stop += DVec2::new(-0.25, 0.0);
    let grade = graded(&truth, &call);
    let of = |id: &str| {
        let line = grade.lines.iter().find(|line| line.id == id).expect("a line");
        line.dimension.clone()
    };
    let beyond = card.width + 0.03;
    let expected = Dimension::Line {
        from: DVec2::new(1.625, beyond),
        to: DVec2::new(1.5, beyond),
        text: "0.40 ◇".into(),
    };
    assert_eq!(of("rail-1"), Some(expected), "a little beyond the left nose");
    assert_eq!(of("rail-2"), None, "nothing to show");
    let Some(Dimension::Arc { centre, radius, from, to, .. }) = of("heading") else {
        panic!("an arc at the ghost ball")
    };
    assert_eq!(centre, truth.ghost, "at the ghost ball");
    assert!(radius < 0.6 && from < to, "inside the leg, from the call to the path");
    let Some(Dimension::Line { from, to, .. }) = of("stop") else { panic!("a line at the stop") };
    assert_eq!((from, to), (call.stop, truth.stop), "from the call to the stop");
}

/// The real path ends 2 cm before the foot rail; the call touches it and stops
/// 2 cm from it. Then the same the other way round.
#[test]
fn a_near_miss_of_a_rail_is_no_cliff() {
    let card = card();
    let touch = on(&card, Rail::Foot, 0.75);
    let stop = touch - DVec2::new(0.02, 0.0);
    let ghost = DVec2::new(1.0, 0.5);
    let short = truth(ghost, &[], stop);
    let mark = graded(&short, &call(&[(Rail::Foot, touch)], stop)).mark;
    assert!((90.0..=95.0).contains(&mark), "called and not touched: {mark}");
    let brushed = truth(ghost, &[(Rail::Foot, touch)], stop);
    let mark = graded(&brushed, &call(&[], stop)).mark;
    assert!((90.0..=97.0).contains(&mark), "touched and not called: {mark}");
}

#[test]
fn wrong_rails_cost_by_how_wrong_they_are() {
    let truth = two_rails();
    let card = card();
    let best = perfect(&truth);
    let mut without = best.clone();
    without.points.remove(1);
    let left_out = graded(&truth, &without).mark;
    assert!((40.0..85.0).contains(&left_out), "one of two rails left out: {left_out}");

    let mut far = best.clone();
    far.points.insert(1, call(&[(Rail::Head, on(&card, Rail::Head, 0.6))], DVec2::ZERO).points[0]);
    let not_touched = graded(&truth, &far).mark;
    assert!((40.0..82.0).contains(&not_touched), "a rail across the table: {not_touched}");

    let mut renamed = best;
    renamed.points[1].rail = Some(Rail::Right);
    let renamed = graded(&truth, &renamed).mark;
    assert!(renamed < 95.0, "the right place on the wrong rail: {renamed}");

    let nothing = graded(&truth, &call(&[], truth.ghost)).mark;
    assert!(nothing < 25.0, "no call at all: {nothing}");
}

#[test]
fn wrong_rails_are_named_in_the_lines() {
    let truth = two_rails();
    let card = card();
    let called =
        call(&[(Rail::Left, on(&card, Rail::Left, 1.5)), (Rail::Left, DVec2::ONE)], truth.stop);
    let grade = graded(&truth, &called);
    assert_eq!(text(&grade, "rail-1"), "spot on", "the first left rail is the real one");
    assert_eq!(text(&grade, "missing-2"), "left out", "the foot rail");
    assert_eq!(text(&grade, "extra-2"), "not touched", "the second left rail");
    let label = grade.lines.iter().find(|line| line.id == "extra-2").map(|line| &line.label[..]);
    assert_eq!(label, Some("left rail, 2nd"), "counted, because there are two");
}

#[test]
fn free_bends_shape_the_curve_only() {
    let truth = two_rails();
    let straight = perfect(&truth);
    let mut bent = straight.clone();
    bent.points.insert(0, CallPoint { position: DVec2::new(1.0, 0.75), rail: None });
    let (straight, bent) = (graded(&truth, &straight), graded(&truth, &bent));
    assert_eq!(bent.mark, straight.mark, "no node, no mark");
    assert_eq!(straight.errors.curve, 0.0, "the real path is straight");
    assert!(bent.errors.curve > 0.2, "the bend is off by {} balls", bent.errors.curve);
    assert_eq!(text(&bent, "heading"), "spot on", "the chord goes to the touch");
}

#[test]
fn a_touch_without_travel_is_off_toward_a_rail() {
    let card = card();
    let touch = on(&card, Rail::Foot, 0.5);
    let truth = truth(DVec2::new(1.0, 0.5), &[(Rail::Foot, touch)], DVec2::new(1.5, 0.5));
    let off = call(&[(Rail::Foot, touch + DVec2::new(0.0, 0.078_125))], truth.stop);
    assert_eq!(
        text(&graded(&truth, &off), "rail-1"),
        "0.25 ◇ toward the left",
        "straight in and out"
    );
}
