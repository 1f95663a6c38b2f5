//! Deals the estimates of an Eye round.

use super::draw::Draw;
use super::generate::{height_for, ordinary_elevation};
use super::steps::{in_tenths, in_thousandths, in_twentieths};
use crate::ball::BallId;
use crate::error::Error;
use crate::geometry::{heading, unit_from_angle};
use crate::physics::{MODEL_VERSION, PlacedBall, Shot, Stroke};
use crate::practice::eye::{Estimate, EyeItem, Handle, ROUND, Sight, sight};
use crate::table::{Rail, TableCard, TableSize, diamonds_on, point_at};
use crate::units::radians;
use glam::DVec2;
use std::f64::consts::{PI, TAU};

/// Attempts before a deal is given up (tuning choice); the most seen is far below.
const MOST_ATTEMPTS: u32 = 20_000;

/// The streams of numbers of estimates begin here. The first six estimates have those of
/// Leave's levels, which does no harm: nothing else is drawn alike. Dealt rounds keep them.
const FIRST: u8 = 64;

/// A path shorter than this is no question, m (tuning choice).
const SHORTEST: f64 = 0.35;

/// Deals estimate `number` (from 0) of the round of `seed`. Every kind comes at least
/// twice in a round.
///
/// # Errors
/// [`Error::OutOfRange`] if a round has no such number; [`Error::Invalid`] if nothing was
/// found, which no tested seed shows.
pub fn deal_eye(seed: u32, number: u32, size: TableSize) -> Result<EyeItem, Error> {
    if number >= ROUND {
        let rule = format!("must lie from 0 to {}", ROUND - 1);
        return Err(Error::out_of_range("number", f64::from(number), rule));
    }
    let card = TableCard::of_size(size);
    let estimate = order_of(seed)[number as usize];
    (0..MOST_ATTEMPTS)
        .find_map(|attempt| {
            let mut draw = Draw::new(seed, FIRST + 1 + number as u8, attempt);
            let shot = propose(&card, &mut draw, estimate)?;
            let item = EyeItem { estimate, shot, model: MODEL_VERSION, seed: Some(seed) };
            is_clear(estimate, &sight(&item).ok()?).then_some(item)
        })
        .ok_or_else(|| Error::invalid("seed", "no estimate was found for it"))
}

/// What is estimated in a round, in order: all kinds twice, and some more.
fn order_of(seed: u32) -> Vec<Estimate> {
    let mut draw = Draw::new(seed, FIRST, 0);
    let mut all: Vec<Estimate> = Estimate::ALL.into_iter().chain(Estimate::ALL).collect();
    while all.len() < ROUND as usize {
        let more = Estimate::ALL[draw.below(Estimate::ALL.len() as u32) as usize];
        all.push(more);
    }
    for last in (1..all.len()).rev() {
        all.swap(last, draw.below(last as u32 + 1) as usize);
    }
    all
}

fn propose(card: &TableCard, draw: &mut Draw, estimate: Estimate) -> Option<Shot> {
    let mut shot = match estimate {
        Estimate::Rebound | Estimate::Side => off_a_rail(card, draw, estimate == Estimate::Side),
        Estimate::ThirdRail => round_the_table(card, draw),
        _ => hit(card, draw, estimate)?,
    };
    shot.stroke.elevation = ordinary_elevation(card, &shot.balls, &shot.stroke)?;
    shot.check().is_ok().then_some(shot)
}

/// A cut on an object ball, with the spin that is asked about.
fn hit(card: &TableCard, draw: &mut Draw, estimate: Estimate) -> Option<Shot> {
    let radius = card.ball.radius;
    let object = place(card, draw);
    let line = unit_from_angle(draw.within(0.0, TAU));
    let (least, most) = match estimate {
        Estimate::Cut => (5.0, 70.0),
        Estimate::Draw => (10.0, 50.0),
        // Between a three-quarter and a quarter ball all go by some 30 degrees.
        Estimate::Roll => (4.0, 75.0),
        _ => (12.0, 60.0),
    };
    let side = if draw.chance(0.5) { 1.0 } else { -1.0 };
    let cut = side * radians(draw.within(least, most));
    let distance = draw.within(0.2, 0.9);
    let cue_ball =
        in_tenths(object - line * (2.0 * radius) - line.rotate(unit_from_angle(cut)) * distance);
    let (low, high) = match estimate {
        Estimate::Draw => (1.6, 2.8),
        Estimate::Tangent => (1.0, 2.2),
        Estimate::Distance => (0.8, 2.0),
        _ => (0.7, 1.6),
    };
    let speed = in_twentieths(draw.within(low, high));
    let height = match estimate {
        Estimate::Draw => height_for(card, -1.0, speed, distance + 2.0 * radius)?,
        Estimate::Tangent => height_for(card, 0.0, speed, distance + 2.0 * radius)?,
        // At two fifths of the radius a ball rolls from the start.
        _ => 0.4,
    };
    let number = 1 + draw.below(15) as u8;
    let ghost = object - line * (2.0 * radius);
    let balls = vec![
        PlacedBall { id: BallId::CUE, position: cue_ball },
        PlacedBall { id: BallId::object(number)?, position: object },
    ];
    Some(Shot { card: *card, balls, stroke: stroke(ghost - cue_ball, speed, 0.0, height) })
}

