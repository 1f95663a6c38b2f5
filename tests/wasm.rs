//! The boundary in a real browser: what only JavaScript values can do.
//!
//! Natively this file is empty; everything that the boundary calls is tested in
//! `tests/it`.
#![cfg(target_arch = "wasm32")]

use js_sys::{Error, Float64Array, Function, JSON, Reflect};
use leaveline::wasm::{
    code, deal, ends, fresh_seed, grade, levels, make_link, model_version, open_item, open_link,
    play, play_packed, play_text, point_at, snap,
};
use leaveline::wire::{Value, parse};
use wasm_bindgen::{JsCast, JsValue};
use wasm_bindgen_test::{wasm_bindgen_test as test, wasm_bindgen_test_configure};

wasm_bindgen_test_configure!(run_in_browser);

/// What a piece of JavaScript gives, with `item` and `call` in reach.
fn script(body: &str) -> JsValue {
    let both = r#"
        const item = {
            version: 1, kind: "read", model: 1, level: 3,
            shot: {
                version: 1, table: { size: "nine-foot" },
                balls: [{ id: "cue", x: 0.6, y: 0.4 }, { id: "3", x: 1.2, y: 0.7 }],
                stroke: { azimuth: 26.6, elevation: 0, speed: 1.8, side: 0, height: -0.3 },
            },
        };
        const call = { points: [{ x: 2.5, y: 0.8, rail: "foot" }], stop: { x: 1, y: 1 } };
    "#;
    Function::new_no_args(&format!("{both}{body}"))
        .call0(&JsValue::NULL)
        .expect("the script itself does not throw")
}

fn text_of(error: &JsValue, field: &str) -> String {
    Reflect::get(error, &field.into()).expect("an object").as_string().expect("a text")
}

/// The message with which a request for a link is refused.
fn refused(body: &str) -> String {
    match make_link(&script(body)) {
        Ok(link) => panic!("{body} was accepted: {link}"),
        Err(refusal) => String::from(refusal.unchecked_into::<Error>().message()),
    }
}

#[test]
fn errors_are_errors_with_a_field_and_a_rule() {
    let Err(refusal) = make_link(&script("item.shot.stroke.speed = 99; return { item };")) else {
        panic!("too fast")
    };
    let thrown = JsValue::from(refusal);
    assert!(thrown.is_instance_of::<Error>(), "an Error, so that it has a stack");
    assert_eq!(text_of(&thrown, "name"), "LeavelineError", "known by its name");
    assert_eq!(text_of(&thrown, "field"), "item.shot.stroke.speed", "which field");
    assert_eq!(text_of(&thrown, "rule"), "must be positive and at most 15 m/s", "which rule");
    assert_eq!(
        text_of(&thrown, "message"),
        "item.shot.stroke.speed is 99: must be positive and at most 15 m/s",
        "all in one sentence"
    );
}

#[test]
fn a_code_is_made_of_a_text() {
    let made = code(&"#read=1.x".into()).ok().expect("a text");
    // The smallest code holds 7 bytes at H and 11 at Q (ISO/IEC 18004, table 7, from memory).
    assert_eq!(text_of(&made, "level"), "Q", "a plain object");
    assert!(text_of(&made, "path").starts_with("M4 4h7"), "behind its quiet zone");
    assert!(code(&JsValue::from(5)).is_err(), "a number is none");
}

/// The published example, which a native test holds to be true.
const OUTCOME: &str = include_str!("../www/schema/outcome.example.json");

#[test]
fn the_browser_plays_to_the_same_bits_as_native_code() {
    let text = include_str!("../www/schema/shot.example.json");
    let outcome = play_text(&text.into()).ok().expect("legal");
    assert_eq!(outcome, OUTCOME.trim_end(), "to the last digit");
}

#[test]
fn objects_play_like_text() {
    let outcome = play(&script("return item.shot;")).ok().expect("legal");
    let plain = JSON::parse(OUTCOME).expect("JSON");
    let both = js_sys::Array::of2(&outcome, &plain);
    let differs = Function::new_with_args(
        "both",
        "const differ = (a, b, path) => {
            if (Object.getPrototypeOf(a) !== Object.getPrototypeOf(b)) return path;
            if (typeof a !== 'object') return a === b ? null : path;
            const keys = new Set([...Object.keys(a), ...Object.keys(b)]);
            for (const key of keys) {
                if (!(key in a && key in b)) return `${path}.${key}`;
                const found = differ(a[key], b[key], `${path}.${key}`);
                if (found) return found;
            }
            return null;
        };
        return differ(both[0], both[1], 'outcome');",
    );
    let found = differs.call1(&JsValue::NULL, &both).expect("no throw");
    assert!(found.is_null(), "plain objects, the same all through, but for {found:?}");
}

