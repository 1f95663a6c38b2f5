//! What many shots showed.

use crate::corpora::CORPORA;
use crate::proof::{MOST_EVENTS, MOST_EVENTS_FOR_EVER, MOST_GAIN, MOST_JUMP, MOST_OVERLAP, Proof};
use std::time::Duration;

/// The largest of something, and the seed of its shot.
#[derive(Clone, Copy, Default)]
struct Largest {
    value: f64,
    seed: u64,
}

impl Largest {
    fn see(&mut self, value: f64, seed: u64) {
        // Of equals the first seed counts, whichever thread was faster.
        if value > self.value || value == self.value && seed < self.seed {
            *self = Self { value, seed };
        }
    }
}

/// Sums over many shots.
#[derive(Clone, Default)]
pub struct Report {
    shots: u64,
    balls: u64,
    pocketed: u64,
    legs: u64,
    events: Vec<u32>,
    slippery: u64,
    of_kind: [u64; CORPORA.len()],
    most_events: Largest,
    most_slippery: Largest,
    most_legs: Largest,
    at_once: Largest,
    longest: Largest,
    slowest: Largest,
    overlap: Largest,
    cushion: Largest,
    hole: Largest,
    jump: Largest,
    gain: Largest,
}

impl Report {
    pub fn add(&mut self, seed: u64, kind: usize, proof: &Proof, took: Duration) {
        self.shots += 1;
        self.balls += proof.balls as u64;
        self.pocketed += proof.pocketed as u64;
        self.legs += proof.legs as u64;
        self.of_kind[kind] += 1;
        let events = proof.events as f64;
        if proof.slippery {
            self.slippery += 1;
            self.most_slippery.see(events, seed);
        } else {
            self.events.push(proof.events as u32);
            self.most_events.see(events, seed);
            self.longest.see(proof.duration, seed);
        }
        self.most_legs.see(proof.legs as f64, seed);
        self.at_once.see(proof.at_once as f64, seed);
        self.slowest.see(took.as_secs_f64(), seed);
        self.overlap.see(proof.overlap, seed);
        self.cushion.see(proof.cushion, seed);
        self.hole.see(proof.hole, seed);
        self.jump.see(proof.jump, seed);
        self.gain.see(proof.gain, seed);
    }

    pub fn merge(&mut self, other: Self) {
        self.shots += other.shots;
        self.balls += other.balls;
        self.pocketed += other.pocketed;
        self.legs += other.legs;
        self.slippery += other.slippery;
        self.events.extend(other.events);
        for (own, others) in self.of_kind.iter_mut().zip(other.of_kind) {
            *own += others;
        }
        for (own, others) in [
            (&mut self.most_events, other.most_events),
            (&mut self.most_slippery, other.most_slippery),
            (&mut self.most_legs, other.most_legs),
            (&mut self.at_once, other.at_once),
            (&mut self.longest, other.longest),
            (&mut self.slowest, other.slowest),
            (&mut self.overlap, other.overlap),
            (&mut self.cushion, other.cushion),
            (&mut self.hole, other.hole),
            (&mut self.jump, other.jump),
            (&mut self.gain, other.gain),
        ] {
            own.see(others.value, others.seed);
        }
    }

    pub fn print(mut self, took: Duration) {
        let seconds = took.as_secs_f64();
        let shots = self.shots.max(1) as f64;
        self.events.sort_unstable();
        let ended = self.events.len().max(1);
        let mean = self.events.iter().map(|n| f64::from(*n)).sum::<f64>() / ended as f64;
        let ninety_nine = self.events.get(99 * ended / 100).copied().unwrap_or(0);
        println!("{} shots in {seconds:.1} s, {:.0} a second", self.shots, shots / seconds);
        let kinds: Vec<String> =
            CORPORA.iter().zip(self.of_kind).map(|((name, _), n)| format!("{name} {n}")).collect();
        println!("  kinds            {}", kinds.join(", "));
        let share = 100.0 * self.pocketed as f64 / self.balls.max(1) as f64;
        println!(
            "  balls            {:.2} a shot, {share:.1} % pocketed",
            self.balls as f64 / shots
        );
        let Largest { value, seed } = self.most_events;
        println!(
            "  events           mean {mean:.1}, 99 % within {ninety_nine}, most {value} of {MOST_EVENTS} (seed {seed})"
        );
        let Largest { value, seed } = self.most_slippery;
        println!(
            "  slippery tables  {} shots, most events {value} of {MOST_EVENTS_FOR_EVER} (seed {seed})",
            self.slippery
        );
        let Largest { value, seed } = self.most_legs;
        println!(
            "  legs             mean {:.1}, most {value} (seed {seed})",
            self.legs as f64 / shots
        );
        let Largest { value, seed } = self.at_once;
        println!("  impacts at once  most {value} (seed {seed})");
        for (what, largest, unit, most) in [
            ("longest shot", self.longest, "s", None),
            ("slowest proof", self.slowest, "s", None),
            ("ball in ball", self.overlap, "m", Some(MOST_OVERLAP)),
            ("ball in cushion", self.cushion, "m", Some(MOST_OVERLAP)),
            ("ball over hole", self.hole, "m", Some(MOST_OVERLAP)),
            ("put right by", self.jump, "m", Some(MOST_JUMP)),
            ("energy gain", self.gain, "of the stroke", Some(MOST_GAIN)),
        ] {
            let most = most.map_or(String::new(), |most| format!(", allowed {most:e}"));
            let Largest { value, seed } = largest;
            let value = if value < 1e-3 { format!("{value:.2e}") } else { format!("{value:.2}") };
            println!("  {what:<16} {value} {unit}{most} (seed {seed})");
        }
    }
}