/// The cue ball alone, onto one rail.
fn off_a_rail(card: &TableCard, draw: &mut Draw, with_side: bool) -> Shot {
    let rail = Rail::ALL[draw.below(4) as usize];
    let last = diamonds_on(rail);
    let least = DVec2::splat(card.touch_distance());
    let nose = point_at(card, rail, draw.within(0.8, last - 0.8));
    let touch = nose.clamp(least, DVec2::new(card.length, card.width) - least);
    let out = heading(DVec2::new(card.length, card.width) / 2.0 - nose);
    // Straight out of the rail, to the nearest quarter turn.
    let out = (out / (PI / 2.0)).round() * (PI / 2.0);
    let side = if draw.chance(0.5) { 1.0 } else { -1.0 };
    let angle = side * radians(draw.within(12.0, 60.0));
    let cue_ball = in_tenths(touch + unit_from_angle(out + angle) * draw.within(0.35, 1.1));
    let speed = in_twentieths(draw.within(0.8, 2.2));
    let tip = if with_side { side_of(draw) } else { 0.0 };
    lone(card, cue_ball, stroke(touch - cue_ball, speed, tip, 0.3))
}

/// The cue ball alone, on its way round the table.
fn round_the_table(card: &TableCard, draw: &mut Draw) -> Shot {
    let cue_ball = place(card, draw);
    let way = unit_from_angle(draw.within(0.0, TAU));
    let speed = in_twentieths(draw.within(2.0, 3.4));
    let tip = if draw.chance(0.5) { side_of(draw) } else { 0.0 };
    lone(card, cue_ball, stroke(way, speed, tip, 0.3))
}

fn lone(card: &TableCard, position: DVec2, stroke: Stroke) -> Shot {
    let balls = vec![PlacedBall { id: BallId::CUE, position }];
    Shot { card: *card, balls, stroke }
}

/// Half a tip to a tip and a half of side.
fn side_of(draw: &mut Draw) -> f64 {
    let side = in_twentieths(draw.within(0.12, 0.38));
    if draw.chance(0.5) { side } else { -side }
}

/// A stroke along `way`; the cue is raised later.
fn stroke(way: DVec2, speed: f64, side: f64, height: f64) -> Stroke {
    let azimuth = in_thousandths(heading(way));
    let height = (100.0 * height).round() / 100.0 + 0.0;
    Stroke { azimuth, elevation: 0.0, speed, side, height }
}

/// A place two balls off every rail at least.
fn place(card: &TableCard, draw: &mut Draw) -> DVec2 {
    let inset = card.touch_distance() + 4.0 * card.ball.radius;
    let x = draw.within(inset, card.length - inset);
    in_tenths(DVec2::new(x, draw.within(inset, card.width - inset)))
}

/// Whether there is something to see, and not all of it lies at an end of the handle.
fn is_clear(estimate: Estimate, sight: &Sight) -> bool {
    let end = sight.way.last().copied().unwrap_or_default();
    match &sight.handle {
        Handle::OnRail { rail, .. } => (0.3..=diamonds_on(*rail) - 0.3).contains(&sight.truth),
        Handle::Along { path } => {
            let beyond = path.last().map_or(0.0, |last| last.distance(end));
            (0.2..=2.0).contains(&sight.truth) && beyond > 0.2
        }
        Handle::Swing { at, .. } => estimate == Estimate::Cut || at.distance(end) >= SHORTEST,
    }
}
