//! Hands to choose from, and the chances to pot a ball from every place.

use super::item::read_leave_item;
use super::reader::Form;
use super::scale::draw_map;
use super::shot::ball_named;
use super::value::Value;
use crate::ball::BallId;
use crate::error::Error;
use crate::physics::{Arena, PlacedBall};
use crate::shot::{Grid, HANDS, Hand, NamedHand, PotMap};
use crate::table::{PocketId, TableCard};
use serde::Serialize;
use std::fmt::Write;

/// The most cells of a map each way (tuning choice: a second's work or so).
const MOST_CELLS: u32 = 256;

/// The proof of a cell counts as so many strokes played (tuning choice: a step of the page
/// then takes some twenty milliseconds).
const PLAYS_A_CELL: u32 = 64;

/// A hand that can be chosen.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct HandForm {
    id: &'static str,
    name: &'static str,
    words: &'static str,
}

/// The hands, steadiest first.
pub fn hands() -> Vec<HandForm> {
    HANDS.iter().map(|hand| HandForm { id: hand.id, name: hand.name, words: hand.words }).collect()
}

/// Reads a hand by its name.
///
/// # Errors
/// [`Error::Malformed`] if there is no such hand.
pub fn read_hand(form: &Form, name: &str) -> Result<NamedHand, Error> {
    form.choice(name, &HANDS, |named| named.id)
}

/// The chances to pot a ball from everywhere, kept while the layout stays and taken in
/// steps.
#[derive(Clone, Debug)]
pub struct ChanceMap {
    asked: Asked,
    map: PotMap,
    grid: Grid,
    /// The cells that are computed here, and the chances as far as they are known.
    cells: Vec<u32>,
    chances: Vec<f64>,
    n_proved: usize,
    /// Whether what is known has been told.
    is_told: bool,
}

/// What a map is asked for.
#[derive(Clone, Debug, PartialEq)]
struct Asked {
    card: TableCard,
    /// All that lie there but the cue ball.
    balls: Vec<PlacedBall>,
    ball: BallId,
    hand: Hand,
    pocket: Option<PocketId>,
    columns: u32,
    rows: u32,
    share: u32,
    of: u32,
}

/// What a step tells: chances of some of the cells, which are numbered row by row.
#[derive(Clone, Debug, PartialEq)]
pub struct MapProgress {
    /// The share of all chances that are proved; the others are rough.
    pub done: f64,
    /// The cells that are told of.
    pub cells: Vec<u32>,
    /// Their chances; not a number where the cue ball cannot lie.
    pub chances: Vec<f64>,
}

impl Asked {
    fn read(request: &Value) -> Result<Self, Error> {
        let known = &["item", "ball", "hand", "columns", "rows", "pocket", "share", "of"];
        let form = Form::open(request, "", known)?;
        let item = read_leave_item(form.value("item")?, "item")?;
        let missing =
            || Error::invalid(form.path_of("ball"), "must be an object ball that is on the table");
        let ball = ball_named(form.text("ball")?).filter(|id| !id.is_cue()).ok_or_else(missing)?;
        let hand = read_hand(&form, "hand")?.hand;
        let columns = form.integer("columns", 1, MOST_CELLS)?;
        let rows = form.integer("rows", 1, MOST_CELLS)?;
        let of = form.integer("of", 1, rows)?;
        let share = form.integer("share", 0, of - 1)?;
        let pocket = match form.optional("pocket") {
            Some(_) => Some(form.choice("pocket", &PocketId::ALL, PocketId::name)?),
            None => None,
        };
        let mut balls = item.shot.balls;
        balls.retain(|one| !one.id.is_cue() && (one.id == ball || one.id != item.demand.on));
        let card = item.shot.card;
        Ok(Self { card, balls, ball, hand, pocket, columns, rows, share, of })
    }

    fn map(&self) -> Result<PotMap, Error> {
        PotMap::new(&Arena::new(&self.card), &self.balls, self.ball, &self.hand)
    }

    /// Whether only the hand or the cells may differ.
    fn has_layout_of(&self, other: &Self) -> bool {
        (self.card, self.ball) == (other.card, other.ball) && self.balls == other.balls
    }
}

