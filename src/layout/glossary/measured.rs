//! What is read off the played shots of an example.

use super::Run;
use crate::error::Error;
use crate::geometry::{angle_between, cross, heading, left_of};
use crate::physics::{EventKind, PlacedBall, Shot, Stroke};
use crate::practice::CuePath;
use crate::table::{PocketId, Rail, Surface, TableCard, TableShape};
use glam::DVec2;

/// The pocket of the ball that is next in the examples of leaves.
pub(super) const NEXT: PocketId = PocketId::HeadRight;

/// How the balls lie at the hit.
pub(super) struct MetAt {
    pub ghost: DVec2,
    pub approach: DVec2,
    pub centres: DVec2,
}

pub(super) fn met(run: &Run) -> Result<&CuePath, Error> {
    run.path.as_ref().ok_or_else(|| Error::invalid("shot", "the cue ball must meet a ball"))
}

pub(super) fn met_at(run: &Run) -> Result<MetAt, Error> {
    met(run).map(|path| MetAt {
        ghost: path.ghost,
        approach: path.approach,
        centres: path.line_of_centres,
    })
}

/// The direction of the tangent line, on the side to which the cue ball leaves.
pub(super) fn tangent(run: &Run) -> Result<DVec2, Error> {
    let MetAt { approach, centres, .. } = met_at(run)?;
    Ok(left_of(centres) * cross(centres, approach).signum())
}

/// The cue ball's heading as Read has it: from the hit to its first cushion or the stop.
pub(super) fn leg(path: &CuePath) -> DVec2 {
    path.touches.first().map_or(path.stop, |touch| touch.position) - path.ghost
}

/// The direction in which the cue ball leaves the tip.
pub(super) fn launched(run: &Run) -> DVec2 {
    run.shot.struck().map_or(DVec2::X, |ball| ball.velocity.normalize_or_zero())
}

/// The first rail that the cue ball meets, and where.
pub(super) fn first_cushion(run: &Run) -> Option<(Rail, DVec2)> {
    run.outcome.events.iter().find_map(|event| match event.kind {
        EventKind::Cushion(Surface::Rail(rail)) if event.ball.is_cue() => {
            Some((rail, event.position))
        }
        _ => None,
    })
}

/// The first rail that the cue ball meets: where it comes from, where it meets it, and where
/// it then meets the next or stops.
pub(super) fn at_the_rail(run: &Run) -> Result<(Rail, [DVec2; 3]), Error> {
    let missing = || Error::invalid("shot", "the cue ball must meet a rail");
    let (rail, touch) = first_cushion(run).ok_or_else(missing)?;
    let line = run.line(0);
    let at = line.iter().position(|place| *place == touch).ok_or_else(missing)?;
    let mut touches = run
        .outcome
        .events
        .iter()
        .filter(|event| event.ball.is_cue() && matches!(event.kind, EventKind::Cushion(_)));
    let next = touches.nth(1).map_or(run.stop(), |event| event.position);
    Ok((rail, [line[at.saturating_sub(1)], touch, next]))
}

/// The angle between a way and the rail, rad.
pub(super) fn off_rail(rail: Rail, way: DVec2) -> f64 {
    let (along, across) = if rail.is_long() { (way.x, way.y) } else { (way.y, way.x) };
    libm::atan2(across.abs(), along.abs())
}

/// The next ball, and the direction from it to its pocket.
pub(super) fn next_ball(card: &TableCard, run: &Run) -> Result<(PlacedBall, DVec2), Error> {
    let ball =
        run.shot.balls.get(2).ok_or_else(|| Error::invalid("balls", "the next is missing"))?;
    let mouth = TableShape::new(card).pocket(NEXT).mouth_middle;
    Ok((*ball, (mouth - ball.position).normalize_or_zero()))
}

/// The angle at which the cue ball comes to the line of the next shot at last, rad.
pub(super) fn across(card: &TableCard, run: &Run) -> Result<f64, Error> {
    let (_, way) = next_ball(card, run)?;
    let path = met(run)?;
    let last = path.touches.last().map(|touch| touch.position);
    let start = last.or(path.slide_end).unwrap_or(path.ghost);
    let off = angle_between(way, path.stop - start).abs();
    Ok(off.min(std::f64::consts::PI - off))
}

/// The shot at the next ball, from where the cue ball stopped.
pub(super) fn next_shot(card: &TableCard, run: &Run) -> Result<Shot, Error> {
    let (ball, way) = next_ball(card, run)?;
    let ghost = ball.position - way * (2.0 * card.ball.radius);
    let cue = PlacedBall { position: run.stop(), ..run.shot.balls[0] };
    let azimuth = heading(ghost - cue.position);
    Ok(Shot {
        balls: vec![cue, ball],
        stroke: Stroke { azimuth, height: 0.0, speed: 1.2, ..run.shot.stroke },
        ..run.shot.clone()
    })
}
