//! Deals Clear items: layouts whose difficulty is the chance that a plan gives them.

use super::draw::Draw;
use super::generate::LEVELS;
use super::steps::in_tenths;
use crate::ball::BallId;
use crate::error::Error;
use crate::physics::{MODEL_VERSION, PlacedBall, Shot, Stroke};
use crate::plan::{
    BallSet, Care, Depth, Fineness, Foresight, Game, Guide, Link, MOST_IN_GROUP, MOST_IN_ROTATION,
    Over, Player, Rack, Runs, Table,
};
use crate::practice::ClearItem;
use crate::shot::{HANDS, Hand, Series};
use crate::table::{Rail, TableCard, TableSize};
use glam::DVec2;
use std::ops::RangeInclusive;

/// Layouts tried before the nearest is dealt (tuning choice: each takes a rough plan).
const MOST_LAYOUTS: u32 = 8;

/// Runs by which a layout must be cleared once to be dealt (tuning choice: what is cleared once
/// in ten runs passes nearly always).
const TRIED: u32 = 32;

/// The streams of numbers of Clear begin here, so that they share none with others.
const STREAM: u8 = 128;

/// The last ball of a group.
const LAST: u8 = 8;

/// What layouts are judged by (tuning choice: rough, and quick).
const JUDGED: Fineness = Fineness { columns: 12, rows: 6, tips: 3, speeds: 6 };

/// The hand they are judged by: one that makes 85 of 100.
fn judging_hand() -> Hand {
    HANDS[1].hand
}

/// The chances between which a layout of a level lies (tuning choice).
fn chances(level: u8) -> (f64, f64) {
    match level {
        1 => (0.9, 1.0),
        2 => (0.75, 0.9),
        3 => (0.55, 0.75),
        4 => (0.35, 0.55),
        5 => (0.18, 0.35),
        _ => (0.04, 0.18),
    }
}

/// What is wanted of a deal.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct ClearWish {
    /// Level, 1 to 6.
    pub level: u8,
    /// Whether balls are cleared by their numbers, or a group and then the last ball.
    pub rotation: bool,
    /// Balls of the rotation or of the group, see [`clear_sizes`].
    pub n_balls: u8,
    /// Whether something is asked between two balls.
    pub demands: bool,
    /// The seed of the deal.
    pub seed: u32,
    /// The table.
    pub size: TableSize,
}

/// How many balls a deal may have: in rotation, or of a group.
pub fn clear_sizes(rotation: bool) -> RangeInclusive<u8> {
    if rotation { 3..=MOST_IN_ROTATION as u8 } else { 1..=MOST_IN_GROUP as u8 }
}

/// Deals the Clear item of `wish`.
///
/// Balls lie anywhere, none touching another or a rail; of a group's game the other group
/// has as many. The first of the seed's layouts is dealt whose chance to be cleared, by a
/// rough plan for a hand that makes 85 of 100, lies where the level wants it; if none of
/// the first few does, the nearest; what the plan's player never clears is not dealt. Places are
/// whole tenths of a millimetre.
///
/// # Errors
/// [`Error::OutOfRange`] for a level or a number of balls that there is not;
/// [`Error::Invalid`] if no layout can be cleared, which no tested seed shows.
pub fn deal_clear(wish: &ClearWish) -> Result<ClearItem, Error> {
    if !LEVELS.contains(&wish.level) {
        return Err(Error::out_of_range("level", f64::from(wish.level), "must lie from 1 to 6"));
    }
    let sizes = clear_sizes(wish.rotation);
    if !sizes.contains(&wish.n_balls) {
        let rule = format!("must lie from {} to {}", sizes.start(), sizes.end());
        return Err(Error::out_of_range("balls", f64::from(wish.n_balls), rule));
    }
    let card = TableCard::of_size(wish.size);
    let (low, high) = chances(wish.level);
    let mut nearest: Option<(f64, ClearItem)> = None;
    for attempt in 0..MOST_LAYOUTS {
        let mut draw = Draw::new(wish.seed, STREAM + wish.level, attempt);
        let Some((item, chance)) = propose(&card, wish, &mut draw) else { continue };
        let off = (low - chance).max(chance - high);
        if off <= 0.0 {
            return Ok(item);
        }
        if nearest.as_ref().is_none_or(|(least, _)| off < *least) {
            nearest = Some((off, item));
        }
    }
    let none = || Error::invalid("seed", "no layout that can be cleared was found for it");
    nearest.map(|(_, item)| item).ok_or_else(none)
}

