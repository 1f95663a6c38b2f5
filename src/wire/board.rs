//! A table that is set up: how it is drawn, and balls put down, taken away and mirrored.

use super::item::{read_leave_item, write_leave_item};
use super::question::{DrawingForm, write_drawing};
use super::reader::Form;
use super::shot::{ball_named, read_position};
use super::value::Value;
use crate::ball::BallId;
use crate::error::Error;
use crate::practice::{LeaveItem, card_in_words, mirror, place_ball, remove_ball};
use serde::Serialize;

/// The table of an item as it is drawn.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct BoardForm {
    card: String,
    table: DrawingForm,
}

/// Shows the table of `{ item }`.
///
/// # Errors
/// As [`read_leave_item`].
pub fn board(request: &Value) -> Result<BoardForm, Error> {
    let item = read_only_item(request)?;
    let card = &item.shot.card;
    Ok(BoardForm { card: card_in_words(card), table: write_drawing(card) })
}

/// An item that was changed.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct ChangedForm {
    item: Value,
}

fn write_changed(item: &LeaveItem) -> ChangedForm {
    ChangedForm { item: write_leave_item(item) }
}

/// Puts a ball where it was dropped: `{ item, ball, x, y, snap, add? }`.
///
/// # Errors
/// As [`Form`], [`read_leave_item`] and [`place_ball`].
pub fn place(request: &Value) -> Result<ChangedForm, Error> {
    let form = Form::open(request, "", &["item", "ball", "x", "y", "snap", "add"])?;
    let item = read_leave_item(form.value("item")?, "item")?;
    let ball = read_ball(&form)?;
    let adding = form.optional("add").is_some() && form.truth("add")?;
    let placed = place_ball(&item, ball, read_position(&form)?, form.truth("snap")?, adding)?;
    Ok(write_changed(&placed))
}

/// Takes a ball away: `{ item, ball }`.
///
/// # Errors
/// As [`Form`], [`read_leave_item`] and [`remove_ball`].
pub fn remove(request: &Value) -> Result<ChangedForm, Error> {
    let form = Form::open(request, "", &["item", "ball"])?;
    let item = read_leave_item(form.value("item")?, "item")?;
    Ok(write_changed(&remove_ball(&item, read_ball(&form)?)?))
}

/// Mirrors `{ item }` from left to right.
///
/// # Errors
/// As [`read_leave_item`].
pub fn mirrored(request: &Value) -> Result<ChangedForm, Error> {
    Ok(write_changed(&mirror(&read_only_item(request)?)))
}

/// The item of `{ item }`.
pub(super) fn read_only_item(request: &Value) -> Result<LeaveItem, Error> {
    let form = Form::open(request, "", &["item"])?;
    read_leave_item(form.value("item")?, "item")
}

fn read_ball(form: &Form) -> Result<BallId, Error> {
    let rule = "must be \"cue\" or the number of an object ball, 1 to 15, as a text";
    ball_named(form.text("ball")?).ok_or_else(|| Error::malformed(form.path_of("ball"), rule))
}
