//! The glossary: trade words in a sentence or two, each with a shot that shows what it
//! says. The shots are set up by what they are to show (a cut, a distance, a tip) and
//! played by the model; what is said of a drawing is measured on it.

mod entries;
mod measured;
mod scene;
mod tell;

use crate::error::Error;
use crate::physics::{Outcome, Shot, play};
use crate::practice::{CuePath, Dimension};
use crate::shot::Zone;
use crate::table::{TableCard, TableSize};
use glam::DVec2;
use tell::Tell;

/// A word with its example.
#[derive(Clone, Debug, PartialEq)]
pub struct Word {
    /// What names it in links and tests.
    pub id: &'static str,
    /// The word itself.
    pub term: &'static str,
    /// What it means.
    pub meaning: &'static str,
    /// What the drawing shows, with what was measured on it.
    pub shows: String,
    /// The shot that shows it, and those that are drawn thin beside it.
    pub runs: Vec<Run>,
    /// What is drawn over the shots.
    pub marks: Vec<Mark>,
    /// The place around which it is drawn large, m; `None` to show the whole table.
    pub near: Option<DVec2>,
}

/// A shot of an example, played.
#[derive(Clone, Debug, PartialEq)]
pub struct Run {
    /// As it was set up.
    pub shot: Shot,
    /// What came of it.
    pub outcome: Outcome,
    /// The cue ball's path from the object ball on, if it meets one.
    pub path: Option<CuePath>,
}

/// Something drawn over an example.
#[derive(Clone, Debug, PartialEq)]
pub enum Mark {
    /// A name beside a place, m.
    Name(DVec2, String),
    /// A thin line between two places, m.
    Line(DVec2, DVec2),
    /// An angle with its number.
    Angle(Dimension),
    /// A zone.
    Zone(Zone),
}

impl Run {
    fn new(shot: Shot) -> Result<Self, Error> {
        let outcome = play(&shot)?;
        let path = CuePath::of(&shot, &outcome);
        Ok(Self { shot, outcome, path })
    }

    /// The path of the ball in this place of the shot's list, m.
    pub fn line(&self, place: usize) -> Vec<DVec2> {
        self.outcome.paths[place].iter().map(|sample| sample.position).collect()
    }

    /// Where the cue ball, the first of the list, ended, m.
    pub fn stop(&self) -> DVec2 {
        self.outcome.paths[0].last().map_or(DVec2::ZERO, |sample| sample.position)
    }
}

/// The table on which all examples are played.
pub fn glossary_card() -> TableCard {
    TableCard::of_size(TableSize::NineFoot)
}

/// All words, in the order in which a beginner meets them.
///
/// # Errors
/// None, as long as the examples are sound.
pub fn glossary() -> Result<Vec<Word>, Error> {
    let card = glossary_card();
    entries::ENTRIES
        .iter()
        .map(|entry| {
            let runs = entry.scenes.iter().map(|scene| Run::new(scene.shot(&card)));
            let mut runs = runs.collect::<Result<Vec<Run>, Error>>()?;
            let (shows, marks) = tell::tell(entry.tell, &card, &mut runs)?;
            let is_near = matches!(entry.tell, Tell::Ghost | Tell::Cut | Tell::Cover | Tell::Throw);
            let met = runs.first().and_then(|run| run.path.as_ref());
            let near = met.filter(|_| is_near).map(|path| path.ghost);
            let (id, term, meaning) = (entry.id, entry.term, entry.meaning);
            Ok(Word { id, term, meaning, shows, runs, marks, near })
        })
        .collect()
}
