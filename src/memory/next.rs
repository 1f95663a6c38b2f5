//! What to practise next, on which level, and an item for it.

use super::calls::{Calls, Entry};
use super::due::Memory;
use super::record::Part;
use super::told::of_path;
use super::topic::Topic;
use crate::error::Error;
use crate::layout::{ClearWish, LEVELS, deal_leave, deal_read};
use crate::normal::below;
use crate::physics::play;
use crate::practice::{Call, CallPoint, CuePath, LeaveItem, ReadItem, judge};
use crate::shot::Wobble;
use crate::table::TableSize;

/// The share of calls that are to succeed (tuning choice: mostly, and never always).
pub const TARGET: f64 = 0.75;

/// By how much a success raises the level. A failure lowers it by as much more as makes
/// the level stand still where [`TARGET`] of the calls succeed.
///
/// # Source
/// The weighted up-down method: Kaernbach 1991, Perception & Psychophysics 49, 227 (from
/// memory). The step is a tuning choice: a level in eight successes.
const STEP: f64 = 0.125;

/// Weakness is that of the last so many calls (tuning choice).
const LATELY: usize = 20;

/// Items dealt to find one for a topic, before any is taken (tuning choice: some 50 ms).
const MOST_DEALS: u32 = 60;

/// How a topic stands.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Standing {
    /// The topic.
    pub topic: Topic,
    /// How many calls tell of it,
    pub n: usize,
    /// how many of them lie lately,
    pub of: usize,
    /// and how many of those failed.
    pub failed: usize,
    /// What is remembered of it; `None` if it was never practised.
    pub memory: Option<Memory>,
    /// How much it needs practice: the share that fails and the share that is forgotten.
    pub need: f64,
}

/// How each topic stands at the time `now`, ms.
pub fn standings(calls: &Calls, now: f64) -> Vec<Standing> {
    let of = |topic: Topic| {
        let told: Vec<(f64, bool)> = calls
            .entries()
            .iter()
            .filter_map(|entry| Some((entry.at, entry.succeeds_at(topic)?)))
            .collect();
        let last = &told[told.len().saturating_sub(LATELY)..];
        let failed = last.iter().filter(|(_, success)| !success).count();
        // One success and one failure more, so that few calls say little.
        let weakness = (failed + 1) as f64 / (last.len() + 2) as f64;
        let memory = Memory::after(told.iter().copied(), now);
        let forgotten = memory.map_or(1.0, |memory| 1.0 - memory.recall);
        let (n, of) = (told.len(), last.len());
        Standing { topic, n, of, failed, memory, need: weakness + forgotten }
    };
    Topic::ALL.map(of).into()
}

/// What to practise next.
#[derive(Clone, Debug, PartialEq)]
pub struct Next {
    /// The topic.
    pub topic: Topic,
    /// The level that fits the player.
    pub level: u8,
    /// Why, in a sentence.
    pub reason: String,
    /// How every topic stands.
    pub standings: Vec<Standing>,
}

/// Chooses a topic by lot, the more likely the more it needs practice (as the square of
/// that), so that weak ones come more often and none is left out.
pub fn next(calls: &Calls, now: f64, seed: u32) -> Next {
    let standings = standings(calls, now);
    let weight = |standing: &Standing| standing.need * standing.need;
    // A normal number below whose share of the distribution the lot falls.
    let lot = below(Wobble::drawn(seed, 0).azimuth);
    let mut left = lot * standings.iter().map(weight).sum::<f64>();
    let chosen = standings
        .iter()
        .find(|standing| {
            left -= weight(standing);
            left <= 0.0
        })
        .unwrap_or(&standings[standings.len() - 1]);
    let level = level_for(calls.entries(), chosen.topic.part());
    Next { topic: chosen.topic, level, reason: reason(chosen, now), standings }
}

fn reason(standing: &Standing, now: f64) -> String {
    let Standing { topic, of, failed, memory, .. } = *standing;
    let name = topic.name();
    let Some(memory) = memory else {
        return format!("Next: {name}, which you have not tried yet.");
    };
    let days = libm::floor((now - memory.last) / 86_400_000.0).max(0.0);
    let forgotten = 1.0 - memory.recall;
    if memory.is_due() && forgotten * of as f64 >= failed as f64 {
        let days = if days == 1.0 { "a day".to_owned() } else { format!("{days} days") };
        return format!("Next: {name}, which is due: {days} without it.");
    }
    format!("Next: {name} ({}).", went_in_words(failed, of))
}

