//! What is drawn of a skill: calls against outcomes, its bias over time, and where stops
//! fall from the call.

use super::calls::Calls;
use super::skill::Skill;
use super::student_t::half_width;
use super::summary::moments;
use super::told::Told;
use crate::order::sort_by_number;

/// The most points of a plot, the latest (tuning choice: more only cover each other).
const MOST_POINTS: usize = 2_000;

/// Calls of one group of the bias over time, at least,
const FEWEST: usize = 10;
/// and how many groups there are at most (tuning choices).
const MOST_GROUPS: usize = 24;

/// What is drawn of a skill.
#[derive(Clone, Debug, PartialEq)]
pub struct Plots {
    /// What was and what was called, sorted by what was; none for what is only a distance.
    pub places: Vec<[f64; 2]>,
    /// The bias over time, the earliest first.
    pub groups: Vec<Group>,
    /// Where stops fell from the call, ball diameters: to the right and beyond, sorted from
    /// left to right.
    pub stops: Vec<[f64; 2]>,
}

/// Calls one after another.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Group {
    /// When they were made, in the middle, ms.
    pub at: f64,
    /// How many.
    pub n: usize,
    /// The mean error, in the skill's unit.
    pub bias: f64,
    /// Half the width of its 95 % interval.
    pub within: f64,
}

/// What is drawn of `skill`.
pub fn plots(calls: &Calls, skill: Skill) -> Plots {
    let told: Vec<(f64, Told)> =
        calls.entries().iter().filter_map(|entry| Some((entry.at, entry.of(skill)?))).collect();
    let latest = &told[told.len().saturating_sub(MOST_POINTS)..];
    let mut places: Vec<[f64; 2]> = if skill.has_places() {
        latest.iter().map(|(_, told)| [told.real, told.called]).collect()
    } else {
        vec![]
    };
    let mut stops = stops(calls, skill);
    for points in [&mut places, &mut stops] {
        sort_by_number(points, |point| point[0]);
    }
    let errors: Vec<(f64, f64)> = told.iter().map(|(at, told)| (*at, told.error())).collect();
    let size = FEWEST.max(errors.len().div_ceil(MOST_GROUPS));
    // What is left over joins the last group.
    let n_groups = errors.len() / size;
    let groups = (0..n_groups).map(|k| {
        let end = if k + 1 == n_groups { errors.len() } else { (k + 1) * size };
        group(&errors[k * size..end])
    });
    Plots { places, groups: groups.collect(), stops }
}

fn group(errors: &[(f64, f64)]) -> Group {
    let of = moments(errors.iter().map(|(_, error)| *error));
    let at = moments(errors.iter().map(|(at, _)| *at)).mean;
    let within = half_width(0.05, of.n - 1.0) * (of.variance / of.n).sqrt();
    Group { at, n: errors.len(), bias: of.mean, within }
}

/// Where stops fell from the call: from the zone's middle of the best zone for a skill of
/// zones, else the stop that was called or marked.
fn stops(calls: &Calls, skill: Skill) -> Vec<[f64; 2]> {
    let zones = matches!(skill, Skill::ZoneAlong | Skill::ZoneAcross | Skill::ZoneSize);
    let (along, across) = if zones {
        (Skill::ZoneAlong, Skill::ZoneAcross)
    } else {
        (Skill::StopAlong, Skill::StopAcross)
    };
    let told = calls.entries().iter().filter(|entry| entry.of(skill).is_some());
    let mut stops: Vec<[f64; 2]> = told
        // A call that lies too far on, or to the left, has its stop short of it, or to the right.
        .filter_map(|entry| Some([entry.of(across)?.error(), -entry.of(along)?.error()]))
        .collect();
    stops.drain(..stops.len().saturating_sub(MOST_POINTS));
    stops
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Calls of one skill, a millisecond apart.
    fn numbers(skill: Skill, pairs: &[(f64, f64)]) -> Vec<f64> {
        let call = |(at, (called, real)): (usize, &(f64, f64))| {
            [8.0, at as f64, 0.0, 1.0, 1.0, f64::from(skill.code()), *called, *real]
        };
        pairs.iter().enumerate().flat_map(call).collect()
    }

    #[test]
    fn groups_are_of_equal_size_and_leave_nobody_out() {
        let pairs: Vec<(f64, f64)> = (0..1003).map(|k| (f64::from(k % 2), 0.0)).collect();
        let numbers = numbers(Skill::HeadingStun, &pairs);
        let plots = plots(&Calls::read(&numbers).expect("calls"), Skill::HeadingStun);
        assert!(plots.groups.len() <= MOST_GROUPS, "{}", plots.groups.len());
        assert_eq!(plots.groups.iter().map(|group| group.n).sum::<usize>(), 1003, "all of them");
        assert!(plots.groups.is_sorted_by(|a, b| a.at < b.at), "in the order of time");
        let near = plots.groups.iter().all(|group| (group.bias - 0.5).abs() < group.within);
        assert!(near, "{:?}", plots.groups);
        assert!(plots.places.is_sorted_by(|a, b| a[0] <= b[0]), "sorted for the plot");
    }

    #[test]
    fn few_calls_make_no_group() {
        let numbers = numbers(Skill::Speed, &[(1.0, 2.0); 9]);
        let plots = plots(&Calls::read(&numbers).expect("calls"), Skill::Speed);
        assert_eq!((plots.groups.len(), plots.places.len()), (0, 9), "points, but no bias");
    }

    #[test]
    fn a_call_too_far_on_and_left_has_its_stop_short_and_right() {
        let codes = [Skill::StopAlong, Skill::StopAcross].map(|skill| f64::from(skill.code()));
        let numbers = [11.0, 0.0, 0.0, 1.0, 1.0, codes[0], 3.0, 0.0, codes[1], 2.0, 0.0];
        let plots = plots(&Calls::read(&numbers).expect("a call"), Skill::StopAlong);
        assert_eq!(plots.stops, [[2.0, -3.0]], "right by two, short by three");
        assert!(plots.places.is_empty(), "only a distance");
    }
}
