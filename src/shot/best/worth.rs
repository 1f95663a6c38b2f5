//! What a stop is worth, and how near another comes to being worth something.

use super::prospect::Outlook;
use crate::geometry::{cross, unit_from_angle};
use crate::shot::{Demand, Ending, Zone};
use glam::DVec2;

/// Beyond the zone a stop's promise falls to half within this distance, m (tuning
/// choice: as far as a small change of speed carries the ball).
const HALF_WAY: f64 = 0.1;

/// What a promise counts for beside a worth while plans race (tuning choice).
pub(super) const HOPE: f64 = 0.25;

/// What this ending is worth, 0 to 1: nothing unless the ball on was potted without a
/// scratch and the rails were met; then whether the cue ball stopped in the zone if there
/// is one, else `next` of the stop, the chance to pot the next ball from there, if there is
/// one, else 1.
///
/// A next ball that is moved from its place is worth nothing, for nobody plans on where it
/// comes to lie; what may block it counts as lying where it lay.
pub fn worth(demand: &Demand, ending: &Ending, next: &mut dyn FnMut(DVec2) -> f64) -> f64 {
    let [_, gate] = gates(demand, ending);
    if gate > 0.0 { gate * Leave::of(demand).worth(ending.stop, next) } else { 0.0 }
}

/// As [`worth`], but a stop beside the zone has something of it, and so has a path that
/// met some of the rails: strokes near this one may do better.
pub(super) fn promise(demand: &Demand, ending: &Ending, next: &mut dyn FnMut(DVec2) -> f64) -> f64 {
    let [gate, _] = gates(demand, ending);
    if gate > 0.0 { gate * Leave::of(demand).promise(ending.stop, next) } else { 0.0 }
}

/// What there is of an ending's promise and of its worth, whatever the stop.
pub(super) fn gates(demand: &Demand, ending: &Ending) -> [f64; 2] {
    let next = demand.next.filter(|_| demand.zone.is_none());
    if !demand.is_potted(ending) || next.is_some_and(|ball| ending.has_moved(ball)) {
        return [0.0; 2];
    }
    let mut met = ending.rails.iter();
    let n_met = demand.rails.iter().take_while(|wanted| met.any(|rail| rail == *wanted)).count();
    let rails = (1 + n_met) as f64 / (1 + demand.rails.len()) as f64;
    [rails * rails, f64::from(u8::from(n_met == demand.rails.len()))]
}

/// What a stop is worth to a demand.
#[derive(Clone, Copy, Debug)]
pub(super) struct Leave {
    zone: Option<Zone>,
    axis: DVec2,
    has_next: bool,
}

impl Leave {
    pub fn of(demand: &Demand) -> Self {
        let axis = demand.zone.map_or(DVec2::X, |zone| unit_from_angle(zone.turn));
        Self { zone: demand.zone, axis, has_next: demand.next.is_some() }
    }

    fn worth(&self, stop: DVec2, next: &mut dyn FnMut(DVec2) -> f64) -> f64 {
        match self.zone {
            Some(zone) => f64::from(u8::from(zone.contains(stop))),
            None if self.has_next => next(stop),
            None => 1.0,
        }
    }

    fn promise(&self, stop: DVec2, next: &mut dyn FnMut(DVec2) -> f64) -> f64 {
        match self.zone {
            Some(zone) => HALF_WAY / (HALF_WAY + distance(&zone, stop)),
            None => self.worth(stop, next),
        }
    }

    /// What both come to on average, where a promise counts for `hope`, when the stop is off
    /// by `noise` (m) each way.
    pub fn about(&self, stop: DVec2, noise: f64, hope: f64, next: &mut dyn Outlook) -> f64 {
        let Some(zone) = self.zone else {
            return if self.has_next { next.chance(stop) } else { 1.0 };
        };
        let offset = stop - zone.centre;
        let reach =
            DVec2::new(offset.dot(self.axis) / zone.half.x, cross(self.axis, offset) / zone.half.y)
                .length();
        let beyond = if reach > 1e-3 {
            offset.length() * (1.0 - 1.0 / reach)
        } else {
            -zone.half.min_element()
        };
        let inside = (0.5 - beyond / (3.5 * noise.max(1e-3))).clamp(0.0, 1.0);
        let soft = HALF_WAY / (HALF_WAY + beyond.max(0.0));
        hope * soft + (1.0 - hope) * inside * inside * (3.0 - 2.0 * inside)
    }

