//! Run-outs played to their ends by players who look ahead differently far.

use crate::support::{Seeded, free_place};
use leaveline::BallId;
use leaveline::physics::PlacedBall;
use leaveline::plan::{
    Care, Depth, Fineness, Foresight, Game, Guide, Player, Rack, Table, play_out,
};
use leaveline::shot::HANDS;
use leaveline::table::{TableCard, TableShape, TableSize};
use std::time::Instant;

/// A seeded layout.
pub fn rack(seed: u64, kind: &str, n: u8) -> Rack {
    let mut seeded = Seeded::new(seed);
    let card = TableCard::of_size(TableSize::NineFoot);
    let shape = TableShape::new(&card);
    let mut balls: Vec<PlacedBall> = Vec::new();
    let mut put = |id: BallId, balls: &mut Vec<PlacedBall>| loop {
        if let Some(position) = free_place(&mut seeded, &card, &shape, balls) {
            balls.push(PlacedBall { id, position });
            return;
        }
    };
    put(BallId::CUE, &mut balls);
    for number in 1..=n {
        put(BallId::object(number).expect("a ball"), &mut balls);
    }
    let game = if kind == "rotation" {
        Game::Rotation
    } else {
        let last = BallId::object(8).expect("a ball");
        put(last, &mut balls);
        for number in 9..9 + n {
            put(BallId::object(number).expect("a ball"), &mut balls);
        }
        Game::Group { group: (1..=n).filter_map(BallId::object).collect(), last }
    };
    Rack::new(&card, &balls, game, Vec::new(), None).expect("a sound rack")
}

pub fn validate(kind: &str, n: u8, layouts: u64, first: u64, runs: u32, fineness: Fineness) {
    let depths = [Depth::Pot, Depth::Next, Depth::All];
    let env = |name: &str, plain: u32| {
        std::env::var(name).ok().and_then(|v| v.parse().ok()).unwrap_or(plain)
    };
    let care =
        Care { balls: env("B", 3) as usize, tried: env("T", 6) as usize, errors: env("E", 12) };
    let mut totals = [0.0; 3];
    for seed in first..first + layouts {
        let rack = rack(seed, kind, n);
        let hand = HANDS[seed as usize % 3].hand;
        let start = Instant::now();
        let mut guide = Guide::new(&rack, &hand, fineness);
        guide.fill(0, guide.n_shelves());
        let built = start.elapsed().as_secs_f64();
        let start = Instant::now();
        let ahead = depths.map(|depth| Foresight::new(&guide, depth));
        let solved = start.elapsed().as_secs_f64();
        let table = Table::of(&rack);
        let thought = ahead[2].value(table.left, table.cue_ball());
        let start = Instant::now();
        let won: Vec<Vec<bool>> = ahead
            .iter()
            .map(|ahead| {
                let player = Player::new(&guide, ahead, care);
                (0..runs)
                    .map(|k| {
                        play_out(&guide, &player, &table, seed as u32, k).cleared
                            == rack.targets().len()
                    })
                    .collect()
            })
            .collect();
        let played = start.elapsed().as_secs_f64();
        let share = |k: usize| won[k].iter().filter(|won| **won).count() as f64 / f64::from(runs);
        println!(
            "{seed:>4} {}: pot {:.3} next {:.3} all {:.3} (thought {thought:.3}); built in {built:.2} s, solved in {solved:.2}, played {} runs in {played:.1} s",
            HANDS[seed as usize % 3].id,
            share(0),
            share(1),
            share(2),
            3 * runs
        );
        if std::env::var("WHY").is_ok() {
            let player = Player::new(&guide, &ahead[2], care);
            let mut why = std::collections::BTreeMap::new();
            for k in 0..runs {
                let run = play_out(&guide, &player, &table, seed as u32, k);
                *why.entry((run.cleared, run.over)).or_insert(0) += 1;
            }
            println!("     {why:?}");
            let mut t = table.clone();
            while let Some(choice) = player.choose(&t) {
                println!(
                    "     {:?} {:.3} thought {:.3} {:?}",
                    choice.called,
                    choice.worth,
                    ahead[2].value(t.left, t.cue_ball()),
                    choice.stroke
                );
                match t.after(&rack, guide.arena(), choice.called, &choice.stroke) {
                    Ok(after) => t = after,
                    Err(over) => {
                        println!("     {over:?}");
                        break;
                    }
                }
            }
        }
        for (total, k) in totals.iter_mut().zip(0..) {
            *total += share(k);
        }
    }
    println!("mean: {:?}", totals.map(|total| total / layouts as f64));
}
