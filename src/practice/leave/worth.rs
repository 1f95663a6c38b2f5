//! What a zone is worth: the chance of the next ball from it.

use crate::geometry::unit_from_angle;
use crate::shot::{Demand, Ending, Zone};
use glam::DVec2;
use std::f64::consts::PI;

/// Places over which a zone is averaged (tuning choice: a chance changes little over an
/// eighth of a zone).
const PLACES: u32 = 64;

/// The angle from one place to the next, rad: pi (3 - sqrt 5).
///
/// # Source
/// Vogel 1979, Mathematical Biosciences 44, 179 (from memory): places at the root of
/// their number, each turned by the golden angle, fill a disc evenly.
const GOLDEN_ANGLE: f64 = PI * (3.0 - 2.236_067_977_499_79);

/// Chances of the next ball, 0 to 1.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Worth {
    /// The mean over the zone.
    pub zone: f64,
    /// The mean over all strokes of where the cue ball stopped, whether or not the ball
    /// on fell; a scratch leaves none.
    pub stops: f64,
    /// The chance that the stroke gives what is asked, zone aside, and that the next ball
    /// is made from where the cue ball stops.
    pub both: f64,
}

impl Worth {
    /// What `zone` and the strokes that ended as `endings` are worth, if `chance` tells
    /// how often the next ball is made from a place (m; 0 where no ball can lie).
    pub fn of(
        zone: &Zone,
        demand: &Demand,
        endings: &[Ending],
        chance: &dyn Fn(DVec2) -> f64,
    ) -> Self {
        let over_zone: f64 = places_of(zone).map(chance).sum();
        let (mut stops, mut both) = (0.0, 0.0);
        for ending in endings.iter().filter(|ending| !ending.scratch) {
            let next = chance(ending.stop);
            stops += next;
            if demand.is_potted(ending) && demand.has_met_rails(ending) {
                both += next;
            }
        }
        let strokes = (endings.len() as f64).max(1.0);
        Self { zone: over_zone / f64::from(PLACES), stops: stops / strokes, both: both / strokes }
    }
}

/// Places that fill a zone evenly, m.
fn places_of(zone: &Zone) -> impl Iterator<Item = DVec2> {
    let axis = unit_from_angle(zone.turn);
    (0..PLACES).map(move |k| {
        let out = ((f64::from(k) + 0.5) / f64::from(PLACES)).sqrt();
        let on_disc = unit_from_angle(f64::from(k) * GOLDEN_ANGLE) * out;
        zone.centre + axis.rotate(zone.half * on_disc)
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::ball::BallId;
    use crate::table::PocketId;
    use arrayvec::ArrayVec;

    const ZONE: Zone = Zone { centre: DVec2::new(1.0, 0.5), half: DVec2::new(0.3, 0.1), turn: 0.5 };

    #[test]
    fn a_zone_is_averaged_evenly() {
        assert!(places_of(&ZONE).all(|place| ZONE.contains(place)), "inside of it");
        let n = f64::from(PLACES);
        let mean = places_of(&ZONE).sum::<DVec2>() / n;
        assert!((mean - ZONE.centre).length() < 0.005, "about its middle: {mean}");
        // The variance along an axis of an ellipse is a quarter of its half's square.
        let axis = unit_from_angle(ZONE.turn);
        let along = places_of(&ZONE).map(|at| (at - mean).dot(axis)).map(|a| a * a).sum::<f64>();
        assert!((along / n / (0.3 * 0.3 / 4.0) - 1.0).abs() < 0.03, "spread along: {along}");
    }

    #[test]
    fn a_miss_leaves_a_stop_but_no_next_ball_and_a_scratch_leaves_neither() {
        let on = BallId::object(3).expect("a ball");
        let potted = Ending {
            first: Some(on),
            pocket: Some(PocketId::FootLeft),
            scratch: false,
            stop: DVec2::new(1.0, 0.5),
            rails: ArrayVec::new(),
            moved: 0,
        };
        let missed = Ending { pocket: None, ..potted.clone() };
        let scratched = Ending { scratch: true, ..potted.clone() };
        let elsewhere = Ending { stop: DVec2::new(2.0, 0.5), ..potted.clone() };
        let endings = [potted, missed, scratched, elsewhere];
        let chance = |at: DVec2| if at.x < 1.5 { 0.8 } else { 0.4 };
        let worth = Worth::of(&ZONE, &Demand::to_pot(on), &endings, &chance);
        assert!((worth.zone - 0.8).abs() < 1e-12, "all of it lies there");
        assert!((worth.stops - (0.8 + 0.8 + 0.4) / 4.0).abs() < 1e-12, "{worth:?}");
        assert!((worth.both - (0.8 + 0.4) / 4.0).abs() < 1e-12, "{worth:?}");
    }
}
