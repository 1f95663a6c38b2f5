//! Leave: what the page asks for and gets, and links.

use super::{ANSWER, CALL, DEMAND, SHOT, SHOT3, answer, item, item_text, leave_item, leave_text};
use leaveline::Error;
use leaveline::wire::{
    AnyOpened, Value, compact, deal_leave, grade_leave, make, make_leave, make_link, open,
    open_any, open_any_as, open_leave, open_link, parse, seal_answer, unseal, unseal_answer,
    write_answer, write_leave_item,
};
use serde_json::{Value as Json, json};

fn value(form: &Json) -> Value {
    parse(&form.to_string()).expect("JSON")
}

fn json(reply: &impl serde::Serialize) -> Json {
    serde_json::from_str(&compact(reply).expect("a reply is JSON")).expect("JSON")
}

/// A request to grade [`ANSWER`], with some fields more or other.
fn request(more: &Json) -> Json {
    let mut request: Json = serde_json::from_str(ANSWER).expect("JSON");
    let item: Json = serde_json::from_str(&leave_text(SHOT3, DEMAND)).expect("JSON");
    request["item"] = item;
    request["exact"] = json!(true);
    for (name, field) in more.as_object().expect("fields") {
        request[name] = field.clone();
    }
    request
}

fn graded(more: &Json) -> Result<Json, Error> {
    grade_leave(&value(&request(more))).map(|result| json(&result))
}

#[test]
fn an_answer_comes_back_to_the_bit() {
    let sound = answer(ANSWER).expect("a sound answer");
    let text = compact(&write_answer(&sound)).expect("a form");
    assert_eq!(answer(&text), Ok(sound.clone()), "{text}");
    let sealed = seal_answer(&sound).expect("finite");
    assert!(!sealed.contains("zone"), "and is not seen at a glance when sealed: {sealed}");
    assert_eq!(unseal_answer(&sealed), Ok(sound), "but all there");
    assert!(unseal(&sealed).is_err(), "an answer is no call");
}

#[test]
fn a_deal_is_shown_and_shown_again() {
    let question = json(&deal_leave(&value(&json!({"level": 2, "seed": 9}))).expect("dealt"));
    assert_eq!(question["item"]["kind"], json!("leave"));
    assert_eq!(question["level"]["level"], json!(2));
    let task = question["task"].as_str().expect("a text");
    assert!(task.starts_with("Pot the ") && task.contains("leave the cue ball for"), "{task}");
    assert_eq!(question["hand"], json!("makes-35"), "the hand of the level");
    assert_eq!(question["balls"].as_array().map(Vec::len), Some(3));
    let again = open_leave(&value(&json!({"item": question["item"]}))).expect("its own item");
    assert_eq!(json(&again), question, "kept and shown again");
}

#[test]
fn a_result_tells_the_shot_the_zone_and_the_path() {
    let result = graded(&json!({})).expect("sound");
    assert_eq!(result["hand"], json!("makes-60"), "of level 3");
    assert_eq!(result["zone"]["stops"].as_array().map(Vec::len), Some(256), "no scratch");
    assert!(result["grade"]["mark"].is_number(), "the call is graded: {}", result["grade"]);
    assert_eq!(result["path"]["stop"]["x"], result["stop"][0], "one stop");
    for share in ["zone", "stops", "both"] {
        let share = result["worth"][share].as_f64().expect("a chance");
        assert!((0.0..=1.0).contains(&share), "{share} of {}", result["worth"]);
    }
    let silent = graded(&json!({"call": null})).expect("sound");
    assert_eq!(silent["grade"], json!(null), "no call, no grade");
    assert_eq!(silent["zone"], result["zone"], "the zone does not ask for one");
    let best = graded(&json!({"zone": result["zone"]["best"]})).expect("a zone of our own");
    // Rounded onto its quanta, it may lose a stop that lies right on its edge.
    let mark = best["zone"]["mark"].as_f64().expect("a mark");
    assert!((99.9..=100.0).contains(&mark), "the best zone earns all: {mark}");
}

