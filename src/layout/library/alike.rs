//! Which layouts look alike: a set is to show ten different ones.

use crate::ball::BallId;
use crate::practice::set::Meant;
use crate::table::TableCard;
use glam::DVec2;

/// Places nearer than this are about the same, m (tuning choice, looked at: some three balls and a half).
const NEAR: f64 = 0.2;

/// By so many rails a path is told from others.
const TELLING: usize = 2;

/// What a layout is told by.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Places {
    /// The cue ball and the ball that it meets, m.
    balls: Vec<DVec2>,
    /// Where the cue ball then meets rails, m.
    touches: Vec<DVec2>,
}

impl Places {
    /// Those of a layout as it is meant to be played.
    pub(super) fn of(meant: &Meant) -> Self {
        let told = |id: BallId| id.is_cue() || id == meant.truth.first;
        let balls = meant.shot.balls.iter().filter(|ball| told(ball.id));
        Self {
            balls: balls.map(|ball| ball.position).collect(),
            touches: meant.truth.touches.iter().map(|touch| touch.position).collect(),
        }
    }

    /// Whether another one, mirrored or not, has its balls or its rails at about the same places.
    pub(super) fn are_like(&self, other: &Self, card: &TableCard) -> bool {
        let size = DVec2::new(card.length, card.width);
        let mirrors = [DVec2::ZERO, DVec2::X, DVec2::Y, DVec2::ONE];
        mirrors.into_iter().any(|mirror| {
            let near = |one: &[DVec2], other: &[DVec2]| {
                let mirrored = |at: DVec2| at + mirror * (size - 2.0 * at);
                one.len() == other.len()
                    && one.iter().zip(other).all(|(a, b)| a.distance(mirrored(*b)) < NEAR)
            };
            near(&self.balls, &other.balls)
                || self.touches.len() >= TELLING && near(&self.touches, &other.touches)
        })
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::table::TableSize;

    #[test]
    fn a_mirrored_layout_is_like_the_other_and_one_that_lies_elsewhere_is_not() {
        let card = TableCard::of_size(TableSize::NineFoot);
        let at = |x: f64, y: f64| DVec2::new(x, y);
        let layout = |cue, object, touches: &[DVec2]| Places {
            balls: vec![cue, object],
            touches: touches.to_vec(),
        };
        let one = layout(at(0.4, 0.3), at(0.9, 0.5), &[]);
        let mirrored = layout(at(card.length - 0.45, 0.3), at(card.length - 0.9, 0.55), &[]);
        assert!(one.are_like(&mirrored, &card));
        let elsewhere = layout(at(0.4, 0.3), at(1.3, 0.5), &[]);
        assert!(!one.are_like(&elsewhere, &card), "the object ball lies elsewhere");
        let rails = [at(0.2, 0.0), at(0.0, 0.4)];
        let by_rails = |cue| layout(cue, at(1.3, 0.5), &rails);
        assert!(by_rails(at(0.4, 0.3)).are_like(&by_rails(at(2.0, 0.9)), &card), "the same path");
    }
}
