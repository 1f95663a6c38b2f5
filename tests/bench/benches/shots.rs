//! Shots natively: where the balls end, many strokes a call, and the whole outcome as
//! packed numbers, one shot a call. The page's engine is measured with the same calls.

use bench::scenes;
use criterion::{Criterion, Throughput, criterion_group, criterion_main};
use leaveline::wire::{PER_STROKE, Value, ends, play_packed, write_shot};
use std::hint::black_box;

fn shots(c: &mut Criterion) {
    for scene in scenes() {
        scene.counts();
        let (form, numbers) = (scene.form(), scene.numbers(scene.times()));
        let mut group = c.benchmark_group(scene.name);
        group.throughput(Throughput::Elements((numbers.len() / PER_STROKE) as u64));
        group.bench_function("ends", |b| {
            b.iter(|| ends(black_box(&form), black_box(&numbers)).expect("a scene can be played"));
        });
        let forms: Vec<Value> =
            (0..scene.strokes.len()).map(|place| write_shot(&scene.shot_at(place))).collect();
        group.throughput(Throughput::Elements(forms.len() as u64));
        group.bench_function("recorded", |b| {
            b.iter(|| {
                for form in &forms {
                    black_box(play_packed(black_box(form)).expect("a scene can be played"));
                }
            });
        });
        group.finish();
    }
}

criterion_group!(benches, shots);
criterion_main!(benches);
