//! Run-outs played to their ends by players who look ahead differently far, with the same luck.

use crate::harness::on_every_core;
use leaveline::layout::{ClearWish, clear_sizes, deal_clear};
use leaveline::plan::{
    Depth, Fineness, Foresight, Foresights, Gain, Guide, Race, Rack, Table, Way,
};
use leaveline::shot::{Chance, HANDS, Series};
use leaveline::table::TableSize;
use std::process::ExitCode;
use std::time::Instant;

/// Rounds of trying out.
const ROUNDS: usize = 3;

/// What is compared.
#[derive(Clone, Copy)]
pub struct Comparison {
    pub rotation: bool,
    /// 0 for all numbers that there may be, in turn.
    pub n_balls: u8,
    pub first: u64,
    pub layouts: u64,
    pub runs: u32,
    pub fineness: Fineness,
}

/// By how much more often `a` came off than `b`, with the 95 % interval of the paired
/// difference (normal).
fn gain(a: &[bool], b: &[bool]) -> [f64; 3] {
    let Gain { mean, error } = Gain::of(a, b);
    [mean - 1.96 * error, mean, mean + 1.96 * error]
}

/// The way that the planner takes, by its number, and how many runs that took.
fn planned(guide: &Guide, foresights: &Foresights, table: &Table, ways: &[Way]) -> (usize, usize) {
    let (mut race, mut played) = (Race::new(ways.len()), 0);
    while let Some((running, runs)) = race.next() {
        let cleared = |way: &usize| {
            ways[*way].cleared(guide, foresights, table, Series::Race.number(), runs.clone())
        };
        let cleared: Vec<Vec<bool>> = running.iter().map(cleared).collect();
        let run = |k: usize| cleared.iter().map(move |way| u8::from(way[k]));
        let laps: Vec<u8> = (0..runs.len()).flat_map(run).collect();
        played += laps.len();
        race.take(&laps).expect("the runs that come next");
    }
    (race.taken(), played)
}

/// What came of one layout.
struct Judged {
    share: f64,
    /// Whether the planner leaves the plain players.
    left: bool,
    /// Against potting, and against one ahead.
    gains: [[f64; 3]; 2],
}

/// Plays one layout out, and prints what came of it.
fn judged(wanted: &Comparison, seed: u32) -> Judged {
    let rack = rack(wanted, seed);
    let named = &HANDS[seed as usize % HANDS.len()];
    let start = Instant::now();
    let mut guide = Guide::new(&rack, &named.hand, wanted.fineness);
    guide.fill(0, guide.n_shelves());
    let cells = guide.grid().n_cells();
    for _ in 0..ROUNDS {
        let foresight = Foresight::new(&guide, Depth::All);
        guide.try_out(&foresight, 0, cells);
    }
    let (table, foresights) = (Table::of(&rack), Foresights::new(&guide));
    let ways = Way::all(&guide, &foresights, &table);
    let built = start.elapsed().as_secs_f64();
    let start = Instant::now();
    let (taken, raced) = planned(&guide, &foresights, &table, &ways);
    let planned = start.elapsed().as_secs_f64();
    let start = Instant::now();
    let mut known: Vec<(usize, Vec<bool>)> = Vec::new();
    for way in [0, 1, taken] {
        if known.iter().all(|(other, _)| *other != way) {
            let runs = ways[way].cleared(&guide, &foresights, &table, seed, 0..wanted.runs);
            known.push((way, runs));
        }
    }
    let runs =
        |way| known.iter().find(|(other, _)| *other == way).map_or(&[][..], |(_, runs)| runs);
    let played = start.elapsed().as_secs_f64();
    let n_won = runs(taken).iter().filter(|won| **won).count() as u32;
    let Chance { share, low, high } = Chance::of(n_won, wanted.runs);
    let gains = [gain(runs(taken), runs(1)), gain(runs(taken), runs(0))];
    let way = &ways[taken];
    println!(
        "{seed:>4} {:>2} balls {:>8}: {share:.3} ({low:.3} to {high:.3}); against potting {}, one ahead {}; way {taken} of {} ({:?}) after {raced} runs; {built:.1} + {planned:.1} + {played:.1} s{}",
        rack.targets().len(),
        named.id,
        said(gains[0]),
        said(gains[1]),
        ways.len(),
        way.depth,
        if gains.iter().any(|[.., high]| *high < 0.0) { " SURELY WORSE" } else { "" },
    );
    Judged { share, left: taken > 1, gains }
}

/// Plays the layouts and fails if on one of them a shorter look ahead is surely better.
pub fn validate(wanted: &Comparison) -> ExitCode {
    let seeds: Vec<u32> =
        (wanted.first..wanted.first + wanted.layouts).map(|seed| seed as u32).collect();
    let all = on_every_core(&seeds, |&seed| judged(wanted, seed));
    let mean = |of: fn(&Judged) -> f64| all.iter().map(of).sum::<f64>() / all.len() as f64;
    let is_worse = |[.., high]: &&[f64; 3]| *high < 0.0;
    let worse = all.iter().flat_map(|one| &one.gains).filter(is_worse).count();
    println!(
        "{} layouts of {} runs: cleared {:.3}, by ways of its own on {:.2} of them; {:+.3} against potting, {:+.3} against one ahead; surely worse {worse} times",
        all.len(),
        wanted.runs,
        mean(|one| one.share),
        mean(|one| f64::from(u8::from(one.left))),
        mean(|one| one.gains[0][1]),
        mean(|one| one.gains[1][1]),
    );
    if worse == 0 { ExitCode::SUCCESS } else { ExitCode::FAILURE }
}

fn said([low, mean, high]: [f64; 3]) -> String {
    format!("{mean:+.3} ({low:+.3} to {high:+.3})")
}

/// A dealt layout, of all levels in turn.
fn rack(wanted: &Comparison, seed: u32) -> Rack {
    let sizes: Vec<u8> = clear_sizes(wanted.rotation).collect();
    let in_turn = sizes[seed as usize % sizes.len()];
    let wish = ClearWish {
        level: 1 + (seed % 6) as u8,
        rotation: wanted.rotation,
        n_balls: if wanted.n_balls == 0 { in_turn } else { wanted.n_balls },
        demands: false,
        seed,
        size: TableSize::NineFoot,
    };
    deal_clear(&wish).expect("a deal").rack().expect("a sound rack")
}
