//! The course of one impact on a cushion, in impulse space.
//!
//! The two slips carry it: the normal speed is a share of their difference, and
//! all other speeds and spins follow from what friction has done to the slips.

use super::course::SlipCourse;
use super::grip::{Contacts, Frictions, Grip, Slips};
use super::laws::Slipping;
use glam::DVec2;

/// How closely an impact is followed.
#[derive(Clone, Copy)]
pub(super) struct Precision {
    /// Error allowed in one step, as a share of the ball's speed.
    pub tolerance: f64,
    /// A slip below this share of the ball's speed counts as none.
    pub no_slip: f64,
    /// Error allowed when a slip is taken to its end at once.
    pub finish: f64,
    /// Impulse of one step of a creeping slip.
    pub creep: f64,
}

/// The usual precision (tuning choice: of 400,000 impacts with the default card none
/// differed by more than 4e-9 of the ball's speed from the same run with steps held to
/// 1e-13 and slips followed to 1e-10).
pub(super) const USUAL: Precision =
    Precision { tolerance: 5e-10, no_slip: 1e-9, finish: 2e-10, creep: 1e-4 };

/// Most impulse of a step during which the ball is held off the bed: friction there
/// may come back at any time. (No table's frictions do that.)
const LONGEST_LIFTED: f64 = 0.02;

/// An impact takes some ten steps, and up to a few thousand where a slip creeps
/// to its end; one that has not ended after this many is jammed under the nose,
/// which only happens with frictions no table has.
const MOST_STEPS: u32 = 10_000;

/// The parts of an impact, with work on the nose as path times unit force.
#[derive(Clone, Copy, PartialEq)]
enum Phase {
    /// Until the approach stops: the work stored so far.
    Compression(f64),
    /// Until so much more work has been given back.
    Restitution(f64),
    Over,
}

/// All that follows from the slips at one moment.
#[derive(Clone, Copy)]
pub(super) struct Moment {
    pub slips: Slips,
    pub nose: Grip,
    pub bed: Grip,
    pub frictions: Frictions,
    pub rates: Slips,
    /// Speed into the cushion, and its rate.
    pub speed: f64,
    pub speed_rate: f64,
}

impl Moment {
    /// Whether a slip goes the other way in these slips.
    fn turns_back(&self, later: &Slips) -> bool {
        let back = |grip: Grip, slip: DVec2| match grip {
            Grip::Slips(direction) => direction.dot(slip) < 0.0,
            Grip::Follows(_) => false,
        };
        back(self.nose, later.nose) || back(self.bed, later.bed)
    }

    /// By how much the faster of the two slips' directions turns over an impulse.
    pub fn turn(&self, impulse: f64) -> f64 {
        let turn = |grip: Grip, slip: DVec2, rate: DVec2| match grip {
            Grip::Slips(direction) if slip != DVec2::ZERO => {
                (direction.perp_dot(rate) * impulse).abs() / slip.length()
            }
            _ => 0.0,
        };
        turn(self.nose, self.slips.nose, self.rates.nose).max(turn(
            self.bed,
            self.slips.bed,
            self.rates.bed,
        ))
    }
}

/// An impact under way.
pub(super) struct Impact<'a> {
    pub contacts: &'a Contacts,
    pub precision: Precision,
    /// Share of the work that the rubber gives back.
    returned: f64,
    phase: Phase,
    pub slips: Slips,
    pub nose: Grip,
    pub bed: Grip,
}

/// The slips after an impact that starts with these: compression until the
/// approach stops, then restitution until the work given back is the square of
/// `restitution` times the work stored. None if the ball jams.
pub(super) fn slips_after(
    contacts: &Contacts,
    restitution: f64,
    slips: Slips,
    precision: Precision,
) -> Option<Slips> {
    let mut impact = Impact {
        contacts,
        precision,
        returned: restitution * restitution,
        phase: Phase::Compression(0.0),
        slips,
        nose: Grip::Slips(DVec2::ZERO),
        bed: Grip::Slips(DVec2::ZERO),
    };
    impact.choose_grips();
    impact.run()?;
    Some(impact.slips)
}

