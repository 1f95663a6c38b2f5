//! The course of one impact on a cushion, in impulse space.
//!
//! The two slips carry it: the normal speed is a share of their difference, and
//! all other speeds and spins follow from what friction has done to the slips.

use super::grip::{Contacts, Frictions, Grip, Slips};
use super::ode::{adapt, step};
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

/// The usual precision (tuning choice: of 320,000 plausible impacts none differed by
/// more than 1e-8 of the ball's speed from the same run with steps held to 1e-12 and
/// creeps half as long).
pub(super) const USUAL: Precision =
    Precision { tolerance: 1e-10, no_slip: 3e-9, finish: 3e-12, creep: 2e-4 };

/// Impulse over which the first step is tried, as a share of the ball's (tuning
/// choice: it is rarely refused).
pub(super) const FIRST_STEP: f64 = 0.3;

/// The same for a slip that starts from nil, where the equation is not smooth.
const STARTING_STEP: f64 = 0.1;

/// A step lets a slip grow by no more than this many times itself: its direction
/// turns ever slower, and a longer step's error is not seen (tuning choice).
const MOST_GROWTH: f64 = 1.0;

/// An end of a phase nearer than this is reached in one go: an error of third
/// order in the impulse does not count.
const SHORT: f64 = 2e-4;

/// An impact takes some twenty steps, and up to a few thousand where a slip creeps
/// to its end; one that has not ended after this many is jammed under the nose,
/// which only happens with frictions no table has.
const MOST_STEPS: u32 = 10_000;

/// Slips x and y at the nose, x and y at the bed, and the work done on the nose.
pub(super) type State = [f64; 5];

/// The two parts of an impact.
#[derive(Clone, Copy, PartialEq)]
enum Phase {
    /// Until the approach stops.
    Compression,
    /// Until the work on the nose has fallen to this.
    Restitution(f64),
}

/// The independent variable.
#[derive(Clone, Copy, PartialEq)]
pub(super) enum Clock {
    /// The normal speed, which falls: a step lands on the end of compression.
    Speed,
    /// The impulse, run slower by the root of each slip that vanishes (at the
    /// nose, at the bed). The direction of such a slip turns ever faster toward
    /// its end; against this clock a straight one is a parabola.
    Slip(bool, bool),
}

/// All that follows from the state at one moment.
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
    /// Whether a slip starts from nil.
    fn starts(&self) -> bool {
        let starts =
            |grip: Grip, slip: DVec2| matches!(grip, Grip::Slips(_)) && slip.length() < 1e-7;
        starts(self.nose, self.slips.nose) || starts(self.bed, self.slips.bed)
    }

    /// Impulse over which the first of the two slips doubles, as things are going.
    fn doubling(&self) -> f64 {
        let doubling = |grip: Grip, slip: DVec2, rate: DVec2| match grip {
            Grip::Slips(direction) if direction.dot(rate) > 0.0 => {
                slip.length() / direction.dot(rate)
            }
            _ => f64::INFINITY,
        };
        doubling(self.nose, self.slips.nose, self.rates.nose).min(doubling(
            self.bed,
            self.slips.bed,
            self.rates.bed,
        ))
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

    /// The smaller of the shares to which the two slips have shrunk at `end`.
    fn shrunk(&self, end: &Self) -> f64 {
        let share = |before: DVec2, after: DVec2| {
            let (before, after) = (before.length(), after.length());
            if after < before { after / before } else { 1.0 }
        };
        share(self.slips.nose, end.slips.nose).min(share(self.slips.bed, end.slips.bed))
    }
}

/// An impact under way.
pub(super) struct Impact<'a> {
    pub contacts: &'a Contacts,
    pub precision: Precision,
    phase: Phase,
    pub state: State,
    pub nose: Grip,
    pub bed: Grip,
    /// Impulse over which the next step is tried.
    pub step: f64,
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
    let (nose, bed) = (slips.nose, slips.bed);
    let mut impact = Impact {
        contacts,
        precision,
        phase: Phase::Compression,
        state: [nose.x, nose.y, bed.x, bed.y, 0.0],
        nose: Grip::Slips(DVec2::ZERO),
        bed: Grip::Slips(DVec2::ZERO),
        step: FIRST_STEP,
    };
    impact.choose_grips();
    impact.run()?;
    let stored = impact.state[4];
    impact.phase = Phase::Restitution(stored * (1.0 - restitution * restitution));
    impact.run()?;
    Some(slips_of(&impact.state))
}

/// The slips in a state.
pub(super) fn slips_of(s: &State) -> Slips {
    Slips { nose: DVec2::new(s[0], s[1]), bed: DVec2::new(s[2], s[3]) }
}

