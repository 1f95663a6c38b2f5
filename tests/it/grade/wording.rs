//! Every kind of sentence, from a call that earns it.

use super::{call, card, graded, on, perfect, truth, two_rails};
use glam::DVec2;
use leaveline::practice::{Call, CuePath, Touch};
use leaveline::table::{PocketId, Rail, Surface};
use leaveline::units::radians;

fn sentence(truth: &CuePath, call: &Call) -> String {
    graded(truth, call).sentence
}

fn check(truth: &CuePath, call: &Call, expected: &str) {
    assert_eq!(sentence(truth, call), expected, "for {call:?}");
}

/// A place in a direction from the ghost ball at (1, 0.5), with the tangent line along +y.
fn toward(degrees: f64, distance: f64) -> DVec2 {
    let angle = radians(degrees);
    DVec2::new(1.0, 0.5) + DVec2::new(angle.cos(), angle.sin()) * distance
}

/// Leaves along the tangent line, bends `lean` degrees forward of it after
/// 20 cm, and stops after `ran` metres more.
fn bent(lean: f64, ran: f64) -> CuePath {
    let slide_end = toward(90.0, 0.2);
    let angle = radians(90.0 - lean);
    let stop = slide_end + DVec2::new(angle.cos(), angle.sin()) * ran;
    let mut path = truth(DVec2::new(1.0, 0.5), &[], stop);
    let mut middle = path.path[0];
    middle.position = slide_end;
    middle.time = 1.5;
    path.path.insert(1, middle);
    path.slide_end = Some(slide_end);
    path
}

#[test]
fn a_close_call_is_told_how_close() {
    let truth = two_rails();
    let mut call = perfect(&truth);
    check(&truth, &call, "Every touch and the stop are where you called them.");
    call.stop.x += 0.8 * card().ball.radius;
    check(&truth, &call, "All of it within 0.4 of a ball.");
    let long = super::truth(DVec2::new(0.1, 0.1), &[], DVec2::new(2.3, 1.1));
    let call = super::call(&[], DVec2::new(2.3, 1.1) - DVec2::new(0.06, 0.03));
    check(&long, &call, "All of it within 1.1 balls.");
    check(&long, &perfect(&long), "It stopped where you called it.");
}

#[test]
fn draw_and_follow_bend_it_off_the_tangent_line() {
    let draw = bent(-20.0, 0.3);
    check(
        &draw,
        &call(&[], toward(85.0, 0.5)),
        "The draw bent it 20° back from the tangent line within 20 cm; you allowed too little.",
    );
    check(
        &draw,
        &call(&[], toward(140.0, 0.5)),
        "The draw bent it 20° back from the tangent line within 20 cm; you allowed too much.",
    );
    check(
        &bent(35.0, 0.3),
        &call(&[], toward(95.0, 0.5)),
        "The follow bent it 35° forward of the tangent line within 20 cm; you allowed too little.",
    );
    let slow = CuePath { height: -0.2, ..bent(35.0, 0.3) };
    check(
        &slow,
        &call(&[], toward(95.0, 0.5)),
        "The draw had worn off by the contact: the follow bent it 35° forward of the tangent line \
         within 20 cm; you allowed too little.",
    );
    let low = CuePath { height: -0.2, ..draw };
    check(
        &low,
        &call(&[], toward(85.0, 0.5)),
        "The draw bent it 20° back from the tangent line within 20 cm; you allowed too little.",
    );
}

#[test]
fn stun_keeps_to_the_tangent_line() {
    check(
        &bent(0.0, 0.3),
        &call(&[], toward(60.0, 0.5)),
        "Stun: it kept to the tangent line, and you called it 30° forward of that.",
    );
    check(
        &bent(0.0, 0.3),
        &call(&[], toward(-90.0, 0.4)),
        "Stun: it kept to the tangent line; you called the other side of the shot.",
    );
}

#[test]
fn it_may_still_slide_at_the_first_rail() {
    let touch = on(&card(), Rail::Left, 0.875);
    let path = truth(DVec2::new(1.0, 0.5), &[(Rail::Left, touch)], DVec2::new(0.75, 0.75));
    let off = call(&[(Rail::Left, on(&card(), Rail::Left, 0.5))], path.stop);
    check(
        &path,
        &off,
        "Still sliding at the first rail: the draw had bent it only 10° back from the tangent \
         line, and you allowed too much.",
    );
}

#[test]
fn a_full_hit_has_no_tangent_line() {
    let mut path = truth(DVec2::new(1.0, 0.5), &[], DVec2::new(0.5, 0.5));
    path.approach = DVec2::X;
    check(
        &path,
        &call(&[], DVec2::new(0.6, 0.8)),
        "Hit full, it came back along the line of the shot; you called it 37° off that.",
    );
    path.stop = DVec2::new(1.5, 0.5);
    path.path[1].position = path.stop;
    check(
        &path,
        &call(&[], DVec2::new(1.4, 0.8)),
        "Hit full, it ran on along the line of the shot; you called it 37° off that.",
    );
}

#[test]
fn without_a_slide_the_angles_are_told() {
    let path = truth(DVec2::new(1.0, 0.5), &[], DVec2::new(1.25, 0.9));
    check(
        &path,
        &call(&[], DVec2::new(1.0, 1.0)),
        "It left at 13° to the line of the shot; you called 45°.",
    );
}

