//! Hands to choose from, and the chances to pot a ball from every place.

use super::item::read_leave_item;
use super::reader::Form;
use super::scale::draw_map;
use super::shot::ball_named;
use super::value::Value;
use crate::ball::BallId;
use crate::error::Error;
use crate::physics::{Arena, PlacedBall};
use crate::shot::{Grid, HANDS, Hand, NamedHand, PotMap, Proving};
use crate::table::{PocketId, TableCard};
use serde::Serialize;
use std::fmt::Write;

/// The most cells of a map each way (tuning choice: a second's work or so).
const MOST_CELLS: u32 = 256;

/// What a cell takes beside the strokes that are played counts as so many of them.
const PLAYS_A_CELL: u32 = 4;

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
    /// The pockets into which chances are found here at first, and those of all cells.
    pockets: Vec<PocketId>,
    rough: Vec<f64>,
    /// The cells that are proved here, and the chances of those that are.
    cells: Vec<u32>,
    chances: Vec<f64>,
    /// The cell that is being proved.
    proving: Option<Proving>,
    /// Whether what is rough has been told, and how much of what is proved.
    is_rough_told: bool,
    n_told: usize,
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
    /// The share of the cells proved here that are proved.
    pub done: f64,
    /// Whether the chances are rough, in the best of those pockets that are found here: the
    /// best of all shares counts, until it is proved.
    pub rough: bool,
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
        PotMap::new_without_windows(&Arena::new(&self.card), &self.balls, self.ball, &self.hand)
    }

    /// Whether only the hand or the cells may differ.
    fn has_layout_of(&self, other: &Self) -> bool {
        (self.card, self.ball) == (other.card, other.ball) && self.balls == other.balls
    }
}

impl ChanceMap {
    /// For `{ item, ball, hand, columns, rows, pocket?, share, of }`: the chances to pot
    /// `ball` from the middle of each cell of a grid. Of `of` shares each finds rough ones of
    /// all cells, but only into every `of`-th pocket, from the `share`-th on, and then proves
    /// those of every `of`-th row. Where a pocket is named, only that one counts. The ball on
    /// of the item, if it is not `ball` itself, has been potted.
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
        let own = PocketId::ALL.into_iter().skip(asked.share as usize).step_by(asked.of as usize);
        let pockets = own.filter(|own| asked.pocket.is_none_or(|only| only == *own)).collect();
        Self {
            asked,
            map,
            grid,
            pockets,
            rough: Vec::new(),
            cells,
            chances: Vec::new(),
            proving: None,
            is_rough_told: false,
            n_told: 0,
        }
    }

    /// Turns to another request; what that has in common with the last is kept.
    ///
    /// # Errors
    /// As [`new`](Self::new), and then nothing has changed.
    pub fn turn(&mut self, request: &Value) -> Result<(), Error> {
        let asked = Asked::read(request)?;
        if asked == self.asked {
            (self.is_rough_told, self.n_told) = (false, 0);
        } else if asked.has_layout_of(&self.asked) {
            *self = Self::begin(self.map.in_hand(&asked.hand), asked);
        } else {
            *self = Self::begin(asked.map()?, asked);
        }
        Ok(())
    }

    /// Tells what is rough at first; then plays about so many strokes at each step, and
    /// tells of the cells that they prove, which may be none.
    pub fn step(&mut self, plays: u32) -> MapProgress {
        if !self.is_rough_told {
            self.is_rough_told = true;
            return self.first();
        }
        self.map.find_windows(&PocketId::ALL);
        let mut left = plays.max(1);
        while left > 0 && self.chances.len() < self.cells.len() {
            let cell = self.cells[self.chances.len()] as usize;
            let proving = self
                .proving
                .get_or_insert_with(|| self.grid.proving(&self.map, cell, self.asked.pocket));
            let Some(spot) = proving.advance(&self.map, &mut left) else { break };
            self.chances.push(spot.chance);
            self.proving = None;
            left = left.saturating_sub(PLAYS_A_CELL);
        }
        let known = self.n_told..self.chances.len();
        self.n_told = known.end;
        MapProgress {
            done: self.chances.len() as f64 / self.cells.len() as f64,
            rough: false,
            cells: self.cells[known.clone()].to_vec(),
            chances: self.chances[known].to_vec(),
        }
    }

    fn first(&mut self) -> MapProgress {
        let n_cells = self.asked.columns * self.asked.rows;
        if self.rough.is_empty() {
            self.map.find_windows(&self.pockets);
            let rough = |cell| self.grid.rough(&self.map, cell as usize, &self.pockets);
            self.rough = (0..n_cells).map(rough).collect();
        }
        let cells = (0..n_cells).collect();
        MapProgress { done: 0.0, rough: true, cells, chances: self.rough.clone() }
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
