//! The outcome as a form and as packed numbers.

use super::schemas::schema;
use glam::DVec2;
use leaveline::BallId;
use leaveline::physics::{BallEnd, Event, EventKind, Outcome, PlacedBall, Sample};
use leaveline::table::{PocketId, Rail, Surface};
use leaveline::wire::{HEADER, PER_BALL, PER_EVENT, PER_SAMPLE, compact, pack, write_outcome};
use serde_json::Value;

/// An outcome with every kind of event and of end; no shot has it.
fn every_kind() -> (Vec<PlacedBall>, Outcome) {
    let ball = |k: u8| BallId::object(k).unwrap_or(BallId::CUE);
    let at = |x: f64, y: f64| DVec2::new(x, y);
    let balls = [(0, at(0.6, 0.4)), (3, at(1.2, 0.7)), (15, at(2.0, 0.5))]
        .map(|(k, position)| PlacedBall { id: ball(k), position });
    let events = [
        (0.0, 0, EventKind::Strike, at(0.6, 0.4)),
        (0.25, 0, EventKind::Contact(ball(3)), at(1.15, 0.675)),
        (0.5, 0, EventKind::Roll, at(1.3, 0.7)),
        (1.0, 0, EventKind::Cushion(Surface::Rail(Rail::Foot)), at(2.5125, 0.9)),
        (1.5, 3, EventKind::Cushion(Surface::Pocket(PocketId::SideLeft)), at(1.25, 1.25)),
        (2.0, 3, EventKind::Pocketed(PocketId::FootLeft), at(2.55, 1.3)),
        (6.25, 0, EventKind::Stop, at(1.0, -0.0)),
    ]
    .map(|(time, k, kind, position)| Event { time, ball: ball(k), kind, position });
    let path = |points: &[(f64, DVec2)]| {
        points.iter().map(|&(time, position)| Sample { time, position }).collect()
    };
    let outcome = Outcome {
        duration: 6.25,
        events: events.into(),
        ends: vec![
            BallEnd::Rest(at(1.0, -0.0)),
            BallEnd::Pocketed(PocketId::FootLeft),
            BallEnd::Moving(at(2.0, 0.5)),
        ],
        paths: vec![
            path(&[(0.0, at(0.6, 0.4)), (0.25, at(1.15, 0.675)), (6.25, at(1.0, -0.0))]),
            path(&[(0.25, at(1.2, 0.7)), (2.0, at(2.55, 1.3))]),
            path(&[(0.0, at(2.0, 0.5))]),
        ],
    };
    (balls.into(), outcome)
}

#[test]
fn every_kind_of_event_and_end_is_written_as_documented() {
    let (balls, outcome) = every_kind();
    let text = compact(&write_outcome(&balls, &outcome)).expect("an outcome is JSON");
    let expected = concat!(
        r#"{"version":1,"duration":6.25,"events":["#,
        r#"{"t":0,"kind":"strike","ball":"cue","x":0.6,"y":0.4},"#,
        r#"{"t":0.25,"kind":"contact","ball":"cue","with":"3","x":1.15,"y":0.675},"#,
        r#"{"t":0.5,"kind":"roll","ball":"cue","x":1.3,"y":0.7},"#,
        r#"{"t":1,"kind":"cushion","ball":"cue","with":"foot","x":2.5125,"y":0.9},"#,
        r#"{"t":1.5,"kind":"cushion","ball":"3","with":"side-left","x":1.25,"y":1.25},"#,
        r#"{"t":2,"kind":"pocketed","ball":"3","with":"foot-left","x":2.55,"y":1.3},"#,
        r#"{"t":6.25,"kind":"stop","ball":"cue","x":1,"y":0}],"#,
        r#""balls":[{"state":"rest","id":"cue","x":1,"y":0},"#,
        r#"{"state":"pocketed","id":"3","pocket":"foot-left"},"#,
        r#"{"state":"moving","id":"15","x":2,"y":0.5}],"#,
        r#""paths":{"cue":[[0,0.6,0.4],[0.25,1.15,0.675],[6.25,1,0]],"#,
        r#""3":[[0.25,1.2,0.7],[2,2.55,1.3]],"15":[[0,2,0.5]]}}"#,
    );
    assert_eq!(text, expected);
    let form: Value = serde_json::from_str(&text).expect("JSON");
    let faults: Vec<_> = schema("outcome").iter_errors(&form).map(|e| e.to_string()).collect();
    assert_eq!(faults, [""; 0], "the schema holds");
}

