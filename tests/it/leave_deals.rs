//! Dealt Leave items, and what a player may rely on.

use crate::harness::on_every_core;
use glam::DVec2;
use leaveline::BallId;
use leaveline::layout::{LEVELS, deal_leave};
use leaveline::physics::{PlacedBall, Shot, Stroke};
use leaveline::practice::LeaveItem;
use leaveline::shot::{Demand, Ending, Situation, aim_at_pocket, cut_angle, least_elevation};
use leaveline::table::{PocketId, TableSize};
use leaveline::units::{degrees, radians};
use leaveline::wire::{compact, parse, read_leave_item, write_leave_item};
use std::sync::LazyLock;
use std::time::Instant;

/// Deals of each level that are looked at.
const DEALS: u32 = 20;

/// A deal, and what dealing took, ms.
struct Deal {
    item: LeaveItem,
    cost: f64,
}

impl Deal {
    fn new(level: u8, seed: u32, size: TableSize) -> Self {
        let start = Instant::now();
        let item = deal_leave(level, seed, size)
            .unwrap_or_else(|error| panic!("level {level}, seed {seed}: {error}"));
        Self { item, cost: 1e3 * start.elapsed().as_secs_f64() }
    }

    fn name(&self) -> String {
        format!("level {}, seed {:?}", self.item.level, self.item.seed)
    }

    fn situation(&self) -> Situation {
        Situation::new(&self.item.shot, self.item.demand.on).expect("a sound layout")
    }
}

fn dealt(size: TableSize, seeds: u32) -> Vec<Deal> {
    let wanted: Vec<(u8, u32)> =
        LEVELS.flat_map(|level| (0..seeds).map(move |k| (level, 7919 * k + 3))).collect();
    on_every_core(&wanted, |&(level, seed)| Deal::new(level, seed, size))
}

static DEALT: LazyLock<Vec<Deal>> = LazyLock::new(|| dealt(TableSize::NineFoot, DEALS));

/// The balls as they lie after `ending` of the ball on, if nothing else moved, with the
/// cue ball where it stopped.
fn after(item: &LeaveItem, ending: &Ending) -> Shot {
    let mut shot = item.shot.clone();
    shot.balls.retain(|ball| ball.id != item.demand.on);
    for ball in shot.balls.iter_mut().filter(|ball| ball.id.is_cue()) {
        ball.position = ending.stop;
    }
    shot
}

/// The least cut at which a stroke of middling speed, aimed and played, pots the next
/// ball from where the cue ball stopped, degrees.
fn next_cut(item: &LeaveItem, ending: &Ending) -> Option<f64> {
    let next = item.demand.next.expect("there is a next ball");
    let shot = after(item, ending);
    let situation = Situation::new(&shot, next).ok()?;
    let cut_into = |pocket: PocketId| {
        let mouth = situation.arena().shape().pocket(pocket).mouth_middle;
        let radius = shot.card.ball.radius;
        let cut = cut_angle(situation.cue_ball(), situation.object_ball(), mouth, radius);
        let stroke = Stroke { elevation: 0.0, speed: 1.8, side: 0.0, height: 0.0, ..shot.stroke };
        let aim = aim_at_pocket(situation.arena(), situation.balls(), &stroke, next, pocket)?;
        let demand = Demand { pocket: Some(pocket), ..Demand::to_pot(next) };
        demand.has_fallen(&situation.play(&aim.stroke)).then_some(degrees(cut))
    };
    PocketId::ALL.into_iter().filter_map(cut_into).min_by(f64::total_cmp)
}

fn check_deal(deal: &Deal) {
    let (name, item) = (deal.name(), &deal.item);
    assert_eq!(item.shot.check(), Ok(()), "{name}: legal");
    let Demand { on, next, pocket, rails, zone } = &item.demand;
    let lies = |id: BallId| item.shot.balls.iter().any(|ball: &PlacedBall| ball.id == id);
    assert!(lies(*on) && next.is_some_and(lies) && *next != Some(*on), "{name}: on and next");
    assert!(pocket.is_some() && zone.is_none(), "{name}: a pocket is named, the zone is asked");
    let wanted = [(2, 0), (2, 0), (2, 0), (3, 0), (3, 1), (4, 2)][usize::from(item.level) - 1];
    assert_eq!(item.shot.balls.len(), wanted.0 + 1, "{name}: so many balls");
    assert!(rails.len() >= wanted.1 && rails.len() <= 3, "{name}: rails {rails:?}");
    assert_eq!(rails.is_empty(), wanted.1 == 0, "{name}: rails {rails:?}");

    let stroke = &item.shot.stroke;
    let least = least_elevation(&item.shot.card, &item.shot.balls, stroke);
    assert!(stroke.elevation >= least, "{name}: the cue clears what is under it");
    assert!(degrees(stroke.elevation) <= 8.0, "{name}: an ordinary stroke");
    for place in item.shot.balls.iter().flat_map(|ball| [ball.position.x, ball.position.y]) {
        let tenths = (place * 1e4).round() / 1e4;
        assert_eq!(place.to_bits(), tenths.to_bits(), "{name}: in tenths of a mm");
    }
    assert!(item.demand.is_potted(&deal.situation().play(stroke)), "{name}: the stun pots");

    // The promise itself, by a look at the same grid of strokes, the next ball played out.
    let situation = deal.situation();
    let mut solved = false;
    'all: for side in [0.0, -0.3, 0.3] {
        for height in [-0.35, 0.0, 0.35] {
            for speed in [0.9, 1.3, 1.8, 2.5, 3.4] {
                let mut tried = Stroke { speed, side, height, ..*stroke };
                let least = least_elevation(&item.shot.card, &item.shot.balls, &tried);
                tried.elevation = radians((10.0 * degrees(least) + 2.0).ceil() / 10.0);
                let pocket = pocket.expect("named");
                let aim = aim_at_pocket(situation.arena(), situation.balls(), &tried, *on, pocket);
                let Some(aim) = aim else { continue };
                let ending = situation.play(&aim.stroke);
                solved = item.demand.is_met(&ending)
                    && next_cut(item, &ending).is_some_and(|cut| cut <= 41.0);
                if solved {
                    break 'all;
                }
            }
        }
    }
    assert!(solved, "{name}: some stroke gives what is asked, and the next ball");
}

