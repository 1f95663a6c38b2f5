//! Many strokes on one layout, of which only the ends are told.

use super::{SHOT, shot};
use crate::support::{Seeded, any_shot, any_stroke};
use leaveline::physics::{BallEnd, Shot, Stroke, play};
use leaveline::table::{PocketId, TableShape};
use leaveline::wire::{
    MOST_STROKES, PER_END, PER_STROKE, degrees_for, ends, parse, read_shot, write_shot,
};

/// The numbers of a stroke, which read back to the same bits.
fn numbers(stroke: &Stroke) -> [f64; PER_STROKE] {
    let (azimuth, elevation) = (degrees_for(stroke.azimuth), degrees_for(stroke.elevation));
    [azimuth, elevation, stroke.speed, stroke.side, stroke.height]
}

#[test]
fn ends_are_those_of_the_shots_played_one_by_one() {
    let mut seeded = Seeded::new(0x3174);
    let (mut fell, mut stayed) = (0, 0);
    for round in 0..40 {
        // Through its form, so that the angles are those that degrees can say.
        let form = write_shot(&any_shot(&mut seeded, 1 + round % 16));
        let layout = read_shot(&form, "").expect("sound");
        let strokes: Vec<Stroke> = (0..6).map(|_| any_stroke(&mut seeded)).collect();
        let given: Vec<f64> = strokes.iter().flat_map(numbers).collect();
        let told = ends(&form, &given).expect("every stroke can be played");
        assert_eq!(told.len(), strokes.len() * layout.balls.len() * PER_END, "one row a ball");

        let shape = TableShape::new(&layout.card);
        let mut rows = told.chunks_exact(PER_END);
        for numbers in given.chunks_exact(PER_STROKE) {
            let radians = leaveline::units::radians;
            let stroke = Stroke {
                azimuth: radians(numbers[0]),
                elevation: radians(numbers[1]),
                speed: numbers[2],
                side: numbers[3],
                height: numbers[4],
            };
            let outcome = play(&Shot { stroke, ..layout.clone() }).expect("sound");
            for (k, end) in outcome.ends.iter().enumerate() {
                let row = rows.next().expect("a row");
                let want = match *end {
                    BallEnd::Rest(at) => [at.x, at.y, -1.0],
                    BallEnd::Moving(at) => [at.x, at.y, -2.0],
                    BallEnd::Pocketed(pocket) => {
                        let at = shape.pocket(pocket).hole;
                        let number = PocketId::ALL.iter().position(|&id| id == pocket);
                        [at.x, at.y, number.expect("one of six") as f64]
                    }
                };
                assert_eq!(row, want, "ball {k} after {stroke:?} on {layout:?}");
                if row[2] >= 0.0 { fell += 1 } else { stayed += 1 }
            }
        }
    }
    assert!(fell > 20 && stayed > 20, "{fell} fell and {stayed} stayed: both were tried");
}

#[test]
fn a_stroke_leaves_nothing_behind_for_the_next() {
    let form = write_shot(&shot(SHOT).expect("sound"));
    let one = [26.6, 0.0, 1.8, 0.0, -0.3];
    let other = [200.0, 10.0, 6.0, 0.3, 0.2];
    let alone = ends(&form, &one).expect("sound");
    let after = ends(&form, &[other, one].concat()).expect("sound");
    assert_eq!(after[alone.len()..], alone, "the same after another stroke");
}

#[test]
fn on_a_table_without_friction_balls_are_told_as_moving() {
    let ideal = SHOT.replace(
        r#""nine-foot""#,
        r#""nine-foot","slidingFriction":0,"rollingFriction":0,"spinDecay":0,"cushionRestitution":1,"cushionFriction":0"#,
    );
    // Square between the long rails, where it meets nothing else.
    let told = ends(&parse(&ideal).expect("JSON"), &[90.0, 0.0, 1.8, 0.0, 0.0]).expect("sound");
    assert_eq!([told[2], told[5]], [-2.0, -1.0], "the cue ball moves, the other rests");
}

#[test]
fn what_is_no_stroke_is_refused_by_number_and_name() {
    let form = write_shot(&shot(SHOT).expect("sound"));
    let good = [26.6, 0.0, 1.8, 0.0, -0.3];
    let with = |place: usize, value: f64| {
        let mut strokes = [good, good, good].concat();
        strokes[place] = value;
        strokes
    };
    let length = "must be 5 numbers for each of 1 to 4096 strokes";
    for (strokes, message) in [
        (vec![], format!("strokes.length is 0: {length}")),
        (vec![1.0; 7], format!("strokes.length is 7: {length}")),
        (vec![1.0; PER_STROKE * (MOST_STROKES + 1)], format!("strokes.length is 20485: {length}")),
        (with(5, f64::NAN), "strokes[1].azimuth is NaN: must be a finite number".into()),
        (with(6, 86.0), "strokes[1].elevation is 86: must lie from 0 to 85 degrees".into()),
        (with(12, 99.0), "strokes[2].speed is 99: must be positive and at most 15 m/s".into()),
        (with(12, f64::INFINITY), "strokes[2].speed is inf: must be a finite number".into()),
        (with(3, -1.5), "strokes[0].side is -1.5: must lie from -1 to 1".into()),
        (
            with(14, 0.6),
            "strokes[2].side: miscue: side and height together must stay within half a radius"
                .into(),
        ),
    ] {
        let error = ends(&form, &strokes).expect_err(&message);
        assert_eq!(error.to_string(), message);
    }
    let error = ends(&parse("{}").expect("JSON"), &good).expect_err("no shot");
    assert_eq!(error.to_string(), "version: must be given", "the layout is read as strictly");
}
