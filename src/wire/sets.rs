//! What the page can call of sets, natively: one request in, one reply out.

use super::demand::write_zone;
use super::judgement::{PathForm, write_path};
use super::question::{BallForm, DrawingForm, Place, places, write_balls, write_drawing};
use super::reader::{Form, number};
use super::set::{
    FoundSet, MOST_ENTRIES, find_set, read_claim, read_pass, read_set, read_shown, write_set,
};
use super::text::compact;
use super::value::Value;
use crate::error::Error;
use crate::physics::Sample;
use crate::practice::clear::clear_in_words;
use crate::practice::leave::task_in_words;
use crate::practice::set::{Entry, Meant, Tally, mark_of_run, meant};
use crate::practice::{AnyItem, card_in_words, question};
use serde::Serialize;

/// The marks of a set that is taken: the highest is that of a perfect call.
const MARKS: std::ops::RangeInclusive<f64> = 0.0..=100.0;

/// What was found in a text.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct FoundSetForm {
    set: Option<Value>,
    /// Of each good entry: where it stands in the text, its kind, and what it asks.
    entries: Vec<EntryForm>,
    faults: Vec<FaultForm>,
    words: String,
}

#[derive(Clone, Debug, PartialEq, Serialize)]
struct EntryForm {
    place: usize,
    kind: &'static str,
    task: String,
}

#[derive(Clone, Debug, PartialEq, Serialize)]
struct FaultForm {
    place: String,
    rule: String,
}

/// Looks for a set in a text: what is wrong is part of the reply.
pub fn open_set(text: &str) -> FoundSetForm {
    write_found(&find_set(text))
}

/// Writes what was found in a text.
pub(super) fn write_found(found: &FoundSet) -> FoundSetForm {
    let entries = found.set.as_ref().map_or(&[][..], |set| set.entries.as_slice());
    let n_good = entries.len();
    let faults: Vec<FaultForm> = found.faults.iter().map(write_fault).collect();
    let words = match (&found.set, faults.len()) {
        (None, _) => "This is no set that can be read.".to_owned(),
        (Some(_), 0) => match n_good {
            1 => "1 item.".to_owned(),
            n => format!("{n} items."),
        },
        (Some(_), n) => {
            let faults = if n == 1 { "1 fault".to_owned() } else { format!("{n} faults") };
            format!("{n_good} of {} items can be read; {faults}.", found.n_entries)
        }
    };
    FoundSetForm {
        entries: entries
            .iter()
            .zip(&found.places)
            .map(|(entry, &place)| EntryForm {
                place,
                kind: entry.item.kind(),
                task: task_of(&entry.item),
            })
            .collect(),
        set: found.set.as_ref().map(write_set),
        faults,
        words,
    }
}

fn write_fault(error: &Error) -> FaultForm {
    // The message without its place: the value that was found is part of it.
    let told = error.to_string();
    let rule = told.strip_prefix(error.field()).unwrap_or(&told).trim_start_matches(':').trim();
    FaultForm { place: error.field().to_owned(), rule: rule.to_owned() }
}

/// Writes the text of a set that is good throughout, as it goes into a file.
///
/// # Errors
/// As [`read_set`].
pub fn set_text(text: &str) -> Result<String, Error> {
    compact(&write_set(&read_set(text)?))
}

/// What an item asks.
fn task_of(item: &AnyItem) -> String {
    match item {
        AnyItem::Read(item) => question(item).map_or_else(
            |_| String::new(),
            |question| format!("Where does the cue ball go off the {}?", question.first),
        ),
        AnyItem::Leave(item) => task_in_words(&item.demand),
        AnyItem::Clear(item) => clear_in_words(item),
    }
}

/// An item as it is shown to a class: what is asked, and how it is meant to be played.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct ShownForm {
    kind: &'static str,
    task: String,
    card: String,
    table: DrawingForm,
    balls: Vec<BallForm>,
    /// What of it is asked: rings, a pocket, a zone.
    asked: AskedForm,
    /// The stroke where it is given, with the cue ball's way to the ball that it meets.
    given: Option<GivenForm>,
    meant: Option<MeantForm>,
}

#[derive(Clone, Debug, PartialEq, Serialize)]
struct AskedForm {
    on: Option<String>,
    next: Option<String>,
    pocket: Option<&'static str>,
    zone: Option<Value>,
}

#[derive(Clone, Debug, PartialEq, Serialize)]
struct GivenForm {
    words: String,
    approach: Vec<Place>,
}

#[derive(Clone, Debug, PartialEq, Serialize)]
#[serde(rename_all = "camelCase")]
struct MeantForm {
    words: String,
    approach: Vec<Place>,
    object_path: Vec<Place>,
    way: PathForm,
}

