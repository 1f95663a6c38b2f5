//! Bits, written or read by the same code: each step is given what to write, which is
//! `None` while reading, and gives what stands there.

use crate::ball::BallId;
use crate::error::Error;
use crate::practice::Quantum;
use crate::units::{degrees, radians};

/// A stream of bits, the highest of each byte first.
pub(super) struct Bits {
    bytes: Vec<u8>,
    /// The next bit.
    at: usize,
    reading: bool,
}

#[cold]
#[inline(never)]
fn refuse(rule: &str) -> Error {
    Error::malformed("link", rule)
}

impl Bits {
    /// An empty stream, to be written.
    pub fn to_write() -> Self {
        Self { bytes: Vec::new(), at: 0, reading: false }
    }

    /// A stream to be read.
    pub fn of(bytes: &[u8]) -> Self {
        Self { bytes: bytes.to_vec(), at: 0, reading: true }
    }

    /// What was written, filled up with zeros to whole bytes.
    pub fn written(self) -> Vec<u8> {
        self.bytes
    }

    /// Checks that all was read.
    ///
    /// # Errors
    /// [`Error::Malformed`] if more is left than zeros that fill the last byte.
    pub fn end(mut self) -> Result<(), Error> {
        let left = 8 * self.bytes.len() - self.at;
        if left < 8 && self.whole(None, left as u32)? == 0 {
            return Ok(());
        }
        Err(refuse("holds more than its item"))
    }

    /// A whole number of `n_bits` bits.
    ///
    /// # Errors
    /// [`Error::Malformed`] if it does not fit, or nothing is left to be read.
    #[inline(never)]
    pub fn whole(&mut self, given: Option<u64>, n_bits: u32) -> Result<u64, Error> {
        let mut value = given.unwrap_or(0);
        if self.reading {
            value = 0;
            for _ in 0..n_bits {
                let byte = self.bytes.get(self.at / 8);
                let byte = byte.ok_or_else(|| refuse("holds less than an item"))?;
                value = value << 1 | u64::from(byte >> (7 - self.at % 8) & 1);
                self.at += 1;
            }
            return Ok(value);
        }
        if n_bits < 64 && value >> n_bits != 0 {
            return Err(refuse("cannot carry so much"));
        }
        for k in (0..n_bits).rev() {
            if self.at.is_multiple_of(8) {
                self.bytes.push(0);
            }
            if let Some(last) = self.bytes.last_mut() {
                *last |= ((value >> k & 1) as u8) << (7 - self.at % 8);
            }
            self.at += 1;
        }
        Ok(value)
    }

    /// One bit.
    pub fn flag(&mut self, given: bool) -> Result<bool, Error> {
        Ok(self.whole(Some(u64::from(given)), 1)? == 1)
    }

    /// A whole number that is mostly small: groups of a bit that tells whether another
    /// group follows and three bits of it, the lowest first.
    pub fn small(&mut self, given: Option<u32>) -> Result<u32, Error> {
        let (mut left, mut value) = (given.unwrap_or(0), 0);
        for shift in (0..32).step_by(3) {
            let more = self.flag(left > 7)?;
            value |= self.whole(Some(u64::from(left & 7)), 3)? << shift;
            left >>= 3;
            if !more {
                return u32::try_from(value).map_err(|_| refuse("holds a number beyond all"));
            }
        }
        Err(refuse("holds a number without end"))
    }

    /// A number in steps of `quantum`, from minus half to half of 2 to the `n_bits`; or, a
    /// bit says so, all 64 bits of one that is none of these.
    pub fn number(
        &mut self,
        given: Option<f64>,
        quantum: Quantum,
        n_bits: u32,
    ) -> Result<f64, Error> {
        let steps = quantum.steps(given.unwrap_or(0.0));
        self.coded(given, steps, n_bits, &|steps| quantum.value(steps))
    }

    /// An angle (rad) in steps of degrees, as [`number`](Self::number).
    pub fn angle(
        &mut self,
        given: Option<f64>,
        quantum: Quantum,
        n_bits: u32,
    ) -> Result<f64, Error> {
        let steps = quantum.steps(degrees(given.unwrap_or(0.0)));
        self.coded(given, steps, n_bits, &|steps| radians(quantum.value(steps)))
    }

    #[inline(never)]
    fn coded(
        &mut self,
        given: Option<f64>,
        steps: f64,
        n_bits: u32,
        value_of: &dyn Fn(f64) -> f64,
    ) -> Result<f64, Error> {
        let value = given.unwrap_or(0.0);
        let half = (1_u64 << (n_bits - 1)) as f64;
        let fits = (-half..half).contains(&steps) && value_of(steps) == value;
        if self.flag(!fits)? {
            // Zero has no sign.
            return Ok(f64::from_bits(self.whole(Some(value.to_bits()), 64)?) + 0.0);
        }
        let coded = self.whole(Some((steps + half) as u64), n_bits)?;
        Ok(value_of(coded as f64 - half))
    }

    /// One of `all`, by its place among them in `n_bits` bits.
    pub fn one_of<T: Copy + PartialEq>(
        &mut self,
        all: &[T],
        given: Option<T>,
        n_bits: u32,
    ) -> Result<T, Error> {
        let place = all.iter().position(|one| given == Some(*one));
        let place = self.whole(place.map(|place| place as u64), n_bits)?;
        all.get(place as usize).copied().ok_or_else(|| refuse("holds a name that there is not"))
    }

    /// A ball: its number, 0 for the cue ball.
    pub fn ball(&mut self, given: Option<BallId>) -> Result<BallId, Error> {
        let number = self.whole(given.map(|ball| u64::from(ball.number())), 4)?;
        Ok(BallId::object(number as u8).unwrap_or(BallId::CUE))
    }

    /// What may be there or not.
    pub fn optional<T>(
        &mut self,
        given: Option<&T>,
        entry: impl FnOnce(&mut Self, Option<&T>) -> Result<T, Error>,
    ) -> Result<Option<T>, Error> {
        if self.flag(given.is_some())? { entry(self, given).map(Some) } else { Ok(None) }
    }

    /// A list whose length has `n_bits` bits.
    pub fn list<T>(
        &mut self,
        given: Option<&[T]>,
        n_bits: u32,
        mut entry: impl FnMut(&mut Self, Option<&T>) -> Result<T, Error>,
    ) -> Result<Vec<T>, Error> {
        let length = self.whole(given.map(|list| list.len() as u64), n_bits)?;
        (0..length as usize).map(|k| entry(self, given.and_then(|list| list.get(k)))).collect()
    }
}
