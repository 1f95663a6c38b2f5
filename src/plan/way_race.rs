//! Which of some ways to play a run clears most, by runs with the same luck.

use crate::error::Error;
use std::ops::Range;

/// After so many runs ways are dropped, and after the last the race is over (tuning choice:
/// a difference of 4 in 100 shows).
const ROUNDS: [u32; 5] = [64, 128, 256, 512, 1024];

/// So many standard errors behind the best a way is dropped, and so many ahead of it a way must
/// be to be taken instead of who looks one ball ahead (tuning choices: most ways that are
/// dropped would never come back, and one in forty that are no better is taken).
const BEHIND: f64 = 2.5;
const AHEAD: f64 = 2.0;

/// A way that can hardly be better than the plain ones by so much is dropped (tuning choice:
/// nobody would notice).
const MATTERS: f64 = 0.015;

/// A race of some ways. The first is that of who looks one ball ahead, the second that of who
/// only pots; these are left only for one that is surely better than both.
#[derive(Clone, Debug)]
pub struct Race {
    /// By way, which runs were cleared.
    cleared: Vec<Vec<bool>>,
    /// Those that still run.
    running: Vec<usize>,
}

/// What one is better than another by, on average over the runs that both played.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Gain {
    /// The mean of the paired differences.
    pub mean: f64,
    /// Its standard error.
    pub error: f64,
}

impl Gain {
    /// By how much more often `a` came off than `b`, run by run with the same luck.
    pub fn of(a: &[bool], b: &[bool]) -> Self {
        let n = a.len().min(b.len()).max(1) as f64;
        let (mut sum, mut differ) = (0.0, 0.0);
        for (a, b) in a.iter().zip(b) {
            sum += f64::from(u8::from(*a)) - f64::from(u8::from(*b));
            differ += f64::from(u8::from(a != b));
        }
        let mean = sum / n;
        Self { mean, error: ((differ / n - mean * mean).max(0.0) / n).sqrt() }
    }
}

impl Race {
    /// A race of so many ways, none of which has run yet.
    pub fn new(n_ways: usize) -> Self {
        Self { cleared: vec![Vec::new(); n_ways], running: (0..n_ways).collect() }
    }

    /// The ways that still run and the runs that they play next; `None` once it is over.
    pub fn next(&self) -> Option<(&[usize], Range<u32>)> {
        let done = self.n_runs();
        let end = ROUNDS.iter().copied().find(|end| *end > done)?;
        (self.running.len() > 1).then_some((&self.running, done..end))
    }

    /// Runs that each of those has played that still run.
    pub fn n_runs(&self) -> u32 {
        self.running.first().map_or(0, |way| self.cleared[*way].len() as u32)
    }

    /// Takes what came of the runs that were [`next`](Self::next), in their order: of each run
    /// a byte for each way that still runs, 1 if it was cleared so and else 0.
    ///
    /// # Errors
    /// [`Error::Malformed`] naming `bytes` if they are of other runs.
    pub fn take(&mut self, laps: &[u8]) -> Result<(), Error> {
        let n = self.next().map_or(0, |(ways, runs)| ways.len() * runs.len());
        if laps.len() != n || laps.iter().any(|lap| *lap > 1) {
            return Err(Error::malformed("bytes", "must be the runs that come next in the race"));
        }
        for (lap, way) in laps.iter().zip(self.running.iter().cycle()) {
            self.cleared[*way].push(*lap == 1);
        }
        let (best, plain) = (self.best(), self.plain());
        let stays = |way: &usize| {
            let (behind, ahead) = (self.gain(best, *way), self.gain(*way, plain));
            let matters = ahead.mean + BEHIND * ahead.error > MATTERS;
            behind.mean <= BEHIND * behind.error && (*way <= 1 || matters)
        };
        self.running = self.running.iter().copied().filter(stays).collect();
        Ok(())
    }

    /// The way that is taken, as far as is known.
    pub fn taken(&self) -> usize {
        let surer = |a: usize, b: usize| {
            let gain = self.gain(a, b);
            gain.mean > AHEAD * gain.error
        };
        let (best, plain) = (self.best(), self.plain());
        let is_sure = best > 1 && surer(best, 0) && surer(best, 1);
        if is_sure { best } else { plain }
    }

    /// How often the way with this number came off, of how many runs.
    pub fn tally(&self, way: usize) -> (u32, u32) {
        let runs = &self.cleared[way];
        (runs.iter().filter(|cleared| **cleared).count() as u32, runs.len() as u32)
    }

    /// What way `a` is better than `b` by, over the runs that both played.
    pub fn gain(&self, a: usize, b: usize) -> Gain {
        Gain::of(&self.cleared[a], &self.cleared[b])
    }

    /// Of the two that are plain the better.
    pub fn plain(&self) -> usize {
        usize::from(self.cleared.len() > 1 && self.gain(1, 0).mean > 0.0)
    }

    /// The one that comes off most often of those that run, the first of equals.
    fn best(&self) -> usize {
        let won = |way: usize| self.tally(way).0;
        let better = |best: usize, way: usize| if won(way) > won(best) { way } else { best };
        self.running.iter().copied().reduce(better).unwrap_or(0)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Plays a race in which the way with number `k` clears a run if `clears` says so.
    fn run(n_ways: usize, clears: impl Fn(usize, u32) -> bool) -> Race {
        let mut race = Race::new(n_ways);
        while let Some((ways, runs)) = race.next() {
            let laps: Vec<u8> = runs
                .flat_map(|run| ways.iter().map(move |way| (*way, run)))
                .map(|(way, run)| u8::from(clears(way, run)))
                .collect();
            race.take(&laps).expect("the runs that come next");
        }
        race
    }

    #[test]
    fn who_looks_one_ball_ahead_is_left_only_for_one_that_is_surely_better() {
        let by = |shares: [u32; 3]| {
            move |way: usize, run: u32| run.wrapping_mul(7919) % 1000 < shares[way]
        };
        let clear = run(3, by([400, 300, 600]));
        assert_eq!(clear.taken(), 2, "surely better");
        assert!(clear.n_runs() < 1024, "and that shows early: {}", clear.n_runs());
        assert_eq!(run(3, by([600, 300, 400])).taken(), 0, "the first is best");
        assert_eq!(run(3, by([300, 600, 400])).taken(), 1, "or the second");
        // Ahead in one run of a hundred and behind in nearly as many.
        let even = run(3, |way, run| match (way, run % 100) {
            (1, _) => false,
            (2, 0) => true,
            (0, 1) => run % 200 < 100,
            (_, k) => k > 50,
        });
        let gain = even.gain(2, 0);
        assert!(gain.mean > 0.0 && gain.mean < AHEAD * gain.error, "{gain:?}");
        assert_eq!(even.taken(), 0, "what may be luck changes nothing");
    }

    #[test]
    fn a_gain_is_paired() {
        let gain = Gain::of(&[true, true, false, true], &[true, false, false, false]);
        assert_eq!(gain, Gain { mean: 0.5, error: 0.25 }, "two of four, and how they spread");
        assert_eq!(Gain::of(&[true, false], &[true, false]).error, 0.0, "the same is the same");
    }

    #[test]
    fn runs_of_another_race_are_refused() {
        let mut race = Race::new(3);
        let error = race.take(&[1; 2 * 64]).expect_err("a way is missing");
        assert_eq!(error.field(), "bytes", "{error}");
        race.take(&[1; 3 * 63]).expect_err("a run is missing");
        race.take(&[2; 3 * 64]).expect_err("that is no run");
        race.take(&[1; 3 * 64]).expect("all that come next");
    }
}
