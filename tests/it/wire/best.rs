//! The search for the best stroke, as the page asks for it.

use super::SHOT;
use leaveline::wire::{BestSearch, parse};
use serde_json::Value as Json;

fn search(demand: &str, rest: &str) -> Result<BestSearch, String> {
    let item = format!(
        r#"{{"version":1,"kind":"leave","model":1,"level":3,"shot":{SHOT},"demand":{demand}}}"#
    );
    let request = format!(r#"{{"item":{item},{rest}}}"#);
    BestSearch::new(&parse(&request).expect("JSON")).map_err(|error| error.to_string())
}

fn told(search: &mut BestSearch, plays: u32) -> Json {
    serde_json::to_value(search.step(plays)).expect("a form is JSON")
}

#[test]
fn a_search_tells_how_far_it_is_and_ends_in_words() {
    let mut search = search(r#"{"on":"3"}"#, r#""hand":"makes-85","seed":3"#).expect("sound");
    let first = told(&mut search, 500);
    let plays = first["plays"].as_u64().expect("a count");
    assert!((500..1_000).contains(&plays), "about as many as asked: {first}");
    let done = first["done"].as_f64().expect("a share");
    assert!(done > 0.0 && done < 1.0, "under way: {first}");
    assert!(first["own"].is_null() && first["words"].is_null(), "only at the end: {first}");
    let last = told(&mut search, u32::MAX);
    assert_eq!(last["done"], 1.0, "{last}");
    let words = last["words"].as_str().expect("words at the end");
    assert!(words.starts_with("Best found: ") && words.ends_with(" %)."), "{words}");
    let chance = |name: &str| last["measured"]["best"][name].as_f64().expect("a chance");
    let (low, share, high) = (chance("low"), chance("share"), chance("high"));
    assert!(low < share && share < high && high - low < 0.07, "an interval: {last}");
    assert_eq!(last["best"]["chance"].as_f64(), Some(share), "the same: {last}");
    // What is given can be asked again.
    let stroke = last["best"]["stroke"].to_string();
    let shot = format!(r#"{}"stroke":{stroke}}}"#, SHOT.split_once(r#""stroke""#).expect("one").0);
    let stroke = super::shot(&shot).expect("a stroke that can be played").stroke;
    assert!(last["best"]["lengths"].as_f64() > Some(stroke.speed / 10.0), "lengths: {last}");
    let again = told(&mut search, 1);
    assert_eq!(again, last, "there is no more to be found");
}

#[test]
fn what_a_worker_hears_must_be_what_another_found() {
    let shared = r#""hand":"makes-85","worker":0,"workers":2"#;
    let mut search = search(r#"{"on":"3"}"#, shared).expect("sound");
    let first = told(&mut search, u32::MAX);
    assert_eq!(first["waits"], true, "for the other: {first}");
    let own = search.tell().expect("its share");
    assert_eq!(search.tell(), None, "told once");
    for (from, numbers) in [(0, &own[..]), (1, &own[1..]), (7, &own[..])] {
        let error = search.hear(from, numbers).expect_err("not to be expected");
        assert_eq!(error.field(), "numbers", "{error}");
    }
}

#[test]
fn a_search_refuses_what_is_not_sound() {
    for (demand, rest, message) in [
        (
            r#"{"on":"4"}"#,
            r#""hand":"makes-85""#,
            "item.demand.on: must be an object ball that is on the table",
        ),
        (
            r#"{"on":"3"}"#,
            r#""hand":"left""#,
            "hand: must be one of makes-95, makes-85, makes-60, makes-35, tournament-noise, not \"left\"",
        ),
        (
            r#"{"on":"3"}"#,
            r#""hand":"makes-85","seed":-1"#,
            "seed is -1: must be a whole number from 0 to 4294967295",
        ),
        (
            r#"{"on":"3"}"#,
            r#""hand":"makes-85","plays":1"#,
            "plays: unknown field; known are item, hand, seed, worker, workers",
        ),
        (
            r#"{"on":"3"}"#,
            r#""hand":"makes-85","worker":2,"workers":2"#,
            "worker is 2: must be a whole number from 0 to 1",
        ),
    ] {
        assert_eq!(search(demand, rest).err().as_deref(), Some(message));
    }
}
