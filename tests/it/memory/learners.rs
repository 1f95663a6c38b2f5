//! Simulated learners: what is weak comes more often, and the level settles.

use leaveline::layout::deal_clear;
use leaveline::memory::{Answered, Dealt, digest};
use leaveline::memory::{Calls, Part, Skill, TARGET, Topic, item_for, level_for, next, record};
use leaveline::normal::below;
use leaveline::plan::Game;
use leaveline::practice::Call;
use leaveline::shot::Wobble;
use leaveline::table::TableSize;

const HOUR: f64 = 3_600_000.0;

/// An even number from 0 to 1.
fn even(seed: u32, index: u32) -> f64 {
    below(Wobble::drawn(seed, index).speed)
}

/// The numbers of a call that tells of one skill, and is right or far off.
fn call(at: f64, part: Part, level: u8, skill: Skill, success: bool) -> Vec<f64> {
    let off = if success { 0.0 } else { 2.0 * skill.tolerance(level) };
    let (called, real) = match skill {
        Skill::Order => (50.0 - off, 50.0),
        Skill::Speed | Skill::ZoneSize => (10.0 * (1.0 + off / 100.0), 10.0),
        _ => (10.0 + off, 10.0),
    };
    let success = f64::from(u8::from(success));
    [
        8.0,
        at,
        f64::from(part.code()),
        f64::from(level),
        success,
        f64::from(skill.code()),
        called,
        real,
    ]
    .into()
}

/// The chance of a learner of some `ability` on a level (a logistic curve).
fn chance(ability: f64, level: u8) -> f64 {
    1.0 / (1.0 + libm::exp(1.2 * (f64::from(level) - ability)))
}

/// The levels on which a learner plays, and whether each call succeeded.
fn career(seed: u32, n: u32, ability: impl Fn(u32) -> f64) -> Vec<(u8, bool)> {
    let mut numbers = vec![];
    let mut career = vec![];
    for k in 0..n {
        let level = level_for(Calls::read(&numbers).expect("calls").entries(), Part::Read);
        let success = even(seed, k) < chance(ability(k), level);
        career.push((level, success));
        numbers.extend(call(f64::from(k), Part::Read, level, Skill::Speed, success));
    }
    career
}

#[test]
fn the_level_settles_where_the_set_share_succeeds() {
    let mut all = 0.0;
    let learners = 12;
    for learner in 0..learners {
        let ability = 3.0 + 0.25 * f64::from(learner);
        let career = career(learner, 500, |_| ability);
        let settled = &career[100..];
        let share = settled.iter().filter(|(_, success)| *success).count() as f64 / 400.0;
        // The up-and-down is no independent drawing, so its share is known better than that:
        // four standard errors of 400 calls.
        assert!((share - TARGET).abs() < 0.09, "ability {ability}: {share} succeed");
        all += share / f64::from(learners);
    }
    println!("succeed on average: {all}");
    assert!((all - TARGET).abs() < 0.02, "{all} on average");
}

#[test]
fn the_level_follows_who_gets_better() {
    let career = career(7, 500, |k| 2.5 + f64::from(k) / 150.0);
    let mean = |calls: &[(u8, bool)]| {
        calls.iter().map(|(level, _)| f64::from(*level)).sum::<f64>() / calls.len() as f64
    };
    let (early, late) = (mean(&career[50..150]), mean(&career[400..]));
    assert!(late > early + 1.0, "from {early} to {late}");
}

#[test]
fn easy_victories_and_hopeless_failures_tell_nothing() {
    let calls = |level: u8, success: bool| -> Vec<f64> {
        let begin = call(0.0, Part::Read, 3, Skill::Speed, true);
        let more =
            (1..50).flat_map(|k| call(f64::from(k), Part::Read, level, Skill::Speed, success));
        begin.into_iter().chain(more).collect()
    };
    for (level, success) in [(1, true), (6, false)] {
        let numbers = calls(level, success);
        let entries = Calls::read(&numbers).expect("calls");
        assert_eq!(level_for(entries.entries(), Part::Read), 3, "level {level}: {success}");
    }
    let numbers = calls(3, true);
    let entries = Calls::read(&numbers).expect("calls");
    assert!(level_for(entries.entries(), Part::Read) > 3, "what is won on the level counts");
    assert_eq!(level_for(entries.entries(), Part::Leave), 1, "in its own part");
}

