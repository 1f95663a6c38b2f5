//! Writes the scenes as JSON, for the browser and the table of results.

use bench::{Counts, look_aheads, scenes};
use leaveline::wire::{Value, compact, write_shot};

fn main() {
    let written = scenes().map(|scene| {
        let counts = scene.counts();
        let mean = |of: fn(&Counts) -> f64| {
            Value::from(counts.iter().map(of).sum::<f64>() / counts.len() as f64)
        };
        let (legs, pairs) = look_aheads(&scene);
        let strokes = scene.numbers(scene.times()).into_iter().map(Value::from).collect();
        let shots = (0..scene.strokes.len()).map(|k| write_shot(&scene.shot_at(k))).collect();
        Value::fields([
            ("name", Value::text(scene.name)),
            ("words", Value::text(scene.words)),
            ("events", mean(|counts| counts.events as f64)),
            ("cushions", mean(|counts| counts.cushions as f64)),
            ("contacts", mean(|counts| counts.contacts as f64)),
            ("duration", mean(|counts| counts.duration)),
            ("legs", legs.into()),
            ("pairs", pairs.into()),
            ("shot", scene.form()),
            ("strokes", Value::List(strokes)),
            ("shots", Value::List(shots)),
        ])
    });
    println!("{}", compact(&Value::List(written.into())).expect("numbers and texts"));
}
