//! The set of a day: the same bits everywhere, another each day, and a result that tells
//! nothing of the items.

use crate::harness::{publish, published};
use leaveline::layout::{Day, deal_daily};
use leaveline::practice::AnyItem;
use leaveline::wire::{compact, daily_result, daily_set, parse, read_set, write_set};

/// The set of one day, as it is to be dealt by every engine.
const GOLDEN: &str = "tests/golden/daily.json";
const DAY: &str = "2026-11-26";

/// Noon of that day, ms.
const NOON: f64 = 1_795_694_400_000.0;

fn text(day: &str) -> String {
    let set = deal_daily(Day::named(day).expect("a day")).expect("a deal");
    compact(&write_set(&set)).expect("text")
}

#[test]
fn the_set_of_a_day_is_the_recorded_one() {
    let dealt = text(DAY) + "\n";
    publish(GOLDEN, &dealt);
    assert_eq!(dealt, published(GOLDEN), "to the bit");
}

#[test]
fn each_day_has_its_own_ten_of_both_parts() {
    let mut before = String::new();
    for day in ["2026-11-24", "2026-11-25", "2026-11-27", "2027-01-01"] {
        let text = text(day);
        let set = read_set(&text).expect("a set that is good throughout");
        assert_eq!(set.entries.len(), 10, "{day}");
        let zones = set.entries.iter().filter(|entry| matches!(entry.item, AnyItem::Leave(_)));
        assert_eq!(zones.count(), 4, "{day}");
        assert!(set.title.ends_with(&day[..4]), "{}", set.title);
        assert_ne!(text, before, "{day} is not as the day before");
        before = text;
    }
}

/// A request by its JSON text, and the reply.
fn asked(text: &str) -> Result<String, leaveline::Error> {
    daily_set(&parse(text).expect("JSON")).map(|form| format!("{form:?}"))
}

#[test]
fn a_link_opens_its_day_on_any_later_one() {
    let link = format!("set=day.{DAY}.1");
    let today = asked(&format!(r#"{{"now":{NOON}}}"#)).expect("today's");
    assert!(today.contains(&link), "with its link");
    for later in [0.0, 6e6, 9e9] {
        let found = asked(&format!(r#"{{"now":{},"link":"{link}"}}"#, NOON + later));
        assert_eq!(found.as_ref(), Ok(&today), "the same set");
    }
    let undated = asked(&format!(r#"{{"now":{NOON},"link":"set=day"}}"#));
    assert_eq!(undated.as_ref(), Ok(&today), "without a day it is today's");
    assert_eq!(asked(&format!(r#"{{"now":{NOON},"day":"{DAY}"}}"#)).as_ref(), Ok(&today), "by day");
    for (request, field, rule) in [
        (r#""link":"set=day.2026-11-27.1""#, "day", "has not begun"),
        (r#""day":"2027-01-01""#, "day", "has not begun"),
        (r#""link":"set=day.2026-11-26.2""#, "link", "newer version"),
        (r#""link":"set=day.2026-11-31.1""#, "day", "must be a day"),
        (r#""link":"set=day.2026-11-26""#, "link", "must be the link"),
        (r#""link":"set=2.AAAA.00000000""#, "link", "must be the link"),
        (r#""link":"set=day2026-11-26.1""#, "link", "must be the link"),
    ] {
        let refused = asked(&format!(r#"{{"now":{NOON},{request}}}"#)).expect_err(request);
        assert_eq!(refused.field(), field, "{request}");
        assert!(refused.rule().contains(rule), "{request}: {refused}");
    }
    assert_eq!(asked(r#"{"now":-5}"#).expect_err("no day").field(), "now", "before all days");
}

#[test]
fn a_result_has_day_score_marks_and_address_and_no_more() {
    let result = |marks: &str| {
        let request =
            format!(r#"{{"day":"{DAY}","marks":{marks},"address":"https://x.y/#set=day"}}"#);
        daily_result(&parse(&request).expect("JSON")).map(|form| format!("{form:?}"))
    };
    let found = result("[86.4,41,100,55,60,73,22,90,12,77]").expect("a result");
    let text = r"Leaveline, the set of 26 November 2026\n62 of 100, 7 of 10 passed\n86 · 41 · 100 · 55 · 60 · 73 · 22 · 90 · 12 · 77\nhttps://x.y/#set=day";
    assert!(found.contains(text), "{found}");
    assert!(found.contains("What counts for this day: 62 of 100."), "{found}");
    assert_eq!(result("[86,null]").expect_err("half of it").field(), "marks", "not over");
    assert!(result("[101]").is_err(), "no mark");
}
