//! Items and the call as forms, both ways.

use super::clear_item::{read_clear_item, write_clear_item};
use super::demand::{read_demand, write_demand};
use super::reader::Form;
use super::shot::{read_position, read_shot, write_shot};
use super::value::Value;
use crate::error::Error;
use crate::physics::{MODEL_VERSION, Shot};
use crate::practice::{AnyItem, Call, CallPoint, HARDEST, LeaveItem, ReadItem, question};
use crate::table::Rail;

/// Version of the form of items.
pub const ITEM_VERSION: u32 = 1;

/// The hardest level.
pub const HARDEST_LEVEL: u32 = HARDEST as u32;

/// The most points a call may have.
pub const MOST_CALL_POINTS: usize = 32;

/// Reads an item whose shot can be played by this version of the model, which
/// may not be the one it was made with.
///
/// # Errors
/// As [`read_shot`]; [`Error::Version`] also if the item was made with a newer
/// model of the physics.
pub fn read_item(value: &Value, path: &str) -> Result<ReadItem, Error> {
    read_item_as(MODEL_VERSION, value, path)
}

/// Reads an item as version `now` of the model does.
///
/// # Errors
/// As [`read_item`].
pub fn read_item_as(now: u32, value: &Value, path: &str) -> Result<ReadItem, Error> {
    let known = &["version", "kind", "model", "level", "seed", "shot"];
    let form = Form::open_version_1(value, path, known)?;
    form.choice("kind", &["read"], |kind| kind)?;
    let Head { model, level, seed, shot } = read_head(&form, now)?;
    Ok(ReadItem { shot, model, level, seed })
}

/// Writes an item.
pub fn write_item(item: &ReadItem) -> Value {
    let fields = write_head("read", item.model, item.level, item.seed, &item.shot);
    Value::Fields(fields)
}

/// Reads a Leave item whose shot can be played by this version of the model.
///
/// # Errors
/// As [`read_item`], and [`read_demand`] for what is asked.
pub fn read_leave_item(value: &Value, path: &str) -> Result<LeaveItem, Error> {
    read_leave_item_as(MODEL_VERSION, value, path)
}

/// Reads a Leave item as version `now` of the model does.
///
/// # Errors
/// As [`read_leave_item`].
pub fn read_leave_item_as(now: u32, value: &Value, path: &str) -> Result<LeaveItem, Error> {
    let known = &["version", "kind", "model", "level", "seed", "shot", "demand"];
    let form = Form::open_version_1(value, path, known)?;
    form.choice("kind", &["leave"], |kind| kind)?;
    let Head { model, level, seed, shot } = read_head(&form, now)?;
    let demand = read_demand(form.value("demand")?, &form.path_of("demand"), &shot)?;
    Ok(LeaveItem { shot, demand, model, level, seed })
}

/// Writes a Leave item.
pub fn write_leave_item(item: &LeaveItem) -> Value {
    let mut fields = write_head("leave", item.model, item.level, item.seed, &item.shot);
    fields.push(("demand".to_owned(), write_demand(&item.demand)));
    Value::Fields(fields)
}

/// Reads the shot of an item of any kind.
///
/// # Errors
/// As [`read_item`], [`read_leave_item`] and [`read_clear_item`].
pub fn read_shot_of(item: &Value, path: &str) -> Result<Shot, Error> {
    Ok(match kind_of(item) {
        Some("leave") => read_leave_item(item, path)?.shot,
        Some("clear") => read_clear_item(item, path)?.shot,
        _ => read_item(item, path)?.shot,
    })
}

/// The kind that the form of an item tells, looked at before it is read; what tells none is
/// for the reader of Read to refuse.
pub(super) fn kind_of(item: &Value) -> Option<&str> {
    match item.peek("kind") {
        Some(Value::Text(kind)) => Some(kind),
        _ => None,
    }
}

