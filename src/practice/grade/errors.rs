//! The numbers of a grade: every error in the unit it is spoken of.

use super::legs::{Route, along, diamond, distance_to, length_of, mean_distance};
use super::matching::Anchor;
use crate::geometry::{angle_between, left_of, wrap_angle};
use crate::practice::CuePath;
use crate::table::{Rail, TableCard};
use glam::DVec2;
use std::f64::consts::PI;

/// A leg that moves along a rail by less than this share of its length runs
/// square to it: then nothing says which way along the rail is farther (tuning
/// choice, about two degrees).
const SQUARE: f64 = 0.03;

/// Everything a call got wrong, in numbers.
#[derive(Clone, Debug, PartialEq)]
pub struct Errors {
    /// Heading off the object ball; `None` where the call or the real path has
    /// no first leg.
    pub heading: Option<HeadingError>,
    /// Every real touch of a rail, and every called one that did not happen, in
    /// the order of the path.
    pub touches: Vec<TouchError>,
    /// Where the cue ball stopped.
    pub stop: StopError,
    /// Length of the path as a share of the real one, positive when the call is
    /// too long; `None` for a real path of no length. A call of straight legs
    /// is compared with the straight legs between the real nodes, a call with
    /// free bends with the real curve.
    pub length: Option<f64>,
    /// Length of the real path that `length` is a share of, m.
    pub real_length: f64,
    /// Mean distance of the two whole curves, in ball diameters: between
    /// matched nodes each is walked by share of its own length.
    pub curve: f64,
}

/// An error of the heading off the object ball.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct HeadingError {
    /// Angle at the ghost ball between the called and the real chord to the
    /// first touch or the stop, rad, not negative.
    pub angle: f64,
    /// To which side the call is off.
    pub side: HeadingSide,
    /// How far the real path turns away from the line of the shot, rad, not negative.
    pub turn: f64,
    /// The same of the call: negative across the line of the shot.
    pub called_turn: f64,
}

/// To which side of the real heading a call lies, seen from the line of the shot.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum HeadingSide {
    /// Turned farther away from the line of the shot.
    Wide,
    /// Turned less far away.
    Narrow,
    /// Across the line of the shot.
    Across,
}

/// What is wrong with one touch of a rail.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct TouchError {
    /// The rail.
    pub rail: Rail,
    /// Its number among the real touches of rails, from 1.
    pub real: Option<usize>,
    /// Its number among the called touches, from 1.
    pub called: Option<usize>,
    /// What is wrong.
    pub fault: TouchFault,
}

/// How a touch was missed.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum TouchFault {
    /// Called and met.
    Met {
        /// Error along the rail, diamonds: positive when the call is long, that
        /// is farther the way the real path travels along the rail.
        along: f64,
        /// Whether the real path travels along the rail at all; if it comes and
        /// goes squarely, `along` is positive the way diamonds are counted.
        travels: bool,
        /// Error of the drawn rebound, rad: positive when the called leg leaves
        /// the rail wider, that is turned farther from the rail's normal to the
        /// way the real path travels. `None` where a leg has no length.
        rebound: Option<f64>,
        /// The angle from the rail's normal at which the real path leaves, rad, positive
        /// the way it travels.
        leaves: f64,
        /// How far the real path comes along the rail from its last node on, diamonds.
        comes: f64,
    },
    /// Met but not called.
    LeftOut {
        /// Distance from the real touch to the called curve there, m.
        distance: f64,
    },
    /// Called but not met.
    NotTouched {
        /// Distance from the called touch to the real curve there, m.
        distance: f64,
    },
}

/// An error of the stop.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct StopError {
    /// Distance, ball diameters.
    pub balls: f64,
    /// Its part along the last real leg, ball diameters, positive when the call
    /// is long; 0 when that leg has no length.
    pub along: f64,
    /// Its part across that leg, ball diameters, positive when the call is to the left.
    pub across: f64,
}

impl StopError {
    /// Whether the stop is mainly long or short, and not off to a side (within
    /// 30 degrees of the last leg; a tuning choice).
    pub fn is_along(&self) -> bool {
        self.along.abs() >= 0.866 * self.balls && self.balls > 0.0
    }
}

/// Measures a matched call.
pub(super) fn measure(
    card: &TableCard,
    truth: &CuePath,
    real: &Route,
    called: &Route,
    anchors: &[Anchor],
) -> Errors {
    let diameter = 2.0 * card.ball.radius;
    let last_leg = real.chord(real.last() - 1).normalize_or_zero();
    let off = called.node(called.last()) - real.node(real.last());
    let (length, real_length) = if called.bends {
        (called.curve_length(), real.curve_length())
    } else {
        (called.chord_length(), real.chord_length())
    };
    Errors {
        heading: heading_error(truth.approach, real.chord(0), called.chord(0)),
        touches: touch_errors(card, real, called, anchors),
        stop: StopError {
            balls: off.length() / diameter,
            along: off.dot(last_leg) / diameter,
            across: off.dot(left_of(last_leg)) / diameter,
        },
        real_length,
        length: (real_length > 0.0).then(|| length / real_length - 1.0).filter(|r| r.is_finite()),
        curve: curve_error(real, called, anchors) / diameter,
    }
}

