//! How hard an item looks to a player, of Read and of Leave.

use super::LEAST_POTTED;
use crate::physics::Arena;
use crate::practice::set::Meant;
use crate::shot::lengths_of_speed;

/// What counts how much, and what counts in full: the rails, the way from the first ball on
/// and the speed, both in table lengths (tuning choices, by the places that players gave items
/// in sets that were sorted by the first alone: a path without a rail and an easy pot opens a
/// set, and a long thin cut, two lengths up and down or a long draw do not).
const COST: f64 = 0.4;
const MISSED: f64 = 0.2;
const RAILS: (f64, f64) = (0.15, 3.0);
const WAY: (f64, f64) = (0.15, 2.5);
const SPEED: (f64, f64) = (0.1, 3.5);

/// How hard an item is, 0 to 1: by `cost`, the share that slight misreadings of the stroke, or
/// the errors of the hand, take on average; by how often the ball is `potted`; and by what one
/// sees, the rails, the cue ball's way and its speed.
pub(super) fn hardness(meant: &Meant, cost: f64, potted: f64) -> f64 {
    let Meant { shot, truth, .. } = meant;
    let part = |(weight, full): (f64, f64), value: f64| weight * (value / full).min(1.0);
    COST * cost.min(1.0)
        + part((MISSED, 1.0 - LEAST_POTTED), 1.0 - potted)
        + part(RAILS, truth.rail_touches().count() as f64)
        + part(WAY, truth.length() / shot.card.travel_length())
        + part(SPEED, lengths_of_speed(&Arena::new(&shot.card), shot.stroke.speed))
}
