//! Calls that are kept as forms, both ways.

use super::answer::{answer_of, write_answer};
use super::clear::{OVERS, over_name, read_called};
use super::clear_item::{read_clear_item, write_clear_item};
use super::demand::{read_zone, write_zone};
use super::eye::{read_eye_item, write_eye_item};
use super::item::{
    kind_of, read_call, read_item, read_leave_item, write_call, write_item, write_leave_item,
};
use super::map::read_hand;
use super::outcome::finite;
use super::reader::Form;
use super::shot::read_position;
use super::text::compact;
use super::value::Value;
use crate::error::Error;
use crate::memory::{Answered, By, Came, Part, Record, Skill, Told, Worth};
use crate::physics::MODEL_VERSION;
use crate::table::{PocketId, Rail};
use crc::{CRC_64_XZ, Crc};

/// Version of the form of kept calls. A call has the first version that can hold it, so that
/// who knows no later one still reads all the others.
pub const RECORD_VERSION: u32 = 2;

/// The version in which calls of a part first were.
fn version_of(part: Part) -> u32 {
    match part {
        Part::Read | Part::Leave | Part::Clear => 1,
        Part::Eye => RECORD_VERSION,
    }
}

/// The part that an item's kind names; what names none is for the reader of Read to refuse.
fn part_of(item: &Value) -> Part {
    let kind = kind_of(item);
    Part::ALL.into_iter().find(|part| kind == Some(part.name())).unwrap_or(Part::Read)
}

/// The last moment that JavaScript's dates know, ms.
const LAST_MOMENT: f64 = 8.64e15;

/// The most rails of a path that are told.
const MOST_RAILS: usize = 64;

/// The most errors that a call tells of.
const MOST_ERRORS: usize = 64;

/// The longest card in words, bytes.
const LONGEST_CARD: usize = 200;

/// By a bit at a time: so few bytes need no table.
const CRC_64: Crc<u64, crc::NoTable> = Crc::<u64, crc::NoTable>::new(&CRC_64_XZ);

/// Reads what was asked and how it was answered: the fields `at`, `item` and `call`.
pub(super) fn read_answered(form: &Form) -> Result<(f64, Answered), Error> {
    let at = form.number("at")?;
    if at.fract() != 0.0 || !(0.0..=LAST_MOMENT).contains(&at) {
        let rule = "must be whole milliseconds since the beginning of 1970";
        return Err(Error::out_of_range(form.path_of("at"), at, rule));
    }
    let (item, call) = (form.value("item")?, form.value("call")?);
    let (item_path, call_path) = (form.path_of("item"), form.path_of("call"));
    let answered = match part_of(item) {
        Part::Read => {
            let item = read_item(item, &item_path)?;
            Answered::Read { item, call: read_call(call, &call_path)? }
        }
        Part::Leave => {
            let item = read_leave_item(item, &item_path)?;
            let known = &["zone", "stroke", "call", "hand", "seed", "index"];
            let form = Form::open(call, &call_path, known)?;
            Answered::Leave { item, answer: answer_of(&form)?, by: read_by(&form)? }
        }
        Part::Clear => {
            let item = read_clear_item(item, &item_path)?;
            let known = &["ball", "pocket", "zone", "hand", "seed", "index", "best", "own"];
            let form = Form::open(call, &call_path, known)?;
            let zone = match form.optional("zone") {
                Some(zone) => Some(read_zone(zone, &form.path_of("zone"))?),
                None => None,
            };
            let called = Value::fields([
                ("ball", form.value("ball")?.clone()),
                ("pocket", form.value("pocket")?.clone()),
            ]);
            let called = read_called(&called, &call_path, &item)?;
            Answered::Clear { called, zone, by: read_by(&form)?, worth: read_worth(&form)?, item }
        }
        Part::Eye => {
            let item = read_eye_item(item, &item_path)?;
            let form = Form::open(call, &call_path, &["answer"])?;
            Answered::Eye { item, answer: form.number("answer")? }
        }
    };
    Ok((at, answered))
}

fn read_by(form: &Form) -> Result<By, Error> {
    let number = |name: &str| form.integer(name, 0, u32::MAX);
    let drawn = match (form.optional("seed"), form.optional("index")) {
        (None, None) => None,
        _ => Some((number("seed")?, number("index")?)),
    };
    Ok(By { hand: read_hand(form, "hand")?, drawn })
}

fn read_worth(form: &Form) -> Result<Option<Worth>, Error> {
    let chance = |name: &str| {
        let chance = form.number(name)?;
        if (0.0..=1.0).contains(&chance) {
            return Ok(chance);
        }
        Err(Error::out_of_range(form.path_of(name), chance, "must lie from 0 to 1"))
    };
    match form.optional("best").or(form.optional("own")) {
        Some(_) => Ok(Some(Worth { best: chance("best")?, own: chance("own")? })),
        None => Ok(None),
    }
}

/// The item and the call; `whole` with what became known of the call later.
fn write_answered(answered: &Answered, whole: bool) -> (Value, Value) {
    let by = |fields: &mut Vec<(String, Value)>, by: &By| {
        fields.push(("hand".to_owned(), Value::text(by.hand.id)));
        if let Some((seed, index)) = by.drawn {
            fields.push(("seed".to_owned(), f64::from(seed).into()));
            fields.push(("index".to_owned(), f64::from(index).into()));
        }
    };
    match answered {
        Answered::Read { item, call } => (write_item(item), write_call(call)),
        Answered::Leave { item, answer, by: played } => {
            let mut call = match write_answer(answer) {
                Value::Fields(fields) => fields,
                _ => vec![],
            };
            by(&mut call, played);
            (write_leave_item(item), Value::Fields(call))
        }
        Answered::Clear { item, called, zone, by: played, worth } => {
            let mut call = vec![
                ("ball".to_owned(), Value::text(called.ball.to_string())),
                ("pocket".to_owned(), Value::text(called.pocket.name())),
            ];
            if let Some(zone) = zone {
                call.push(("zone".to_owned(), write_zone(zone)));
            }
            by(&mut call, played);
            if let Some(Worth { best, own }) = worth.filter(|_| whole) {
                call.push(("best".to_owned(), best.into()));
                call.push(("own".to_owned(), own.into()));
            }
            (write_clear_item(item), Value::Fields(call))
        }
        Answered::Eye { item, answer } => {
            (write_eye_item(item), Value::fields([("answer", finite(*answer).into())]))
        }
    }
}