    /// The same for a stop that is known.
    pub fn mixed(&self, stop: DVec2, hope: f64, next: &mut dyn Outlook) -> f64 {
        let mut next = |place: DVec2| next.chance(place);
        if self.zone.is_none() {
            return self.worth(stop, &mut next);
        }
        hope * self.promise(stop, &mut next) + (1.0 - hope) * self.worth(stop, &mut next)
    }
}

/// As [`promise`], but the more the nearer the stop is to the zone's middle.
pub(super) fn centred(demand: &Demand, ending: &Ending, next: &mut dyn FnMut(DVec2) -> f64) -> f64 {
    let reach = demand.zone.map_or(0.0, |zone| zone.reach(ending.stop));
    promise(demand, ending, next) * (1.0 - 0.5 * reach.min(1.0))
}

/// How far outside of `zone` the stop lies, along the line to its middle, m.
fn distance(zone: &Zone, stop: DVec2) -> f64 {
    let reach = zone.reach(stop);
    if reach <= 1.0 { 0.0 } else { (stop - zone.centre).length() * (1.0 - 1.0 / reach) }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::ball::BallId;
    use crate::table::{PocketId, Rail};
    use arrayvec::ArrayVec;

    fn ball(number: u8) -> BallId {
        BallId::object(number).expect("a ball")
    }

    fn potted(stop: DVec2) -> Ending {
        let rails = ArrayVec::from_iter([Rail::Foot]);
        let (first, pocket) = (Some(ball(1)), Some(PocketId::FootLeft));
        Ending { first, pocket, scratch: false, stop, rails, moved: 0b11 }
    }

    #[test]
    fn the_zone_counts_before_the_next_ball_and_that_before_nothing() {
        let stop = DVec2::new(1.0, 0.5);
        let mut demand = Demand::to_pot(ball(1));
        let mut next = |_: DVec2| 0.3;
        assert_eq!(worth(&demand, &potted(stop), &mut next), 1.0, "nothing more is asked");
        demand.next = Some(ball(2));
        assert_eq!(worth(&demand, &potted(stop), &mut next), 0.3, "the chance of the next");
        let moved = Ending { moved: 0b111, ..potted(stop) };
        assert_eq!(worth(&demand, &moved, &mut next), 0.0, "it is not there any more");
        demand.zone = Some(Zone { centre: stop, half: DVec2::splat(0.1), turn: 0.0 });
        assert_eq!(worth(&demand, &potted(stop), &mut next), 1.0, "in the zone");
        let beside = potted(stop + DVec2::new(0.2, 0.0));
        assert_eq!(worth(&demand, &beside, &mut next), 0.0, "beside the zone");
        let near = promise(&demand, &beside, &mut next);
        assert!((near - 0.5).abs() < 1e-12, "half of it, {HALF_WAY} m beside: {near}");
    }

    #[test]
    fn an_unsure_stop_is_worth_about_what_it_is_on_average() {
        let centre = DVec2::new(1.0, 0.5);
        let zone = Some(Zone { centre, half: DVec2::new(0.2, 0.1), turn: 0.5 });
        let leave = Leave::of(&Demand { zone, ..Demand::to_pot(ball(1)) });
        let mut one = |_: DVec2| 1.0;
        let mut about = |out: f64| {
            let axis = unit_from_angle(0.5);
            leave.about(centre + axis * (0.2 + out), 0.03, 0.0, &mut one)
        };
        assert!((about(0.0) - 0.5).abs() < 1e-9, "half on the edge: {}", about(0.0));
        assert_eq!((about(-0.15), about(0.15)), (1.0, 0.0), "well inside and outside");
        assert!(about(-0.02) > 0.6 && about(0.02) < 0.4, "{} and {}", about(-0.02), about(0.02));
    }

    #[test]
    fn what_was_asked_before_the_stop_must_be_given() {
        let stop = DVec2::new(1.0, 0.5);
        let mut one = |_: DVec2| 1.0;
        let mut demand = Demand::to_pot(ball(1));
        let scratch = Ending { scratch: true, ..potted(stop) };
        assert_eq!(worth(&demand, &scratch, &mut one), 0.0, "a scratch");
        demand.rails = vec![Rail::Foot, Rail::Left];
        assert_eq!(worth(&demand, &potted(stop), &mut one), 0.0, "a rail is missing");
        let some = promise(&demand, &potted(stop), &mut one);
        assert!((some - 4.0 / 9.0).abs() < 1e-12, "the first of two was met: {some}");
        assert_eq!(promise(&demand, &scratch, &mut one), 0.0, "a scratch promises nothing");
    }
}
