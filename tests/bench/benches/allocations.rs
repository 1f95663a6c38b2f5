//! What a shot allocates: by how much a call with twice the strokes allocates more,
//! and what a recorded shot does. One line of JSON a scene.

use bench::scenes;
use leaveline::wire::{Value, compact, ends, play_packed, write_shot};
use std::hint::black_box;

#[global_allocator]
static ALLOCATOR: dhat::Alloc = dhat::Alloc;

/// Blocks and bytes that `work` allocates.
fn allocated(work: impl FnOnce()) -> [f64; 2] {
    let count = || {
        let stats = dhat::HeapStats::get();
        [stats.total_blocks, stats.total_bytes]
    };
    let before = count();
    work();
    let after = count();
    [0, 1].map(|k| (after[k] - before[k]) as f64)
}

fn main() {
    let _profiler = dhat::Profiler::builder().testing().build();
    for scene in scenes() {
        let n = scene.strokes.len() as f64;
        let form = scene.form();
        // The reply itself, which is one block and grows by design, is made ready.
        let [once, twice] = [1, 2].map(|times| {
            let numbers = scene.numbers(times);
            allocated(|| drop(black_box(ends(&form, &numbers).expect("a scene can be played"))))
        });
        let reply = n * (scene.shot.balls.len() * 3 * size_of::<f64>()) as f64;
        let read = n * size_of::<leaveline::physics::Stroke>() as f64;
        let forms: Vec<Value> =
            (0..scene.strokes.len()).map(|place| write_shot(&scene.shot_at(place))).collect();
        let recorded = allocated(|| {
            for form in &forms {
                drop(black_box(play_packed(form).expect("a scene can be played")));
            }
        });
        let line = Value::fields([
            ("scene", Value::text(scene.name)),
            ("blocks", ((twice[0] - once[0]) / n).into()),
            ("bytes", ((twice[1] - once[1] - reply - read) / n).into()),
            ("recordedBlocks", (recorded[0] / n).into()),
            ("recordedBytes", (recorded[1] / n).into()),
        ]);
        println!("{}", compact(&line).expect("numbers"));
    }
}
