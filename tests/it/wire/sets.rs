//! Sets: round trips, what is refused and where, and what is offered all the same.

use super::{CLEARS, DEMAND, SHOT, SHOT3, item_text, leave_text};
use leaveline::practice::set::Pass;
use leaveline::wire::{
    LONGEST_SET, MOST_ENTRIES, compact, find_set, make_set_link, open_set, open_set_link, parse,
    read_set, set_text, show_item, tally_set, write_set,
};
use proptest::prelude::*;
use serde_json::{Value as Json, json};

const STROKE: &str = r#"{"azimuth":22.4,"elevation":2,"speed":1.5,"side":0,"height":0.2}"#;

fn entry(title: &str, item: &str) -> String {
    format!(r#"{{"title":"{title}","note":"Skill: é\nPath: 2","item":{item}}}"#)
}

/// A set of one item of each kind.
fn entries() -> Vec<String> {
    let leave = entry("two", &leave_text(SHOT3, DEMAND));
    let leave = leave.strip_suffix('}').expect("an object").to_owned();
    vec![
        entry("one", &item_text(SHOT)),
        format!(r#"{leave},"stroke":{STROKE}}}"#),
        entry("", CLEARS[1]),
    ]
}

fn with_entries(entries: &[String]) -> String {
    let entries = entries.join(",");
    format!(
        r#"{{"version":1,"kind":"set","title":"A set","note":"","pass":{{"mark":70,"need":2}},"entries":[{entries}]}}"#
    )
}

pub fn example() -> String {
    with_entries(&entries())
}

fn faults(text: &str) -> Vec<String> {
    find_set(text).faults.iter().map(ToString::to_string).collect()
}

/// How many entries are good.
fn n_good(text: &str) -> usize {
    find_set(text).set.map_or(0, |set| set.entries.len())
}

fn json(reply: &impl serde::Serialize) -> Json {
    serde_json::from_str(&compact(reply).expect("a reply is JSON")).expect("JSON")
}

#[test]
fn a_set_comes_back_the_same_text() {
    let text = example();
    let set = read_set(&text).expect("a good set");
    assert_eq!(set.entries.len(), 3, "all of them");
    assert_eq!(compact(&write_set(&set)), Ok(text.clone()), "to the byte");
    assert_eq!(set_text(&format!("  {} \n", text.replace("},{", "}\n, {"))), Ok(text), "tidied");
    let none = with_entries(&[]);
    assert_eq!(set_text(&none), Ok(none), "a set may be empty");
}

#[test]
fn one_bad_entry_costs_no_other() {
    let good = entries();
    let spoilt = [
        (r#""x":1.2"#, r#""x":"a""#, "entries[1].item.shot.balls[1].x: must be a number"),
        (r#""x":1.2"#, r#""x":1e999"#, "entries[1].item.shot.balls[1].x: number out of range"),
        (r#""x":1.2"#, r#""x":1.2,"x":1.2"#, "entries[1].item.shot.balls[1].x: given twice"),
        (r#""kind":"read""#, r#""kind":"eye""#, "entries[1].item.kind: must be one of read"),
        (r#""item":"#, r#""itme":"#, "entries[1].itme: unknown field"),
        (r#""azimuth":26.6"#, r#""azimuth":206.6"#, "entries[1].item.shot: the cue ball must"),
        (r#""model":1"#, r#""model":9"#, "entries[1].item.model is 9: made by a newer version"),
        ("{", "", "entries[1]"),
    ];
    for (from, to, told) in spoilt {
        let bad = good[0].replacen(from, to, 1);
        assert_ne!(bad, good[0], "{from} is there");
        // Behind the others, so that lost brackets cost nothing else.
        let order = [&good[0], &bad].map(ToString::to_string);
        let text = with_entries(&order);
        let all = faults(&text);
        assert!(all.iter().any(|fault| fault.starts_with(told)), "{told}: {all:?}");
        assert_eq!(n_good(&text), 1, "{told}: the other is good");
        assert!(read_set(&text).is_err(), "{told}: it is not good throughout");
    }
}

#[test]
fn every_fault_is_told_with_its_place() {
    let shot = SHOT
        .replace(r#""x":0.6"#, r#""x":null"#)
        .replace(r#""id":"3""#, r#""id":"cow""#)
        .replace(r#""speed":1.8"#, r#""speed":-1"#);
    let bad = entry(&"t".repeat(81), &item_text(&shot));
    let text = with_entries(&[bad, entries()[1].clone()]);
    let all = faults(&text);
    for place in [
        "entries[0].title.length is 81: must have 0 to 80 characters",
        "entries[0].item.shot.balls[0].x: must be a number",
        "entries[0].item.shot.balls[1].id: must be",
        "entries[0].item.shot.stroke.speed is -1",
    ] {
        assert!(all.iter().any(|fault| fault.starts_with(place)), "{place}: {all:?}");
    }
    assert_eq!(all.len(), 4, "and none twice: {all:?}");
    let reply = json(&open_set(&text));
    assert_eq!(reply["words"], json!("1 of 2 items can be read; 4 faults."));
    assert_eq!(reply["entries"][0]["place"], json!(1), "where it stood");
    assert_eq!(reply["entries"][0]["kind"], json!("leave"));
    assert_eq!(reply["faults"][0]["place"], json!("entries[0].title.length"));
    assert_eq!(reply["faults"][0]["rule"], json!("is 81: must have 0 to 80 characters"));
}

#[test]
fn bad_words_are_left_out_and_told() {
    let words = example()
        .replace(r#""title":"A set""#, r#""title":"""#)
        .replace(r#""mark":70"#, r#""mark":0"#)
        .replace(r#""title":"one""#, r#""title":"on\ne""#)
        .replace(r#""speed":1.5,"side":0,"height":0.2"#, r#""speed":1.5,"side":0,"height":0.9"#);
    let found = find_set(&words);
    let set = found.set.expect("a set");
    assert_eq!((set.entries.len(), set.entries[0].title.as_str()), (3, ""), "items stay");
    assert_eq!(set.entries[1].stroke, None, "a stroke that cannot be played is left out");
    assert_eq!(set.pass, Pass::FIRST, "what a new set asks");
    let places: Vec<&str> = found.faults.iter().map(|fault| fault.field()).collect();
    assert_eq!(places[..3], ["title.length", "pass.mark", "entries[0].title"], "{places:?}");
    assert!(places[3].starts_with("entries[1].stroke"), "{places:?}");
}

#[test]
fn what_is_no_set_offers_nothing() {
    for (text, told) in [
        ("", "form: "),
        ("[]", "form: must be an object with version"),
        ("{}", "version: must be given"),
        (SHOT, "kind: must be given"),
        (
            r#"{"version":1,"kind":"set","title":"x","note":"","pass":{"mark":1,"need":1}}"#,
            "entries: must be given as a list",
        ),
    ] {
        let all = faults(text);
        assert!(all.iter().any(|fault| fault.starts_with(told)), "{told}: {all:?}");
        assert_eq!(find_set(text).set, None, "{text}");
    }
    let newer = example().replacen(r#""version":1"#, r#""version":2"#, 1);
    assert!(faults(&newer)[0].starts_with("version is 2: made by a newer version"), "{newer}");
    assert_eq!(find_set(&newer).set, None, "a newer version may mean something else by it");
    let long = example() + &" ".repeat(LONGEST_SET);
    assert_eq!(faults(&long), ["form: the text is longer than 524288 bytes"]);
}

#[test]
fn a_file_that_was_cut_off_keeps_its_whole_items() {
    let text = example();
    let last = text.rfind(r#"{"title":"""#).expect("the third entry");
    for cut in [last + 40, text.len() - 2] {
        let found = find_set(&text[..cut]);
        let told: Vec<String> = found.faults.iter().map(ToString::to_string).collect();
        assert!(told.iter().any(|fault| fault.contains("ends before its entries do")), "{told:?}");
        assert!(found.places.starts_with(&[0, 1]), "two are whole: {:?}", found.places);
    }
}

#[test]
fn floods_of_entries_end_early() {
    let many = with_entries(&vec![entries()[0].clone(); MOST_ENTRIES + 1]);
    let found = find_set(&many);
    assert_eq!(found.set.map_or(0, |set| set.entries.len()), MOST_ENTRIES, "as many as it takes");
    let told = found.faults[0].to_string();
    assert_eq!(told, "entries.length is 51: must have 0 to 50 entries; the first of them are read");
    let flood = with_entries(&vec!["0".to_owned(); 100_000]);
    assert_eq!(faults(&flood).len(), MOST_ENTRIES + 1, "each of those that are read, and one more");
    assert!(faults(&"[".repeat(100_000)).len() == 1, "no end of brackets");
}

#[test]
fn the_widest_set_fits_the_limits_of_its_text() {
    let ball = |k: usize| {
        let id = if k == 0 { "cue".to_owned() } else { k.to_string() };
        let (x, y) = (0.12345678901234568 + 0.1501 * k as f64, 0.3123456789012345);
        format!(r#"{{"id":"{id}","x":{x},"y":{y}}}"#)
    };
    let balls: Vec<String> = (0..16).map(ball).collect();
    let shot = super::OWN_TABLE
        .split_once(r#""balls":"#)
        .expect("balls")
        .0
        .replace("\"length\":2,\"width\":1,", "");
    let shot = shot.replace("seven-foot", "nine-foot");
    let item = format!(
        r#"{{"version":1,"kind":"clear","model":1,"level":1,"shot":{shot}"balls":[{}],"stroke":{STROKE}}},"game":{{"kind":"group","group":["1","2","3","4","5","6","7"],"last":"8"}}}}"#,
        balls.join(",")
    );
    let note = "𝄞".repeat(800);
    let entry = format!(
        r#"{{"title":"{}","note":"{note}","item":{item},"stroke":{STROKE}}}"#,
        "é".repeat(80)
    );
    let text = with_entries(&vec![entry; MOST_ENTRIES]);
    let set = read_set(&text).expect("a good set");
    let written = compact(&write_set(&set)).expect("a set is JSON");
    assert!(written.len() < LONGEST_SET, "{} bytes", written.len());
}

#[test]
fn a_set_stands_as_its_marks_say() {
    let request =
        json!({"pass": {"mark": 70, "need": 2}, "marks": [70.2, true, null], "claimed": 60});
    let tally = json(&tally_set(&parse(&request.to_string()).expect("JSON")).expect("sound"));
    assert_eq!(tally["score"], json!(57), "170 over three");
    assert_eq!(tally["passed"], json!([true, true, null]));
    assert_eq!(tally["words"], json!("2 of 3 passed, 2 are needed: passed. Score 57 of 100."));
    let against = "The sender claims 60 of 100; nobody checked it.";
    assert_eq!(tally["against"], json!(against), "no verdict before it is over");
    for (mark, verdict) in
        [(39, " You are level."), (100, " You beat it."), (0, " Not beaten yet.")]
    {
        let request =
            json!({"pass": {"mark": 70, "need": 2}, "marks": [70.2, 70, mark], "claimed": 60});
        let tally = json(&tally_set(&parse(&request.to_string()).expect("JSON")).expect("sound"));
        assert_eq!(tally["against"], json!(format!("{against}{verdict}")), "{mark}");
    }
    for (marks, told) in [
        (json!([101]), "marks[0] is 101: must lie from 0 to 100"),
        (json!(["a"]), "marks[0]: must be a number, not a text"),
        (json!(vec![0; 51]), "marks.length is 51: must have 0 to 50 entries"),
    ] {
        let request = json!({"pass": {"mark": 70, "need": 2}, "marks": marks});
        let refused = tally_set(&parse(&request.to_string()).expect("JSON")).expect_err(told);
        assert_eq!(refused.to_string(), told);
    }
}

#[test]
fn an_item_is_shown_as_it_is_meant() {
    let show = |entry: &str| {
        let mut form: Json = serde_json::from_str(entry).expect("JSON");
        let fields = form.as_object_mut().expect("an object");
        fields.retain(|name, _| name == "item" || name == "stroke");
        json(&show_item(&parse(&form.to_string()).expect("JSON")).expect("sound"))
    };
    let all = entries();
    let read = show(&all[0]);
    assert_eq!(read["kind"], json!("read"));
    assert_eq!(read["given"]["words"], read["meant"]["words"], "the stroke is given");
    assert!(read["meant"]["way"]["path"].as_array().is_some_and(|path| path.len() > 2), "a path");
    let leave = show(&all[1]);
    assert_eq!(leave["given"], Json::Null, "the stroke is asked");
    assert!(
        leave["meant"]["words"].as_str().is_some_and(|words| words.contains("high")),
        "{leave}"
    );
    assert_eq!(leave["asked"]["on"], json!("3"));
    let plain = show(&entry("", &leave_text(SHOT3, DEMAND)));
    assert_eq!(plain["meant"], Json::Null, "its own stroke does not do what is asked");
    assert_eq!(show(&all[2])["meant"], Json::Null, "nobody said how a run is played");
}

#[test]
fn a_link_carries_the_set_and_the_claim() {
    let text = example();
    let link = make_set_link(&text, Some(62.0)).expect("small enough");
    assert!(link.starts_with("set="), "{link}");
    let opened =
        json(&open_set_link(&format!("look: https://example.org/#{link}, well")).expect("whole"));
    assert_eq!(opened["claimed"], json!(62));
    assert_eq!(opened["set"]["faults"], json!([]));
    assert_eq!(opened["set"]["set"]["title"], json!("A set"));
    let again = opened["set"]["set"].to_string();
    assert_eq!(make_set_link(&again, Some(62.0)), Ok(link.clone()), "handed on it is the same");
    let plain = json(&open_set_link(&make_set_link(&text, None).expect("small")).expect("whole"));
    assert_eq!(plain["claimed"], Json::Null, "no score is no score");
    for claimed in [-1.0, 100.5, 101.0, f64::NAN] {
        assert!(make_set_link(&text, Some(claimed)).is_err(), "{claimed} is no score");
    }
    let large = with_entries(&vec![entries()[0].replace("é", &"é".repeat(700)); 20]);
    let refused = make_set_link(&large, None).expect_err("too large").to_string();
    assert_eq!(refused, "link: a link to this set would be longer than 8192 characters");
}

#[test]
fn any_one_altered_character_of_a_link_is_noticed() {
    let link = make_set_link(&with_entries(&entries()[..1]), Some(7.0)).expect("small enough");
    for (at, old) in link.char_indices() {
        assert!(open_set_link(&link[..at]).is_err(), "cut off after {at}");
        for new in "ABCabc019-_=.%#+/ ".chars().filter(|&new| new != old) {
            let mut altered = link.clone();
            altered.replace_range(at..=at, &new.to_string());
            assert!(open_set_link(&altered).is_err(), "{old:?} at {at} became {new:?}");
        }
    }
}

proptest! {
    #[test]
    fn no_text_upsets_the_reader(text in "\\PC{0,300}") {
        prop_assert!(find_set(&text).set.is_none());
    }

    /// One byte of a sound set replaced by another: every entry is read or told.
    #[test]
    fn no_altered_set_upsets_the_reader(share in 0.0..1.0f64, byte in 32u8..127) {
        let mut bytes = example().into_bytes();
        let mut at = (share * bytes.len() as f64) as usize;
        while !bytes[at].is_ascii() { at += 1; }
        bytes[at] = byte;
        let text = String::from_utf8(bytes).expect("ASCII for ASCII");
        let found = find_set(&text);
        let told = found.faults.iter().all(|fault| !fault.field().is_empty() && !fault.rule().is_empty());
        prop_assert!(told, "{:?}", found.faults);
        if let Some(set) = &found.set {
            prop_assert!(set.entries.len() == 3 || !found.faults.is_empty(), "nothing is lost in silence");
        }
    }
}
