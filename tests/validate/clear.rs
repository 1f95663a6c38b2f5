//! Run-outs played to their ends by players who look ahead differently far, with the same luck.

use crate::harness::on_every_core;
use leaveline::layout::{ClearWish, clear_sizes, deal_clear};
use leaveline::plan::{Care, Depth, Fineness, Foresight, Guide, Over, Player, Rack, Runs, Table};
use leaveline::shot::{Chance, HANDS};
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

/// Runs that came off, one after the other.
fn won(guide: &Guide, depth: Depth, table: &Table, seed: u32, runs: u32) -> Vec<bool> {
    let foresight = Foresight::new(guide, depth);
    let player = Player::new(guide, &foresight, Care::QUICK);
    let first = Player::new(guide, &foresight, Care::CALM).choose(table);
    let from = Runs::new(guide, &player, table, first);
    (0..runs).map(|k| from.play(seed, k).over == Over::Cleared).collect()
}

/// By how much more often `a` came off than `b`, with the 95 % interval of the paired
/// difference (normal).
fn gain(a: &[bool], b: &[bool]) -> [f64; 3] {
    let n = a.len() as f64;
    let differences: Vec<f64> =
        a.iter().zip(b).map(|(a, b)| f64::from(u8::from(*a)) - f64::from(u8::from(*b))).collect();
    let mean = differences.iter().sum::<f64>() / n;
    let square = differences.iter().map(|d| (d - mean) * (d - mean)).sum::<f64>() / n;
    let half = 1.96 * (square / n).sqrt();
    [mean - half, mean, mean + half]
}

/// What came of one layout.
struct Judged {
    share: f64,
    thought: f64,
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
    let table = Table::of(&rack);
    let foresight = Foresight::new(&guide, Depth::All);
    let calm = Player::new(&guide, &foresight, Care::CALM);
    let thought = calm.choose(&table).map_or(0.0, |choice| choice.worth);
    let valued = foresight.value(table.left, table.cue_ball());
    let built = start.elapsed().as_secs_f64();
    let start = Instant::now();
    let [pot, next, all] = [Depth::Pot, Depth::Next, Depth::All]
        .map(|depth| won(&guide, depth, &table, seed, wanted.runs));
    let played = start.elapsed().as_secs_f64();
    let n_won = all.iter().filter(|won| **won).count() as u32;
    let Chance { share, low, high } = Chance::of(n_won, wanted.runs);
    let gains = [gain(&all, &pot), gain(&all, &next)];
    println!(
        "{seed:>4} {:>2} balls {:>16}: {share:.3} ({low:.3} to {high:.3}), thought {thought:.3}, {valued:.3}; against potting {}, one ahead {}; {built:.1} s and {played:.1} s",
        rack.targets().len(),
        named.id,
        said(gains[0]),
        said(gains[1]),
    );
    Judged { share, thought, gains }
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
        "{} layouts of {} runs: cleared {:.3}, thought {:.3}; {:+.3} against potting, {:+.3} against one ahead; surely worse {worse} times",
        all.len(),
        wanted.runs,
        mean(|one| one.share),
        mean(|one| one.thought),
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
