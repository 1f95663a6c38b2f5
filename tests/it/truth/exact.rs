//! First roots of polynomials without rounding: doubles are whole numbers times a
//! power of two, and so is everything that sums and products make of them.

use num_bigint::{BigInt, Sign};
use std::ops::{Add, Mul, Sub};

/// A whole number times a power of two.
#[derive(Clone, Debug)]
pub struct Exact {
    whole: BigInt,
    power: i64,
}

impl From<f64> for Exact {
    fn from(value: f64) -> Self {
        assert!(value.is_finite(), "{value} has no exact value");
        let bits = value.to_bits();
        let exponent = ((bits >> 52) & 0x7ff) as i64;
        let fraction = (bits & ((1 << 52) - 1)) as i64;
        let (whole, power) =
            if exponent == 0 { (fraction, -1074) } else { (fraction | (1 << 52), exponent - 1075) };
        Self { whole: BigInt::from(if value < 0.0 { -whole } else { whole }), power }
    }
}

impl Exact {
    /// The whole number at this power of two, which must not be above its own.
    fn at(&self, power: i64) -> BigInt {
        &self.whole << (self.power - power)
    }

    /// The nearest double, or next to it.
    pub fn to_f64(&self) -> f64 {
        let spare = (self.whole.bits() as i64 - 64).max(0);
        let (sign, digits) = (&self.whole >> spare).to_u64_digits();
        let size = digits.first().copied().unwrap_or(0) as f64;
        let size = size * 2.0_f64.powi((self.power + spare) as i32);
        if sign == Sign::Minus { -size } else { size }
    }

    pub fn is_negative(&self) -> bool {
        self.whole.sign() == Sign::Minus
    }

    pub fn square(&self) -> Self {
        self * self
    }

    pub fn half(&self) -> Self {
        Self { whole: self.whole.clone(), power: self.power - 1 }
    }
}

impl Add for &Exact {
    type Output = Exact;

    fn add(self, other: Self) -> Exact {
        let power = self.power.min(other.power);
        Exact { whole: self.at(power) + other.at(power), power }
    }
}

impl Sub for &Exact {
    type Output = Exact;

    fn sub(self, other: Self) -> Exact {
        let power = self.power.min(other.power);
        Exact { whole: self.at(power) - other.at(power), power }
    }
}

impl Mul for &Exact {
    type Output = Exact;

    fn mul(self, other: Self) -> Exact {
        Exact { whole: &self.whole * &other.whole, power: self.power + other.power }
    }
}

/// Coefficients, ascending; the last is not nil.
#[derive(Clone, Debug)]
struct Whole(Vec<BigInt>);

impl Whole {
    fn trimmed(mut coefficients: Vec<BigInt>) -> Self {
        while coefficients.last().is_some_and(|last| last.sign() == Sign::NoSign) {
            coefficients.pop();
        }
        Self(coefficients)
    }

    fn slope(&self) -> Self {
        let terms = self.0.iter().enumerate().skip(1);
        Self::trimmed(terms.map(|(k, coefficient)| coefficient * k).collect())
    }

    /// Minus the remainder of a division by `other`, times something positive.
    fn minus_remainder(&self, other: &Self) -> Self {
        let mut left = self.0.clone();
        let lead = other.0.last().expect("a divisor");
        let (size, is_negative) = (lead.magnitude().clone(), lead.sign() == Sign::Minus);
        while left.len() >= other.0.len() {
            let top = left.pop().expect("a leading term");
            let top = if is_negative { -top } else { top };
            let shift = left.len() + 1 - other.0.len();
            for value in &mut left {
                *value *= BigInt::from(size.clone());
            }
            for (k, coefficient) in other.0.iter().enumerate().take(other.0.len() - 1) {
                left[k + shift] -= &top * coefficient;
            }
        }
        let rest = Self::trimmed(left);
        // What is common to all in powers of two is of no use.
        let spare = rest.0.iter().filter_map(|value| value.trailing_zeros()).min().unwrap_or(0);
        Self(rest.0.iter().map(|value| -(value >> spare)).collect())
    }

    /// Sign at `numerator` / 2^`halvings`.
    fn sign(&self, numerator: &BigInt, halvings: usize) -> Sign {
        let mut sum = BigInt::from(0);
        for (k, coefficient) in self.0.iter().rev().enumerate() {
            sum = sum * numerator + (coefficient << (halvings * k));
        }
        sum.sign()
    }
}

