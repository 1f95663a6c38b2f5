//! What a shot is made of, each part alone: impacts, and the search for the next
//! meeting of two balls. All are measured over many cases, and told for one.

use bench::{cushion_impacts, gaps, scenes};
use criterion::{Criterion, Throughput, criterion_group, criterion_main};
use glam::{DVec2, DVec3};
use leaveline::BallMotion;
use leaveline::geometry::first_fall;
use leaveline::physics::{CushionLaw, collide};
use leaveline::table::{TableCard, TableSize};
use std::hint::black_box;

/// Motions of every direction and spin, from a fixed sequence.
fn motions(n: u32) -> Vec<BallMotion> {
    let share = |k: u32, step: f64| 2.0 * (f64::from(k) * step).fract() - 1.0;
    let radius = TableCard::of_size(TableSize::NineFoot).ball.radius;
    (1..=n)
        .map(|k| {
            // Multiples of roots of primes, which fill a cube evenly.
            let [a, b, c, d, e] = [2.0, 3.0, 5.0, 7.0, 11.0].map(|p: f64| share(k, p.sqrt()));
            BallMotion {
                position: DVec2::ZERO,
                velocity: DVec2::new(0.1 + 2.4 * a.abs(), 2.5 * b),
                spin: DVec3::new(c, d, e) * (2.5 / radius),
            }
        })
        .collect()
}

fn measure<T>(c: &mut Criterion, name: &str, cases: &[T], work: impl Fn(&T)) {
    assert!(cases.len() >= 16, "{name}: {} cases are too few", cases.len());
    let mut group = c.benchmark_group("parts");
    group.throughput(Throughput::Elements(cases.len() as u64));
    group.bench_function(name, |b| b.iter(|| cases.iter().for_each(|case| work(black_box(case)))));
    group.finish();
}

fn parts(c: &mut Criterion) {
    let card = TableCard::of_size(TableSize::NineFoot);
    let law = CushionLaw::new(&card);
    for scene in scenes() {
        let impacts = cushion_impacts(&scene);
        measure(c, &format!("cushion-{}", scene.name), &impacts, |(motion, normal)| {
            black_box(law.rebound(motion, *normal));
        });
    }
    let any = motions(1024);
    measure(c, "cushion-any", &any, |motion| {
        black_box(law.rebound(motion, DVec2::NEG_X));
    });
    measure(c, "balls-any", &any, |motion| {
        let mut pair = (*motion, BallMotion::default());
        pair.1.position = DVec2::new(2.0 * card.ball.radius, 0.0);
        black_box(collide(&pair.0, &pair.1, DVec2::X, card.ball.radius, &card.ball_contact));
    });
    let gaps: Vec<_> = scenes()[1..].iter().flat_map(gaps).collect();
    let (met, missed): (Vec<_>, Vec<_>) =
        gaps.into_iter().partition(|(c, span)| first_fall(c, *span).is_some());
    for (name, cases) in [("pair-missed", missed), ("pair-met", met)] {
        measure(c, name, &cases, |(c, span)| {
            black_box(first_fall(c, *span));
        });
    }
}

criterion_group!(benches, parts);
criterion_main!(benches);