impl ChanceMap {
    /// For `{ item, ball, hand, columns, rows, pocket?, share, of }`: the chances to pot
    /// `ball` from the middle of each cell of a grid, of whose rows every `of`-th is
    /// computed here, from `share` on. Where a pocket is named, only that one counts. The
    /// ball on of the item, if it is not `ball` itself, has been potted.
    ///
    /// # Errors
    /// As [`Form`] and [`read_leave_item`]; [`Error::Invalid`] for a ball that is not on
    /// the table.
    pub fn new(request: &Value) -> Result<Self, Error> {
        let asked = Asked::read(request)?;
        Ok(Self::begin(asked.map()?, asked))
    }

    fn begin(map: PotMap, asked: Asked) -> Self {
        let grid = Grid::new(&asked.card, asked.columns as usize, asked.rows as usize);
        let rows = (asked.share..asked.rows).step_by(asked.of as usize);
        let cells = rows.flat_map(|row| row * asked.columns..(row + 1) * asked.columns).collect();
        Self { asked, map, grid, cells, chances: Vec::new(), n_proved: 0, is_told: false }
    }

    /// Turns to another request; what that has in common with the last is kept.
    ///
    /// # Errors
    /// As [`new`](Self::new), and then nothing has changed.
    pub fn turn(&mut self, request: &Value) -> Result<(), Error> {
        let asked = Asked::read(request)?;
        if asked == self.asked {
            self.is_told = false;
        } else if asked.has_layout_of(&self.asked) {
            *self = Self::begin(self.map.in_hand(&asked.hand), asked);
        } else {
            *self = Self::begin(asked.map()?, asked);
        }
        Ok(())
    }

    /// Tells all that is known, which are rough chances at first; then proves some more at
    /// each step, playing about so many strokes.
    pub fn step(&mut self, plays: u32) -> MapProgress {
        let pocket = self.asked.pocket;
        let known = if self.is_told {
            let n = (plays / PLAYS_A_CELL).max(1) as usize;
            let known = self.n_proved..self.cells.len().min(self.n_proved + n);
            for k in known.clone() {
                self.chances[k] = self.grid.proved(&self.map, self.cells[k] as usize, pocket);
            }
            self.n_proved = known.end;
            known
        } else {
            if self.chances.is_empty() {
                let rough = |cell: &u32| self.grid.rough(&self.map, *cell as usize, pocket);
                self.chances = self.cells.iter().map(rough).collect();
            }
            self.is_told = true;
            0..self.cells.len()
        };
        MapProgress {
            done: self.n_proved as f64 / self.cells.len() as f64,
            cells: self.cells[known.clone()].to_vec(),
            chances: self.chances[known].to_vec(),
        }
    }

    /// The picture of the whole map, one pixel a cell.
    ///
    /// # Errors
    /// [`Error::OutOfRange`] unless there is a chance for each cell.
    pub fn picture(&self, chances: &[f64]) -> Result<Vec<u8>, Error> {
        draw_map(chances, self.asked.columns, self.asked.rows)
    }

    /// Columns and rows of the whole map.
    pub fn size(&self) -> (u32, u32) {
        (self.asked.columns, self.asked.rows)
    }

    /// The lines on which the chance is `level`, as path data of a drawing in millimetres.
    pub fn line(&self, chances: &[f64], level: f64) -> String {
        let mut path = String::new();
        for line in self.grid.contour(chances, level) {
            for (k, place) in line.iter().enumerate() {
                let letter = if k == 0 { 'M' } else { 'L' };
                // Writing to a text does not fail.
                let _ = write!(path, "{letter}{:.1} {:.1}", 1000.0 * place.x, 1000.0 * place.y);
            }
        }
        path
    }
}

/// Whether so many chances can be a map of this size.
///
/// # Errors
/// [`Error::OutOfRange`] if not.
pub(super) fn check_cells(length: usize, columns: u32, rows: u32) -> Result<(), Error> {
    if length == (columns * rows) as usize {
        return Ok(());
    }
    Err(Error::out_of_range("chances.length", length as f64, "must be columns times rows"))
}

/// Whether so many chances are worth copying into the core.
///
/// # Errors
/// [`Error::OutOfRange`] if no map has so many.
pub fn check_chances(length: usize) -> Result<(), Error> {
    if length <= (MOST_CELLS * MOST_CELLS) as usize {
        return Ok(());
    }
    let rule = format!("must be at most {}", MOST_CELLS * MOST_CELLS);
    Err(Error::out_of_range("chances.length", length as f64, rule))
}
