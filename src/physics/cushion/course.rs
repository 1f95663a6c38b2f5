//! The course of the two slips of an impact over a step, as power series.
//!
//! The series run in a time of their own, in which the impulse passes at the pace
//! of one of the slips: against it that slip vanishes only in the infinite, and the
//! series reach far.

use super::grip::{Contacts, Slips};
use super::laws::{Frictions, Law, LoneSlip, Slipping, Start, pair_of};
use super::series::{
    NEXT, NO_PAIRS, ORDER, Pair, Pairs, both, first, integral_of_product, pair, reach, second, sum,
    values, values_and_slopes,
};
use glam::DVec2;

/// The slips over one step.
pub(super) struct SlipCourse {
    nose: Pairs,
    bed: Pairs,
    /// Impulse for each unit of time, and speed into the cushion.
    motion: Pairs,
    /// Up to here the law that it follows is sure to hold.
    longest: f64,
}

/// A step goes no further than this, even of a series that does not end.
const LONGEST_STEP: f64 = 50.0;

/// Does something with each order below [`ORDER`] as a constant, which lets the
/// compiler take all sums apart.
macro_rules! for_each_order {
    (|$order:ident| $body:expr) => {
        for_each_order!(|$order| $body, 0 1 2 3 4 5 6 7 8 9 10 11 12 13 14 15)
    };
    (|$order:ident| $body:expr, $($value:literal)*) => {
        $({
            const $order: usize = $value;
            $body;
        })*
    };
}

impl SlipCourse {
    /// Both slips change evenly, at `rates` for each unit of impulse.
    pub fn even(contacts: &Contacts, slips: &Slips, rates: &Slips) -> Self {
        let mut course = Self::start(slips);
        course.nose[1] = pair_of(rates.nose);
        course.bed[1] = pair_of(rates.bed);
        course.motion[0] = both(1.0);
        course.add_speed(contacts);
        course
    }

    /// Both slip, and the ball presses on the bed. The impulse passes at the pace
    /// of the slip at the nose or at the bed.
    pub fn both_slip<const AT_NOSE: bool>(contacts: &Contacts, slips: &Slips) -> Self {
        let mut course = Self::start(slips);
        course.follow(contacts, &mut Frictions::<AT_NOSE>::new(contacts, slips));
        course
    }

    /// Both slip, one of them from nil, the impulse passing at the pace of the
    /// other one: `rates` are the slips' rates for each unit of impulse.
    pub fn one_starts<const AT_NOSE: bool>(
        contacts: &Contacts,
        slips: &Slips,
        rates: &Slips,
    ) -> Self {
        let nil = DVec2::ZERO;
        let slips =
            &if AT_NOSE { Slips { bed: nil, ..*slips } } else { Slips { nose: nil, ..*slips } };
        let mut course = Self::start(slips);
        let mut law = Start::<AT_NOSE>::new(contacts, slips, rates);
        if AT_NOSE {
            course.follow(contacts, &mut law);
        } else {
            course.follow_briefly(contacts, &mut law);
        }
        course
    }

    /// One slips. The impulse passes at the pace of its slip.
    pub fn one_slips(contacts: &Contacts, slips: &Slips, slipping: Slipping) -> Self {
        let mut course = Self::start(slips);
        course.follow(contacts, &mut LoneSlip::new(contacts, slipping));
        course
    }

    fn start(slips: &Slips) -> Self {
        let mut course =
            Self { nose: NO_PAIRS, bed: NO_PAIRS, motion: NO_PAIRS, longest: LONGEST_STEP };
        course.nose[0] = pair_of(slips.nose);
        course.bed[0] = pair_of(slips.bed);
        course
    }

    fn add_speed(&mut self, contacts: &Contacts) {
        let share = 1.0 / (1.0 + contacts.sine);
        for (motion, (nose, bed)) in self.motion.iter_mut().zip(self.nose.iter().zip(&self.bed)) {
            *motion = pair(first(*motion), share * second(*bed - *nose));
        }
    }

    #[inline(always)]
    fn follow(&mut self, contacts: &Contacts, law: &mut impl Law) {
        for_each_order!(|K| self.add_term(law, K));
        self.add_speed(contacts);
    }

    /// The same for a law that is seldom followed, in less code. (A slip that starts
    /// at the nose does; all balls that roll start to slip at the bed.)
    fn follow_briefly(&mut self, contacts: &Contacts, law: &mut impl Law) {
        for k in 0..ORDER {
            self.add_term(law, k);
        }
        self.add_speed(contacts);
    }

    #[inline(always)]
    fn add_term(&mut self, law: &mut impl Law, k: usize) {
        let rates = law.rates(&self.nose, &self.bed, k);
        self.motion[k] = rates.pace;
        self.nose[k + 1] = rates.nose * both(NEXT[k]);
        self.bed[k + 1] = rates.bed * both(NEXT[k]);
    }

    /// The same, but sure to hold only up to `longest`.
    pub fn no_longer_than(self, longest: f64) -> Self {
        Self { longest, ..self }
    }

    /// How far the series go for an error of `tolerance`, and the law holds.
    pub fn reach(&self, tolerance: f64) -> f64 {
        let size = |k: usize| sum(self.nose[k].abs() + self.bed[k].abs());
        reach(size(ORDER - 1), size(ORDER), tolerance).min(self.longest)
    }

    /// The slips at `t`.
    pub fn slips(&self, t: f64) -> Slips {
        let [nose, bed] = [values(&self.nose, t), values(&self.bed, t)].map(Pair::to_array);
        Slips { nose: nose.into(), bed: bed.into() }
    }

    /// The speed into the cushion now.
    pub fn speed_at_start(&self) -> f64 {
        second(self.motion[0])
    }

    /// The speed into the cushion at `t`, its slope, and half of the slope's.
    pub fn speed(&self, t: f64) -> [f64; 3] {
        values_and_slopes(&self.motion, t).map(second)
    }

    /// The path into the cushion from `since` to `until`, in the units of speed times
    /// impulse.
    pub fn path(&self, since: f64, until: f64) -> f64 {
        integral_of_product(&self.motion, since, until)
    }

    /// The slope of the path at `t`, and half of that slope's.
    pub fn path_slopes(&self, t: f64) -> [f64; 2] {
        let [now, slope, _] = values_and_slopes(&self.motion, t).map(Pair::to_array);
        [now[0] * now[1], 0.5 * (slope[0] * now[1] + now[0] * slope[1])]
    }
}