/// "3 of your last 20 calls went wrong": how the last `of` calls went, at least one.
pub fn went_in_words(failed: usize, of: usize) -> String {
    match (failed, of) {
        (0, 1) => "your one call went well".to_owned(),
        (_, 1) => "your one call went wrong".to_owned(),
        (0, 2) => "both of your calls went well".to_owned(),
        (2, 2) => "both of your calls went wrong".to_owned(),
        (0, _) => format!("all of your last {of} calls went well"),
        _ if failed == of => format!("all of your last {of} calls went wrong"),
        _ => format!("{failed} of your last {of} calls went wrong"),
    }
}

/// The level of `part` on which about [`TARGET`] of the player's calls succeed.
pub fn level_for(entries: &[Entry], part: Part) -> u8 {
    let mut of_part = entries.iter().filter(|entry| entry.part == part).peekable();
    let (least, most) = (f64::from(*LEVELS.start()), f64::from(*LEVELS.end()));
    let mut level = of_part.peek().map_or(least, |entry| f64::from(entry.level));
    for entry in of_part {
        let played = f64::from(entry.level);
        // To succeed at what is far easier tells nothing, nor to fail at what is far harder.
        if entry.success && played >= level - 0.5 {
            level += STEP;
        } else if !entry.success && played <= level + 0.5 {
            level -= STEP * TARGET / (1.0 - TARGET);
        }
        level = level.clamp(least, most);
    }
    libm::round(level) as u8
}

/// Balls of a layout on which the choice of the shot is practised, beside the last one and the
/// other group (tuning choice: enough to choose from, and planned in a second or so).
const CHOICES: u8 = 3;

/// An item that was dealt for a topic.
#[derive(Clone, Debug, PartialEq)]
pub enum Dealt {
    /// Of Read.
    Read(ReadItem),
    /// Of Leave.
    Leave(LeaveItem),
    /// Of Clear, whose deals take their time: what is to be dealt. A group, for in rotation
    /// there is no choice.
    Clear(ClearWish),
}

/// Deals an item of the level for a topic: the first that asks for it, from `seed` on; where
/// none does, one that does not. `None` for a topic of Eye, whose rounds ask for all.
///
/// # Errors
/// As [`deal_read`] and [`deal_leave`].
pub fn item_for(
    topic: Topic,
    level: u8,
    seed: u32,
    size: TableSize,
) -> Result<Option<Dealt>, Error> {
    match topic.part() {
        Part::Eye => Ok(None),
        Part::Clear => Ok(Some(Dealt::Clear(ClearWish {
            level,
            rotation: false,
            n_balls: CHOICES,
            demands: false,
            seed,
            size,
        }))),
        Part::Leave => Ok(Some(Dealt::Leave(deal_leave(level, seed, size)?))),
        Part::Read => {
            let mut item = deal_read(level, seed, size)?;
            for k in 1..MOST_DEALS {
                if asks_for(&item, topic) {
                    break;
                }
                item = deal_read(level, seed.wrapping_add(k), size)?;
            }
            Ok(Some(Dealt::Read(item)))
        }
    }
}

/// Whether a call of `item` tells of `topic`: asked of the call that is all right.
fn asks_for(item: &ReadItem, topic: Topic) -> bool {
    let Some(truth) = play(&item.shot).ok().and_then(|outcome| CuePath::of(&item.shot, &outcome))
    else {
        return false;
    };
    let points = truth
        .rail_touches()
        .map(|(rail, touch)| CallPoint { position: touch.position, rail: Some(rail) });
    let call = Call { points: points.collect(), stop: truth.stop };
    let Ok(judged) = judge(item, &call) else { return false };
    let side = item.shot.stroke.side;
    let told = of_path(&item.shot.card, side, &judged.truth, &judged.grade.errors);
    told.iter().any(|told| topic.skills().contains(&told.skill))
}
