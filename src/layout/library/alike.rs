//! Which items look alike: a set is to show ten different ones.

use crate::ball::BallId;
use crate::practice::set::Meant;
use crate::table::{Rail, TableCard, TableSize};
use crate::units::degrees;
use glam::DVec2;

/// Places nearer than this are about the same, m (tuning choice, looked at: some three balls and a half).
const NEAR: f64 = 0.2;

/// Two paths that are no farther apart on average are the same to the eye, m (tuning choice,
/// looked at: four balls and a half; what was called a twin was up to 0.25 m apart).
const ALONG: f64 = 0.26;

/// Points of a path, from one end to the other, by which that is told (tuning choice).
const POINTS: usize = 33;

/// The cue ball as far from the object ball, to so many metres, and a cut that is so many
/// degrees off at most, make it the same stroke if it meets the same rails, wherever it is
/// played (tuning choices, looked at).
const SAME_WAY: f64 = 0.1;
const SAME_CUT: f64 = 15.0;

/// What an item is told by.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Places {
    /// The cue ball and the ball that it meets, m.
    pub balls: [DVec2; 2],
    /// The cut, rad, positive to the left.
    pub cut: f64,
    /// From where the cue ball meets the ball, by rails, to its stop, m; nothing where the
    /// path is not what the item is about.
    pub path: Vec<DVec2>,
    /// The rails that it meets then, in order.
    pub rails: Vec<Rail>,
}

impl Places {
    /// Those of a layout as it is meant to be played.
    pub(super) fn of(meant: &Meant) -> Self {
        let truth = &meant.truth;
        let touches = truth.touches.iter().map(|touch| touch.position);
        Self {
            path: std::iter::once(truth.ghost).chain(touches).chain([truth.stop]).collect(),
            rails: truth.rail_touches().map(|(rail, _)| rail).collect(),
            ..Self::of_balls(meant)
        }
    }

    /// Those of a layout that is about more than the first path.
    pub(super) fn of_balls(meant: &Meant) -> Self {
        let place = |id: BallId| {
            let ball = meant.shot.balls.iter().find(|ball| ball.id == id);
            ball.map_or(DVec2::ZERO, |ball| ball.position)
        };
        let (first, cut) = (meant.truth.first, meant.truth.cut());
        Self { balls: [place(BallId::CUE), place(first)], cut, ..Self::default() }
    }

    /// The same on the nine-foot table seen in a mirror, along the table, across, or both.
    fn mirrored(&self, along: bool, across: bool) -> Self {
        let card = TableCard::of_size(TableSize::NineFoot);
        let turned = |at: DVec2| {
            let x = if along { card.length - at.x } else { at.x };
            DVec2::new(x, if across { card.width - at.y } else { at.y })
        };
        let rail = |rail: &Rail| match rail {
            Rail::Head if along => Rail::Foot,
            Rail::Foot if along => Rail::Head,
            Rail::Left if across => Rail::Right,
            Rail::Right if across => Rail::Left,
            same => *same,
        };
        Self {
            balls: self.balls.map(turned),
            cut: if along == across { self.cut } else { -self.cut },
            path: self.path.iter().copied().map(turned).collect(),
            rails: self.rails.iter().map(rail).collect(),
        }
    }

    /// Whether another one, mirrored or not, has its balls or its path at about the same
    /// places, or is the same stroke played elsewhere.
    pub(super) fn are_like(&self, other: &Self) -> bool {
        [(false, false), (true, false), (false, true), (true, true)].into_iter().any(
            |(along, across)| {
                let other = other.mirrored(along, across);
                self.begin_like(&other) || self.go_like(&other) || self.are_struck_like(&other)
            },
        )
    }

    fn begin_like(&self, other: &Self) -> bool {
        (0..2).all(|k| self.balls[k].distance(other.balls[k]) < NEAR)
    }

