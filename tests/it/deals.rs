//! Dealt Read items: every slot of every level, and what a player may rely on.

use crate::harness::on_every_core;
use glam::DVec2;
use leaveline::layout::{Features, LEVELS, SLOTS, deal_read, level_of};
use leaveline::physics::{BallEnd, EventKind, MODEL_VERSION, Outcome, play};
use leaveline::practice::{CuePath, ReadItem};
use leaveline::shot::least_elevation;
use leaveline::table::{Surface, TableSize};
use leaveline::units::degrees;
use leaveline::wire::{compact, make, open, parse, read_item, write_item};
use std::sync::LazyLock;
use std::time::Instant;

/// A deal, and what comes of it.
struct Deal {
    seed: u32,
    item: ReadItem,
    outcome: Outcome,
    path: CuePath,
    /// What dealing took, ms.
    cost: f64,
}

impl Deal {
    fn new(level: u8, seed: u32, size: TableSize) -> Self {
        let start = Instant::now();
        let item = deal_read(level, seed, size)
            .unwrap_or_else(|error| panic!("level {level}, seed {seed}: {error}"));
        let cost = 1e3 * start.elapsed().as_secs_f64();
        let outcome = play(&item.shot).expect("a dealt shot is sound");
        let path = CuePath::of(&item.shot, &outcome).expect("the cue ball meets the object ball");
        Self { seed, item, outcome, path, cost }
    }

    fn name(&self) -> String {
        format!("level {}, seed {}", self.item.level, self.seed)
    }

    fn places(&self) -> [DVec2; 2] {
        [self.item.shot.balls[0].position, self.item.shot.balls[1].position]
    }
}

/// Every slot of every level on the nine-foot table, dealt once for all tests here.
static DEALS: LazyLock<Vec<Vec<Deal>>> = LazyLock::new(|| {
    let wanted: Vec<(u8, u32)> =
        LEVELS.flat_map(|level| (0..SLOTS).map(move |seed| (level, seed))).collect();
    let mut all =
        on_every_core(&wanted, |&(level, seed)| Deal::new(level, seed, TableSize::NineFoot));
    LEVELS.map(|_| all.drain(..SLOTS as usize).collect()).collect()
});

fn all() -> impl Iterator<Item = &'static Deal> {
    DEALS.iter().flatten()
}

/// Everything about an item that a number tells, to the bit.
fn bits(item: &ReadItem) -> Vec<u64> {
    let (card, stroke) = (&item.shot.card, &item.shot.stroke);
    let places = item
        .shot
        .balls
        .iter()
        .flat_map(|ball| [f64::from(ball.id.number()), ball.position.x, ball.position.y]);
    let rest = [
        stroke.azimuth,
        stroke.elevation,
        stroke.speed,
        stroke.side,
        stroke.height,
        card.length,
        card.width,
        card.ball.radius,
        f64::from(item.level),
        item.seed.map_or(-1.0, f64::from),
    ];
    places.chain(rest).map(f64::to_bits).collect()
}

/// What a player may rely on, of whatever table.
fn check_deal(deal: &Deal) {
    let name = deal.name();
    let Deal { item, outcome, path, .. } = deal;
    assert_eq!(item.shot.check(), Ok(()), "{name}: legal");
    assert_eq!(item.seed, Some(deal.seed), "{name}: knows its seed");
    let features = Features::of(&item.shot, path);
    assert_eq!(level_of(features.difficulty()), item.level, "{name}: {features:?}");
    assert!(features.cushions <= 3, "{name}: {} cushions", features.cushions);

    assert_eq!(item.shot.balls.len(), 2, "{name}: a cue ball and an object ball");
    assert!(matches!(outcome.ends[0], BallEnd::Rest(_)), "{name}: no scratch");
    assert!(matches!(outcome.ends[1], BallEnd::Pocketed(_)), "{name}: the ball is potted");
    let mut contacts = 0;
    for event in &outcome.events {
        match event.kind {
            EventKind::Contact(_) => contacts += 1,
            EventKind::Cushion(surface) => {
                assert!(event.ball.is_cue(), "{name}: the object ball touches {surface:?}");
                assert!(matches!(surface, Surface::Rail(_)), "{name}: a jaw, {surface:?}");
                assert!(event.time > path.contact_time, "{name}: a cushion before the ball");
            }
            _ => {}
        }
    }
    assert_eq!(contacts, 1, "{name}: one contact");

    let least = least_elevation(&item.shot.card, &item.shot.balls, &item.shot.stroke);
    let raised = item.shot.stroke.elevation;
    assert!(raised >= least, "{name}: the cue at {raised} rad clears only from {least}");
    assert!(degrees(raised) <= 8.5, "{name}: an ordinary stroke, not {} degrees", degrees(raised));
    let offset = libm::hypot(item.shot.stroke.side, item.shot.stroke.height);
    assert!(offset <= 0.5, "{name}: a tip at {offset} of the radius miscues");
    for place in deal.places() {
        for (what, value) in [("x", place.x), ("y", place.y)] {
            let tenths = (value * 1e4).round() / 1e4;
            assert_eq!(value.to_bits(), tenths.to_bits(), "{name}: {what} in tenths of a mm");
        }
    }
}

#[test]
fn every_slot_of_every_level_is_dealt_as_promised() {
    for (deals, level) in DEALS.iter().zip(LEVELS) {
        assert_eq!(deals.len(), SLOTS as usize, "level {level}");
        deals.iter().for_each(check_deal);
    }
}

