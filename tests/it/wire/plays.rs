//! Shots played through their forms.

use super::schemas::schema;
use super::{SHOT, shot};
use crate::harness::{publish, published};
use crate::support::{Seeded, any_shot};
use leaveline::physics;
use leaveline::wire::{
    HEADER, PER_BALL, PER_EVENT, PER_SAMPLE, compact, parse, play, play_packed, play_text,
    write_shot,
};
use serde_json::Value;

#[test]
fn any_shot_gives_an_outcome_that_keeps_to_the_schema() {
    let (shots, outcomes) = (schema("shot"), schema("outcome"));
    let mut seeded = Seeded::new(0x3172);
    for round in 0..150 {
        let given = any_shot(&mut seeded, 1 + round % 16);
        let text = compact(&write_shot(&given)).expect("a shot is JSON");
        let form: Value = serde_json::from_str(&text).expect("JSON");
        assert!(shots.is_valid(&form), "the schema holds for {text}");
        let outcome = play_text(&text).expect("the shot is legal");
        let form: Value = serde_json::from_str(&outcome).expect("JSON");
        let faults: Vec<_> = outcomes.iter_errors(&form).map(|e| e.to_string()).collect();
        assert_eq!(faults, [""; 0], "of {text}");
    }
}

#[test]
fn objects_text_and_packed_numbers_tell_the_same() {
    let mut seeded = Seeded::new(0x3173);
    for round in 0..60 {
        let given = any_shot(&mut seeded, 1 + round % 16);
        let text = compact(&write_shot(&given)).expect("a shot is JSON");
        let form = parse(&text).expect("JSON");
        let outcome = play_text(&text).expect("the shot is legal");
        assert_eq!(compact(&play(&form).expect("legal")).as_deref(), Ok(outcome.as_str()));

        let packed = play_packed(&form).expect("legal");
        let told: Value = serde_json::from_str(&outcome).expect("JSON");
        let events = told["events"].as_array().expect("a list");
        let [n_balls, n_events, n_samples] = [2, 3, 4].map(|k| packed[k] as usize);
        assert_eq!((n_balls, n_events), (given.balls.len(), events.len()), "counts");
        let first_event = HEADER + PER_BALL * n_balls;
        let first_sample = first_event + PER_EVENT * n_events;
        assert_eq!(packed.len(), first_sample + PER_SAMPLE * n_samples, "length");
        assert_eq!(told["duration"].as_f64(), Some(packed[1]), "duration");
        for (k, event) in events.iter().enumerate() {
            let numbers = &packed[first_event + PER_EVENT * k..][..PER_EVENT];
            for (at, name) in [(0, "t"), (4, "x"), (5, "y")] {
                assert_eq!(event[name].as_f64(), Some(numbers[at]), "{name} of event {k}");
            }
        }
        for (k, ball) in given.balls.iter().enumerate() {
            let numbers = &packed[HEADER + PER_BALL * k..][..PER_BALL];
            let path = told["paths"][ball.id.to_string()].as_array().expect("a path").len();
            assert_eq!(numbers[0], f64::from(ball.id.number()), "whose row it is");
            assert_eq!(numbers[6], path as f64, "samples of the {} ball", ball.id);
        }
    }
}

#[test]
fn the_form_changes_nothing() {
    let read = shot(SHOT).expect("a sound form");
    let outcome = physics::play(&read).expect("legal");
    let again = physics::play(&shot(&compact(&write_shot(&read)).expect("JSON")).expect("sound"));
    assert_eq!(again, Ok(outcome), "written and read, the shot plays the same to the bit");
}

#[test]
fn on_a_table_without_friction_balls_are_left_moving() {
    let ideal = SHOT.replace(
        r#""nine-foot""#,
        r#""nine-foot","slidingFriction":0,"rollingFriction":0,"spinDecay":0,"cushionRestitution":1,"cushionFriction":0"#,
    );
    // Square between the long rails, where it meets nothing else.
    let ideal = ideal.replace("26.6", "90");
    let outcome = play_text(&ideal).expect("physically meaningful");
    let form: Value = serde_json::from_str(&outcome).expect("JSON");
    assert!(schema("outcome").is_valid(&form), "the schema knows of moving balls");
    assert_eq!(form["balls"][0]["state"], "moving");
}

#[test]
fn refusals_of_the_physics_name_the_field_of_the_form() {
    for (from, to, message) in [
        ("0.6,", "-0.6,", "balls[0]: the ball is not on the table"),
        ("\"3\"", "\"cue\"", "balls[1]: the cue ball is on the table twice"),
        ("\"cue\"", "\"4\"", "balls: the cue ball is missing"),
        ("1.8", "0", "stroke.speed is 0: must be positive and at most 15 m/s"),
        (
            "nine-foot\"",
            "nine-foot\",\"width\":-1",
            "table.width is -1: must be positive and at most 100 m",
        ),
    ] {
        let error = play_text(&SHOT.replacen(from, to, 1)).expect_err(message);
        assert_eq!(error.to_string(), message);
    }
}

const EXAMPLE: &str = "www/schema/outcome.example.json";

/// The published example is true: the shot of `shot.example.json` gives exactly
/// `outcome.example.json`. After a deliberate change of the model, write it anew
/// with `LEAVELINE_PUBLISH=1 cargo test`.
#[test]
fn the_published_example_is_true() {
    let given = published("www/schema/shot.example.json");
    assert_eq!(shot(&given), shot(SHOT), "the example of the documentation");
    let outcome = play_text(&given).expect("the example is legal") + "\n";
    publish(EXAMPLE, &outcome);
    assert_eq!(outcome, published(EXAMPLE));
}
