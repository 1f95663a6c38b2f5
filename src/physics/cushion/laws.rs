//! The laws that the slips' series follow, term by term.

use super::grip::{Contacts, HOLDS, Slips};
use super::series::{
    NEXT, NO_PAIRS, Pair, Pairs, both, first, pair, products, second, squares, sum,
};
use super::vanish::Lone;
use glam::{DMat2, DVec2};

/// Which contact slips, where the other one does not resist as it slips.
#[derive(Clone, Copy, PartialEq)]
pub(super) enum Slipping {
    /// The nose; the bed holds.
    Nose,
    /// The nose, which lifts the ball off the bed.
    NoseAlone,
    /// The bed; the nose holds.
    Bed,
}

/// What the rates of the slips follow from, as far as the series are known.
pub(super) trait Law {
    /// Term `k` of the rates, where those of the slips are known up to `k`.
    fn rates(&mut self, nose: &Pairs, bed: &Pairs, k: usize) -> Rates;
}

/// Rates against the time of the series.
pub(super) struct Rates {
    pub nose: Pair,
    pub bed: Pair,
    /// Of the impulse, twice.
    pub pace: Pair,
}

pub(super) fn pair_of(vector: DVec2) -> Pair {
    pair(vector.x, vector.y)
}

fn length(vector: Pair) -> f64 {
    sum(vector * vector).sqrt()
}

/// The frictions while both slip, as far as the series are known. The impulse passes
/// at the pace of the slip at the nose, or at the bed.
#[derive(Clone)]
pub(super) struct Frictions<const AT_NOSE: bool> {
    /// Lengths of the slips, or of what takes their place, at nose and bed.
    sizes: Pairs,
    /// Half of the inverse of the lengths now.
    half: Pair,
    /// The length that sets the pace.
    paces: Pairs,
    /// The length that does not, and that slip's direction.
    others: Pairs,
    direction: Pairs,
    /// Friction at the bed for a unit of its direction, or of its slip.
    bed_share: Pairs,
    press: (f64, f64),
    own: Pair,
    nose_cross: Pair,
    bed_cross: Pair,
    push: (Pair, Pair),
}

impl<const AT_NOSE: bool> Frictions<AT_NOSE> {
    pub fn new(contacts: &Contacts, slips: &Slips) -> Self {
        let (own, cross, friction) = (contacts.own(), contacts.cross(), contacts.nose_friction);
        let press = contacts.bed_friction;
        let mut sizes = NO_PAIRS;
        sizes[0] = pair(slips.nose.length(), slips.bed.length());
        Self {
            half: both(0.5) / sizes[0],
            sizes,
            paces: NO_PAIRS,
            others: NO_PAIRS,
            direction: NO_PAIRS,
            bed_share: NO_PAIRS,
            press: (press * contacts.sine, press * contacts.cosine * friction),
            own: pair_of(own * -friction),
            nose_cross: pair_of(-cross),
            bed_cross: pair_of(cross * -friction),
            push: (pair(0.0, contacts.cosine * contacts.sine), pair(0.0, -contacts.cosine)),
        }
    }

    /// Takes in term `k` of the slips, or of what takes their place.
    #[inline(always)]
    fn measure(&mut self, nose: &Pairs, bed: &Pairs, k: usize) {
        if k > 0 {
            let squared = pair(sum(squares(&nose[..=k])), sum(squares(&bed[..=k])));
            self.sizes[k] = (squared - squares(&self.sizes[1..k])) * self.half;
        }
        let (at_nose, at_bed) = (first(self.sizes[k]), second(self.sizes[k]));
        let (pace, other) = if AT_NOSE { (at_nose, at_bed) } else { (at_bed, at_nose) };
        self.paces[k] = both(pace);
        self.others[k] = both(other);
        let vector = if AT_NOSE { bed[k] } else { nose[k] };
        let known = products(&self.others[1..=k], &self.direction[..k]);
        self.direction[k] = (vector - known) / self.others[0];
        self.share(nose, k);
    }

    #[inline(always)]
    fn share(&mut self, nose: &Pairs, k: usize) {
        let (even, lift) = if AT_NOSE {
            (first(self.paces[k]), second(nose[k]))
        } else {
            (if k == 0 { 1.0 } else { 0.0 }, second(self.direction[k]))
        };
        self.bed_share[k] = both(self.press.0 * even + self.press.1 * lift);
    }

    #[inline(always)]
    fn rates_now(&self, nose: &Pairs, bed: &Pairs, k: usize) -> Rates {
        let (at_nose, at_bed) = if AT_NOSE {
            (nose[k], products(&self.bed_share[..=k], &self.direction[..=k]))
        } else {
            (
                products(&self.paces[..=k], &self.direction[..=k]),
                products(&self.bed_share[..=k], &bed[..=k]),
            )
        };
        self.rates_of(at_nose, at_bed, self.paces[k])
    }

    /// The rates under these frictions: that at the nose as a share of its
    /// coefficient.
    #[inline(always)]
    fn rates_of(&self, at_nose: Pair, at_bed: Pair, pace: Pair) -> Rates {
        Rates {
            nose: self.own * at_nose + self.nose_cross * at_bed + self.push.0 * pace,
            bed: self.bed_cross * at_nose - both(3.5) * at_bed + self.push.1 * pace,
            pace,
        }
    }

