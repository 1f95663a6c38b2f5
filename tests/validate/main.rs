//! What rests on counting many real strokes: run by `scripts/validate`.
//!
//!     hands    solves for the hands' errors of direction

#[allow(dead_code)]
mod straight;

use leaveline::shot::{HANDS, Hand, SpeedError};
use std::process::ExitCode;
use straight::made;

fn main() -> ExitCode {
    let words: Vec<String> = std::env::args().skip(1).collect();
    match words.first().map(String::as_str) {
        Some("hands") => solve_hands(),
        _ => println!("nothing asked: scripts/validate says what can be"),
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
