//! A guide to a Clear item, as the page asks for it: filled in parts by any number of
//! workers, then asked for plans.

use super::clear::read_called;
use super::clear_item::{read_clear_item, read_object};
use super::demand::write_zone;
use super::map::read_hand;
use super::margins::{ChanceForm, write_chance};
use super::outcome::finite;
use super::question::{Place, place, places};
use super::reader::{Form, number};
use super::shot::write_stroke;
use super::value::Value;
use crate::error::Error;
use crate::order::sort_by_number;
use crate::physics::{Shot, play};
use crate::plan::{
    BallSet, Called, Care, Choice, Depth, Fineness, Foresights, Guide, Player, Race, Rack, Second,
    Step, Table, Way, Wrong, key_balls, run_out,
};
use crate::practice::ClearItem;
use crate::practice::clear::{
    break_out_in_words, key_in_words, race_in_words, runs_in_words, second_in_words, shot_in_words,
};
use crate::practice::leave::zone_of_stops;
use crate::shot::{Chance, Hand, Series, lengths_of_speed};
use serde::Serialize;

/// The most runs that may be played at once (tuning choice: some seconds).
const MOST_RUNS: u32 = 10_000;

/// Plays of the model that a part of a guide takes, about (tuning choice).
const PLAYS_PER_SHELF: u32 = 128;
/// And that a run takes (tuning choice: a few decisions of some 32 plays).
const PLAYS_PER_RUN: u32 = 128;

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

/// What a guide is asked.
#[derive(Clone, Debug)]
enum Ask {
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

/// How far a guide is with what it is asked.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct GuideProgress {
    done: f64,
    /// How many shelves there are, how many do for a first plan, and how many places of the cue
    /// ball.
    shelves: usize,
    first: usize,
    cells: usize,
    plan: Option<PlanForm>,
    chance: Option<f64>,
    runs: Option<RunsForm>,
    race: Option<RaceForm>,
    /// Shelves for other workers, or what places are worth: the boundary hands them over.
    #[serde(skip)]
    bytes: Vec<u8>,
    #[serde(skip)]
    values: Vec<f64>,
}

impl GuideProgress {
    /// Shelves for other workers.
    pub fn bytes(&self) -> &[u8] {
        &self.bytes
    }

    /// What places are worth, a row along the table after the other, from the right rail on;
    /// not a number where a ball lies.
    pub fn values(&self) -> &[f64] {
        &self.values
    }
}

/// How a race of ways to play stands.
#[derive(Clone, Debug, PartialEq, Serialize)]
struct RaceForm {
    /// Those that run on, by their numbers, and the runs that they play next: none if it is over.
    ways: Vec<usize>,
    from: u32,
    to: u32,
    over: bool,
    /// The one that is taken, as far as is known.
    taken: usize,
    words: String,
}

impl RaceForm {
    fn new(race: &Race, ways: &[Way]) -> Self {
        let (running, runs) = race.next().unwrap_or((&[], 0..0));
        let taken = race.taken();
        let words = race_in_words(race, ways);
        let over = running.is_empty();
        Self { ways: running.to_vec(), from: runs.start, to: runs.end, over, taken, words }
    }
}

/// A plan for what is left.
#[derive(Clone, Debug, Default, PartialEq, Serialize)]
pub struct PlanForm {
    /// A first guess at the chance, that of the first shot; runs that are played out show what
    /// may be relied on.
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
    /// What it does to balls that had no way to a pocket, if anything, in words.
    breaks: Option<String>,
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
    chance: ChanceForm,
    words: String,
}

impl RunsForm {
    fn new(cleared: u32, runs: u32) -> Self {
        let chance = Chance::of(cleared, runs);
        let words = runs_in_words(cleared, runs, &chance);
        Self { runs, cleared, chance: write_chance(chance), words }
    }
}

