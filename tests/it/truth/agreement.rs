//! The model's shots against the same shots in small steps.

use super::brute::{Cut, Fineness, Played, Table, Told, play};
use super::corpus::{Kind, shot};
use super::rubber::Care;
use super::{Spread, spread};
use glam::DVec2;
use leaveline::BallId;
use leaveline::physics::{
    Arena, BallEnd, Course, CushionLaw, Event, EventKind, Listen, Shot, at_the_strike,
};
use std::collections::BTreeMap;

/// The reference.
const FINE: Fineness =
    Fineness { step: 4e-3, parts: 40, care: Care { rounding: 1e-12, tolerance: 1e-12 } };

/// The same with every step twice as long, to see how far it has converged. What is
/// rounded off and allowed at a cushion is ten times as much.
const COARSE: Fineness =
    Fineness { step: 8e-3, parts: 20, care: Care { rounding: 1e-11, tolerance: 1e-11 } };

/// Keeps events and the beginnings of legs.
#[derive(Default)]
struct Heard {
    events: Vec<Event>,
    legs: Vec<(usize, f64, DVec2)>,
}

impl Listen for Heard {
    fn event(&mut self, event: Event) {
        self.events.push(event);
    }

    fn leg(&mut self, place: usize, course: &Course, since: f64, until: f64) {
        if until > since {
            self.legs.push((place, since, course.start.velocity));
        }
    }
}

/// The shot as the model plays it.
fn modelled(arena: &Arena, shot: &Shot) -> Played {
    let struck = shot.struck().expect("there is a cue ball");
    let mut heard = Heard::default();
    let ends = arena.run(&at_the_strike(&shot.balls, struck), &mut heard);
    let place =
        |id: BallId| shot.balls.iter().position(|ball| ball.id == id).expect("on the table");
    let after = |id: BallId, time: f64| {
        let leg = heard.legs.iter().find(|leg| leg.0 == place(id) && leg.1 == time);
        leg.map_or(DVec2::ZERO, |leg| leg.2)
    };
    let told = heard.events.iter().map(|event| {
        let other = match event.kind {
            EventKind::Contact(other) => after(other, event.time),
            _ => DVec2::ZERO,
        };
        let own = match event.kind {
            EventKind::Pocketed(_) => DVec2::ZERO,
            _ => after(event.ball, event.time),
        };
        let (time, ball, kind, at) = (event.time, event.ball, event.kind, event.position);
        Told { time, ball, kind, at, after: [own, other] }
    });
    let ends = ends.iter().enumerate().map(|(place, end)| match end {
        BallEnd::Rest(at) | BallEnd::Moving(at) => *at,
        BallEnd::Pocketed(_) => {
            let fell = |event: &&Event| {
                event.ball == shot.balls[place].id && matches!(event.kind, EventKind::Pocketed(_))
            };
            heard.events.iter().find(fell).expect("it fell").position
        }
    });
    Played { told: told.collect(), ends: ends.collect(), ..Played::default() }
}

/// By how much two tellings of one shot differ.
#[derive(Default)]
struct Apart {
    times: Vec<f64>,
    places: Vec<f64>,
    angles: Vec<f64>,
    ends: Vec<f64>,
    /// When they first tell of different things.
    parts: Option<f64>,
}

impl Apart {
    fn largest(&self) -> f64 {
        self.places.iter().chain(&self.ends).copied().fold(0.0, f64::max)
    }

    fn add(&mut self, other: Self) {
        self.times.extend(other.times);
        self.places.extend(other.places);
        self.angles.extend(other.angles);
        self.ends.extend(other.ends);
    }
}

/// What happens to one ball, in order.
fn of(told: &[Told], id: BallId, until: f64) -> Vec<&Told> {
    let concerns = |told: &&Told| told.ball == id || told.kind == EventKind::Contact(id);
    let mut own: Vec<&Told> = told.iter().filter(concerns).collect();
    own.retain(|told| told.time < until);
    own.sort_by(|a, b| a.time.total_cmp(&b.time));
    own
}

/// Compares ball by ball: what happens to two balls at times nearer than rounding
/// has no order of its own.
fn compare(shot: &Shot, one: &Played, two: &Played, until: f64) -> Apart {
    let mut apart = Apart::default();
    for ball in &shot.balls {
        let (first, second) = (of(&one.told, ball.id, until), of(&two.told, ball.id, until));
        for (a, b) in first.iter().zip(&second) {
            if (a.ball, a.kind) != (b.ball, b.kind) {
                let when = a.time.min(b.time);
                apart.parts = Some(apart.parts.map_or(when, |before| before.min(when)));
                break;
            }
            if a.ball != ball.id {
                continue;
            }
            apart.times.push((a.time - b.time).abs());
            apart.places.push((a.at - b.at).length());
            for (a, b) in a.after.iter().zip(b.after) {
                if a.length() > 1e-3 {
                    apart.angles.push(a.perp_dot(b).atan2(a.dot(b)).abs());
                }
            }
        }
        if first.len() != second.len() && apart.parts.is_none() {
            let longer = if first.len() > second.len() { &first } else { &second };
            apart.parts = Some(longer[first.len().min(second.len())].time);
        }
    }
    if until == f64::INFINITY && apart.parts.is_none() {
        apart.ends = one.ends.iter().zip(&two.ends).map(|(a, b)| (*a - *b).length()).collect();
    }
    apart
}

/// What one category came to.
#[derive(Default)]
struct Sum {
    shots: usize,
    cut: BTreeMap<&'static str, usize>,
    /// Number of shots that part, with what the model and small steps decide
    /// differently, and by how little, m.
    parted: Vec<f64>,
    model: Apart,
    own: Apart,
}