/// Reads an item of any kind, which can be played.
///
/// # Errors
/// As the readers of each kind; [`Error::Malformed`] for a kind that there is not;
/// [`Error::Invalid`] for a Read item whose cue ball meets nothing.
pub fn read_any_item(value: &Value, path: &str) -> Result<AnyItem, Error> {
    match kind_of(value) {
        Some("leave") => read_leave_item(value, path).map(AnyItem::Leave),
        Some("clear") => read_clear_item(value, path).map(AnyItem::Clear),
        Some(kind) if kind != "read" => {
            let form = Form::of(value, path, &["kind"])?;
            form.choice("kind", &["read", "leave", "clear"], |kind| kind)?;
            Err(Error::malformed(path, "must be an item"))
        }
        _ => {
            let item = read_item(value, path)?;
            question(&item).map_err(|error| error.within(path))?;
            Ok(AnyItem::Read(item))
        }
    }
}

/// Writes an item of any kind.
pub fn write_any_item(item: &AnyItem) -> Value {
    match item {
        AnyItem::Read(item) => write_item(item),
        AnyItem::Leave(item) => write_leave_item(item),
        AnyItem::Clear(item) => write_clear_item(item),
    }
}

/// What items of every kind have.
pub(super) struct Head {
    pub model: u32,
    pub level: u8,
    pub seed: Option<u32>,
    pub shot: Shot,
}

pub(super) fn read_head(form: &Form, now: u32) -> Result<Head, Error> {
    let model = form.version_up_to("model", now)?;
    let level = form.integer("level", 1, HARDEST_LEVEL)? as u8;
    let seed = read_seed(form)?;
    let shot = read_shot(form.value("shot")?, &form.path_of("shot"))?;
    Ok(Head { model, level, seed, shot })
}

/// The seed of what was dealt.
///
/// # Errors
/// As [`Form::integer`].
pub(super) fn read_seed(form: &Form) -> Result<Option<u32>, Error> {
    match form.optional("seed") {
        Some(_) => Ok(Some(form.integer("seed", 0, u32::MAX)?)),
        None => Ok(None),
    }
}

pub(super) fn write_head(
    kind: &str,
    model: u32,
    level: u8,
    seed: Option<u32>,
    shot: &Shot,
) -> Vec<(String, Value)> {
    let mut fields = vec![
        ("version".to_owned(), f64::from(ITEM_VERSION).into()),
        ("kind".to_owned(), Value::text(kind)),
        ("model".to_owned(), f64::from(model).into()),
        ("level".to_owned(), f64::from(level).into()),
    ];
    if let Some(seed) = seed {
        fields.push(("seed".to_owned(), f64::from(seed).into()));
    }
    fields.push(("shot".to_owned(), write_shot(shot)));
    fields
}

/// Reads a call. Whether its points lie on the table of some item is not
/// checked, for a call alone does not know the table.
///
/// # Errors
/// [`Error::Malformed`] for a field that is unknown, missing or of the wrong
/// type, [`Error::OutOfRange`] for more than [`MOST_CALL_POINTS`] points or a
/// coordinate beyond any table.
pub fn read_call(value: &Value, path: &str) -> Result<Call, Error> {
    let form = Form::open(value, path, &["points", "stop"])?;
    let points = form
        .list("points", 0, MOST_CALL_POINTS)?
        .map(|(entry, path)| {
            let form = Form::open(entry, &path, &["x", "y", "rail"])?;
            let rail = match form.optional("rail") {
                Some(_) => Some(form.choice("rail", &Rail::ALL, Rail::name)?),
                None => None,
            };
            Ok(CallPoint { position: read_position(&form)?, rail })
        })
        .collect::<Result<_, Error>>()?;
    let stop = Form::open(form.value("stop")?, &form.path_of("stop"), &["x", "y"])?;
    Ok(Call { points, stop: read_position(&stop)? })
}

/// Writes a call.
pub fn write_call(call: &Call) -> Value {
    let points = call.points.iter().map(write_point).collect();
    let stop = Value::fields([("x", call.stop.x.into()), ("y", call.stop.y.into())]);
    Value::fields([("points", Value::List(points)), ("stop", stop)])
}

/// Writes one point of a call.
pub fn write_point(point: &CallPoint) -> Value {
    let (x, y) = (point.position.x.into(), point.position.y.into());
    match point.rail {
        Some(rail) => Value::fields([("x", x), ("y", y), ("rail", Value::text(rail.name()))]),
        None => Value::fields([("x", x), ("y", y)]),
    }
}
