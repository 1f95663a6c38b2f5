//! Items as bits: what version 2 of a link holds, and what a link to several may hold.
//!
//! DEVELOPERS.md lists every field with its bits and its quantum. A number that is no whole
//! step of its quantum is carried with all its 64 bits, so every item comes back the same;
//! what was rounded onto the quanta is short.

use super::bits::Bits;
use super::card_bits::card;
use super::place_bits::{Cloth, ball_place, maybe_rail, rail};
use crate::ball::BallId;
use crate::error::Error;
use crate::physics::{PlacedBall, Shot, Stroke};
use crate::plan::{BallSet, Game, Link};
use crate::practice::{
    AnyItem, Call, CallPoint, ClearItem, LeaveAnswer, LeaveItem, Place, Quantum, ReadItem,
    resolved, told,
};
use crate::shot::{Demand, Zone};
use crate::table::{PocketId, TableCard};
use glam::DVec2;

#[inline(never)]
fn maybe_ball(bits: &mut Bits, given: Option<BallId>) -> Result<Option<BallId>, Error> {
    if bits.flag(given.is_some())? { bits.ball(given).map(Some) } else { Ok(None) }
}

/// An item and its kind.
///
/// # Errors
/// [`Error::Malformed`] if it does not fit or is none; [`Error::OutOfRange`] or
/// [`Error::Invalid`] for a table or for places that cannot be. Whether all else is sound is
/// not checked.
pub(super) fn item(bits: &mut Bits, given: Option<&AnyItem>) -> Result<AnyItem, Error> {
    let kind = bits.whole(
        given.map(|item| match item {
            AnyItem::Read(_) => 0,
            AnyItem::Leave(_) => 1,
            AnyItem::Clear(_) => 2,
        }),
        2,
    )?;
    let model = bits.small(given.map(AnyItem::model))?;
    let level = bits.whole(given.map(|item| u64::from(item.level())), 3)? as u8;
    let seed = given.and_then(AnyItem::seed);
    let seed = bits.optional(seed.as_ref(), |bits, seed| {
        Ok(bits.whole(seed.map(|seed| u64::from(*seed)), 32)? as u32)
    })?;
    let shot = shot(bits, given.map(AnyItem::shot))?;
    match kind {
        0 => Ok(AnyItem::Read(ReadItem { shot, model, level, seed })),
        1 => {
            let given = match given {
                Some(AnyItem::Leave(item)) => Some(&item.demand),
                _ => None,
            };
            let demand = demand(bits, &Cloth::new(&shot.card), given)?;
            Ok(AnyItem::Leave(LeaveItem { shot, demand, model, level, seed }))
        }
        2 => {
            let given = match given {
                Some(AnyItem::Clear(item)) => Some(item),
                _ => None,
            };
            let game = game(bits, given.map(|item| &item.game))?;
            let links = bits.list(given.map(|item| item.links.as_slice()), 5, way)?;
            let key = maybe_ball(bits, given.and_then(|item| item.key))?;
            Ok(AnyItem::Clear(ClearItem { shot, game, links, key, model, level, seed }))
        }
        _ => Err(Error::malformed("link", "holds an item of no known kind")),
    }
}

fn shot(bits: &mut Bits, given: Option<&Shot>) -> Result<Shot, Error> {
    let card = card(bits, given.map(|shot| &shot.card))?;
    card.check().map_err(|error| error.within("item.shot.table"))?;
    let cloth = Cloth::new(&card);
    let told: Option<Vec<(BallId, Place)>> = given.map(|shot| {
        let names = shot.balls.iter().map(|ball| ball.id);
        names.zip(told(&card, &shot.balls)).collect()
    });
    let balls = bits.list(told.as_deref(), 5, |bits, given| {
        let id = bits.ball(given.map(|(id, _)| *id))?;
        Ok((id, ball_place(bits, &cloth, given.map(|(_, place)| *place))?))
    })?;
    let places: Vec<Place> = balls.iter().map(|(_, place)| *place).collect();
    let places = resolved(&card, &places).ok_or_else(|| {
        Error::invalid("item.shot.balls", "balls that touch must follow from balls that lie")
    })?;
    let balls = balls.iter().zip(places);
    let balls = balls.map(|((id, _), position)| PlacedBall { id: *id, position }).collect();
    Ok(Shot { card, balls, stroke: stroke(bits, given.map(|shot| &shot.stroke))? })
}