#[test]
fn packed_numbers_are_a_copy_that_outlives_the_modules_memory() {
    let shot = script("return item.shot;");
    let packed: Float64Array = play_packed(&shot).ok().expect("legal");
    let before = packed.to_vec();
    assert_eq!(before[0], 1.0, "the layout's version");
    let memory = wasm_bindgen::memory().unchecked_into::<js_sys::WebAssembly::Memory>();
    assert!(!js_sys::Object::is(&packed.buffer(), &memory.buffer()), "a buffer of its own");
    memory.grow(64);
    for _ in 0..50 {
        assert!(play_packed(&shot).is_ok(), "later shots write elsewhere");
    }
    assert_eq!(packed.to_vec(), before, "nothing moved under it");
}

#[test]
fn ends_are_those_of_the_outcome() {
    let shot = script("return item.shot;");
    let strokes = script("return new Float64Array([120, 0, 3, 0, 0, 26.6, 0, 1.8, 0, -0.3]);");
    let told = ends(&shot, &strokes).ok().expect("legal").to_vec();
    let outcome = parse(OUTCOME).expect("JSON");
    let Value::Fields(fields) = outcome else { panic!("an object") };
    let (_, balls) = fields.iter().find(|(name, _)| name == "balls").expect("balls");
    let Value::List(balls) = balls else { panic!("a list") };
    assert_eq!(told.len(), 2 * balls.len() * 3, "three numbers a ball and stroke");
    let number = |ball: &Value, name: &str| match ball {
        Value::Fields(fields) => fields.iter().find(|(other, _)| other == name).cloned(),
        _ => None,
    };
    for (ball, row) in balls.iter().zip(told[3 * balls.len()..].chunks(3)) {
        for (name, value) in [("x", row[0]), ("y", row[1])] {
            let Some((_, Value::Number(place))) = number(ball, name) else { continue };
            assert_eq!(value, place, "{name} to the last bit");
        }
        let fell = number(ball, "pocket").is_some();
        assert_eq!(row[2] >= 0.0, fell, "whether it fell");
    }
}

#[test]
fn strokes_are_an_array_of_numbers_and_nothing_else() {
    let shot = script("return item.shot;");
    let message = |body: &str| match ends(&shot, &script(body)) {
        Ok(told) => panic!("{body} was accepted: {told:?}"),
        Err(refusal) => String::from(refusal.unchecked_into::<Error>().message()),
    };
    let length = "must be 5 numbers for each of 1 to 4096 strokes";
    for no_numbers in [
        "[26.6, 0, 1.8, 0, 0]",
        "null",
        "new Float32Array(5)",
        "{ length: 5 }",
        "Object.create(new Float64Array(5))",
    ] {
        let refusal = message(&format!("return {no_numbers};"));
        assert_eq!(refusal, "strokes: must be a Float64Array", "{no_numbers}");
    }
    assert_eq!(
        message("return new (class extends Float64Array { get length() { return 5; } })(7);"),
        format!("strokes.length is 7: {length}"),
        "its true length, whatever it says"
    );
    let gone = message(
        "const gone = new Float64Array(5); structuredClone(gone.buffer, { transfer: [gone.buffer] });
         return gone;",
    );
    assert!(gone.starts_with("strokes: cannot be copied: "), "given away: {gone}");
    assert_eq!(
        message("return new Float64Array([26.6, 0, 1.8, 0, NaN]);"),
        "strokes[0].height is NaN: must be a finite number",
        "read as strictly as a form"
    );
    let part = script("return new Float64Array([9, 26.6, 0, 1.8, 0, -0.3, 9]).subarray(1, 6);");
    let whole = script("return new Float64Array([26.6, 0, 1.8, 0, -0.3]);");
    let told = |strokes: &JsValue| ends(&shot, strokes).ok().expect("legal").to_vec();
    assert_eq!(told(&part), told(&whole), "a part of a longer buffer");
}

