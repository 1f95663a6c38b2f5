//! A shot as it is given, and what comes of it.

use crate::ball::{BallId, BallMotion};
use crate::table::{PocketId, Surface, TableCard};
use glam::DVec2;

/// Version of the physical model: a shot keeps its outcome, bit for bit, for as
/// long as this number stays.
pub const MODEL_VERSION: u32 = 1;

/// Largest offset of the tip that does not miscue, as a fraction of the ball's
/// radius (customary; the value is from memory).
pub const MISCUE_LIMIT: f64 = 0.5;

/// Fastest stroke that is accepted, m/s.
///
/// # Source
/// Carroll and Stevenage, Billiards Quarterly Review, July 1993: hard strokes
/// stay under 30 mph (13.4 m/s); rounded up.
pub const FASTEST_STROKE: f64 = 15.0;

/// How the cue meets the cue ball.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Stroke {
    /// Direction of the cue's axis seen from above, before squirt, rad,
    /// anticlockwise from +x.
    pub azimuth: f64,
    /// Elevation of the butt, rad, from 0 to below a right angle.
    pub elevation: f64,
    /// Speed of the cue ball as it leaves the tip, along the cue's axis, m/s.
    pub speed: f64,
    /// Tip offset to the right as the player sees it, as a fraction of the radius.
    pub side: f64,
    /// Tip offset upward, as a fraction of the radius.
    pub height: f64,
}

/// A ball and where it stands.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct PlacedBall {
    /// Which ball.
    pub id: BallId,
    /// Its centre, m.
    pub position: DVec2,
}

/// A table, the balls on it, and a stroke.
#[derive(Clone, Debug, PartialEq)]
pub struct Shot {
    /// The table.
    pub card: TableCard,
    /// The balls, the cue ball among them, each once.
    pub balls: Vec<PlacedBall>,
    /// The stroke on the cue ball.
    pub stroke: Stroke,
}

/// What happened to a ball at one moment.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum EventKind {
    /// The cue met the cue ball.
    Strike,
    /// The ball met this other ball, which has the higher number.
    Contact(BallId),
    /// The ball met a cushion.
    Cushion(Surface),
    /// Sliding ended: the ball rolls.
    Roll,
    /// The ball came to rest, spin and all.
    Stop,
    /// The ball fell.
    Pocketed(PocketId),
}

/// One event of a shot.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Event {
    /// Time since the strike, s.
    pub time: f64,
    /// The ball; of two that meet, the one with the lower number.
    pub ball: BallId,
    /// What happened.
    pub kind: EventKind,
    /// The ball's centre at that moment, m.
    pub position: DVec2,
}

/// Where a ball is at the end of a shot.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum BallEnd {
    /// At rest here, m.
    Rest(DVec2),
    /// In this pocket.
    Pocketed(PocketId),
    /// Still moving here, m, when the shot was no longer followed: on tables without
    /// friction, and on strange ones where too much happens.
    Moving(DVec2),
}

/// A point of a path.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Sample {
    /// Time since the strike, s.
    pub time: f64,
    /// The ball's centre, m.
    pub position: DVec2,
}

/// Everything that came of a shot.
#[derive(Clone, Debug, PartialEq)]
pub struct Outcome {
    /// Time of the last event, s; if something still moves, the time until which the
    /// shot was followed.
    pub duration: f64,
    /// All events in order of time; at one time in order of ball.
    pub events: Vec<Event>,
    /// Where every ball ended, in the order of the shot's balls.
    pub ends: Vec<BallEnd>,
    /// The path of every ball, in the order of the shot's balls: samples whose
    /// straight chords stay within 1 mm of the true curve, with every event of
    /// the ball among them. A ball that never moves has a single sample.
    pub paths: Vec<Vec<Sample>>,
}

/// The states of `balls` at the moment of the strike, which leaves the cue ball where
/// it stands with the velocity and spin of `cue_ball`.
pub fn at_the_strike(balls: &[PlacedBall], cue_ball: BallMotion) -> Vec<(BallId, BallMotion)> {
    balls
        .iter()
        .map(|ball| {
            let still = BallMotion { position: ball.position, ..BallMotion::default() };
            let struck = BallMotion { position: ball.position, ..cue_ball };
            (ball.id, if ball.id.is_cue() { struck } else { still })
        })
        .collect()
}
