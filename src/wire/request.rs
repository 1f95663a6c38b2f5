//! What the page asks for, besides plain shots.

use super::item::{HARDEST_LEVEL, read_call, read_item, read_shot_of};
use super::link::unseal;
use super::reader::Form;
use super::shot::read_position;
use super::table::read_size;
use super::value::Value;
use crate::error::Error;
use crate::practice::{Call, ReadItem};
use crate::table::{Rail, TableCard, TableSize};
use glam::DVec2;

/// A wish for a new item.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct DealRequest {
    /// Level, 1 to 6.
    pub level: u8,
    /// The seed of the deal.
    pub seed: u32,
    /// The table, nine-foot unless another is asked for.
    pub size: TableSize,
}

/// A point that the player placed.
#[derive(Clone, Debug, PartialEq)]
pub struct SnapRequest {
    /// The table of the item that it belongs to.
    pub card: TableCard,
    /// Where, m.
    pub position: DVec2,
    /// How near a nose line it is drawn onto the rail, m.
    pub reach: f64,
    /// Whether it is drawn onto rails at all.
    pub snap: bool,
}

/// A point whose diamonds were typed.
#[derive(Clone, Debug, PartialEq)]
pub struct PointRequest {
    /// The table of the item that it belongs to.
    pub card: TableCard,
    /// Where it is.
    pub place: Diamonds,
}

/// A place counted in diamonds.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Diamonds {
    /// On a rail, at this diamond of it.
    Rail(Rail, f64),
    /// On the cloth: from the head, and from the right.
    Cloth(f64, f64),
}

/// An answer to be graded.
#[derive(Clone, Debug, PartialEq)]
pub struct GradeRequest {
    /// What was asked.
    pub item: ReadItem,
    /// The player's answer.
    pub call: Call,
    /// The answer of the one who sent the link.
    pub sender: Option<Call>,
}

/// Reads a wish for a new item.
///
/// # Errors
/// As [`Form`].
pub fn read_deal(value: &Value) -> Result<DealRequest, Error> {
    let form = Form::open(value, "", &["level", "seed", "size"])?;
    Ok(DealRequest {
        level: form.integer("level", 1, HARDEST_LEVEL)? as u8,
        seed: form.integer("seed", 0, u32::MAX)?,
        size: read_size(&form)?,
    })
}

/// Reads a placed point.
///
/// # Errors
/// As [`Form`] and the reader of any item.
pub fn read_snap(value: &Value) -> Result<SnapRequest, Error> {
    let form = Form::open(value, "", &["item", "x", "y", "reach", "snap"])?;
    let reach = form.number("reach")?;
    if reach < 0.0 {
        return Err(Error::out_of_range("reach", reach, "must not be negative"));
    }
    Ok(SnapRequest {
        card: read_shot_of(form.value("item")?, "item")?.card,
        position: read_position(&form)?,
        reach,
        snap: form.truth("snap")?,
    })
}

/// Reads a typed point. `across` belongs to a point on the cloth, and only there.
///
/// # Errors
/// As [`Form`] and the reader of any item.
pub fn read_point(value: &Value) -> Result<PointRequest, Error> {
    let form = Form::open(value, "", &["item", "rail", "along", "across"])?;
    let card = read_shot_of(form.value("item")?, "item")?.card;
    let along = form.number("along")?;
    let place = match (form.optional("rail"), form.optional("across")) {
        (Some(_), None) => Diamonds::Rail(form.choice("rail", &Rail::ALL, Rail::name)?, along),
        (None, Some(_)) => Diamonds::Cloth(along, form.number("across")?),
        (None, None) => {
            return Err(Error::malformed("across", "must be given for a point on the cloth"));
        }
        (Some(_), Some(_)) => {
            return Err(Error::malformed("across", "must be left out for a point on a rail"));
        }
    };
    Ok(PointRequest { card, place })
}

/// Reads an answer to be graded. `sealed` is what came out of a link.
///
/// # Errors
/// As [`Form`], [`read_item`], [`read_call`] and [`unseal`].
pub fn read_grade(value: &Value) -> Result<GradeRequest, Error> {
    let form = Form::open(value, "", &["item", "call", "sealed"])?;
    Ok(GradeRequest {
        item: read_item(form.value("item")?, "item")?,
        call: read_call(form.value("call")?, "call")?,
        sender: match form.optional("sealed") {
            Some(_) => Some(unseal(form.text("sealed")?)?),
            None => None,
        },
    })
}
