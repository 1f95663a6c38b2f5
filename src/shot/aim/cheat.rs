//! Aiming at either side of a pocket to change what the cue ball does.

use super::pot::Pot;
use crate::ball::{BallId, BallMotion};
use crate::geometry::angle_between;
use crate::physics::{
    Arena, BallEnd, Course, Event, EventKind, Listen, PlacedBall, Stroke, at_the_strike,
};
use crate::table::PocketId;
use glam::DVec2;

/// So much of the window's width the two extreme aims stay inside (tuning choice: what
/// a good player trusts a pocket with is not its last tenth).
const MARGIN: f64 = 0.1;

/// What the cue ball does after it met its first ball.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Leaving {
    /// The stroke.
    pub stroke: Stroke,
    /// The cue ball's centre at contact, m.
    pub ghost: DVec2,
    /// From the line of the shot to the chord that leads from the ghost ball to the
    /// first cushion or the stop, rad, positive to the left; 0 if it stays there.
    pub departure: f64,
    /// Where it stops, or the middle of the hole it falls into, m.
    pub stop: DVec2,
    /// The pocket it falls into.
    pub scratch: Option<PocketId>,
}

/// The two extreme aims that pot: toward the right and toward the left end of the
/// window, a tenth of its width inside.
///
/// `None` if the cue ball meets no ball, which no pot gives.
pub fn cheats(arena: &Arena, balls: &[PlacedBall], pot: &Pot) -> Option<[Leaving; 2]> {
    let margin = MARGIN * pot.window.width();
    let turned = |turn: f64| {
        let azimuth = pot.stroke.azimuth + turn;
        leaving(arena, balls, &Stroke { azimuth, ..pot.stroke })
    };
    Some([turned(pot.window.low + margin)?, turned(pot.window.high - margin)?])
}

/// Plays `stroke` for what the cue ball does; `None` if it meets no ball.
pub fn leaving(arena: &Arena, balls: &[PlacedBall], stroke: &Stroke) -> Option<Leaving> {
    let cue = balls.iter().position(|ball| ball.id.is_cue())?;
    let card = arena.card();
    let (velocity, spin) = stroke.launch(card.ball.radius, card.squirt_mass_ratio);
    let struck = BallMotion { velocity, spin, ..BallMotion::default() };
    let mut watch = Watch { cue, incoming: velocity, ghost: None, first: None };
    let ends = arena.run(&at_the_strike(balls, struck), &mut watch);
    let ghost = watch.ghost?;
    let (stop, scratch) = match ends[cue] {
        BallEnd::Rest(at) | BallEnd::Moving(at) => (at, None),
        BallEnd::Pocketed(pocket) => (arena.shape().pocket(pocket).hole, Some(pocket)),
    };
    let chord = watch.first.unwrap_or(stop) - ghost;
    let departure = if chord.length() < 1e-6 { 0.0 } else { angle_between(watch.incoming, chord) };
    Some(Leaving { stroke: *stroke, ghost, departure, stop, scratch })
}

struct Watch {
    cue: usize,
    /// Velocity of the cue ball just before the contact.
    incoming: DVec2,
    ghost: Option<DVec2>,
    /// The first cushion after it.
    first: Option<DVec2>,
}

impl Listen for Watch {
    fn event(&mut self, event: Event) {
        match event.kind {
            EventKind::Contact(_) if event.ball == BallId::CUE && self.ghost.is_none() => {
                self.ghost = Some(event.position);
            }
            EventKind::Cushion(_) if event.ball.is_cue() && self.ghost.is_some() => {
                self.first = self.first.or(Some(event.position));
            }
            _ => {}
        }
    }

    fn leg(&mut self, place: usize, course: &Course, since: f64, until: f64) {
        // The leg that a contact ends is told after it, and none before is later.
        if place == self.cue && self.first.is_none() && self.is_before(course, since, until) {
            self.incoming = course.velocity(until - since);
        }
    }
}

impl Watch {
    /// Whether the leg leads to the contact and not away from it.
    fn is_before(&self, course: &Course, since: f64, until: f64) -> bool {
        let end = course.position(until - since);
        until > since && self.ghost.is_none_or(|ghost| (end - ghost).length() < 1e-9)
    }
}
