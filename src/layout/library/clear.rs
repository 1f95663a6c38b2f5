//! What a Clear item is good for: whether the order of its balls matters, and which is best.

use super::words::note;
use super::{Draft, Skill};
use crate::ball::BallId;
use crate::geometry::angle_between;
use crate::layout::clear::{JUDGED, judging_hand};
use crate::order::sort_by_number;
use crate::physics::Shot;
use crate::plan::{Care, Choice, Depth, Foresight, Guide, Player, Table, key_balls};
use crate::practice::clear::{key_in_words, percent, shot_in_words};
use crate::practice::set::{Entry, Meant};
use crate::practice::{AnyItem, ClearItem, rounded_stroke};

/// By so much the best first ball must be better than any other (tuning choice: what a
/// player would notice over a few dozen runs).
const MATTERS: f64 = 0.04;

/// A layout that is cleared less often teaches no order (tuning choice).
const LEAST: f64 = 0.04;

/// A layout that begins with a thinner cut is about that cut, not about the order, radians
/// (tuning choice).
const THINNEST: f64 = std::f64::consts::FRAC_PI_3;

/// The best shots from here, one for each ball, the best first.
fn by_ball(player: &Player, table: &Table) -> Vec<Choice> {
    let mut best: Vec<Choice> = Vec::new();
    for choice in player.options(table) {
        if best.iter().all(|other| other.called.ball != choice.called.ball) {
            best.push(choice);
        }
    }
    sort_by_number(&mut best, |choice| -choice.worth);
    best
}

/// "The 2, the 5, then the 8".
fn order_in_words(order: &[BallId]) -> String {
    let names: Vec<String> = order.iter().map(|ball| format!("the {ball}")).collect();
    match names.split_last() {
        Some((last, [])) => last.clone(),
        Some((last, others)) => format!("{}, then {last}", others.join(", ")),
        None => String::new(),
    }
}

/// What `item` is good for.
pub(super) fn draft(item: ClearItem) -> Option<Draft> {
    let rack = item.rack().ok()?;
    let mut guide = Guide::new(&rack, &judging_hand(), JUDGED);
    guide.fill(0, guide.n_shelves());
    let foresight = Foresight::new(&guide, Depth::All);
    let player = Player::new(&guide, &foresight, Care::CALM);
    let table = Table::of(&rack);
    let ways = by_ball(&player, &table);
    let (first, second) = (ways.first()?, ways.get(1)?);
    let chance = foresight.value(table.left, table.cue_ball());
    if chance < LEAST || first.worth - second.worth < MATTERS {
        return None;
    }
    // The order as it goes if all goes as meant.
    let (mut order, mut now) = (Vec::new(), Some(table.clone()));
    let mut called = *first;
    while let Some(before) = now {
        order.push(called.called.ball);
        now = before.after(&rack, guide.arena(), called.called, &called.stroke).ok();
        let Some(next) = now.as_ref().and_then(|after| player.choose(after)) else { break };
        called = next;
    }
    if order.len() != table.left.len() {
        return None;
    }
    let stroke = rounded_stroke(&first.stroke);
    table.after(&rack, guide.arena(), first.called, &stroke).ok()?;
    let meant = Meant::of(Shot { stroke, ..item.shot.clone() })?;
    if angle_between(meant.truth.approach, meant.truth.line_of_centres).abs() > THINNEST {
        return None;
    }
    let keys = key_balls(&guide, &foresight, &table);
    let key = key_in_words(&keys).map_or(String::new(), |words| format!(" {words}"));
    let skill = format!("the order. By a rough plan it clears {}.{key}", percent(first.worth));
    let path = format!(
        "{}. First {}: {}",
        order_in_words(&order),
        lower(&shot_in_words(first.called)),
        meant.words
    );
    let trap =
        format!("to begin with the {} clears {} only.", second.called.ball, percent(second.worth));
    Some(Draft {
        skill: Skill::Order,
        difficulty: 1.0 - first.worth,
        entry: Entry {
            title: format!("{} balls and the 8", table.left.len() - 1),
            note: note(&skill, &path, &trap),
            item: AnyItem::Clear(item.clone()),
            stroke: Some(stroke),
        },
    })
}

fn lower(text: &str) -> String {
    let mut letters = text.chars();
    letters.next().map_or_else(String::new, |first| {
        first.to_lowercase().collect::<String>() + letters.as_str()
    })
}
