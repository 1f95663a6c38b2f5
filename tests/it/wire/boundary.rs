//! The functions behind the page, one request in, one reply out.

use super::{CALL, SHOT, call, item_text};
use crate::harness::{publish, published};
use leaveline::layout::deal_read;
use leaveline::physics::play;
use leaveline::practice::{Call, CallPoint, CuePath, ReadItem};
use leaveline::table::TableSize;
use leaveline::wire::{self, Value, compact, make_link, parse, seal, write_call, write_item};
use proptest::prelude::*;
use serde::Serialize;
use serde_json::Value as Json;
use std::sync::LazyLock;

fn form(text: &str) -> Value {
    parse(text).expect("JSON")
}

/// A reply as the page would see it.
fn seen(reply: &impl Serialize) -> Json {
    serde_json::from_str(&compact(reply).expect("a reply is JSON")).expect("JSON")
}

/// One dealt item for all tests here, and the cue ball's path.
static DEALT: LazyLock<(ReadItem, CuePath)> = LazyLock::new(|| {
    let item = deal_read(3, 20_011, TableSize::NineFoot).expect("dealt");
    let outcome = play(&item.shot).expect("sound");
    let path = CuePath::of(&item.shot, &outcome).expect("a contact");
    (item, path)
});

/// The call that draws every corner of the true path, and its bend in some chords.
fn perfect(path: &CuePath) -> Call {
    let touches = path.rail_touches().map(|(rail, touch)| {
        (touch.time, CallPoint { position: touch.position, rail: Some(rail) })
    });
    let bends = path.path[1..path.path.len() - 1]
        .iter()
        .filter(|sample| path.touches.iter().all(|touch| touch.time != sample.time))
        .map(|sample| (sample.time, CallPoint { position: sample.position, rail: None }));
    let mut points: Vec<(f64, CallPoint)> = touches.chain(bends).collect();
    points.sort_by(|a, b| a.0.total_cmp(&b.0));
    assert!(points.len() <= wire::MOST_CALL_POINTS, "{} points", points.len());
    Call { points: points.into_iter().map(|(_, point)| point).collect(), stop: path.stop }
}

/// A request about the dealt item with these other fields.
fn about(rest: Vec<(&str, Value)>) -> Value {
    let mut fields = vec![("item".to_owned(), write_item(&DEALT.0))];
    fields.extend(rest.into_iter().map(|(name, value)| (name.to_owned(), value)));
    Value::Fields(fields)
}

fn grade_of(call: Value, sealed: Option<&str>) -> Result<Json, String> {
    let mut rest = vec![("call", call)];
    rest.extend(sealed.map(|text| ("sealed", Value::text(text))));
    wire::grade(&about(rest)).map(|reply| seen(&reply)).map_err(|error| error.to_string())
}

