//! What errors of the hand make of a straight pot.

use super::check::check_printed;
use super::{RADIUS, cloth};
use glam::DVec2;
use leaveline::BallId;
use leaveline::physics::{PlacedBall, Sample, Shot, Stroke, play};
use leaveline::shot::{Hand, SpeedError, Wobble};
use leaveline::table::{TableCard, TableSize};
use leaveline::units::{INCH, radians};

/// Derived by one route, from the angle under which the object ball sees the room in a
/// mouth of 4.5625 in (straight on, jaws not touched) and from the aim's amplification
/// D/(2R) of a full hit, D the cue ball's way: the chance of a straight pot, rows for a
/// direction that errs by 0.125 and 0.25 degrees.
///
/// Stated for no throw, so the balls have no friction here, and for errors of direction
/// alone. Counted strokes agree within three standard errors; the rows are a linear
/// model, which the wider error leaves by less than that.
#[test]
fn chance_of_a_straight_pot() {
    const STROKES: u32 = 4_000;
    let room = 0.5 * 4.562_5 * INCH - RADIUS;
    for (degrees, rows) in
        [(0.125, [0.999_48, 0.585_35, 0.413_49]), (0.25, [0.917_30, 0.316_63, 0.214_34])]
    {
        for ((way, from_mouth), expected) in
            [(0.5, 0.5), (1.0, 1.0), (1.0, 1.5)].into_iter().zip(rows)
        {
            let hand = Hand {
                azimuth: radians(degrees),
                elevation: 0.0,
                speed: SpeedError::Relative(0.0),
                tip: 0.0,
            };
            let window = libm::atan(room / from_mouth);
            let falls = |index: &u32| object_ball_turn(&hand, way, *index).abs() < window;
            let got = (0..STROKES).filter(falls).count() as f64 / f64::from(STROKES);
            let error = (expected * (1.0 - expected) / f64::from(STROKES)).sqrt();
            let name = format!("{degrees} degrees, {way} m and {from_mouth} m");
            check_printed(&name, got, expected, 3.0 * error);
        }
    }
}

/// By how much the object ball `way` metres straight ahead leaves its line, rad.
fn object_ball_turn(hand: &Hand, way: f64, index: u32) -> f64 {
    let mut card = TableCard::of_size(TableSize::NineFoot);
    card.cloth = cloth(0.2, 0.01);
    card.ball_contact = super::balls(0.95, 0.0);
    let from = DVec2::new(0.3, 0.635);
    let on = BallId::object(1).expect("a ball");
    let place = from + DVec2::new(way, 0.0);
    let balls = vec![
        PlacedBall { id: BallId::CUE, position: from },
        PlacedBall { id: on, position: place },
    ];
    let aimed = Stroke { azimuth: 0.0, elevation: 0.0, speed: 0.9, side: 0.0, height: 0.0 };
    let stroke = hand.strike(&aimed, &Wobble::drawn(5, index), 1.0);
    let outcome = play(&Shot { card, balls, stroke }).expect("a sound shot");
    let away = |sample: &&Sample| (sample.position - place).length() > 0.01;
    let after = outcome.paths[1].iter().find(away).expect("the object ball moves");
    (after.position.y - place.y).atan2(after.position.x - place.x)
}
