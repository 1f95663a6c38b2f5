//! A guide to a Clear item, as the page asks for it: filled in parts by any number of
//! workers, then asked for plans.

use super::clear::read_called;
use super::demand::write_zone;
use super::item::read_clear_item;
use super::map::read_hand;
use super::margins::{ChanceForm, write_chance};
use super::outcome::finite;
use super::question::{Place, place, places};
use super::reader::Form;
use super::shot::write_stroke;
use super::value::Value;
use crate::error::Error;
use crate::physics::{Shot, play};
use crate::plan::{
    Care, Choice, Depth, Fineness, Foresight, Guide, Player, Second, Step, Table, key_balls,
    play_out, run_out,
};
use crate::practice::ClearItem;
use crate::practice::clear::{key_in_words, second_in_words, shot_in_words};
use crate::practice::leave::zone_of_stops;
use crate::shot::{Chance, lengths_of_speed};
use serde::Serialize;

/// The most runs that may be played at once (tuning choice: some seconds).
const MOST_RUNS: u32 = 10_000;

/// The guide to an item for one hand.
#[derive(Clone, Debug)]
pub struct ClearGuide {
    guide: Guide,
    all: Option<Foresight>,
}

/// A plan for what is left.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct PlanForm {
    /// The chance as the guide has it; runs that are played out confirm it, or not.
    chance: f64,
    shots: Vec<StepForm>,
    /// Other shots from here, best first.
    others: Vec<ChoiceForm>,
    key: Option<String>,
}

/// A shot that may be played.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct ChoiceForm {
    ball: String,
    pocket: &'static str,
    stroke: Value,
    lengths: f64,
    /// The chance to clear all that is left with it.
    chance: f64,
    words: String,
}

/// A shot of a plan.
#[derive(Clone, Debug, PartialEq, Serialize)]
struct StepForm {
    #[serde(flatten)]
    choice: ChoiceForm,
    pot: ChanceForm,
    from: Place,
    path: Vec<Place>,
    stop: Option<Place>,
    zone: Option<Value>,
    seconds: Vec<SecondForm>,
}

#[derive(Clone, Debug, PartialEq, Serialize)]
struct SecondForm {
    wrong: &'static str,
    share: f64,
    stop: Place,
    then: Option<ChoiceForm>,
    words: String,
}

/// What came of runs that were played out.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct RunsForm {
    runs: u32,
    cleared: u32,
}

impl ClearGuide {
    /// An empty guide for `{ item, hand, fine }`.
    ///
    /// # Errors
    /// As [`Form`] and [`read_clear_item`].
    pub fn new(request: &Value) -> Result<Self, Error> {
        let form = Form::open(request, "", &["item", "hand", "fine"])?;
        let item = read_clear_item(form.value("item")?, "item")?;
        let hand = read_hand(&form, "hand")?.hand;
        let fineness = if form.truth("fine")? { Fineness::FULL } else { Fineness::FIRST };
        Ok(Self { guide: Guide::new(&item.rack()?, &hand, fineness), all: None })
    }

    /// How many parts it has.
    pub fn shelves(&self) -> usize {
        self.guide.n_shelves()
    }

    /// Works out the parts `from` to `to` (excluded) and gives them for other workers.
    pub fn fill(&mut self, from: usize, to: usize) -> Vec<u8> {
        self.guide.fill(from, to);
        self.guide.bytes(from, to)
    }

    /// Takes parts that another worker has worked out.
    ///
    /// # Errors
    /// As [`Guide::take`].
    pub fn take(&mut self, from: usize, bytes: &[u8]) -> Result<(), Error> {
        self.all = None;
        self.guide.take(from, bytes)
    }

    fn all(&mut self) -> &Foresight {
        let guide = &self.guide;
        self.all.get_or_insert_with(|| Foresight::new(guide, Depth::All))
    }

    /// The table of `{ item }`, which holds what is left of the guide's own item.
    fn table(&self, item: &ClearItem) -> Table {
        let left = item.shot.balls.iter().map(|ball| ball.id).collect();
        let mut balls = item.shot.balls.clone();
        balls.sort_by_key(|ball| ball.id);
        Table { balls, left: self.guide.rack().targets().and(left) }
    }

    /// The plan for what is left: `{ item }`.
    ///
    /// # Errors
    /// As [`Form`] and [`read_clear_item`].
    pub fn plan(&mut self, request: &Value) -> Result<PlanForm, Error> {
        let form = Form::open(request, "", &["item"])?;
        let item = read_clear_item(form.value("item")?, "item")?;
        let table = self.table(&item);
        self.all();
        let Some(all) = &self.all else { return Err(Error::invalid("item", "has no guide")) };
        let steps = run_out(&self.guide, all, &table);
        let calm = Player::new(&self.guide, all, Care::CALM);
        Ok(PlanForm {
            chance: finite(all.value(table.left, table.cue_ball())),
            shots: steps.iter().map(|step| self.write_step(&item, step)).collect(),
            others: calm.options(&table).iter().skip(1).map(|c| self.write_choice(c)).collect(),
            key: key_in_words(&key_balls(&self.guide, &table)),
        })
    }