fn heading_error(approach: DVec2, real: DVec2, called: DVec2) -> Option<HeadingError> {
    if real == DVec2::ZERO || called == DVec2::ZERO {
        return None;
    }
    let (turn, called_turn) = (angle_between(approach, real), angle_between(approach, called));
    // A tenth of a degree off the line, ahead or straight back, is on no side of it.
    let aside = |turn: f64| turn.abs().min(PI - turn.abs()) > 0.002;
    let side = if turn * called_turn < 0.0 && aside(turn) && aside(called_turn) {
        HeadingSide::Across
    } else if called_turn.abs() >= turn.abs() {
        HeadingSide::Wide
    } else {
        HeadingSide::Narrow
    };
    let sign = if side == HeadingSide::Across { -1.0 } else { 1.0 };
    Some(HeadingError {
        angle: angle_between(real, called).abs(),
        side,
        turn: turn.abs(),
        called_turn: sign * called_turn.abs(),
    })
}

fn touch_errors(
    card: &TableCard,
    real: &Route,
    called: &Route,
    anchors: &[Anchor],
) -> Vec<TouchError> {
    let mut touches = vec![];
    for pair in anchors.windows(2) {
        let ((r, c), (next_r, next_c)) = (pair[0], pair[1]);
        touches.extend(met(card, real, called, (r, c)));
        touches.extend(left_out(real, called, pair));
        touches.extend((c + 1..next_c).filter_map(|node| {
            let distance = distance_to(real.piece(r, next_r), called.node(node));
            let fault = TouchFault::NotTouched { distance };
            Some(TouchError { rail: called.rail(node)?, real: None, called: Some(node), fault })
        }));
    }
    touches
}

fn left_out<'a>(
    real: &'a Route,
    called: &'a Route,
    pair: &'a [Anchor],
) -> impl Iterator<Item = TouchError> + 'a {
    let ((r, c), (next_r, next_c)) = (pair[0], pair[1]);
    (r + 1..next_r).filter_map(move |node| {
        let distance = distance_to(called.piece(c, next_c), real.node(node));
        let fault = TouchFault::LeftOut { distance };
        Some(TouchError { rail: real.rail(node)?, real: Some(node), called: None, fault })
    })
}

/// The error of a matched touch; `None` for the ghost ball.
fn met(card: &TableCard, real: &Route, called: &Route, (r, c): Anchor) -> Option<TouchError> {
    let rail = real.rail(r)?;
    let off = (called.node(c) - real.node(r)).dot(along(rail)) / diamond(card, rail);
    let (comes, leaves, called_leaves) = (real.chord(r - 1), real.chord(r), called.chord(c));
    let travel = travel(rail, comes, leaves);
    let rebound = (leaves != DVec2::ZERO && called_leaves != DVec2::ZERO).then(|| {
        let way = way(rail, [comes, leaves, called_leaves]);
        wrap_angle(rebound_angle(rail, called_leaves, way) - rebound_angle(rail, leaves, way))
    });
    let fault = TouchFault::Met {
        along: off * travel.unwrap_or(1.0),
        travels: travel.is_some(),
        rebound,
        leaves: rebound_angle(rail, leaves, way(rail, [comes, leaves, called_leaves])),
        comes: comes.dot(along(rail)) * travel.unwrap_or(1.0) / diamond(card, rail),
    };
    Some(TouchError { rail, real: Some(r), called: Some(c), fault })
}

/// Which way the real path travels along a rail: +1 the way its diamonds are
/// counted, else -1. The leg that comes decides, or, if it comes squarely, the
/// leg that leaves.
fn travel(rail: Rail, comes: DVec2, leaves: DVec2) -> Option<f64> {
    [comes, leaves].into_iter().find_map(|leg| {
        let part = leg.dot(along(rail));
        (part.abs() > SQUARE * leg.length()).then(|| sign_of(part))
    })
}

/// The side to which rebound angles are positive: the way of travel; if the
/// real path comes and leaves squarely, the side to which the call leaves, so
/// that it is wider whatever it does.
pub(super) fn way(rail: Rail, [comes, leaves, called_leaves]: [DVec2; 3]) -> f64 {
    travel(rail, comes, leaves).unwrap_or_else(|| sign_of(called_leaves.dot(along(rail))))
}

fn sign_of(value: f64) -> f64 {
    if value < 0.0 { -1.0 } else { 1.0 }
}

/// The angle of a leaving leg from the rail's normal, rad, positive the way of travel.
pub(super) fn rebound_angle(rail: Rail, leaves: DVec2, travel: f64) -> f64 {
    libm::atan2(leaves.dot(along(rail)) * travel, leaves.dot(rail.inward()))
}

/// Mean distance of the two curves, m.
fn curve_error(real: &Route, called: &Route, anchors: &[Anchor]) -> f64 {
    let blocks = anchors.windows(2).map(|pair| {
        let ((r, c), (next_r, next_c)) = (pair[0], pair[1]);
        let (piece, called_piece) = (real.piece(r, next_r), called.piece(c, next_c));
        (length_of(piece), mean_distance(piece, called_piece))
    });
    weighted_mean(&blocks.collect::<Vec<_>>())
}

/// The mean of the second numbers with the first as weights; with equal weights
/// if all are 0.
pub(super) fn weighted_mean(parts: &[(f64, f64)]) -> f64 {
    let total: f64 = parts.iter().map(|part| part.0).sum();
    if total > 0.0 {
        parts.iter().map(|(weight, value)| weight * value).sum::<f64>() / total
    } else {
        parts.iter().map(|part| part.1).sum::<f64>() / parts.len() as f64
    }
}
