//! Links that were made once and open to the same items for ever.

use super::{
    ANSWER, CALL, CLEARS, DEMAND, OWN_TABLE, SHOT, SHOT3, answer, call, clear_item, item,
    item_text, leave_item, leave_text,
};
use glam::DVec2;
use leaveline::layout::{ClearWish, deal_clear, deal_leave, deal_read};
use leaveline::practice::{LeaveItem, place_ball};
use leaveline::table::TableSize;
use leaveline::wire::{
    AnyOpened, compact, make, make_clear, make_leave, open_any, unseal, unseal_answer,
    write_answer, write_call, write_clear_item, write_item, write_leave_item,
};
use leaveline::{BallId, Error};
use std::path::{Path, PathBuf};

fn file(version: u32) -> PathBuf {
    let name = format!("tests/golden/links-{version}.json");
    Path::new(env!("CARGO_MANIFEST_DIR")).join(name)
}

/// All that a link holds, as the text of its forms, which tell every bit.
fn opens(link: &str) -> Result<String, Error> {
    if link.starts_with("call=") {
        return compact(&write_call(&unseal(link)?));
    }
    if link.starts_with("answer=") {
        return compact(&write_answer(&unseal_answer(link)?));
    }
    let (item, rest) = match open_any(link)? {
        AnyOpened::Read(opened) => {
            let call = opened.sealed.map(|sealed| unseal(&sealed).expect("just sealed"));
            (write_item(&opened.item), call.map(|call| ("call", write_call(&call))))
        }
        AnyOpened::Leave(opened) => {
            let answer = opened.sealed.map(|sealed| unseal_answer(&sealed).expect("just sealed"));
            let answer = answer.map(|answer| ("answer", write_answer(&answer)));
            (write_leave_item(&opened.item), answer)
        }
        AnyOpened::Clear(item) => (write_clear_item(&item), None),
    };
    let item = compact(&item)?;
    Ok(match rest {
        Some((name, rest)) => format!(r#"{{"item":{item},"{name}":{}}}"#, compact(&rest)?),
        None => format!(r#"{{"item":{item}}}"#),
    })
}

/// A link that is kept.
#[derive(serde::Serialize, serde::Deserialize)]
pub(super) struct Kept {
    name: String,
    pub(super) link: String,
    opens: String,
}

/// All that are kept of a version.
pub(super) fn kept(version: u32) -> Vec<Kept> {
    let text = std::fs::read_to_string(file(version)).expect("a file that is kept");
    serde_json::from_str(&text).expect("a list")
}

#[test]
fn kept_links_open_to_what_they_opened_to() {
    for version in [1, 2] {
        let kept = kept(version);
        assert!(kept.len() > 20, "version {version} has its corpus");
        for Kept { name, link, opens: wanted } in kept {
            assert_eq!(opens(&link), Ok(wanted), "version {version}, {name}");
        }
    }
}

fn clear_wish(rotation: bool, n_balls: u8, demands: bool) -> ClearWish {
    ClearWish { level: 3, rotation, n_balls, demands, seed: 5, size: TableSize::NineFoot }
}

/// Balls that touch each other and rails, and one by itself.
fn touching() -> LeaveItem {
    let mut item = leave_item(&leave_text(SHOT3, DEMAND)).expect("sound");
    for (number, x, y) in [
        (1, 1.22, 0.35),
        (2, 0.0, 0.6),
        (4, 0.03, 0.66),
        (5, 1.27, 0.32),
        (6, 2.54, 0.31),
        (8, 1.2, 1.27),
        (9, 2.0, 0.4),
    ] {
        let ball = BallId::object(number).expect("a ball");
        item = place_ball(&item, ball, DVec2::new(x, y), true, true).expect("room");
    }
    item
}

/// What version 2 is kept for, each with a name.
fn corpus() -> Vec<(String, String)> {
    let mut links = Vec::new();
    let mut add = |name: &str, link: Result<String, Error>| {
        links.push((name.to_owned(), link.expect("short enough")));
    };
    for level in 1..=6 {
        let size = TableSize::ALL[usize::from(level) % 3];
        let read = deal_read(level, 77 + u32::from(level), size).expect("a deal");
        add(&format!("read of level {level}"), make(&read, None));
        let leave = deal_leave(level, 77 + u32::from(level), size).expect("a deal");
        add(&format!("leave of level {level}"), make_leave(&leave, None));
    }
    for (name, rotation, n_balls, demands) in [
        ("nine in rotation", true, 9, false),
        ("three in rotation with a demand", true, 3, true),
        ("a group with a demand", false, 4, true),
    ] {
        let item = deal_clear(&clear_wish(rotation, n_balls, demands)).expect("a deal");
        add(name, make_clear(&item));
    }
    for (k, text) in CLEARS.iter().enumerate() {
        add(&format!("clear {k}"), make_clear(&clear_item(text).expect("sound")));
    }
    let (own, call) = (item(&item_text(OWN_TABLE)).expect("sound"), call(CALL).expect("sound"));
    add("a table of one's own, with a call", make(&own, Some(&call)));
    let mut far = own.clone();
    (far.seed, far.shot.stroke.azimuth) = (None, 1e-300);
    far.shot.card.cloth.gravity = 9.8 + 1.0 / 300.0;
    far.shot.balls[0].position = DVec2::new(0.123_456_789, 1.0 / 3.0);
    add("numbers off the quanta", make(&far, None));
    add("a shot", make(&item(&item_text(SHOT)).expect("sound"), None));
    let leave = leave_item(&leave_text(SHOT3, DEMAND)).expect("sound");
    let answer = answer(ANSWER).expect("sound");
    add("leave with an answer", make_leave(&leave, Some(&answer)));
    let mut plain = leave.clone();
    (plain.demand.pocket, plain.demand.next, plain.demand.zone) = (None, None, None);
    plain.demand.rails.clear();
    add("leave that asks for a pot alone", make_leave(&plain, None));
    add("balls that touch", make_leave(&touching(), Some(&answer)));
    links
}

/// What the corpus names and the file has not is appended with `LEAVELINE_PUBLISH=1 cargo
/// test`: what is there stays.
#[test]
fn the_latest_version_has_its_corpus() {
    let file = file(2);
    if std::env::var_os("LEAVELINE_PUBLISH").is_some() {
        let mut entries = if file.exists() { kept(2) } else { Vec::new() };
        for (name, link) in corpus() {
            if entries.iter().all(|kept| kept.name != name) {
                entries.push(Kept { opens: opens(&link).expect("just made"), name, link });
            }
        }
        let text = serde_json::to_string_pretty(&entries).expect("JSON");
        std::fs::write(&file, text + "\n").expect("written");
    }
    assert!(file.exists(), "the links of version 2 are kept");
}
