//! A path as nodes and legs: the common form of a call and of what happened.
//!
//! What the grade asks for again and again is kept out of line, for size.

use crate::practice::{Call, CuePath};
use crate::table::{Rail, TableCard, diamonds_on};
use glam::DVec2;

/// Coordinates are kept within this, m: far beyond any table, and far from overflow.
const FARTHEST: f64 = 1e6;

/// At how many places along a piece two curves are compared.
const PLACES: usize = 64;

/// A path from the ghost ball to the stop. Its nodes are the ghost ball (0), the
/// touches of rails (1 to n) and the stop (n + 1).
#[derive(Clone, Debug, PartialEq)]
pub(super) struct Route {
    /// The touches of rails, in order.
    pub touches: Vec<(Rail, DVec2)>,
    /// The whole curve as a polyline, m.
    pub curve: Vec<DVec2>,
    /// Where each touch stands in the curve.
    places: Vec<usize>,
    /// Whether the curve has more corners than nodes.
    pub bends: bool,
}

impl Route {
    /// What was called, from the real ghost ball on.
    pub fn of_call(ghost: DVec2, call: &Call) -> Self {
        let mut route = Self::starting_at(ghost);
        for point in &call.points {
            match point.rail {
                Some(rail) => route.touch(rail, point.position),
                None => route.bend(point.position),
            }
        }
        route.bends = !call.points.iter().all(|point| point.rail.is_some());
        route.curve.push(tame(call.stop));
        route
    }

    /// What happened.
    pub fn of_truth(truth: &CuePath) -> Self {
        let mut route = Self::starting_at(truth.ghost);
        let mut samples = truth.path.iter().skip(1).peekable();
        for (rail, touch) in truth.rail_touches() {
            while let Some(before) = samples.next_if(|sample| sample.time < touch.time) {
                route.bend(before.position);
            }
            route.touch(rail, touch.position);
            while samples.next_if(|sample| sample.time <= touch.time).is_some() {}
        }
        for sample in samples {
            route.bend(sample.position);
        }
        route.bends = true;
        route.curve.push(tame(truth.stop));
        route
    }

    fn starting_at(ghost: DVec2) -> Self {
        Self { touches: vec![], curve: vec![tame(ghost)], places: vec![], bends: false }
    }

    fn touch(&mut self, rail: Rail, position: DVec2) {
        let position = tame(position);
        self.places.push(self.curve.len());
        self.touches.push((rail, position));
        self.curve.push(position);
    }

    fn bend(&mut self, position: DVec2) {
        self.curve.push(tame(position));
    }

    /// The number of the stop among the nodes; also the number of legs.
    pub fn last(&self) -> usize {
        self.touches.len() + 1
    }

    /// A node's place in the curve.
    fn place(&self, node: usize) -> usize {
        match node.checked_sub(1) {
            None => 0,
            Some(touch) => self.places.get(touch).copied().unwrap_or(self.curve.len() - 1),
        }
    }

    /// Where a node is, m.
    #[inline(never)]
    pub fn node(&self, node: usize) -> DVec2 {
        self.curve[self.place(node)]
    }

    /// From a node straight to the next one, m.
    pub fn chord(&self, node: usize) -> DVec2 {
        self.node(node + 1) - self.node(node)
    }

    /// The rail of a node that is a touch.
    pub fn rail(&self, node: usize) -> Option<Rail> {
        self.touches.get(node.checked_sub(1)?).map(|&(rail, _)| rail)
    }

    /// The part of the curve between two nodes, both included.
    pub fn piece(&self, from: usize, to: usize) -> &[DVec2] {
        &self.curve[self.place(from)..=self.place(to)]
    }

    /// Length of the straight legs, m.
    pub fn chord_length(&self) -> f64 {
        (0..self.last()).map(|node| self.chord(node).length()).sum()
    }

    /// Length of the curve, m.
    pub fn curve_length(&self) -> f64 {
        length_of(&self.curve)
    }
}

/// The unit vector along a rail, in the direction its diamonds are counted.
pub(super) fn along(rail: Rail) -> DVec2 {
    if rail.is_long() { DVec2::X } else { DVec2::Y }
}

/// Length of one diamond on a rail, m.
pub(super) fn diamond(card: &TableCard, rail: Rail) -> f64 {
    let length = if rail.is_long() { card.length } else { card.width };
    length / diamonds_on(rail)
}

