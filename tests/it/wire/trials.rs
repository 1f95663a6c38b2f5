//! A table being set up, and a stroke tried on it.

use super::{SHOT, item_text};
use leaveline::wire::{Value, aims, board, compact, mirrored, parse, place, remove, try_stroke};

/// A request whose fields are a Leave item, which asks for the lowest ball, and `rest`.
fn request(rest: &str) -> Value {
    let read = parse(&item_text(SHOT)).expect("JSON");
    let Value::Fields(mut fields) = read else { panic!("an item is an object") };
    for (name, value) in &mut fields {
        if name == "kind" {
            *value = Value::text("leave");
        }
    }
    let shot = fields.iter().find(|(name, _)| name == "shot").map(|(_, shot)| shot.clone());
    let on = leaveline::wire::read_shot(&shot.expect("a shot"), "shot")
        .expect("sound")
        .balls
        .iter()
        .map(|ball| ball.id)
        .filter(|id| !id.is_cue())
        .min()
        .expect("an object ball");
    fields.push(("demand".into(), Value::fields([("on", Value::text(on.to_string()))])));
    let item = compact(&Value::Fields(fields)).expect("JSON");
    parse(&format!(r#"{{"item":{item}{rest}}}"#)).expect("JSON")
}

#[test]
fn a_trial_gives_what_the_page_draws() {
    for aim in ["true", "false"] {
        let tried = try_stroke(&request(&format!(r#","aim":{aim}"#))).expect("sound");
        assert!(tried.tracks().iter().any(|track| track.id == "cue"), "the cue ball moves");
        let text = compact(&tried).expect("JSON");
        for field in ["refusal", "ghost", "isMet", "isLifted", "needsRest", "miscue"] {
            assert!(text.contains(&format!("\"{field}\":")), "{field} in {text}");
        }
        assert!(!text.contains("samples"), "the tracks go another way");
    }
}

#[test]
fn a_board_and_all_its_changes_can_be_read_again() {
    assert!(compact(&board(&request("")).expect("sound")).is_ok(), "drawn");
    let pockets = compact(&aims(&request("")).expect("sound")).expect("JSON");
    assert_eq!(pockets.matches("ballFirst").count(), 6, "every pocket is looked at");
    let put = request(r#","ball":"cue","x":0.7,"y":0.6,"snap":true"#);
    for changed in [place(&put), mirrored(&request(""))] {
        let text = compact(&changed.expect("sound")).expect("JSON");
        let Ok(Value::Fields(fields)) = parse(&text) else { panic!("an object: {text}") };
        let (_, item) = fields.into_iter().find(|(name, _)| name == "item").expect("an item");
        let again = board(&Value::fields([("item", item)]));
        assert!(again.is_ok(), "{:?}", again.err());
    }
}

#[test]
fn what_cannot_be_is_refused_by_name() {
    let bad = [
        (place(&request(r#","ball":"16","x":0.7,"y":0.6,"snap":true"#)).err(), "ball"),
        (place(&request(r#","ball":"cue","x":1e9,"y":0.6,"snap":true"#)).err(), "x"),
        (place(&request(r#","ball":"cue","x":0.7,"y":0.6"#)).err(), "snap"),
        (remove(&request(r#","ball":"cue""#)).err(), "ball"),
        (try_stroke(&request("")).err(), "aim"),
        (board(&request(r#","aim":true"#)).err(), "aim"),
    ];
    for (error, field) in bad {
        assert_eq!(error.expect("refused").field(), field);
    }
}