#[test]
fn what_is_weak_comes_more_often_and_nothing_is_left_out() {
    let weak = Topic::Draw;
    let mut numbers = vec![];
    let mut counts = [0_u32; Topic::ALL.len()];
    // As many calls a day as there are topics, for ninety days.
    let a_day = Topic::ALL.len() as u32;
    for k in 0..90 * a_day {
        let now = f64::from(k / a_day) * 24.0 * HOUR + f64::from(k % a_day) * HOUR / 10.0;
        let chosen = next(&Calls::read(&numbers).expect("calls"), now, k);
        let place = Topic::ALL.iter().position(|topic| *topic == chosen.topic).expect("a topic");
        counts[place] += 1;
        let fails = if chosen.topic == weak { 0.7 } else { 0.15 };
        let success = even(k, 1) >= fails;
        let skill = chosen.topic.skills()[0];
        numbers.extend(call(now, chosen.topic.part(), chosen.level, skill, success));
    }
    println!("chosen: {counts:?}");
    let of_weak = counts[Topic::ALL.iter().position(|topic| *topic == weak).expect("a topic")];
    let others: Vec<u32> =
        (0..counts.len()).filter(|k| Topic::ALL[*k] != weak).map(|k| counts[k]).collect();
    let most = others.iter().max().expect("the others");
    assert!(of_weak > 2 * most, "{of_weak} against {others:?}");
    assert!(others.iter().all(|count| *count >= 20), "none is left out: {others:?}");
}

#[test]
fn what_was_never_tried_or_is_due_is_named_as_the_reason() {
    let fresh = next(&Calls::read(&[]).expect("none"), 0.0, 1);
    assert!(fresh.reason.ends_with("which you have not tried yet."), "{}", fresh.reason);
    assert_eq!(fresh.level, 1, "the first level");
    // All was practised well, and then nothing for three months.
    let mut numbers = vec![];
    for topic in Topic::ALL {
        for k in 0..10 {
            numbers.extend(call(f64::from(k), topic.part(), 4, topic.skills()[0], true));
        }
    }
    let late = next(&Calls::read(&numbers).expect("calls"), 90.0 * 24.0 * HOUR, 1);
    assert!(late.reason.contains("which is due: 90 days without it."), "{}", late.reason);
}

#[test]
fn a_topic_gets_an_item_that_asks_for_it() {
    for (topic, level) in
        [(Topic::Draw, 2), (Topic::Follow, 2), (Topic::ThreeCushions, 5), (Topic::Side, 6)]
    {
        let dealt = item_for(topic, level, 11, TableSize::NineFoot).expect("a deal");
        let Some(Dealt::Read(item)) = dealt else { panic!("{}: {dealt:?}", topic.id()) };
        assert_eq!(item.level, level, "{}", topic.id());
        let call = super::records::truth_of(&item);
        let told = record(0.0, Answered::Read { item, call }).expect("a call").told;
        let tells = told.iter().any(|told| topic.skills().contains(&told.skill));
        assert!(tells, "{}: {told:?}", topic.id());
    }
    let zone = item_for(Topic::Zone, 2, 11, TableSize::NineFoot).expect("a deal");
    assert!(matches!(zone, Some(Dealt::Leave(_))), "of Leave");
    let order = item_for(Topic::Order, 2, 11, TableSize::NineFoot).expect("a wish");
    let Some(Dealt::Clear(wish)) = order else { panic!("of Clear: {order:?}") };
    let layout = deal_clear(&wish).expect("a deal");
    assert_eq!(layout.level, 2, "of the level");
    assert!(matches!(layout.game, Game::Group { .. }), "with a choice: {:?}", layout.game);
}

#[test]
fn a_kept_call_counts_as_its_numbers_say() {
    let item = leaveline::layout::deal_read(3, 5, TableSize::NineFoot).expect("a deal");
    let call = Call { points: vec![], stop: super::records::truth_of(&item).stop };
    let kept = record(77.0, Answered::Read { item, call }).expect("a call");
    let numbers = digest(&kept);
    let calls = Calls::read(&numbers).expect("its numbers");
    let [entry] = calls.entries() else { panic!("one call") };
    assert_eq!((entry.at, entry.part, entry.level), (77.0, Part::Read, 3), "its head");
    assert_eq!(entry.told().collect::<Vec<_>>(), kept.told, "and its errors");
}
