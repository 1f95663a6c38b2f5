//! The plan, the race and the runs that a guide tells.

use crate::error::Error;
use crate::physics::{Shot, play};
use crate::plan::{Choice, Guide, Race, Second, Step, Way, Wrong};
use crate::practice::ClearItem;
use crate::practice::clear::{
    break_out_in_words, race_in_words, runs_in_words, second_in_words, shot_in_words,
};
use crate::practice::leave::zone_of_stops;
use crate::shot::{Chance, lengths_of_speed};
use crate::wire::demand::write_zone;
use crate::wire::margins::{ChanceForm, write_chance};
use crate::wire::outcome::finite;
use crate::wire::question::{Place, place, places};
use crate::wire::reader::Form;
use crate::wire::shot::write_stroke;
use crate::wire::value::Value;
use serde::Serialize;

/// How a race of ways to play stands.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub(super) struct RaceForm {
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
    pub fn new(race: &Race, ways: &[Way]) -> Self {
        let (running, runs) = race.next().unwrap_or((&[], 0..0));
        let taken = race.taken();
        let words = race_in_words(race, ways);
        let over = running.is_empty();
        Self { ways: running.to_vec(), from: runs.start, to: runs.end, over, taken, words }
    }
}

/// A plan for what is left.
#[derive(Clone, Debug, Default, PartialEq, Serialize)]
pub(super) struct PlanForm {
    /// A first guess at the chance, that of the first shot; runs that are played out show what
    /// may be relied on.
    pub chance: f64,
    pub shots: Vec<StepForm>,
    /// Other shots from here, best first.
    pub others: Vec<ChoiceForm>,
    pub key: Option<String>,
}

/// A shot that may be played.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub(super) struct ChoiceForm {
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
pub(super) struct StepForm {
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
    pub(super) fn new(cleared: u32, runs: u32) -> Self {
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

pub(super) fn write_choice(guide: &Guide, choice: &Choice) -> ChoiceForm {
    ChoiceForm {
        ball: choice.called.ball.to_string(),
        pocket: choice.called.pocket.name(),
        stroke: write_stroke(&choice.stroke),
        lengths: finite(lengths_of_speed(guide.arena(), choice.stroke.speed)),
        chance: finite(choice.worth),
        words: shot_in_words(choice.called),
    }
}

pub(super) fn write_step(guide: &Guide, item: &ClearItem, step: &Step) -> StepForm {
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
