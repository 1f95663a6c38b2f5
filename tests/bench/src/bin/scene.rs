//! Plays one scene over and over, for a look at its speed or for a profiler:
//! `scene a|b|c|d|e [seconds]`.

use bench::{Ends, scenes};
use std::hint::black_box;
use std::process::ExitCode;
use std::time::{Duration, Instant};

const WINDOWS: u32 = 10;

fn main() -> ExitCode {
    let mut arguments = std::env::args().skip(1);
    let name = arguments.next().unwrap_or_default();
    let seconds: f64 = arguments.next().map_or(Ok(5.0), |text| text.parse()).unwrap_or(0.0);
    let Some(scene) = scenes().into_iter().find(|scene| scene.name == name && seconds > 0.0) else {
        eprintln!("usage: scene a|b|c|d|e [seconds]");
        return ExitCode::FAILURE;
    };
    let counts = scene.counts();
    let events =
        counts.iter().map(|counts| counts.events as f64).sum::<f64>() / counts.len() as f64;

    let mut ends = Ends::new(&scene.shot);
    let window = Duration::from_secs_f64(seconds / f64::from(WINDOWS));
    let mut best = f64::INFINITY;
    for _ in 0..WINDOWS {
        let (start, mut rounds) = (Instant::now(), 0);
        while start.elapsed() < window || rounds == 0 {
            for stroke in &scene.strokes {
                black_box(ends.play(black_box(stroke)));
            }
            rounds += 1;
        }
        let shots = f64::from(rounds) * scene.strokes.len() as f64;
        best = best.min(start.elapsed().as_secs_f64() / shots);
    }
    println!(
        "{} {}: {:.0} shots/s, {:.2} us a shot, {events:.1} events a shot, {:.0} ns an event",
        scene.name,
        scene.words,
        1.0 / best,
        best * 1e6,
        best * 1e9 / events
    );
    ExitCode::SUCCESS
}
