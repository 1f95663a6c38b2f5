//! How far each input of a stroke may be off, and what breaks where it no longer works.

use super::{Demand, Ending, Input, Situation, Zone};
use crate::ball::BallId;
use crate::geometry::cross;
use crate::physics::Stroke;
use glam::DVec2;

/// The most strokes that are tried on the way to one end (tuning choice: far more than
/// any end took).
const MOST_STEPS: u32 = 400;

/// An end is found to this share of the first step (tuning choice: a ten-thousandth of
/// the speed, of a degree and of the radius).
const FINENESS: f64 = 0.01;

/// Steps are lengthened up to this multiple of the first (tuning choice: what works or
/// fails over less than 4 % of the speed, 0.04 degrees or 0.04 of the radius, with the
/// other on both sides, may be passed over).
const LONGEST: f64 = 4.0;

/// Where the cue ball is, seen from a zone that it missed, as it comes.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Off {
    /// It would have had to stop earlier.
    Long,
    /// It would have had to go on.
    Short,
    /// It passes or comes to the left of the zone.
    Left,
    /// It passes or comes to the right of the zone.
    Right,
}

/// The first thing that a stroke does not give of what is asked.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Fault {
    /// The cue ball met this ball first, or none.
    First(Option<BallId>),
    /// The ball on did not fall where it should.
    Missed,
    /// The cue ball fell.
    Scratch,
    /// The rails were not those asked for.
    Rails,
    /// The cue ball stopped outside the zone.
    Zone(Off),
}

impl Fault {
    /// What `stroke`, which ended in `ending`, does not give; `None` if it gives all.
    pub fn of(
        situation: &Situation,
        demand: &Demand,
        stroke: &Stroke,
        ending: &Ending,
    ) -> Option<Self> {
        if ending.first != Some(demand.on) {
            return Some(Self::First(ending.first));
        }
        if !demand.has_fallen(ending) {
            return Some(Self::Missed);
        }
        if ending.scratch {
            return Some(Self::Scratch);
        }
        if !demand.has_met_rails(ending) {
            return Some(Self::Rails);
        }
        let missed = demand.zone.filter(|zone| !zone.contains(ending.stop))?;
        let heading = situation.arrival(stroke).heading.unwrap_or(DVec2::X);
        Some(Self::Zone(side_missed(&missed, ending.stop, heading)))
    }
}

/// Where `stop`, outside of `zone`, lies for a ball that came along `heading`.
fn side_missed(zone: &Zone, stop: DVec2, heading: DVec2) -> Off {
    let (nearest, ahead) = nearest_on_line(zone, stop, heading);
    if zone.contains(nearest) {
        return if ahead > 0.0 { Off::Short } else { Off::Long };
    }
    let aside = cross(heading, stop - zone.centre);
    if aside > 0.0 { Off::Left } else { Off::Right }
}

/// The place nearest to the middle of `zone`, in its own measure, on the line through
/// `stop` along `heading`, and how far ahead of `stop` it lies, m.
fn nearest_on_line(zone: &Zone, stop: DVec2, heading: DVec2) -> (DVec2, f64) {
    let (offset, along) = (zone.in_halves(stop - zone.centre), zone.in_halves(heading));
    let ahead = -offset.dot(along) / along.length_squared();
    (stop + heading * ahead, ahead)
}

/// Why nothing is told beyond an end.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Edge {
    /// There the stroke no longer gives this.
    Breaks(Fault),
    /// There the stroke is at the end of what is looked at ([`Input::limits`]): for the
    /// tip the miscue limit.
    Limit,
}

/// One end of a range of an input.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct End {
    /// The last value found to work.
    pub value: f64,
    /// What lies beyond.
    pub edge: Edge,
}

/// The connected range of an input round the stroke's own value.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Span {
    /// Its low end.
    pub low: End,
    /// Its high end.
    pub high: End,
}

impl Span {
    /// From end to end.
    pub fn width(&self) -> f64 {
        self.high.value - self.low.value
    }
}

