//! Margins of a stroke, as the page sees them.

use super::SHOT;
use leaveline::wire::{self, Value, compact, parse};
use serde_json::Value as Json;

/// A pot of the 3 into the foot-left corner with the 5 to be played next.
const LAYOUT: &str = r#"{"version":1,"table":{"size":"nine-foot"},"balls":[
    {"id":"cue","x":1.2,"y":0.35},{"id":"3","x":1.7,"y":0.9},{"id":"5","x":0.9,"y":0.4}],
    "stroke":{"azimuth":48.0,"elevation":0,"speed":1.2,"side":0,"height":0.2}}"#;

fn request(shot: &str, demand: &str, hand: &str) -> Value {
    let text = format!(
        r#"{{"item":{{"version":1,"kind":"leave","model":1,"level":1,"shot":{shot},"demand":{demand}}},"hand":"{hand}"}}"#
    );
    parse(&text).expect("JSON")
}

fn reply(shot: &str, demand: &str) -> Json {
    let reply = wire::margins(&request(shot, demand, "makes-85")).expect("sound");
    serde_json::from_str(&compact(&reply).expect("a reply is JSON")).expect("JSON")
}

/// [`LAYOUT`] with the direction, in thousandths of a degree, in the middle of those that
/// pot the 3.
fn aimed() -> String {
    let at =
        |thousandths: u32| LAYOUT.replace("48.0", &format!("{}", f64::from(thousandths) / 1000.0));
    let falls = |thousandths: &u32| reply_fault(&at(*thousandths)).is_null();
    let all: Vec<u32> = (40_000..56_000).step_by(50).filter(falls).collect();
    assert!(!all.is_empty(), "some direction pots it");
    at(all[all.len() / 2])
}

fn reply_fault(shot: &str) -> Json {
    // Plain play tells whether it falls, much sooner than all margins.
    let outcome = wire::play(&parse(shot).expect("JSON")).expect("sound");
    let outcome: Json = serde_json::from_str(&compact(&outcome).expect("JSON")).expect("JSON");
    let ends = outcome["balls"].as_array().expect("ends");
    let is = |k: usize, state: &str| ends[k]["state"] == state;
    if is(0, "rest") && is(1, "pocketed") { Json::Null } else { Json::Bool(true) }
}

#[test]
fn a_pot_has_bars_a_chance_traces_and_an_approach() {
    let reply = reply(&aimed(), r#"{"on":"3","next":"5"}"#);
    assert!(reply["fault"].is_null(), "{}", reply["fault"]);
    let bars = reply["bars"].as_array().expect("bars");
    let inputs: Vec<&str> = bars.iter().filter_map(|bar| bar["input"].as_str()).collect();
    assert_eq!(inputs, ["speed", "aim", "side", "height"]);
    let number = |value: &Json| value.as_f64().expect("a number");
    for bar in bars {
        let (low, high) = (&bar["met"]["low"], &bar["met"]["high"]);
        assert!(number(&low["value"]) <= number(&bar["value"]), "{bar}");
        assert!(number(&bar["value"]) <= number(&high["value"]), "{bar}");
        assert_eq!(bar["met"], bar["potted"], "no more than a pot is asked");
    }
    assert_eq!(bars[1]["met"]["low"]["breaks"], "misses the pocket");
    let words = bars[1]["met"]["low"]["words"].as_str().expect("words");
    assert!(words.contains("mm at the ball, right"), "{words}");
    let met = &reply["chance"]["met"];
    let (share, low, high) = (number(&met["share"]), number(&met["low"]), number(&met["high"]));
    assert!(low < share && share < high && share > 0.2, "{met}");
    assert_eq!(reply["traces"].as_array().map(Vec::len), Some(4), "one an input");
    let approach = &reply["approach"];
    assert!(["along", "between", "across"].iter().any(|way| approach["way"] == **way));
    let words = approach["words"].as_str().expect("words");
    assert!(words.contains("the line of the next shot: 10 % of speed moves the stop"), "{words}");
    println!("{words}");
}

#[test]
fn a_stroke_that_fails_says_how() {
    let away =
        reply(SHOT, r#"{"on":"3","zone":{"x":0.1,"y":0.1,"long":0.01,"wide":0.01,"turn":0}}"#);
    let fault = away["fault"].as_str().expect("a fault");
    assert!(!fault.is_empty(), "in words");
    assert!(away["bars"][0]["met"].is_null(), "nothing is met: {}", away["bars"][0]);
    assert!(away["approach"].is_null(), "no next ball");
}

#[test]
fn an_unknown_hand_is_refused() {
    let error = wire::margins(&request(LAYOUT, r#"{"on":"3"}"#, "steady")).expect_err("unknown");
    assert_eq!(error.field(), "hand", "{error}");
    let error = wire::margins(&request(LAYOUT, r#"{"on":"4"}"#, "makes-85")).expect_err("no 4");
    assert_eq!(error.field(), "item.demand.on", "{error}");
}