/// A layout and the chance to clear it; `None` if there is none.
fn propose(card: &TableCard, wish: &ClearWish, draw: &mut Draw) -> Option<(ClearItem, f64)> {
    let numbers: Vec<u8> = if wish.rotation {
        (1..=wish.n_balls).collect()
    } else {
        (1..=wish.n_balls).chain(LAST..=LAST + wish.n_balls).collect()
    };
    let mut balls = vec![PlacedBall { id: BallId::CUE, position: place(card, draw, &[])? }];
    for number in numbers {
        let position = place(card, draw, &balls)?;
        balls.push(PlacedBall { id: BallId::object(number)?, position });
    }
    let game = if wish.rotation {
        Game::Rotation
    } else {
        let group: BallSet = (1..=wish.n_balls).filter_map(BallId::object).collect();
        Game::Group { group, last: BallId::object(LAST)? }
    };
    let links = if wish.demands { vec![link(game, wish.n_balls, draw)?] } else { Vec::new() };
    let rack = Rack::new(card, &balls, game, links.clone(), None).ok()?;
    let mut guide = Guide::new(&rack, &judging_hand(), JUDGED);
    guide.fill(0, guide.n_shelves());
    let (foresight, table) = (Foresight::new(&guide, Depth::All), Table::of(&rack));
    let chance = foresight.value(rack.targets(), table.cue_ball());
    let stroke = Stroke { azimuth: 0.0, elevation: 0.0, speed: 1.5, side: 0.0, height: 0.0 };
    let item = ClearItem {
        shot: Shot { card: *card, balls, stroke },
        game,
        links,
        key: None,
        model: MODEL_VERSION,
        level: wish.level,
        seed: Some(wish.seed),
    };
    (chance > 0.0 && can_be_cleared(&guide, &foresight, &table)).then_some((item, chance))
}

/// Whether the player clears `table` at least once: what the rough plan thinks of the places
/// around the cue ball may be nothing where it lies.
fn can_be_cleared(guide: &Guide, foresight: &Foresight, table: &Table) -> bool {
    let player = Player::new(guide, foresight, Care::QUICK);
    let runs = Runs::new(guide, &player, table, player.choose(table));
    (0..TRIED).any(|run| runs.play(Series::ClearDeals.number(), run).over == Over::Cleared)
}

/// Something asked between two balls: rails to meet, or a side to come to.
fn link(game: Game, n_balls: u8, draw: &mut Draw) -> Option<Link> {
    let from = match game {
        Game::Rotation => 1 + draw.below(u32::from(n_balls) - 1) as u8,
        Game::Group { .. } => n_balls,
    };
    let to = if matches!(game, Game::Rotation) { from + 1 } else { LAST };
    let by_side = draw.chance(0.4);
    Some(Link {
        from: BallId::object(from)?,
        to: BallId::object(to)?,
        cushions: if by_side { 0 } else { 1 + draw.below(3) as u8 },
        side: by_side.then(|| Rail::ALL[draw.below(4) as usize]),
    })
}

/// A place clear of rails and of `balls`, in tenths of a millimetre; `None` where there is
/// hardly any room.
fn place(card: &TableCard, draw: &mut Draw, balls: &[PlacedBall]) -> Option<DVec2> {
    let radius = card.ball.radius;
    let least = card.touch_distance() + 0.5 * radius;
    (0..100).find_map(|_| {
        let (x, y) =
            (draw.within(least, card.length - least), draw.within(least, card.width - least));
        let place = in_tenths(DVec2::new(x, y));
        let apart = |ball: &PlacedBall| ball.position.distance(place) > 2.5 * radius;
        balls.iter().all(apart).then_some(place)
    })
}
