//! The boundary in a real browser: what only JavaScript values can do.
//!
//! Natively this file is empty; everything that the boundary calls is tested in
//! `tests/it`.
#![cfg(target_arch = "wasm32")]

use js_sys::{Error, Float64Array, Function, JSON, Reflect};
use leaveline::wasm::{fresh_seed, make_link, model_version, play, play_packed, play_text};
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
    assert!(link.starts_with("read=1."), "{link}");
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