    /// Changes term `k` of the direction that does not set the pace by as much as
    /// `vector` brings there, and returns what that adds to the rates.
    #[inline(always)]
    fn turn(&mut self, vector: Pair, nose: &Pairs, bed: &Pairs, k: usize) -> Rates {
        let along = sum(self.direction[0] * vector);
        let turn = (vector - self.direction[0] * both(along)) / self.others[0];
        self.direction[k] += turn;
        let size = if AT_NOSE { pair(0.0, along) } else { pair(along, 0.0) };
        self.sizes[k] += size;
        self.others[k] += both(along);
        self.share(nose, k);
        if AT_NOSE {
            self.rates_of(Pair::ZERO, self.bed_share[0] * turn, Pair::ZERO)
        } else {
            let share = both(self.press.1 * second(turn));
            self.rates_of(self.paces[0] * turn, share * bed[0], Pair::ZERO)
        }
    }
}

impl<const AT_NOSE: bool> Law for Frictions<AT_NOSE> {
    #[inline(always)]
    fn rates(&mut self, nose: &Pairs, bed: &Pairs, k: usize) -> Rates {
        self.measure(nose, bed, k);
        self.rates_now(nose, bed, k)
    }
}

/// Both slip, one of them from nil: that one is the impulse times a vector that is
/// not nil and takes its place in the frictions.
pub(super) struct Start<const AT_NOSE: bool> {
    frictions: Frictions<AT_NOSE>,
    vector: Pairs,
    impulse: Pairs,
    /// By how much a term of the vector changes the rate of the same order.
    effect: DMat2,
}

impl<const AT_NOSE: bool> Start<AT_NOSE> {
    pub fn new(contacts: &Contacts, slips: &Slips, rates: &Slips) -> Self {
        let slips = if AT_NOSE {
            Slips { nose: slips.nose, bed: rates.bed }
        } else {
            Slips { nose: rates.nose, bed: slips.bed }
        };
        let (mut nose, mut bed) = (NO_PAIRS, NO_PAIRS);
        (nose[0], bed[0]) = (pair_of(slips.nose), pair_of(slips.bed));
        let mut frictions = Frictions::<AT_NOSE>::new(contacts, &slips);
        frictions.measure(&nose, &bed, 0);
        let column = |term: DVec2| {
            let mut frictions = frictions.clone();
            let rates = frictions.turn(pair_of(term), &nose, &bed, 1);
            DVec2::from((if AT_NOSE { rates.bed } else { rates.nose }).to_array())
        };
        let effect = DMat2::from_cols(column(DVec2::X), column(DVec2::Y));
        Self { frictions, vector: if AT_NOSE { bed } else { nose }, impulse: NO_PAIRS, effect }
    }
}

impl<const AT_NOSE: bool> Law for Start<AT_NOSE> {
    #[inline(always)]
    fn rates(&mut self, nose: &Pairs, bed: &Pairs, k: usize) -> Rates {
        let Self { frictions, vector, impulse, effect } = self;
        let (nose, bed): (&Pairs, &Pairs) = if AT_NOSE { (nose, vector) } else { (vector, bed) };
        if k > 0 {
            frictions.measure(nose, bed, k);
        }
        let mut rates = frictions.rates_now(nose, bed, k);
        impulse[k + 1] = rates.pace * both(NEXT[k]);
        if k > 0 {
            // The vector's own term is not known. Its effect on the rates is even:
            // what they leave without it gives it.
            let order = k as f64 + 1.0;
            let rate = if AT_NOSE { rates.bed } else { rates.nose };
            let known = products(&impulse[2..=k + 1], &vector[..k]);
            let left = DVec2::from((rate - both(order) * known).to_array());
            let scale = DMat2::from_diagonal(DVec2::splat(order * first(impulse[1])));
            let term = pair_of((scale - *effect).inverse() * left);
            let more = frictions.turn(term, nose, bed, k);
            vector[k] = term;
            rates.nose += more.nose;
            rates.bed += more.bed;
        }
        rates
    }
}

/// The law of a slip that is alone: its rates are even in the slip and its size.
pub(super) struct LoneSlip {
    at_bed: bool,
    sizes: Pairs,
    half: f64,
    own: Pair,
    own_push: Pair,
    other: Pair,
    other_push: Pair,
    pace: f64,
    pace_along: f64,
}

impl Law for LoneSlip {
    #[inline(always)]
    fn rates(&mut self, nose: &Pairs, bed: &Pairs, k: usize) -> Rates {
        let slip = if self.at_bed { bed } else { nose };
        let size = if k == 0 {
            let size = length(slip[0]);
            self.half = 0.5 / size;
            size
        } else {
            self.half * (sum(squares(&slip[..=k])) - first(squares(&self.sizes[1..k])))
        };
        self.sizes[k] = both(size);
        let own = self.own * slip[k] + self.own_push * both(size);
        let other = self.other * slip[k] + self.other_push * both(size);
        let (nose, bed) = if self.at_bed { (other, own) } else { (own, other) };
        let pace = both(self.pace * size + self.pace_along * second(slip[k]));
        Rates { nose, bed, pace }
    }
}

impl LoneSlip {
    pub fn new(contacts: &Contacts, slipping: Slipping) -> Self {
        let (lone, other, other_push) = match slipping {
            Slipping::Nose => (Lone::nose(contacts, HOLDS, true), DVec2::ZERO, 0.0),
            Slipping::Bed => (Lone::bed(contacts, HOLDS, 1.0), DVec2::ZERO, 0.0),
            Slipping::NoseAlone => {
                let other = contacts.cross() * -contacts.nose_friction;
                (Lone::nose(contacts, HOLDS, false), other, -contacts.cosine)
            }
        };
        Self {
            at_bed: slipping == Slipping::Bed,
            sizes: NO_PAIRS,
            half: 0.0,
            own: pair(lone.pull.x_axis.x, lone.pull.y_axis.y),
            own_push: pair_of(lone.push),
            other: pair_of(other),
            other_push: pair(0.0, other_push),
            pace: lone.pace,
            pace_along: lone.paces.y,
        }
    }
}
