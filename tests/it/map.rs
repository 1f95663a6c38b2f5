//! Chances of potting a ball from everywhere: against counted strokes, and its manners.
//! `scripts/validate map` counts at two hundred places.

#[path = "../validate/map.rs"]
mod cases;

use crate::harness::on_every_core;
use glam::DVec2;
use leaveline::BallId;
use leaveline::physics::{Arena, PlacedBall};
use leaveline::shot::{Grid, HANDS, PotMap};
use leaveline::table::{PocketId, TableCard, TableSize};

fn ball(number: u8, x: f64, y: f64) -> PlacedBall {
    PlacedBall { id: BallId::object(number).expect("a ball"), position: DVec2::new(x, y) }
}

fn map(balls: &[PlacedBall], hand: usize) -> PotMap {
    let arena = Arena::new(&TableCard::of_size(TableSize::NineFoot));
    PotMap::new(&arena, balls, balls[0].id, &HANDS[hand].hand).expect("a sound map")
}

/// Of 4 true chances 3 or more lie inside their 99 % intervals but once in a thousand times; 300 strokes hide a difference of 0.05 behind 0.112 (99.99 %).
#[test]
fn chances_are_near_to_counted_strokes() {
    let seeds: Vec<u64> = (0..4).collect();
    let all = on_every_core(&seeds, |&seed| cases::case(seed, 300));
    let inside = all.iter().filter(|case| case.inside).count();
    assert!(inside >= 3, "{inside} of 4 inside the 99 % interval");
    for case in all {
        let off = (case.computed - case.counted).abs();
        assert!(off < 0.05 + 0.112, "{}: {} is off by {off}", case.seed, case.words);
        let off = (case.quick - case.counted).abs();
        assert!(off < 0.2 + 0.112, "{}: {} is quickly off by {off}", case.seed, case.words);
    }
}

#[test]
fn a_steadier_hand_makes_more_and_a_ball_in_the_way_takes_it_all() {
    let place = DVec2::new(0.9, 0.5);
    let alone = [ball(1, 1.7, 0.9)];
    let chances: Vec<f64> = (0..4)
        .map(|hand| map(&alone, hand).pot_from(place, PocketId::FootLeft).expect("a pot").chance)
        .collect();
    assert!(chances.windows(2).all(|pair| pair[0] > pair[1]), "{chances:?}");
    let hidden = [ball(1, 1.7, 0.9), ball(2, 1.3, 0.7)];
    let left = map(&hidden, 1).pot_from(place, PocketId::FootLeft);
    assert!(left.is_none_or(|pot| pot.chance < 0.05), "behind the 2: {left:?}");
}

#[test]
fn the_best_pocket_is_the_best() {
    let map = map(&[ball(1, 1.4, 0.8), ball(2, 2.0, 0.4)], 2);
    let place = DVec2::new(0.8, 0.6);
    let (best, pot) = map.best_from(place).expect("an open ball");
    for pocket in PocketId::ALL {
        let other = map.pot_from(place, pocket).map_or(0.0, |pot| pot.chance);
        assert!(other <= pot.chance, "{pocket:?} beats {best:?}: {other}");
    }
}

#[test]
fn rows_by_rows_are_the_whole_and_places_between_are_between() {
    let map = map(&[ball(1, 1.27, 0.635)], 1);
    let grid = Grid::new(map.arena().card(), 16, 8);
    let whole = grid.fill(&map, 0, 8, None);
    let mut parts = grid.fill(&map, 0, 3, None);
    parts.extend(grid.fill(&map, 3, 8, None));
    assert_eq!(whole.len(), 128, "every cell");
    let chances = |spots: &[leaveline::shot::Spot]| -> Vec<f64> {
        // What is not a number equals nothing.
        spots.iter().map(|spot| if spot.chance.is_nan() { -1.0 } else { spot.chance }).collect()
    };
    assert_eq!(chances(&whole), chances(&parts), "shared among workers");
    let chances: Vec<f64> = whole.iter().map(|spot| spot.chance).collect();
    let at = grid.place(3, 2);
    let middle = grid.chance_at(&chances, at);
    assert!((middle - chances[2 * 16 + 3]).abs() < 1e-12, "in the middle of a cell: {middle}");
    let between = grid.chance_at(&chances, 0.5 * (at + grid.place(4, 2)));
    let mean = 0.5 * (chances[2 * 16 + 3] + chances[2 * 16 + 4]);
    assert!((between - mean).abs() < 1e-12, "half way: {between}");
}

#[test]
fn a_map_needs_its_ball() {
    let arena = Arena::new(&TableCard::of_size(TableSize::NineFoot));
    let other = BallId::object(9).expect("a ball");
    let error = PotMap::new(&arena, &[ball(1, 1.0, 0.5)], other, &HANDS[0].hand);
    assert_eq!(error.expect_err("it is not there").field(), "ball", "named");
}