#[test]
fn texts_are_texts_and_not_endless() {
    let message = |value: JsValue| match play_text(&value) {
        Ok(outcome) => panic!("accepted: {outcome}"),
        Err(refusal) => String::from(refusal.unchecked_into::<Error>().message()),
    };
    assert_eq!(message(JsValue::from(1)), "text: must be a text", "a number");
    assert_eq!(message(JsValue::UNDEFINED), "text: must be a text", "nothing");
    let long = script("return ' '.repeat(300000);");
    assert_eq!(
        message(long),
        "text.length is 300000: must have at most 262144 characters",
        "measured first"
    );
    assert!(message(script("return '\\ud800';")).starts_with("form: "), "half a pair");
}

#[test]
fn objects_and_their_text_make_the_same_link() {
    let link = make_link(&script("return { item, call };")).ok().expect("sound");
    let again = make_link(&script("return JSON.parse(JSON.stringify({ item, call }));"));
    assert_eq!(again.ok().expect("sound"), link, "the same to the letter");
    assert!(link.starts_with("read=2."), "{link}");
    let without = make_link(&script("return { item: { ...item, seed: undefined }, call: null };"));
    assert!(without.is_ok(), "undefined and null are nothing");
}

#[test]
fn unknown_fields_are_refused_at_every_depth() {
    for (place, path) in [
        ("", "extra"),
        (".item", "item.extra"),
        (".item.shot", "item.shot.extra"),
        (".item.shot.table", "item.shot.table.extra"),
        (".item.shot.balls[1]", "item.shot.balls[1].extra"),
        (".item.shot.stroke", "item.shot.stroke.extra"),
        (".call", "call.extra"),
        (".call.points[0]", "call.points[0].extra"),
        (".call.stop", "call.stop.extra"),
    ] {
        let body = format!("const all = {{ item, call }}; all{place}.extra = 1; return all;");
        let message = refused(&body);
        assert!(message.starts_with(&format!("{path}: unknown field")), "{message}");
    }
    let own = "const all = JSON.parse('{\"__proto__\": 1}'); all.item = item; return all;";
    assert!(refused(own).starts_with("__proto__: unknown field"), "an own field, however named");
}

#[test]
fn numbers_that_are_none_are_refused_not_turned_into_null() {
    for number in ["NaN", "Infinity", "-Infinity"] {
        let message = refused(&format!("item.shot.stroke.side = {number}; return {{ item }};"));
        assert!(message.starts_with("item.shot.stroke.side is "), "{message}");
        assert!(message.ends_with("must be a finite number"), "{message}");
    }
    let text = refused("item.shot.stroke.side = '0'; return { item };");
    assert_eq!(text, "item.shot.stroke.side: must be a number, not a text", "no guessing");
    let big = refused("item.level = 2n ** 53n + 1n; return { item };");
    assert_eq!(
        big, "item.level: 9007199254740993 has more digits than a number here can keep",
        "a BigInt"
    );
    assert!(
        refused("item.level = 2n ** 80n; return { item };").starts_with("item.level: "),
        "a bigger one"
    );
    let small = make_link(&script("item.level = 2n; return { item };"));
    assert!(small.is_ok(), "a small BigInt is a number");
}

#[test]
fn getters_run_once_and_what_they_throw_is_caught() {
    let count = script(
        "const box = { n: 0, all: { item: Object.defineProperty({ ...item }, 'level',
            { enumerable: true, get() { box.n += 1; return box.n; } }) } }; return box;",
    );
    let all = Reflect::get(&count, &"all".into()).expect("an object");
    assert!(make_link(&all).is_ok(), "a getter is a field");
    let n = Reflect::get(&count, &"n".into()).expect("an object");
    assert_eq!(n.as_f64(), Some(1.0), "read once");
    let thrown = refused("return { get item() { throw new Error('no item today'); } };");
    assert_eq!(thrown, "form: cannot be copied: no item today", "what it threw");
}

