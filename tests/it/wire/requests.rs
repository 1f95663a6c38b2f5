//! What the page asks for.

use super::{CALL, SHOT, call, item, item_text};
use leaveline::table::{Rail, TableSize};
use leaveline::wire::{
    DealRequest, Diamonds, Value, check_length, make_link, open, parse, read_deal, read_grade,
    read_point, read_snap, seal, set_up,
};

/// A request whose fields are an item and `rest`.
fn with_item(rest: &str) -> Value {
    parse(&format!(r#"{{"item":{}{rest}}}"#, item_text(SHOT))).expect("JSON")
}

fn deal(text: &str) -> Result<DealRequest, String> {
    read_deal(&parse(text).expect("JSON")).map_err(|error| error.to_string())
}

#[test]
fn how_an_item_of_any_kind_is_set_up() {
    use super::{CLEARS, DEMAND, SHOT3, leave_text};
    for item in [item_text(SHOT), leave_text(SHOT3, DEMAND), CLEARS[0].to_owned()] {
        let request = parse(&format!(r#"{{"item":{item}}}"#)).expect("JSON");
        let spots = serde_json::to_value(set_up(&request).expect("sound")).expect("a form");
        let spots = spots.as_array().expect("a list");
        assert_eq!(spots.last().expect("the cue ball")["ball"], "cue", "the cue ball last");
        assert!(spots.len() > 1, "and all others before it");
        for spot in spots {
            let words = spot["words"].as_str().expect("a text");
            assert!(words.split("; ").count() >= 2, "along, and across: {words}");
        }
    }
    let refused = parse(r#"{"item":{"kind":"read"}}"#).and_then(|request| set_up(&request));
    assert_eq!(refused.expect_err("no item").field(), "item.version", "which field");
}

#[test]
fn a_deal_has_a_level_a_seed_and_perhaps_a_size() {
    let asked = DealRequest { level: 6, seed: u32::MAX, size: TableSize::NineFoot };
    assert_eq!(deal(r#"{"level":6,"seed":4294967295}"#), Ok(asked));
    assert_eq!(deal(r#"{"level":6,"seed":4294967295,"size":null}"#), Ok(asked));
    let seven = deal(r#"{"level":1,"seed":0,"size":"seven-foot"}"#).expect("sound");
    assert_eq!(seven.size, TableSize::SevenFoot);
    for (text, message) in [
        (r#"{"level":7,"seed":0}"#, "level is 7: must be a whole number from 1 to 6"),
        (r#"{"level":0,"seed":0}"#, "level is 0: must be a whole number from 1 to 6"),
        (r#"{"level":1.5,"seed":0}"#, "level is 1.5: must be a whole number from 1 to 6"),
        (r#"{"level":1,"seed":-1}"#, "seed is -1: must be a whole number from 0 to 4294967295"),
        (r#"{"level":1}"#, "seed: must be given"),
        (r#"{"level":1,"seed":1,"sise":1}"#, "sise: unknown field; known are level, seed, size"),
    ] {
        assert_eq!(deal(text), Err(message.to_owned()));
    }
}

#[test]
fn a_placed_point_has_a_reach() {
    let asked = read_snap(&with_item(r#","x":-0.1,"y":0.2,"reach":0.05,"snap":true"#));
    let asked = asked.expect("a point may lie beside the cloth");
    assert_eq!((asked.position.x, asked.position.y), (-0.1, 0.2));
    assert_eq!((asked.reach, asked.snap), (0.05, true));
    let refused = |rest: &str| read_snap(&with_item(rest)).expect_err(rest).to_string();
    assert_eq!(
        refused(r#","x":0,"y":0,"reach":-1,"snap":true"#),
        "reach is -1: must not be negative"
    );
    assert_eq!(
        refused(r#","x":0,"y":0,"reach":1,"snap":1"#),
        "snap: must be true or false, not a number"
    );
    assert_eq!(
        refused(r#","x":101,"y":0,"reach":1,"snap":false"#),
        "x is 101: must lie from -100 to 100 m"
    );
}

#[test]
fn a_typed_point_is_on_a_rail_or_on_the_cloth() {
    let place = |rest: &str| {
        read_point(&with_item(rest)).map(|asked| asked.place).map_err(|error| error.to_string())
    };
    assert_eq!(place(r#","rail":"foot","along":2.5"#), Ok(Diamonds::Rail(Rail::Foot, 2.5)));
    assert_eq!(place(r#","along":8,"across":4"#), Ok(Diamonds::Cloth(8.0, 4.0)));
    assert_eq!(place(r#","rail":null,"along":8,"across":4"#), Ok(Diamonds::Cloth(8.0, 4.0)));
    assert_eq!(
        place(r#","along":8"#),
        Err("across: must be given for a point on the cloth".to_owned())
    );
    assert_eq!(
        place(r#","rail":"head","along":1,"across":1"#),
        Err("across: must be left out for a point on a rail".to_owned())
    );
}

#[test]
fn an_answer_may_come_with_a_sealed_one() {
    let sealed = seal(&call(CALL).expect("a sound call")).expect("finite");
    let rest = format!(r#","call":{CALL},"sealed":"{sealed}""#);
    let asked = read_grade(&with_item(&rest)).expect("sound");
    assert_eq!(asked.sender, Some(asked.call.clone()), "the same call, sealed");
    let alone = read_grade(&with_item(&format!(r#","call":{CALL},"sealed":null"#)));
    assert_eq!(alone.expect("sound").sender, None, "null is none");
    let broken = format!(r#","call":{CALL},"sealed":"{}""#, &sealed[..sealed.len() - 2]);
    let error = read_grade(&with_item(&broken)).expect_err("cut off");
    assert_eq!(error.to_string(), "link: the link is cut off or altered: ask for it again");
}

#[test]
fn a_link_is_made_of_an_item_and_perhaps_a_call() {
    let alone = make_link(&with_item("")).expect("sound");
    let opened = open(&alone).expect("whole");
    assert_eq!(Ok(opened.item), item(&item_text(SHOT)));
    let both = make_link(&with_item(&format!(r#","call":{CALL}"#))).expect("sound");
    assert!(open(&both).expect("whole").sealed.is_some(), "the call goes along");
    let error = make_link(&with_item(r#","call":{"points":[]}"#)).expect_err("no stop");
    assert_eq!(error.field(), "call.stop");
}

#[test]
fn texts_are_measured_before_they_are_copied() {
    assert_eq!(check_length(10, 10), Ok(()));
    let error = check_length(11, 10).expect_err("too long").to_string();
    assert_eq!(error, "text.length is 11: must have at most 10 characters");
}
