//! The search for the best stroke, as the page asks for it, and what it has found.

use super::angle::degrees_for;
use super::item::read_leave_item;
use super::map::read_hand;
use super::margins::{ChanceForm, write_chance};
use super::outcome::finite;
use super::reader::Form;
use super::value::Value;
use crate::error::Error;
use crate::practice::{LeaveItem, whole_percent};
use crate::shot::{
    Best, Chance, Outlook, Progress, Prospect, Search, Series, Share, Situation, lengths_of_speed,
};
use glam::DVec2;
use serde::Serialize;

/// Workers that may share a search.
const MOST_WORKERS: u32 = 8;

/// Numbers that a worker may tell another at once.
const MOST_TOLD: usize = 1 << 16;

/// A search that goes on in steps.
#[derive(Clone, Debug)]
pub struct BestSearch {
    search: Search,
    situation: Situation,
    prospect: Option<Prospect>,
}

/// How far a search is, and the best stroke so far.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct BestForm {
    done: f64,
    plays: usize,
    waits: bool,
    best: Option<BestStrokeForm>,
    own: Option<f64>,
    measured: Option<MeasuredForm>,
    words: Option<String>,
}

/// The chances at the end with their intervals.
#[derive(Clone, Debug, PartialEq, Serialize)]
struct MeasuredForm {
    best: ChanceForm,
    own: ChanceForm,
}

#[derive(Clone, Debug, PartialEq, Serialize)]
struct BestStrokeForm {
    stroke: Value,
    pocket: &'static str,
    lengths: f64,
    chance: f64,
}

impl BestSearch {
    /// For `{ item, hand, seed?, worker?, workers? }`; the item's stroke is the player's.
    /// Worker `worker` of `workers` does its share; alone it does it all.
    ///
    /// # Errors
    /// As [`Form`], [`read_leave_item`] and [`Situation::new`].
    pub fn new(request: &Value) -> Result<Self, Error> {
        let form = Form::open(request, "", &["item", "hand", "seed", "worker", "workers"])?;
        let LeaveItem { shot, demand, .. } = read_leave_item(form.value("item")?, "item")?;
        let hand = read_hand(&form, "hand")?.hand;
        let seed = match form.optional("seed") {
            Some(_) => form.integer("seed", 0, u32::MAX)?,
            None => Series::Best.number(),
        };
        let n_workers = match form.optional("workers") {
            Some(_) => form.integer("workers", 1, MOST_WORKERS)?,
            None => 1,
        };
        let number = match form.optional("worker") {
            Some(_) => form.integer("worker", 0, n_workers - 1)?,
            None => 0,
        };
        let share = Share { number: number as usize, n_workers: n_workers as usize };
        let situation = Situation::new(&shot, demand.on).map_err(|e| e.within("item.demand"))?;
        let prospect = Prospect::new(&situation, &demand, &hand)?;
        let search = Search::new(situation.clone(), demand, hand, seed, shot.stroke, share);
        Ok(Self { search, situation, prospect })
    }

    /// Plays about `plays` strokes more, at least one unless the search is over.
    pub fn step(&mut self, plays: u32) -> BestForm {
        let mut nothing = |_: DVec2| 1.0;
        let next: &mut dyn Outlook = match &mut self.prospect {
            Some(prospect) => prospect,
            None => &mut nothing,
        };
        let progress = self.search.step(plays as usize, next);
        let Progress { done, best, own, n_plays } = progress;
        let is_over = done >= 1.0;
        BestForm {
            done: finite(done),
            plays: n_plays,
            waits: self.search.waits(),
            best: best.map(|best| self.write_best(&best)),
            own: own.map(|own| finite(own.share)),
            measured: best.zip(own).map(|(best, own)| MeasuredForm {
                best: write_chance(best.chance),
                own: write_chance(own),
            }),
            words: is_over.then(|| in_words(best.as_ref(), own)),
        }
    }

    /// What the other workers are to be told, once each time.
    pub fn tell(&mut self) -> Option<Vec<f64>> {
        self.search.tell()
    }

    /// Takes in what worker `from` tells.
    ///
    /// # Errors
    /// [`Error::Invalid`] if it is not what was to be expected.
    pub fn hear(&mut self, from: u32, numbers: &[f64]) -> Result<(), Error> {
        let is_expected = self.search.hear(from as usize, numbers);
        let unexpected = || Error::invalid("numbers", "must be what another worker has found");
        is_expected.then_some(()).ok_or_else(unexpected)
    }

    fn write_best(&self, best: &Best) -> BestStrokeForm {
        let stroke = &best.stroke;
        BestStrokeForm {
            stroke: Value::fields([
                ("azimuth", degrees_for(stroke.azimuth).into()),
                ("elevation", degrees_for(stroke.elevation).into()),
                ("speed", stroke.speed.into()),
                ("side", stroke.side.into()),
                ("height", stroke.height.into()),
            ]),
            pocket: best.plan.pocket.name(),
            lengths: finite(lengths_of_speed(self.situation.arena(), stroke.speed)),
            chance: finite(best.chance.share),
        }
    }
}

/// Refuses more numbers than a worker tells.
///
/// # Errors
/// [`Error::OutOfRange`].
pub fn check_told(length: usize) -> Result<(), Error> {
    if length <= MOST_TOLD {
        return Ok(());
    }
    let rule = format!("must be at most {MOST_TOLD}");
    Err(Error::out_of_range("numbers.length", length as f64, rule))
}

fn in_words(best: Option<&Best>, own: Option<Chance>) -> String {
    let Some((best, own)) = best.zip(own) else {
        return "No stroke was found that pots the ball on.".to_owned();
    };
    let best = best.chance;
    if whole_percent(own.share) >= whole_percent(best.share) {
        return format!("Yours is as good as any found: {} against {}.", said(own), said(best));
    }
    format!("Best found: {}; yours: {}.", said(best), said(own))
}

/// In whole percents, with the interval, for more is not known.
fn said(chance: Chance) -> String {
    let Chance { share, low, high } = chance;
    format!("{} % ({} to {} %)", whole_percent(share), whole_percent(low), whole_percent(high))
}
