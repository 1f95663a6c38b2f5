//! What a guide is asked, as it is read.

use super::ClearGuide;
use crate::error::Error;
use crate::plan::{BallSet, Called, Race, Table, Way};
use crate::practice::ClearItem;
use crate::wire::clear::read_called;
use crate::wire::clear_item::{read_clear_item, read_object};
use crate::wire::reader::{Form, number};
use crate::wire::value::Value;

/// The most runs that may be played at once (tuning choice: some seconds).
const MOST_RUNS: u32 = 10_000;

/// What a guide is asked.
#[derive(Clone, Debug)]
pub(super) enum Ask {
    /// To work out the shelves from the first to the last (excluded), and how far it is.
    Fill { from: usize, to: usize, at: usize },
    /// To take what another worker has worked out.
    Take,
    /// To let the hand try strokes at the places from the first to the last (excluded).
    Try { from: usize, to: usize, at: usize, bytes: Vec<u8> },
    /// For the plan, by the way with this number if not by one who looks all ahead.
    Plan(Box<ClearItem>, Option<usize>),
    /// What the item's stroke is worth.
    Weigh(Box<ClearItem>, Called),
    /// What places are worth once these are left.
    Values(BallSet),
    /// How the race stands.
    Race,
    /// To play runs of a race.
    Lap { table: Table, ways: Vec<Way>, from: u32, to: u32, at: u32, bytes: Vec<u8> },
    /// To play runs out.
    Runs { table: Table, way: Way, seed: u32, from: u32, to: u32, at: u32, cleared: u32 },
}

impl Ask {
    /// Reads what `guide` is asked, and makes ready for it.
    ///
    /// # Errors
    /// As [`ClearGuide::turn`].
    pub fn read(guide: &mut ClearGuide, form: &Form, bytes: &[u8]) -> Result<Self, Error> {
        let known = &["kind", "from", "to", "now", "called", "gone", "seed", "way", "ways"];
        let ask = Form::open(form.value("ask")?, "ask", known)?;
        let shelves = guide.guide.n_shelves() as u32;
        let now = || read_clear_item(ask.value("now")?, "ask.now");
        let kinds = &[
            "fill", "take", "try", "learn", "plan", "weigh", "values", "race", "lap", "pass",
            "runs",
        ];
        Ok(match ask.choice("kind", kinds, |kind| kind)? {
            "fill" => {
                let to = ask.integer("to", 0, shelves)? as usize;
                let from = ask.integer("from", 0, to as u32)? as usize;
                guide.forget();
                Self::Fill { from, to, at: from }
            }
            "take" => {
                guide.forget();
                guide.guide.take(ask.integer("from", 0, shelves)? as usize, bytes)?;
                Self::Take
            }
            "try" => {
                let cells = guide.guide.grid().n_cells() as u32;
                let to = ask.integer("to", 0, cells)? as usize;
                let from = ask.integer("from", 0, to as u32)? as usize;
                guide.foresights();
                Self::Try { from, to, at: from, bytes: Vec::new() }
            }
            "learn" => {
                guide.forget();
                guide.guide.take_trials(bytes)?;
                Self::Take
            }
            "plan" => {
                let now = now()?;
                let way = read_way(guide, &ask, &now)?;
                Self::Plan(Box::new(now), way)
            }
            "weigh" => {
                let now = now()?;
                let called = read_called(ask.value("called")?, "ask.called", &now)?;
                Self::Weigh(Box::new(now), called)
            }
            "values" => {
                let left = guide.table(&now()?).left;
                Self::Values(match ask.optional("gone") {
                    Some(ball) => left.without(read_object(ball, "ask.gone")?),
                    None => left,
                })
            }
            "race" => {
                let n_ways = guide.ways(&now()?).len();
                guide.race = Some(Race::new(n_ways));
                Self::Race
            }
            "lap" => {
                let now = now()?;
                let (from, to) = read_runs(&ask)?;
                let table = guide.table(&now);
                let all = guide.ways(&now);
                let one = |(value, path): (&Value, String)| {
                    let number = number(value, &path)?;
                    let way =
                        all.get(number as usize).filter(|_| number.fract() == 0.0 && number >= 0.0);
                    let rule = format!("must be a whole number below {}", all.len());
                    way.copied().ok_or_else(|| Error::out_of_range(path, number, rule))
                };
                let ways = ask.list("ways", 1, all.len())?.map(one).collect::<Result<_, _>>()?;
                Self::Lap { table, ways, from, to, at: from, bytes: Vec::new() }
            }
            "pass" => {
                guide.ways(&now()?);
                let none = || Error::invalid("ask.kind", "no race has begun");
                guide.race.as_mut().ok_or_else(none)?.take(bytes)?;
                Self::Race
            }
            _ => {
                let seed = ask.integer("seed", 0, u32::MAX)?;
                let (from, to) = read_runs(&ask)?;
                let now = now()?;
                let table = guide.table(&now);
                let way = match read_way(guide, &ask, &now)? {
                    Some(way) => guide.ways(&now)[way],
                    None => guide.plain_way(&table),
                };
                Self::Runs { table, way, seed, from, to, at: from, cleared: 0 }
            }
        })
    }
}

/// The number of a way to play `now`, if one is asked for.
fn read_way(guide: &mut ClearGuide, ask: &Form, now: &ClearItem) -> Result<Option<usize>, Error> {
    if ask.optional("way").is_none() {
        return Ok(None);
    }
    let most = guide.ways(now).len().saturating_sub(1) as u32;
    ask.integer("way", 0, most).map(|way| Some(way as usize))
}

/// The numbers of runs to play.
fn read_runs(ask: &Form) -> Result<(u32, u32), Error> {
    let to = ask.integer("to", 0, MOST_RUNS)?;
    Ok((ask.integer("from", 0, to)?, to))
}