    fn go_like(&self, other: &Self) -> bool {
        let (one, other) = (evenly_along(&self.path), evenly_along(&other.path));
        let apart: f64 = one.iter().zip(&other).map(|(a, b)| a.distance(*b)).sum();
        !one.is_empty() && !other.is_empty() && apart < ALONG * POINTS as f64
    }

    fn are_struck_like(&self, other: &Self) -> bool {
        let way = |places: &Self| places.balls[1] - places.balls[0];
        !self.path.is_empty()
            && self.rails == other.rails
            && way(self).distance(way(other)) < SAME_WAY
            && degrees(self.cut - other.cut).abs() < SAME_CUT
    }
}

/// Points along a path, each as far from the next; none along no path.
fn evenly_along(path: &[DVec2]) -> Vec<DVec2> {
    let legs: Vec<f64> = path.windows(2).map(|pair| pair[0].distance(pair[1])).collect();
    let length: f64 = legs.iter().sum();
    if legs.is_empty() {
        return Vec::new();
    }
    let at = |k: usize| {
        let mut left = length * k as f64 / (POINTS - 1) as f64;
        for (leg, pair) in legs.iter().zip(path.windows(2)) {
            if left <= *leg {
                return pair[0].lerp(pair[1], left / leg.max(f64::MIN_POSITIVE));
            }
            left -= leg;
        }
        path[legs.len()]
    };
    (0..POINTS).map(at).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    fn at(x: f64, y: f64) -> DVec2 {
        DVec2::new(x, y)
    }

    fn places(cue: DVec2, object: DVec2, path: &[DVec2], rails: &[Rail]) -> Places {
        Places { balls: [cue, object], cut: 0.5, path: path.to_vec(), rails: rails.to_vec() }
    }

    #[test]
    fn a_mirrored_layout_is_like_the_other_and_one_that_lies_elsewhere_is_not() {
        let card = TableCard::of_size(TableSize::NineFoot);
        let one = places(at(0.4, 0.3), at(0.9, 0.5), &[], &[]);
        let mirrored = at(card.length - 0.45, 0.3);
        assert!(one.are_like(&places(mirrored, at(card.length - 0.9, 0.55), &[], &[])));
        let elsewhere = places(at(0.4, 0.3), at(1.3, 0.5), &[], &[]);
        assert!(!one.are_like(&elsewhere), "the object ball lies elsewhere");
    }

    #[test]
    fn a_path_is_like_another_that_only_just_misses_a_rail() {
        let card = TableCard::of_size(TableSize::NineFoot);
        let short = [at(1.0, 0.6), at(2.5, 0.3), at(2.0, 0.1)];
        let long = [at(1.0, 0.7), at(2.5, 0.3), at(2.1, 0.03), at(1.9, 0.1)];
        let one = places(at(0.4, 0.3), at(1.0, 0.7), &short, &[Rail::Foot]);
        let rails = [Rail::Foot, Rail::Right];
        let other = places(at(0.9, 1.2), at(1.1, 0.8), &long, &rails);
        assert!(one.are_like(&other), "the same way");
        assert!(one.are_like(&other.mirrored(true, true)), "mirrored as well");
        let turned: Vec<DVec2> =
            long.iter().map(|p| at(0.8 * card.width - p.y, p.x / 2.0)).collect();
        assert!(!one.are_like(&Places { path: turned, ..other }), "another way");
    }

    #[test]
    fn the_same_stroke_slid_down_the_table_is_like_the_other() {
        let path = |by: f64| [at(0.5 + by, 0.6), at(0.4 + by, 0.03), at(0.2, 0.9)];
        let rails = [Rail::Right];
        let one = places(at(1.0, 0.8), at(0.5, 0.6), &path(0.0), &rails);
        let slid = places(at(2.2, 0.8), at(1.7, 0.6), &path(1.2), &rails);
        assert!(one.are_like(&slid), "the same stroke");
        let other = Places { cut: -0.5, ..slid.clone() };
        assert!(!one.are_like(&other), "the other cut");
        assert!(!one.are_like(&Places { rails: vec![Rail::Left], ..slid }), "another rail");
    }
}