/// The row of the table that a shot belongs to.
fn category(kind: Kind, played: &Played) -> String {
    let cushions = played.told.iter().filter(|told| matches!(told.kind, EventKind::Cushion(_)));
    match (kind, cushions.count()) {
        (Kind::Cushions, n @ 0..=3) => format!("{n} cushions"),
        (Kind::Cushions, _) => "4 and more cushions".to_owned(),
        (kind, _) => format!("{kind:?}").to_lowercase(),
    }
}

fn hold(kind: Kind, number: u64, sums: &mut BTreeMap<String, Sum>) {
    let shot = shot(kind, number);
    shot.check().unwrap_or_else(|error| panic!("{kind:?} {number}: {error}"));
    let arena = Arena::new(&shot.card);
    let table = Table { card: &shot.card, shape: arena.shape(), law: CushionLaw::new(&shot.card) };
    let struck = shot.struck().expect("there is a cue ball");
    let start = at_the_strike(&shot.balls, struck);
    let (fine, coarse) = (play(&table, &start, FINE), play(&table, &start, COARSE));
    let model = modelled(&arena, &shot);

    let sum = sums.entry(category(kind, &fine)).or_default();
    sum.shots += 1;
    if let Some((_, why)) = fine.cut {
        let why = if why == Cut::Together { "several at once" } else { "rests" };
        *sum.cut.entry(why).or_default() += 1;
    }
    // Close before the cut nothing is certain.
    let cut = |played: &Played| played.cut.map_or(f64::INFINITY, |(time, _)| time - 1e-6);
    let until = cut(&fine).min(cut(&coarse));
    let own = compare(&shot, &coarse, &fine, until);
    let off = compare(&shot, &model, &fine, until);
    if let Some(time) = off.parts {
        let calls = fine.close_calls.iter().filter(|call| call.0 < time + 1e-3);
        let least = calls.map(|call| call.1).fold(f64::INFINITY, f64::min);
        println!("{kind:?} {number} parts at {time} s, decided by {least:e} m");
        sum.parted.push(least);
        // Before they part they agree, and what parts them is closer than the error.
        let error = own.largest().max(off.largest()).max(1e-12);
        assert!(least < 10.0 * error, "{kind:?} {number} parts at {time} s: {shot:?}");
    }
    assert!(
        off.largest() < 1e-6,
        "{kind:?} {number}: {:e} m apart, small steps by themselves {:e}",
        off.largest(),
        own.largest()
    );
    sum.model.add(off);
    sum.own.add(own);
}

fn show(name: &str, sum: &Sum) {
    let text = |values: &Vec<f64>| {
        let Spread { median, worst, .. } = spread(values.clone());
        format!("{median:.0e} / {worst:.0e}")
    };
    let Sum { shots, cut, parted, model, own } = sum;
    let own = spread([&own.places[..], &own.ends].concat());
    let cut: Vec<String> = cut.iter().map(|(why, count)| format!("{count} {why}")).collect();
    println!(
        "| {name} | {shots} | {} | {} | {} | {} | {} | {:.0e} | {} | {} |",
        model.times.len(),
        text(&model.times),
        text(&model.places),
        text(&model.angles),
        text(&model.ends),
        own.worst,
        if cut.is_empty() { "none".to_owned() } else { cut.join(", ") },
        parted.len()
    );
}

/// How many shots of each kind.
const SHOTS: [(Kind, u64); 6] = [
    (Kind::Cloth, 60),
    (Kind::Cuts, 120),
    (Kind::Cushions, 160),
    (Kind::Jaws, 80),
    (Kind::Pockets, 80),
    (Kind::Several, 60),
];

#[test]
fn shots_agree_with_small_steps() {
    let mut sums = BTreeMap::new();
    for (kind, shots) in SHOTS {
        for number in 0..shots {
            hold(kind, number, &mut sums);
        }
    }
    println!("Differences: median / worst, s, m and rad; steps: by themselves, worst, m");
    println!("| category | shots | events | time | place | angle | end | steps | cut | parted |");
    println!("|---|---|---|---|---|---|---|---|---|---|");
    for (name, sum) in &sums {
        show(name, sum);
        let own = spread([&sum.own.places[..], &sum.own.ends].concat());
        assert!(own.worst < 1e-7, "{name}: small steps have converged: {:e}", own.worst);
    }
}

/// Small steps converge: each row of steps, shorter than the one before and with
/// cushions followed more closely, comes nearer to the finest.
#[test]
fn small_steps_converge() {
    let rows = [(16e-3, 5, 1e-6), (8e-3, 10, 1e-8), (4e-3, 20, 1e-10)];
    let mut worst = [0.0_f64; 3];
    for number in 0..20 {
        let shot = shot(Kind::Cushions, number);
        let arena = Arena::new(&shot.card);
        let law = CushionLaw::new(&shot.card);
        let table = Table { card: &shot.card, shape: arena.shape(), law };
        let start = at_the_strike(&shot.balls, shot.struck().expect("there is a cue ball"));
        let finest = play(&table, &start, FINE);
        for ((step, parts, small), worst) in rows.into_iter().zip(&mut worst) {
            let care = Care { rounding: small, tolerance: small };
            let rough = play(&table, &start, Fineness { step, parts, care });
            let apart = compare(&shot, &rough, &finest, f64::INFINITY);
            assert_eq!(apart.parts, None, "shot {number}: the same events in steps of {step} s");
            *worst = worst.max(apart.largest());
        }
    }
    let [first, second, third] = worst;
    println!("largest difference to the finest steps: {first:.1e}, {second:.1e}, {third:.1e} m");
    assert!(second < 0.1 * first && third < 0.1 * second, "each row is nearer: {worst:?}");
}
