//! The mark: errors weighed against tolerances. What it promises, and why it is
//! made of these terms, is told in the module above.

use super::errors::weighted_mean;
use super::legs::{Route, along, diamond, distance_to, length_of, mean_distance};
use super::matching::Anchor;
use crate::geometry::angle_between;
use crate::practice::level;
use crate::table::TableCard;
use glam::DVec2;
use std::f64::consts::PI;

const HEADING_WEIGHT: f64 = 3.0;
const RAIL_WEIGHT: f64 = 1.5;
const REBOUND_WEIGHT: f64 = 1.0;
const STOP_WEIGHT: f64 = 4.0;
const CURVE_WEIGHT: f64 = 2.0;

/// What naming a rail in the right order is worth, as a share of its touch.
const NAMED: f64 = 0.2;

/// The most that a touch left out can keep.
const LEFT_OUT: f64 = 0.7;

/// What a rail that was called and not touched leaves of the mark: from far off,
/// and how much more from next to the path.
const NOT_TOUCHED: (f64, f64) = (0.80, 0.15);

/// Shorter legs than this many balls say little about an angle.
const TELLING_BALLS: f64 = 4.0;

/// Errors that halve the quality of their term.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Tolerances {
    /// Heading off the object ball, rad.
    pub heading: f64,
    /// Along a rail, diamonds, at the first touch. Later touches inherit the
    /// errors before them: at the k-th touch it is larger by the root of k, as
    /// independent errors add up.
    pub rail: f64,
    /// Rebound as seen from the real touch, rad; grows like `rail`.
    pub rebound: f64,
    /// Stop, ball diameters,
    pub stop: f64,
    /// and what is added to it, as a share of the real path's length.
    pub stop_share: f64,
    /// Mean error of the legs' ends, ball diameters,
    pub curve: f64,
    /// and what is added to it, as a share of the real path's length.
    pub curve_share: f64,
}

/// The tolerances of level 4.
///
/// A tuning choice, by two calls: one that is off by 4 degrees of heading, a
/// third of a diamond at each of three rails and two and a half balls at the stop
/// should get about two thirds of the mark; one that is off by 10 degrees on a
/// path of 60 cm, and so by two balls at the stop, about a third.
pub const REFERENCE: Tolerances = Tolerances {
    heading: radians_of(6.0),
    rail: 0.5,
    rebound: radians_of(8.0),
    stop: 1.5,
    stop_share: 0.04,
    curve: 0.75,
    curve_share: 0.02,
};

const fn radians_of(degrees: f64) -> f64 {
    degrees * (PI / 180.0)
}

impl Tolerances {
    /// The tolerances of a level, 1 to 6: all larger or smaller by its factor.
    pub fn at_level(&self, number: u8) -> Self {
        let factor = level(number).tolerance;
        Self {
            heading: self.heading * factor,
            rail: self.rail * factor,
            rebound: self.rebound * factor,
            stop: self.stop * factor,
            stop_share: self.stop_share * factor,
            curve: self.curve * factor,
            curve_share: self.curve_share * factor,
        }
    }

    /// By how much the tolerances of a touch are larger, from its number.
    fn at_touch(number: usize) -> f64 {
        (number as f64).sqrt()
    }
}

/// What a term of the mark is about. Touches are numbered from 1.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Subject {
    /// The heading off the object ball.
    Heading,
    /// A real touch of a rail.
    Rail(usize),
    /// How the ball left it.
    Rebound(usize),
    /// The stop.
    Stop,
    /// The ends of all legs together.
    Curve,
}

#[derive(Clone, Copy, Debug, PartialEq)]
struct Term {
    subject: Subject,
    weight: f64,
    quality: f64,
}

/// A mark and what made it.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct Mark {
    /// 0 to 100.
    pub value: f64,
    terms: Vec<Term>,
    /// Called touches that did not happen, by number, and what each leaves.
    factors: Vec<(usize, f64)>,
}

