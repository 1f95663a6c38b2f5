//! Items as bits: what version 2 of a link holds, and what a link to several may hold.
//!
//! DEVELOPERS.md lists every field with its bits and its quantum. A number that is no whole
//! step of its quantum is carried with all its 64 bits, so every item comes back the same;
//! what was rounded onto the quanta is short.

use super::bits::Bits;
use super::table::PARAMETERS;
use crate::ball::BallId;
use crate::error::Error;
use crate::physics::{PlacedBall, Shot, Stroke};
use crate::plan::{BallSet, Game, Link};
use crate::practice::{
    AnyItem, Call, CallPoint, ClearItem, LeaveAnswer, LeaveItem, Mark, Place, Quantum, ReadItem,
    marks_of, of_marks, resolved, told,
};
use crate::shot::{Demand, Zone};
use crate::table::{FrictionCurve, PocketId, PocketSpec, Rail, TableCard, TableShape, TableSize};
use glam::DVec2;

/// Bits of a parameter of the table.
const PARAMETER: u32 = 21;

/// The cloth of a table, on which places are told.
struct Cloth<'a> {
    card: &'a TableCard,
    /// The least step of each coordinate, and how many there are.
    steps: [(i32, u32); 2],
}

impl<'a> Cloth<'a> {
    /// All steps on which a ball can lie, pockets included.
    fn new(card: &'a TableCard) -> Self {
        let shape = TableShape::new(card);
        let steps = [0, 1].map(|axis| {
            let along = shape.outline().iter().map(|corner| corner[axis]);
            let least = Quantum::PLACE.steps(along.clone().fold(0.0, f64::min)) - 1.0;
            let most = Quantum::PLACE.steps(along.fold(0.0, f64::max)) + 1.0;
            (least as i32, (most - least) as u32 + 1)
        });
        Self { card, steps }
    }

    /// A coordinate: 0 and 1 for the two lines of touch, then the steps.
    fn mark(&self, bits: &mut Bits, axis: usize, given: Option<Mark>) -> Result<Mark, Error> {
        let (least, count) = self.steps[axis];
        let code = given.map(|mark| match mark {
            Mark::Low => 0,
            Mark::High => 1,
            // What lies below the least fits nowhere.
            Mark::Step(step) => match u64::try_from(i64::from(step) - i64::from(least)) {
                Ok(code) => code + 2,
                Err(_) => u64::MAX,
            },
        });
        let n_bits = 32 - (count + 1).leading_zeros();
        Ok(match bits.whole(code, n_bits)? {
            0 => Mark::Low,
            1 => Mark::High,
            code => Mark::Step(least.saturating_add((code - 2) as i32)),
        })
    }

    fn marks(&self, bits: &mut Bits, given: Option<[Mark; 2]>) -> Result<[Mark; 2], Error> {
        let x = self.mark(bits, 0, given.map(|marks| marks[0]))?;
        Ok([x, self.mark(bits, 1, given.map(|marks| marks[1]))?])
    }

    /// A place anywhere: a bit tells whether all its bits follow.
    fn place(&self, bits: &mut Bits, given: Option<DVec2>) -> Result<DVec2, Error> {
        let marks = given.map(|place| marks_of(self.card, place, 0.0));
        let is_told = |marks: [Mark; 2]| {
            let fits = |axis: usize| match marks[axis] {
                Mark::Step(step) => {
                    let (least, count) = self.steps[axis];
                    (0..i64::from(count)).contains(&(i64::from(step) - i64::from(least)))
                }
                _ => true,
            };
            fits(0) && fits(1) && Some(of_marks(self.card, marks)) == given
        };
        if bits.flag(marks.is_some_and(|marks| !is_told(marks)))? {
            return exact(bits, given);
        }
        Ok(of_marks(self.card, self.marks(bits, marks)?))
    }
}

/// All 64 bits of each coordinate.
fn exact(bits: &mut Bits, given: Option<DVec2>) -> Result<DVec2, Error> {
    let mut coordinate = |axis: usize| {
        let value = bits.whole(given.map(|place| place[axis].to_bits()), 64)?;
        // Zero has no sign.
        Ok(f64::from_bits(value) + 0.0)
    };
    Ok(DVec2::new(coordinate(0)?, coordinate(1)?))
}

#[inline(never)]
fn rail(bits: &mut Bits, given: Option<Rail>) -> Result<Rail, Error> {
    bits.one_of(&Rail::ALL, given, 2)
}

#[inline(never)]
fn maybe_rail(bits: &mut Bits, given: Option<Rail>) -> Result<Option<Rail>, Error> {
    if bits.flag(given.is_some())? { rail(bits, given).map(Some) } else { Ok(None) }
}

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

fn ball_place(bits: &mut Bits, cloth: &Cloth, given: Option<Place>) -> Result<Place, Error> {
    let mut tag = None;
    let (mut marks, mut at) = (None, None);
    let (mut others, mut direction, mut rail, mut side) = ([0, 0], 0.0, None, false);
    match given {
        None => {}
        Some(Place::Free(found)) => (tag, marks) = (Some(0), Some(found)),
        Some(Place::Beside(other, steps)) => {
            (tag, others[0], direction) = (Some(1), other, f64::from(steps));
        }
        Some(Place::Between(first, second, left)) => {
            (tag, others, side) = (Some(2), [first, second], left);
        }
        Some(Place::Against(line, other, farther)) => {
            (tag, others[0], rail, side) = (Some(2), other, Some(line), farther);
        }
        Some(Place::Exact(place)) => (tag, at) = (Some(3), Some(place)),
    }
    let tag = bits.whole(tag, 2)?;
    let other = |bits: &mut Bits, k: usize| {
        bits.whole(Some(others[k] as u64), 4).map(|other| other as usize)
    };
    Ok(match tag {
        0 => Place::Free(cloth.marks(bits, marks)?),
        1 => {
            const HALF: f64 = 262_144.0;
            let other = other(bits, 0)?;
            let steps = bits.whole(Some((direction + HALF) as u64), 19)?;
            Place::Beside(other, (steps as f64 - HALF) as i32)
        }
        2 => {
            let first = other(bits, 0)?;
            match maybe_rail(bits, rail)? {
                Some(rail) => Place::Against(rail, first, bits.flag(side)?),
                None => {
                    let second = other(bits, 1)?;
                    Place::Between(first, second, bits.flag(side)?)
                }
            }
        }
        _ => Place::Exact(exact(bits, at)?),
    })
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

fn card(bits: &mut Bits, given: Option<&TableCard>) -> Result<TableCard, Error> {
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