#[test]
fn cycles_end_with_a_message() {
    let around = refused("item.shot.table.size = item; return { item };");
    assert_eq!(
        around, "item.shot.table: nested more than 16 levels deep, or inside itself",
        "round"
    );
    let list =
        refused("const list = []; list.push(list, list); item.shot.balls = list; return { item };");
    assert!(list.contains("nested more than 16 levels deep"), "{list}");
    let wide = refused(
        "let part = []; for (let k = 0; k < 12; k += 1) part = Array(200).fill(part);
         item.shot.balls = part; return { item };",
    );
    assert!(wide.contains("more than 2000 values"), "{wide}");
}

#[test]
fn things_that_are_no_data_are_refused() {
    for value in [
        "() => 1",
        "Symbol('a')",
        "new Float64Array(3)",
        "new Uint8Array(3)",
        "new Set([1])",
        "document.body",
        "new Proxy({}, {})",
        "new Date(0)",
        "/a/",
    ] {
        let message = refused(&format!("item.shot.stroke = {value}; return {{ item }};"));
        assert!(!message.is_empty(), "{value}");
    }
    for value in ["null", "undefined", "1", "'text'", "[]", "true"] {
        let message = refused(&format!("return {value};"));
        assert!(message.starts_with("form: must be an object with item, call"), "{message}");
    }
    let holes = refused("item.shot.balls = Array(3); return { item };");
    assert!(holes.starts_with("item.shot.balls[0]: must be an object"), "{holes}");
    let half = refused("item.shot.table.size = 'nine-\\ud800'; return { item };");
    assert!(half.starts_with("item.shot.table.size: must be one of"), "{half}");
}

#[test]
fn a_flood_ends_early() {
    let flood = refused(
        "item.shot.balls = Array.from({ length: 20000 }, () => ({ id: '1', x: 1, y: 1 }));
         return { item };",
    );
    assert_eq!(flood, "item.shot.balls: a list of more than 256 entries", "before it is read");
}

#[test]
fn seeds_are_fresh_and_the_model_has_a_version() {
    let seeds: Vec<u32> =
        (0..4).map(|_| fresh_seed().ok().expect("a browser has randomness")).collect();
    assert!(seeds.iter().any(|&seed| seed != seeds[0]), "{seeds:?}");
    assert_eq!(model_version(), 1, "the first model");
}

/// Deals and grades that a native test holds to be true.
const GOLDEN: &str = include_str!("golden/deals.json");

/// A part of an object, by a path with dots.
fn part(value: &JsValue, path: &str) -> JsValue {
    path.split('.').fold(value.clone(), |value, name| {
        Reflect::get(&value, &name.into()).expect("an object on the way")
    })
}

/// A JavaScript value as the core's own tree, by way of text; the order of an
/// object's fields means nothing.
fn tree(value: &JsValue) -> Value {
    let text = String::from(JSON::stringify(value).expect("plain data"));
    sorted(parse(&text).expect("JSON"))
}

fn sorted(value: Value) -> Value {
    match value {
        Value::List(list) => Value::List(list.into_iter().map(sorted).collect()),
        Value::Fields(mut fields) => {
            fields.sort_by(|a, b| a.0.cmp(&b.0));
            Value::Fields(fields.into_iter().map(|(name, value)| (name, sorted(value))).collect())
        }
        plain => plain,
    }
}

/// A plain object with these fields.
fn object(fields: &[(&str, JsValue)]) -> JsValue {
    let object = js_sys::Object::new();
    for (name, value) in fields {
        Reflect::set(&object, &(*name).into(), value).expect("a plain object");
    }
    object.into()
}

#[test]
fn the_browser_deals_and_grades_to_the_same_bits_as_native_code() {
    let golden: js_sys::Array = JSON::parse(GOLDEN).expect("JSON").unchecked_into();
    for entry in golden.iter() {
        let question = deal(&part(&entry, "deal")).ok().expect("dealt");
        let item = part(&question, "item");
        assert_eq!(tree(&item), tree(&part(&entry, "item")), "the item");
        let request = object(&[("item", item), ("call", part(&entry, "call"))]);
        let result = grade(&request).ok().expect("on the cloth");
        assert_eq!(tree(&part(&result, "grade")), tree(&part(&entry, "grade")), "the grade");
    }
}

