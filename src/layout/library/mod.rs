//! The sets that come with the page: for each skill ten items from easy to hard, chosen from
//! the deals of fixed seeds because they exercise it, with notes made from what really happens.
//!
//! [`wishes`] names what is dealt, [`drafts`] makes of each what it is good for, and
//! [`library`] chooses; the steps are apart so that drafts can be made side by side.

mod alike;
mod clear;
mod leave;
mod read;
mod words;

use super::{deal_clear, deal_leave, deal_read};
use crate::error::Error;
use crate::layout::ClearWish;
use crate::order::sort_by_number;
use crate::physics::{Shot, Stroke};
use crate::practice::set::{Entry, ItemSet, Pass};
use crate::shot::{Delivery, HANDS, NamedHand, Wobble};
use crate::table::TableSize;
pub use alike::Places;

/// Items of a set.
pub const ITEMS: usize = 10;

/// What can be practised.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Skill {
    /// The heading off the object ball with draw.
    Draw,
    /// The heading without spin.
    Stun,
    /// The heading of a ball that rolls.
    Roll,
    /// What side does at a cushion.
    Side,
    /// The path off three cushions.
    ThreeCushions,
    /// The path off two cushions.
    TwoCushions,
    /// The path off one cushion.
    OneCushion,
    /// How far the cue ball goes.
    Speed,
    /// Where to leave it for the next ball.
    Zone,
    /// In which order balls are cleared.
    Order,
}

impl Skill {
    /// All of them; those that few items exercise choose theirs first.
    pub const ALL: [Self; 10] = [
        Self::Draw,
        Self::Stun,
        Self::Roll,
        Self::Side,
        Self::ThreeCushions,
        Self::TwoCushions,
        Self::OneCushion,
        Self::Speed,
        Self::Zone,
        Self::Order,
    ];

    /// Its name in the name of the file.
    pub fn name(self) -> &'static str {
        match self {
            Self::Draw => "draw",
            Self::Stun => "stun",
            Self::Roll => "roll",
            Self::Side => "side",
            Self::ThreeCushions => "three-cushions",
            Self::TwoCushions => "two-cushions",
            Self::OneCushion => "one-cushion",
            Self::Speed => "speed",
            Self::Zone => "zone",
            Self::Order => "order",
        }
    }

    /// The title of its set.
    pub fn title(self) -> &'static str {
        match self {
            Self::Draw => "Heading: draw",
            Self::Stun => "Heading: stun",
            Self::Roll => "Heading: roll",
            Self::Side => "Side at the cushion",
            Self::ThreeCushions => "Three cushions",
            Self::TwoCushions => "Two cushions",
            Self::OneCushion => "One cushion",
            Self::Speed => "Speed",
            Self::Zone => "The zone for the next ball",
            Self::Order => "The order",
        }
    }

    /// The note of its set.
    pub fn words(self) -> &'static str {
        match self {
            Self::Draw => {
                "Backspin bends the cue ball back from the tangent line: where does it go?"
            }
            Self::Stun => {
                "Without spin the cue ball goes along the tangent line: where does it go?"
            }
            Self::Roll => {
                "A rolling cue ball bends forward from the tangent line: where does it go?"
            }
            Self::Side => "Side turns the cue ball at the cushion: where does it go?",
            Self::ThreeCushions => "Three cushions, then the stop: follow it all the way.",
            Self::TwoCushions => "Two cushions, then the stop.",
            Self::OneCushion => "One cushion, then the stop.",
            Self::Speed => "The line is plain: how far does the cue ball go?",
            Self::Zone => "Pot the ball on, and say where you leave the cue ball for the next.",
            Self::Order => "A few balls and then the 8: which order clears most often?",
        }
    }

    /// What counts as passed (tuning choice: a run is all or nothing, so fewer are asked for).
    pub fn pass(self) -> Pass {
        match self {
            Self::Order => Pass { mark: 100, need: 5 },
            _ => Pass { mark: 50, need: 7 },
        }
    }
}

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
const SEEDS: (u32, u32, u32) = (200, 12, 4);

/// One hand judges all, whatever the level of the deal.
const REFERENCE: NamedHand = HANDS[1];

/// The series of its errors.
const SERIES: u32 = 0x1ea5;

/// A ball that the hand pots less often is not what an item is about (tuning choice).
const LEAST_POTTED: f64 = 0.55;

/// Strokes by which that is told (tuning choice).
const TRIED: u32 = 64;