/// A polynomial with its chain of Sturm, which counts roots.
///
/// Source: Sturm 1829 (textbook; from memory).
pub struct Chain(Vec<Whole>);

impl Chain {
    /// Of the polynomial with these ascending coefficients.
    pub fn new(coefficients: &[Exact]) -> Self {
        let power = coefficients.iter().map(|c| c.power).min().unwrap_or(0);
        let first = Whole::trimmed(coefficients.iter().map(|c| c.at(power)).collect());
        let mut chain = vec![first.slope()];
        chain.insert(0, first);
        while chain[chain.len() - 1].0.len() > 1 {
            let next = chain[chain.len() - 2].minus_remainder(&chain[chain.len() - 1]);
            if next.0.is_empty() {
                break;
            }
            chain.push(next);
        }
        chain.retain(|part| !part.0.is_empty());
        Self(chain)
    }

    fn changes(&self, at: &BigInt, halvings: usize) -> usize {
        let signs = self.0.iter().map(|part| part.sign(at, halvings));
        let signs: Vec<Sign> = signs.filter(|sign| *sign != Sign::NoSign).collect();
        signs.windows(2).filter(|pair| pair[0] != pair[1]).count()
    }

    /// The number of different roots in (`from`, `to`].
    pub fn roots(&self, from: f64, to: f64) -> usize {
        let changes = |time: f64| {
            let Exact { whole, power } = Exact::from(time);
            let shift = (-power).max(0);
            self.changes(&(whole << power.max(0)), shift as usize)
        };
        changes(from).saturating_sub(changes(to))
    }

    /// The first root in (0, `span`], to a 2^-90th of the span.
    pub fn first_root(&self, span: f64) -> Option<Exact> {
        const HALVINGS: usize = 90;
        if self.roots(0.0, span) == 0 {
            return None;
        }
        let end = Exact::from(span);
        let at_zero = self.changes(&BigInt::from(0), 0);
        // The root lies in (low, low + 1] times the span over 2^halvings.
        let mut low = BigInt::from(0);
        for halvings in 1..=HALVINGS {
            low = &low * 2;
            let middle = (&low + BigInt::from(1)) * &end.whole;
            let power = end.power - halvings as i64;
            let shift = (-power).max(0) as usize;
            if self.changes(&(middle << power.max(0)), shift) == at_zero {
                low += 1;
            }
        }
        let power = end.power - HALVINGS as i64;
        Some(Exact { whole: (low + BigInt::from(1)) * end.whole, power })
    }
}

/// The lowest root that a graze hides: how the polynomial's smallest value within
/// the span lies to nil is asked of it by shifting its constant.
#[test]
fn known_roots_are_found_and_counted() {
    let exact = |c: [f64; 5]| c.map(Exact::from);
    // (t - 1)(t - 2)(t - 3)(t - 4).
    let chain = Chain::new(&exact([24.0, -50.0, 35.0, -10.0, 1.0]));
    assert_eq!(chain.roots(0.0, 10.0), 4, "all four");
    assert_eq!(chain.roots(1.0, 3.0), 2, "without the lower end, with the upper");
    let root = chain.first_root(9.7).expect("a root");
    assert!((&root - &Exact::from(1.0)).to_f64().abs() < 1e-25, "the first: {}", root.to_f64());
    // (t - 1)² with and without a hair.
    let hair = 2.0_f64.powi(-48);
    assert_eq!(Chain::new(&exact([1.0 + hair, -2.0, 1.0, 0.0, 0.0])).roots(0.0, 3.0), 0, "a miss");
    assert_eq!(Chain::new(&exact([1.0, -2.0, 1.0, 0.0, 0.0])).roots(0.0, 3.0), 1, "a touch");
    let graze = Chain::new(&exact([1.0 - hair, -2.0, 1.0, 0.0, 0.0]));
    assert_eq!(graze.roots(0.0, 3.0), 2, "in and out");
    let first = graze.first_root(3.0).expect("in");
    let off = (&first - &Exact::from(1.0 - 2.0_f64.powi(-24))).to_f64();
    assert!(off.abs() < 1e-25, "one less the root of the hair: off by {off:e}");
}
