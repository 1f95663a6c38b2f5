//! What is shown of an estimate, and its true answer from the played shot.

use super::EyeItem;
use super::estimate::Estimate;
use super::handle::Handle;
use crate::ball::BallId;
use crate::error::Error;
use crate::geometry::{angle_between, cross};
use crate::physics::{BallEnd, Event, EventKind, Outcome, Sample, Shot, play};
use crate::practice::grade::length_of;
use crate::practice::point::edge;
use crate::practice::truth::CuePath;
use crate::table::{Rail, Surface};
use crate::units::degrees;
use glam::DVec2;

/// What is shown of an estimate, and its answer.
#[derive(Clone, Debug, PartialEq)]
pub struct Sight {
    /// What is dragged.
    pub handle: Handle,
    /// The true answer, in the unit of the estimate.
    pub truth: f64,
    /// The ball that is met first, if one is.
    pub first: Option<BallId>,
    /// The ghost ball, m, where the hit is given.
    pub ghost: Option<DVec2>,
    /// The line that is given, m.
    pub given: Vec<DVec2>,
    /// What is shown with the answer: the way of the ball that was asked for, m.
    pub way: Vec<DVec2>,
}

/// What is shown of `item`, and its answer.
///
/// # Errors
/// As [`play`]; [`Error::Invalid`] if the shot does not lead to what is asked.
pub fn sight(item: &EyeItem) -> Result<Sight, Error> {
    let (shot, estimate) = (&item.shot, item.estimate);
    let outcome = play(shot)?;
    match estimate {
        Estimate::Tangent | Estimate::Roll | Estimate::Draw => heading(shot, &outcome),
        Estimate::Cut => cut(shot, &outcome),
        Estimate::Distance => distance(shot, &outcome),
        Estimate::Rebound | Estimate::Side => rebound(shot, &outcome),
        Estimate::ThirdRail => third_rail(shot, &outcome),
    }
}

/// The cue ball's path off the ball that it goes to directly; nothing else is met before
/// what is asked for has been seen: the first cushion, or with `whole` the stop.
fn hit(shot: &Shot, outcome: &Outcome, whole: bool) -> Result<CuePath, Error> {
    let meets = |event: &&Event| match event.kind {
        EventKind::Contact(_) => true,
        EventKind::Cushion(_) => event.ball.is_cue(),
        _ => false,
    };
    let mut met = outcome.events.iter().filter(meets);
    let is_contact = |event: &Event| matches!(event.kind, EventKind::Contact(_));
    let direct = met.next().is_some_and(|event| event.ball.is_cue() && is_contact(event));
    let again = if whole { met.any(is_contact) } else { met.next().is_some_and(is_contact) };
    CuePath::of(shot, outcome).filter(|_| direct && !again).ok_or_else(|| {
        Error::invalid("shot", "the cue ball must meet one object ball, once and directly")
    })
}

/// The heading off the ball: as in Read, the angle at the ghost ball to where the cue
/// ball meets its first cushion, or stops.
fn heading(shot: &Shot, outcome: &Outcome) -> Result<Sight, Error> {
    let path = hit(shot, outcome, false)?;
    let to = path.touches.first().map_or(path.stop, |touch| touch.position);
    let toward = side_of(path.line_of_centres, path.approach);
    let range = [0.0, 180.0];
    let handle = Handle::Swing { at: path.ghost, zero: path.approach, toward, range };
    let truth = degrees(toward * angle_between(path.approach, to - path.ghost));
    if !(0.0..=180.0).contains(&truth) {
        return Err(Error::invalid("shot", "the cue ball must leave on the side of its cut"));
    }
    let way = until(&path.path, to);
    let given = approach(shot, outcome, path.contact_time, path.ghost);
    Ok(Sight { handle, truth, first: Some(path.first), ghost: Some(path.ghost), given, way })
}

/// Where the object ball goes, by the line of centres: the angle of the cut.
fn cut(shot: &Shot, outcome: &Outcome) -> Result<Sight, Error> {
    let path = hit(shot, outcome, false)?;
    let toward = side_of(path.approach, path.line_of_centres);
    let object = path.ghost + path.line_of_centres * (2.0 * shot.card.ball.radius);
    let truth = degrees(path.cut()).abs();
    let handle = Handle::Swing { at: object, zero: path.approach, toward, range: [0.0, 90.0] };
    let mut given = approach(shot, outcome, path.contact_time, path.ghost);
    given.push(edge(&shot.card, path.ghost, path.approach));
    let way = vec![object, edge(&shot.card, object, path.line_of_centres)];
    Ok(Sight { handle, truth, first: Some(path.first), ghost: None, given, way })
}

/// How far the cue ball runs: its path is given, and goes straight on past the stop.
fn distance(shot: &Shot, outcome: &Outcome) -> Result<Sight, Error> {
    let path = hit(shot, outcome, true)?;
    if path.pocketed.is_some() {
        return Err(Error::invalid("shot", "the cue ball must come to rest"));
    }
    let way: Vec<DVec2> = path.path.iter().map(|sample| sample.position).collect();
    let truth = length_of(&way) / shot.card.travel_length();
    let mut whole = way.clone();
    let last = whole.iter().rev().find(|place| place.distance(path.stop) > 1e-3).copied();
    let last = last.ok_or_else(|| Error::invalid("shot", "the cue ball must move on"))?;
    whole.push(edge(&shot.card, path.stop, (path.stop - last).normalize_or_zero()));
    let mut given = approach(shot, outcome, path.contact_time, path.ghost);
    given.extend(&whole);
    let handle = Handle::Along { path: whole };
    Ok(Sight { handle, truth, first: Some(path.first), ghost: Some(path.ghost), given, way })
}

