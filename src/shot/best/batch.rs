//! Work of a search that can be done in any order, by one worker or by several.

use super::candidate::{TRIED_NUMBERS, Trial};
use super::climb::{ASCENT_NUMBERS, ASCENT_PLAYS, Climb};
use super::plan::Plan;
use super::prospect::Outlook;
use super::survey::{self, LINE_NUMBERS, LINE_PLAYS, Line};
use crate::physics::Stroke;
use crate::table::PocketId;
use glam::DVec2;

/// A piece of work.
#[derive(Clone, Debug)]
pub(super) enum Task {
    /// Surveys a line; gives its aims and what its strokes are worth.
    Line(Plan),
    /// Moves the speed of a stroke on this line, of this value, to where it stops best; gives
    /// the speed and its value.
    Centre(Box<Line>, f64, f64),
    /// Plays a stroke for its promise and its worth, for this pocket alone if one is called.
    Play(Stroke, Option<PocketId>),
    /// Plays a stroke of a climb into this pocket.
    Try(Stroke, PocketId),
    /// Leads a climb up.
    Ascend(Box<Climb>),
}

impl Task {
    /// How many numbers it gives.
    fn n_numbers(&self) -> usize {
        match self {
            Self::Line(_) => LINE_NUMBERS,
            Self::Centre(..) | Self::Play(..) => 2,
            Self::Try(..) => TRIED_NUMBERS,
            Self::Ascend(..) => ASCENT_NUMBERS,
        }
    }

    /// What it counts for in plays.
    fn n_plays(&self) -> usize {
        match self {
            Self::Line(_) => LINE_PLAYS,
            Self::Centre(..) => survey::CENTRE_PLAYS,
            Self::Play(..) | Self::Try(..) => 1,
            Self::Ascend(..) => ASCENT_PLAYS,
        }
    }

    fn carry_out(&self, trial: &Trial, outlook: &mut dyn Outlook, numbers: &mut [f64]) {
        match self {
            Self::Line(slowest) => {
                survey::survey(trial, *slowest, numbers, &mut |place: DVec2| outlook.about(place));
            }
            Self::Centre(line, speed, value) => {
                numbers.copy_from_slice(&survey::centre(
                    trial,
                    line,
                    *speed,
                    *value,
                    &mut |place| outlook.chance(place),
                ));
            }
            Self::Try(stroke, called) => numbers.copy_from_slice(&trial.tried(stroke, *called)),
            Self::Ascend(climb) => numbers.copy_from_slice(&climb.ascended(&trial.demand, outlook)),
            Self::Play(stroke, called) => {
                numbers.copy_from_slice(
                    &trial.values(stroke, *called, &mut |place| outlook.chance(place)),
                );
            }
        }
    }
}

/// Whose tasks are whose: worker `number` of `n_workers` does those with its number, and
/// every so many after it.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Share {
    /// From 0.
    pub number: usize,
    /// At least 1.
    pub n_workers: usize,
}

impl Share {
    /// One worker does it all.
    pub const ALL: Self = Self { number: 0, n_workers: 1 };
}

/// Tasks, and what came of them.
#[derive(Clone, Debug)]
pub(super) struct Batch {
    tasks: Vec<Task>,
    share: Share,
    /// The next of the own tasks.
    at: usize,
    /// What all of them give, those that are not done yet with anything.
    numbers: Vec<f64>,
    /// The other workers whose share is missing.
    missing: Vec<usize>,
}

impl Batch {
    pub fn new(tasks: Vec<Task>, share: Share) -> Self {
        let numbers = vec![0.0; tasks.iter().map(Task::n_numbers).sum()];
        // A worker whose share is nothing has nothing to tell.
        let others = (0..share.n_workers.min(tasks.len())).filter(|other| *other != share.number);
        Self { share, at: share.number, numbers, missing: others.collect(), tasks }
    }

    /// Numbers of each task: all tasks of a batch are of one kind.
    fn width(&self) -> usize {
        self.tasks.first().map_or(1, Task::n_numbers)
    }

    /// What all tasks count for in plays.
    pub fn n_plays(&self) -> usize {
        self.tasks.iter().map(Task::n_plays).sum()
    }

    /// What has been done of that, were the others as far as this one.
    pub fn n_done(&self) -> usize {
        self.tasks[..self.at.min(self.tasks.len())].iter().map(Task::n_plays).sum()
    }

    /// Does one more of the own tasks, if there is one; gives its plays.
    pub fn advance(&mut self, trial: &Trial, next: &mut dyn Outlook) -> Option<usize> {
        let task = self.tasks.get(self.at)?;
        let width = task.n_numbers();
        task.carry_out(trial, next, &mut self.numbers[self.at * width..][..width]);
        self.at += self.share.n_workers;
        Some(task.n_plays())
    }

    /// Whether all of the own tasks are done.
    pub fn is_own_done(&self) -> bool {
        self.at >= self.tasks.len()
    }

    /// Whether all shares are there.
    pub fn is_complete(&self) -> bool {
        self.is_own_done() && self.missing.is_empty()
    }

    /// The numbers of the own share, for the other workers.
    pub fn own_numbers(&self) -> Vec<f64> {
        let own = self.numbers.chunks_exact(self.width()).skip(self.share.number);
        own.step_by(self.share.n_workers).flatten().copied().collect()
    }

    /// Takes in what worker `from` has found; whether it is as much as it should be, and
    /// was missing.
    pub fn hear(&mut self, from: usize, numbers: &[f64]) -> bool {
        let (width, n_workers) = (self.width(), self.share.n_workers);
        let n_tasks = self.tasks.len().saturating_sub(from).div_ceil(n_workers);
        let Some(place) = self.missing.iter().position(|other| *other == from) else {
            return false;
        };
        if numbers.len() != n_tasks * width {
            return false;
        }
        self.missing.swap_remove(place);
        let theirs = self.numbers.chunks_exact_mut(width).skip(from).step_by(n_workers);
        for (slot, found) in theirs.zip(numbers.chunks_exact(width)) {
            slot.copy_from_slice(found);
        }
        true
    }

    /// What all tasks gave, one after the other.
    pub fn into_numbers(self) -> Vec<f64> {
        self.numbers
    }
}
