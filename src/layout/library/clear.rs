//! What a Clear item is good for: whether the order of its balls matters, and which is best.

use super::read::potted;
use super::room::is_in_the_clear;
use super::words::note;
use super::{Found, LEAST_POTTED, Places, REFERENCE, Skill};
use crate::ball::BallId;
use crate::layout::generate::ordinary_elevation;
use crate::order::sort_by_number;
use crate::physics::Shot;
use crate::plan::{
    Care, Choice, Depth, Fineness, Foresight, Guide, Over, Player, Runs, Table, key_balls,
};
use crate::practice::clear::shot_in_words;
use crate::practice::set::{Entry, Meant};
use crate::practice::{AnyItem, ClearItem, rounded_stroke, whole_percent};
use crate::shot::{Chance, Series, Situation};

/// Runs that are played out from each of two first shots, with the same errors (tuning choice).
const RUNS: u32 = 100;

/// In so many runs more the best first ball must clear than the second best (tuning choice: some
/// three standard errors, and what a player would notice over a few dozen runs).
const MATTERS: u32 = 15;

/// A second best that clears less often is hopeless, and who begins with it learns nothing of
/// the order (tuning choice).
const TEMPTING: u32 = 20;

/// What the plan gives less than this is not played out to see (tuning choice: half of that).
const FORESEEN: f64 = 0.1;

/// A layout that begins with a thinner cut, or a harder stroke, is about that, not about the
/// order, radians and m/s (tuning choices).
const THINNEST: f64 = std::f64::consts::FRAC_PI_3;
const HARDEST: f64 = 3.0;

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

/// Whether a first shot is one that a coach would show: neither thin nor hard, and no other ball
/// is moved, or passed by a hair.
fn is_plain(meant: &Meant) -> bool {
    let Meant { shot, truth, .. } = meant;
    let Ok(situation) = Situation::new(shot, truth.first) else { return false };
    let ending = situation.play(&shot.stroke);
    let moves = |id: BallId| !id.is_cue() && id != truth.first && ending.has_moved(id);
    truth.cut().abs() <= THINNEST
        && shot.stroke.speed <= HARDEST
        && !shot.balls.iter().any(|ball| moves(ball.id))
        && is_in_the_clear(meant)
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

/// The order in which the balls go if all goes as meant, from `first` on; `None` if it ends early.
fn order(player: &Player, guide: &Guide, table: &Table, first: Choice) -> Option<Vec<BallId>> {
    let (mut order, mut now, mut next) = (Vec::new(), table.clone(), Some(first));
    while let Some(Choice { called, stroke, .. }) = next {
        order.push(called.ball);
        now = match now.after(guide.rack(), guide.arena(), called, &stroke) {
            Ok(after) => after,
            Err(_) => break,
        };
        next = player.choose(&now);
    }
    (order.len() == table.left.len()).then_some(order)
}

/// What `item` is good for.
pub(super) fn draft(item: &ClearItem) -> Option<Found> {
    let rack = item.rack().ok()?;
    let mut guide = Guide::new(&rack, &REFERENCE.hand, Fineness::PLANNED);
    guide.fill(0, guide.n_shelves());
    let foresight = Foresight::new(&guide, Depth::All);
    let player = Player::new(&guide, &foresight, Care::CALM);
    let table = Table::of(&rack);
    let mut ways = by_ball(&player, &table);
    ways.truncate(2);
    for way in &mut ways {
        way.stroke = rounded_stroke(&way.stroke);
        // As high as a deal raises the cue, for lower it is raised where the shot is played.
        let enough = ordinary_elevation(&item.shot.card, &item.shot.balls, &way.stroke)?;
        way.stroke.elevation = way.stroke.elevation.max(enough);
    }
    let (first, second) = (*ways.first()?, *ways.get(1)?);
    let meant = Meant::of(Shot { stroke: first.stroke, ..item.shot.clone() })?;
    if second.worth < FORESEEN || meant.truth.first != first.called.ball || !is_plain(&meant) {
        return None;
    }
    let potted = potted(&meant);
    if potted < LEAST_POTTED {
        return None;
    }
    let order = order(&player, &guide, &table, first)?;
    let quick = Player::new(&guide, &foresight, Care::QUICK);
    let cleared = |first: Choice| {
        let runs = Runs::new(&guide, &quick, &table, Some(first));
        (0..RUNS)
            .filter(|&run| runs.play(Series::LibraryRuns.number(), run).over == Over::Cleared)
            .count() as u32
    };
    let best = cleared(first);
    if best < TEMPTING + MATTERS {
        return None;
    }
    let other = cleared(second);
    if !(TEMPTING..=best - MATTERS).contains(&other) {
        return None;
    }
    // Only a key ball that the order keeps is told.
    let key = key_balls(&guide, &foresight, &table).first().map(|key| key.ball);
    let kept = key.filter(|&key| order.len() > 2 && order[order.len() - 2] == key);
    let key = kept.map_or(String::new(), |key| format!(" Key ball: the {key}."));
    let chance = Chance::of(best, RUNS);
    let [low, high] = [chance.low, chance.high].map(whole_percent);
    let skill = format!(
        "the order, from the first ball to the 8. A hand that makes 85 of 100 straight shots \
         clears {best} of {RUNS} runs with this one, in the long run {low} to {high}.{key}"
    );
    let path = format!(
        "{}. First {}: {}",
        order_in_words(&order),
        lower(&shot_in_words(first.called)),
        lower(&meant.words)
    );
    let trap = format!(
        "beginning with the {}. So begun, {other} of {RUNS} runs are cleared.",
        second.called.ball
    );
    Some(Found {
        skill: Skill::Order,
        difficulty: f64::from(RUNS - best) / f64::from(RUNS),
        potted,
        entry: Entry {
            title: format!("{} balls and the 8", table.left.len() - 1),
            note: note(&skill, &path, &trap),
            item: AnyItem::Clear(item.clone()),
            stroke: Some(first.stroke),
        },
        places: Places::of_balls(&meant),
    })
}

fn lower(text: &str) -> String {
    let mut letters = text.chars();
    letters.next().map_or_else(String::new, |first| {
        first.to_lowercase().collect::<String>() + letters.as_str()
    })
}
