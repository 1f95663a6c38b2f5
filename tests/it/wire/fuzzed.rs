//! The seeds of the fuzzer, and every input that ever broke a promise, played again
//! by the functions that the fuzzer itself calls.

#[path = "../../fuzz/promises.rs"]
mod promises;

use super::{
    ANSWER, CALL, CLEARS, DEMAND, OWN_TABLE, SHOT, SHOT3, answer, call, clear_item, item,
    item_text, leave_item, leave_text,
};
use base64::Engine;
use base64::engine::general_purpose::URL_SAFE_NO_PAD;
use leaveline::wire::{make, make_clear, make_leave, seal, seal_answer};
use std::fs;
use std::path::{Path, PathBuf};

/// What a target does with an input.
type Promise = fn(&[u8]);

/// The targets, by the names of their folders.
const TARGETS: [(&str, Promise); 5] = [
    ("text", promises::text),
    ("link", promises::link),
    ("envelope", promises::envelope),
    ("tree", promises::tree),
    ("play", promises::play),
];

fn folder(name: &str, target: &str) -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/fuzz").join(name).join(target)
}

#[test]
fn what_the_fuzzer_starts_from_and_found_keeps_every_promise() {
    for (target, keeps_promises) in TARGETS {
        let mut inputs = 0;
        for name in ["seeds", "crashes"] {
            let Ok(entries) = fs::read_dir(folder(name, target)) else { continue };
            for entry in entries {
                let path = entry.expect("an entry").path();
                // Shown if the test fails.
                println!("{}", path.display());
                keeps_promises(&fs::read(&path).expect("a file"));
                inputs += 1;
            }
        }
        assert!(inputs > 0, "{target} has seeds");
    }
}

/// Our own forms, one or more for each target.
fn seeds() -> Vec<(&'static str, String, Vec<u8>)> {
    let golden: Vec<serde_json::Value> =
        serde_json::from_str(include_str!("../../golden/deals.json")).expect("a list");
    let mut texts = vec![
        ("shot".to_owned(), SHOT.to_owned()),
        ("own-table".to_owned(), OWN_TABLE.to_owned()),
        ("item".to_owned(), item_text(SHOT)),
        ("call".to_owned(), CALL.to_owned()),
        ("deal".to_owned(), r#"{"level":1,"seed":7,"size":"seven-foot"}"#.to_owned()),
    ];
    let own = item_text(SHOT);
    let sealed = seal(&call(CALL).expect("sound")).expect("finite");
    for (name, rest) in [
        ("snap", r#""x":1,"y":0.05,"reach":0.06,"snap":true"#.to_owned()),
        ("rail", r#""rail":"foot","along":2.5"#.to_owned()),
        ("cloth", r#""along":4,"across":2"#.to_owned()),
        ("grade", format!(r#""call":{CALL},"sealed":"{sealed}""#)),
        ("link", format!(r#""call":{CALL}"#)),
    ] {
        texts.push((name.to_owned(), format!(r#"{{"item":{own},{rest}}}"#)));
    }
    let leave = leave_text(SHOT3, DEMAND);
    let own_answer = answer(ANSWER).expect("sound");
    let leave_link = make_leave(&leave_item(&leave).expect("sound"), Some(&own_answer));
    let sealed_answer = seal_answer(&own_answer).expect("finite");
    let fields = &ANSWER[1..ANSWER.len() - 1];
    texts.extend([
        ("leave".to_owned(), leave.clone()),
        ("answer".to_owned(), ANSWER.to_owned()),
        ("leave-link".to_owned(), format!(r#"{{"item":{leave},"answer":{ANSWER}}}"#)),
        (
            "leave-grade".to_owned(),
            format!(r#"{{"item":{leave},{fields},"exact":true,"sealed":"{sealed_answer}"}}"#),
        ),
    ]);
    // Links of version 1 are read for ever.
    let first: Vec<serde_json::Value> =
        serde_json::from_str(include_str!("../../golden/links-1.json")).expect("a list");
    let mut links: Vec<_> = first
        .iter()
        .enumerate()
        .map(|(k, entry)| (format!("first-{k}"), entry["link"].as_str().expect("text").to_owned()))
        .collect();
    links.extend([
        ("sealed".to_owned(), sealed),
        ("sealed-answer".to_owned(), sealed_answer),
        ("leave".to_owned(), leave_link.expect("short enough")),
    ]);
    let mut envelopes = vec![
        ("call".to_owned(), format!("\u{1}{CALL}")),
        ("leave".to_owned(), format!("\u{4}{{\"item\":{leave},\"answer\":{ANSWER}}}")),
        ("answer".to_owned(), format!("\u{5}{ANSWER}")),
    ];
    for (k, entry) in golden.iter().enumerate() {
        let (text, answer) = (entry["item"].to_string(), entry["call"].to_string());
        let link = make(&item(&text).expect("sound"), Some(&call(&answer).expect("sound")));
        links.push((format!("golden-{k}"), link.expect("short enough")));
        let whole = format!(r#"{{"item":{text},"call":{answer}}}"#);
        envelopes.push((format!("golden-{k}"), format!("\0{whole}")));
        texts.push((format!("golden-{k}"), whole));
    }
    let mut all = Vec::new();
    for (target, inputs) in [("text", texts), ("link", links), ("envelope", envelopes)] {
        all.extend(inputs.into_iter().map(|(name, text)| (target, name, text.into_bytes())));
    }
    let packed = [
        make(&item(&item_text(OWN_TABLE)).expect("sound"), Some(&call(CALL).expect("sound"))),
        make_leave(&leave_item(&leave).expect("sound"), Some(&own_answer)),
        make_clear(&clear_item(CLEARS[0]).expect("sound")),
        make_clear(&clear_item(CLEARS[1]).expect("sound")),
    ];
    for (k, (link, how)) in packed.into_iter().zip([2, 6, 10, 10]).enumerate() {
        let link = link.expect("short enough");
        let payload = link.split('.').nth(1).expect("a payload");
        let inside = URL_SAFE_NO_PAD.decode(payload).expect("base64");
        all.push(("envelope", format!("packed-{k}"), [vec![how], inside].concat()));
    }
    for which in 0..11 {
        all.push(("tree", format!("template-{which}"), vec![which, 3, 2, 1, 5, 7, 9]));
    }
    for which in 0..8 {
        // A table altered or not, and so many balls.
        let spread = (0..60_u8).map(|k| k.wrapping_mul(37 + which));
        let shot = [which, which % 3, 8, 3, 200, 1].into_iter().chain(spread).collect();
        all.push(("play", format!("shot-{which}"), shot));
    }
    all
}

/// Written anew with `LEAVELINE_PUBLISH=1 cargo test`.
#[test]
fn the_seeds_are_our_own_forms() {
    for (target, name, bytes) in seeds() {
        let folder = folder("seeds", target);
        if std::env::var_os("LEAVELINE_PUBLISH").is_some() {
            fs::create_dir_all(&folder).expect("made");
            fs::write(folder.join(&name), &bytes).expect("written");
        }
        assert!(folder.join(&name).exists(), "{target}/{name}");
    }
}
