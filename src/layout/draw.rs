//! Numbers drawn by index: the same seed, level and attempt give the same numbers
//! on every engine, in whatever order attempts are made.

use rand_chacha::ChaCha8Rng;
use rand_chacha::rand_core::{Rng, SeedableRng};

/// The numbers of one attempt.
pub(super) struct Draw(ChaCha8Rng);

impl Draw {
    /// The numbers of attempt `attempt` at a deal.
    pub fn new(seed: u32, level: u8, attempt: u32) -> Self {
        let mut rng = ChaCha8Rng::seed_from_u64(u64::from(seed));
        rng.set_stream(u64::from(level) << 32 | u64::from(attempt));
        Self(rng)
    }

    /// Even in `low..high`.
    pub fn within(&mut self, low: f64, high: f64) -> f64 {
        let share = (self.0.next_u64() >> 11) as f64 / (1_u64 << 53) as f64;
        low + (high - low) * share
    }

    /// Even in `0..n`.
    pub fn below(&mut self, n: u32) -> u32 {
        (self.within(0.0, f64::from(n)) as u32).min(n - 1)
    }

    /// True with this probability.
    pub fn chance(&mut self, share: f64) -> bool {
        self.within(0.0, 1.0) < share
    }
}
