//! What rests on counting many real strokes: run by `scripts/validate`.
//!
//!     map [PLACES] [STROKES] [FIRST]
//!                              the map's chances (200 places, 10,000 strokes each, seeds from
//!                              FIRST (0) on)
//!     hands                    solves for the hands' errors of direction
//!     best [N] [FIRST] [PLANS] the best stroke on N (50) layouts from FIRST (0) on, against
//!                              the best of so many (200,000)
//!
//!     clear [KIND] [LAYOUTS] [FIRST] [BALLS] [RUNS]
//!                              the planner against players who look less far ahead, on 100
//!                              dealt layouts of KIND (rotation or group), 2,000 runs each;
//!                              BALLS is 0 for all numbers in turn
//!
//! With no word, as `cargo test` runs it, a little of `best`.

mod best;
mod clear;
#[path = "../it/harness.rs"]
#[allow(dead_code)]
mod harness;
mod map;
#[allow(dead_code)]
mod straight;
#[path = "../it/support.rs"]
#[allow(dead_code)]
mod support;

use leaveline::plan::Fineness;
use leaveline::shot::{HANDS, Hand, SpeedError};
use std::process::ExitCode;
use straight::made;

fn main() -> ExitCode {
    let words: Vec<String> = std::env::args().skip(1).collect();
    let number = |k: usize, plain| words.get(k).and_then(|w| w.parse().ok()).unwrap_or(plain);
    match words.first().map(String::as_str) {
        Some("hands") => solve_hands(),
        Some("map") => {
            return validate_map(number(3, 0), number(1, 200), number(2, 10_000) as u32);
        }
        Some("best") => {
            let n_plans = number(3, best::FULL.n_plans as u64) as usize;
            let effort = best::Effort { n_plans, ..best::FULL };
            return best::validate(number(1, 50), number(2, 0), &effort);
        }
        Some("clear") => {
            let rotation = words.get(1).is_none_or(|kind| kind == "rotation");
            return clear::validate(&clear::Comparison {
                rotation,
                n_balls: number(4, 0) as u8,
                first: number(3, 0),
                layouts: number(2, 100),
                runs: number(5, 2_000) as u32,
                fineness: Fineness::PLANNED,
            });
        }
        // Words for the other tests: the name of one of them, and the like.
        Some(word) if !word.starts_with('-') => {}
        _ => return best::validate(1, 3, &best::SHORT),
    }
    ExitCode::SUCCESS
}

/// `hand` with all errors wider by `factor`.
fn scaled(hand: &Hand, factor: f64) -> Hand {
    let speed = match hand.speed {
        SpeedError::Relative(share) => SpeedError::Relative(factor * share),
        SpeedError::Absolute(speed) => SpeedError::Absolute(factor * speed),
    };
    Hand {
        azimuth: factor * hand.azimuth,
        elevation: factor * hand.elevation,
        speed,
        tip: factor * hand.tip,
    }
}

/// Prints the error of direction at which each hand makes what it is named by.
fn solve_hands() {
    const STROKES: u32 = 200_000;
    for (named, share) in HANDS.iter().zip([0.95, 0.85, 0.60, 0.35]) {
        let (mut low, mut high) = (0.25, 4.0);
        // To a thousandth; the same numbers at every step, so that the count falls evenly.
        while high - low > 1e-3 {
            let middle = 0.5 * (low + high);
            let n = made(&scaled(&named.hand, middle), 1, STROKES);
            if f64::from(n) > share * f64::from(STROKES) { low = middle } else { high = middle }
        }
        let hand = scaled(&named.hand, 0.5 * (low + high));
        println!("{}: {:.4} degrees", named.id, hand.azimuth.to_degrees());
    }
    for named in &HANDS {
        println!(
            "{} makes {}",
            named.id,
            f64::from(made(&named.hand, 2, STROKES)) / f64::from(STROKES)
        );
    }
}

/// Counts strokes at so many places; fails where the map is not as good as it says.
fn validate_map(first: u64, places: u64, strokes: u32) -> ExitCode {
    let seeds: Vec<u64> = (first..first + places).collect();
    let mut cases = harness::on_every_core(&seeds, |&seed| map::case(seed, strokes));
    let quick = |case: &map::Case| (case.quick - case.counted).abs();
    let mut quickly: Vec<f64> = cases.iter().map(quick).collect();
    quickly.sort_by(f64::total_cmp);
    let off = |case: &map::Case| (case.computed - case.counted).abs();
    cases.sort_by(|a, b| off(b).total_cmp(&off(a)));
    for case in cases.iter().filter(|case| !case.inside) {
        println!("{:4} {:.3} {:.3} {}", case.seed, case.computed, case.counted, case.words);
    }
    let inside = cases.iter().filter(|case| case.inside).count();
    let worst = cases.first().map_or(0.0, off);
    println!("{inside} of {places} inside the 99 % interval, worst difference {worst:.3}");
    let of = |share: f64| quickly[(share * (quickly.len() - 1) as f64) as usize];
    println!("by windows alone: median {:.4}, 90 % {:.3}, worst {:.3}", of(0.5), of(0.9), of(1.0));
    let median = cases.get(cases.len() / 2).map_or(0.0, off);
    println!("median difference {median:.4}");
    if inside as u64 * 200 >= 193 * places && worst <= 0.05 {
        ExitCode::SUCCESS
    } else {
        ExitCode::FAILURE
    }
}
