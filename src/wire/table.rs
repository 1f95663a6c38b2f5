//! The table card as a form: a named size, and what differs from its defaults.

use super::angle::degrees_for;
use super::reader::{Form, number};
use super::value::Value;
use crate::error::Error;
use crate::table::{FrictionCurve, PocketSpec, TableCard, TableSize};
use crate::units::radians;

/// A parameter that is one number: its name, how to see it and how to replace it, and the
/// decimals that a link has for it.
type Parameter = (&'static str, fn(&TableCard) -> f64, fn(&mut TableCard, f64), u8);

/// Every parameter that is one number, in the order in which it is written. Order and length
/// are bits of links: to change either takes a new `LINK_VERSION`, for the check
/// of a link that is read by another list still passes.
pub(super) const PARAMETERS: [Parameter; 13] = [
    ("length", |card| card.length, |card, value| card.length = value, 4),
    ("width", |card| card.width, |card, value| card.width = value, 4),
    ("ballRadius", |card| card.ball.radius, |card, value| card.ball.radius = value, 6),
    ("ballMass", |card| card.ball.mass, |card, value| card.ball.mass = value, 5),
    ("gravity", |card| card.cloth.gravity, |card, value| card.cloth.gravity = value, 4),
    (
        "slidingFriction",
        |card| card.cloth.sliding_friction,
        |card, value| card.cloth.sliding_friction = value,
        5,
    ),
    (
        "rollingFriction",
        |card| card.cloth.rolling_friction,
        |card, value| card.cloth.rolling_friction = value,
        5,
    ),
    ("spinDecay", |card| card.cloth.spin_decay, |card, value| card.cloth.spin_decay = value, 3),
    (
        "ballRestitution",
        |card| card.ball_contact.restitution,
        |card, value| card.ball_contact.restitution = value,
        5,
    ),
    (
        "cushionRestitution",
        |card| card.cushion.restitution,
        |card, value| card.cushion.restitution = value,
        5,
    ),
    (
        "cushionFriction",
        |card| card.cushion.friction,
        |card, value| card.cushion.friction = value,
        5,
    ),
    (
        "noseHeight",
        |card| card.cushion.nose_height,
        |card, value| card.cushion.nose_height = value,
        6,
    ),
    (
        "squirtMassRatio",
        |card| card.squirt_mass_ratio,
        |card, value| card.squirt_mass_ratio = value,
        3,
    ),
];

const KNOWN: &[&str] = &[
    "size",
    "length",
    "width",
    "ballRadius",
    "ballMass",
    "gravity",
    "slidingFriction",
    "rollingFriction",
    "spinDecay",
    "ballRestitution",
    "cushionRestitution",
    "cushionFriction",
    "noseHeight",
    "squirtMassRatio",
    "ballFriction",
    "cornerPocket",
    "sidePocket",
];

/// Reads a table card. A parameter replaces the size's default, each by itself:
/// `noseHeight` stays where it was when only `ballRadius` is given. The three
/// parameters that are objects are replaced whole, so all their fields must be
/// given.
///
/// # Errors
/// As [`Form`]. Whether the card can be played on is for
/// [`TableCard::check`] to say.
pub fn read_card(value: &Value, path: &str) -> Result<TableCard, Error> {
    let form = Form::open(value, path, KNOWN)?;
    let mut card = TableCard::of_size(form.choice("size", &TableSize::ALL, TableSize::name)?);
    for (name, _, replace, _) in PARAMETERS {
        if let Some(value) = form.override_of(name) {
            replace(&mut card, number(value, &form.path_of(name))?);
        }
    }
    if let Some(value) = form.override_of("ballFriction") {
        card.ball_contact.friction = read_friction(value, &form.path_of("ballFriction"))?;
    }
    if let Some(value) = form.override_of("cornerPocket") {
        card.corner_pocket = read_pocket(value, &form.path_of("cornerPocket"))?;
    }
    if let Some(value) = form.override_of("sidePocket") {
        card.side_pocket = read_pocket(value, &form.path_of("sidePocket"))?;
    }
    Ok(card)
}

/// The size of the table on which something is dealt, nine feet unless another is asked for.
///
/// # Errors
/// As [`Form::choice`].
pub(super) fn read_size(form: &Form) -> Result<TableSize, Error> {
    match form.optional("size") {
        Some(_) => form.choice("size", &TableSize::ALL, TableSize::name),
        None => Ok(TableSize::NineFoot),
    }
}

/// Writes a table card: the size, and every parameter that differs from its default.
pub fn write_card(card: &TableCard) -> Value {
    let default = TableCard::of_size(card.size);
    let mut fields = vec![("size".to_owned(), Value::text(card.size.name()))];
    for (name, see, _, _) in PARAMETERS {
        if see(card) != see(&default) {
            fields.push((name.to_owned(), see(card).into()));
        }
    }
    if card.ball_contact.friction != default.ball_contact.friction {
        fields.push(("ballFriction".to_owned(), write_friction(&card.ball_contact.friction)));
    }
    if card.corner_pocket != default.corner_pocket {
        fields.push(("cornerPocket".to_owned(), write_pocket(&card.corner_pocket)));
    }
    if card.side_pocket != default.side_pocket {
        fields.push(("sidePocket".to_owned(), write_pocket(&card.side_pocket)));
    }
    Value::Fields(fields)
}

fn read_friction(value: &Value, path: &str) -> Result<FrictionCurve, Error> {
    let form = Form::open(value, path, &["floor", "range", "decay"])?;
    Ok(FrictionCurve {
        floor: form.number("floor")?,
        range: form.number("range")?,
        decay: form.number("decay")?,
    })
}

fn write_friction(curve: &FrictionCurve) -> Value {
    Value::fields([
        ("floor", curve.floor.into()),
        ("range", curve.range.into()),
        ("decay", curve.decay.into()),
    ])
}

fn read_pocket(value: &Value, path: &str) -> Result<PocketSpec, Error> {
    let form = Form::open(value, path, &["mouth", "cutAngle", "shelf", "facing", "holeRadius"])?;
    Ok(PocketSpec {
        mouth: form.number("mouth")?,
        cut_angle: radians(form.number("cutAngle")?),
        shelf: form.number("shelf")?,
        facing: form.number("facing")?,
        hole_radius: form.number("holeRadius")?,
    })
}

fn write_pocket(spec: &PocketSpec) -> Value {
    Value::fields([
        ("mouth", spec.mouth.into()),
        ("cutAngle", degrees_for(spec.cut_angle).into()),
        ("shelf", spec.shelf.into()),
        ("facing", spec.facing.into()),
        ("holeRadius", spec.hole_radius.into()),
    ])
}
