//! What a hand makes of a standard stroke, by the windows alone.
//!
//! The errors of a hand are a point of five independent normal coordinates. All of them
//! but the speed's turn the ball on, each by its own amount; so the coordinates are turned
//! until one runs along that direction. Along it, all others fixed, the strokes that send
//! the ball on into a window are an interval, whose ends are solved for and whose share is
//! known exactly; only the mean over the others is taken at points that fill their space.

use super::aim::{Aim, clipped};
use super::answer::turn;
use super::window::PotWindow;
use crate::geometry::wrap_angle;
use crate::normal::{below, quantile};
use crate::physics::Stroke;
use crate::shot::hand::Wobble;
use crate::shot::spread::spread_evenly;
use arrayvec::ArrayVec;

/// What lies farther out, in standard deviations, plays no part.
pub(super) const FAR: f64 = 5.0;

/// Over all steps of the speed the chance may change by so much in each without that step
/// being halved (tuning choice).
const CHANGE: f64 = 0.012;

/// Step with which slopes of angles are found, rad.
const STEP: f64 = 1e-3;

/// Strokes of which the errors fill four intervals at the most.
pub(super) type Intervals = ArrayVec<[f64; 2], 4>;

/// The errors of one standard stroke, seen along the direction that turns the ball on.
pub(super) struct Errors<'a> {
    pub aim: &'a Aim<'a>,
    /// That direction, by the errors of direction, side, height and elevation.
    along: [f64; 4],
    /// How the ball on turns along it, and with the error of the speed, rad for each
    /// standard deviation.
    slope: f64,
    by_speed: f64,
    /// How the stroke itself turns the ball on, rad.
    turn: f64,
    /// Where on the line the ball on is all but missed.
    ends: [f64; 2],
}

/// The errors across a line, in standard deviations: of the speed, and three more.
pub(super) type Across = [f64; 4];

/// The line of this share of the speeds, and with this number of a series that fills the
/// space of the other errors across it evenly; with one more number from 0 to 1 that does.
pub(super) fn line_across(number: u32, speed: f64) -> (Across, f64) {
    let [one, other, third, more] = spread_evenly(number);
    ([speed, one, other, third].map(|share| quantile(share.clamp(1e-5, 1.0 - 1e-5))), more)
}

impl<'a> Errors<'a> {
    /// `None` if the stroke does not meet the ball on.
    pub fn new(aim: &'a Aim<'a>) -> Option<Self> {
        let mut errors = Self {
            aim,
            along: [1.0, 0.0, 0.0, 0.0],
            slope: 0.0,
            by_speed: 0.0,
            turn: 0.0,
            ends: [0.0; 2],
        };
        errors.turn = errors.turn_of(&aim.stroke)?;
        // Differences over half a standard deviation to that side on which there is one.
        let slope = |of: fn(f64) -> Wobble| {
            [0.5, -0.5].into_iter().find_map(|half| {
                let turned = errors.turn_of(&errors.struck(&of(half)))?;
                Some((turned - errors.turn) / half)
            })
        };
        let parts = [
            slope(|azimuth| Wobble { azimuth, ..Wobble::default() }),
            slope(|side| Wobble { side, ..Wobble::default() }),
            slope(|height| Wobble { height, ..Wobble::default() }),
            if aim.stroke.elevation > 0.0 {
                slope(|elevation| Wobble { elevation, ..Wobble::default() })
            } else {
                None
            },
        ]
        .map(|part| part.unwrap_or(0.0));
        let by_speed = slope(|speed| Wobble { speed, ..Wobble::default() }).unwrap_or(0.0);
        let size = parts.iter().map(|part| part * part).sum::<f64>().sqrt();
        if parts[0] >= 0.0 || size <= 0.0 {
            // A hit so thin that neither side of it meets the ball on.
            return None;
        }
        errors.along = parts.map(|part| -part / size);
        (errors.slope, errors.by_speed) = (-size, by_speed);
        // How the cue ball's way turns with the ball on, and along the line.
        let way = aim.way_to(errors.turn);
        let swing = -size * wrap_angle(aim.way_to(errors.turn + STEP) - way) / STEP;
        let (full, thinnest) = aim.thinnest();
        errors.ends = [-thinnest, thinnest].map(|aside| wrap_angle(full + aside - way) / swing);
        Some(errors)
    }

    fn turn_of(&self, stroke: &Stroke) -> Option<f64> {
        let Aim { map, from, object, windows, .. } = self.aim;
        turn(map.arena.card(), *from, *object, stroke, windows.line).map(|(turn, _)| turn)
    }

    fn struck(&self, wobble: &Wobble) -> Stroke {
        self.aim.map.hand.strike(&self.aim.stroke, wobble, self.aim.awkward)
    }

    /// The stroke `sigmas` along the line.
    pub fn at(&self, sigmas: f64, across: &Across) -> Stroke {
        let [speed, rest @ ..] = across;
        // The reflection that takes the first axis to the line.
        let mirror = [1.0 - self.along[0], -self.along[1], -self.along[2], -self.along[3]];
        let point = [sigmas, rest[0], rest[1], rest[2]];
        let dot = |a: &[f64; 4], b: &[f64; 4]| a.iter().zip(b).map(|(a, b)| a * b).sum::<f64>();
        let square = dot(&mirror, &mirror);
        let share = if square > 0.0 { 2.0 * dot(&mirror, &point) / square } else { 0.0 };
        let [azimuth, side, height, elevation] =
            std::array::from_fn(|k| point[k] - share * mirror[k]);
        self.struck(&Wobble { azimuth, elevation, speed: *speed, side, height })
    }

