//! Run-outs played to their ends by players who look ahead differently far, with the same luck.

use leaveline::layout::{ClearWish, deal_clear};
use leaveline::plan::{
    Care, Depth, Fineness, Foresight, Guide, Over, Player, Rack, Table, play_out,
};
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
    (0..runs).map(|k| play_out(guide, &player, table, seed, k).over == Over::Cleared).collect()
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

/// Plays the layouts and fails if on one of them a shorter look ahead is surely better.
pub fn validate(wanted: &Comparison) -> ExitCode {
    let mut worse = 0;
    let mut sums = [0.0; 4];
    for seed in wanted.first..wanted.first + wanted.layouts {
        let rack = rack(wanted, seed as u32);
        let named = &HANDS[seed as usize % HANDS.len()];
        let start = Instant::now();
        let mut guide = Guide::new(&rack, &named.hand, wanted.fineness);
        guide.fill(0, guide.n_shelves());
        let cells = guide.grid().n_cells();
        for _ in 0..ROUNDS {
            let foresight = Foresight::new(&guide, Depth::All);
            guide.try_out(&foresight, 0, cells);
        }
        let built = start.elapsed().as_secs_f64();
        let table = Table::of(&rack);
        let thought = Foresight::new(&guide, Depth::All).value(table.left, table.cue_ball());
        let start = Instant::now();
        let [pot, next, all] = [Depth::Pot, Depth::Next, Depth::All]
            .map(|depth| won(&guide, depth, &table, seed as u32, wanted.runs));
        let played = start.elapsed().as_secs_f64();
        let n_won = all.iter().filter(|won| **won).count() as u32;
        let Chance { share, low, high } = Chance::of(n_won, wanted.runs);
        let gains = [gain(&all, &pot), gain(&all, &next)];
        println!(
            "{seed:>4} {:>16}: {share:.3} ({low:.3} to {high:.3}), thought {thought:.3}; against potting {}, one ahead {}; {built:.1} s and {played:.1} s",
            named.id,
            said(gains[0]),
            said(gains[1]),
        );
        worse += gains.iter().filter(|[.., high]| *high < 0.0).count();
        for (sum, value) in sums.iter_mut().zip([share, gains[0][1], gains[1][1], thought]) {
            *sum += value / wanted.layouts as f64;
        }
    }
    let [share, pot, next, thought] = sums;
    println!(
        "{} layouts: cleared {share:.3}, thought {thought:.3}; {pot:+.3} against potting, {next:+.3} against one ahead; surely worse {worse} times",
        wanted.layouts
    );
    if worse == 0 { ExitCode::SUCCESS } else { ExitCode::FAILURE }
}

fn said([low, mean, high]: [f64; 3]) -> String {
    format!("{mean:+.3} ({low:+.3} to {high:+.3})")
}

/// A dealt layout, of all levels in turn.
fn rack(wanted: &Comparison, seed: u32) -> Rack {
    let wish = ClearWish {
        level: 1 + (seed % 6) as u8,
        rotation: wanted.rotation,
        n_balls: wanted.n_balls,
        demands: false,
        seed,
        size: TableSize::NineFoot,
    };
    deal_clear(&wish).expect("a deal").rack().expect("a sound rack")
}
