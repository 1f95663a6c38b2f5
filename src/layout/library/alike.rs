//! Which items look alike: a set is to show ten different ones.

use crate::ball::BallId;
use crate::geometry::angle_between;
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

/// Legs within so many degrees of each other are parallel to the eye, and legs whose lengths
/// differ by less than this share of both together, for each leg, are as long (tuning choices:
/// ten pairs that players called twins were parallel to 13 degrees, and 0.08 to 0.13 a leg
/// apart).
const PARALLEL: f64 = 14.0;
const AS_LONG: f64 = 0.14;

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
    /// places, or runs as it does elsewhere. The larger `by` is, the more runs are alike.
    pub(super) fn are_like(&self, other: &Self, by: f64) -> bool {
        [(false, false), (true, false), (false, true), (true, true)].into_iter().any(
            |(along, across)| {
                let other = other.mirrored(along, across);
                self.begin_like(&other) || self.go_like(&other) || self.runs_like(&other, by)
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

    /// The same rails in the same order, the last perhaps missed by one of them, with legs that
    /// are parallel and about as long: what a player takes for the same path, slid along.
    fn runs_like(&self, other: &Self, by: f64) -> bool {
        let [fewer, more] =
            if self.rails.len() <= other.rails.len() { [self, other] } else { [other, self] };
        let n = fewer.rails.len();
        if !more.rails.starts_with(&fewer.rails) || more.rails.len() > n + n.min(1) {
            return false;
        }
        let legs = |places: &Self| -> Vec<DVec2> {
            places.path.windows(2).map(|pair| pair[1] - pair[0]).collect()
        };
        let [one, other] = [legs(fewer), legs(more)];
        let pairs = || one.iter().zip(&other);
        let sum = |of: fn(f64, f64) -> f64| -> f64 {
            pairs().map(|(a, b)| of(a.length(), b.length())).sum()
        };
        let n_legs = pairs().count() as f64;
        n_legs > 0.0
            && pairs().all(|(a, b)| degrees(angle_between(*a, *b)).abs() < PARALLEL * by)
            && sum(|a, b| (a - b).abs()) < AS_LONG * n_legs * by * sum(|a, b| a + b)
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
        assert!(one.are_like(&places(mirrored, at(card.length - 0.9, 0.55), &[], &[]), 1.0));
        let elsewhere = places(at(0.4, 0.3), at(1.3, 0.5), &[], &[]);
        assert!(!one.are_like(&elsewhere, 1.0), "the object ball lies elsewhere");
    }

    #[test]
    fn a_path_is_like_another_that_only_just_misses_a_rail() {
        let card = TableCard::of_size(TableSize::NineFoot);
        let short = [at(1.0, 0.6), at(2.5, 0.3), at(2.0, 0.1)];
        let long = [at(1.0, 0.7), at(2.5, 0.3), at(2.1, 0.03), at(1.9, 0.1)];
        let one = places(at(0.4, 0.3), at(1.0, 0.7), &short, &[Rail::Foot]);
        let rails = [Rail::Foot, Rail::Right];
        let other = places(at(0.9, 1.2), at(1.1, 0.8), &long, &rails);
        assert!(one.are_like(&other, 1.0), "the same way");
        assert!(one.are_like(&other.mirrored(true, true), 1.0), "mirrored as well");
        let turned: Vec<DVec2> =
            long.iter().map(|p| at(0.8 * card.width - p.y, p.x / 2.0)).collect();
        assert!(!one.are_like(&Places { path: turned, ..other }, 1.0), "another way");
    }

    #[test]
    fn the_same_run_slid_down_the_table_is_like_the_other() {
        let path = |by: f64| [at(0.5 + by, 0.6), at(0.4 + by, 0.03), at(0.2 + by, 0.9)];
        let rails = [Rail::Right];
        let one = places(at(1.0, 0.8), at(0.5, 0.6), &path(0.0), &rails);
        let slid = places(at(2.2, 0.4), at(1.7, 0.6), &path(1.2), &rails);
        assert!(one.are_like(&slid, 1.0), "the same run");
        let (way_on, on) = (vec![at(1.7, 0.6), at(1.6, 0.03), at(1.4, 0.9)], at(1.3, 0.5));
        let longer = Places {
            path: [way_on, vec![on]].concat(),
            rails: vec![Rail::Right, Rail::Left],
            ..slid.clone()
        };
        assert!(one.are_like(&longer, 1.0), "and a rail more");
        let [mut turned, mut short] = [slid.clone(), slid.clone()];
        turned.path[2] = at(2.1, 0.9);
        short.path[2] = at(1.55, 0.2);
        assert!(!one.are_like(&turned, 1.0), "another way off the rail");
        assert!(!one.are_like(&short, 1.0), "a short one");
        assert!(one.are_like(&short, 3.0), "unless much is called alike");
        assert!(!one.are_like(&Places { rails: vec![Rail::Left], ..slid }, 1.0), "another rail");
    }
}
