//! Sets as forms, both ways.
//!
//! A set's text comes from anywhere. It is cut into its entries first, each of which is read
//! by itself: a bad one costs nothing but itself, and every fault is told with its place.

use super::item::{read_any_item, write_any_item};
use super::reader::Form;
use super::set_pieces::cut;
use super::shot::{read_ball, read_stroke, write_stroke};
use super::table::read_card;
use super::text::parse;
use super::value::Value;
use crate::error::Error;
use crate::physics::Stroke;
use crate::practice::set::{Entry, ItemSet, Pass};

/// Version of the form of sets.
pub const SET_VERSION: u32 = 1;

/// The longest text of a set that is read, bytes: room for the most entries with the longest
/// notes (tuning choice).
pub const LONGEST_SET: usize = 512 * 1024;

/// The most entries of a set (tuning choice).
pub const MOST_ENTRIES: usize = 50;

/// The longest title, characters (tuning choice: a line of a phone).
pub const LONGEST_TITLE: usize = 80;

/// The longest note, characters (tuning choice: what is read at the table).
pub const LONGEST_NOTE: usize = 800;

/// The highest mark of an item.
const HIGHEST_MARK: u32 = 100;

const KNOWN: &[&str] = &["version", "kind", "title", "note", "pass", "entries"];
const KNOWN_OF_ENTRY: &[&str] = &["title", "note", "item", "stroke"];

/// What was found in the text of a set.
#[derive(Clone, Debug, PartialEq)]
pub struct FoundSet {
    /// What is good of it; `None` if it is no set of this version at all.
    pub set: Option<ItemSet>,
    /// Where each good entry stands in the text, from 0.
    pub places: Vec<usize>,
    /// How many entries there are.
    pub n_entries: usize,
    /// Everything that is wrong, each with its place.
    pub faults: Vec<Error>,
}

/// Looks for a set in `text`. What is good is taken, and what is not is told: an entry counts
/// as good if its item can be played; a title, a note or a stroke that is not good is left
/// out of it. Inside of an item its table, each ball and its stroke are looked at one by one.
pub fn find_set(text: &str) -> FoundSet {
    let mut found = FoundSet { set: None, places: Vec::new(), n_entries: 0, faults: Vec::new() };
    if text.len() > LONGEST_SET {
        let rule = format!("the text is longer than {LONGEST_SET} bytes");
        found.faults.push(Error::malformed("form", rule));
        return found;
    }
    let pieces = cut(text, "entries", MOST_ENTRIES);
    let head = pieces.as_ref().map_or(text, |pieces| &pieces.head);
    let mut set = match parse(head).and_then(|head| read_head(&head, &mut found.faults)) {
        Ok(set) => set,
        Err(error) => {
            found.faults.push(error);
            return found;
        }
    };
    let Some(pieces) = pieces else {
        found.faults.push(Error::malformed("entries", "must be given as a list"));
        return found;
    };
    found.n_entries = pieces.n_entries;
    if pieces.is_cut_off {
        found.faults.push(Error::malformed("form", "the text ends before its entries do"));
    }
    if pieces.n_entries > MOST_ENTRIES {
        let rule = format!("must have 0 to {MOST_ENTRIES} entries; the first of them are read");
        found.faults.push(Error::out_of_range("entries.length", pieces.n_entries as f64, rule));
    }
    for (k, text) in pieces.entries.iter().enumerate() {
        let place = format!("entries[{k}]");
        let entry = match parse(text) {
            Ok(value) => read_entry(&value, &place, &mut found.faults),
            Err(error) => {
                found.faults.push(placed(error, &place));
                None
            }
        };
        if let Some(entry) = entry {
            set.entries.push(entry);
            found.places.push(k);
        }
    }
    found.set = Some(set);
    found
}

/// Reads a set that is good throughout.
///
/// # Errors
/// The first of the faults that [`find_set`] tells.
pub fn read_set(text: &str) -> Result<ItemSet, Error> {
    let found = find_set(text);
    match (found.faults.into_iter().next(), found.set) {
        (None, Some(set)) => Ok(set),
        (fault, _) => Err(fault.unwrap_or_else(|| Error::malformed("form", "must be a set"))),
    }
}

/// An error of a text by itself, told by where that stands.
fn placed(error: Error, place: &str) -> Error {
    match error {
        Error::Malformed { field, rule } if field == "form" => Error::malformed(place, rule),
        other => other.within(place),
    }
}

/// What `result` gives; or `without`, and the fault is noted.
fn or_without<T>(result: Result<T, Error>, without: T, faults: &mut Vec<Error>) -> T {
    result.unwrap_or_else(|error| {
        faults.push(error);
        without
    })
}

/// Everything but the entries.
///
/// # Errors
/// If it is no set, or one of a newer version.
fn read_head(value: &Value, faults: &mut Vec<Error>) -> Result<ItemSet, Error> {
    let form = Form::of(value, "", KNOWN)?;
    form.version("version", SET_VERSION)?;
    form.choice("kind", &["set"], |kind| kind)?;
    faults.extend(form.unknown());
    Ok(ItemSet {
        title: or_without(read_title(&form, 1), String::new(), faults),
        note: or_without(read_note(&form), String::new(), faults),
        pass: or_without(read_pass(&form), Pass::FIRST, faults),
        entries: Vec::new(),
    })
}

