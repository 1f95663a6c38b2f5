//! A guide to a Clear item, as the page asks for it: filled in parts by any number of
//! workers, then asked for plans.

mod ask;
mod forms;
mod step;

pub use forms::{RunsForm, sum_of_runs};
pub use step::GuideProgress;

use super::clear_item::read_clear_item;
use super::map::read_hand;
use super::outcome::finite;
use super::reader::Form;
use super::value::Value;
use crate::error::Error;
use crate::order::sort_by_number;
use crate::plan::{
    Called, Care, Choice, Depth, Fineness, Foresights, Guide, Player, Race, Rack, Table, Way,
    key_balls, run_out,
};
use crate::practice::ClearItem;
use crate::practice::clear::key_in_words;
use crate::shot::Hand;
use ask::Ask;
use forms::{PlanForm, write_choice, write_step};

/// The guide to an item for one hand, kept while the layout stays, and what it is asked now.
#[derive(Clone, Debug)]
pub struct ClearGuide {
    guide: Guide,
    /// How much thought is given to what is shown.
    care: Care,
    foresights: Option<Foresights>,
    /// The ways to play the table that was asked for last.
    ways: Option<(Table, Vec<Way>)>,
    race: Option<Race>,
    ask: Ask,
}

impl ClearGuide {
    /// A guide for `{ item, hand, fine, ask }`, and what it is asked first: see
    /// [`turn`](Self::turn).
    ///
    /// # Errors
    /// As [`turn`](Self::turn).
    pub fn new(request: &Value, bytes: &[u8]) -> Result<Self, Error> {
        let form = open(request)?;
        let (rack, hand, care) = read_base(&form)?;
        let guide = Guide::new(&rack, &hand, Fineness::PLANNED);
        let mut new =
            Self { guide, care, foresights: None, ways: None, race: None, ask: Ask::Take };
        new.ask = Ask::read(&mut new, &form, bytes)?;
        Ok(new)
    }

    /// Turns to another question, and to another guide if item or hand differ. What is shown of
    /// a guide that is not `fine` is given less thought. `ask` is one of
    ///
    /// - `{ kind: "fill", from, to }`: work out these shelves; gives their bytes;
    /// - `{ kind: "take", from }`: take `bytes`, which another worker gave;
    /// - `{ kind: "try", from, to }`: let the hand try the strokes on which the plan rests at
    ///   these places of its grid; gives what came of it, nothing if all had been tried;
    /// - `{ kind: "learn" }`: take the `bytes` of another worker's trials;
    /// - `{ kind: "plan", now, way? }`: the plan for the item `now`, which holds what is left, by
    ///   the way with this number, else by who looks all ahead;
    /// - `{ kind: "weigh", now, called }`: what the stroke of `now` is worth;
    /// - `{ kind: "values", now, gone? }`: what places are worth once the ball `gone` is;
    /// - `{ kind: "race", now }`: begin a race of the ways to play `now`;
    /// - `{ kind: "lap", now, ways, from, to }`: play these runs of the race by these ways; gives
    ///   what came of them;
    /// - `{ kind: "pass", now }`: take the `bytes` of all laps that came next, in the order of
    ///   their runs; gives how the race stands;
    /// - `{ kind: "runs", now, seed, from, to, way? }`: play these runs out, as "plan" plays.
    ///
    /// # Errors
    /// As [`Form`] and [`read_clear_item`]; [`Error::Malformed`] for bytes of another guide.
    pub fn turn(&mut self, request: &Value, bytes: &[u8]) -> Result<(), Error> {
        let form = open(request)?;
        let (rack, hand, care) = read_base(&form)?;
        self.care = care;
        if !self.guide.is_for(&rack, &hand, Fineness::PLANNED) {
            self.guide = Guide::new(&rack, &hand, Fineness::PLANNED);
            self.forget();
        }
        self.ask = Ask::read(self, &form, bytes)?;
        Ok(())
    }

    /// What was seen in the guide is not so any more.
    fn forget(&mut self) {
        (self.foresights, self.ways, self.race) = (None, None, None);
    }

    fn foresights(&mut self) -> &Foresights {
        let guide = &self.guide;
        self.foresights.get_or_insert_with(|| Foresights::new(guide))
    }

    /// The ways to play `item`; a race of others is over.
    fn ways(&mut self, item: &ClearItem) -> &[Way] {
        let table = self.table(item);
        if self.ways.as_ref().is_none_or(|(other, _)| *other != table) {
            self.foresights();
            let Self { guide, foresights: Some(foresights), .. } = &*self else { return &[] };
            let ways = Way::all(guide, foresights, &table);
            (self.ways, self.race) = (Some((table, ways)), None);
        }
        self.ways.as_ref().map_or(&[], |(_, ways)| ways)
    }

    /// What one plays who looks all ahead.
    fn plain_way(&mut self, table: &Table) -> Way {
        self.foresights();
        let Self { guide, foresights: Some(foresights), .. } = &*self else {
            return Way { first: None, depth: Depth::All };
        };
        let calm = Player::new(guide, foresights.of(Depth::All), Care::CALM);
        Way { first: calm.choose(table), depth: Depth::All }
    }

    /// The table of `item`, which holds what is left of the guide's own item.
    fn table(&self, item: &ClearItem) -> Table {
        let left = item.shot.balls.iter().map(|ball| ball.id).collect();
        let mut balls = item.shot.balls.clone();
        sort_by_number(&mut balls, |ball| f64::from(ball.id.number()));
        Table { balls, left: self.guide.rack().targets().and(left) }
    }

    fn plan(&mut self, item: &ClearItem, way: Option<usize>) -> PlanForm {
        let table = self.table(item);
        let way = way.and_then(|way| self.ways(item).get(way).copied());
        self.foresights();
        let Self { guide, care, foresights: Some(foresights), .. } = &*self else {
            return PlanForm::default();
        };
        let (all, care) = (foresights.of(Depth::All), *care);
        let options = Player::new(guide, all, care).options(&table);
        let plain = Way { first: options.first().copied(), depth: Depth::All };
        let steps = run_out(guide, foresights, &table, way.unwrap_or(plain), care);
        let first = steps.first().map(|step| step.choice);
        let is_other = |other: &&Choice| first.is_none_or(|first| first.called != other.called);
        PlanForm {
            chance: finite(first.map_or(0.0, |first| first.worth)),
            shots: steps.iter().map(|step| write_step(guide, item, step)).collect(),
            others: options.iter().filter(is_other).map(|one| write_choice(guide, one)).collect(),
            key: key_in_words(&key_balls(guide, all, &table)),
        }
    }

    fn weigh(&mut self, item: &ClearItem, called: Called) -> f64 {
        let table = self.table(item);
        self.foresights();
        let Self { guide, foresights: Some(foresights), .. } = &*self else { return 0.0 };
        let calm = Player::new(guide, foresights.of(Depth::All), Care::CALM);
        calm.weighed(&table, called, &item.shot.stroke)
    }
}

fn open(request: &Value) -> Result<Form<'_>, Error> {
    Form::open(request, "", &["item", "hand", "fine", "ask"])
}

/// What a guide is to, and how much thought is given to what is shown.
fn read_base(form: &Form) -> Result<(Rack, Hand, Care), Error> {
    let item = read_clear_item(form.value("item")?, "item")?;
    let hand = read_hand(form, "hand")?.hand;
    let care = if form.truth("fine")? { Care::CALM } else { Care::SOON };
    Ok((item.rack()?, hand, care))
}
