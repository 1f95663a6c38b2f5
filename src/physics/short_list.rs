//! Lists that are never long, kept without asking for memory: a shot that is played
//! for its end alone asks for none.

use crate::ball::BallId;
use arrayvec::ArrayVec;

/// One thing for each ball, or for each of some balls.
pub type OfBalls<T> = ArrayVec<T, { BallId::MAX_BALLS }>;

/// Sixteen discs touch at no more than 34 places, floor(3 n - sqrt(12 n - 3)) for n
/// discs (Harborth 1974, Elemente der Mathematik 29, 14; from memory), and each of
/// them a wall or two and a jaw point.
pub(super) const MOST_CONTACTS: usize = 72;

/// One thing for each contact of a moment.
pub(super) type OfContacts<T> = ArrayVec<T, MOST_CONTACTS>;