impl Mark {
    /// Marks a matched call.
    pub fn of(
        card: &TableCard,
        real: &Route,
        called: &Route,
        anchors: &[Anchor],
        tolerances: &Tolerances,
    ) -> Self {
        let diameter = 2.0 * card.ball.radius;
        let balls = real.curve_length() / diameter;
        let telling = |chord: DVec2| (chord.length() / (TELLING_BALLS * diameter)).min(1.0);

        let mut terms = vec![Term {
            subject: Subject::Heading,
            weight: HEADING_WEIGHT * telling(real.chord(0)),
            quality: quality(
                angle_seen(real.node(0), real.node(1), called.node(1)),
                tolerances.heading,
            ),
        }];
        for node in 1..real.last() {
            let answer = anchors.iter().find(|anchor| anchor.0 == node).map(|anchor| anchor.1);
            let (rail, rebound) = match answer {
                Some(touch) => met(card, real, called, (node, touch), tolerances),
                None => (left_out(card, real, called, anchors, node, tolerances), 0.0),
            };
            terms.push(Term { subject: Subject::Rail(node), weight: RAIL_WEIGHT, quality: rail });
            let weight = REBOUND_WEIGHT * telling(real.chord(node));
            terms.push(Term { subject: Subject::Rebound(node), weight, quality: rebound });
        }
        let stop = called.node(called.last()).distance(real.node(real.last())) / diameter;
        terms.push(Term {
            subject: Subject::Stop,
            weight: STOP_WEIGHT,
            quality: quality(stop, tolerances.stop + tolerances.stop_share * balls),
        });
        let curve = ends_error(real, called, anchors) / diameter;
        terms.push(Term {
            subject: Subject::Curve,
            weight: CURVE_WEIGHT,
            quality: quality(curve, tolerances.curve + tolerances.curve_share * balls),
        });

        let factors = not_touched(card, real, called, anchors, tolerances);
        let weights: f64 = terms.iter().map(|term| term.weight).sum();
        let earned: f64 = terms.iter().map(|term| term.weight * term.quality).sum();
        let left: f64 = factors.iter().map(|factor| factor.1).product();
        // A perfect call sums the same numbers twice, so the quotient is exactly 1.
        Self { value: 100.0 * (earned / weights) * left, terms, factors }
    }

    /// How many points of the mark a subject cost. Out of line, for size.
    #[inline(never)]
    pub fn loss(&self, subject: Subject) -> f64 {
        let weights: f64 = self.terms.iter().map(|term| term.weight).sum();
        let term = self.terms.iter().find(|term| term.subject == subject);
        term.map_or(0.0, |term| 100.0 * term.weight * (1.0 - term.quality) / weights)
    }

    /// How many points a called touch cost that did not happen.
    pub fn loss_of_extra(&self, called: usize) -> f64 {
        let factor = self.factors.iter().find(|factor| factor.0 == called);
        factor.map_or(0.0, |factor| self.value * (1.0 / factor.1 - 1.0))
    }
}

/// 1 without error, one half at the tolerance, toward 0 beyond.
fn quality(error: f64, tolerance: f64) -> f64 {
    let ratio = error / tolerance;
    1.0 / (1.0 + ratio * ratio)
}

/// The angle between two places seen from `apex`, rad; pi if the called one
/// stands at the apex, which is no direction at all.
fn angle_seen(apex: DVec2, real: DVec2, called: DVec2) -> f64 {
    if called == apex { PI } else { angle_between(real - apex, called - apex).abs() }
}

/// Qualities of a matched touch and of its rebound.
fn met(
    card: &TableCard,
    real: &Route,
    called: &Route,
    (r, c): Anchor,
    tolerances: &Tolerances,
) -> (f64, f64) {
    let grown = Tolerances::at_touch(r);
    let rail = real.rail(r).map_or(0.0, |rail| {
        let off = (called.node(c) - real.node(r)).dot(along(rail)).abs();
        quality(off / diamond(card, rail), tolerances.rail * grown)
    });
    let angle = angle_seen(real.node(r), real.node(r + 1), called.node(c + 1));
    (1.0 - (1.0 - NAMED) * (1.0 - rail), quality(angle, tolerances.rebound * grown))
}

