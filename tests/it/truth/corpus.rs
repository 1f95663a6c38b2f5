//! Seeded shots by category, for the comparison with small steps.

use crate::support::{Seeded, free_place};
use glam::DVec2;
use leaveline::BallId;
use leaveline::physics::{PlacedBall, Shot, Stroke};
use leaveline::table::{TableCard, TableShape, TableSize};
use std::f64::consts::PI;

/// What a shot is made to do.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Kind {
    /// One ball that slides, rolls and spins to rest and meets nothing.
    Cloth,
    /// Two balls, from a full hit to a thin one.
    Cuts,
    /// One ball around the table; told apart by the cushions that it meets.
    Cushions,
    /// One ball at a jaw point or a facing.
    Jaws,
    /// One ball at the mouth of a pocket.
    Pockets,
    /// Four to six balls.
    Several,
}

/// The shot of this kind with this number.
pub fn shot(kind: Kind, number: u64) -> Shot {
    let mut seeded = Seeded::new(7_000 + 1_000 * kind as u64 + number);
    let card = TableCard::of_size(TableSize::ALL[seeded.below(3) as usize]);
    let shape = TableShape::new(&card);
    match kind {
        Kind::Cloth => cloth(&mut seeded, card),
        Kind::Cuts => cut(&mut seeded, card, &shape),
        Kind::Cushions => cushions(&mut seeded, card, &shape),
        Kind::Jaws | Kind::Pockets => pocket(&mut seeded, card, &shape, kind),
        Kind::Several => several(&mut seeded, card, &shape),
    }
}

fn ball(number: u8, position: DVec2) -> PlacedBall {
    let id = if number == 0 { BallId::CUE } else { BallId::object(number).expect("1 to 15") };
    PlacedBall { id, position }
}

/// Any tip, and now and then a raised butt.
fn stroke(seeded: &mut Seeded, azimuth: f64, speed: (f64, f64)) -> Stroke {
    let (angle, offset) = (seeded.within(-PI, PI), 0.5 * seeded.within(0.0, 1.0).sqrt());
    let elevation = if seeded.below(4) == 0 { seeded.within(0.0, 0.9) } else { 0.0 };
    let speed = seeded.within(speed.0.ln(), speed.1.ln()).exp();
    Stroke { azimuth, elevation, speed, side: offset * angle.cos(), height: offset * angle.sin() }
}

fn toward(from: DVec2, to: DVec2) -> f64 {
    let way = to - from;
    way.y.atan2(way.x)
}

fn cloth(seeded: &mut Seeded, card: TableCard) -> Shot {
    let middle = DVec2::new(card.length, card.width) / 2.0;
    let azimuth = seeded.within(-PI, PI);
    let stroke = stroke(seeded, azimuth, (0.01, 0.28));
    Shot { card, balls: vec![ball(0, middle)], stroke }
}

fn cut(seeded: &mut Seeded, card: TableCard, shape: &TableShape) -> Shot {
    let object = free_place(seeded, &card, shape, &[]).expect("room for one");
    let first = ball(1, object);
    let cue = loop {
        let at = free_place(seeded, &card, shape, &[first]).expect("room for two");
        if (at - object).length() > 3.0 * card.ball.radius {
            break at;
        }
    };
    // Where the cue ball's centre is aimed past the object ball, from full to thin.
    let reach = 2.0 * card.ball.radius;
    let aside = (object - cue).normalize().perp() * (seeded.within(-1.0, 1.0) * reach);
    let stroke = stroke(seeded, toward(cue, object + aside), (0.3, 4.0));
    Shot { card, balls: vec![ball(0, cue), first], stroke }
}

fn cushions(seeded: &mut Seeded, card: TableCard, shape: &TableShape) -> Shot {
    let at = free_place(seeded, &card, shape, &[]).expect("room for one");
    let azimuth = seeded.within(-PI, PI);
    let stroke = stroke(seeded, azimuth, (0.4, 5.0));
    Shot { card, balls: vec![ball(0, at)], stroke }
}

fn pocket(seeded: &mut Seeded, card: TableCard, shape: &TableShape, kind: Kind) -> Shot {
    let pocket = &shape.pockets[seeded.below(6) as usize];
    let across = pocket.axis.perp();
    let half = 0.5 * pocket.mouth;
    let target = match kind {
        // At a point, or past it onto the facing behind.
        Kind::Jaws => {
            let side = if seeded.below(2) == 0 { 1.0 } else { -1.0 };
            across * (side * half + seeded.within(-0.03, 0.03)) + pocket.axis * 0.02
        }
        _ => across * (half * seeded.within(-1.0, 1.0)),
    };
    let target = pocket.mouth_middle + target;
    let at = loop {
        let way = seeded.within(0.2, 1.0);
        let turn = DVec2::from_angle(seeded.within(-1.1, 1.1));
        let at = target - turn.rotate(pocket.axis) * way;
        if shape.refusal(at).is_none() {
            break at;
        }
    };
    let stroke = stroke(seeded, toward(at, target), (0.3, 3.0));
    Shot { card, balls: vec![ball(0, at)], stroke }
}

fn several(seeded: &mut Seeded, card: TableCard, shape: &TableShape) -> Shot {
    let mut balls: Vec<PlacedBall> = Vec::new();
    for number in 0..4 + seeded.below(3) {
        let at = free_place(seeded, &card, shape, &balls).expect("room for a few");
        balls.push(ball(number as u8, at));
    }
    let azimuth = toward(balls[0].position, balls[1].position) + seeded.within(-0.05, 0.05);
    let stroke = stroke(seeded, azimuth, (0.7, 5.0));
    Shot { card, balls, stroke }
}
