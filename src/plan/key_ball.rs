//! The ball before the last one, and what makes it that.

use super::foresight::Foresight;
use super::guide::Guide;
use super::rack::Game;
use super::table::Table;
use crate::ball::BallId;
use crate::order::sort_by_number;

/// A ball that could be played just before the last one.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct KeyBall {
    /// The ball.
    pub ball: BallId,
    /// The chance to clear everything with this one kept for then, 0 to 1.
    pub all: f64,
    /// The chance to clear it and the last ball from an average place on the table, and from
    /// the best one.
    pub two: (f64, f64),
}

/// The balls that could be kept for just before the last one, best first. In rotation it is
/// the last but one. Empty if only one ball is left. `foresight` looks all ahead.
pub fn key_balls(guide: &Guide, foresight: &Foresight, table: &Table) -> Vec<KeyBall> {
    let rack = guide.rack();
    let (candidates, last) = match rack.game {
        Game::Rotation => {
            let mut balls: Vec<BallId> = table.left.balls().collect();
            let Some(last) = balls.pop() else { return Vec::new() };
            (balls.pop().into_iter().collect::<Vec<_>>(), last)
        }
        Game::Group { group, last } => {
            let keeps = |ball: &BallId| rack.key.is_none_or(|key| key == *ball);
            (table.left.and(group).balls().filter(keeps).collect(), last)
        }
    };
    let mut keys: Vec<KeyBall> = candidates
        .into_iter()
        .filter_map(|ball| {
            let kept = match rack.game {
                Game::Rotation => None,
                Game::Group { .. } => Some(Foresight::with_key(guide, ball)),
            };
            let foresight = kept.as_ref().unwrap_or(foresight);
            let two = [ball, last].into_iter().collect();
            let values = foresight.values(two)?.iter().copied().filter(|value| !value.is_nan());
            let (mut sum, mut n, mut most) = (0.0, 0.0, 0.0);
            for value in values {
                (sum, n, most) = (sum + value, n + 1.0, f64::max(most, value));
            }
            let all = foresight.value(table.left, table.cue_ball());
            Some(KeyBall { ball, all, two: (sum / f64::max(n, 1.0), most) })
        })
        .collect();
    sort_by_number(&mut keys, |key| -key.all);
    keys
}