#[test]
fn replies_are_plain_objects_with_null_for_nothing() {
    let golden: js_sys::Array = JSON::parse(GOLDEN).expect("JSON").unchecked_into();
    let entry = golden.get(0);
    let item = part(&entry, "item");
    let question = open_item(&item).ok().expect("sound");
    let link = make_link(&object(&[("item", item.clone())])).ok().expect("sound");
    let opened = open_link(&link.into()).ok().expect("our own");
    assert!(part(&opened, "sealed").is_null(), "null, not undefined");
    let request = object(&[("item", item.clone()), ("call", part(&entry, "call"))]);
    let result = grade(&request).ok().expect("on the cloth");
    assert!(part(&result, "sender").is_null(), "null, not undefined");
    assert!(part(&result, "stop.pocket").is_null(), "null, not undefined");
    assert!(part(&result, "tracks.0.pocketedAt").is_null(), "the cue ball stays");
    assert!(part(&result, "tracks.1.pocketedAt").as_f64().is_some(), "the other falls");

    let levels = levels().ok().expect("always");
    assert_eq!(part(&levels, "length").as_f64(), Some(6.0), "a list of six");
    let spot = object(&[
        ("item", item),
        ("x", 1.0.into()),
        ("y", 0.5.into()),
        ("reach", 0.01.into()),
        ("snap", true.into()),
    ]);
    let point = snap(&spot).ok().expect("on the cloth");
    assert!(!Reflect::has(&point, &"rail".into()).expect("an object"), "no rail, no field");
    let plain = Function::new_with_args(
        "value",
        "const plain = (value) => value === null || typeof value !== 'object'
            ? value !== undefined && typeof value !== 'bigint'
            : value instanceof Float64Array
            || [Object.prototype, Array.prototype].includes(Object.getPrototypeOf(value))
            && Object.values(value).every(plain);
         return plain(value);",
    );
    for reply in [question, opened, result, levels, point] {
        let is_plain = plain.call1(&JsValue::NULL, &reply).expect("no throw");
        assert!(is_plain.is_truthy(), "no map, no class, no undefined: {reply:?}");
    }
}

#[test]
fn samples_are_arrays_of_numbers_of_their_own() {
    let golden: js_sys::Array = JSON::parse(GOLDEN).expect("JSON").unchecked_into();
    let entry = golden.get(0);
    let request = object(&[("item", part(&entry, "item")), ("call", part(&entry, "call"))]);
    let result = grade(&request).ok().expect("on the cloth");
    let samples = part(&result, "tracks.0.samples");
    assert!(samples.is_instance_of::<Float64Array>(), "{samples:?}");
    let samples: Float64Array = samples.unchecked_into();
    assert_eq!(samples.length() % 3, 0, "triples");
    let memory = wasm_bindgen::memory().unchecked_into::<js_sys::WebAssembly::Memory>();
    assert!(!js_sys::Object::is(&samples.buffer(), &memory.buffer()), "a buffer of its own");
    let duration = part(&result, "duration").as_f64().expect("a number");
    assert!(samples.get_index(samples.length() - 3) <= duration, "times within the shot");
}

#[test]
fn every_request_is_refused_by_an_error_with_a_field() {
    let requests = [
        (deal(&script("return { level: 0, seed: 1 };")).err(), "level"),
        (deal(&script("return { level: 1, seed: NaN };")).err(), "seed"),
        (open_item(&script("return { ...item, model: 9 };")).err(), "model"),
        (open_link(&"read=".into()).err(), "link"),
        (open_link(&JsValue::NULL).err(), "text"),
        (snap(&script("return { item, x: NaN, y: 0, reach: 0, snap: true };")).err(), "x"),
        (point_at(&script("return { item, rail: 'foot', along: 9 };")).err(), "along"),
        (grade(&script("call.stop.x = Infinity; return { item, call };")).err(), "call.stop.x"),
        (
            grade(&script("call.points.length = 0; call.stop.x = 9; return { item, call };")).err(),
            "call.stop",
        ),
        (
            grade(&script("call.points = Array(33).fill(call.stop); return { item, call };")).err(),
            "call.points.length",
        ),
    ];
    for (refusal, field) in requests {
        let thrown = JsValue::from(refusal.expect(field));
        assert_eq!(text_of(&thrown, "name"), "LeavelineError", "{field}");
        assert_eq!(text_of(&thrown, "field"), field, "which field");
        assert!(text_of(&thrown, "message").contains(&text_of(&thrown, "rule")), "{field}");
    }
}
