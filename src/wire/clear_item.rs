//! Clear items as forms, both ways.

use super::item::{Head, read_head, write_head};
use super::reader::Form;
use super::shot::ball_named;
use super::value::Value;
use crate::ball::BallId;
use crate::error::Error;
use crate::physics::MODEL_VERSION;
use crate::plan::{Game, Link, MOST_IN_GROUP};
use crate::practice::ClearItem;
use crate::table::Rail;

/// The most rails that may be asked for between two balls (tuning choice).
const MOST_CUSHIONS: u32 = 4;

/// Reads a Clear item whose layout can be played by this version of the model.
///
/// # Errors
/// As [`read_item`](super::read_item); [`Error::Invalid`] for whatever
/// [`Rack::new`](crate::plan::Rack::new) refuses.
pub fn read_clear_item(value: &Value, path: &str) -> Result<ClearItem, Error> {
    read_clear_item_as(MODEL_VERSION, value, path)
}

/// Reads a Clear item as version `now` of the model does.
///
/// # Errors
/// As [`read_clear_item`].
pub fn read_clear_item_as(now: u32, value: &Value, path: &str) -> Result<ClearItem, Error> {
    let known = &["version", "kind", "model", "level", "seed", "shot", "game", "links", "key"];
    let form = Form::open_version_1(value, path, known)?;
    form.choice("kind", &["clear"], |kind| kind)?;
    let Head { model, level, seed, shot } = read_head(&form, now)?;
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
