//! Hands to choose from, and the chances to pot a ball from every place.

use super::item::read_leave_item;
use super::map_scale::draw_map;
use super::reader::Form;
use super::shot::ball_named;
use super::value::Value;
use crate::ball::BallId;
use crate::error::Error;
use crate::physics::{Arena, PlacedBall};
use crate::shot::{Grid, HANDS, Hand, NamedHand, PotMap, SpotProof};
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
    /// Whether proved chances are asked for, or only rough ones.
    is_proved: bool,
    grid: Grid,
    /// With windows that are sketched, and those chances once they are known.
    sketch: PotMap,
    rough: Option<Vec<f64>>,
    /// With whole windows, as far as they are found.
    map: PotMap,
    /// The pockets of which windows are missing there.
    missing: Vec<PocketId>,
    /// The cells that are proved here, and the chances of those that are.
    cells: Vec<u32>,
    chances: Vec<f64>,
    /// The cell that is being proved.
    proving: Option<SpotProof>,
    /// How much of what is proved has been told.
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
    /// The share of what is asked for that is known.
    pub done: f64,
    /// The cells that are told of.
    pub cells: Vec<u32>,
    /// Their chances; not a number where the cue ball cannot lie.
    pub chances: Vec<f64>,
}

impl Asked {
    /// With whether proved chances are asked for.
    fn read(request: &Value) -> Result<(Self, bool), Error> {
        let known = &["item", "ball", "hand", "columns", "rows", "pocket", "share", "of", "proved"];
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
        let asked = Self { card, balls, ball, hand, pocket, columns, rows, share, of };
        Ok((asked, form.truth("proved")?))
    }

    fn map(&self) -> Result<PotMap, Error> {
        PotMap::new_without_windows(&Arena::new(&self.card), &self.balls, self.ball, &self.hand)
    }

    /// The pockets that count.
    fn pockets(&self) -> &[PocketId] {
        self.pocket.as_ref().map_or(&PocketId::ALL[..], std::slice::from_ref)
    }

    /// Whether only the hand or the cells may differ.
    fn has_layout_of(&self, other: &Self) -> bool {
        (self.card, self.ball) == (other.card, other.ball) && self.balls == other.balls
    }
}

impl ChanceMap {
    /// For `{ item, ball, hand, columns, rows, pocket?, share, of, proved }`: the chances to
    /// pot `ball` from the middle of each cell of a grid, rough or proved. Of `of` shares each
    /// finds the rough ones of as many rows one after the other, and proves those of every
    /// `of`-th row. Where a pocket is named, only that one counts. The ball on of the item, if
    /// it is not `ball` itself, has been potted.
    ///
    /// # Errors
    /// As [`Form`] and [`read_leave_item`]; [`Error::Invalid`] for a ball that is not on
    /// the table.
    pub fn new(request: &Value) -> Result<Self, Error> {
        let (asked, is_proved) = Asked::read(request)?;
        let map = asked.map()?;
        Ok(Self::begin(map.clone(), map, asked, is_proved))
    }

    fn begin(sketch: PotMap, map: PotMap, asked: Asked, is_proved: bool) -> Self {
        let grid = Grid::new(&asked.card, asked.columns as usize, asked.rows as usize);
        let rows = (asked.share..asked.rows).step_by(asked.of as usize);
        let cells = rows.flat_map(|row| row * asked.columns..(row + 1) * asked.columns).collect();
        Self {
            missing: asked.pockets().to_vec(),
            asked,
            is_proved,
            grid,
            sketch,
            rough: None,
            map,
            cells,
            chances: Vec::new(),
            proving: None,
            n_told: 0,
        }
    }

    /// Turns to another request; what that has in common with the last is kept.
    ///
    /// # Errors
    /// As [`new`](Self::new), and then nothing has changed.
    pub fn turn(&mut self, request: &Value) -> Result<(), Error> {
        let (asked, is_proved) = Asked::read(request)?;
        if asked == self.asked {
            (self.is_proved, self.n_told) = (is_proved, 0);
        } else if asked.has_layout_of(&self.asked) {
            let [sketch, map] = [&self.sketch, &self.map].map(|map| map.in_hand(&asked.hand));
            *self = Self::begin(sketch, map, asked, is_proved);
        } else {
            let map = asked.map()?;
            *self = Self::begin(map.clone(), map, asked, is_proved);
        }
        Ok(())
    }

    /// Tells all that is rough at once. Of what is proved it plays about so many strokes at
    /// each step, and tells of the cells that they prove, which may be none.
    pub fn step(&mut self, plays: u32) -> MapProgress {
        if !self.is_proved {
            return self.first();
        }
        // One pocket's windows are a step by themselves.
        match self.missing.pop() {
            Some(pocket) => self.map.find_windows(&[pocket]),
            None => self.prove(plays.max(1)),
        }
        let known = self.n_told..self.chances.len();
        self.n_told = known.end;
        MapProgress {
            done: self.chances.len() as f64 / self.cells.len() as f64,
            cells: self.cells[known.clone()].to_vec(),
            chances: self.chances[known].to_vec(),
        }
    }

    fn prove(&mut self, mut left: u32) {
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
    }

    fn first(&mut self) -> MapProgress {
        let Asked { columns, rows, share, of, .. } = self.asked;
        let own = [share, share + 1].map(|share| share * rows / of);
        let rough = self.rough.get_or_insert_with(|| {
            let pockets = self.asked.pockets();
            self.sketch.sketch_windows(pockets);
            self.grid.sketch(&self.sketch, own[0] as usize..own[1] as usize, pockets)
        });
        let cells = (own[0] * columns..own[1] * columns).collect();
        MapProgress { done: 1.0, cells, chances: rough.clone() }
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
