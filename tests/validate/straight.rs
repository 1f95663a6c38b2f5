//! The straight shot of one metre and one metre by which hands are named.

use glam::DVec2;
use leaveline::BallId;
use leaveline::physics::{PlacedBall, Shot, Stroke};
use leaveline::shot::{Delivery, Hand, Situation, aim_at_pocket};
use leaveline::table::{PocketId, TableCard, TableShape, TableSize};

/// Into this pocket.
const POCKET: PocketId = PocketId::FootLeft;

/// The shot that the doc of `HANDS` describes, and the stroke that makes it.
pub fn straight_shot() -> (Situation, Stroke) {
    let card = TableCard::of_size(TableSize::NineFoot);
    let angle = std::f64::consts::FRAC_PI_6;
    let line = DVec2::new(libm::cos(angle), libm::sin(angle));
    let mouth = TableShape::new(&card).pocket(POCKET).mouth_middle;
    let on = BallId::object(1).expect("a ball");
    let balls = vec![
        PlacedBall { id: BallId::CUE, position: mouth - line * 2.0 },
        PlacedBall { id: on, position: mouth - line },
    ];
    let stroke = Stroke { azimuth: 0.0, elevation: 0.0, speed: 1.5, side: 0.0, height: 0.0 };
    let shot = Shot { card, balls, stroke };
    let situation = Situation::new(&shot, on).expect("a sound shot");
    let aim = aim_at_pocket(situation.arena(), situation.balls(), &stroke, on, POCKET);
    (situation, aim.expect("a straight shot").stroke)
}

/// How many of `n` strokes of this hand make it.
pub fn made(hand: &Hand, seed: u32, n: u32) -> u32 {
    let (situation, aimed) = straight_shot();
    let delivery = Delivery::new(hand, situation.arena().card(), situation.balls(), &aimed);
    let falls = |index| situation.play(&delivery.drawn(seed, index)).pocket == Some(POCKET);
    (0..n).filter(|&index| falls(index)).count() as u32
}
