//! A set of balls.

use crate::ball::BallId;

/// Some of the balls, one bit for each number.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Default, PartialOrd, Ord, Hash)]
pub struct BallSet(u16);

impl BallSet {
    /// None at all.
    pub const NONE: Self = Self(0);

    /// The same from two bytes, the lesser first.
    pub fn of_bytes(bytes: [u8; 2]) -> Self {
        Self(u16::from_le_bytes(bytes))
    }

    /// One bit for each number.
    pub fn bits(self) -> u16 {
        self.0
    }

    /// Whether there is none.
    pub fn is_empty(self) -> bool {
        self.0 == 0
    }

    /// How many there are.
    pub fn len(self) -> usize {
        self.0.count_ones() as usize
    }

    /// Whether `ball` is one of them.
    pub fn has(self, ball: BallId) -> bool {
        self.0 >> ball.number() & 1 == 1
    }

    /// With `ball`.
    pub fn with(self, ball: BallId) -> Self {
        Self(self.0 | 1 << ball.number())
    }

    /// Without `ball`.
    pub fn without(self, ball: BallId) -> Self {
        Self(self.0 & !(1 << ball.number()))
    }

    /// Those that are also in `other`.
    pub fn and(self, other: Self) -> Self {
        Self(self.0 & other.0)
    }

    /// Those that are not in `other`.
    pub fn minus(self, other: Self) -> Self {
        Self(self.0 & !other.0)
    }

    /// The object balls among them, lowest number first.
    pub fn balls(self) -> impl Iterator<Item = BallId> {
        (1..=15).filter_map(BallId::object).filter(move |ball| self.has(*ball))
    }
}

impl FromIterator<BallId> for BallSet {
    fn from_iter<I: IntoIterator<Item = BallId>>(balls: I) -> Self {
        balls.into_iter().fold(Self::NONE, Self::with)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_set_gains_and_loses_balls() {
        let ball = |number| BallId::object(number).expect("a ball");
        let set: BallSet = [ball(9), ball(2), BallId::CUE].into_iter().collect();
        assert_eq!(set.len(), 3, "{set:?}");
        assert_eq!(set.balls().collect::<Vec<_>>(), [ball(2), ball(9)], "no cue ball, in order");
        assert!(!set.without(ball(2)).has(ball(2)) && set.has(ball(2)), "taken out");
        assert_eq!(set.minus(set), BallSet::NONE, "nothing left");
        assert_eq!(set.and(BallSet::NONE.with(ball(9))).len(), 1, "in common");
        assert_eq!(BallSet::of_bytes(set.bits().to_le_bytes()), set, "by its bits");
    }
}
