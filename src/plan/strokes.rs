//! The strokes that plans are made of.

/// Where the tip meets the cue ball, as fractions of the radius.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Tip {
    /// To the right.
    pub side: f64,
    /// Upward.
    pub height: f64,
}

const fn tip(side: f64, height: f64) -> Tip {
    Tip { side, height }
}

/// Tips from soft draw to follow, and with side (tuning choice: what a player tells
/// apart; finer ones are found from these).
pub const TIPS: [Tip; 11] = [
    tip(0.0, 0.0),
    tip(0.0, 0.35),
    tip(0.0, -0.35),
    tip(0.0, 0.17),
    tip(0.0, -0.17),
    tip(0.3, 0.15),
    tip(-0.3, 0.15),
    tip(0.3, -0.15),
    tip(-0.3, -0.15),
    tip(0.25, 0.3),
    tip(-0.25, 0.3),
];

/// Slowest and fastest stroke, m/s (tuning choice: faster is for the break).
const SPEEDS: (f64, f64) = (0.5, 4.5);

/// The speed with number `k` of `n`, evenly spaced in their logarithms, m/s.
pub fn speed_at(k: u8, n: u8) -> f64 {
    let share = f64::from(k) / f64::from(n.max(2) - 1);
    SPEEDS.0 * libm::pow(SPEEDS.1 / SPEEDS.0, share)
}