    /// The intervals of the line on which the ball on falls.
    pub fn intervals(&self, across: &Across) -> Intervals {
        let one = |window: &PotWindow| {
            let [low, high] = self.met(window, across)?;
            // What hides the ball on hides a part of the ways that lead to it.
            let [right, left] = window.usual();
            let from = self.aim.way_to(left);
            let width = wrap_angle(self.aim.way_to(right) - from);
            let seen = clipped(self.aim.map, self.aim.from, [from, from + width])?;
            Some(seen.map(|way| low + (high - low) * (way - from) / width))
        };
        self.aim.windows.all.iter().filter_map(one).take(4).collect()
    }

    /// The strokes of a line that send the ball on into a window.
    fn met(&self, window: &PotWindow, across: &Across) -> Option<[f64; 2]> {
        let ends = [1, 0].map(|side| self.solve(window, side, across));
        let [low, high] = ends.map(|(sigmas, _)| sigmas);
        if low >= high || low > FAR || high < -FAR {
            return None;
        }
        if ends.iter().all(|(_, is_edge)| *is_edge) {
            return Some([low, high]);
        }
        // So thin a hit is slow, too, and the window then narrower, or none.
        let is_met = |sigmas: f64| {
            let stroke = self.at(sigmas, across);
            let past = [0, 1].map(|side| self.aim.past(&stroke, window, side));
            matches!(past, [Some(right), Some(left)] if right > 0.0 && left < 0.0)
        };
        let inside =
            (1..8).map(|k| low + (high - low) * f64::from(k) / 8.0).find(|s| is_met(*s))?;
        Some(ends.map(|(end, is_edge)| {
            let (mut within, mut without) = (inside, end);
            if is_edge || is_met(end) {
                return end;
            }
            for _ in 0..8 {
                let half = 0.5 * (within + without);
                if is_met(half) { within = half } else { without = half }
            }
            within
        }))
    }

    /// Where on the line the ball on goes along the edge, or else the thinnest hit on that
    /// side, and which of both.
    fn solve(&self, window: &PotWindow, side: usize, across: &Across) -> (f64, bool) {
        let bounded = |sigmas: f64| sigmas.max(self.ends[0]).min(self.ends[1]);
        let past = |sigmas| self.aim.past(&self.at(sigmas, across), window, side);
        let guess = self.turn + self.by_speed * across[0] - window.usual()[side];
        let (mut sigmas, mut slope) = (bounded(-guess / self.slope), self.slope);
        let mut off = past(sigmas);
        let mut is_near = false;
        for _ in 0..8 {
            let Some(here) = off else {
                // Past the ball on: nearer to what is aimed.
                sigmas *= 0.7;
                off = past(sigmas);
                continue;
            };
            let step = here / slope;
            let next = bounded(sigmas - step);
            if next == sigmas {
                return (next, false);
            }
            if step.abs() < if is_near { 0.05 } else { 0.01 } {
                return (next, true);
            }
            let Some(there) = past(next) else {
                slope *= 2.0;
                continue;
            };
            let secant = (there - here) / (next - sigmas);
            if secant < 0.0 {
                (slope, is_near) = (secant, true);
            }
            (sigmas, off) = (next, Some(there));
        }
        (sigmas, false)
    }

    /// The chance by the windows when the speed, and what lies across the line, is right.
    pub fn rough_chance(&self) -> f64 {
        share(&self.intervals(&[0.0; 4]))
    }

    /// The chance by the windows: the mean over lines, in so many even steps of the speed's
    /// share, which are halved where the chance changes.
    ///
    /// Halving where one line differs from the next would pass over rare lines, so it is
    /// done along lines with no other error; what others change is taken at even steps.
    pub fn chance(&self, n_steps: u32) -> f64 {
        let plain = |speed: f64| {
            share(&self.intervals(&[quantile(speed.clamp(1e-5, 1.0 - 1e-5)), 0.0, 0.0, 0.0]))
        };
        let n = f64::from(n_steps);
        let changed = |k: u32, plain: f64| {
            let (across, _) = line_across(k, f64::from(k) / n);
            share(&self.intervals(&across)) - plain
        };
        let mut last = plain(0.0);
        let mut sum = 0.0;
        for k in 1..=n_steps {
            let step = [k - 1, k].map(|k| f64::from(k) / n);
            let next = plain(step[1]);
            sum += between(step, [last, next], CHANGE / n, &plain);
            if k < n_steps {
                sum += changed(k, next) / n;
            }
            last = next;
        }
        sum.clamp(0.0, 1.0)
    }
}

/// The integral of a chance over a step of the speed's share, which is halved until the
/// chance hardly changes.
pub(super) fn between(
    [from, to]: [f64; 2],
    [one, other]: [f64; 2],
    least: f64,
    at: &dyn Fn(f64) -> f64,
) -> f64 {
    if (to - from) * (other - one).abs() < least {
        return 0.5 * (to - from) * (one + other);
    }
    let (half, middle) = (0.5 * (from + to), at(0.5 * (from + to)));
    between([from, half], [one, middle], least, at)
        + between([half, to], [middle, other], least, at)
}

/// The share of a line's strokes that lie in the intervals.
pub(super) fn share(intervals: &[[f64; 2]]) -> f64 {
    let of = |[low, high]: &[f64; 2]| (below(*high) - below(*low)).max(0.0);
    intervals.iter().map(of).sum::<f64>().min(1.0)
}
