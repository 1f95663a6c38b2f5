//! The hands make what they are named by.

#[path = "../validate/straight.rs"]
mod straight;

use crate::harness::on_every_core;
use leaveline::shot::{HANDS, hand_named};
use straight::{made, straight_shot};

#[test]
fn each_hand_makes_its_share_of_the_straight_shot() {
    const STROKES: u32 = 10_000;
    let shares = [("makes-95", 0.95), ("makes-85", 0.85), ("makes-60", 0.60), ("makes-35", 0.35)];
    on_every_core(&shares, |&(id, share)| {
        let hand = hand_named(id).expect("a hand of this name").hand;
        let got = f64::from(made(&hand, 77, STROKES)) / f64::from(STROKES);
        // Three standard errors, and a thousandth for what the solution was rounded by.
        let room = 3.0 * (share * (1.0 - share) / f64::from(STROKES)).sqrt() + 1e-3;
        assert!((got - share).abs() < room, "{id} makes {got}, {room} allowed");
    });
}

#[test]
fn the_straight_shot_is_soft_and_its_cue_ball_free() {
    let (situation, aimed) = straight_shot();
    let delivery = leaveline::shot::Delivery::new(
        &HANDS[0].hand,
        situation.arena().card(),
        situation.balls(),
        &aimed,
    );
    assert!(delivery.awkwardness < 1.05, "no rail is near: {}", delivery.awkwardness);
    assert!(situation.play(&delivery.aimed).pocket.is_some(), "played as aimed it falls");
}

#[test]
fn hands_are_found_by_what_forms_call_them() {
    for named in &HANDS {
        assert_eq!(hand_named(named.id), Some(named), "{}", named.id);
    }
    assert_eq!(hand_named("steady"), None, "no such hand");
}