    /// What a shot is worth: `{ item, called }`, the item's stroke.
    ///
    /// # Errors
    /// As [`Form`] and [`read_clear_item`].
    pub fn weigh(&mut self, request: &Value) -> Result<f64, Error> {
        let form = Form::open(request, "", &["item", "called"])?;
        let item = read_clear_item(form.value("item")?, "item")?;
        let called = read_called(form.value("called")?, "called", &item)?;
        let table = self.table(&item);
        self.all();
        let Some(all) = &self.all else { return Err(Error::invalid("item", "has no guide")) };
        let calm = Player::new(&self.guide, all, Care::CALM);
        Ok(calm.weighed(&table, called, &item.shot.stroke).worth)
    }

    /// What every place of the guide's grid is worth once `ball` of `{ item, ball? }` is
    /// gone, not a number where a ball lies: rows along the table, from the right rail on.
    ///
    /// # Errors
    /// As [`Form`] and [`read_clear_item`].
    pub fn values(&mut self, request: &Value) -> Result<Vec<f64>, Error> {
        let form = Form::open(request, "", &["item", "ball"])?;
        let item = read_clear_item(form.value("item")?, "item")?;
        let mut left = self.table(&item).left;
        if let Some(ball) = form.optional("ball") {
            left = left.without(super::item::read_object(ball, "ball")?);
        }
        Ok(self.all().values(left).map(<[f64]>::to_vec).unwrap_or_default())
    }

    /// Plays the runs `from` to `to` (excluded) of `{ item, seed, from, to, ahead }` out.
    /// `ahead` says how far the player looks: "all", "next" or "pot".
    ///
    /// # Errors
    /// As [`Form`] and [`read_clear_item`].
    pub fn play_out(&mut self, request: &Value) -> Result<RunsForm, Error> {
        let form = Form::open(request, "", &["item", "seed", "from", "to", "ahead"])?;
        let item = read_clear_item(form.value("item")?, "item")?;
        let seed = form.integer("seed", 0, u32::MAX)?;
        let from = form.integer("from", 0, MOST_RUNS)?;
        let to = form.integer("to", from, MOST_RUNS)?;
        let table = self.table(&item);
        let foresight = match form.choice("ahead", &["all", "next", "pot"], |ahead| ahead)? {
            "all" => self.all().clone(),
            "next" => Foresight::new(&self.guide, Depth::Next),
            _ => Foresight::new(&self.guide, Depth::Pot),
        };
        let player = Player::new(&self.guide, &foresight, Care::QUICK);
        let all = self.guide.rack().targets().len();
        let cleared = (from..to)
            .filter(|&index| play_out(&self.guide, &player, &table, seed, index).cleared == all)
            .count();
        Ok(RunsForm { runs: to - from, cleared: cleared as u32 })
    }

    fn write_choice(&self, choice: &Choice) -> ChoiceForm {
        ChoiceForm {
            ball: choice.called.ball.to_string(),
            pocket: choice.called.pocket.name(),
            stroke: write_stroke(&choice.stroke),
            lengths: finite(lengths_of_speed(self.guide.arena(), choice.stroke.speed)),
            chance: finite(choice.worth),
            words: shot_in_words(choice.called),
        }
    }

    fn write_step(&self, item: &ClearItem, step: &Step) -> StepForm {
        let shot = Shot {
            card: item.shot.card,
            balls: step.table.balls.clone(),
            stroke: step.choice.stroke,
        };
        let path = play(&shot).ok().and_then(|outcome| outcome.paths.into_iter().next());
        StepForm {
            choice: self.write_choice(&step.choice),
            pot: write_chance(step.pot),
            from: place(step.table.cue_ball()),
            path: path.map_or_else(Vec::new, |path| {
                places(&path.iter().map(|sample| sample.position).collect::<Vec<_>>())
            }),
            stop: step.stop.map(place),
            zone: zone_of_stops(&step.stops, item.shot.card.ball.radius).as_ref().map(write_zone),
            seconds: step.seconds.iter().map(|second| self.write_second(second)).collect(),
        }
    }

    fn write_second(&self, second: &Second) -> SecondForm {
        use crate::plan::Wrong;
        SecondForm {
            wrong: match second.wrong {
                Wrong::Long => "long",
                Wrong::Short => "short",
                Wrong::Side => "side",
            },
            share: finite(second.share),
            stop: place(second.stop),
            then: second.then.as_ref().map(|then| self.write_choice(then)),
            words: second_in_words(second),
        }
    }
}

/// The chance that runs show, with its 95 % interval: `{ runs, cleared }`.
///
/// # Errors
/// As [`Form`].
pub fn chance_of_runs(request: &Value) -> Result<ChanceForm, Error> {
    let form = Form::open(request, "", &["runs", "cleared"])?;
    let runs = form.integer("runs", 0, u32::MAX)?;
    Ok(write_chance(Chance::of(form.integer("cleared", 0, runs)?, runs)))
}
