//! Eye: what is dealt, and the true answers against published closed forms.

use glam::DVec2;
use leaveline::layout::deal_eye;
use leaveline::physics::{PlacedBall, Shot, Stroke};
use leaveline::practice::eye::{Estimate, EyeItem, Handle, ROUND, judge_eye, sight};
use leaveline::table::{Rail, TableCard, TableSize};
use leaveline::units::{degrees, radians};
use leaveline::wire::{compact, grade_eye, parse, read_eye_item, sum_eye, write_eye_item};
use leaveline::{BallId, Error};
use std::collections::BTreeMap;

const ROUNDS: u32 = 12;

fn rounds() -> impl Iterator<Item = (u32, Vec<EyeItem>)> {
    (0..ROUNDS).map(|k| {
        let seed = 104_729 * k + 11;
        let deal = |number| {
            deal_eye(seed, number, TableSize::ALL[k as usize % 3])
                .unwrap_or_else(|error| panic!("seed {seed}, number {number}: {error}"))
        };
        (seed, (0..ROUND).map(deal).collect())
    })
}

#[test]
fn a_round_asks_every_kind_at_least_twice_and_is_the_same_again() {
    for (seed, items) in rounds() {
        let mut kinds = BTreeMap::new();
        for item in &items {
            *kinds.entry(item.estimate).or_insert(0) += 1;
        }
        assert!(
            Estimate::ALL.iter().all(|kind| kinds.get(kind).is_some_and(|n| *n >= 2)),
            "seed {seed}: {kinds:?}"
        );
        let size = items[0].shot.card.size;
        assert_eq!(deal_eye(seed, 7, size).as_ref(), Ok(&items[7]), "seed {seed}");
    }
}

#[test]
fn numbers_that_a_round_has_not_are_refused() {
    let refused = deal_eye(1, ROUND, TableSize::NineFoot);
    assert!(matches!(refused, Err(Error::OutOfRange { field, .. }) if field == "number"));
}

#[test]
fn the_truth_earns_the_whole_mark_and_half_of_it_goes_with_every_half() {
    for (seed, items) in rounds() {
        for (number, item) in items.iter().enumerate() {
            let name = format!("seed {seed}, number {number}, {:?}", item.estimate);
            let seen = sight(item).expect("was dealt");
            let exact = judge_eye(item, seen.truth).expect("was dealt");
            assert_eq!(exact.mark, 100.0, "{name}");
            assert!(exact.words.starts_with("Spot on"), "{name}: {}", exact.words);
            let half = item.estimate.half();
            let off = judge_eye(item, seen.truth + half).expect("was dealt");
            // An answer is brought into what the handle can say.
            if off.answer == seen.truth + half {
                assert!((off.mark - 50.0).abs() < 1e-9, "{name}: {}", off.mark);
                assert!((off.error.abs() - half).abs() < 1e-12, "{name}: {}", off.error);
                assert!(off.words.contains("too"), "{name}: {}", off.words);
            }
            let back = parse(&compact(&write_eye_item(item)).expect("finite")).expect("JSON");
            assert_eq!(read_eye_item(&back, "").as_ref(), Ok(item), "{name}: as a form");
        }
    }
}

#[test]
fn what_is_asked_spreads_over_what_can_be() {
    let mut truths: BTreeMap<Estimate, Vec<f64>> = BTreeMap::new();
    for (_, items) in rounds() {
        for item in &items {
            truths.entry(item.estimate).or_default().push(sight(item).expect("was dealt").truth);
        }
    }
    for (estimate, mut all) in truths {
        all.sort_by(f64::total_cmp);
        let (low, high) = (all[all.len() / 10], all[all.len() - 1 - all.len() / 10]);
        println!("{estimate:?}: {low:.2} to {high:.2} of {}", all.len());
        assert!(high - low > 2.0 * estimate.half(), "{estimate:?} is always nearly the same");
    }
}

/// A table without losses: balls and cushions that give all back, no friction but the
/// cloth's `sliding`.
fn ideal(sliding: f64) -> TableCard {
    let mut card = TableCard::of_size(TableSize::NineFoot);
    card.ball_contact.restitution = 1.0;
    (card.ball_contact.friction.floor, card.ball_contact.friction.range) = (0.0, 0.0);
    card.cushion.restitution = 1.0;
    card.cushion.friction = 0.0;
    card.cloth.sliding_friction = sliding;
    card
}

