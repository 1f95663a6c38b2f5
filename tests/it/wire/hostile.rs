//! Input from people who mean no good, and from programs that went wrong.

use super::{OWN_TABLE, SHOT, call, item, item_text, shot};
use leaveline::Error;
use leaveline::wire::{Value, parse, read_shot};
use proptest::prelude::*;

/// The message with which the example is refused once `from` became `to`.
fn refused(from: &str, to: &str) -> String {
    assert!(SHOT.contains(from), "the example has {from}");
    shot(&SHOT.replacen(from, to, 1)).expect_err("refused").to_string()
}

#[test]
fn a_misspelt_field_is_named_with_those_that_exist() {
    assert_eq!(
        refused("\"speed\"", "\"sped\""),
        "stroke.sped: unknown field; known are azimuth, elevation, speed, side, height"
    );
    assert_eq!(
        refused("\"id\":\"3\"", "\"no\":\"3\""),
        "balls[1].no: unknown field; known are id, x, y"
    );
    let deep = shot(&OWN_TABLE.replace("\"floor\"", "\"flor\"")).expect_err("refused");
    assert_eq!(deep.field(), "table.ballFriction.flor");
    let item = item(&item_text(SHOT).replace("\"size\"", "\"sise\"")).expect_err("refused");
    assert_eq!(item.field(), "shot.table.sise");
}

