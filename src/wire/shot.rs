//! The shot as a form, both ways.

use super::angle::degrees_for;
use super::reader::Form;
use super::table::{read_card, write_card};
use super::value::Value;
use crate::ball::BallId;
use crate::error::Error;
use crate::physics::{PlacedBall, Shot, Stroke};
use crate::units::radians;
use glam::DVec2;

/// Version of the form of shots and outcomes.
pub const FORM_VERSION: u32 = 1;

/// What a player places lies on the table, and no table is larger than this, m.
const FARTHEST: f64 = 100.0;

/// Reads a shot that can be played, from the form at `path` (empty for the root).
///
/// # Errors
/// [`Error::Malformed`] for a field that is unknown, missing or of the wrong
/// type, [`Error::Version`] for a form of a newer version, and whatever
/// [`Shot::check`] refuses. Fields are named from the root of the form.
pub fn read_shot(value: &Value, path: &str) -> Result<Shot, Error> {
    let form = Form::open_version_1(value, path, &["version", "table", "balls", "stroke"])?;
    let card = read_card(form.value("table")?, &form.path_of("table"))?;
    let balls = form
        .list("balls", 1, BallId::MAX_BALLS)?
        .map(|(entry, path)| read_ball(entry, &path))
        .collect::<Result<_, _>>()?;
    let stroke = read_stroke(form.value("stroke")?, &form.path_of("stroke"))?;
    let shot = Shot { card, balls, stroke };
    match shot.check() {
        Err(error) if !path.is_empty() => Err(error.within(path)),
        checked => checked.map(|()| shot),
    }
}

/// Writes a shot. Read again it is the same shot to the last bit, if its angles
/// were given in degrees; see [`degrees_for`].
pub fn write_shot(shot: &Shot) -> Value {
    let balls = shot.balls.iter().map(|ball| {
        Value::fields([
            ("id", Value::text(ball.id.to_string())),
            ("x", ball.position.x.into()),
            ("y", ball.position.y.into()),
        ])
    });
    Value::fields([
        ("version", f64::from(FORM_VERSION).into()),
        ("table", write_card(&shot.card)),
        ("balls", Value::List(balls.collect())),
        ("stroke", write_stroke(&shot.stroke)),
    ])
}

/// Writes a stroke.
pub fn write_stroke(stroke: &Stroke) -> Value {
    Value::fields([
        ("azimuth", degrees_for(stroke.azimuth).into()),
        ("elevation", degrees_for(stroke.elevation).into()),
        ("speed", stroke.speed.into()),
        ("side", stroke.side.into()),
        ("height", stroke.height.into()),
    ])
}

/// Reads a ball; whether it lies on the table is [`Shot::check`]'s.
pub(super) fn read_ball(value: &Value, path: &str) -> Result<PlacedBall, Error> {
    let form = Form::open(value, path, &["id", "x", "y"])?;
    let text = form.text("id")?;
    let id = ball_named(text).ok_or_else(|| {
        Error::malformed(form.path_of("id"), "must be \"cue\" or one of \"1\" to \"15\"")
    })?;
    Ok(PlacedBall { id, position: DVec2::new(form.number("x")?, form.number("y")?) })
}

pub(super) fn ball_named(text: &str) -> Option<BallId> {
    let numbers = (1..BallId::MAX_BALLS as u8).filter_map(BallId::object);
    // Compared with the one name of each, so "03" is nobody.
    std::iter::once(BallId::CUE).chain(numbers).find(|id| id.to_string() == text)
}

/// Reads the numbers of a stroke; whether it can be played is [`Stroke::check`]'s.
pub(super) fn read_stroke(value: &Value, path: &str) -> Result<Stroke, Error> {
    let form = Form::open(value, path, &["azimuth", "elevation", "speed", "side", "height"])?;
    Ok(Stroke {
        azimuth: radians(form.number("azimuth")?),
        elevation: radians(form.number("elevation")?),
        speed: form.number("speed")?,
        side: form.number("side")?,
        height: form.number("height")?,
    })
}

/// The fields `x` and `y` of a place that a player called, m.
///
/// # Errors
/// As [`Form::number`]; [`Error::OutOfRange`] beyond any table.
pub fn read_position(form: &Form) -> Result<DVec2, Error> {
    let coordinate = |name: &str| {
        let value = form.number(name)?;
        if value.abs() <= FARTHEST {
            return Ok(value);
        }
        let rule = format!("must lie from -{FARTHEST} to {FARTHEST} m");
        Err(Error::out_of_range(form.path_of(name), value, rule))
    };
    Ok(DVec2::new(coordinate("x")?, coordinate("y")?))
}
