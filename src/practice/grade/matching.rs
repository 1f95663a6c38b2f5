//! Which called touch answers to which real one.

use super::legs::{Route, along, diamond};
use crate::table::TableCard;

/// A pair of nodes, real and called, that answer to each other.
pub(super) type Anchor = (usize, usize);

/// Matches the touches of two routes: as many as possible, with equal rails and
/// in order (a longest common subsequence); among equals the least sum of
/// errors along the rails.
///
/// The ghost balls come first and the stops last, so that every two neighbours
/// bound a part of the path. With the same rails on both sides all touches
/// match, wherever they are.
pub(super) fn anchors(card: &TableCard, real: &Route, called: &Route) -> Vec<Anchor> {
    let (n_real, n_called) = (real.touches.len(), called.touches.len());
    let error = |r: usize, c: usize| {
        let ((rail, there), (_, here)) = (real.touches[r], called.touches[c]);
        (here - there).dot(along(rail)).abs() / diamond(card, rail)
    };

    // best[r][c]: how many of the touches from r and c on match, at what cost.
    let mut best = vec![vec![(0_usize, 0.0_f64); n_called + 1]; n_real + 1];
    let better = |a: (usize, f64), b: (usize, f64)| a.0 > b.0 || (a.0 == b.0 && a.1 < b.1);
    let taken = |best: &[Vec<(usize, f64)>], r: usize, c: usize| {
        let after = best[r + 1][c + 1];
        (after.0 + 1, after.1 + error(r, c))
    };
    for r in (0..n_real).rev() {
        for c in (0..n_called).rev() {
            let skipped = if better(best[r][c + 1], best[r + 1][c]) {
                best[r][c + 1]
            } else {
                best[r + 1][c]
            };
            best[r][c] = skipped;
            if real.touches[r].0 == called.touches[c].0 {
                let matched = taken(&best, r, c);
                if !better(skipped, matched) {
                    best[r][c] = matched;
                }
            }
        }
    }

    let mut anchors = vec![(0, 0)];
    let (mut r, mut c) = (0, 0);
    while r < n_real && c < n_called {
        let equal = real.touches[r].0 == called.touches[c].0;
        if equal && best[r][c] == taken(&best, r, c) {
            anchors.push((r + 1, c + 1));
            r += 1;
            c += 1;
        } else if best[r][c] == best[r + 1][c] {
            r += 1;
        } else {
            c += 1;
        }
    }
    anchors.push((real.last(), called.last()));
    anchors
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::practice::{Call, CallPoint};
    use crate::table::{Rail, TableSize};
    use glam::DVec2;

    fn route(rails: &str, places: &[f64]) -> Route {
        let points = rails
            .chars()
            .enumerate()
            .map(|(k, letter)| {
                let at = places.get(k).copied().unwrap_or(0.5);
                let (rail, position) = match letter {
                    'h' => (Rail::Head, DVec2::new(0.0, at)),
                    'f' => (Rail::Foot, DVec2::new(2.5, at)),
                    'r' => (Rail::Right, DVec2::new(at, 0.0)),
                    _ => (Rail::Left, DVec2::new(at, 1.25)),
                };
                CallPoint { position, rail: Some(rail) }
            })
            .collect();
        Route::of_call(DVec2::ONE, &Call { points, stop: DVec2::ONE })
    }

    fn matched(real: &Route, called: &Route) -> Vec<Anchor> {
        let card = TableCard::of_size(TableSize::NineFoot);
        let all = anchors(&card, real, called);
        assert_eq!(all.first(), Some(&(0, 0)), "the ghost balls answer");
        assert_eq!(all.last(), Some(&(real.last(), called.last())), "the stops answer");
        all[1..all.len() - 1].to_vec()
    }

    #[test]
    fn rails_match_in_order() {
        for (real, called, expected) in [
            ("", "", vec![]),
            ("f", "", vec![]),
            ("", "f", vec![]),
            ("rfl", "rfl", vec![(1, 1), (2, 2), (3, 3)]),
            ("rfl", "rl", vec![(1, 1), (3, 2)]),
            ("rl", "rfl", vec![(1, 1), (2, 3)]),
            ("rfl", "rhl", vec![(1, 1), (3, 3)]),
            ("rf", "hl", vec![]),
            ("rlrl", "lrl", vec![(2, 1), (3, 2), (4, 3)]),
        ] {
            let found = matched(&route(real, &[]), &route(called, &[]));
            assert_eq!(found, expected, "{real} called as {called}");
        }
    }

    #[test]
    fn among_equal_matches_the_nearest_is_taken() {
        let real = route("rlr", &[0.5, 1.0, 2.0]);
        assert_eq!(matched(&real, &route("r", &[0.6])), [(1, 1)], "near the first");
        assert_eq!(matched(&real, &route("r", &[1.9])), [(3, 1)], "near the second");
        let swapped = route("lr", &[1.0, 0.5]);
        let real = route("rl", &[0.5, 1.6]);
        assert_eq!(matched(&real, &swapped), [(1, 2)], "the right rail is nearer than the left");
    }

    #[test]
    fn the_same_rails_match_however_far_off() {
        let real = route("rlrlrl", &[0.1, 0.2, 0.3, 0.4, 0.5, 0.6]);
        let called = route("rlrlrl", &[9.0, -5.0, 1e9, 0.0, 0.1, 0.2]);
        let all: Vec<Anchor> = (1..=6).map(|k| (k, k)).collect();
        assert_eq!(matched(&real, &called), all, "each by its order");
    }
}