/// What a stroke is worth to the hand on average, by `n` strokes with its errors.
fn mean_worth(shot: &Shot, stroke: &Stroke, n: u32, worth: impl Fn(&Stroke) -> f64) -> f64 {
    let delivery = Delivery::new(&REFERENCE.hand, &shot.card, &shot.balls, stroke);
    let sum: f64 = (0..n).map(|k| worth(&delivery.struck(&Wobble::drawn(SERIES, k)))).sum();
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

/// An item that exercises a skill.
#[derive(Clone, Debug, PartialEq)]
pub struct Draft {
    /// The skill.
    pub skill: Skill,
    /// The item with its words.
    pub entry: Entry,
    /// How hard it is, on a scale of the skill's own: in Read that of
    /// [`Features::difficulty`](super::Features::difficulty), but for speed the balls by which
    /// the stop moves with a tenth of the speed; in Leave and Clear the chance to fail.
    pub difficulty: f64,
    /// What it is told from others by.
    pub places: Places,
}

/// What the deal of `wish` is good for: nothing, or one skill or more.
///
/// # Errors
/// If it cannot be dealt.
pub fn drafts(wish: Wish) -> Result<Vec<Draft>, Error> {
    let size = TableSize::NineFoot;
    Ok(match wish {
        Wish::Read(level, seed) => read::drafts(deal_read(level, seed, size)?),
        Wish::Leave(level, seed) => {
            leave::draft(deal_leave(level, seed, size)?).into_iter().collect()
        }
        Wish::Clear(level, seed, n_balls) => {
            let wish = ClearWish { level, rotation: false, n_balls, demands: false, seed, size };
            clear::draft(deal_clear(&wish)?).into_iter().collect()
        }
    })
}

/// Chooses the sets from all drafts, which must come in the order of [`wishes`]: of those of a
/// skill, sorted by difficulty, as many as a set has, evenly from the easiest to the hardest,
/// and where one looks like another of the set the nearest that does not.
/// No item is in two sets.
///
/// # Errors
/// [`Error::Invalid`] if a skill has fewer than it needs.
pub fn library(drafts: &[Draft]) -> Result<Vec<(Skill, ItemSet)>, Error> {
    let mut taken: Vec<&Entry> = Vec::new();
    Skill::ALL
        .into_iter()
        .map(|skill| {
            let mut free: Vec<&Draft> = drafts
                .iter()
                .filter(|draft| draft.skill == skill)
                .filter(|draft| taken.iter().all(|other| other.item != draft.entry.item))
                .collect();
            sort_by_number(&mut free, |draft| draft.difficulty);
            let chosen = evenly(&free);
            if chosen.len() < ITEMS {
                let rule = format!("has {} of {ITEMS} items, of {}", chosen.len(), free.len());
                return Err(Error::invalid(skill.name(), rule));
            }
            taken.extend(&chosen);
            let set = ItemSet {
                title: skill.title().to_owned(),
                note: skill.words().to_owned(),
                pass: skill.pass(),
                entries: chosen.into_iter().cloned().collect(),
            };
            Ok((skill, set))
        })
        .collect()
}

/// As many of `free`, which come by difficulty, as a set has if there are so many that do not
/// look alike.
fn evenly<'a>(free: &[&'a Draft]) -> Vec<&'a Entry> {
    let mut chosen: Vec<usize> = Vec::new();
    for k in 0..ITEMS {
        let wanted = (k * free.len().saturating_sub(1) + (ITEMS - 1) / 2) / (ITEMS - 1);
        let from = chosen.last().map_or(0, |last| last + 1);
        let differs = |&at: &usize| {
            let card = &free[at].entry.item.shot().card;
            chosen.iter().all(|&other| !free[at].places.are_like(&free[other].places, card))
        };
        let nearest = (from..free.len()).filter(differs).min_by_key(|at| at.abs_diff(wanted));
        chosen.extend(nearest);
    }
    // Where few differ, the last ones may leave no room above: what fits between is taken, too.
    for at in 0..free.len() {
        let card = &free[at].entry.item.shot().card;
        let differs = |&other: &usize| !free[at].places.are_like(&free[other].places, card);
        if chosen.len() < ITEMS && !chosen.contains(&at) && chosen.iter().all(differs) {
            chosen.push(at);
        }
    }
    chosen.sort_unstable();
    chosen.into_iter().map(|at| &free[at].entry).collect()
}
