//! Where the balls end after each of many strokes on one layout, and nothing
//! else: what maps and margins are made of.

use super::outcome::finite;
use super::outcome_numbers::pocket_number;
use super::reader::number;
use super::shot::read_shot;
use super::value::Value;
use crate::ball::{BallId, BallMotion};
use crate::error::Error;
use crate::physics::{Arena, BallEnd, Nothing, Shot, Stroke, at_the_strike};
use crate::units::radians;

/// Numbers that tell a stroke: azimuth, elevation (degrees), speed (m/s), side,
/// height, as in the form of a shot.
pub const PER_STROKE: usize = 5;

/// Numbers that tell where a ball ended: x, y (m), pocket.
pub const PER_END: usize = 3;

/// The most strokes of one request (tuning choice: a few seconds at most, for no
/// break of a request is possible but an end of the worker).
pub const MOST_STROKES: usize = 4_096;

/// Plays each of `strokes` on the layout of `shot`, whose own stroke is left alone.
///
/// `strokes` has [`PER_STROKE`] numbers each. The reply has [`PER_END`] numbers for
/// each ball in the shot's order, stroke by stroke: x, y, and the pocket it fell
/// into, numbered as by [`pack`](super::pack), or -1 for a ball at rest and -2 for
/// one that still moves. A ball that fell is told at the middle of the hole.
///
/// # Errors
/// As [`read_shot`] for the layout; [`Error::Malformed`], [`Error::OutOfRange`] or
/// [`Error::Invalid`] if the numbers are not 1 to [`MOST_STROKES`] strokes that can be
/// played, named as `strokes[3].speed`.
pub fn ends(shot: &Value, strokes: &[f64]) -> Result<Vec<f64>, Error> {
    check_strokes(strokes.len())?;
    let shot = read_shot(shot, "")?;
    // All are looked at before any is played.
    let mut read = Vec::with_capacity(strokes.len() / PER_STROKE);
    for (k, numbers) in strokes.chunks_exact(PER_STROKE).enumerate() {
        let stroke = read_stroke(numbers);
        read.push(stroke.map_err(|error| error.within(&format!("strokes[{k}]")))?);
    }
    play_all(&shot, &read)
}

/// Whether so many numbers can be strokes.
///
/// # Errors
/// As [`ends`].
pub fn check_strokes(length: usize) -> Result<(), Error> {
    let most = PER_STROKE * MOST_STROKES;
    if length.is_multiple_of(PER_STROKE) && (1..=most).contains(&length) {
        return Ok(());
    }
    let rule = format!("must be {PER_STROKE} numbers for each of 1 to {MOST_STROKES} strokes");
    Err(Error::out_of_range("strokes.length", length as f64, rule))
}

fn read_stroke(numbers: &[f64]) -> Result<Stroke, Error> {
    let names = ["azimuth", "elevation", "speed", "side", "height"];
    let mut read = [0.0; PER_STROKE];
    for (k, name) in names.into_iter().enumerate() {
        read[k] = number(&numbers[k].into(), name)?;
    }
    let [azimuth, elevation, speed, side, height] = read;
    let (azimuth, elevation) = (radians(azimuth), radians(elevation));
    let stroke = Stroke { azimuth, elevation, speed, side, height };
    stroke.check().map(|()| stroke)
}

/// Plays every stroke and keeps nothing but the ends.
fn play_all(shot: &Shot, strokes: &[Stroke]) -> Result<Vec<f64>, Error> {
    let missing = || Error::invalid("balls", "the cue ball is missing");
    let struck = shot.struck().ok_or_else(missing)?;
    let arena = Arena::new(&shot.card);
    let mut balls: Vec<(BallId, BallMotion)> = at_the_strike(&shot.balls, struck);
    let cue = balls.iter().position(|(id, _)| id.is_cue()).ok_or_else(missing)?;
    let mut told = Vec::with_capacity(strokes.len() * balls.len() * PER_END);
    for stroke in strokes {
        let (velocity, spin) = stroke.launch(shot.card.ball.radius, shot.card.squirt_mass_ratio);
        balls[cue].1 = BallMotion { velocity, spin, ..struck };
        for end in arena.run(&balls, &mut Nothing) {
            told.extend(write_end(&arena, end));
        }
    }
    Ok(told)
}

fn write_end(arena: &Arena, end: BallEnd) -> [f64; PER_END] {
    let (at, pocket) = match end {
        BallEnd::Rest(at) => (at, -1.0),
        BallEnd::Moving(at) => (at, -2.0),
        BallEnd::Pocketed(pocket) => (arena.shape().pocket(pocket).hole, pocket_number(pocket)),
    };
    [finite(at.x), finite(at.y), pocket]
}
