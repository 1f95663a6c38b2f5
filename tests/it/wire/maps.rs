//! Maps and hands as the page asks for them.

use super::SHOT;
use leaveline::wire::{ChanceMap, MapProgress, Value, hands, parse};

fn request(rest: &str, proved: bool) -> Value {
    let item = format!(
        r#"{{"version":1,"kind":"leave","model":1,"level":1,"shot":{SHOT},"demand":{{"on":"3"}}}}"#
    );
    let grid = format!(r#""columns":8,"rows":4,"proved":{proved}"#);
    parse(&format!(r#"{{"item":{item},{grid},{rest}}}"#)).expect("a form")
}

/// A map of which rough chances are asked for first.
fn asked(rest: &str) -> Result<ChanceMap, String> {
    ChanceMap::new(&request(rest, false)).map_err(|error| error.field().to_owned())
}

/// The chances as bits, for what is not a number equals nothing.
fn bits(told: &MapProgress) -> Vec<u64> {
    told.chances.iter().map(|chance| chance.to_bits()).collect()
}

#[test]
fn a_map_is_rough_first_and_then_proved_cell_by_cell() {
    let plain = r#""ball":"3","hand":"makes-85","share":0,"of":1"#;
    let mut map = asked(plain).expect("a map");
    let rough = map.step(256);
    assert_eq!((rough.done, rough.cells.len()), (1.0, 32), "all cells at once");
    assert!(rough.chances.iter().any(|chance| *chance > 0.3), "somewhere it can be made");
    map.turn(&request(plain, true)).expect("the same, proved");
    let (mut proved, mut steps) = (Vec::new(), 0);
    loop {
        let more = map.step(256);
        proved.extend(more.cells);
        for (cell, chance) in proved.iter().rev().zip(more.chances.iter().rev()) {
            let (quick, is_free) = (rough.chances[*cell as usize], !chance.is_nan());
            assert_eq!(is_free, !quick.is_nan(), "cell {cell} is free or not");
            assert!(!is_free || (0.0..=1.0).contains(chance), "cell {cell}: {chance}");
        }
        steps += 1;
        if more.done >= 1.0 {
            break;
        }
    }
    assert!(steps > 1, "in steps");
    assert_eq!(proved, rough.cells, "each cell once");
    let after = map.step(256);
    assert_eq!((after.done, after.cells.len()), (1.0, 0), "nothing is left");
}

#[test]
fn shares_of_a_map_are_the_whole() {
    let plain = r#""ball":"3","hand":"makes-60","share":0,"of":1"#;
    let whole = asked(plain).expect("a map").step(1);
    let (mut rough, mut chances, mut cells) = (Vec::new(), Vec::new(), Vec::new());
    for share in 0..3 {
        let rest = format!(r#""ball":"3","hand":"makes-60","share":{share},"of":3"#);
        let mut part = asked(&rest).expect("a share");
        let told = part.step(1);
        chances.extend(bits(&told));
        rough.extend(told.cells);
        part.turn(&request(&rest, true)).expect("the same, proved");
        cells.extend(proved(&mut part, 1 << 20).0);
    }
    assert_eq!((&rough, &chances), (&whole.cells, &bits(&whole)), "one after the other");
    cells.sort_unstable();
    assert_eq!(cells, whole.cells, "nothing is proved twice");
}

/// All cells that are proved in steps of so many strokes, their chances as bits, and the
/// number of steps.
fn proved(map: &mut ChanceMap, plays: u32) -> (Vec<u32>, Vec<u64>, u32) {
    let (mut cells, mut chances, mut steps) = (Vec::new(), Vec::new(), 0);
    loop {
        let told = map.step(plays);
        chances.extend(bits(&told));
        cells.extend(told.cells);
        steps += 1;
        if told.done >= 1.0 {
            return (cells, chances, steps);
        }
    }
}

#[test]
fn a_cell_is_proved_the_same_in_steps_of_any_size() {
    let in_steps = |plays: u32| {
        let rest = r#""ball":"3","hand":"makes-60","share":0,"of":4,"pocket":"head-left""#;
        let mut map = ChanceMap::new(&request(rest, true)).expect("a map");
        let (_, chances, steps) = proved(&mut map, plays);
        (chances, steps)
    };
    let ((small, many), (large, few)) = (in_steps(64), in_steps(1 << 20));
    assert_eq!(small, large, "bit for bit");
    assert!(many > 4 * few, "a cell takes many small steps: {many} and {few}");
}

#[test]
fn a_map_that_turns_is_as_a_fresh_one_and_keeps_what_it_knows() {
    let plain = r#""ball":"3","hand":"makes-85","share":0,"of":1"#;
    let mut map = asked(plain).expect("a map");
    let rough = map.step(256);
    map.turn(&request(plain, true)).expect("the same, proved");
    let mut first = map.step(256);
    while first.cells.is_empty() {
        first = map.step(256);
    }
    map.turn(&request(plain, false)).expect("the same, rough");
    assert_eq!(bits(&map.step(256)), bits(&rough), "what is rough is told again");
    map.turn(&request(plain, true)).expect("the same, proved");
    let again = map.step(1);
    assert!(again.done > 0.0, "what was proved stays proved: {}", again.done);
    assert!(again.cells.starts_with(&first.cells), "and is told again: {:?}", again.cells);
    assert!(bits(&again).starts_with(&bits(&first)), "with the same chances");
    for rest in [
        r#""ball":"3","hand":"makes-35","share":0,"of":1"#,
        r#""ball":"3","hand":"makes-35","share":1,"of":2,"pocket":"foot-left""#,
    ] {
        map.turn(&request(rest, false)).expect("another");
        let turned = map.step(256);
        let fresh = asked(rest).expect("another").step(256);
        assert_eq!(turned.cells, fresh.cells, "from the start");
        assert_eq!(bits(&turned), bits(&fresh), "{rest}");
    }
    let none = r#""ball":"9","hand":"makes-35","share":0,"of":1"#;
    assert!(map.turn(&request(none, false)).is_err(), "there is no such ball");
    assert!(!map.step(1).cells.is_empty(), "a refusal changes nothing");
}

#[test]
fn a_drawing_has_a_pixel_a_cell_and_the_line_of_a_chance() {
    let mut map = asked(r#""ball":"3","hand":"makes-60","share":0,"of":1"#).expect("a map");
    let chances = map.step(256).chances;
    let picture = map.picture(&chances).expect("a picture");
    assert_eq!(picture.len(), 4 * 32, "four bytes a cell");
    let line = map.line(&chances, 0.5);
    assert!(line.starts_with('M') && line.contains('L'), "path data: {line}");
    assert_eq!(map.line(&chances, 1.5), "", "no chance is that good");
    let error = map.picture(&chances[1..]).expect_err("one is missing");
    assert_eq!(error.field(), "chances.length", "which field");
}

#[test]
fn a_bad_request_names_its_field() {
    for (field, rest) in [
        ("ball", r#""ball":"cue","hand":"makes-85","share":0,"of":1"#),
        ("ball", r#""ball":"15","hand":"makes-85","share":0,"of":1"#),
        ("hand", r#""ball":"3","hand":"steady","share":0,"of":1"#),
        ("of", r#""ball":"3","hand":"makes-85","share":0,"of":5"#),
        ("share", r#""ball":"3","hand":"makes-85","share":2,"of":2"#),
        ("pocket", r#""ball":"3","hand":"makes-85","share":0,"of":1,"pocket":"middle""#),
    ] {
        assert_eq!(asked(rest).err(), Some(field.to_owned()), "{rest}");
    }
    assert_eq!(hands().len(), 5, "five hands");
}