#[test]
fn deals_are_as_promised() {
    DEALT.iter().for_each(check_deal);
}

#[test]
fn other_tables_are_dealt_as_well() {
    for size in [TableSize::EightFoot, TableSize::SevenFoot] {
        dealt(size, 4).iter().for_each(check_deal);
    }
}

/// Whether a place is as good as deals ask of one: off the rails, near, no thin cut.
fn is_easy(item: &LeaveItem, ending: &Ending) -> bool {
    let card = &item.shot.card;
    let inset = DVec2::splat(card.touch_distance() + 1.5 * card.ball.radius);
    let room = ending.stop.cmpge(inset).all()
        && ending.stop.cmple(DVec2::new(card.length, card.width) - inset).all();
    let next = item.shot.balls.iter().find(|ball| Some(ball.id) == item.demand.next);
    let away = next.expect("a next ball").position.distance(ending.stop);
    // Pockets far off or entered from the side are no good leave: only easy ones count.
    let near_pocket = PocketId::ALL.into_iter().any(|pocket| {
        let shape = leaveline::table::TableShape::new(card);
        let mouth = shape.pocket(pocket);
        let way = mouth.mouth_middle - next.expect("a next ball").position;
        let cut =
            cut_angle(ending.stop, mouth.mouth_middle - way, mouth.mouth_middle, card.ball.radius);
        let angle = leaveline::geometry::angle_between(mouth.axis, way).abs();
        way.length() <= 1.3 && degrees(cut) <= 40.0 && degrees(angle) <= 45.0
    });
    room && (0.2..=0.9).contains(&away) && near_pocket && next_cut(item, ending).is_some()
}

#[test]
fn from_level_three_on_a_plain_stun_does_not_do_it() {
    let (mut shown, mut hidden) = (0, 0);
    for deal in DEALT.iter() {
        let item = &deal.item;
        let ending = deal.situation().play(&item.shot.stroke);
        let does = item.demand.is_met(&ending) && is_easy(item, &ending);
        if item.level >= 3 && item.demand.rails.is_empty() && item.shot.balls.len() == 3 {
            assert!(!does, "{}: a plain stun leaves well", deal.name());
            hidden += 1;
        } else if item.level < 3 {
            shown += u32::from(does);
        }
    }
    assert!(hidden > 0 && shown > 0, "{shown} of the easiest levels are given away");
}

#[test]
fn a_seed_deals_the_same_item_again_and_others_differ() {
    for deals in DEALT.chunks(DEALS as usize) {
        let first = &deals[0].item;
        let again = deal_leave(first.level, first.seed.expect("dealt"), TableSize::NineFoot);
        assert_eq!(again.as_ref(), Ok(first), "level {}", first.level);
        assert!(deals[1..].iter().all(|deal| deal.item.shot != first.shot), "each its own");
    }
    assert!(deal_leave(7, 0, TableSize::NineFoot).is_err(), "there are six levels");
}

#[test]
fn a_deal_comes_back_from_its_form_to_the_bit() {
    for deal in DEALT.iter() {
        let text = compact(&write_leave_item(&deal.item)).expect("a form");
        let read = read_leave_item(&parse(&text).expect("JSON"), "");
        assert_eq!(read.as_ref(), Ok(&deal.item), "{}", deal.name());
    }
}

/// What dealing costs: cargo test leave_deals -- --nocapture.
#[test]
fn every_level_is_dealt_and_its_cost_told() {
    for (deals, level) in DEALT.chunks(DEALS as usize).zip(LEVELS) {
        assert!(deals.iter().all(|deal| deal.item.level == level), "level {level}");
        let mut costs: Vec<f64> = deals.iter().map(|deal| deal.cost).collect();
        costs.sort_by(f64::total_cmp);
        let (middle, most) = (costs[costs.len() / 2], costs[costs.len() - 1]);
        println!("level {level}: {middle:.0} ms a deal, {most:.0} at most");
    }
}
