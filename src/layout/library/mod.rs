//! The sets that come with the page: for each skill ten items from easy to hard, chosen from
//! the deals of fixed seeds because they exercise it, with notes made from what really happens.
//!
//! [`wishes`] names what is dealt, [`drafts`] makes of each what it is good for, and
//! [`choose`] chooses by what a [`Candidate`] tells; the steps are apart so that drafts can be
//! made side by side, and so that what was not chosen need not be made to choose again.

mod alike;
mod choice;
mod clear;
mod hardness;
mod leave;
mod read;
mod readings;
mod room;
mod skill;
mod words;

use super::{deal_clear, deal_leave, deal_read};
use crate::error::Error;
use crate::layout::ClearWish;
use crate::physics::{Shot, Stroke};
use crate::practice::set::Entry;
use crate::shot::{Delivery, HANDS, NamedHand, Series, Wobble};
use crate::table::TableSize;
pub use alike::Places;
pub use choice::{ITEMS, choose, set_of};
pub use skill::Skill;

/// What is dealt for the library.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Wish {
    /// A Read item of a level and a seed.
    Read(u8, u32),
    /// A Leave item of a level and a seed.
    Leave(u8, u32),
    /// A Clear item of a level and a seed with so many balls before the 8.
    Clear(u8, u32, u8),
}

/// Seeds of each level of Read, of Leave, and of each level and number of balls of Clear
/// (tuning choice: enough that ten are left that look different).
const SEEDS: (u32, u32, u32) = (800, 30, 8);

/// One hand judges all, whatever the level of the deal.
const REFERENCE: NamedHand = HANDS[1];

/// A ball that the hand pots less often is not what an item is about (tuning choice).
const LEAST_POTTED: f64 = 0.55;

/// Strokes by which that is told (tuning choice).
const TRIED: u32 = 128;

/// What a stroke is worth to the hand on average, by `n` strokes with its errors.
fn mean_worth(shot: &Shot, stroke: &Stroke, n: u32, worth: impl Fn(&Stroke) -> f64) -> f64 {
    let delivery = Delivery::new(&REFERENCE.hand, &shot.card, &shot.balls, stroke);
    let sum: f64 =
        (0..n).map(|k| worth(&delivery.struck(&Wobble::drawn(Series::Library.number(), k)))).sum();
    sum / f64::from(n)
}

/// Groups of so many balls are cleared.
const GROUPS: std::ops::RangeInclusive<u8> = 2..=4;

/// All that is dealt for the library.
pub fn wishes() -> Vec<Wish> {
    let levels = || super::LEVELS;
    let read =
        levels().flat_map(|level| (0..SEEDS.0).map(move |k| Wish::Read(level, 6011 * k + 17)));
    let leave =
        levels().flat_map(|level| (0..SEEDS.1).map(move |k| Wish::Leave(level, 5003 * k + 29)));
    let clear = levels().flat_map(|level| {
        GROUPS.flat_map(move |balls| {
            // One seed would lay balls alike for each level and number.
            let first = 1009 * u32::from(level) + 101 * u32::from(balls);
            (0..SEEDS.2).map(move |k| Wish::Clear(level, first + 3001 * k, balls))
        })
    });
    read.chain(leave).chain(clear).collect()
}

/// All by which an item is chosen that exercises a skill.
#[derive(Clone, Debug, PartialEq)]
pub struct Candidate {
    /// What was dealt.
    pub wish: Wish,
    /// The skill.
    pub skill: Skill,
    /// How hard it is, 0 to 1: in Read and Leave as `hardness.rs` has it, in Clear the share
    /// of runs that fail.
    pub difficulty: f64,
    /// How often the hand pots the ball that is met first, 0 to 1.
    pub potted: f64,
    /// What it is told from others by.
    pub places: Places,
}

/// An item that exercises a skill.
#[derive(Clone, Debug, PartialEq)]
pub struct Draft {
    /// What it is chosen by.
    pub candidate: Candidate,
    /// The item with its words.
    pub entry: Entry,
}

/// What the deal of `wish` is good for: nothing, or one skill or more.
///
/// # Errors
/// If it cannot be dealt.
pub fn drafts(wish: Wish) -> Result<Vec<Draft>, Error> {
    let size = TableSize::NineFoot;
    let found: Vec<Found> = match wish {
        Wish::Read(level, seed) => read::drafts(&deal_read(level, seed, size)?),
        Wish::Leave(level, seed) => {
            leave::draft(&deal_leave(level, seed, size)?).into_iter().collect()
        }
        Wish::Clear(level, seed, n_balls) => {
            let wish = ClearWish { level, rotation: false, n_balls, demands: false, seed, size };
            clear::draft(&deal_clear(&wish)?).into_iter().collect()
        }
    };
    Ok(found
        .into_iter()
        .map(|Found { skill, difficulty, potted, places, entry }| Draft {
            candidate: Candidate { wish, skill, difficulty, potted, places },
            entry,
        })
        .collect())
}

/// What an item is found good for, see [`Candidate`].
struct Found {
    skill: Skill,
    difficulty: f64,
    potted: f64,
    places: Places,
    entry: Entry,
}
