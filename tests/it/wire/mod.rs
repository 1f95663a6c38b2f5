//! The open forms: round trips, schemas, links, and what is refused.

mod best;
mod boundary;
mod clear;
mod ends;
mod fuzzed;
mod hostile;
mod kept_links;
mod leave;
mod links;
mod maps;
mod margins;
mod outcomes;
mod packed_links;
mod plays;
mod requests;
mod round_trips;
mod schemas;
mod trials;
mod why;

use leaveline::Error;
use leaveline::physics::Shot;
use leaveline::practice::{Call, ClearItem, LeaveAnswer, LeaveItem, ReadItem};
use leaveline::wire::{
    parse, read_answer, read_call, read_clear_item, read_item, read_leave_item, read_shot,
};

/// The example of the forms' documentation.
const SHOT: &str = r#"{"version":1,"table":{"size":"nine-foot"},"balls":[{"id":"cue","x":0.6,"y":0.4},{"id":"3","x":1.2,"y":0.7}],"stroke":{"azimuth":26.6,"elevation":0,"speed":1.8,"side":0,"height":-0.3}}"#;

/// A shot with every parameter of the table replaced.
const OWN_TABLE: &str = r#"{"version":1,"table":{"size":"seven-foot","length":2,"width":1,"ballRadius":0.028,"ballMass":0.165,"gravity":9.81,"slidingFriction":0.21,"rollingFriction":0.011,"spinDecay":9.5,"ballRestitution":0.94,"cushionRestitution":0.9,"cushionFriction":0.2,"noseHeight":0.0355,"squirtMassRatio":28,"ballFriction":{"floor":0.02,"range":0.1,"decay":0.8},"cornerPocket":{"mouth":0.117,"cutAngle":141.5,"shelf":0.04,"facing":0.061,"holeRadius":0.059},"sidePocket":{"mouth":0.13,"cutAngle":103.75,"shelf":0.005,"facing":0.046,"holeRadius":0.065}},"balls":[{"id":"cue","x":0.5,"y":0.5},{"id":"15","x":1.5,"y":0.25},{"id":"8","x":1,"y":0.75}],"stroke":{"azimuth":333.125,"elevation":4.5,"speed":3.25,"side":0.3,"height":0.4}}"#;

const CALL: &str = r#"{"points":[{"x":2.5114,"y":0.8123,"rail":"foot"},{"x":1.9,"y":0.6}],"stop":{"x":1.02,"y":1.01}}"#;

/// Three balls, the 3 to be potted in the foot-left pocket.
const SHOT3: &str = r#"{"version":1,"table":{"size":"nine-foot"},"balls":[{"id":"cue","x":0.8,"y":0.5},{"id":"3","x":1.7,"y":0.9},{"id":"7","x":1.2,"y":0.3}],"stroke":{"azimuth":22.4,"elevation":2,"speed":1.5,"side":0,"height":0}}"#;

const DEMAND: &str = r#"{"on":"3","pocket":"foot-left","next":"7","rails":["foot"],"zone":{"x":1.5,"y":0.6,"long":0.4,"wide":0.2,"turn":30}}"#;

const ANSWER: &str = r#"{"zone":{"x":1.9,"y":0.6,"long":0.5,"wide":0.25,"turn":-20},"stroke":{"azimuth":22.4,"elevation":2,"speed":1.5,"side":0,"height":0.2},"call":{"points":[{"x":2.1,"y":1}],"stop":{"x":1.9,"y":0.6}}}"#;

/// Three balls in rotation with a way asked for; and a group of two, one of them the key
/// ball, before the last.
const CLEARS: [&str; 2] = [
    r#"{"version":1,"kind":"clear","model":1,"level":3,"seed":7,"shot":{"version":1,"table":{"size":"nine-foot"},"balls":[{"id":"cue","x":0.8,"y":0.5},{"id":"1","x":1.7,"y":0.9},{"id":"2","x":1.2,"y":0.3},{"id":"3","x":2.1,"y":0.4}],"stroke":{"azimuth":22.4,"elevation":2,"speed":1.5,"side":0,"height":0}},"game":{"kind":"rotation"},"links":[{"from":"1","to":"2","cushions":1,"side":"left"}]}"#,
    r#"{"version":1,"kind":"clear","model":1,"level":1,"shot":{"version":1,"table":{"size":"nine-foot"},"balls":[{"id":"cue","x":0.8,"y":0.5},{"id":"1","x":1.7,"y":0.9},{"id":"2","x":1.2,"y":0.3},{"id":"8","x":2.1,"y":0.4},{"id":"9","x":0.4,"y":0.9}],"stroke":{"azimuth":22.4,"elevation":2,"speed":1.5,"side":0,"height":0}},"game":{"kind":"group","group":["1","2"],"last":"8"},"key":"2"}"#,
];

fn clear_item(text: &str) -> Result<ClearItem, Error> {
    read_clear_item(&parse(text)?, "")
}

fn leave_text(shot: &str, demand: &str) -> String {
    format!(
        r#"{{"version":1,"kind":"leave","model":1,"level":3,"seed":7,"shot":{shot},"demand":{demand}}}"#
    )
}

fn leave_item(text: &str) -> Result<LeaveItem, Error> {
    read_leave_item(&parse(text)?, "")
}

fn answer(text: &str) -> Result<LeaveAnswer, Error> {
    read_answer(&parse(text)?, "")
}

fn item_text(shot: &str) -> String {
    format!(r#"{{"version":1,"kind":"read","model":1,"level":3,"seed":4294967295,"shot":{shot}}}"#)
}

fn shot(text: &str) -> Result<Shot, Error> {
    read_shot(&parse(text)?, "")
}

fn item(text: &str) -> Result<ReadItem, Error> {
    read_item(&parse(text)?, "")
}

fn call(text: &str) -> Result<Call, Error> {
    read_call(&parse(text)?, "")
}
