//! Items and the call as forms, both ways.

use super::demand::{read_demand, write_demand};
use super::reader::Form;
use super::shot::{ball_named, read_position, read_shot, write_shot};
use super::value::Value;
use crate::ball::BallId;
use crate::error::Error;
use crate::physics::{MODEL_VERSION, Shot};
use crate::plan::{Game, Link, MOST_IN_GROUP};
use crate::practice::{Call, CallPoint, ClearItem, LeaveItem, ReadItem};
use crate::table::Rail;

/// Version of the form of items.
pub const ITEM_VERSION: u32 = 1;

/// The hardest level.
pub const HARDEST_LEVEL: u32 = 6;

/// The most points a call may have.
pub const MOST_CALL_POINTS: usize = 32;

/// The most rails that may be asked for between two balls (tuning choice).
const MOST_CUSHIONS: u32 = 4;

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

/// Reads a Clear item whose layout can be played by this version of the model.
///
/// # Errors
/// As [`read_item`]; [`Error::Invalid`] for whatever [`Rack::new`](crate::plan::Rack::new)
/// refuses.
pub fn read_clear_item(value: &Value, path: &str) -> Result<ClearItem, Error> {
    let known = &["version", "kind", "model", "level", "seed", "shot", "game", "links", "key"];
    let form = Form::open_version_1(value, path, known)?;
    form.choice("kind", &["clear"], |kind| kind)?;
    let Head { model, level, seed, shot } = read_head(&form, MODEL_VERSION)?;
    let game = read_game(form.value("game")?, &form.path_of("game"))?;
    let links = match form.optional("links") {
        Some(_) => form
            .list("links", 0, BallId::MAX_BALLS)?
            .map(|(entry, path)| read_way(entry, &path))
            .collect::<Result<_, Error>>()?,
        None => Vec::new(),
    };
    let key = match form.optional("key") {
        Some(_) => Some(read_object(form.value("key")?, &form.path_of("key"))?),
        None => None,
    };
    let item = ClearItem { shot, game, links, key, model, level, seed };
    match item.rack() {
        Err(error) if !path.is_empty() => Err(error.within(path)),
        rack => rack.map(|_| item),
    }
}

fn read_game(value: &Value, path: &str) -> Result<Game, Error> {
    let form = Form::open(value, path, &["kind", "group", "last"])?;
    if form.choice("kind", &["rotation", "group"], |kind| kind)? == "rotation" {
        return match form.optional("group").or(form.optional("last")) {
            Some(_) => {
                Err(Error::malformed(path, "in rotation there is no group and no last ball"))
            }
            None => Ok(Game::Rotation),
        };
    }
    let group = form
        .list("group", 0, MOST_IN_GROUP)?
        .map(|(entry, path)| read_object(entry, &path))
        .collect::<Result<_, Error>>()?;
    Ok(Game::Group { group, last: read_object(form.value("last")?, &form.path_of("last"))? })
}

fn read_way(value: &Value, path: &str) -> Result<Link, Error> {
    let form = Form::open(value, path, &["from", "to", "cushions", "side"])?;
    Ok(Link {
        from: read_object(form.value("from")?, &form.path_of("from"))?,
        to: read_object(form.value("to")?, &form.path_of("to"))?,
        cushions: form.integer("cushions", 0, MOST_CUSHIONS)? as u8,
        side: match form.optional("side") {
            Some(_) => Some(form.choice("side", &Rail::ALL, Rail::name)?),
            None => None,
        },
    })
}

/// An object ball by its name; whether it is on the table is the rack's to check.
pub(super) fn read_object(value: &Value, path: &str) -> Result<BallId, Error> {
    let named = match value {
        Value::Text(text) => ball_named(text).filter(|id| !id.is_cue()),
        _ => None,
    };
    named.ok_or_else(|| Error::malformed(path, "must be one of \"1\" to \"15\""))
}

/// Writes a Clear item; what is not asked is left out.
pub fn write_clear_item(item: &ClearItem) -> Value {
    let name = |ball: BallId| Value::text(ball.to_string());
    let mut fields = write_head("clear", item.model, item.level, item.seed, &item.shot);
    let mut add = |name: &str, value: Value| fields.push((name.to_owned(), value));
    add(
        "game",
        match item.game {
            Game::Rotation => Value::fields([("kind", Value::text("rotation"))]),
            Game::Group { group, last } => Value::fields([
                ("kind", Value::text("group")),
                ("group", Value::List(group.balls().map(name).collect())),
                ("last", name(last)),
            ]),
        },
    );
    if !item.links.is_empty() {
        add("links", Value::List(item.links.iter().map(write_way).collect()));
    }
    if let Some(key) = item.key {
        add("key", name(key));
    }
    Value::Fields(fields)
}

fn write_way(link: &Link) -> Value {
    let mut fields = vec![
        ("from".to_owned(), Value::text(link.from.to_string())),
        ("to".to_owned(), Value::text(link.to.to_string())),
        ("cushions".to_owned(), f64::from(link.cushions).into()),
    ];
    if let Some(side) = link.side {
        fields.push(("side".to_owned(), Value::text(side.name())));
    }
    Value::Fields(fields)
}

/// What items of every kind have.
struct Head {
    model: u32,
    level: u8,
    seed: Option<u32>,
    shot: Shot,
}

fn read_head(form: &Form, now: u32) -> Result<Head, Error> {
    let model = form.version_up_to("model", now)?;
    let level = form.integer("level", 1, HARDEST_LEVEL)? as u8;
    let seed = match form.optional("seed") {
        Some(_) => Some(form.integer("seed", 0, u32::MAX)?),
        None => None,
    };
    let shot = read_shot(form.value("shot")?, &form.path_of("shot"))?;
    Ok(Head { model, level, seed, shot })
}

fn write_head(
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
