//! A table as bits: its size, and what differs from the defaults of that.

use super::bits::Bits;
use super::table::PARAMETERS;
use crate::error::Error;
use crate::practice::Quantum;
use crate::table::{FrictionCurve, PocketSpec, TableCard, TableSize};

/// Bits of a parameter of the table.
const PARAMETER: u32 = 21;

/// A table; whether it can be played on is not checked.
///
/// # Errors
/// [`Error::Malformed`] if it does not fit or is none.
pub(super) fn card(bits: &mut Bits, given: Option<&TableCard>) -> Result<TableCard, Error> {
    let mut card =
        TableCard::of_size(bits.one_of(&TableSize::ALL, given.map(|card| card.size), 2)?);
    if !bits.flag(given.is_some_and(|given| *given != card))? {
        return Ok(card);
    }
    for (_, see, replace, decimals) in PARAMETERS {
        if bits.flag(given.is_some_and(|given| see(given) != see(&card)))? {
            let quantum = Quantum::of_decimals(decimals);
            replace(&mut card, bits.number(given.map(see), quantum, PARAMETER)?);
        }
    }
    let curve = given.map(|card| &card.ball_contact.friction);
    if bits.flag(curve.is_some_and(|curve| *curve != card.ball_contact.friction))? {
        card.ball_contact.friction = friction(bits, curve)?;
    }
    let corner = given.map(|card| &card.corner_pocket);
    if bits.flag(corner.is_some_and(|corner| *corner != card.corner_pocket))? {
        card.corner_pocket = pocket(bits, corner)?;
    }
    let side = given.map(|card| &card.side_pocket);
    if bits.flag(side.is_some_and(|side| *side != card.side_pocket))? {
        card.side_pocket = pocket(bits, side)?;
    }
    Ok(card)
}

fn friction(bits: &mut Bits, given: Option<&FrictionCurve>) -> Result<FrictionCurve, Error> {
    let (share, decay) = (Quantum::of_decimals(5), Quantum::of_decimals(3));
    Ok(FrictionCurve {
        floor: bits.number(given.map(|curve| curve.floor), share, PARAMETER)?,
        range: bits.number(given.map(|curve| curve.range), share, PARAMETER)?,
        decay: bits.number(given.map(|curve| curve.decay), decay, PARAMETER)?,
    })
}

fn pocket(bits: &mut Bits, given: Option<&PocketSpec>) -> Result<PocketSpec, Error> {
    let (size, turn) = (Quantum::of_decimals(5), Quantum::of_decimals(3));
    Ok(PocketSpec {
        mouth: bits.number(given.map(|spec| spec.mouth), size, PARAMETER)?,
        cut_angle: bits.angle(given.map(|spec| spec.cut_angle), turn, PARAMETER)?,
        shelf: bits.number(given.map(|spec| spec.shelf), size, PARAMETER)?,
        facing: bits.number(given.map(|spec| spec.facing), size, PARAMETER)?,
        hole_radius: bits.number(given.map(|spec| spec.hole_radius), size, PARAMETER)?,
    })
}
