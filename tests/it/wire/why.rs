//! Why, as the page asks for it.

use super::{SHOT, item_text};
use leaveline::wire::{compact, parse, why};
use serde_json::Value;

fn asked(item: &str) -> Result<Value, String> {
    let request = parse(&format!(r#"{{"item":{item}}}"#)).expect("JSON");
    let reply = why(&request).map_err(|error| error.to_string())?;
    Ok(serde_json::from_str(&compact(&reply).expect("finite")).expect("JSON"))
}

fn leave(shot: &str) -> String {
    let item = item_text(shot).replace(r#""read""#, r#""leave""#);
    item.replace(r#""shot":"#, r#""demand":{"on":"3"},"shot":"#)
}

#[test]
fn items_of_both_kinds_are_explained_alike() {
    let read = asked(&item_text(SHOT)).expect("a sound item");
    assert_eq!(read["first"], "3");
    let ids: Vec<_> =
        read["replays"].as_array().expect("a list").iter().map(|r| &r["id"]).collect();
    assert_eq!(ids.len(), 4, "four changes: {ids:?}");
    assert!(read["facts"].as_array().is_some_and(|facts| !facts.is_empty()), "and the facts");
    assert_eq!(asked(&leave(SHOT)), Ok(read), "the kind of the item changes nothing");
}

#[test]
fn a_miss_leaves_nothing_to_explain() {
    let reply = asked(&leave(&SHOT.replace("26.6", "206.6").replace("1.8", "0.4")));
    let reply = reply.expect("a stroke may miss");
    assert_eq!((&reply["first"], &reply["replays"]), (&Value::Null, &Value::Array(vec![])));
}

#[test]
fn refusals_name_the_field() {
    let message = asked(&item_text(&SHOT.replace("1.8", "0"))).expect_err("no speed");
    assert_eq!(message, "item.shot.stroke.speed is 0: must be positive and at most 15 m/s");
    let message = asked(&item_text(SHOT).replace("read", "other")).expect_err("another kind");
    assert!(message.starts_with("item.kind"), "{message}");
}
