//! The set of a day: the same ten items for everyone.

use super::day::Day;
use super::draw::Draw;
use super::{deal_leave, deal_read};
use crate::error::Error;
use crate::practice::AnyItem;
use crate::practice::set::{Entry, ItemSet, Pass};
use crate::table::TableSize;

/// The stream of numbers of the days, which no deal has.
const STREAM: u8 = 32;

/// Whether a zone is asked, and the level of the item (tuning choice: rising, and of each
/// level as much as there is to a part that takes ten minutes).
const ITEMS: [(bool, u8); 10] = [
    (false, 1),
    (true, 1),
    (false, 2),
    (false, 3),
    (true, 2),
    (false, 4),
    (true, 3),
    (false, 5),
    (true, 4),
    (false, 6),
];

const NOTE: &str = "Ten items, the same for everyone on this day. It begins and ends at midnight UTC. \
    The first mark of each item counts; after that the set is there for practice.";

/// Deals the set of `day`.
///
/// # Errors
/// As [`deal_read`] and [`deal_leave`].
pub fn deal_daily(day: Day) -> Result<ItemSet, Error> {
    let mut draw = Draw::new(day.number(), STREAM, 0);
    let entries = ITEMS.into_iter().map(|(is_leave, level)| {
        let seed = draw.below(u32::MAX);
        let item = if is_leave {
            AnyItem::Leave(deal_leave(level, seed, TableSize::NineFoot)?)
        } else {
            AnyItem::Read(deal_read(level, seed, TableSize::NineFoot)?)
        };
        Ok(Entry { title: String::new(), note: String::new(), item, stroke: None })
    });
    Ok(ItemSet {
        title: format!("The set of {}", day.in_words()),
        note: NOTE.to_owned(),
        pass: Pass::FIRST,
        entries: entries.collect::<Result<_, Error>>()?,
    })
}
