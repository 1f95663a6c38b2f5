//! The shots that are played: which kind a seed stands for, its table and stroke.

use crate::layouts::{self, Layout};
use crate::support::{Seeded, any_shot, any_stroke};
use leaveline::physics::{FASTEST_STROKE, Shot, Stroke};
use leaveline::table::{PocketSpec, TableCard, TableSize};
use leaveline::units::radians;
use leaveline::wire::{compact, parse, read_shot, write_shot};
use std::f64::consts::PI;

/// Kinds of shots, and how many of a hundred are of each.
pub const CORPORA: [(&str, u64); 12] = [
    ("any", 12),
    ("scatter", 13),
    ("rack", 14),
    ("line", 8),
    ("rail", 8),
    ("squeeze", 8),
    ("pocket", 9),
    ("nest", 9),
    ("wedge", 3),
    ("slow", 7),
    ("cards", 8),
    ("ideal", 1),
];

/// The place in [`CORPORA`] of the kind that `seed` stands for, and its shot, which
/// its own JSON gives again to the last bit.
pub fn shot_of(seed: u64) -> (usize, Shot) {
    // Neighbouring seeds have nothing in common.
    let mut seeded = Seeded::new(seed.wrapping_mul(0xd134_2543_de82_ef95));
    let mut left = seeded.below(100);
    let kind = CORPORA
        .iter()
        .position(|(_, share)| {
            let here = left < *share;
            left = left.saturating_sub(*share);
            here
        })
        .expect("the shares add up to a hundred");
    let shot = shot(&mut seeded, CORPORA[kind].0);
    let text = compact(&write_shot(&shot)).expect("a form is JSON");
    let shot = parse(&text).and_then(|form| read_shot(&form, ""));
    (kind, shot.unwrap_or_else(|error| panic!("a legal shot: {error}\n{text}")))
}

fn shot(seeded: &mut Seeded, kind: &str) -> Shot {
    let card = match kind {
        "any" => {
            let n = 1 + seeded.below(16) as usize;
            let shot = any_shot(seeded, n);
            return Shot { stroke: in_degrees(shot.stroke), ..shot };
        }
        "cards" => extreme_card(seeded),
        "ideal" => ideal_card(seeded),
        _ => TableCard::of_size(TableSize::ALL[seeded.below(3) as usize]),
    };
    let mut layout = Layout::new(&card);
    let place: fn(&mut Seeded, &mut Layout) = match kind {
        "scatter" => layouts::scatter,
        "rack" => layouts::rack,
        "line" => layouts::line,
        "rail" => layouts::rail,
        "squeeze" => layouts::squeeze,
        "pocket" => layouts::pocket,
        "nest" => layouts::nest,
        "wedge" => layouts::wedge,
        _ => [
            layouts::scatter,
            layouts::rack,
            layouts::line,
            layouts::rail,
            layouts::squeeze,
            layouts::pocket,
            layouts::nest,
            layouts::wedge,
        ][seeded.below(8) as usize],
    };
    place(seeded, &mut layout);
    if layout.places.is_empty() {
        layout.add(card_middle(&layout.card));
    }
    let mut stroke = Stroke { azimuth: aim(seeded, &layout), ..any_stroke(seeded) };
    stroke.speed = match (kind, seeded.below(8)) {
        ("slow", _) => 10.0_f64.powf(seeded.within(-6.0, -1.5)),
        ("ideal", _) => 10.0_f64.powf(seeded.within(-3.0, 0.0)),
        (_, 0) => FASTEST_STROKE,
        ("rack", _) => seeded.within(3.0, FASTEST_STROKE),
        (_, _) => seeded.within(-3.0, FASTEST_STROKE.ln()).exp(),
    };
    if seeded.below(16) == 0 {
        stroke.elevation = radians(85.0);
    }
    if seeded.below(8) == 0 {
        (stroke.side, stroke.height) =
            [(0.3, 0.4), (-0.5, 0.0), (0.0, 0.5), (0.0, -0.5)][seeded.below(4) as usize];
    }
    Shot { card: layout.card, balls: layout.balls(seeded), stroke: in_degrees(stroke) }
}

fn card_middle(card: &TableCard) -> glam::DVec2 {
    glam::DVec2::new(card.length, card.width) / 2.0
}

