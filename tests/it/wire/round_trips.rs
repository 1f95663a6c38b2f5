//! What goes out comes back the same.

use super::{CALL, OWN_TABLE, SHOT, call, item, item_text, shot};
use leaveline::wire::{compact, degrees_for, write_call, write_item, write_shot};
use proptest::prelude::*;

#[test]
fn a_form_read_and_written_is_the_same_text() {
    for text in [SHOT, OWN_TABLE] {
        let read = shot(text).expect("a sound form");
        assert_eq!(compact(&write_shot(&read)).as_deref(), Ok(text), "shot");
        let whole = item_text(text);
        let read = item(&whole).expect("a sound form");
        assert_eq!(compact(&write_item(&read)), Ok(whole), "item");
    }
    let read = call(CALL).expect("a sound form");
    assert_eq!(compact(&write_call(&read)).as_deref(), Ok(CALL), "call");
}

#[test]
fn a_parameter_that_equals_its_default_is_not_written() {
    let given = SHOT.replace(r#""nine-foot""#, r#""nine-foot","ballMass":0.1701,"width":1.27"#);
    let read = shot(&given).expect("a sound form");
    assert_eq!(compact(&write_shot(&read)).as_deref(), Ok(SHOT), "only the size is left");
}

#[test]
fn negative_zero_is_zero() {
    let given = SHOT.replace(r#""elevation":0"#, r#""elevation":-0.0"#);
    let read = shot(&given).expect("zero is zero");
    assert!(read.stroke.elevation.is_sign_positive(), "one shot, one set of bits");
    assert_eq!(Ok(read), shot(SHOT), "the sign of zero changes nothing");
}

/// A text of `value / 10^decimals` as the tool writes it.
fn decimal(value: i64, decimals: u32) -> String {
    compact(&(value as f64 / 10f64.powi(decimals as i32))).expect("a number is JSON")
}

prop_compose! {
    fn stroke_text()(
        azimuth in -360_000i64..=360_000, elevation in 0i64..=85_000, speed in 1i64..=15_000,
        side in -353i64..=353, height in -353i64..=353,
    ) -> String {
        format!(
            r#"{{"azimuth":{},"elevation":{},"speed":{},"side":{},"height":{}}}"#,
            decimal(azimuth, 3), decimal(elevation, 3), decimal(speed, 3),
            decimal(side, 3), decimal(height, 3),
        )
    }
}

prop_compose! {
    /// Balls one to a cell of a coarse grid, so that they never overlap.
    fn balls_text()(
        n_balls in 1usize..=16,
        ids in Just((1..=15).collect::<Vec<_>>()).prop_shuffle(),
        cells in Just((0..24).collect::<Vec<i64>>()).prop_shuffle(),
        offsets in proptest::collection::vec((0i64..1000, 0i64..1000), 16),
    ) -> String {
        let ball = |k: usize| {
            let id = if k == 0 { "cue".to_owned() } else { format!("{}", ids[k - 1]) };
            let (column, row) = (cells[k] % 6, cells[k] / 6);
            let x = decimal(1_200 + 3_000 * column + offsets[k].0, 4);
            let y = decimal(1_000 + 2_000 * row + offsets[k].1, 4);
            format!(r#"{{"id":"{id}","x":{x},"y":{y}}}"#)
        };
        let all: Vec<_> = (0..n_balls).map(ball).collect();
        format!("[{}]", all.join(","))
    }
}

prop_compose! {
    fn table_text()(
        size in prop::sample::select(vec!["nine-foot", "eight-foot", "seven-foot"]),
        gravity in prop::option::of(9_700i64..9_850),
        restitution in prop::option::of(0i64..=1_000),
        friction in prop::option::of((0i64..100, 0i64..200, 1i64..2_000)),
        cut in prop::option::of(100_000i64..108_000),
    ) -> String {
        let mut text = format!(r#"{{"size":"{size}""#);
        if let Some(gravity) = gravity.filter(|&g| g != 9_806) {
            text += &format!(r#","gravity":{}"#, decimal(gravity, 3));
        }
        if let Some(restitution) = restitution.filter(|&e| e != 920) {
            text += &format!(r#","cushionRestitution":{}"#, decimal(restitution, 3));
        }
        if let Some((floor, range, decay)) = friction {
            text += &format!(
                r#","ballFriction":{{"floor":{},"range":{},"decay":{}}}"#,
                decimal(floor, 3), decimal(range, 3), decimal(decay, 3),
            );
        }
        if let Some(cut) = cut.filter(|&c| c != 104_000) {
            let cut = decimal(cut, 3);
            text += &format!(
                r#","sidePocket":{{"mouth":0.1286,"cutAngle":{cut},"shelf":0.0048,"facing":0.045,"holeRadius":0.064}}"#,
            );
        }
        text + "}"
    }
}

prop_compose! {
    fn shot_text()(
        table in table_text(), balls in balls_text(), stroke in stroke_text(),
    ) -> String {
        format!(r#"{{"version":1,"table":{table},"balls":{balls},"stroke":{stroke}}}"#)
    }
}

proptest! {
    #[test]
    fn every_shot_text_comes_back(text in shot_text()) {
        let read = shot(&text).expect("the strategy makes sound forms");
        prop_assert_eq!(compact(&write_shot(&read)), Ok(text));
    }

    #[test]
    fn every_shot_comes_back_to_the_bit(
        text in shot_text(), azimuth in -1e3..1e3f64, elevation in 0.0..84.9f64,
        speed in 1e-6..15.0f64,
    ) {
        let mut given = shot(&text).expect("the strategy makes sound forms");
        given.stroke.azimuth = leaveline::units::radians(azimuth);
        given.stroke.elevation = leaveline::units::radians(elevation);
        given.stroke.speed = speed;
        let written = compact(&write_shot(&given)).expect("a shot is JSON");
        let back = shot(&written).expect("what is written can be read");
        prop_assert_eq!(&back, &given);
        prop_assert_eq!(compact(&write_shot(&back)), Ok(written), "and is settled");
    }

    #[test]
    fn degrees_with_few_digits_are_found_again(digits in -999_999_999i64..=999_999_999) {
        let typed = digits as f64 / 1e6;
        prop_assert_eq!(degrees_for(leaveline::units::radians(typed)), typed);
    }
}