impl Impact<'_> {
    /// Integrates to the end of the phase. None if the ball jams.
    fn run(&mut self) -> Option<()> {
        for _ in 0..MOST_STEPS {
            let moment = self.moment(&self.state);
            let left = self.impulse_left(&moment, self.state[4]);
            let ends = self.slip_ends(&moment);
            let smooth = moment.turn(left) < 1e-4 && ends.0.min(ends.1) > 2.0 * left;
            if left.abs() < SHORT && (smooth || left.abs() < 1e-10) {
                self.state = self.drifted(moment.nose, moment.bed, left);
                return Some(());
            }
            if !self.finish_slip(&moment, ends, left) && !self.creep(&moment, left) {
                self.advance(&moment, ends, left);
            }
        }
        None
    }

    /// Tries one step, no further than the impulse `left` to the end of the phase.
    /// The slips vanish after the impulses `ends`.
    fn advance(&mut self, moment: &Moment, ends: (f64, f64), left: f64) {
        let (nose_ends, bed_ends) = (ends.0 < left, ends.1 < left);
        let slows = moment.speed_rate < -0.2 * self.contacts.cosine;
        let clock = if slows && !nose_ends && !bed_ends {
            Clock::Speed
        } else {
            Clock::Slip(nose_ends, bed_ends)
        };
        let pace = self.pace(clock, moment);
        let starts = moment.starts();
        let most = if starts { STARTING_STEP } else { MOST_GROWTH * moment.doubling() };
        let tried = self.step.min(left.abs()).min(most).copysign(left) / pace;
        let rates = self.timed_rates(clock, &self.state);
        let step = step(&self.state, &rates, tried, |s| self.timed_rates(clock, s));
        // The finer estimate trusts in smoothness.
        let error = if starts { step.error.max(10.0 * step.coarse) } else { step.error };
        let (accepted, next) = adapt(tried, error, self.precision.tolerance);
        let next = next.abs() * pace;
        if !accepted {
            self.step = next;
            return;
        }
        let end = self.moment(&step.end);
        let spare = self.spare(&end);
        if spare < 0.0 && self.impulse_left(&end, step.end[4]) < 0.0 {
            // Beyond the end of the phase nothing counts.
            self.step = 0.5 * left.abs();
        } else if spare < 0.0 {
            self.break_hold(clock, &rates, tried, spare);
        } else if self.passes_a_break(&step.end, spare, &rates, clock, tried, pace) {
            self.step = 0.25 * tried * pace;
        } else {
            self.state = step.end;
            // The next step follows a slip that vanishes before its error shows,
            // and forgets a step that was short only because little was left.
            let next = if self.step > left { self.step.max(next) } else { next };
            self.step = next * moment.shrunk(&end);
            if self.loses_a_slip(moment, &end) {
                self.choose_grips();
            }
        }
    }

    /// All that follows from a state.
    #[inline]
    pub fn moment(&self, s: &State) -> Moment {
        let slips = slips_of(s);
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

    /// Impulse for each unit of the clock's time.
    #[inline]
    fn pace(&self, clock: Clock, moment: &Moment) -> f64 {
        match clock {
            Clock::Speed => -1.0 / moment.speed_rate,
            Clock::Slip(nose, bed) => {
                let nose = if nose { moment.slips.nose.length() } else { 1.0 };
                let bed = if bed { moment.slips.bed.length() } else { 1.0 };
                (nose * bed).sqrt()
            }
        }
    }

    /// Change of the state for each unit of the clock's time.
    #[inline]
    pub fn timed_rates(&self, clock: Clock, s: &State) -> State {
        let moment = self.moment(s);
        let pace = self.pace(clock, &moment);
        let Slips { nose, bed } = moment.rates;
        [nose.x, nose.y, bed.x, bed.y, self.contacts.cosine * moment.speed].map(|rate| rate * pace)
    }

    /// Impulse to the end of the phase if the normal speed went on changing evenly.
    fn impulse_left(&self, moment: &Moment, work: f64) -> f64 {
        let (speed, slowing) = (moment.speed, -moment.speed_rate);
        match self.phase {
            Phase::Compression if slowing > 0.0 => speed / slowing,
            Phase::Compression => f64::INFINITY,
            Phase::Restitution(goal) => {
                let work = (work - goal) / self.contacts.cosine;
                let end_speed_squared = speed * speed + 2.0 * slowing * work;
                if end_speed_squared < 0.0 {
                    return f64::INFINITY;
                }
                let sum = end_speed_squared.sqrt() - speed;
                if sum > 0.0 { 2.0 * work / sum } else { 0.0 }
            }
        }
    }

    /// The present state after a short `impulse` under these grips, the direction
    /// of a slip taken as it is half way.
    pub fn drifted(&self, nose: Grip, bed: Grip, impulse: f64) -> State {
        let half = slips_of(&self.moved(nose, bed, 0.5 * impulse));
        self.moved(self.grip_at(nose, half.nose), self.grip_at(bed, half.bed), impulse)
    }

    /// The moment with the rates that belong to its grips.
    pub fn with_rates(&self, moment: Moment) -> Moment {
        let frictions = self.contacts.frictions(moment.nose, moment.bed);
        let rates = self.contacts.slip_rates(frictions.nose, frictions.bed);
        let speed_rate = (rates.bed.y - rates.nose.y) / (1.0 + self.contacts.sine);
        Moment { frictions, rates, speed_rate, ..moment }
    }

    /// The present state after `impulse` under grips that do not change.
    pub fn moved(&self, nose: Grip, bed: Grip, impulse: f64) -> State {
        let moment = self.with_rates(Moment { nose, bed, ..self.moment(&self.state) });
        let nose = moment.slips.nose + moment.rates.nose * impulse;
        let bed = moment.slips.bed + moment.rates.bed * impulse;
        let path = (moment.speed + 0.5 * moment.speed_rate * impulse) * impulse;
        [nose.x, nose.y, bed.x, bed.y, self.state[4] + self.contacts.cosine * path]
    }
}