impl Impact<'_> {
    /// Goes on to the end. None if the ball jams.
    fn run(&mut self) -> Option<()> {
        for _ in 0..MOST_STEPS {
            let jammed = matches!((self.nose, self.bed), (Grip::Follows(_), Grip::Follows(_)));
            if self.phase == Phase::Over || jammed {
                return Some(());
            }
            let moment = self.moment(&self.slips);
            let left = self.impulse_left(&moment);
            if !self.finish_slip(&moment, left) && !self.creep(&moment, left) {
                self.advance(&moment);
            }
        }
        None
    }

    /// Goes one step, up to the end of the impact, or to where a hold breaks.
    fn advance(&mut self, moment: &Moment) {
        let course = self.course(moment);
        let mut reach = course.reach(self.precision.tolerance);
        let mut slips = course.slips(reach);
        // A slip that all but vanishes on the way turns the other way in the series,
        // which in truth it does not.
        while moment.turns_back(&slips) {
            reach *= 0.5;
            slips = course.slips(reach);
        }
        let longest = reach;
        let (reach, breaks) = match self.first_break(&course, moment, reach) {
            Some(time) => (time, true),
            None => (reach, false),
        };
        let end = self.pass(&course, reach);
        self.slips = if end == longest { slips } else { course.slips(end) };
        if breaks && end == reach || self.loses_a_slip(moment) {
            self.choose_grips();
        }
    }

    /// The course from here.
    fn course(&self, moment: &Moment) -> SlipCourse {
        let (contacts, slips) = (self.contacts, &moment.slips);
        let nil =
            |slip: DVec2| slip.length_squared() <= self.precision.no_slip * self.precision.no_slip;
        let pressed = moment.frictions.bed_press > 0.0;
        let even = || SlipCourse::even(contacts, slips, &moment.rates);
        let lifted = || even().no_longer_than(LONGEST_LIFTED);
        let alone = |slipping| SlipCourse::one_slips(contacts, slips, slipping);
        match (moment.nose, moment.bed) {
            (Grip::Slips(_), Grip::Follows(_)) if !nil(slips.nose) => alone(Slipping::Nose),
            // From nil, a slip that is alone grows straight.
            (_, Grip::Follows(_)) => even(),
            (Grip::Follows(_), Grip::Slips(_)) if !pressed => lifted(),
            (Grip::Follows(_), Grip::Slips(_)) if nil(slips.bed) => even(),
            (Grip::Follows(_), Grip::Slips(_)) => alone(Slipping::Bed),
            (Grip::Slips(_), Grip::Slips(_)) => match (nil(slips.nose), nil(slips.bed)) {
                (true, true) => even(),
                (true, false) if !pressed => lifted(),
                (false, _) if !pressed => alone(Slipping::NoseAlone),
                (true, false) => SlipCourse::one_starts::<false>(contacts, slips, &moment.rates),
                (false, true) => SlipCourse::one_starts::<true>(contacts, slips, &moment.rates),
                (false, false) if slips.nose.length_squared() < slips.bed.length_squared() => {
                    SlipCourse::both_slip::<true>(contacts, slips)
                }
                (false, false) => SlipCourse::both_slip::<false>(contacts, slips),
            },
        }
    }

    /// Adds the work on the course up to `reach`, or to where the impact ends: which
    /// of them is returned.
    fn pass(&mut self, course: &SlipCourse, reach: f64) -> f64 {
        let mut since = 0.0;
        if let Phase::Compression(stored) = self.phase {
            let (at_start, at_end) = (course.speed_at_start(), course.speed(reach)[0]);
            if at_end > 0.0 {
                self.phase = Phase::Compression(stored + course.path(0.0, reach));
                return reach;
            }
            let mut stored = stored;
            if at_start > 0.0 {
                let guess = reach * at_start / (at_start - at_end);
                since = fall(|t| course.speed(t), (0.0, reach), guess);
                stored += course.path(0.0, since);
            }
            self.phase = Phase::Restitution(stored * self.returned);
        }
        let Phase::Restitution(left) = self.phase else {
            return 0.0;
        };
        let after = left + course.path(since, reach);
        if after > 0.0 {
            self.phase = Phase::Restitution(after);
            return reach;
        }
        self.phase = Phase::Over;
        if left <= 0.0 {
            return since;
        }
        // It falls about as a parabola from the end of compression.
        let share = left / (left - after);
        let guess = since + (reach - since) * if since > 0.0 { share.sqrt() } else { share };
        let rest = |t| {
            let [slope, bend] = course.path_slopes(t);
            [left + course.path(since, t), slope, bend]
        };
        fall(rest, (since, reach), guess)
    }

    /// Adds the work on a short `path`.
    pub fn pass_short(&mut self, path: f64) {
        self.phase = match self.phase {
            Phase::Compression(stored) => Phase::Compression(stored + path),
            Phase::Restitution(left) => Phase::Restitution(left + path),
            Phase::Over => Phase::Over,
        };
    }

    /// All that follows from the slips.
    #[inline]
    pub fn moment(&self, slips: &Slips) -> Moment {
        let slips = *slips;
        let nose = self.grip_at(self.nose, slips.nose);
        let bed = self.grip_at(self.bed, slips.bed);
        let frictions = self.contacts.frictions(nose, bed);
        let rates = self.contacts.slip_rates(frictions.nose, frictions.bed);
        // The slips along y are R wx - sine vy and R wx + vy.
        let share = 1.0 / (1.0 + self.contacts.sine);
        let speed = (slips.bed.y - slips.nose.y) * share;
        let speed_rate = (rates.bed.y - rates.nose.y) * share;
        Moment { slips, nose, bed, frictions, rates, speed, speed_rate }
    }

    /// The grip with the direction of the present slip; where that is nil, the
    /// direction in which it is about to start.
    #[inline]
    pub fn grip_at(&self, grip: Grip, slip: DVec2) -> Grip {
        let Grip::Slips(start) = grip else {
            return grip;
        };
        let size = slip.length();
        if size > self.precision.no_slip || (start == DVec2::ZERO && size > 0.0) {
            Grip::Slips(slip / size)
        } else {
            grip
        }
    }

    /// Impulse to the end of the phase if the normal speed went on changing evenly.
    fn impulse_left(&self, moment: &Moment) -> f64 {
        let (speed, slowing) = (moment.speed, -moment.speed_rate);
        match self.phase {
            Phase::Compression(_) if slowing > 0.0 => speed / slowing,
            Phase::Compression(_) => f64::INFINITY,
            Phase::Over => 0.0,
            Phase::Restitution(left) => {
                let end_speed_squared = speed * speed + 2.0 * slowing * left;
                if end_speed_squared < 0.0 {
                    return f64::INFINITY;
                }
                let sum = end_speed_squared.sqrt() - speed;
                if sum > 0.0 { 2.0 * left / sum } else { 0.0 }
            }
        }
    }

    /// The slips after a short `impulse`, and the path, under these grips, the
    /// direction of a slip taken as it is half way.
    pub fn drifted(&self, nose: Grip, bed: Grip, impulse: f64) -> (Slips, f64) {
        let half = self.moved(nose, bed, 0.5 * impulse).0;
        self.moved(self.grip_at(nose, half.nose), self.grip_at(bed, half.bed), impulse)
    }

    /// The moment with the rates that belong to its grips.
    pub fn with_rates(&self, moment: Moment) -> Moment {
        let frictions = self.contacts.frictions(moment.nose, moment.bed);
        let rates = self.contacts.slip_rates(frictions.nose, frictions.bed);
        let speed_rate = (rates.bed.y - rates.nose.y) / (1.0 + self.contacts.sine);
        Moment { frictions, rates, speed_rate, ..moment }
    }

    /// The slips after `impulse`, and the path, under grips that do not change.
    pub fn moved(&self, nose: Grip, bed: Grip, impulse: f64) -> (Slips, f64) {
        let moment = self.with_rates(Moment { nose, bed, ..self.moment(&self.slips) });
        let slips = Slips {
            nose: moment.slips.nose + moment.rates.nose * impulse,
            bed: moment.slips.bed + moment.rates.bed * impulse,
        };
        let path = (moment.speed + 0.5 * moment.speed_rate * impulse) * impulse;
        (slips, path)
    }
}

/// Where `curve`, which gives its value, slope and half of the slope's, falls through
/// nil: within `bracket`, near `guess`. Halley's method, with halving where it would
/// leave.
fn fall(curve: impl Fn(f64) -> [f64; 3], bracket: (f64, f64), guess: f64) -> f64 {
    let (mut low, mut high) = bracket;
    let mut at = guess;
    for _ in 0..100 {
        let [value, slope, bend] = curve(at);
        if value > 0.0 {
            low = at;
        } else {
            high = at;
        }
        let next = at - value * slope / (slope * slope - value * bend);
        let next = if next >= low && next <= high { next } else { 0.5 * (low + high) };
        // The next error is of the order of this one's cube.
        if (next - at).abs() <= 1e-4 * (next - bracket.0) {
            return next;
        }
        at = next;
    }
    at
}