/// What tells a call from all others, by its content: when it was made, what was asked and
/// what was answered (CRC-64 of their text). Of a million calls two share it with a chance
/// of one in ten million or so.
///
/// # Errors
/// None that a record can cause.
pub fn record_id(record: &Record) -> Result<String, Error> {
    let (item, call) = write_answered(&record.answered, false);
    let text = compact(&Value::fields([("at", record.at.into()), ("item", item), ("call", call)]))?;
    Ok(format!("{:016x}", CRC_64.checksum(text.as_bytes())))
}

/// Writes a kept call.
///
/// # Errors
/// None that a record can cause.
pub fn write_record(record: &Record) -> Result<Value, Error> {
    let (item, call) = write_answered(&record.answered, true);
    let told = |Told { skill, called, real }: &Told| {
        Value::fields([
            ("skill", Value::text(skill.id())),
            ("called", finite(*called).into()),
            ("real", finite(*real).into()),
        ])
    };
    let came = &record.came;
    let mut outcome = vec![
        ("x".to_owned(), finite(came.stop.x).into()),
        ("y".to_owned(), finite(came.stop.y).into()),
        ("pocket".to_owned(), came.pocket.map_or(Value::Null, |one| Value::text(one.name()))),
        (
            "rails".to_owned(),
            Value::List(came.rails.iter().map(|rail| Value::text(rail.name())).collect()),
        ),
    ];
    if let Some(over) = came.over {
        outcome.push(("over".to_owned(), Value::text(over_name(over))));
    }
    Ok(Value::fields([
        ("version", f64::from(version_of(record.part())).into()),
        ("id", Value::text(record_id(record)?)),
        ("at", record.at.into()),
        ("model", f64::from(record.model).into()),
        ("card", Value::text(record.card.as_str())),
        ("item", item),
        ("call", call),
        ("mark", record.mark.map_or(Value::Null, |mark| finite(mark).into())),
        ("success", Value::Bool(record.success)),
        ("errors", Value::List(record.told.iter().map(told).collect())),
        ("outcome", Value::Fields(outcome)),
    ]))
}

/// Reads a kept call. What it tells is taken as it was found then, by its version of the
/// model.
///
/// # Errors
/// As [`Form`] and the readers of items and calls; [`Error::Invalid`] if the id is not that
/// of the content.
pub fn read_record(value: &Value) -> Result<Record, Error> {
    let known = &[
        "version", "id", "at", "model", "card", "item", "call", "mark", "success", "errors",
        "outcome",
    ];
    let version = version_of(value.peek("item").map_or(Part::Read, part_of));
    let form = Form::open_version(value, "", known, version)?;
    let (at, answered) = read_answered(&form)?;
    let mark = match form.optional("mark") {
        Some(_) => Some(form.number("mark")?),
        None => None,
    };
    if let Some(mark) = mark.filter(|mark| !(0.0..=100.0).contains(mark)) {
        return Err(Error::out_of_range("mark", mark, "must lie from 0 to 100"));
    }
    let card = form.text("card")?;
    if card.len() > LONGEST_CARD {
        let rule = format!("must have at most {LONGEST_CARD} bytes");
        return Err(Error::out_of_range("card.length", card.len() as f64, rule));
    }
    let told = form
        .list("errors", 0, MOST_ERRORS)?
        .map(|(entry, path)| {
            let form = Form::open(entry, &path, &["skill", "called", "real"])?;
            let skill = form.choice("skill", &Skill::ALL, Skill::id)?;
            Ok(Told { skill, called: form.number("called")?, real: form.number("real")? })
        })
        .collect::<Result<_, Error>>()?;
    let record = Record {
        at,
        answered,
        model: form.version_up_to("model", MODEL_VERSION)?,
        card: card.to_owned(),
        mark,
        success: form.truth("success")?,
        told,
        came: read_came(form.value("outcome")?)?,
    };
    if form.text("id")? != record_id(&record)? {
        return Err(Error::invalid("id", "is not that of this call: it was altered"));
    }
    Ok(record)
}

fn read_came(value: &Value) -> Result<Came, Error> {
    let form = Form::open(value, "outcome", &["x", "y", "pocket", "rails", "over"])?;
    let rails = form
        .list("rails", 0, MOST_RAILS)?
        .map(|(entry, path)| {
            let named = match entry {
                Value::Text(name) => Rail::ALL.into_iter().find(|rail| rail.name() == name),
                _ => None,
            };
            named.ok_or_else(|| Error::malformed(path, "must be the name of a rail"))
        })
        .collect::<Result<_, Error>>()?;
    Ok(Came {
        stop: read_position(&form)?,
        pocket: match form.optional("pocket") {
            Some(_) => Some(form.choice("pocket", &PocketId::ALL, PocketId::name)?),
            None => None,
        },
        rails,
        over: match form.optional("over") {
            Some(_) => Some(form.choice("over", &OVERS, over_name)?),
            None => None,
        },
    })
}