#[test]
fn a_missing_field_is_named() {
    assert_eq!(refused(r#","y":0.7"#, ""), "balls[1].y: must be given");
    assert_eq!(shot("{}").expect_err("refused").to_string(), "version: must be given");
    let part = OWN_TABLE.replace(r#","decay":0.8"#, "");
    assert_eq!(
        shot(&part).expect_err("objects are replaced whole").to_string(),
        "table.ballFriction.decay: must be given"
    );
}

#[test]
fn a_wrong_type_is_named() {
    assert_eq!(refused("1.8", "\"fast\""), "stroke.speed: must be a number, not a text");
    assert_eq!(refused("1.8", "null"), "stroke.speed: must be a number, not nothing");
    assert_eq!(refused("\"3\"", "3"), "balls[1].id: must be a text, not a number");
    assert_eq!(
        refused("\"3\"", "\"03\""),
        "balls[1].id: must be \"cue\" or one of \"1\" to \"15\""
    );
    assert_eq!(
        refused("nine-foot", "ten-foot"),
        "table.size: must be one of nine-foot, eight-foot, seven-foot, not \"ten-foot\""
    );
    assert_eq!(
        shot("[1]").expect_err("refused").to_string(),
        "form: must be an object with version, table, balls, stroke, not a list"
    );
    let null = SHOT.replace(r#""nine-foot""#, r#""nine-foot","gravity":null"#);
    assert_eq!(
        shot(&null).expect_err("a null may have been a NaN").to_string(),
        "table.gravity: must be a number, not nothing"
    );
}

#[test]
fn a_version_of_the_future_is_told_before_its_fields_are_blamed() {
    let newer = "made by a newer version of this page: reload the page to get that version";
    let future = SHOT.replace(r#""version":1"#, r#""version":2,"wind":3"#);
    let error = shot(&future).expect_err("refused");
    assert_eq!(error.to_string(), format!("version is 2: {newer}"));
    let model = item_text(SHOT).replace(r#""model":1"#, r#""model":7"#);
    let error = item(&model).expect_err("refused");
    assert_eq!(error.to_string(), format!("model is 7: {newer}"));
    assert_eq!(refused(r#""version":1"#, r#""version":0"#), "version is 0: must be 1");
    assert_eq!(refused(r#""version":1"#, r#""version":1.5"#), "version is 1.5: must be 1");
}

#[test]
fn numbers_that_are_none_are_refused_by_name() {
    for number in [f64::NAN, f64::INFINITY, f64::NEG_INFINITY] {
        let mut form = parse(SHOT).expect("a sound form");
        let Value::Fields(fields) = &mut form else { panic!("a shot is an object") };
        let Some((_, Value::Fields(stroke))) = fields.last_mut() else {
            panic!("the stroke is last")
        };
        stroke[2].1 = Value::Number(number);
        let error = read_shot(&form, "").expect_err("not a finite number");
        assert_eq!(error.to_string(), format!("stroke.speed is {number}: must be a finite number"));
        assert!(matches!(error, Error::OutOfRange { .. }), "a number out of range: {error:?}");
    }
    assert!(refused("1.8", "NaN").starts_with("stroke.speed: expected value"), "no JSON");
    assert!(refused("1.8", "1e999").starts_with("stroke.speed: number out of range"), "too large");
    assert!(
        refused("1.8", "9007199254740993")
            .starts_with("stroke.speed: 9007199254740993 has more digits"),
        "no f64 equals this"
    );
    assert!(
        refused("1.8", "-9223372036854775807")
            .starts_with("stroke.speed: -9223372036854775807 has"),
        "nor this"
    );
}

#[test]
fn a_field_given_twice_is_refused() {
    assert_eq!(refused(r#""side":0"#, r#""side":0,"side":0"#), "stroke.side: given twice");
    let escaped = refused(r#""side":0"#, r#""side":0,"s\u0069de":0"#);
    assert_eq!(escaped, "stroke.side: given twice", "also when spelt with an escape");
}

#[test]
fn names_that_mean_something_to_javascript_mean_nothing_here() {
    for name in ["__proto__", "constructor", "toString", "", " speed", "speed\\u0000", "Speed"] {
        let error = refused(r#""side":0"#, &format!(r#""side":0,"{name}":0"#));
        assert!(error.contains("unknown field"), "{name:?}: {error}");
    }
}

#[test]
fn nesting_ends_early() {
    for (open, close) in [("[", "]"), ("{\"a\":", "}")] {
        for depth in [17, 126, 100_000] {
            let text = if depth * open.len() > 200_000 {
                open.repeat(200_000 / open.len())
            } else {
                open.repeat(depth) + "0" + &close.repeat(depth)
            };
            let error = parse(&text).expect_err("too deep").to_string();
            assert!(error.contains("nested more than 16 levels deep"), "{depth}: {error}");
            assert!(error.len() < 120, "and briefly: {error}");
        }
    }
}

#[test]
fn floods_end_early() {
    let ball = r#"{"id":"1","x":1,"y":1}"#;
    let flood = |n: usize| SHOT.replace(r#"{"id":"3","x":1.2,"y":0.7}"#, &vec![ball; n].join(","));
    let few = shot(&flood(16)).expect_err("one too many").to_string();
    assert_eq!(few, "balls.length is 17: must have 1 to 16 entries");
    let many = shot(&flood(5_000)).expect_err("many too many").to_string();
    assert_eq!(many, "balls: a list of more than 256 entries");
    let more = shot(&flood(20_000)).expect_err("too long a text").to_string();
    assert_eq!(more, "form: the text is longer than 262144 bytes");
    let wide: Vec<_> = (0..100).map(|k| format!("\"f{k}\":0")).collect();
    let wide = parse(&format!("{{{}}}", wide.join(","))).expect_err("too wide").to_string();
    assert_eq!(wide, "f64: an object of more than 64 fields");
    let lists = format!("[{}]", vec![format!("[{}]", vec!["0"; 200].join(",")); 200].join(","));
    let lists = parse(&lists).expect_err("too much").to_string();
    assert!(lists.ends_with("the form holds more than 2000 values"), "{lists}");
    let name = format!("{{\"{}\":0}}", "n".repeat(65));
    assert!(parse(&name).is_err(), "a very long name");
    let long = refused("\"3\"", &format!("\"{}\"", "3".repeat(17_000)));
    assert_eq!(long, "balls[1].id: a text of more than 16384 bytes");
}

#[test]
fn broken_text_says_where() {
    let cut = shot(&SHOT[..SHOT.len() - 20]).expect_err("cut off").to_string();
    assert!(cut.contains("line 1 column"), "{cut}");
    assert!(parse("").is_err() && parse(" ").is_err(), "nothing at all");
    assert!(parse("{} {}").expect_err("two forms").to_string().contains("trailing"), "two forms");
    assert!(parse(r#""\ud800""#).is_err(), "half a surrogate pair");
    assert!(parse("\u{feff}{}").is_err(), "a byte order mark is no JSON");
}

#[test]
fn a_call_keeps_to_its_limits() {
    let points = |n: usize| {
        format!(
            r#"{{"points":[{}],"stop":{{"x":1,"y":1}}}}"#,
            vec![r#"{"x":1,"y":1}"#; n].join(",")
        )
    };
    assert!(call(&points(0)).is_ok() && call(&points(32)).is_ok(), "none to 32");
    assert_eq!(
        call(&points(33)).expect_err("too many").to_string(),
        "points.length is 33: must have 0 to 32 entries"
    );
    let far = points(1).replacen("\"x\":1", "\"x\":1e300", 1);
    let far = call(&far).expect_err("far off").to_string();
    assert!(far.starts_with("points[0].x is 1000"), "{far}");
    let null = points(1).replacen("\"y\":1", "\"y\":1,\"rail\":null", 1);
    assert_eq!(call(&null), call(&points(1)), "no rail is no rail");
}

proptest! {
    #[test]
    fn no_text_upsets_the_reader(text in "\\PC{0,300}") {
        let _ = shot(&text);
        let _ = item(&text);
    }

    /// One byte of a sound form replaced by another: read or refused, never a panic.
    #[test]
    fn no_altered_form_upsets_the_reader(at in 0..OWN_TABLE.len(), byte in 32u8..127) {
        let mut bytes = OWN_TABLE.as_bytes().to_vec();
        bytes[at] = byte;
        let text = String::from_utf8(bytes).expect("ASCII stays ASCII");
        if let Err(error) = shot(&text) {
            prop_assert!(!error.field().is_empty() && !error.rule().is_empty());
        }
    }
}