/// Shows the entry of `{ item, stroke? }`.
///
/// # Errors
/// As the reader of the entries of sets.
pub fn show_item(request: &Value) -> Result<ShownForm, Error> {
    let form = Form::open(request, "", &["item", "stroke"])?;
    let entry = read_shown(&form)?;
    Ok(show(&entry))
}

fn show(entry: &Entry) -> ShownForm {
    let shot = entry.item.shot();
    let asked = match &entry.item {
        AnyItem::Leave(item) => AskedForm {
            on: Some(item.demand.on.to_string()),
            next: item.demand.next.map(|next| next.to_string()),
            pocket: item.demand.pocket.map(|pocket| pocket.name()),
            zone: item.demand.zone.as_ref().map(write_zone),
        },
        _ => AskedForm { on: None, next: None, pocket: None, zone: None },
    };
    let played = meant(entry);
    let given = match (&entry.item, &played) {
        (AnyItem::Read(_), Some(meant)) => {
            Some(GivenForm { words: meant.words.clone(), approach: approach(meant) })
        }
        _ => None,
    };
    ShownForm {
        kind: entry.item.kind(),
        task: task_of(&entry.item),
        card: card_in_words(&shot.card),
        table: write_drawing(&shot.card),
        balls: write_balls(shot),
        asked,
        given,
        meant: played.as_ref().map(|meant| MeantForm {
            words: meant.words.clone(),
            approach: approach(meant),
            object_path: object_path(meant),
            way: write_path(&shot.card, &meant.truth, meant.tangent_end),
        }),
    }
}

/// The cue ball's way to the ghost ball.
fn approach(meant: &Meant) -> Vec<Place> {
    let cue = meant.shot.balls.iter().position(|ball| ball.id.is_cue());
    let before = |sample: &&Sample| sample.time < meant.truth.contact_time;
    let samples = cue.map_or(&[][..], |cue| meant.outcome.paths[cue].as_slice());
    let mut way: Vec<_> = samples.iter().take_while(before).map(|at| at.position).collect();
    way.push(meant.truth.ghost);
    places(&way)
}

/// The way of the ball that is met.
fn object_path(meant: &Meant) -> Vec<Place> {
    let first = meant.shot.balls.iter().position(|ball| ball.id == meant.truth.first);
    let samples = first.map_or(&[][..], |first| meant.outcome.paths[first].as_slice());
    places(&samples.iter().map(|at| at.position).collect::<Vec<_>>())
}

/// How a set stands.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct TallyForm {
    score: u32,
    played: usize,
    #[serde(rename = "nPassed")]
    n_passed: usize,
    need: usize,
    passed: Vec<Option<bool>>,
    #[serde(rename = "isPassed")]
    is_passed: bool,
    #[serde(rename = "isOver")]
    is_over: bool,
    words: String,
    /// How it compares with what the sender claims.
    against: Option<String>,
}

/// How the set of `{ pass, marks, claimed? }` stands: a mark is a number, true or false for a
/// run that was cleared or not, or null where nothing was played yet.
///
/// # Errors
/// As [`Form`]; [`Error::OutOfRange`] for a mark outside of 0 to 100.
pub fn tally_set(request: &Value) -> Result<TallyForm, Error> {
    let form = Form::open(request, "", &["pass", "marks", "claimed"])?;
    let pass = read_pass(&form)?;
    Ok(write_tally(&Tally::of(pass, &read_marks(&form)?), read_claim(&form)?))
}

/// The field `marks` of a form.
///
/// # Errors
/// As [`Form`]; [`Error::OutOfRange`] for a mark outside of 0 to 100.
pub(super) fn read_marks(form: &Form) -> Result<Vec<Option<f64>>, Error> {
    form.list("marks", 0, MOST_ENTRIES)?
        .map(|(mark, path)| match mark {
            Value::Null => Ok(None),
            Value::Bool(cleared) => Ok(Some(mark_of_run(*cleared))),
            other => {
                let mark = number(other, &path)?;
                if MARKS.contains(&mark) {
                    return Ok(Some(mark));
                }
                Err(Error::out_of_range(path, mark, "must lie from 0 to 100"))
            }
        })
        .collect()
}

fn write_tally(tally: &Tally, claimed: Option<u8>) -> TallyForm {
    let against = claimed.map(|claimed| {
        let verdict = match (tally.is_over(), tally.score.cmp(&u32::from(claimed))) {
            (false, _) => "",
            (true, std::cmp::Ordering::Greater) => " You beat it.",
            (true, std::cmp::Ordering::Equal) => " You are level.",
            (true, std::cmp::Ordering::Less) => " Not beaten yet.",
        };
        format!("The sender claims {claimed} of 100; nobody checked it.{verdict}")
    });
    TallyForm {
        score: tally.score,
        played: tally.played,
        n_passed: tally.n_passed(),
        need: tally.need,
        passed: tally.passed.clone(),
        is_passed: tally.is_passed(),
        is_over: tally.is_over(),
        words: tally.in_words(),
        against,
    }
}