/// A stroke.
///
/// # Errors
/// As [`item`].
pub(super) fn stroke(bits: &mut Bits, given: Option<&Stroke>) -> Result<Stroke, Error> {
    Ok(Stroke {
        azimuth: bits.angle(given.map(|stroke| stroke.azimuth), Quantum::AZIMUTH, 23)?,
        elevation: bits.angle(given.map(|stroke| stroke.elevation), Quantum::ANGLE, 15)?,
        speed: bits.number(given.map(|stroke| stroke.speed), Quantum::SPEED, 19)?,
        side: bits.number(given.map(|stroke| stroke.side), Quantum::TIP, 15)?,
        height: bits.number(given.map(|stroke| stroke.height), Quantum::TIP, 15)?,
    })
}

fn demand(bits: &mut Bits, cloth: &Cloth, given: Option<&Demand>) -> Result<Demand, Error> {
    let on = bits.ball(given.map(|demand| demand.on))?;
    let pocket = given.and_then(|demand| demand.pocket);
    let pocket = bits.optional(pocket.as_ref(), |bits, pocket| {
        bits.one_of(&PocketId::ALL, pocket.copied(), 3)
    })?;
    let next = maybe_ball(bits, given.and_then(|demand| demand.next))?;
    let rails = bits.list(given.map(|demand| demand.rails.as_slice()), 3, |bits, given| {
        rail(bits, given.copied())
    })?;
    let zone = given.and_then(|demand| demand.zone.as_ref());
    let zone = bits.optional(zone, |bits, given| zone_on(bits, cloth, given))?;
    Ok(Demand { on, pocket, next, rails, zone })
}

fn zone_on(bits: &mut Bits, cloth: &Cloth, given: Option<&Zone>) -> Result<Zone, Error> {
    let centre = cloth.place(bits, given.map(|zone| zone.centre))?;
    let long = bits.number(given.map(|zone| zone.half.x), Quantum::PLACE, 16)?;
    let wide = bits.number(given.map(|zone| zone.half.y), Quantum::PLACE, 16)?;
    let turn = bits.angle(given.map(|zone| zone.turn), Quantum::ANGLE, 17)?;
    Ok(Zone { centre, half: DVec2::new(long, wide), turn })
}

fn game(bits: &mut Bits, given: Option<&Game>) -> Result<Game, Error> {
    if !bits.flag(matches!(given, Some(Game::Group { .. })))? {
        return Ok(Game::Rotation);
    }
    let (group, last) = match given {
        Some(Game::Group { group, last }) => (Some(group.bits()), Some(*last)),
        _ => (None, None),
    };
    // The cue ball, whose bit is the lowest, is of no group.
    let group = bits.whole(group.map(|balls| u64::from(balls >> 1)), 15)?;
    Ok(Game::Group {
        group: BallSet::of_bytes(((group << 1) as u16).to_le_bytes()),
        last: bits.ball(last)?,
    })
}

fn way(bits: &mut Bits, given: Option<&Link>) -> Result<Link, Error> {
    let from = bits.ball(given.map(|link| link.from))?;
    let to = bits.ball(given.map(|link| link.to))?;
    let cushions = bits.whole(given.map(|link| u64::from(link.cushions)), 3)? as u8;
    let side = maybe_rail(bits, given.and_then(|link| link.side))?;
    Ok(Link { from, to, cushions, side })
}

/// A call on the table of `card`.
///
/// # Errors
/// As [`item`].
pub(super) fn call(bits: &mut Bits, card: &TableCard, given: Option<&Call>) -> Result<Call, Error> {
    let cloth = Cloth::new(card);
    let points = bits.list(given.map(|call| call.points.as_slice()), 6, |bits, given| {
        let rail = maybe_rail(bits, given.and_then(|point| point.rail))?;
        Ok(CallPoint { position: cloth.place(bits, given.map(|point| point.position))?, rail })
    })?;
    Ok(Call { points, stop: cloth.place(bits, given.map(|call| call.stop))? })
}

/// An answer on the table of `card`.
///
/// # Errors
/// As [`item`].
pub(super) fn answer(
    bits: &mut Bits,
    card: &TableCard,
    given: Option<&LeaveAnswer>,
) -> Result<LeaveAnswer, Error> {
    let zone = zone_on(bits, &Cloth::new(card), given.map(|answer| &answer.zone))?;
    let stroke = stroke(bits, given.map(|answer| &answer.stroke))?;
    let given = given.and_then(|answer| answer.call.as_ref());
    let call = bits.optional(given, |bits, given| call(bits, card, given))?;
    Ok(LeaveAnswer { zone, stroke, call })
}