/// Quality of a real touch that was not called.
fn left_out(
    card: &TableCard,
    real: &Route,
    called: &Route,
    anchors: &[Anchor],
    node: usize,
    tolerances: &Tolerances,
) -> f64 {
    let block = anchors.windows(2).find(|pair| pair[0].0 < node && node < pair[1].0);
    let (Some(block), Some(rail)) = (block, real.rail(node)) else { return 0.0 };
    let distance = distance_to(called.piece(block[0].1, block[1].1), real.node(node));
    let tolerance = tolerances.rail * Tolerances::at_touch(node);
    LEFT_OUT * quality(distance / diamond(card, rail), tolerance)
}

/// What every called touch leaves that did not happen.
fn not_touched(
    card: &TableCard,
    real: &Route,
    called: &Route,
    anchors: &[Anchor],
    tolerances: &Tolerances,
) -> Vec<(usize, f64)> {
    let mut factors = vec![];
    for block in anchors.windows(2) {
        for node in block[0].1 + 1..block[1].1 {
            let Some(rail) = called.rail(node) else { continue };
            let distance = distance_to(real.piece(block[0].0, block[1].0), called.node(node));
            let tolerance = tolerances.rail * Tolerances::at_touch(node);
            let near = quality(distance / diamond(card, rail), tolerance);
            factors.push((node, NOT_TOUCHED.0 + NOT_TOUCHED.1 * near));
        }
    }
    factors
}

/// The mean error of the legs' ends, m: between touches that match without
/// others between them the most that straight legs can differ on average.
fn ends_error(real: &Route, called: &Route, anchors: &[Anchor]) -> f64 {
    let blocks = anchors.windows(2).map(|pair| {
        let ((r, c), (next_r, next_c)) = (pair[0], pair[1]);
        let piece = real.piece(r, next_r);
        let start = called.node(c).distance(real.node(r));
        let end = called.node(next_c).distance(real.node(next_r));
        let mut error = (start + end) / 2.0;
        if (next_r - r, next_c - c) != (1, 1) {
            error = error.max(mean_distance(piece, called.piece(c, next_c)));
        }
        (length_of(piece), error)
    });
    weighted_mean(&blocks.collect::<Vec<_>>())
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::units::radians;

    #[test]
    fn quality_is_one_half_at_the_tolerance() {
        assert_eq!(quality(0.0, 3.0), 1.0, "no error");
        assert_eq!(quality(3.0, 3.0), 0.5, "at the tolerance");
        assert!(quality(1e9, 3.0) > 0.0 && quality(1e9, 3.0) < 1e-9, "far beyond");
    }

    #[test]
    fn an_angle_without_a_direction_is_the_worst() {
        assert_eq!(angle_seen(DVec2::ONE, DVec2::X, DVec2::ONE), PI, "at the apex");
        let quarter = angle_seen(DVec2::ZERO, DVec2::X, DVec2::Y);
        assert!((quarter - radians(90.0)).abs() < 1e-15, "a quarter turn: {quarter}");
    }

    #[test]
    fn levels_scale_every_tolerance() {
        assert_eq!(REFERENCE.at_level(4), REFERENCE, "level 4 is the reference");
        let (easy, strict) = (REFERENCE.at_level(1), REFERENCE.at_level(6));
        assert!((easy.heading - radians(12.0)).abs() < 1e-15, "twice six degrees");
        assert!(strict.stop_share < easy.stop_share, "a share is a tolerance too");
        assert!(strict.curve < REFERENCE.curve && REFERENCE.rebound < easy.rebound, "all of them");
    }
}
