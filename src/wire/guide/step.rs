//! How a guide goes on with what it is asked, in steps that a caller can count.

use super::ClearGuide;
use super::ask::Ask;
use super::forms::{PlanForm, RaceForm, RunsForm};
use crate::plan::{Depth, Way};
use crate::shot::Series;
use crate::wire::outcome::finite;
use serde::Serialize;

/// Plays of the model that a part of a guide takes, about (tuning choice).
const PLAYS_PER_SHELF: u32 = 128;
/// And that a run takes (tuning choice: a few decisions of some 32 plays).
const PLAYS_PER_RUN: u32 = 128;

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

impl ClearGuide {
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
}