/// The heading off the first cushion: the angle from straight out to the next cushion, or
/// to the stop.
fn rebound(shot: &Shot, outcome: &Outcome) -> Result<Sight, Error> {
    let met = rails(outcome)?;
    let Some(&(rail, touch)) = met.first() else {
        return Err(Error::invalid("shot", "the cue ball must meet a rail"));
    };
    let to = match met.get(1) {
        Some((_, next)) => next.position,
        None => stop(shot, outcome)?,
    };
    let path = cue_path(shot, outcome)?;
    let given = before(path, touch.time, touch.position);
    let out = rail.inward();
    let came = given.iter().rev().nth(1).map_or(out, |last| touch.position - *last);
    // With the tangential part of the way in, a mirror would send it on.
    let toward = side_of(out, came);
    let truth = degrees(toward * angle_between(out, to - touch.position));
    if truth.abs() > 90.0 {
        return Err(Error::invalid("shot", "the cue ball must come off the rail"));
    }
    let range = [-90.0, 90.0];
    let handle = Handle::Swing { at: touch.position, zero: out, toward, range };
    let way = after(path, touch, to);
    Ok(Sight { handle, truth, first: None, ghost: None, given, way })
}

/// The diamond at which the third rail is met.
fn third_rail(shot: &Shot, outcome: &Outcome) -> Result<Sight, Error> {
    let met = rails(outcome)?;
    let [(_, first), (_, second), (rail, third)] =
        met.get(..3)
            .and_then(|it| it.try_into().ok())
            .ok_or_else(|| Error::invalid("shot", "the cue ball must meet three rails"))?;
    let path = cue_path(shot, outcome)?;
    let diamond = |place| crate::table::diamond_of(&shot.card, rail, place);
    let truth = diamond(third.position);
    let from = diamond(second.position);
    let long = if truth < from { -1.0 } else { 1.0 };
    let handle = Handle::OnRail { rail, long, from };
    let given = before(path, first.time, first.position);
    let way = after(path, first, third.position);
    Ok(Sight { handle, truth, first: None, ghost: None, given, way })
}

/// 1 if `b` points to the left of `a`, else -1.
fn side_of(a: DVec2, b: DVec2) -> f64 {
    if cross(a, b) < 0.0 { -1.0 } else { 1.0 }
}

fn cue_path<'a>(shot: &Shot, outcome: &'a Outcome) -> Result<&'a [Sample], Error> {
    let place = shot.balls.iter().position(|ball| ball.id.is_cue());
    let path = place.and_then(|place| outcome.paths.get(place));
    path.map(Vec::as_slice).ok_or_else(|| Error::invalid("shot", "must have a cue ball"))
}

fn stop(shot: &Shot, outcome: &Outcome) -> Result<DVec2, Error> {
    let place = shot.balls.iter().position(|ball| ball.id.is_cue());
    match place.and_then(|place| outcome.ends.get(place)) {
        Some(BallEnd::Rest(place) | BallEnd::Moving(place)) => Ok(*place),
        _ => Err(Error::invalid("shot", "the cue ball must not fall")),
    }
}

/// The rails that the cue ball meets, up to the first jaw or facing.
fn rails(outcome: &Outcome) -> Result<Vec<(Rail, Event)>, Error> {
    let of_cue = outcome.events.iter().filter(|event| event.ball.is_cue());
    let met = of_cue.map_while(|event| match event.kind {
        EventKind::Cushion(Surface::Rail(rail)) => Some(Some((rail, *event))),
        EventKind::Cushion(Surface::Pocket(_)) | EventKind::Contact(_) => None,
        _ => Some(None),
    });
    Ok(met.flatten().collect())
}

/// The cue ball's way to a contact, m.
fn approach(shot: &Shot, outcome: &Outcome, time: f64, ghost: DVec2) -> Vec<DVec2> {
    cue_path(shot, outcome).map(|path| before(path, time, ghost)).unwrap_or_default()
}

fn before(path: &[Sample], time: f64, place: DVec2) -> Vec<DVec2> {
    let earlier = path.iter().take_while(|sample| sample.time < time);
    earlier.map(|sample| sample.position).chain([place]).collect()
}

fn after(path: &[Sample], from: Event, to: DVec2) -> Vec<DVec2> {
    let start = Sample { time: from.time, position: from.position };
    let later = path.iter().filter(|sample| sample.time > from.time).copied();
    until(&[start].into_iter().chain(later).collect::<Vec<_>>(), to)
}

/// A path up to one of its places.
fn until(path: &[Sample], place: DVec2) -> Vec<DVec2> {
    let last = path.iter().position(|sample| sample.position == place);
    path.iter().take(last.map_or(path.len(), |at| at + 1)).map(|sample| sample.position).collect()
}