#[test]
fn errors_are_drawn_by_seed_and_index_and_leave_the_zone_alone() {
    let played = |index: u32| {
        let more = json!({"exact": false, "seed": 5, "index": index, "hand": "makes-85"});
        graded(&more).expect("sound")
    };
    let (first, second) = (played(0), played(1));
    assert_eq!(played(0), first, "the same again");
    assert_ne!(first["stop"], second["stop"], "another stroke");
    assert_eq!(first["zone"], second["zone"], "the same grade of the zone");
    assert_eq!(first["hand"], json!("makes-85"));
    let exact = graded(&json!({"hand": "makes-85"})).expect("sound");
    assert_eq!(first["zone"], exact["zone"], "also when it is played exactly");
    for (more, message) in [
        (json!({"exact": false, "index": 0}), "seed: must be given"),
        (
            json!({"hand": "mine"}),
            "hand: must be one of makes-95, makes-85, makes-60, makes-35, tournament-noise, not \"mine\"",
        ),
        (
            json!({"stroke": null}),
            "stroke: must be an object with azimuth, elevation, speed, side, height, not nothing",
        ),
    ] {
        assert_eq!(graded(&more).expect_err(message).to_string(), message);
    }
    let mut fast = request(&json!({}));
    fast["stroke"]["speed"] = json!(20);
    let error = grade_leave(&value(&fast)).expect_err("too fast");
    assert_eq!(error.field(), "stroke.speed", "{error}");
}

#[test]
fn a_stroke_that_meets_nothing_is_graded_too() {
    let mut request = request(&json!({}));
    request["stroke"]["azimuth"] = json!(180);
    request["stroke"]["speed"] = json!(0.3);
    let result = json(&grade_leave(&value(&request)).expect("a sound stroke"));
    assert_eq!((&result["path"], &result["grade"]), (&json!(null), &json!(null)));
    assert_eq!(result["potted"], json!(false));
    assert_eq!(result["sentence"], json!("This stroke misses the 3."));
}

#[test]
fn a_link_carries_item_and_sealed_answer() {
    let item = leave_item(&leave_text(SHOT3, DEMAND)).expect("a sound item");
    let own = answer(ANSWER).expect("a sound answer");
    let link = make_leave(&item, Some(&own)).expect("short enough");
    assert!(link.starts_with("leave=2.") && link.len() <= 160, "{link}");
    let AnyOpened::Leave(opened) =
        open_any(&format!("see https://example.org/#{link}!")).expect("whole")
    else {
        panic!("a Leave link");
    };
    assert_eq!(opened.item, item, "to the bit");
    let sealed = opened.sealed.expect("the answer came along");
    assert_eq!(unseal_answer(&sealed), Ok(own.clone()));
    let result = graded(&json!({"sealed": sealed})).expect("sound");
    assert_eq!(result["sender"]["zone"], result["zone"], "the same answer");
    assert_eq!(result["sender"]["answer"]["zone"], json(&write_answer(&own))["zone"]);

    let form = json!({"item": json(&write_leave_item(&item)), "answer": serde_json::from_str::<Json>(ANSWER).expect("JSON")});
    assert_eq!(make_link(&value(&form)), Ok(link.clone()), "by the page's request");
    let shown = json(&open_link(&link).expect("whole"));
    assert_eq!(shown["kind"], json!("leave"));
    assert_eq!(shown["sealed"].as_str(), Some(sealed.as_str()));
    assert!(open(&link).is_err(), "no Read link");
    assert!(open_any(&link[..link.len() - 1]).is_err(), "cut off");
    let altered = link.replacen("leave=2", "leave=3", 1);
    assert!(matches!(open_any(&altered), Err(Error::Malformed { .. })), "altered, not newer");
    assert!(open_any_as(2, &link).is_ok(), "a later model opens it");
}

#[test]
fn a_read_link_is_opened_as_ever() {
    let read = item(&item_text(SHOT)).expect("a sound item");
    let call = super::call(CALL).expect("a sound call");
    let link = make(&read, Some(&call)).expect("short enough");
    let AnyOpened::Read(opened) = open_any(&link).expect("whole") else {
        panic!("a Read link");
    };
    assert_eq!(Ok(opened), open(&link));
    let shown = json(&open_link(&link).expect("whole"));
    let fields: Vec<_> = shown.as_object().expect("an object").keys().cloned().collect();
    assert_eq!(fields, ["question", "sealed"], "its kind is not told");
}