#[test]
fn a_rebound_is_told_by_its_angles() {
    let truth = two_rails();
    let mut call = perfect(&truth);
    call.points[1].position.y = 0.3125;
    call.stop = DVec2::new(1.75, 0.1);
    check(
        &truth,
        &call,
        "It met the left rail at 35° from square and left at 64°; you called 47°.",
    );
}

#[test]
fn a_shifted_touch_takes_the_rest_with_it() {
    // Heading right, first touch 0.6 diamonds long only because it was drawn off
    // the line of touch; then parallel to the real leg.
    let card = card();
    let ghost = DVec2::new(1.0, 0.5);
    let touch = on(&card, Rail::Left, 1.5);
    let stop = touch + DVec2::new(0.3, -0.6);
    let path = truth(ghost, &[(Rail::Left, touch)], stop);
    let shift = (touch - ghost) * 0.4;
    let call = call(&[(Rail::Left, touch + shift)], stop + shift);
    check(
        &path,
        &call,
        "Your line meets the left rail 0.64 diamonds long, and that shifts what follows.",
    );
}

#[test]
fn speed_is_told_in_lengths() {
    let truth = two_rails();
    let mut call = perfect(&truth);
    let foot = truth.touches[1].position;
    call.stop = truth.stop - (truth.stop - foot) * 0.7;
    check(
        &truth,
        &call,
        "Too little speed: off the 3 it runs 1.2 lengths, and you drew 0.9 lengths.",
    );
    call.stop = truth.stop + (truth.stop - foot) * 0.45;
    check(
        &truth,
        &call,
        "Too much speed: off the 3 it runs 1.2 lengths, and you drew 1.4 lengths.",
    );
}

#[test]
fn wrong_rails_come_first() {
    let truth = two_rails();
    let card = card();
    let mut without = perfect(&truth);
    without.points.remove(1);
    check(&truth, &without, "You left out the foot rail: from there the ball ran on for 109 cm.");
    let mut instead = perfect(&truth);
    instead.points[1].rail = Some(Rail::Right);
    instead.points[1].position = on(&card, Rail::Right, 2.25);
    check(&truth, &instead, "It met the foot rail where you called the right rail.");
    let mut between = perfect(&truth);
    let right = super::call(&[(Rail::Right, on(&card, Rail::Right, 2.0))], DVec2::ZERO);
    between.points.insert(1, right.points[0]);
    check(&truth, &between, "It ran on to the foot rail without touching the right rail.");
}

#[test]
fn a_rail_may_be_just_out_of_reach() {
    let card = card();
    let touch = on(&card, Rail::Foot, 0.75);
    let stop = touch - DVec2::new(0.02, 0.0);
    let path = truth(DVec2::new(1.0, 0.5), &[], stop);
    let beyond = call(&[(Rail::Foot, touch)], stop);
    check(&path, &beyond, "It stopped 2 cm short of the foot rail.");
    let path = truth(DVec2::new(0.25, 0.5), &[], DVec2::new(1.5, 0.6));
    let beyond = call(&[(Rail::Foot, touch)], DVec2::new(1.5, 0.6));
    check(&path, &beyond, "It never reached the foot rail: 0.5 lengths off the 3 was all it had.");
}

#[test]
fn pockets_have_their_own_sentences() {
    let mut path = two_rails();
    path.pocketed = Some(PocketId::SideRight);
    let away = call(&[], DVec2::new(2.0, 1.0));
    check(&path, &away, "It scratched: 1.2 lengths off the 3 lead into the side-right pocket.");
    let mut path = two_rails();
    let jaw = Surface::Pocket(PocketId::FootLeft);
    let position = DVec2::new(2.4, 1.2);
    path.touches.insert(1, Touch { surface: jaw, position, time: 2.5 });
    let mut off = perfect(&path);
    off.points[1].position.y = 0.2;
    off.stop = DVec2::new(1.9, 0.1);
    check(&path, &off, "It caught a jaw of the foot-left pocket, which turned it off your line.");
}

#[test]
fn a_stop_to_the_side_is_blamed_on_a_direction() {
    let card = card();
    let touch = on(&card, Rail::Foot, 0.75);
    let path = truth(DVec2::new(1.0, 0.5), &[(Rail::Foot, touch)], touch + DVec2::new(-1.0, 0.3));
    let mut off = perfect(&path);
    off.stop.y -= 0.25;
    check(&path, &off, "It met the foot rail at 10° from square and left at 17°; you called 3°.");
}

#[test]
fn a_small_turn_on_a_long_path_ends_to_the_side() {
    let path = truth(DVec2::new(0.25, 0.5), &[], DVec2::new(2.25, 0.5));
    let call = call(&[], DVec2::new(2.25, 0.565));
    let strict = leaveline::practice::grade(&card(), &path, &call, 6);
    assert_eq!(strict.sentence, "It stopped 1.0 balls to the side of your mark.");
}

#[test]
fn a_rail_may_be_called_on_the_way_into_a_pocket() {
    let mut path = truth(DVec2::new(1.0, 0.5), &[], DVec2::new(2.5, 1.25));
    path.pocketed = Some(PocketId::FootLeft);
    let off = call(&[(Rail::Left, on(&card(), Rail::Left, 2.25))], path.stop);
    check(&path, &off, "It did not touch the left rail.");
}