fn tame(point: DVec2) -> DVec2 {
    point.clamp(DVec2::splat(-FARTHEST), DVec2::splat(FARTHEST))
}

/// Length of a polyline, m.
#[inline(never)]
pub(in crate::practice) fn length_of(line: &[DVec2]) -> f64 {
    line.windows(2).map(|pair| pair[0].distance(pair[1])).sum()
}

/// Distance of `point` from a polyline of one point or more, m.
#[inline(never)]
pub(super) fn distance_to(line: &[DVec2], point: DVec2) -> f64 {
    let ends = line.iter().map(|corner| corner.distance(point));
    let between = line.windows(2).filter_map(|pair| {
        let (start, span) = (pair[0] - point, pair[1] - pair[0]);
        let share = -start.dot(span) / span.length_squared();
        // A segment of no length gives no share, and its ends are looked at anyway.
        (0.0..=1.0).contains(&share).then(|| (start + span * share).length())
    });
    ends.chain(between).fold(f64::INFINITY, f64::min)
}

/// Mean distance of two polylines, each walked by share of its own length, m.
pub(super) fn mean_distance(one: &[DVec2], other: &[DVec2]) -> f64 {
    // Seen from one of their points, mirrored lines give the same numbers.
    let origin = one[0];
    let (one, other) = (places_along(one, origin), places_along(other, origin));
    let sum: f64 = one.iter().zip(&other).map(|(a, b)| a.distance(*b)).sum();
    sum / PLACES as f64
}

/// The middles of [`PLACES`] equal parts of a polyline, seen from `origin`.
fn places_along(line: &[DVec2], origin: DVec2) -> Vec<DVec2> {
    let part = length_of(line) / PLACES as f64;
    let mut corner = 0;
    let mut passed = 0.0;
    (0..PLACES)
        .map(|k| {
            let wanted = (k as f64 + 0.5) * part;
            while corner + 2 < line.len()
                && passed + line[corner].distance(line[corner + 1]) < wanted
            {
                passed += line[corner].distance(line[corner + 1]);
                corner += 1;
            }
            let from = line[corner] - origin;
            let Some(&to) = line.get(corner + 1) else { return from };
            let span = to - line[corner];
            let length = span.length();
            let share = if length > 0.0 { ((wanted - passed) / length).min(1.0) } else { 0.0 };
            from + span * share
        })
        .collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::practice::CallPoint;

    #[test]
    fn free_points_bend_the_curve_and_are_no_nodes() {
        let free = CallPoint { position: DVec2::new(1.0, 0.5), rail: None };
        let foot = CallPoint { position: DVec2::new(2.0, 0.5), rail: Some(Rail::Foot) };
        let call = Call { points: vec![free, foot], stop: DVec2::new(1.0, 1.0) };
        let route = Route::of_call(DVec2::ZERO, &call);
        assert_eq!(route.last(), 2, "ghost ball, one touch, stop");
        assert_eq!(route.chord(0), DVec2::new(2.0, 0.5), "straight to the touch");
        assert_eq!(route.piece(0, 1).len(), 3, "by way of the bend");
        assert_eq!(route.node(2), call.stop, "the last node");
        assert_eq!((route.rail(0), route.rail(1)), (None, Some(Rail::Foot)), "only touches");
        assert!(route.bends, "and the route knows it");
    }

    #[test]
    fn parallel_lines_stay_as_far_apart_as_they_are() {
        let one = [DVec2::ZERO, DVec2::new(0.2, 0.0), DVec2::new(3.0, 0.0)];
        let other = [DVec2::new(0.0, 0.25), DVec2::new(3.0, 0.25)];
        assert!((mean_distance(&one, &other) - 0.25).abs() < 1e-12, "a quarter of a metre");
        let point = [DVec2::new(1.5, 0.0)];
        let mean = mean_distance(&other[..1], &point);
        assert!((mean - other[0].distance(point[0])).abs() < 1e-12, "points have no length");
    }

    #[test]
    fn the_nearest_place_may_lie_between_corners() {
        let line = [DVec2::ZERO, DVec2::X, DVec2::X, DVec2::new(1.0, 1.0)];
        assert_eq!(distance_to(&line, DVec2::new(0.5, -0.25)), 0.25, "below the first part");
        assert_eq!(distance_to(&line, DVec2::new(1.0, 3.0)), 2.0, "beyond the end");
        assert_eq!(distance_to(&line[..1], DVec2::new(0.0, 2.0)), 2.0, "a single point");
    }
}
