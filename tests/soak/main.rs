//! Plays many random shots and proves each: it ends, nothing is not a number, no
//! ball overlaps another or a cushion by more than 1e-9 m, no energy is gained, no
//! ball leaves the table, and there are not too many events.
//!
//!     cargo test --test soak                    a thousand shots
//!     cargo test --test soak -- N [FIRST]       N shots, from seed FIRST on
//!     cargo test --test soak -- SHOT.json       the one in this file
//!
//! `scripts/soak` does the same with an optimised build. A shot is a function of its
//! seed alone, so that `N = 1` plays a failing one again.

mod corpora;
mod layouts;
mod paths;
mod proof;
mod report;
#[path = "../it/support.rs"]
mod support;

use corpora::{CORPORA, shot_of};
use leaveline::physics::Shot;
use leaveline::wire::{compact, parse, read_shot, write_shot};
use proof::{Fault, Proof, prove};
use report::Report;
use std::cell::RefCell;
use std::collections::{BTreeMap, BTreeSet};
use std::panic::{AssertUnwindSafe, catch_unwind};
use std::process::ExitCode;
use std::sync::Mutex;
use std::sync::atomic::{AtomicU64, Ordering};
use std::thread;
use std::time::{Duration, Instant};

/// How many shots a plain `cargo test` plays.
const FEW: u64 = 1_000;

/// So many failing shots are shown.
const MOST_SHOWN: usize = 5;

/// A shot that takes longer than this hangs where nobody can ask it to end.
const TOO_LONG: Duration = Duration::from_secs(60);

thread_local! {
    /// What the last panic of this thread said.
    static SAID: RefCell<String> = const { RefCell::new(String::new()) };
}

/// A shot that did not hold.
struct Failure {
    seed: u64,
    kind: usize,
    faults: Vec<Fault>,
}

fn main() -> ExitCode {
    std::panic::set_hook(Box::new(|panic| {
        SAID.with(|said| *said.borrow_mut() = format!("panicked: {panic}"));
    }));
    let words: Vec<String> = std::env::args().skip(1).collect();
    if let [file] = &words[..]
        && file.ends_with(".json")
    {
        return prove_file(file);
    }
    let numbers: Vec<Option<u64>> = words.iter().map(|word| word.parse().ok()).collect();
    match numbers[..] {
        [] => soak(FEW, 0),
        [Some(n)] => soak(n, 0),
        [Some(n), Some(first)] => soak(n, first),
        // Words for the other tests: the name of one of them, --nocapture and the like.
        _ if words.iter().any(|word| !word.starts_with('-') && word != "soak") => ExitCode::SUCCESS,
        _ => soak(FEW, 0),
    }
}

fn prove_file(file: &str) -> ExitCode {
    let text = std::fs::read_to_string(file).expect("the file can be read");
    let shot = parse(&text).and_then(|form| read_shot(&form, ""));
    let shot = shot.unwrap_or_else(|error| panic!("{error}"));
    let proof = proven(&shot);
    println!("{proof:#?}");
    if proof.faults.is_empty() { ExitCode::SUCCESS } else { ExitCode::FAILURE }
}

/// As [`prove`], with a panic as one of the faults.
fn proven(shot: &Shot) -> Proof {
    caught(|| prove(shot, true)).unwrap_or_else(Proof::panicked)
}

fn caught<T>(run: impl FnOnce() -> T) -> Result<T, String> {
    catch_unwind(AssertUnwindSafe(run)).map_err(|_| SAID.with(|said| said.borrow().clone()))
}

fn soak(n: u64, first: u64) -> ExitCode {
    let start = Instant::now();
    let next = AtomicU64::new(first);
    let failures = Mutex::new(Vec::new());
    let n_threads = thread::available_parallelism().map_or(1, |n| n.get());
    // What each thread is at, and since when.
    let at: Vec<Mutex<Option<(u64, Instant)>>> = (0..n_threads).map(|_| Mutex::new(None)).collect();
    let report = thread::scope(|scope| {
        let threads: Vec<_> =
            at.iter().map(|at| scope.spawn(|| work(&next, first + n, at, &failures))).collect();
        scope.spawn(|| watch(&next, first + n, &at));
        let mut report = Report::default();
        for thread in threads {
            report.merge(thread.join().expect("panics are caught shot by shot"));
        }
        report
    });
    report.print(start.elapsed());
    let mut failures = failures.into_inner().expect("no thread panicked");
    failures.sort_by_key(|failure: &Failure| failure.seed);
    for failure in failures.iter().take(MOST_SHOWN) {
        show(failure);
    }
    list(&failures);
    println!("{} of {n} shots failed", failures.len());
    if failures.is_empty() { ExitCode::SUCCESS } else { ExitCode::FAILURE }
}