/// How far one input may be off, all others as meant.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Margin {
    /// Which input.
    pub input: Input,
    /// Where all that is asked is given; none if the stroke itself does not give it.
    pub met: Option<Span>,
    /// Where the ball on is potted without a scratch; none if the stroke itself does not.
    pub potted: Option<Span>,
}

/// The margins of a stroke.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Margins {
    /// What the stroke itself does not give.
    pub fault: Option<Fault>,
    /// One margin an input, in the order of [`Input::ALL`].
    pub margins: [Margin; 4],
}

/// How far each input of `stroke`, which must have passed [`Stroke::check`], may be off,
/// one at a time, on the real model.
///
/// Looks outward from the stroke in steps that grow while nothing changes, and halves
/// the step in which something breaks.
pub fn margins(situation: &Situation, demand: &Demand, stroke: &Stroke) -> Margins {
    let ending = situation.play(stroke);
    let fault = Fault::of(situation, demand, stroke, &ending);
    let (potted, met) = (demand.is_potted(&ending), fault.is_none());
    let simple = Demand { rails: Vec::new(), zone: None, ..demand.clone() };
    let margins = Input::ALL.map(|input| {
        let walk = Walk { situation, stroke, input };
        let all = met.then(|| walk.span(demand, None));
        let potted = potted.then(|| match all {
            Some(all) if *demand == simple => all,
            _ => walk.span(&simple, all.as_ref()),
        });
        Margin { input, met: all, potted }
    });
    Margins { fault, margins }
}

/// A way along one input of a stroke.
struct Walk<'a> {
    situation: &'a Situation,
    stroke: &'a Stroke,
    input: Input,
}