/// At a ball, full or thin or only just missing it; or anywhere.
fn aim(seeded: &mut Seeded, layout: &Layout) -> f64 {
    let n = layout.places.len() as u64;
    let cue = layout.places[layout.cue];
    let target = layout.places[seeded.below(n) as usize];
    if target == cue || seeded.below(4) == 0 {
        return seeded.within(-PI, PI);
    }
    let way = target - cue;
    let side = match seeded.below(3) {
        0 => 0.0,
        1 => seeded.within(-1.0, 1.0),
        _ => 1.0 - 10.0_f64.powf(seeded.within(-12.0, -2.0)) * seeded.within(-1.0, 1.0),
    };
    let off = (side * layout.diameter() / way.length()).clamp(-1.0, 1.0).asin();
    way.y.atan2(way.x) + if seeded.below(2) == 0 { off } else { -off }
}

/// The stroke with angles that a form can carry.
fn in_degrees(stroke: Stroke) -> Stroke {
    let exact = |angle: f64| radians((angle.to_degrees() * 1e9).round() / 1e9);
    Stroke {
        azimuth: exact(stroke.azimuth),
        elevation: exact(stroke.elevation).min(radians(85.0)),
        ..stroke
    }
}

/// A table without any loss in rolling, or in anything.
fn ideal_card(seeded: &mut Seeded) -> TableCard {
    let mut card = TableCard::of_size(TableSize::ALL[seeded.below(3) as usize]);
    card.cloth.rolling_friction = 0.0;
    if seeded.below(2) == 0 {
        (card.ball_contact.restitution, card.cushion.restitution) = (1.0, 1.0);
    }
    if seeded.below(2) == 0 {
        card.cloth.sliding_friction = 0.0;
    }
    if seeded.below(2) == 0 {
        card.cloth.spin_decay = 0.0;
    }
    card
}

/// A table that is legal but that nobody has: some parameters anywhere in their
/// ranges or at the ends of them.
fn extreme_card(seeded: &mut Seeded) -> TableCard {
    loop {
        let mut card = TableCard::of_size(TableSize::ALL[seeded.below(3) as usize]);
        for _ in 0..1 + seeded.below(5) {
            distort(seeded, &mut card);
        }
        if card.check().is_ok() {
            return card;
        }
    }
}

fn distort(seeded: &mut Seeded, card: &mut TableCard) {
    let mut power = |low: f64, high: f64| 10.0_f64.powf(seeded.within(low, high));
    let (small, large) = (power(-6.0, 0.0), power(0.0, 1.0));
    let share = [0.0, 1.0, seeded.within(0.0, 1.0), 1.0 - small][seeded.below(4) as usize];
    let friction = [0.0, small, large, 10.0][seeded.below(4) as usize];
    match seeded.below(14) {
        0 => card.ball_contact.restitution = share,
        1 => card.cushion.restitution = share,
        // What never stops has a kind of its own: it takes long.
        2 => card.cloth.rolling_friction = friction.max(2e-3),
        3 => card.cloth.sliding_friction = friction.max(2e-3),
        4 => card.cushion.friction = friction,
        5 => card.ball_contact.friction.floor = friction,
        6 => card.ball_contact.friction.range = friction,
        7 => card.ball_contact.friction.decay = friction * 1e5 * small,
        8 => card.cloth.spin_decay = [1.0, 1e2, 1e4, 1e6][seeded.below(4) as usize],
        9 => card.cushion.nose_height = card.ball.radius * (1.0 + 0.6 * share),
        10 => card.squirt_mass_ratio = [1e-9, 1.0, 1e9, f64::MAX][seeded.below(4) as usize],
        11 => card.cloth.gravity = [0.5, 2.0, 1e2, 1e4][seeded.below(4) as usize],
        12 => {
            let scale = seeded.within(0.2, 2.0);
            (card.length, card.width) = (card.length * scale, card.width * scale);
        }
        _ => {
            let spec = PocketSpec {
                mouth: seeded.within(0.03, 0.3),
                cut_angle: radians(seeded.within(90.0, 180.0)),
                shelf: [0.0, seeded.within(0.0, 0.05)][seeded.below(2) as usize],
                facing: seeded.within(0.01, 0.1),
                hole_radius: seeded.within(0.02, 0.2),
            };
            let pocket =
                if seeded.below(2) == 0 { &mut card.corner_pocket } else { &mut card.side_pocket };
            *pocket = spec;
        }
    }
}
