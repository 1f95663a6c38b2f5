//! Hands to choose from, and the chances to pot a ball from every place.

use super::item::read_leave_item;
use super::packed::pocket_number;
use super::reader::Form;
use super::shot::ball_named;
use super::value::Value;
use crate::error::Error;
use crate::physics::Arena;
use crate::shot::{Grid, HANDS, NamedHand, PotMap};
use crate::table::PocketId;
use serde::Serialize;

/// The most cells of a map each way (tuning choice: a second's work or so).
const MOST_CELLS: u32 = 256;

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

/// The chances to pot `ball` of `item` from the middle of each cell of a grid, rows
/// `from` to `to` (excluded) of it: for each cell the chance, not a number where the cue
/// ball cannot lie, and the best pocket, numbered as by [`pack`](super::pack), or -1. Where
/// a pocket is named, only that one counts. The ball on of the item, if it is not `ball`
/// itself, has been potted.
///
/// # Errors
/// As [`Form`] and [`read_leave_item`]; [`Error::Invalid`] for a ball that is not on the
/// table, [`Error::OutOfRange`] for rows that the grid does not have.
pub fn map_of(request: &Value) -> Result<Vec<f64>, Error> {
    let known = &["item", "ball", "hand", "columns", "rows", "from", "to", "pocket"];
    let form = Form::open(request, "", known)?;
    let item = read_leave_item(form.value("item")?, "item")?;
    let missing =
        || Error::invalid(form.path_of("ball"), "must be an object ball that is on the table");
    let ball = ball_named(form.text("ball")?).filter(|id| !id.is_cue()).ok_or_else(missing)?;
    let hand = read_hand(&form, "hand")?;
    let columns = form.integer("columns", 1, MOST_CELLS)?;
    let rows = form.integer("rows", 1, MOST_CELLS)?;
    let to = form.integer("to", 1, rows)?;
    let from = form.integer("from", 0, to)?;
    let pocket = match form.optional("pocket") {
        Some(_) => Some(form.choice("pocket", &PocketId::ALL, PocketId::name)?),
        None => None,
    };
    let mut balls = item.shot.balls;
    balls.retain(|placed| placed.id == ball || placed.id != item.demand.on);
    let arena = Arena::new(&item.shot.card);
    let map = PotMap::new(&arena, &balls, ball, &hand.hand)?;
    let grid = Grid::new(&item.shot.card, columns as usize, rows as usize);
    let spots = grid.fill(&map, from as usize, to as usize, pocket);
    Ok(spots
        .iter()
        .flat_map(|spot| [spot.chance, spot.pocket.map_or(-1.0, pocket_number)])
        .collect())
}

/// The lines on which a map of `{ item, columns, rows, level }` is at `level`: x and y of
/// each point, m, line by line. `chances` are one for each cell, as of [`map_of`].
///
/// # Errors
/// As [`Form`], [`read_leave_item`] and [`check_cells`].
pub fn contour(request: &Value, chances: &[f64]) -> Result<Vec<Vec<f64>>, Error> {
    let form = Form::open(request, "", &["item", "columns", "rows", "level"])?;
    let item = read_leave_item(form.value("item")?, "item")?;
    let columns = form.integer("columns", 1, MOST_CELLS)?;
    let rows = form.integer("rows", 1, MOST_CELLS)?;
    check_cells(chances.len(), columns, rows)?;
    let grid = Grid::new(&item.shot.card, columns as usize, rows as usize);
    let lines = grid.contour(chances, form.number("level")?);
    Ok(lines
        .iter()
        .map(|line| line.iter().flat_map(|place| [place.x, place.y]).collect())
        .collect())
}

/// Whether so many chances can be a map of this size.
///
/// # Errors
/// [`Error::OutOfRange`] if not, or if no map is that large.
pub fn check_cells(length: usize, columns: u32, rows: u32) -> Result<(), Error> {
    for (name, cells) in [("columns", columns), ("rows", rows)] {
        if !(1..=MOST_CELLS).contains(&cells) {
            let rule = format!("must be a whole number from 1 to {MOST_CELLS}");
            return Err(Error::out_of_range(name, f64::from(cells), rule));
        }
    }
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