/// Prints what failed how often, and the first seeds of each.
fn list(failures: &[Failure]) {
    let mut of: BTreeMap<(&str, &str), Vec<u64>> = BTreeMap::new();
    for Failure { seed, kind, faults } in failures {
        let whats: BTreeSet<&str> = faults.iter().map(|fault| fault.what).collect();
        for what in whats {
            of.entry((what, CORPORA[*kind].0)).or_default().push(*seed);
        }
    }
    for ((what, kind), seeds) in of {
        let first: Vec<String> = seeds.iter().take(12).map(u64::to_string).collect();
        println!("{what:<10} {kind:<8} {:>5}: {}", seeds.len(), first.join(" "));
    }
}

fn work(
    next: &AtomicU64,
    end: u64,
    at: &Mutex<Option<(u64, Instant)>>,
    failures: &Mutex<Vec<Failure>>,
) -> Report {
    let set = |now| *at.lock().expect("nobody panics with it") = now;
    let mut report = Report::default();
    loop {
        let seed = next.fetch_add(1, Ordering::Relaxed);
        if seed >= end {
            set(None);
            return report;
        }
        let start = Instant::now();
        set(Some((seed, start)));
        // What is recorded is compared now and then only, for it takes another game.
        let (kind, proof) = match caught(|| shot_of(seed)) {
            Ok((kind, shot)) => (kind, caught(|| prove(&shot, seed.is_multiple_of(8)))),
            Err(panic) => (0, Err(panic)),
        };
        let proof = proof.unwrap_or_else(Proof::panicked);
        report.add(seed, kind, &proof, start.elapsed());
        if !proof.faults.is_empty() {
            // At once, for who does not wait for the end.
            println!("seed {seed} failed: {} {}", CORPORA[kind].0, proof.faults[0].what);
            let failure = Failure { seed, kind, faults: proof.faults };
            failures.lock().expect("nobody panics with it").push(failure);
        }
    }
}

/// Says now and then how far it is, and ends everything if a shot hangs.
fn watch(next: &AtomicU64, end: u64, at: &[Mutex<Option<(u64, Instant)>>]) {
    let start = Instant::now();
    for second in 1_u64.. {
        // In short steps, for the end is waited for.
        for _ in 0..20 {
            thread::sleep(Duration::from_millis(50));
            let busy = at.iter().any(|at| at.lock().expect("nobody panics with it").is_some());
            if next.load(Ordering::Relaxed) >= end && !busy {
                return;
            }
        }
        for at in at {
            let at = *at.lock().expect("nobody panics with it");
            if let Some((seed, since)) = at
                && since.elapsed() > TOO_LONG
            {
                println!("seed {seed} hangs: scripts/soak 1 {seed}");
                println!("{}", json(&shot_of(seed).1));
                std::process::exit(1);
            }
        }
        if second.is_multiple_of(60) {
            let done = next.load(Ordering::Relaxed);
            println!("... at seed {done} of {end} after {:.0} s", start.elapsed().as_secs_f64());
        }
    }
}

fn json(shot: &Shot) -> String {
    compact(&write_shot(shot)).expect("a form is JSON")
}

/// Prints what failed, how to play it again, and the fewest balls with which the same
/// thing fails.
fn show(failure: &Failure) {
    let Failure { seed, kind, faults } = failure;
    println!("\nseed {seed}: scripts/soak 1 {seed}");
    for fault in faults {
        println!("  {}: {}", fault.what, fault.words);
    }
    let Ok((_, mut shot)) = caught(|| shot_of(*seed)) else { return };
    let fails = |shot: &Shot| proven(shot).faults.iter().any(|one| one.what == faults[0].what);
    let mut k = 0;
    while k < shot.balls.len() {
        let mut fewer = shot.clone();
        if !fewer.balls.remove(k).id.is_cue() && fails(&fewer) {
            shot = fewer;
        } else {
            k += 1;
        }
    }
    println!("  {}, with the fewest balls: {}", CORPORA[*kind].0, json(&shot));
}