#[test]
fn the_schema_refuses_what_is_never_written() {
    let (balls, outcome) = every_kind();
    let text = compact(&write_outcome(&balls, &outcome)).expect("an outcome is JSON");
    let validator = schema("outcome");
    for (from, to) in [
        (r#""kind":"contact","ball":"cue","with":"3""#, r#""kind":"contact","ball":"cue""#),
        (r#""with":"3""#, r#""with":"foot""#),
        (r#""with":"foot""#, r#""with":"3""#),
        (r#""kind":"roll","ball":"cue""#, r#""kind":"roll","ball":"cue","with":"3""#),
        (r#""with":"foot-left""#, r#""with":"foot""#),
        (r#""state":"rest","#, ""),
        (r#""pocket":"foot-left""#, r#""x":1,"y":1"#),
        (r#"[0,2,0.5]"#, "[0,2]"),
        (r#"[0,2,0.5]"#, "[0,2,0.5,1]"),
        (r#"[[0,2,0.5]]"#, "[]"),
        (r#"[0,2,0.5]"#, "[-1,2,0.5]"),
        (r#""15":["#, r#""16":["#),
        (r#""duration":6.25"#, r#""duration":null"#),
        (r#""version":1"#, r#""version":2"#),
    ] {
        assert!(text.contains(from), "the outcome has {from}");
        let other: Value = serde_json::from_str(&text.replacen(from, to, 1)).expect("JSON");
        assert!(!validator.is_valid(&other), "{from} became {to}");
    }
}

#[test]
fn packed_numbers_stand_where_the_layout_says() {
    let (balls, outcome) = every_kind();
    let packed = pack(&balls, &outcome);
    assert_eq!(packed[..HEADER], [1.0, 6.25, 3.0, 7.0, 6.0], "version, duration, counts");
    let events = HEADER + PER_BALL * 3;
    let samples = events + PER_EVENT * 7;
    assert_eq!(packed.len(), samples + PER_SAMPLE * 6, "and nothing after the samples");
    assert_eq!(
        packed[HEADER..events],
        [
            [0.0, 0.0, 1.0, 0.0, -1.0, 0.0, 3.0],
            [3.0, 1.0, 2.55, 1.3, 3.0, 3.0, 2.0],
            [15.0, 2.0, 2.0, 0.5, -1.0, 5.0, 1.0],
        ]
        .concat(),
        "balls"
    );
    assert_eq!(
        packed[events..samples],
        [
            [0.0, 0.0, 0.0, -1.0, 0.6, 0.4],
            [0.25, 1.0, 0.0, 3.0, 1.15, 0.675],
            [0.5, 3.0, 0.0, -1.0, 1.3, 0.7],
            [1.0, 2.0, 0.0, 1.0, 2.5125, 0.9],
            [1.5, 2.0, 3.0, 9.0, 1.25, 1.25],
            [2.0, 5.0, 3.0, 7.0, 2.55, 1.3],
            [6.25, 4.0, 0.0, -1.0, 1.0, 0.0],
        ]
        .concat(),
        "events"
    );
    assert_eq!(packed[samples..samples + 3], [0.0, 0.6, 0.4], "the first sample");
    assert_eq!(packed[samples + 15..], [0.0, 2.0, 0.5], "the last sample");
    assert!(packed.iter().all(|n| n.is_finite() && (*n != 0.0 || n.is_sign_positive())), "plain");
}