/// What runs say together that several workers have played out: `{ runs, cleared }`.
///
/// # Errors
/// As [`Form`]; more runs cannot be cleared than were played.
pub fn sum_of_runs(request: &Value) -> Result<RunsForm, Error> {
    let form = Form::open(request, "", &["runs", "cleared"])?;
    let runs = form.integer("runs", 1, u32::MAX)?;
    Ok(RunsForm::new(form.integer("cleared", 0, runs)?, runs))
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
        new.set(&form, bytes)?;
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
        self.set(&form, bytes)
    }

    fn set(&mut self, form: &Form, bytes: &[u8]) -> Result<(), Error> {
        let known = &["kind", "from", "to", "now", "called", "gone", "seed", "way", "ways"];
        let ask = Form::open(form.value("ask")?, "ask", known)?;
        let shelves = self.guide.n_shelves() as u32;
        let now = || read_clear_item(ask.value("now")?, "ask.now");
        let kinds = &[
            "fill", "take", "try", "learn", "plan", "weigh", "values", "race", "lap", "pass",
            "runs",
        ];
        self.ask = match ask.choice("kind", kinds, |kind| kind)? {
            "fill" => {
                let to = ask.integer("to", 0, shelves)? as usize;
                let from = ask.integer("from", 0, to as u32)? as usize;
                self.forget();
                Ask::Fill { from, to, at: from }
            }
            "take" => {
                self.forget();
                self.guide.take(ask.integer("from", 0, shelves)? as usize, bytes)?;
                Ask::Take
            }
            "try" => {
                let cells = self.guide.grid().n_cells() as u32;
                let to = ask.integer("to", 0, cells)? as usize;
                let from = ask.integer("from", 0, to as u32)? as usize;
                self.foresights();
                Ask::Try { from, to, at: from, bytes: Vec::new() }
            }
            "learn" => {
                self.forget();
                self.guide.learn(bytes)?;
                Ask::Take
            }
            "plan" => {
                let now = now()?;
                let way = self.read_way(&ask, &now)?;
                Ask::Plan(Box::new(now), way)
            }
            "weigh" => {
                let now = now()?;
                let called = read_called(ask.value("called")?, "ask.called", &now)?;
                Ask::Weigh(Box::new(now), called)
            }
            "values" => {
                let left = self.table(&now()?).left;
                Ask::Values(match ask.optional("gone") {
                    Some(ball) => left.without(read_object(ball, "ask.gone")?),
                    None => left,
                })
            }
            "race" => {
                let n_ways = self.ways(&now()?).len();
                self.race = Some(Race::new(n_ways));
                Ask::Race
            }
            "lap" => {
                let now = now()?;
                let (from, to) = read_runs(&ask)?;
                let table = self.table(&now);
                let all = self.ways(&now);
                let one = |(value, path): (&Value, String)| {
                    let number = number(value, &path)?;
                    let way =
                        all.get(number as usize).filter(|_| number.fract() == 0.0 && number >= 0.0);
                    let rule = format!("must be a whole number below {}", all.len());
                    way.copied().ok_or_else(|| Error::out_of_range(path, number, rule))
                };
                let ways = ask.list("ways", 1, all.len())?.map(one).collect::<Result<_, _>>()?;
                Ask::Lap { table, ways, from, to, at: from, bytes: Vec::new() }
            }
            "pass" => {
                self.ways(&now()?);
                let none = || Error::invalid("ask.kind", "no race has begun");
                self.race.as_mut().ok_or_else(none)?.take(bytes)?;
                Ask::Race
            }
            _ => {
                let seed = ask.integer("seed", 0, u32::MAX)?;
                let (from, to) = read_runs(&ask)?;
                let now = now()?;
                let table = self.table(&now);
                let way = match self.read_way(&ask, &now)? {
                    Some(way) => self.ways(&now)[way],
                    None => self.plain_way(&table),
                };
                Ask::Runs { table, way, seed, from, to, at: from, cleared: 0 }
            }
        };
        Ok(())
    }

    /// Goes on for about `plays` plays of the model, and says how far it is. What is asked for
    /// comes with the last step.
    pub fn step(&mut self, plays: u32) -> GuideProgress {
        let mut progress = GuideProgress {
            done: 1.0,
            shelves: self.guide.n_shelves(),
            first: self.guide.n_first(),
            cells: self.guide.grid().n_cells(),
            plan: None,
            chance: None,
            runs: None,
            race: None,
            bytes: Vec::new(),
            values: Vec::new(),
        };
        let part =
            |from: f64, at: f64, to: f64| if at < to { (at - from) / (to - from) } else { 1.0 };
        match &mut self.ask {
            Ask::Fill { from, to, at } => {
                let next = (*at + (plays / PLAYS_PER_SHELF).max(1) as usize).min(*to);
                self.guide.fill(*at, next);
                *at = next;
                progress.done = part(*from as f64, next as f64, *to as f64);
                if next == *to {
                    progress.bytes = self.guide.bytes(*from, *to);
                }
            }
            Ask::Take => {}
            Ask::Try { from, to, at, bytes } => {
                // The foresight stays as it was until all of it has been tried.
                let next = (*at + (plays / PLAYS_PER_SHELF).max(1) as usize).min(*to);
                if let Some(foresights) = &self.foresights {
                    bytes.extend(self.guide.try_out(foresights.of(Depth::All), *at, next));
                }
                *at = next;
                progress.done = part(*from as f64, next as f64, *to as f64);
                if next == *to {
                    progress.bytes = std::mem::take(bytes);
                    self.forget();
                }
            }
            Ask::Plan(now, way) => {
                let (now, way) = (now.clone(), *way);
                progress.plan = Some(self.plan(&now, way));
            }
            Ask::Weigh(now, called) => {
                let (now, called) = (now.clone(), *called);
                progress.chance = Some(finite(self.weigh(&now, called)));
            }
            Ask::Values(left) => {
                let left = *left;
                let all = self.foresights().of(Depth::All);
                progress.values = all.values(left).map(<[f64]>::to_vec).unwrap_or_default();
            }
            Ask::Race => {
                if let (Some(race), Some((_, ways))) = (&self.race, &self.ways) {
                    progress.race = Some(RaceForm::new(race, ways));
                }
            }
            Ask::Lap { table, ways, from, to, at, bytes } => {
                let per_step = (plays / PLAYS_PER_RUN / ways.len() as u32).max(1);
                let next = (*at + per_step).min(*to);
                if let Some(foresights) = &self.foresights {
                    let runs = *at..next;
                    let made = |way: &Way| {
                        way.cleared(
                            &self.guide,
                            foresights,
                            table,
                            Series::Race.number(),
                            runs.clone(),
                        )
                    };
                    let made: Vec<Vec<bool>> = ways.iter().map(made).collect();
                    let run = |k: usize| made.iter().map(move |way| u8::from(way[k]));
                    bytes.extend((0..runs.len()).flat_map(run));
                }
                *at = next;
                progress.done = part(f64::from(*from), f64::from(next), f64::from(*to));
                if next == *to {
                    progress.bytes = std::mem::take(bytes);
                }
            }
            Ask::Runs { table, way, seed, from, to, at, cleared } => {
                let next = (*at + (plays / PLAYS_PER_RUN).max(1)).min(*to);
                if let Some(foresights) = &self.foresights {
                    let made = way.cleared(&self.guide, foresights, table, *seed, *at..next);
                    *cleared += made.iter().filter(|cleared| **cleared).count() as u32;
                }
                *at = next;
                progress.done = part(f64::from(*from), f64::from(next), f64::from(*to));
                progress.runs = Some(RunsForm::new(*cleared, next - *from));
            }
        }
        progress
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

    /// The number of a way to play `now`, if one is asked for.
    fn read_way(&mut self, ask: &Form, now: &ClearItem) -> Result<Option<usize>, Error> {
        if ask.optional("way").is_none() {
            return Ok(None);
        }
        let most = self.ways(now).len().saturating_sub(1) as u32;
        ask.integer("way", 0, most).map(|way| Some(way as usize))
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

fn write_choice(guide: &Guide, choice: &Choice) -> ChoiceForm {
    ChoiceForm {
        ball: choice.called.ball.to_string(),
        pocket: choice.called.pocket.name(),
        stroke: write_stroke(&choice.stroke),
        lengths: finite(lengths_of_speed(guide.arena(), choice.stroke.speed)),
        chance: finite(choice.worth),
        words: shot_in_words(choice.called),
    }
}

fn write_step(guide: &Guide, item: &ClearItem, step: &Step) -> StepForm {
    let shot =
        Shot { card: item.shot.card, balls: step.table.balls.clone(), stroke: step.choice.stroke };
    let path = play(&shot).ok().and_then(|outcome| outcome.paths.into_iter().next());
    StepForm {
        choice: write_choice(guide, &step.choice),
        pot: write_chance(step.pot),
        from: place(step.table.cue_ball()),
        path: path.map_or_else(Vec::new, |path| {
            places(&path.iter().map(|sample| sample.position).collect::<Vec<_>>())
        }),
        stop: step.stop.map(place),
        zone: zone_of_stops(&step.stops, item.shot.card.ball.radius).as_ref().map(write_zone),
        breaks: step.break_out.as_ref().map(break_out_in_words),
        seconds: step.seconds.iter().map(|second| write_second(guide, second)).collect(),
    }
}

fn write_second(guide: &Guide, second: &Second) -> SecondForm {
    SecondForm {
        wrong: match second.wrong {
            Wrong::Long => "long",
            Wrong::Short => "short",
            Wrong::Side => "side",
        },
        share: finite(second.share),
        stop: place(second.stop),
        then: second.then.as_ref().map(|then| write_choice(guide, then)),
        words: second_in_words(second),
    }
}

/// The numbers of runs to play.
fn read_runs(ask: &Form) -> Result<(u32, u32), Error> {
    let to = ask.integer("to", 0, MOST_RUNS)?;
    Ok((ask.integer("from", 0, to)?, to))
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