impl Walk<'_> {
    /// The range round the stroke in which `demand` is met; `inside` is a part of it that
    /// is known.
    fn span(&self, demand: &Demand, inside: Option<&Span>) -> Span {
        let own = self.input.of(self.stroke);
        let (least, most) = self.input.limits(self.stroke);
        let [low, high] = inside.map_or([own, own], |inside| [inside.low.value, inside.high.value]);
        Span { low: self.end(demand, low, least), high: self.end(demand, high, most) }
    }

    fn play(&self, value: f64) -> (Stroke, Ending) {
        let stroke = self.input.set(self.stroke, value);
        let ending = self.situation.play(&stroke);
        (stroke, ending)
    }

    /// The end of the range in which `demand` is met, on the way from `good`, where it is,
    /// to `limit`.
    fn end(&self, demand: &Demand, mut good: f64, limit: f64) -> End {
        let first = self.input.step(self.stroke);
        // A zone could be left and entered again within one step.
        let near = demand.zone.map_or(f64::INFINITY, |zone| 0.5 * zone.half.min_element());
        let mut step = first;
        let mut stop = self.play(good).1.stop;
        for _ in 0..MOST_STEPS {
            let gap = limit - good;
            if gap == 0.0 {
                break;
            }
            let value = if gap.abs() <= step { limit } else { good + step.copysign(gap) };
            let (_, ending) = self.play(value);
            if !demand.is_met(&ending) {
                return self.between(demand, good, value);
            }
            let moved = (ending.stop - stop).length();
            if moved > near && step > first / 8.0 {
                step *= 0.5;
                continue;
            }
            if moved < 0.5 * near {
                step = (1.5 * step).min(LONGEST * first);
            }
            (good, stop) = (value, ending.stop);
        }
        End { value: good, edge: Edge::Limit }
    }

    /// The end between `good`, where `demand` is met, and `bad`, where it is not.
    fn between(&self, demand: &Demand, mut good: f64, mut bad: f64) -> End {
        let fine = FINENESS * self.input.step(self.stroke);
        while (bad - good).abs() > fine {
            let middle = 0.5 * (good + bad);
            if demand.is_met(&self.play(middle).1) { good = middle } else { bad = middle }
        }
        let (stroke, ending) = self.play(bad);
        let fault = Fault::of(self.situation, demand, &stroke, &ending);
        // What is not met has a fault.
        End { value: good, edge: fault.map_or(Edge::Limit, Edge::Breaks) }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::geometry::unit_from_angle;
    use crate::physics::MISCUE_LIMIT;
    use crate::shot::example;
    use crate::table::PocketId;

    fn potted() -> (Situation, Stroke, Demand) {
        let (situation, stroke) = example::potted(1.5, 0.2);
        let stop = situation.play(&stroke).stop;
        let zone = Some(Zone { centre: stop, half: DVec2::new(0.2, 0.1), turn: 0.3 });
        let demand = Demand::to_pot(situation.on());
        (situation, stroke, Demand { zone, pocket: Some(PocketId::FootLeft), ..demand })
    }

    #[test]
    fn an_end_works_and_a_step_beyond_it_does_not() {
        let (situation, stroke, demand) = potted();
        let found = margins(&situation, &demand, &stroke);
        assert_eq!(found.fault, None, "the stroke itself is sound");
        for margin in found.margins {
            let (input, met) = (margin.input, margin.met.expect("met"));
            let potted = margin.potted.expect("potted");
            let own = input.of(&stroke);
            assert!(met.low.value < own && own < met.high.value, "{input:?}: {met:?}");
            assert!(potted.low.value <= met.low.value, "{input:?}: a pot asks for less");
            assert!(potted.high.value >= met.high.value, "{input:?}: a pot asks for less");
            let gives = |value: f64| demand.is_met(&situation.play(&input.set(&stroke, value)));
            // Twenty values inside work, and the first fine step beyond does not.
            for k in 0..=20 {
                let value = met.low.value + met.width() * f64::from(k) / 20.0;
                assert!(gives(value), "{input:?} at {value} inside of {met:?}");
            }
            let fine = FINENESS * input.step(&stroke);
            for (end, side) in [(met.low, -1.0), (met.high, 1.0)] {
                let beyond = end.value + side * fine;
                assert!(
                    end.edge == Edge::Limit || !gives(beyond),
                    "{input:?} at {beyond}: {end:?}"
                );
            }
        }
    }

    #[test]
    fn more_speed_is_long_and_less_is_short() {
        let (situation, stroke, demand) = potted();
        let met = margins(&situation, &demand, &stroke).margins[0].met.expect("met");
        assert_eq!(met.low.edge, Edge::Breaks(Fault::Zone(Off::Short)), "{met:?}");
        assert_eq!(met.high.edge, Edge::Breaks(Fault::Zone(Off::Long)), "{met:?}");
    }

    #[test]
    fn a_stroke_that_misses_the_zone_still_has_margins_for_the_pot() {
        let (situation, stroke, demand) = potted();
        let zone = demand.zone.map(|zone| Zone { centre: DVec2::new(0.4, 0.3), ..zone });
        let found = margins(&situation, &Demand { zone, ..demand.clone() }, &stroke);
        assert!(matches!(found.fault, Some(Fault::Zone(_))), "{:?}", found.fault);
        assert!(found.margins.iter().all(|m| m.met.is_none() && m.potted.is_some()), "{found:?}");
        let height = found.margins[3].potted.expect("potted");
        let beyond = |value: f64| value.abs() <= MISCUE_LIMIT * (1.0 + 1e-12);
        assert!(beyond(height.low.value) && beyond(height.high.value), "no miscue: {height:?}");
        let away = Stroke { azimuth: stroke.azimuth + 1.0, ..stroke };
        let found = margins(&situation, &demand, &away);
        assert_eq!(found.fault, Some(Fault::First(None)), "met nothing");
        assert!(found.margins.iter().all(|m| m.potted.is_none()), "nothing to tell: {found:?}");
    }

    #[test]
    fn a_missed_zone_is_told_as_the_ball_comes() {
        let zone = Zone { centre: DVec2::new(1.0, 0.5), half: DVec2::new(0.3, 0.1), turn: 0.5 };
        let (ahead, left) =
            (unit_from_angle(2.0), unit_from_angle(2.0 + std::f64::consts::FRAC_PI_2));
        for (place, told) in [
            (zone.centre + ahead * 0.5, Off::Long),
            (zone.centre - ahead * 0.5, Off::Short),
            (zone.centre + left * 0.5, Off::Left),
            (zone.centre - left * 0.5, Off::Right),
        ] {
            assert_eq!(side_missed(&zone, place, ahead), told, "at {place}");
        }
    }
}