/// A cut of `cut` degrees on a ball in the middle, from `distance` (m) before contact.
fn cut_on(card: TableCard, cut: f64, distance: f64, speed: f64, height: f64) -> Shot {
    let object = DVec2::new(1.27, 0.6);
    let line = DVec2::from_angle(radians(20.0));
    let aim = DVec2::from_angle(radians(20.0 - cut));
    let ghost = object - line * (2.0 * card.ball.radius);
    let balls = vec![
        PlacedBall { id: BallId::CUE, position: ghost - aim * distance },
        PlacedBall { id: BallId::object(5).expect("a ball"), position: object },
    ];
    let azimuth = radians(20.0 - cut);
    Shot { card, balls, stroke: Stroke { azimuth, elevation: 0.0, speed, side: 0.0, height } }
}

fn truth(estimate: Estimate, shot: Shot) -> f64 {
    let item = EyeItem { estimate, shot, model: 1, seed: None };
    sight(&item).unwrap_or_else(|error| panic!("{estimate:?}: {error}")).truth
}

fn near(what: &str, got: f64, expected: f64, tolerance: f64) {
    println!("{what}: expected {expected:.4}, got {got:.4}");
    assert!((got - expected).abs() < tolerance, "{what}: {got} for {expected}");
}

/// Source: two equal elastic balls without friction part at a right angle (momentum and
/// energy; for instance Coriolis 1835), so a stun ball leaves along the tangent line.
#[test]
fn a_stun_ball_leaves_along_the_tangent_line() {
    for cut in [10.0, 25.0, 40.0, 60.0] {
        let shot = cut_on(ideal(0.0), cut, 0.5, 1.5, 0.0);
        near("tangent line, °", truth(Estimate::Tangent, shot), 90.0 - cut, 1e-6);
    }
}

/// Source: tan = sin cos / (sin² + k 2/5) of the cut, for k times natural roll: the final
/// direction 5/7 v + 2/7 R w of a sliding ball (Coriolis 1835), after an elastic contact
/// without friction; maximum asin(5/9) at 28.126 degrees.
fn carom(cut: f64, roll: f64) -> f64 {
    let (sin, cos) = radians(cut).sin_cos();
    degrees((sin * cos).atan2(sin * sin + 0.4 * roll))
}

/// On a cloth of much friction the bend is short: at 10 and 1 m/s less than 2 mm.
#[test]
fn a_rolling_ball_goes_the_natural_angle() {
    for cut in [10.0, 14.48, 28.126, 30.0, 48.59, 60.0] {
        let shot = cut_on(ideal(10.0), cut, 0.5, 1.0, 0.4);
        near("natural roll, °", truth(Estimate::Roll, shot), carom(cut, 1.0), 0.3);
    }
    near("the most, °", carom(28.126, 1.0), degrees((5.0_f64 / 9.0).asin()), 1e-3);
}

/// From a tenth of a millimetre before contact nearly all of the draw is still there; the
/// bend of a slow ball is 1 mm on its way of decimetres.
#[test]
fn a_ball_that_turns_back_as_fast_comes_off_at_the_draw_angle() {
    for cut in [15.0, 25.0, 35.0, 50.0] {
        let mut card = ideal(2.0);
        card.cloth.rolling_friction = 0.001;
        let shot = cut_on(card, cut, 1e-4, 0.3, -0.4);
        near("draw, °", truth(Estimate::Draw, shot), carom(cut, -1.0), 2.0);
    }
}

/// Source: geometry of two equal circles: sin(cut) is the distance of the aim line from the
/// object ball's centre in ball diameters, so a half-ball hit cuts by 30 degrees.
#[test]
fn the_cut_follows_from_the_overlap() {
    let card = TableCard::of_size(TableSize::NineFoot);
    for fullness in [0.25, 0.5, 0.75] {
        let cut = degrees((1.0_f64 - fullness).asin());
        let shot = cut_on(card, cut, 0.5, 1.5, 0.0);
        near("cut, °", truth(Estimate::Cut, shot), cut, 1e-6);
    }
}