/// The field `pass` of a form.
///
/// # Errors
/// As [`Form::integer`].
pub(super) fn read_pass(form: &Form) -> Result<Pass, Error> {
    let form = Form::open(form.value("pass")?, &form.path_of("pass"), &["mark", "need"])?;
    Ok(Pass {
        mark: form.integer("mark", 1, HIGHEST_MARK)? as u8,
        need: form.integer("need", 1, MOST_ENTRIES as u32)? as u8,
    })
}

fn read_title(form: &Form, least: usize) -> Result<String, Error> {
    line(form, "title", least, LONGEST_TITLE, |c| !c.is_control())
}

fn read_note(form: &Form) -> Result<String, Error> {
    line(form, "note", 0, LONGEST_NOTE, |c| !c.is_control() || c == '\n')
}

/// A text of `least` to `most` characters, all of which are `fit`.
fn line(
    form: &Form,
    name: &str,
    least: usize,
    most: usize,
    fit: fn(char) -> bool,
) -> Result<String, Error> {
    let text = form.text(name)?;
    let length = text.chars().count();
    if !(least..=most).contains(&length) {
        let rule = format!("must have {least} to {most} characters");
        return Err(Error::out_of_range(form.path_of(name) + ".length", length as f64, rule));
    }
    if !text.chars().all(fit) {
        return Err(Error::malformed(form.path_of(name), "must have no control characters"));
    }
    Ok(text.to_owned())
}

fn read_entry(value: &Value, place: &str, faults: &mut Vec<Error>) -> Option<Entry> {
    let form = or_without(Form::of(value, place, KNOWN_OF_ENTRY).map(Some), None, faults)?;
    faults.extend(form.unknown());
    let title = or_without(read_title(&form, 0), String::new(), faults);
    let note = or_without(read_note(&form), String::new(), faults);
    let meant = or_without(read_meant(&form), None, faults);
    let path = form.path_of("item");
    let item = form.value("item").and_then(|value| read_any_item(value, &path));
    match item {
        Ok(item) => Some(Entry { title, note, item, stroke: meant }),
        Err(error) => {
            let others = form.optional("item").map_or(Vec::new(), |item| faults_in(item, &path));
            let told = error.field().to_owned();
            faults.push(error);
            faults.extend(others.into_iter().filter(|other| other.field() != told));
            None
        }
    }
}

fn read_meant(form: &Form) -> Result<Option<Stroke>, Error> {
    let Some(value) = form.optional("stroke") else { return Ok(None) };
    let path = form.path_of("stroke");
    let stroke = read_stroke(value, &path)?;
    stroke.check().map_err(|error| error.within(&path))?;
    Ok(Some(stroke))
}

/// The entry whose item and stroke are the fields of `form`, without words.
///
/// # Errors
/// As [`read_any_item`], and as for strokes.
pub(super) fn read_shown(form: &Form) -> Result<Entry, Error> {
    Ok(Entry {
        title: String::new(),
        note: String::new(),
        item: read_any_item(form.value("item")?, &form.path_of("item"))?,
        stroke: read_meant(form)?,
    })
}

/// Reads a score that somebody claims, 0 to 100.
///
/// # Errors
/// As [`Form::integer`].
pub(super) fn read_claim(form: &Form) -> Result<Option<u8>, Error> {
    match form.optional("claimed") {
        Some(_) => Ok(Some(form.integer("claimed", 0, HIGHEST_MARK)? as u8)),
        None => Ok(None),
    }
}

/// What is wrong with the parts of an item's shot, each looked at by itself.
fn faults_in(item: &Value, path: &str) -> Vec<Error> {
    let Some(shot) = item.peek("shot") else { return Vec::new() };
    let path = format!("{path}.shot");
    let mut faults = Vec::new();
    if let Some(table) = shot.peek("table") {
        faults.extend(read_card(table, &format!("{path}.table")).err());
    }
    if let Some(Value::List(balls)) = shot.peek("balls") {
        let each = balls.iter().enumerate();
        faults.extend(
            each.filter_map(|(k, ball)| read_ball(ball, &format!("{path}.balls[{k}]")).err()),
        );
    }
    if let Some(stroke) = shot.peek("stroke") {
        let path = format!("{path}.stroke");
        let checked = read_stroke(stroke, &path)
            .and_then(|stroke| stroke.check().map_err(|error| error.within(&path)));
        faults.extend(checked.err());
    }
    faults
}

/// Writes a set.
pub fn write_set(set: &ItemSet) -> Value {
    Value::fields([
        ("version", f64::from(SET_VERSION).into()),
        ("kind", Value::text("set")),
        ("title", Value::text(&set.title)),
        ("note", Value::text(&set.note)),
        (
            "pass",
            Value::fields([
                ("mark", f64::from(set.pass.mark).into()),
                ("need", f64::from(set.pass.need).into()),
            ]),
        ),
        ("entries", Value::List(set.entries.iter().map(write_entry).collect())),
    ])
}

fn write_entry(entry: &Entry) -> Value {
    let mut fields = vec![
        ("title".to_owned(), Value::text(&entry.title)),
        ("note".to_owned(), Value::text(&entry.note)),
        ("item".to_owned(), write_any_item(&entry.item)),
    ];
    if let Some(stroke) = &entry.stroke {
        fields.push(("stroke".to_owned(), write_stroke(stroke)));
    }
    Value::Fields(fields)
}
