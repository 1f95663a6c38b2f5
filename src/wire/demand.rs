//! What is asked of a shot, and zones, as forms, both ways.

use super::angle::degrees_for;
use super::reader::Form;
use super::shot::{ball_named, read_position};
use super::value::Value;
use crate::ball::BallId;
use crate::error::Error;
use crate::physics::Shot;
use crate::shot::{Demand, MOST_DEMANDED_RAILS, Zone};
use crate::table::{PocketId, Rail};
use crate::units::radians;
use glam::DVec2;

/// Half a zone's length and width lie between these, m (tuning choice: a millimetre,
/// and more than any table).
const ZONE_SIZES: std::ops::RangeInclusive<f64> = 0.001..=10.0;

/// Reads what is asked on the layout of `shot`.
///
/// # Errors
/// [`Error::Malformed`] for a field that is unknown, missing or of the wrong type;
/// [`Error::Invalid`] for a ball that is not on the table or asked for twice;
/// [`Error::OutOfRange`] for a zone of no or endless size.
pub fn read_demand(value: &Value, path: &str, shot: &Shot) -> Result<Demand, Error> {
    let form = Form::open(value, path, &["on", "pocket", "next", "rails", "zone"])?;
    let on = read_object_ball(&form, "on", shot)?;
    let next = match form.optional("next") {
        Some(_) => Some(read_object_ball(&form, "next", shot)?),
        None => None,
    };
    if next == Some(on) {
        let rule = format!("the {on} is the ball on: it cannot be the next one as well");
        return Err(Error::invalid(form.path_of("next"), rule));
    }
    let pocket = match form.optional("pocket") {
        Some(_) => Some(form.choice("pocket", &PocketId::ALL, PocketId::name)?),
        None => None,
    };
    let rails = match form.optional("rails") {
        Some(_) => form
            .list("rails", 0, MOST_DEMANDED_RAILS)?
            .map(|(entry, path)| read_rail(entry, &path))
            .collect::<Result<_, _>>()?,
        None => Vec::new(),
    };
    let zone = match form.optional("zone") {
        Some(zone) => Some(read_zone(zone, &form.path_of("zone"))?),
        None => None,
    };
    Ok(Demand { on, pocket, next, rails, zone })
}

/// Writes what is asked; what is not is left out.
pub fn write_demand(demand: &Demand) -> Value {
    let mut fields = vec![("on".to_owned(), Value::text(demand.on.to_string()))];
    let mut add = |name: &str, value: Value| fields.push((name.to_owned(), value));
    if let Some(pocket) = demand.pocket {
        add("pocket", Value::text(pocket.name()));
    }
    if let Some(next) = demand.next {
        add("next", Value::text(next.to_string()));
    }
    if !demand.rails.is_empty() {
        let rails = demand.rails.iter().map(|rail| Value::text(rail.name()));
        add("rails", Value::List(rails.collect()));
    }
    if let Some(zone) = &demand.zone {
        add("zone", write_zone(zone));
    }
    Value::Fields(fields)
}

/// Reads a zone.
///
/// # Errors
/// As [`read_demand`].
pub fn read_zone(value: &Value, path: &str) -> Result<Zone, Error> {
    let form = Form::open(value, path, &["x", "y", "long", "wide", "turn"])?;
    let centre = read_position(&form)?;
    let half = |name: &str| {
        let size = form.number(name)?;
        if ZONE_SIZES.contains(&(size / 2.0)) {
            return Ok(size / 2.0);
        }
        Err(Error::out_of_range(form.path_of(name), size, "must lie from 0.002 to 20 m"))
    };
    let half = DVec2::new(half("long")?, half("wide")?);
    Ok(Zone { centre, half, turn: radians(form.number("turn")?) })
}

/// Writes a zone.
pub fn write_zone(zone: &Zone) -> Value {
    Value::fields([
        ("x", zone.centre.x.into()),
        ("y", zone.centre.y.into()),
        ("long", (2.0 * zone.half.x).into()),
        ("wide", (2.0 * zone.half.y).into()),
        ("turn", degrees_for(zone.turn).into()),
    ])
}

fn read_object_ball(form: &Form, name: &str, shot: &Shot) -> Result<BallId, Error> {
    let id = ball_named(form.text(name)?).filter(|id| !id.is_cue());
    id.filter(|id| shot.balls.iter().any(|ball| ball.id == *id)).ok_or_else(|| {
        Error::invalid(form.path_of(name), "must be an object ball that is on the table")
    })
}

fn read_rail(value: &Value, path: &str) -> Result<Rail, Error> {
    let named = |name: &str| Rail::ALL.into_iter().find(|rail| rail.name() == name);
    match value {
        Value::Text(name) => named(name),
        _ => None,
    }
    .ok_or_else(|| Error::malformed(path, "must be \"head\", \"foot\", \"right\" or \"left\""))
}
