//! Slips that start, creep and vanish at nose and bed, and holds that break.

use super::cushion_impact::{Clock, FIRST_STEP, Impact, Moment, State, slips_of};
use super::grip::{Grip, HOLDS};
use super::ode::step;
use glam::DVec2;

/// By which share the course of a vanishing slip that is not straight errs (tuning
/// choice: friction at the nose is stronger along it by a third than across).
const BEND_SHARE: f64 = 0.1;

/// A hold that comes this close to its limit may have broken unseen.
const NARROW_HOLD: f64 = 0.01;

/// A step of less impulse than this passes over no break that matters.
const NARROW_STEP: f64 = 0.01;

/// Above this share of the ball's speed a slip no longer creeps.
const CREEPS_BELOW: f64 = 1e-4;

/// Below this one its direction is of no account.
const SETTLES_BELOW: f64 = 1e-8;

/// A slip creeps while it grows by less than this share of its friction.
const CREEPS_SLOWER: f64 = 0.25;

/// The same for a slip that shrinks: faster, and it soon vanishes.
const SHRINKS_SLOWER: f64 = 0.1;

/// A creep's step is shortened where the other slip turns by more than a radian
/// over this impulse (tuning choice).
const CREEP_TURN: f64 = 1.0 / 15.0;

impl Impact<'_> {
    /// Settles, for each contact whose slip is nil, whether it holds or in which
    /// direction it starts to slip.
    pub fn choose_grips(&mut self) {
        let slips = slips_of(&self.state);
        let nose_still = slips.nose.length() <= self.precision.no_slip;
        let bed_still = slips.bed.length() <= self.precision.no_slip;
        if nose_still {
            self.nose = HOLDS;
        }
        if bed_still {
            self.bed = HOLDS;
        }
        if bed_still && self.contacts.bed_spare(&self.moment(&self.state).frictions) < 0.0 {
            self.bed = Grip::Slips(self.starting_slip(&self.state, false));
        }
        if nose_still && self.contacts.nose_spare(&self.moment(&self.state).frictions) < 0.0 {
            self.nose = Grip::Slips(self.starting_slip(&self.state, true));
        }
    }

    /// Whether a slip has become nil between two moments.
    pub fn loses_a_slip(&self, before: &Moment, after: &Moment) -> bool {
        let nil = |slip: DVec2| slip.length() <= self.precision.no_slip;
        let lost = |grip: Grip, before: DVec2, after: DVec2| {
            matches!(grip, Grip::Slips(_)) && nil(after) && !nil(before)
        };
        lost(self.nose, before.slips.nose, after.slips.nose)
            || lost(self.bed, before.slips.bed, after.slips.bed)
    }

    /// The direction in which a slip that starts from nil, at the nose or at the
    /// bed, grows: the one whose friction leaves a change of slip along itself.
    fn starting_slip(&self, state: &State, at_nose: bool) -> DVec2 {
        let mut guess = DVec2::ZERO;
        for _ in 0..60 {
            let (rates, mu) = self.growth(state, at_nose, guess);
            // Friction turns against the slip some 3.5-fold: adding that back
            // makes the iteration contract.
            let next = (rates + guess * (3.5 * mu)).normalize_or_zero();
            if (next - guess).length() < 1e-14 {
                break;
            }
            guess = next;
        }
        guess
    }

    /// How a nil slip grows under friction along `direction`, and how strong that
    /// friction is.
    fn growth(&self, state: &State, at_nose: bool, direction: DVec2) -> (DVec2, f64) {
        let slips = slips_of(state);
        let trial = Grip::Slips(direction);
        let (nose, bed) = if at_nose {
            (trial, self.grip_at(self.bed, slips.bed))
        } else {
            (self.grip_at(self.nose, slips.nose), trial)
        };
        let frictions = self.contacts.frictions(nose, bed);
        let rates = self.contacts.slip_rates(frictions.nose, frictions.bed);
        if at_nose {
            (rates.nose, self.contacts.nose_friction)
        } else {
            (rates.bed, self.contacts.bed_friction * frictions.bed_press)
        }
    }

    /// Impulses over which the slips at nose and bed vanish, as things are going.
    pub fn slip_ends(&self, moment: &Moment) -> (f64, f64) {
        let none = Grip::Slips(DVec2::ZERO);
        let ends = |grip: Grip, slip: DVec2, rate: DVec2, free: &dyn Fn() -> DVec2| match grip {
            Grip::Slips(direction) => slip_end(direction, slip.length(), rate, free),
            Grip::Follows(_) => f64::INFINITY,
        };
        let free = |nose, bed| {
            let frictions = self.contacts.frictions(nose, bed);
            self.contacts.slip_rates(frictions.nose, frictions.bed)
        };
        (
            ends(moment.nose, moment.slips.nose, moment.rates.nose, &|| {
                free(none, moment.bed).nose
            }),
            ends(moment.bed, moment.slips.bed, moment.rates.bed, &|| free(moment.nose, none).bed),
        )
    }

    /// Takes the slip that vanishes first to its end at once, if that is good
    /// enough and happens before the phase ends, over the impulse `left`.
    pub fn finish_slip(&mut self, moment: &Moment, ends: (f64, f64), left: f64) -> bool {
        let impulse = ends.0.min(ends.1);
        if impulse >= left {
            return false;
        }
        let at_nose = ends.0 < ends.1;
        let (slip, rate) = if at_nose {
            (moment.slips.nose, moment.rates.nose)
        } else {
            (moment.slips.bed, moment.rates.bed)
        };
        // How far the vanishing slip is from a straight course.
        let bend = (1.0 + slip.dot(rate) * impulse / slip.length_squared()).abs();
        let tiny = slip.length() <= self.precision.no_slip;
        if BEND_SHARE * impulse * bend > self.precision.finish && !tiny {
            return false;
        }
        // The other slip's direction as it is, as it is half way, and at the end.
        let follows = Grip::Follows(-slip / impulse);
        let (nose, bed) = if at_nose { (follows, moment.bed) } else { (moment.nose, follows) };
        let half = self.moment(&self.moved(nose, bed, 0.5 * impulse));
        let full = self.moment(&self.moved(nose, bed, impulse));
        let turn = if at_nose {
            turned(bed, half.bed).max(0.5 * turned(bed, full.bed))
        } else {
            turned(nose, half.nose).max(0.5 * turned(nose, full.nose))
        };
        if impulse * turn * (turn + 0.1 * impulse) > self.precision.finish && !tiny {
            return false;
        }
        let mixed = if at_nose {
            self.with_rates(Moment { bed: half.bed, ..*moment })
        } else {
            self.with_rates(Moment { nose: half.nose, ..*moment })
        };
        let ends = self.slip_ends(&mixed);
        let better = if at_nose { ends.0 } else { ends.1 };
        let impulse = if better.is_finite() { better } else { impulse };
        self.end_slip(at_nose, moment, impulse);
        true
    }

    /// Takes the slip at one contact to nil over `impulse`.
    fn end_slip(&mut self, at_nose: bool, moment: &Moment, impulse: f64) {
        let (nose, bed) = if at_nose {
            (Grip::Follows(-moment.slips.nose / impulse), moment.bed)
        } else {
            (moment.nose, Grip::Follows(-moment.slips.bed / impulse))
        };
        self.state = self.drifted(nose, bed, impulse);
        let nil = if at_nose { 0 } else { 2 };
        (self.state[nil], self.state[nil + 1]) = (0.0, 0.0);
        self.choose_grips();
        self.step = FIRST_STEP;
    }

    /// Friction to spare at the contact that holds most narrowly.
    pub fn spare(&self, moment: &Moment) -> f64 {
        let nose = match self.nose {
            Grip::Follows(_) => self.contacts.nose_spare(&moment.frictions),
            Grip::Slips(_) => f64::INFINITY,
        };
        let bed = match self.bed {
            Grip::Follows(_) => self.contacts.bed_spare(&moment.frictions),
            Grip::Slips(_) => f64::INFINITY,
        };
        nose.min(bed)
    }

    /// Goes on to where a hold breaks within the step just tried.
    pub fn break_hold(&mut self, clock: Clock, rates: &State, tried: f64, broken: f64) {
        let spare = |s: &State| self.spare(&self.moment(s));
        let (mut low, mut high) = ((0.0, spare(&self.state)), (tried, broken));
        let mut end = self.state;
        for _ in 0..50 {
            // Regula falsi with the far end's weight halved (Illinois), aimed a
            // little beyond the break.
            let at = high.0 - (high.1 + 3e-8) * (high.0 - low.0) / (high.1 - low.1);
            let at = if at > low.0 && at < high.0 { at } else { 0.5 * (low.0 + high.0) };
            end = step(&self.state, rates, at, |s| self.timed_rates(clock, s)).end;
            let left = spare(&end);
            if left < 0.0 && left > -1e-7 {
                break;
            }
            if left < 0.0 {
                high = (at, left);
                low.1 *= 0.5;
            } else {
                low = (at, left);
                high.1 *= 0.5;
            }
        }
        self.state = end;
        self.choose_grips();
    }

    /// Whether a hold comes so close to breaking within the step just tried, and
    /// not at its end, where there is friction to `spare`, that the step may have
    /// passed over a break.
    pub fn passes_a_break(
        &self,
        end: &State,
        spare: f64,
        rates: &State,
        clock: Clock,
        tried: f64,
        pace: f64,
    ) -> bool {
        if spare == f64::INFINITY || (tried * pace).abs() < NARROW_STEP {
            return false;
        }
        let end_spare = spare;
        let end_rates = self.timed_rates(clock, end);
        let spare = |t: f64| {
            // The cubic through both ends and their rates.
            let (u, v) = (t * t * (3.0 - 2.0 * t), t * (1.0 - t) * tried);
            let at: State = std::array::from_fn(|i| {
                let chord = self.state[i] + (end[i] - self.state[i]) * u;
                chord + v * ((1.0 - t) * rates[i] - t * end_rates[i])
            });
            self.spare(&self.moment(&at))
        };
        let least = spare(0.25).min(spare(0.5)).min(spare(0.75));
        least < NARROW_HOLD && least < spare(0.0) && least < end_spare
    }

    /// The contact, if any, whose slip creeps: friction all but balances what
    /// drives it, so that its direction keeps turning with the balance. (The
    /// equation is stiff there.)
    fn creeping(&self, moment: &Moment) -> Option<bool> {
        let creeps = |grip: Grip, slip: DVec2, rate: DVec2, friction: DVec2| {
            let Grip::Slips(direction) = grip else {
                return false;
            };
            let (growth, strength) = (rate.dot(direction), 3.5 * friction.length());
            let slowly = growth < CREEPS_SLOWER * strength && growth > -SHRINKS_SLOWER * strength;
            // A slip next to nil turns into the balance at once.
            let at_once =
                slip.length() < SETTLES_BELOW && rate.length() < SHRINKS_SLOWER * strength;
            let settled = direction.perp_dot(rate).abs() < 1e-3;
            slip.length() < CREEPS_BELOW && (slowly && settled || at_once)
        };
        let frictions = &moment.frictions;
        if creeps(moment.nose, moment.slips.nose, moment.rates.nose, frictions.nose) {
            Some(true)
        } else {
            creeps(moment.bed, moment.slips.bed, moment.rates.bed, frictions.bed).then_some(false)
        }
    }

    /// Lets a slip that creeps do so for one step, no longer than the impulse
    /// `left`. False if none creeps.
    pub fn creep(&mut self, moment: &Moment, left: f64) -> bool {
        let Some(at_nose) = self.creeping(moment).filter(|_| left > 0.0) else {
            return false;
        };
        let impulse = (self.precision.creep / moment.turn(CREEP_TURN).max(1.0)).min(left);
        let (grip, slip, rate) = if at_nose {
            (moment.nose, moment.slips.nose, moment.rates.nose)
        } else {
            (moment.bed, moment.slips.bed, moment.rates.bed)
        };
        let Grip::Slips(start) = grip else {
            return false;
        };
        let follows = |rate: DVec2| {
            if at_nose {
                (Grip::Follows(rate), moment.bed)
            } else {
                (moment.nose, Grip::Follows(rate))
            }
        };
        let growth = rate.dot(start);
        let (nose, bed) = follows(start * growth);
        let end = self.drifted(nose, bed, impulse);
        let direction = self.starting_slip(&end, at_nose);
        let (end_rate, friction) = self.growth(&end, at_nose, direction);
        let end_growth = end_rate.dot(direction);
        let growth = 0.5 * (growth + end_growth);
        let size = slip.length() + growth * impulse;
        if size <= 0.0 {
            self.end_slip(at_nose, moment, slip.length() / -growth);
            return true;
        }
        // The direction lags behind the one that is in balance.
        let lag = size / (size + (3.5 * friction + end_growth) * impulse);
        let lagging = (direction - (direction - start) * lag).normalize_or_zero();
        let (nose, bed) = follows((lagging * size - slip) / impulse);
        self.state = self.drifted(nose, bed, impulse);
        if at_nose {
            self.nose = Grip::Slips(lagging);
        } else {
            self.bed = Grip::Slips(lagging);
        }
        self.step = impulse;
        true
    }
}

/// Impulse over which the slip of length `size` along `direction` vanishes, or
/// infinity. It changes at `rate`, and at the rate `free` were there no friction.
///
/// A slip a under friction of even strength k and an even push g, a' = g - k a/|a|,
/// keeps k |a| + g . a falling evenly, at k^2 - g^2, to nil.
fn slip_end(direction: DVec2, size: f64, rate: DVec2, free: &dyn Fn() -> DVec2) -> f64 {
    let shrinking = -rate.dot(direction);
    if shrinking <= 0.0 {
        return f64::INFINITY;
    }
    let across = direction.perp_dot(rate);
    if across.abs() <= 1e-10 * shrinking {
        return size / shrinking;
    }
    let strength = direction.dot(free() - rate);
    let with_push = 2.0 * strength - shrinking;
    let even = shrinking - across * across / with_push;
    if with_push > 0.0 && even > 0.0 { size / even } else { f64::INFINITY }
}

/// By how much the direction of a slip turns between two moments.
fn turned(before: Grip, after: Grip) -> f64 {
    match (before, after) {
        (Grip::Slips(before), Grip::Slips(after)) => (after - before).length(),
        _ => 0.0,
    }
}
