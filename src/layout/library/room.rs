//! Whether a shot is shown in the clear: no ball and no pocket is passed by a hair.

use crate::ball::BallId;
use crate::physics::PlacedBall;
use crate::practice::set::Meant;
use crate::shot::distance_from;
use crate::table::TableShape;

/// Air between a ball that moves and one that lies still, at least, in balls (tuning choice:
/// less is a worry of its own, and no path is read by it).
const AIR: f64 = 0.5;

/// How far from the points of a pocket's jaws a rail is met, and the cue ball stops, at least,
/// in balls (tuning choice: nobody plans for the last inch beside a pocket).
const OFF_JAWS: f64 = 1.0;

/// Whether the cue ball and the ball that it meets pass all others with room, and the cue ball
/// meets rails and stops with room beside the pockets.
pub(super) fn is_in_the_clear(meant: &Meant) -> bool {
    let Meant { shot, outcome, truth, .. } = meant;
    let ball = 2.0 * shot.card.ball.radius;
    let moves = |id: BallId| id.is_cue() || id == truth.first;
    let passes = |still: &PlacedBall| {
        let paths = shot.balls.iter().zip(&outcome.paths).filter(|(one, _)| moves(one.id));
        paths.map(|(_, path)| path).all(|path| {
            path.windows(2).all(|pair| {
                let gap = distance_from(pair[0].position, pair[1].position, still.position);
                gap >= (1.0 + AIR) * ball
            })
        })
    };
    let shape = TableShape::new(&shot.card);
    let ends = truth.touches.iter().map(|touch| touch.position).chain([truth.stop]);
    let mut off_jaws = ends.map(|place| {
        shape.pockets.iter().all(|pocket| {
            place.distance(pocket.mouth_middle) >= 0.5 * pocket.mouth + OFF_JAWS * ball
        })
    });
    off_jaws.all(|is_off| is_off) && shot.balls.iter().filter(|one| !moves(one.id)).all(passes)
}
