//! Slips that start, creep and vanish at nose and bed, and holds that break.

use super::course::SlipCourse;
use super::grip::{Contacts, Grip, HOLDS, Slips};
use super::impact::{Impact, Moment};
use super::vanish::Lone;
use glam::DVec2;

/// Only a slip below this share of the ball's speed is taken to its end at once.
const FINISHES_BELOW: f64 = 0.01;

/// A hold that comes this close to its limit may have broken unseen.
const NARROW_HOLD: f64 = 0.01;

/// How far an end is off for the way in which the other slip turns (tuning choice).
const TURN_ERROR: f64 = 0.05;

/// The same where the vanishing slip itself turns.
const BEND_ERROR: f64 = 0.05;

/// Above this share of the ball's speed a slip no longer creeps.
const CREEPS_BELOW: f64 = 1e-5;

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
        let slips = self.slips;
        let nose_still = slips.nose.length() <= self.precision.no_slip;
        let bed_still = slips.bed.length() <= self.precision.no_slip;
        if nose_still {
            self.nose = HOLDS;
        }
        if bed_still {
            self.bed = HOLDS;
        }
        if bed_still && self.contacts.bed_spare(&self.moment(&self.slips).frictions) < 0.0 {
            self.bed = Grip::Slips(self.starting_slip(&self.slips, false));
        }
        if nose_still && self.contacts.nose_spare(&self.moment(&self.slips).frictions) < 0.0 {
            self.nose = Grip::Slips(self.starting_slip(&self.slips, true));
        }
    }

    /// Whether a slip has become nil since that moment.
    pub fn loses_a_slip(&self, before: &Moment) -> bool {
        let nil = |slip: DVec2| slip.length() <= self.precision.no_slip;
        let lost = |grip: Grip, before: DVec2, after: DVec2| {
            matches!(grip, Grip::Slips(_)) && nil(after) && !nil(before)
        };
        lost(self.nose, before.slips.nose, self.slips.nose)
            || lost(self.bed, before.slips.bed, self.slips.bed)
    }

    /// The direction in which a slip that starts from nil, at the nose or at the
    /// bed, grows: the one whose friction leaves a change of slip along itself.
    fn starting_slip(&self, slips: &Slips, at_nose: bool) -> DVec2 {
        let mut guess = DVec2::ZERO;
        for _ in 0..60 {
            let (rates, mu) = self.growth(slips, at_nose, guess);
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
    fn growth(&self, slips: &Slips, at_nose: bool, direction: DVec2) -> (DVec2, f64) {
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

    /// Takes a slip that is nearly gone to its end at once, if that is good enough
    /// and happens before the phase ends, over the impulse `left`.
    pub fn finish_slip(&mut self, moment: &Moment, left: f64) -> bool {
        let shrinks = |grip: Grip, slip: DVec2, rate: DVec2| {
            matches!(grip, Grip::Slips(_))
                && slip.length_squared() < FINISHES_BELOW * FINISHES_BELOW
                && slip.dot(rate) < 0.0
        };
        let at_nose = shrinks(moment.nose, moment.slips.nose, moment.rates.nose);
        if !at_nose && !shrinks(moment.bed, moment.slips.bed, moment.rates.bed) {
            return false;
        }
        let slip = if at_nose { moment.slips.nose } else { moment.slips.bed };
        let Some((impulse, _)) = moment.lone(self.contacts, at_nose).end(slip) else {
            return false;
        };
        if impulse >= left {
            return false;
        }
        // The other slip's direction as it is half way, and at the end.
        let follows = Grip::Follows(-slip / impulse);
        let (nose, bed) = if at_nose { (follows, moment.bed) } else { (moment.nose, follows) };
        let half = self.moment(&self.moved(nose, bed, 0.5 * impulse).0);
        let full = self.moment(&self.moved(nose, bed, impulse).0);
        let mixed = if at_nose {
            Moment { bed: half.bed, ..*moment }
        } else {
            Moment { nose: half.nose, ..*moment }
        };
        let Some((better, doubt)) = self.with_rates(mixed).lone(self.contacts, at_nose).end(slip)
        else {
            return false;
        };
        let turn = if at_nose {
            turned(bed, half.bed).max(0.5 * turned(bed, full.bed))
        } else {
            turned(nose, half.nose).max(0.5 * turned(nose, full.nose))
        };
        let rate = if at_nose { moment.rates.nose } else { moment.rates.bed };
        let bend = slip.perp_dot(rate).abs() / slip.length();
        let error = doubt
            + better * (TURN_ERROR * turn * (turn + better) + BEND_ERROR * bend * (turn + better));
        if error > self.precision.finish && slip.length() > self.precision.no_slip {
            return false;
        }
        self.end_slip(at_nose, moment, better);
        true
    }

    /// Takes the slip at one contact to nil over `impulse`.
    fn end_slip(&mut self, at_nose: bool, moment: &Moment, impulse: f64) {
        let (nose, bed) = if at_nose {
            (Grip::Follows(-moment.slips.nose / impulse), moment.bed)
        } else {
            (moment.nose, Grip::Follows(-moment.slips.bed / impulse))
        };
        let (slips, path) = self.drifted(nose, bed, impulse);
        self.slips = slips;
        self.pass_short(path);
        let slip = if at_nose { &mut self.slips.nose } else { &mut self.slips.bed };
        *slip = DVec2::ZERO;
        self.choose_grips();
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

    /// Where on the course, up to `reach`, a hold first breaks, or the ball lifts
    /// off the bed or comes down on it.
    pub fn first_break(&self, course: &SlipCourse, moment: &Moment, reach: f64) -> Option<f64> {
        let holds = |grip| matches!(grip, Grip::Follows(_));
        let (nose_holds, bed_holds) = (holds(self.nose), holds(self.bed));
        let may_lift = self.contacts.nose_friction * self.contacts.cosine >= self.contacts.sine;
        if nose_holds && bed_holds || !nose_holds && !bed_holds && !may_lift {
            return None;
        }
        let pressed = moment.frictions.bed_press > 0.0;
        let spare = |time: f64| {
            let at = self.moment(&course.slips(time));
            let press = match at.nose {
                Grip::Slips(direction) if may_lift && !bed_holds => {
                    let press = self.contacts.press(direction);
                    if pressed { press } else { -press }
                }
                _ => f64::INFINITY,
            };
            self.spare(&at).min(press)
        };
        let (start, end) = (spare(0.0), spare(reach));
        if end < 0.0 {
            return Some(break_within(&spare, (0.0, start), (reach, end)));
        }
        // A hold may break and be whole again within the course.
        let (mut at, mut least) = (0.0, start.min(end));
        for k in 1..4 {
            let time = 0.25 * f64::from(k) * reach;
            let there = spare(time);
            if there < least {
                (at, least) = (time, there);
            }
        }
        if at == 0.0 || least > NARROW_HOLD {
            return None;
        }
        let mut width = 0.125 * reach;
        while least >= 0.0 && width > 1e-4 * reach {
            for time in [at - width, at + width] {
                let there = spare(time);
                if there < least {
                    (at, least) = (time, there);
                }
            }
            width *= 0.5;
        }
        (least < 0.0).then(|| break_within(&spare, (0.0, start), (at, least)))
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
        let end = self.drifted(nose, bed, impulse).0;
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
        let (slips, path) = self.drifted(nose, bed, impulse);
        self.slips = slips;
        self.pass_short(path);
        if at_nose {
            self.nose = Grip::Slips(lagging);
        } else {
            self.bed = Grip::Slips(lagging);
        }
        true
    }
}

/// A time between `low` and `high`, given with what is spare there, at which a little
/// less than nothing is spare.
fn break_within(spare: &impl Fn(f64) -> f64, low: (f64, f64), high: (f64, f64)) -> f64 {
    let (mut low, mut high) = (low, high);
    for _ in 0..60 {
        // Regula falsi with the far end's weight halved (Illinois), aimed a little
        // beyond the break.
        let at = high.0 - (high.1 + 3e-8) * (high.0 - low.0) / (high.1 - low.1);
        let at = if at > low.0 && at < high.0 { at } else { 0.5 * (low.0 + high.0) };
        let left = spare(at);
        if left < 0.0 && left > -1e-7 {
            return at;
        }
        if left < 0.0 {
            high = (at, left);
            low.1 *= 0.5;
        } else {
            low = (at, left);
            high.1 *= 0.5;
        }
    }
    high.0
}

/// By how much the direction of a slip turns between two moments.
fn turned(before: Grip, after: Grip) -> f64 {
    match (before, after) {
        (Grip::Slips(before), Grip::Slips(after)) => (after - before).length(),
        _ => 0.0,
    }
}

impl Moment {
    /// The law of the slip at the nose, or at the bed, with the other's direction
    /// as it is.
    pub fn lone(&self, contacts: &Contacts, at_nose: bool) -> Lone {
        let press = self.frictions.bed_press;
        if at_nose {
            Lone::nose(contacts, self.bed, press > 0.0)
        } else {
            Lone::bed(contacts, self.nose, press)
        }
    }
}