#[test]
fn a_deal_is_the_item_of_its_seed_and_says_what_is_asked() {
    let reply = seen(&wire::deal(&form(r#"{"level":3,"seed":20011}"#)).expect("dealt"));
    assert_eq!(reply["item"], seen(&write_item(&DEALT.0)), "the layout's own deal");
    assert_eq!(reply["level"]["level"], 3);
    assert!(reply["deal"].is_string(), "a dealt item has a code");
    let object = &reply["balls"][1]["id"];
    assert_eq!(reply["aim"]["first"], *object, "the only other ball");
    assert_eq!(
        reply["task"],
        format!("Where does the cue ball go off the {}?", object.as_str().expect("a name"))
    );
    assert!(reply["aim"]["pocket"].is_string(), "it goes somewhere");
    assert_eq!(reply["table"]["outline"].as_array().map(Vec::len), Some(24), "corners");
    assert_eq!(reply["table"]["pockets"].as_array().map(Vec::len), Some(6), "pockets");
    let last = reply["aim"]["path"].as_array().and_then(|path| path.last()).expect("a path");
    assert_eq!([&last[0], &last[1]], [&reply["aim"]["ghost"]["x"], &reply["aim"]["ghost"]["y"]]);
    let text = reply.to_string();
    for told in ["\"stop\"", "\"touches\"", "\"mark\""] {
        assert!(!text.contains(told), "the question gives away {told}");
    }
}

#[test]
fn a_deal_that_cannot_be_is_refused_by_field() {
    let refused = |text: &str| wire::deal(&form(text)).expect_err(text).to_string();
    assert_eq!(
        refused(r#"{"level":7,"seed":1}"#),
        "level is 7: must be a whole number from 1 to 6"
    );
    assert_eq!(
        refused(r#"{"level":1,"seed":4294967296}"#),
        "seed is 4294967296: must be a whole number from 0 to 4294967295"
    );
    assert_eq!(
        refused(r#"{"level":1,"seed":1,"size":"snooker"}"#),
        "size: must be one of nine-foot, eight-foot, seven-foot, not \"snooker\""
    );
    let nan = Value::fields([("level", f64::NAN.into()), ("seed", 1.0.into())]);
    let error = wire::deal(&nan).expect_err("no number").to_string();
    assert_eq!(error, "level is NaN: must be a finite number");
}

#[test]
fn kept_and_sent_items_show_the_same_question() {
    let dealt = wire::deal(&form(r#"{"level":3,"seed":20011}"#)).expect("dealt");
    let kept = wire::open_item(&write_item(&DEALT.0)).expect("our own");
    assert_eq!(kept, dealt, "kept");
    let call = write_call(&call(CALL).expect("sound"));
    for (request, sealed) in [(about(vec![]), false), (about(vec![("call", call)]), true)] {
        let link = make_link(&request).expect("short enough");
        let opened = seen(&wire::open_link(&link).expect("our own"));
        assert_eq!(opened["question"], seen(&dealt), "by link");
        assert_eq!(opened["sealed"].is_string(), sealed, "{}", opened["sealed"]);
        assert_eq!(opened["sealed"].is_null(), !sealed, "null if there is none");
    }
}

#[test]
fn an_item_without_a_question_is_refused() {
    let away = item_text(SHOT).replace(r#""azimuth":26.6"#, r#""azimuth":200"#);
    let error = wire::open_item(&form(&away)).expect_err("it meets nothing").to_string();
    assert_eq!(error, "shot: the cue ball must meet an object ball");
    let link = make_link(&form(&format!(r#"{{"item":{away}}}"#))).expect("a sound item");
    let error = wire::open_link(&link).expect_err("it meets nothing").to_string();
    assert_eq!(error, "shot: the cue ball must meet an object ball");
    let error = wire::open_item(&form("{}")).expect_err("nothing at all");
    assert_eq!(error.to_string(), "version: must be given");
}

#[test]
fn a_placed_point_comes_onto_the_cloth_or_its_rail() {
    let snap = |x: f64, y: f64, reach: f64, snap: bool| {
        let rest = vec![
            ("x", x.into()),
            ("y", y.into()),
            ("reach", reach.into()),
            ("snap", Value::Bool(snap)),
        ];
        wire::snap(&about(rest)).map(|point| seen(&point)).map_err(|error| error.to_string())
    };
    let card = &DEALT.0.shot.card;
    let touch = card.touch_distance();
    let rail = snap(1.0, 0.05, 0.06, true).expect("on the table");
    assert_eq!((&rail["rail"], &rail["y"]), (&"right".into(), &touch.into()), "{rail}");
    let free = snap(1.0, 0.05, 0.06, false).expect("on the table");
    assert!(free.get("rail").is_none(), "no field at all, as in a call: {free}");
    let beside = snap(-50.0, 50.0, 0.0, false).expect("brought back");
    assert_eq!(beside["words"], "diamond 0.1 from the head, 3.9 from the right");
    for (x, reach, message) in [
        (f64::NAN, 0.1, "x is NaN: must be a finite number"),
        (f64::INFINITY, 0.1, "x is inf: must be a finite number"),
        (100.5, 0.1, "x is 100.5: must lie from -100 to 100 m"),
        (1.0, f64::NAN, "reach is NaN: must be a finite number"),
        (1.0, -0.1, "reach is -0.1: must not be negative"),
    ] {
        assert_eq!(snap(x, 0.5, reach, true), Err(message.to_owned()));
    }
}

#[test]
fn a_typed_point_is_where_its_diamonds_are() {
    let at = |text: &str| {
        let Value::Fields(fields) = form(text) else { panic!("an object: {text}") };
        let mut all = vec![("item".to_owned(), write_item(&DEALT.0))];
        all.extend(fields);
        let reply = wire::point_at(&Value::Fields(all));
        reply.map(|point| seen(&point)).map_err(|error| error.to_string())
    };
    assert_eq!(
        at(r#"{"rail":"foot","along":2.5}"#).expect("a diamond")["words"],
        "foot rail, diamond 2.5"
    );
    let cloth = at(r#"{"along":4,"across":2}"#).expect("the middle");
    let card = &DEALT.0.shot.card;
    assert_eq!(
        (&cloth["x"], &cloth["y"]),
        (&(card.length / 2.0).into(), &(card.width / 2.0).into())
    );
    for (text, message) in [
        (r#"{"rail":"foot","along":4.1}"#, "along is 4.1: must lie from 0 to 4 on the foot rail"),
        (r#"{"rail":"left","along":-0.1}"#, "along is -0.1: must lie from 0 to 8 on the left rail"),
        (r#"{"along":8.1,"across":1}"#, "along is 8.1: must lie from 0 to 8"),
        (r#"{"along":8,"across":"1"}"#, "across: must be a number, not a text"),
        (
            r#"{"rail":"top","along":1}"#,
            "rail: must be one of head, foot, right, left, not \"top\"",
        ),
    ] {
        assert_eq!(at(text), Err(message.to_owned()), "{text}");
    }
}

/// Half a percent of rounding is left for chords within 1 mm of the curve.
#[test]
fn the_perfect_call_earns_the_whole_mark() {
    let reply = grade_of(write_call(&perfect(&DEALT.1)), None).expect("on the cloth");
    let mark = reply["grade"]["mark"].as_f64().expect("a number");
    assert!(mark >= 99.9, "{reply}");
    assert!(reply["sender"].is_null(), "nobody sent it");
    let (path, stop) = (&DEALT.1.path, &DEALT.1.stop);
    assert_eq!(reply["path"].as_array().map(Vec::len), Some(path.len()), "the whole curve");
    assert_eq!(reply["stop"]["x"].as_f64(), Some(stop.x), "to the bit");
    assert!(reply["stop"]["pocket"].is_null(), "no scratch");
    assert!(reply.get("tracks").is_none(), "tracks go as arrays, not as JSON");
}

#[test]
fn tracks_hold_every_ball_that_moves_in_triples() {
    let call = write_call(&perfect(&DEALT.1));
    let reply = wire::grade(&about(vec![("call", call)])).expect("on the cloth");
    let tracks = reply.tracks();
    assert_eq!(tracks.len(), 2, "both balls move");
    assert_eq!(tracks[0].id, "cue");
    assert_eq!(tracks[0].pocketed_at, None, "the cue ball stays");
    assert!(tracks[1].pocketed_at.is_some(), "the object ball falls");
    for track in tracks {
        assert_eq!(track.samples.len() % 3, 0, "triples");
        let times: Vec<f64> = track.samples.chunks(3).map(|triple| triple[0]).collect();
        assert!(times.windows(2).all(|pair| pair[0] < pair[1]), "in order: {times:?}");
    }
}

#[test]
fn a_call_has_at_most_32_points() {
    let call = |n: usize| {
        let point = Value::fields([("x", 1.0.into()), ("y", 0.5.into())]);
        Value::fields([("points", Value::List(vec![point.clone(); n])), ("stop", point)])
    };
    let reply = grade_of(call(32), None).expect("just enough");
    let mark = reply["grade"]["mark"].as_f64().expect("a number");
    assert!((0.0..50.0).contains(&mark), "all of them in one place: {mark}");
    assert_eq!(
        grade_of(call(33), None),
        Err("call.points.length is 33: must have 0 to 32 entries".to_owned())
    );
    assert!(grade_of(call(0), None).is_ok(), "a stop alone is a call");
}

#[test]
fn a_call_off_the_cloth_is_refused_by_the_point() {
    for (text, message) in [
        (
            r#"{"points":[{"x":1,"y":0.5},{"x":1,"y":1.3}],"stop":{"x":1,"y":1}}"#,
            "call.points[1]: must lie on the cloth",
        ),
        (r#"{"points":[],"stop":{"x":-0.1,"y":1}}"#, "call.stop: must lie on the cloth"),
        (
            r#"{"points":[{"x":1,"y":0.5,"rail":"left"}],"stop":{"x":1,"y":1}}"#,
            "call.points[0]: must touch the left rail, as it says",
        ),
        (
            r#"{"points":[{"x":1000,"y":0.5}],"stop":{"x":1,"y":1}}"#,
            "call.points[0].x is 1000: must lie from -100 to 100 m",
        ),
        (r#"{"points":[]}"#, "call.stop: must be given"),
    ] {
        assert_eq!(grade_of(form(text), None), Err(message.to_owned()));
    }
    for number in [f64::NAN, f64::INFINITY, f64::NEG_INFINITY] {
        let stop = Value::fields([("x", 1.0.into()), ("y", number.into())]);
        let call = Value::fields([("points", Value::List(vec![])), ("stop", stop)]);
        let message = format!("call.stop.y is {number}: must be a finite number");
        assert_eq!(grade_of(call, None), Err(message));
    }
}

#[test]
fn the_senders_call_is_graded_beside_the_players() {
    let best = perfect(&DEALT.1);
    let poor = Call { points: vec![], stop: DEALT.1.ghost };
    let sealed = seal(&best).expect("finite");
    let reply = grade_of(write_call(&poor), Some(&sealed)).expect("both on the cloth");
    assert_eq!(reply["sender"]["call"], seen(&write_call(&best)), "shown after playing");
    let marks = [&reply["sender"]["grade"]["mark"], &reply["grade"]["mark"]];
    let marks = marks.map(|mark| mark.as_f64().expect("a number"));
    assert!(marks[0] >= 99.9 && marks[1] < 50.0, "each by its own call: {marks:?}");
}

#[test]
fn a_sealed_call_of_another_item_is_refused_by_name() {
    let own = write_call(&perfect(&DEALT.1));
    let mut seven = DEALT.0.clone();
    seven.shot = deal_read(2, 5, TableSize::SevenFoot).expect("dealt").shot;
    // A stop near the foot of a nine-foot table lies beyond a seven-foot one.
    let far = seal(&Call { points: vec![], stop: glam::DVec2::new(2.3, 0.5) }).expect("finite");
    let outcome = play(&seven.shot).expect("sound");
    let stop = CuePath::of(&seven.shot, &outcome).expect("a contact").stop;
    let here = write_call(&Call { points: vec![], stop });
    let request = Value::fields([
        ("item", write_item(&seven)),
        ("call", here),
        ("sealed", Value::text(far.clone())),
    ]);
    let error = wire::grade(&request).expect_err("off this table").to_string();
    assert_eq!(error, "sealed.call.stop: must lie on the cloth");
    assert!(grade_of(own, Some(&far)).is_ok(), "on its own table it counts");
}

/// A sealed text whose check is right, whatever it holds.
fn forged(json: &str) -> String {
    use base64::Engine;
    let encode = |bytes: &[u8]| base64::engine::general_purpose::URL_SAFE_NO_PAD.encode(bytes);
    let body = format!("call=1.{}", encode(json.as_bytes()));
    let check = crc32fast::hash(body.as_bytes()).to_be_bytes();
    format!("{body}.{}", encode(&check))
}

#[test]
fn hostile_sealed_texts_are_refused_one_by_one() {
    let own = || write_call(&perfect(&DEALT.1));
    let well = forged(&compact(&own()).expect("JSON"));
    assert!(grade_of(own(), Some(&well)).is_ok(), "forged well it is a call like any");
    let altered = "link: the link is cut off or altered: ask for it again";
    let none = "link: there is no link in this text: paste the whole of it";
    let many = format!(r#"{{"points":[{}],"stop":{{"x":1,"y":1}}}}"#, vec!["0"; 33].join(","));
    let link = make_link(&about(vec![])).expect("short enough");
    for (sealed, message) in [
        (String::new(), none),
        ("call".into(), none),
        ("call=".into(), altered),
        ("call=1..".into(), altered),
        ("call=1.e30.AAAAAA".into(), altered),
        (link, none),
        (forged("{}"), "call.points: must be given"),
        (forged("null"), "call: must be an object with points, stop, not nothing"),
        (forged(&CALL.replace("1.02", "1e3")), "call.stop.x is 1000: must lie from -100 to 100 m"),
        (forged(&many), "call.points.length is 33: must have 0 to 32 entries"),
    ] {
        assert_eq!(grade_of(own(), Some(&sealed)), Err(message.to_owned()), "{sealed}");
    }
    let nan = grade_of(own(), Some(&forged(&CALL.replace("1.02", "NaN"))));
    assert!(nan.expect_err("no JSON").contains("expected value"), "NaN is no JSON");
    let long = "call=1.".to_owned() + &"A".repeat(20_000);
    assert_eq!(grade_of(own(), Some(&long)), Err(altered.to_owned()), "long");
    let error = parse(&format!(r#"{{"sealed":"{long}"}}"#)).expect_err("too long").to_string();
    assert_eq!(error, "sealed: a text of more than 16384 bytes", "before it is read");
    let deep = forged(&("[".repeat(40) + &"]".repeat(40)));
    let error = grade_of(own(), Some(&deep)).expect_err("too deep");
    assert!(error.contains("nested more than 16 levels deep"), "{error}");
}

#[test]
fn there_are_six_levels_with_names_and_words() {
    let levels = seen(&wire::levels());
    let levels = levels.as_array().expect("a list");
    assert_eq!(levels.len(), 6);
    for (k, level) in levels.iter().enumerate() {
        assert_eq!(level["level"], k + 1);
        for field in ["name", "words"] {
            assert!(!level[field].as_str().expect("a text").is_empty(), "{field} of {level}");
        }
    }
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(64))]

    /// Any call on the cloth is graded from 0 to 100, or refused by a field.
    #[test]
    fn any_call_is_graded_or_refused_by_name(
        places in prop::collection::vec((-0.2..2.8f64, -0.2..1.5f64, 0..5usize), 0..8),
        stop in (-0.2..2.8f64, -0.2..1.5f64),
    ) {
        let rails = [None, Some("head"), Some("foot"), Some("right"), Some("left")];
        let points = places.iter().map(|&(x, y, rail)| match rails[rail] {
            Some(rail) => Value::fields([("x", x.into()), ("y", y.into()), ("rail", Value::text(rail))]),
            None => Value::fields([("x", x.into()), ("y", y.into())]),
        });
        let stop = Value::fields([("x", stop.0.into()), ("y", stop.1.into())]);
        let call = Value::fields([("points", Value::List(points.collect())), ("stop", stop)]);
        match grade_of(call, None) {
            Ok(reply) => {
                let mark = reply["grade"]["mark"].as_f64().expect("a number");
                prop_assert!((0.0..=100.0).contains(&mark), "{mark}");
            }
            Err(message) => prop_assert!(message.starts_with("call."), "{message}"),
        }
    }
}

/// Deals and grades as native code gives them; the tests in the browser and in Node
/// read the same file. `LEAVELINE_PUBLISH=1 cargo test` writes it anew.
const GOLDEN: &str = "tests/golden/deals.json";

#[test]
fn the_golden_deals_and_grades_are_true() {
    let golden: Vec<Json> = serde_json::from_str(&published(GOLDEN)).expect("a list");
    assert!(golden.len() >= 6, "one of each level");
    let mut now = Vec::new();
    for entry in &golden {
        let request = form(&entry["deal"].to_string());
        let question = seen(&wire::deal(&request).expect("dealt"));
        let item = question["item"].clone();
        let request = Value::fields([
            ("item", form(&item.to_string())),
            ("call", form(&entry["call"].to_string())),
        ]);
        let grade = seen(&wire::grade(&request).expect("on the cloth"))["grade"].clone();
        now.push(serde_json::json!({
            "deal": entry["deal"], "item": item, "call": entry["call"], "grade": grade,
        }));
    }
    let lines: Vec<String> = now.iter().map(Json::to_string).collect();
    let text = format!("[{}]\n", lines.join(",\n"));
    publish(GOLDEN, &text);
    assert_eq!(text, published(GOLDEN), "{GOLDEN} would be:\n{text}");
}
