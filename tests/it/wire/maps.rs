//! Maps and hands as the page asks for them.

use super::SHOT;
use leaveline::wire::{hands, map_of, parse};

fn asked(rest: &str) -> Result<Vec<f64>, String> {
    let item = format!(
        r#"{{"version":1,"kind":"leave","model":1,"level":1,"shot":{SHOT},"demand":{{"on":"3"}}}}"#
    );
    let request = format!(r#"{{"item":{item},"columns":8,"rows":4,{rest}}}"#);
    map_of(&parse(&request).expect("a form")).map_err(|error| error.field().to_owned())
}

#[test]
fn a_map_has_two_numbers_a_cell() {
    let whole = asked(r#""ball":"3","hand":"makes-85","from":0,"to":4"#).expect("a map");
    assert_eq!(whole.len(), 64, "eight by four cells");
    for cell in whole.chunks_exact(2) {
        assert!(cell[0].is_nan() || (0.0..=1.0).contains(&cell[0]), "a chance: {cell:?}");
        assert!((-1.0..=5.0).contains(&cell[1]), "a pocket: {cell:?}");
    }
    assert!(whole.chunks_exact(2).any(|cell| cell[0] > 0.3), "somewhere it can be made");
    let part = asked(r#""ball":"3","hand":"makes-85","from":1,"to":2"#).expect("a row");
    assert_eq!(part[1], whole[17], "the second row");
}

#[test]
fn a_bad_request_names_its_field() {
    for (field, rest) in [
        ("ball", r#""ball":"cue","hand":"makes-85","from":0,"to":4"#),
        ("ball", r#""ball":"15","hand":"makes-85","from":0,"to":4"#),
        ("hand", r#""ball":"3","hand":"steady","from":0,"to":4"#),
        ("to", r#""ball":"3","hand":"makes-85","from":0,"to":5"#),
        ("from", r#""ball":"3","hand":"makes-85","from":3,"to":2"#),
        ("pocket", r#""ball":"3","hand":"makes-85","from":0,"to":4,"pocket":"middle""#),
    ] {
        assert_eq!(asked(rest), Err(field.to_owned()), "{rest}");
    }
    assert_eq!(hands().len(), 5, "five hands");
}