#[test]
fn no_two_deals_of_a_level_are_within_a_ball_of_each_other() {
    for deals in DEALS.iter() {
        let ball = 2.0 * deals[0].item.shot.card.ball.radius;
        for (k, one) in deals.iter().enumerate() {
            for other in &deals[..k] {
                let apart = one
                    .places()
                    .iter()
                    .zip(other.places())
                    .map(|(a, b)| a.distance(b))
                    .fold(0.0, f64::max);
                let names = (one.name(), other.name());
                assert!(apart >= ball, "{names:?}: {apart} m apart, a ball is {ball}");
            }
        }
    }
}

#[test]
fn a_seed_deals_the_same_item_again() {
    // Every level and every remainder by 16; all of them would cost as much as the
    // deals themselves.
    let some: Vec<&Deal> = all().filter(|deal| deal.seed % 17 == 0).collect();
    let again = on_every_core(&some, |deal| {
        deal_read(deal.item.level, deal.seed, TableSize::NineFoot).expect("dealt once")
    });
    for (deal, again) in some.iter().zip(&again) {
        assert_eq!(bits(again), bits(&deal.item), "{}", deal.name());
    }
}

#[test]
fn a_deal_comes_back_from_its_form_and_its_link_to_the_bit() {
    for deal in all() {
        let name = deal.name();
        let text = compact(&write_item(&deal.item)).expect("a form");
        let from_form = read_item(&parse(&text).expect("JSON"), "").expect("our own form");
        assert_eq!(bits(&from_form), bits(&deal.item), "{name}: by its form");
        let link = make(&deal.item, None).expect("short enough");
        let from_link = open(&link).expect("our own link").item;
        assert_eq!(bits(&from_link), bits(&deal.item), "{name}: by its link");
        assert_eq!(from_link, deal.item, "{name}: the whole card");
        let outcome = play(&from_link.shot).expect("sound");
        assert_eq!(outcome, deal.outcome, "{name}: the same outcome");
    }
}

#[test]
fn other_tables_are_dealt_as_well() {
    let wanted: Vec<(u8, u32, TableSize)> = LEVELS
        .flat_map(|level| {
            [TableSize::EightFoot, TableSize::SevenFoot]
                .into_iter()
                .flat_map(move |size| (0..12).map(move |k| (level, 7919 * k + 3, size)))
        })
        .collect();
    for deal in on_every_core(&wanted, |&(level, seed, size)| Deal::new(level, seed, size)) {
        check_deal(&deal);
    }
}

/// The smallest, the middle one and the largest.
fn spread(mut values: Vec<f64>) -> String {
    values.sort_by(f64::total_cmp);
    let at = |share: f64| values[((values.len() - 1) as f64 * share) as usize];
    format!("{:4.1} {:4.1} {:4.1}", at(0.0), at(0.5), at(1.0))
}

/// The share, in percent, of the deals for which `is` holds.
fn share(deals: &[Deal], is: impl Fn(&Deal) -> bool) -> f64 {
    100.0 * deals.iter().filter(|deal| is(deal)).count() as f64 / deals.len() as f64
}

/// How far the path turns toward the line of the shot after the contact, degrees:
/// follow is positive, draw negative.
fn turn(deal: &Deal) -> f64 {
    let path = &deal.path;
    let bend = degrees(Features::of(&deal.item.shot, path).bend);
    let first = path.path[1].position - path.path[0].position;
    let until = path.touches.first().map_or(f64::INFINITY, |touch| touch.time);
    let before = path.path.windows(2).take_while(|pair| pair[0].time < until).last();
    let last = before.map_or(first, |pair| pair[1].position - pair[0].position);
    let forward =
        last.normalize_or_zero().dot(path.approach) - first.normalize_or_zero().dot(path.approach);
    bend * forward.signum()
}

/// The README quotes this table: cargo test deals -- --nocapture.
#[test]
fn levels_differ_in_what_they_ask() {
    println!(
        "{SLOTS} deals a level, nine-foot table, model {MODEL_VERSION}; spreads are least, median, most"
    );
    println!(
        "level | cut, degrees   | speed, m/s     | lengths after  | cushions 0/1/2/3, % | draw/stun/follow, % | side, % | ms a deal, median/most"
    );
    for (deals, level) in DEALS.iter().zip(LEVELS) {
        let of = |value: &dyn Fn(&Deal) -> f64| spread(deals.iter().map(value).collect());
        let cut = of(&|deal| {
            degrees(leaveline::geometry::angle_between(
                deal.path.approach,
                deal.path.line_of_centres,
            ))
            .abs()
        });
        let speed = of(&|deal| deal.item.shot.stroke.speed);
        let lengths = of(&|deal| Features::of(&deal.item.shot, &deal.path).lengths);
        let cushions: Vec<String> = (0..=3)
            .map(|n| format!("{:.0}", share(deals, |deal| deal.path.touches.len() == n)))
            .collect();
        let kinds = [
            share(deals, |deal| turn(deal) < -5.0),
            share(deals, |deal| turn(deal).abs() <= 5.0),
            share(deals, |deal| turn(deal) > 5.0),
        ];
        let side = share(deals, |deal| deal.item.shot.stroke.side != 0.0);
        let mut costs: Vec<f64> = deals.iter().map(|deal| deal.cost).collect();
        costs.sort_by(f64::total_cmp);
        println!(
            "{level:5} | {cut} | {speed} | {lengths} | {:>19} | {:>19} | {side:7.0} | {:.0} / {:.0}",
            cushions.join(" / "),
            kinds.map(|kind| format!("{kind:.0}")).join(" / "),
            costs[costs.len() / 2],
            costs[costs.len() - 1],
        );
    }
}