fn lone(card: TableCard, at: DVec2, azimuth: f64, speed: f64, height: f64) -> Shot {
    let balls = vec![PlacedBall { id: BallId::CUE, position: at }];
    let stroke = Stroke { azimuth: radians(azimuth), elevation: 0.0, speed, side: 0.0, height };
    Shot { card, balls, stroke }
}

/// Source: the law of reflection: without friction and loss a cushion is a mirror.
#[test]
fn a_perfect_cushion_is_a_mirror() {
    for angle in [15.0, 30.0, 45.0, 60.0] {
        let shot = lone(ideal(0.0), DVec2::new(1.6, 0.5), 90.0 + angle, 1.5, 0.0);
        near("off the cushion, °", truth(Estimate::Rebound, shot), angle, 1e-6);
    }
}

/// Source: the same, unfolded: reflected rail by rail, the path is a straight line.
#[test]
fn three_perfect_rails_unfold_to_a_straight_line() {
    let card = ideal(0.0);
    let (least, long, wide) = (card.touch_distance(), card.length, card.width);
    let start = DVec2::new(0.5, 0.3);
    let shot = lone(card, start, 35.0, 2.0, 0.0);
    // Left, foot and right rail: y is turned over at the left rail, x at the foot rail.
    let slope = radians(35.0).tan();
    let run = ((wide - least) - start.y + (wide - 2.0 * least)) / slope;
    let x = 2.0 * (long - least) - (start.x + run);
    let seen = sight(&EyeItem { estimate: Estimate::ThirdRail, shot, model: 1, seed: None });
    let seen = seen.expect("three rails");
    assert!(matches!(seen.handle, Handle::OnRail { rail: Rail::Right, .. }), "{:?}", seen.handle);
    near("third rail, diamonds", seen.truth, x / (long / 8.0), 1e-6);
}

/// Source: Newton's laws: after the contact 5/7 v sin(cut) along the tangent line and 2/7 v
/// along the aim; a rolling ball of speed u runs u²/(2 mu g). The slide on this cloth is
/// less than 3 mm long.
#[test]
fn a_rolling_ball_runs_as_far_as_its_speed_takes_it() {
    for cut in [20.0, 35.0, 50.0] {
        let card = ideal(10.0);
        let shot = cut_on(card, cut, 0.3, 0.8, 0.4);
        let g = card.cloth.gravity;
        let slow = 2.0 * card.cloth.rolling_friction * g;
        let before = 0.8_f64 * 0.8 - slow * 0.3;
        let (sin, cos) = radians(cut).sin_cos();
        let along = 5.0 / 7.0 * sin * sin + 2.0 / 7.0;
        let across = 5.0 / 7.0 * sin * cos;
        let run = before * (along * along + across * across) / slow;
        let expected = run / card.travel_length();
        near("distance, lengths", truth(Estimate::Distance, shot), expected, 0.004);
    }
}

#[test]
fn requests_that_are_not_sound_name_what_is_wrong() {
    let refused = |text: &str, ask: fn(&leaveline::wire::Value) -> Option<Error>| {
        ask(&parse(text).expect("JSON")).map(|error| error.field().to_owned())
    };
    let sum = |value: &leaveline::wire::Value| sum_eye(value).err();
    let far = r#"{"answers":[{"estimate":"roll","error":1e9}]}"#;
    assert_eq!(refused(far, sum).as_deref(), Some("answers[0].error"));
    let unknown = r#"{"answers":[{"estimate":"luck","error":1}]}"#;
    assert_eq!(refused(unknown, sum).as_deref(), Some("answers[0].estimate"));
    let lone = r#"{"item":{"version":1,"kind":"eye","estimate":"roll","model":1,"shot":{"version":1,
        "table":{"size":"nine-foot"},"balls":[{"id":"cue","x":0.6,"y":0.4}],
        "stroke":{"azimuth":10,"elevation":0,"speed":1,"side":0,"height":0}}},"answer":30}"#;
    let grade = |value: &leaveline::wire::Value| grade_eye(value).err();
    assert_eq!(refused(lone, grade).as_deref(), Some("shot"), "it meets no ball");
}
