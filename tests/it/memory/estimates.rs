//! What is kept of Eye's estimates: the skills they tell of, their forms, and which versions
//! can hold them.

use leaveline::layout::{deal_eye, deal_read};
use leaveline::memory::{
    Answered, Calls, Part, Record, Skill, Topic, digest, item_for, level_for, record,
};
use leaveline::practice::eye::{Estimate, EyeItem, ROUND, judge_eye, sight};
use leaveline::table::TableSize;
use leaveline::wire::{compact, log_read, parse, read_record, write_record};

/// Estimates of some rounds.
fn items(rounds: u32) -> impl Iterator<Item = EyeItem> {
    (0..rounds).flat_map(|seed| {
        (0..ROUND).map(move |k| deal_eye(seed, k, TableSize::NineFoot).expect("a deal"))
    })
}

fn kept(item: &EyeItem, answer: f64) -> Record {
    record(1_790_000_000_000.0, Answered::Eye { item: item.clone(), answer }).expect("a call")
}

#[test]
fn each_kind_tells_of_its_skill_by_its_error() {
    for item in items(3) {
        let seen = sight(&item).expect("a sight");
        let off = item.estimate.half();
        let judged = judge_eye(&item, seen.truth + 0.3 * off).expect("an answer");
        let kept = kept(&item, judged.answer);
        let [told] = kept.told[..] else { panic!("one skill: {:?}", kept.told) };
        let expected = match item.estimate {
            Estimate::Tangent => Skill::HeadingStun,
            Estimate::Roll => Skill::HeadingRoll,
            Estimate::Draw => Skill::HeadingDraw,
            Estimate::Cut => Skill::Cut,
            Estimate::Rebound => Skill::FirstRebound,
            Estimate::Side => Skill::Side,
            Estimate::ThirdRail => Skill::ThirdRail,
            Estimate::Distance => Skill::Speed,
        };
        assert_eq!(told.skill, expected, "{}", item.estimate.name());
        let error = match item.estimate {
            // In per cent of the way.
            Estimate::Distance => 100.0 * judged.error / seen.truth,
            Estimate::Side => told.error().signum() * judged.error.abs(),
            _ => judged.error,
        };
        assert!((told.error() - error).abs() < 1e-9, "{told:?}, not {error}");
        assert_eq!((kept.part(), kept.success), (Part::Eye, judged.mark >= 60.0), "{kept:?}");
        assert_eq!(kept.mark, Some(judged.mark), "with its mark");
        let title = item.estimate.title().to_ascii_lowercase();
        assert!(kept.words().starts_with(&format!("{title}: ")), "{}", kept.words());
    }
}

/// Too much side is what lies farther toward where the side pushed the ball, whatever the way.
#[test]
fn side_is_told_by_what_it_does_there_too() {
    let mut seen = [0; 2];
    for item in items(30).filter(|item| item.estimate == Estimate::Side) {
        let with = sight(&item).expect("a sight").truth;
        let mut plain = item.clone();
        plain.shot.stroke.side = 0.0;
        let Ok(without) = sight(&plain).map(|sight| sight.truth) else { continue };
        let told = kept(&item, with).told[0];
        // What it does is plain from three degrees on.
        if (with - without).abs() < 3.0 || with.abs() < 5.0 {
            continue;
        }
        let pushed_on = with > without;
        assert_eq!(told.real > 0.0, pushed_on == (with > 0.0), "{told:?} {with} {without}");
        seen[usize::from(pushed_on)] += 1;
    }
    assert!(seen.iter().all(|count| *count >= 5), "with and against: {seen:?}");
}

/// The same shot, estimated and called, tells the same of what happened.
#[test]
fn an_estimate_and_a_path_agree_on_what_was() {
    let mut compared = 0;
    for seed in 0..60 {
        let read = deal_read(2, seed, TableSize::NineFoot).expect("a deal");
        let call = super::records::truth_of(&read);
        let path = record(0.0, Answered::Read { item: read.clone(), call }).expect("a call").told;
        let Some(heading) = path.iter().find(|told| told.skill == Skill::HeadingRoll) else {
            continue;
        };
        let (shot, model) = (read.shot.clone(), read.model);
        let item = EyeItem { estimate: Estimate::Roll, shot, model, seed: None };
        let Ok(seen) = sight(&item) else { continue };
        let told = kept(&item, seen.truth).told[0];
        assert!((told.real - heading.real).abs() < 1e-6, "seed {seed}: {told:?} {heading:?}");
        let distance = EyeItem { estimate: Estimate::Distance, ..item };
        let (Ok(seen), Some(speed)) =
            (sight(&distance), path.iter().find(|told| told.skill == Skill::Speed))
        else {
            continue;
        };
        let told = kept(&distance, seen.truth).told[0];
        assert!((told.real - speed.real).abs() < 1e-3, "seed {seed}: {told:?} {speed:?}");
        compared += 1;
    }
    assert!(compared >= 10, "{compared}");
}

#[test]
fn an_estimate_comes_back_and_is_a_call_among_others() {
    let item = items(1).next().expect("an item");
    let answer = sight(&item).expect("a sight").truth + 1.0;
    let kept = kept(&item, answer);
    let form = write_record(&kept).expect("a form");
    let text = compact(&form).expect("text");
    let back = read_record(&parse(&text).expect("JSON")).expect("its own form");
    assert_eq!(back, kept, "with all that it tells");
    let numbers = digest(&kept);
    let calls = Calls::read(&numbers).expect("its numbers");
    let [entry] = calls.entries() else { panic!("one call") };
    assert_eq!((entry.part, entry.level), (Part::Eye, 4), "its head");
    assert_eq!(level_for(calls.entries(), Part::Read), 1, "which is no level of Read");
}

/// What the version before wrote is read as it was, and only an estimate has the new version:
/// who knows the old one alone reads all lines but these.
#[test]
fn calls_have_the_first_version_that_holds_them() {
    let read = deal_read(3, 8, TableSize::NineFoot).expect("a deal");
    let call = super::records::truth_of(&read);
    let old = record(5.0, Answered::Read { item: read, call }).expect("a call");
    let new = kept(&items(1).next().expect("an item"), 12.0);
    let line = |kept: &Record| compact(&write_record(kept).expect("a form")).expect("text");
    let (old, new) = (line(&old), line(&new));
    assert!(old.starts_with(r#"{"version":1,"#), "{old}");
    assert!(new.starts_with(r#"{"version":2,"#), "{new}");
    let text = [r#"{"kind":"leaveline-log","version":1}"#, &old, &new].join("\n");
    let read = format!("{:?}", log_read(&text).expect("a log"));
    assert_eq!(read.matches("KeptForm").count(), 2, "both: {read}");
    for (text, from, to, why) in [
        (&new, "\"version\":2", "\"version\":3", "newer"),
        (&new, "\"version\":2", "\"version\":1", "must be 2"),
        (&old, "\"version\":1", "\"version\":2", "newer"),
    ] {
        let refused = format!("{:?}", log_read(&text.replace(from, to)).expect("a log"));
        assert!(refused.contains(why) && refused.contains("kept: []"), "{refused}");
    }
}

#[test]
fn cut_angles_are_practised_in_eye() {
    assert_eq!(Topic::Cut.part(), Part::Eye, "where else");
    assert_eq!(item_for(Topic::Cut, 4, 1, TableSize::NineFoot), Ok(None), "a round asks for all");
}
