//! Places on a table, and rails, as bits.

use super::bits::Bits;
use crate::error::Error;
use crate::practice::{Mark, Place, Quantum, marks_of, of_marks};
use crate::table::{Rail, TableCard, TableShape};
use glam::DVec2;

/// The cloth of a table, on which places are told.
pub(super) struct Cloth<'a> {
    card: &'a TableCard,
    /// The least step of each coordinate, and how many there are.
    steps: [(i32, u32); 2],
}

impl<'a> Cloth<'a> {
    /// All steps on which a ball can lie, pockets included.
    pub fn new(card: &'a TableCard) -> Self {
        let shape = TableShape::new(card);
        let steps = [0, 1].map(|axis| {
            let along = shape.outline().iter().map(|corner| corner[axis]);
            let least = Quantum::PLACE.steps(along.clone().fold(0.0, f64::min)) - 1.0;
            let most = Quantum::PLACE.steps(along.fold(0.0, f64::max)) + 1.0;
            (least as i32, (most - least) as u32 + 1)
        });
        Self { card, steps }
    }

    /// A coordinate: 0 and 1 for the two lines of touch, then the steps.
    fn mark(&self, bits: &mut Bits, axis: usize, given: Option<Mark>) -> Result<Mark, Error> {
        let (least, count) = self.steps[axis];
        let code = given.map(|mark| match mark {
            Mark::Low => 0,
            Mark::High => 1,
            // What lies below the least fits nowhere.
            Mark::Step(step) => match u64::try_from(i64::from(step) - i64::from(least)) {
                Ok(code) => code + 2,
                Err(_) => u64::MAX,
            },
        });
        let n_bits = 32 - (count + 1).leading_zeros();
        Ok(match bits.whole(code, n_bits)? {
            0 => Mark::Low,
            1 => Mark::High,
            code => Mark::Step(least.saturating_add((code - 2) as i32)),
        })
    }

    fn marks(&self, bits: &mut Bits, given: Option<[Mark; 2]>) -> Result<[Mark; 2], Error> {
        let x = self.mark(bits, 0, given.map(|marks| marks[0]))?;
        Ok([x, self.mark(bits, 1, given.map(|marks| marks[1]))?])
    }

    /// A place anywhere: a bit tells whether all its bits follow.
    pub fn place(&self, bits: &mut Bits, given: Option<DVec2>) -> Result<DVec2, Error> {
        let marks = given.map(|place| marks_of(self.card, place, 0.0));
        let is_told = |marks: [Mark; 2]| {
            let fits = |axis: usize| match marks[axis] {
                Mark::Step(step) => {
                    let (least, count) = self.steps[axis];
                    (0..i64::from(count)).contains(&(i64::from(step) - i64::from(least)))
                }
                _ => true,
            };
            fits(0) && fits(1) && Some(of_marks(self.card, marks)) == given
        };
        if bits.flag(marks.is_some_and(|marks| !is_told(marks)))? {
            return exact(bits, given);
        }
        Ok(of_marks(self.card, self.marks(bits, marks)?))
    }
}

/// All 64 bits of each coordinate.
fn exact(bits: &mut Bits, given: Option<DVec2>) -> Result<DVec2, Error> {
    let mut coordinate = |axis: usize| {
        let value = bits.whole(given.map(|place| place[axis].to_bits()), 64)?;
        // Zero has no sign.
        Ok(f64::from_bits(value) + 0.0)
    };
    Ok(DVec2::new(coordinate(0)?, coordinate(1)?))
}

#[inline(never)]
pub(super) fn rail(bits: &mut Bits, given: Option<Rail>) -> Result<Rail, Error> {
    bits.one_of(&Rail::ALL, given, 2)
}

#[inline(never)]
pub(super) fn maybe_rail(bits: &mut Bits, given: Option<Rail>) -> Result<Option<Rail>, Error> {
    if bits.flag(given.is_some())? { rail(bits, given).map(Some) } else { Ok(None) }
}

/// How the place of a ball is told.
pub(super) fn ball_place(
    bits: &mut Bits,
    cloth: &Cloth,
    given: Option<Place>,
) -> Result<Place, Error> {
    let mut tag = None;
    let (mut marks, mut at) = (None, None);
    let (mut others, mut direction, mut rail, mut side) = ([0, 0], 0.0, None, false);
    match given {
        None => {}
        Some(Place::Free(found)) => (tag, marks) = (Some(0), Some(found)),
        Some(Place::Beside(other, steps)) => {
            (tag, others[0], direction) = (Some(1), other, f64::from(steps));
        }
        Some(Place::Between(first, second, left)) => {
            (tag, others, side) = (Some(2), [first, second], left);
        }
        Some(Place::Against(line, other, farther)) => {
            (tag, others[0], rail, side) = (Some(2), other, Some(line), farther);
        }
        Some(Place::Exact(place)) => (tag, at) = (Some(3), Some(place)),
    }
    let tag = bits.whole(tag, 2)?;
    let other = |bits: &mut Bits, k: usize| {
        bits.whole(Some(others[k] as u64), 4).map(|other| other as usize)
    };
    Ok(match tag {
        0 => Place::Free(cloth.marks(bits, marks)?),
        1 => {
            const HALF: f64 = 262_144.0;
            let other = other(bits, 0)?;
            let steps = bits.whole(Some((direction + HALF) as u64), 19)?;
            Place::Beside(other, (steps as f64 - HALF) as i32)
        }
        2 => {
            let first = other(bits, 0)?;
            match maybe_rail(bits, rail)? {
                Some(rail) => Place::Against(rail, first, bits.flag(side)?),
                None => {
                    let second = other(bits, 1)?;
                    Place::Between(first, second, bits.flag(side)?)
                }
            }
        }
        _ => Place::Exact(exact(bits, at)?),
    })
}
