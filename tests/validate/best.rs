//! The best stroke against an exhaustive search of a grid of strokes.

use crate::harness::on_every_core;
use crate::support::{Seeded, free_place};
use glam::DVec2;
use leaveline::BallId;
use leaveline::physics::{PlacedBall, Shot, Stroke};
use leaveline::shot::{
    Delivery, Demand, FARTHEST_TIP, HANDS, Hand, MOST_PLAYS, Outlook, Plan, Prospect, SPEEDS,
    Search, Share, Situation, Wobble, Zone, worth,
};
use leaveline::table::{PocketId, TableCard, TableShape, TableSize};
use std::cell::RefCell;
use std::collections::HashMap;
use std::f64::consts::PI;
use std::process::ExitCode;
use std::time::Instant;

/// By how much the exhaustive search may be better (the claim, in joint chance).
const ALLOWED: f64 = 0.02;

/// How thorough the exhaustive search is.
#[derive(Clone, Copy)]
pub struct Effort {
    /// Strokes of the grid.
    pub n_plans: usize,
    /// Tips from the middle to the farthest.
    pub tip_steps: i32,
    /// Errors with which each plan has been played at the end of a round, the first of
    /// them none at all, and how many plans go on; after the first round only such as
    /// were once worth something.
    pub rounds: &'static [(usize, usize)],
    /// Fresh strokes by which both winners are judged.
    pub n_judged: u32,
}

pub const FULL: Effort = Effort {
    n_plans: 200_000,
    tip_steps: 8,
    rounds: &[(2, 20_000), (12, 4_000), (48, 800), (192, 150), (768, 20), (3072, 1)],
    n_judged: 20_000,
};

pub const SHORT: Effort = Effort {
    n_plans: 2_000,
    tip_steps: 4,
    rounds: &[(2, 200), (12, 40), (96, 4), (400, 1)],
    n_judged: 1_000,
};

/// Speeds that are aimed exactly, evenly spaced in their logarithms: between two of them
/// the direction is read off a straight line.
const AIMED_SPEEDS: u32 = 64;

/// What is to be solved.
struct Problem {
    situation: Situation,
    demand: Demand,
    hand: Hand,
    own: Stroke,
    prospect: Option<RefCell<Prospect>>,
}

impl Problem {
    /// The chance to pot the next ball from a place.
    fn next(&self, from: DVec2) -> f64 {
        self.prospect.as_ref().map_or(1.0, |prospect| prospect.borrow_mut().chance(from))
    }

    /// How the hand carries the stroke out.
    fn delivery(&self, stroke: &Stroke) -> Delivery {
        let (card, balls) = (self.situation.arena().card(), self.situation.balls());
        Delivery::new(&self.hand, card, balls, stroke)
    }

    /// What strokes with these errors are worth together.
    fn sum(&self, delivery: &Delivery, wobbles: &[Wobble]) -> f64 {
        let mut next = |from: DVec2| self.next(from);
        wobbles
            .iter()
            .filter_map(|wobble| {
                self.situation.play_for(&self.demand, None, &delivery.struck(wobble))
            })
            .map(|ending| worth(&self.demand, &ending, &mut next))
            .sum()
    }

    /// The same on average, each stroke played to its end.
    fn mean(&self, stroke: &Stroke, wobbles: &[Wobble]) -> f64 {
        let (mut next, delivery) = (|from: DVec2| self.next(from), self.delivery(stroke));
        let played = |wobble: &Wobble| self.situation.play(&delivery.struck(wobble));
        let worth = |wobble: &Wobble| worth(&self.demand, &played(wobble), &mut next);
        wobbles.iter().map(worth).sum::<f64>() / wobbles.len() as f64
    }
}

/// A layout, a hand and a demand that some stroke meets.
fn problem(seed: u64) -> Problem {
    let mut seeded = Seeded::new(seed);
    loop {
        if let Some(problem) = proposed(&mut seeded, seed) {
            return problem;
        }
    }
}

fn proposed(seeded: &mut Seeded, seed: u64) -> Option<Problem> {
    let card = TableCard::of_size(TableSize::ALL[seed as usize % 3]);
    let shape = TableShape::new(&card);
    let mut balls: Vec<PlacedBall> = Vec::new();
    for k in 0..3 + seed as usize / 2 % 4 {
        let id = if k == 0 { BallId::CUE } else { BallId::object(k as u8)? };
        balls.push(PlacedBall { id, position: free_place(seeded, &card, &shape, &balls)? });
    }
    let own = Stroke { azimuth: 0.0, elevation: 0.0, speed: 2.0, side: 0.0, height: 0.0 };
    let on = BallId::object(1)?;
    let mut shot = Shot { card, balls, stroke: own };
    let situation = Situation::new(&shot, on).ok()?;
    // What is asked can be done: it is what some stroke does.
    let angle = seeded.within(-PI, PI);
    let offset = 0.4 * seeded.within(0.0, 1.0).sqrt();
    let plan = Plan {
        pocket: PocketId::ALL[seeded.below(6) as usize],
        speed: 0.6 * (5.0_f64).powf(seeded.within(0.0, 1.0)),
        side: offset * angle.sin(),
        height: offset * angle.cos(),
    };
    shot.stroke = plan.aimed(&situation)?;
    let ending = situation.play(&shot.stroke);
    let mut demand = Demand { next: BallId::object(2), ..Demand::to_pot(on) };
    if !demand.is_potted(&ending) {
        return None;
    }
    if seed.is_multiple_of(2) {
        let half = DVec2::new(seeded.within(0.06, 0.3), seeded.within(0.04, 0.15));
        demand.zone = Some(Zone { centre: ending.stop, half, turn: seeded.within(0.0, PI) });
    }
    if seed % 5 == 4 {
        demand.rails = ending.rails.iter().copied().take(3).collect();
    }
    if seed % 7 == 6 {
        demand.pocket = ending.pocket;
    }
    let hand = HANDS[seed as usize / 3 % HANDS.len()].hand;
    let prospect = Prospect::new(&situation, &demand, &hand).ok()?.map(RefCell::new);
    let problem = Problem { situation, demand, hand, own: shot.stroke, prospect };
    // Neither next to hopeless nor next to certain, for that tells nothing.
    let wobbles: Vec<Wobble> = (0..64).map(|k| Wobble::drawn(seed as u32, k)).collect();
    (0.05..0.7).contains(&problem.mean(&problem.own, &wobbles)).then_some(problem)
}

/// The number `k` of a series that halves the gaps of 0..1, over and over: 1/2, 1/4,
/// 3/4, 1/8...
///
/// Source: van der Corput 1935, Proc. Akad. Wet. Amsterdam 38, 813 (base 2).
fn halving(k: u32) -> f64 {
    f64::from(k.reverse_bits()) / (1_u64 << 32) as f64
}

/// The winner of the whole grid, and the number of plans tried.
fn exhaustive(problem: &Problem, effort: &Effort, seed: u32) -> Option<(Stroke, usize)> {
    let steps = effort.tip_steps;
    let mut tips = Vec::new();
    for across in -steps..=steps {
        for up in -steps..=steps {
            if across * across + up * up <= steps * steps {
                let tip = |k: i32| FARTHEST_TIP * f64::from(k) / f64::from(steps);
                tips.push((tip(across), tip(up)));
            }
        }
    }
    let pockets: Vec<PocketId> = PocketId::ALL
        .into_iter()
        .filter(|pocket| problem.demand.pocket.is_none_or(|named| named == *pocket))
        .filter(|pocket| {
            let plan = Plan { pocket: *pocket, speed: 2.0, side: 0.0, height: 0.0 };
            plan.aimed(&problem.situation).is_some()
        })
        .collect();
    let mut field: Vec<Runner> = Vec::new();
    let speed_at = |share: f64| SPEEDS.start() * (SPEEDS.end() / SPEEDS.start()).powf(share);
    let mut aims: HashMap<(usize, u32), Option<Stroke>> = HashMap::new();
    // Speeds between those before, until there are enough strokes: not every plan can be
    // aimed.
    for k in 1.. {
        let share = halving(k);
        for (place, (pocket, (side, height))) in
            pockets.iter().flat_map(|p| tips.iter().map(move |tip| (*p, *tip))).enumerate()
        {
            let at = |share: f64| Plan { pocket, speed: speed_at(share), side, height };
            let mut knot = |knot: u32| {
                *aims.entry((place, knot)).or_insert_with(|| {
                    at(f64::from(knot) / f64::from(AIMED_SPEEDS)).aimed(&problem.situation)
                })
            };
            let along = share * f64::from(AIMED_SPEEDS);
            let (before, rest) = (along as u32, along.fract());
            let low = knot(before);
            let high = if rest == 0.0 { low } else { knot(before + 1) };
            let (Some(low), Some(high)) = (low, high) else { continue };
            let azimuth = low.azimuth + rest * (high.azimuth - low.azimuth);
            let plan = at(share);
            let stroke = Stroke { azimuth, elevation: 0.0, speed: plan.speed, side, height };
            field.push(Runner { plan, delivery: problem.delivery(&stroke), sum: 0.0 });
        }
        if field.len() >= effort.n_plans || k > effort.n_plans as u32 {
            break;
        }
    }
    let n_plans = field.len();
    let drawn = |k: usize| Wobble::drawn(seed, k as u32);
    let most = effort.rounds.iter().map(|(n_strokes, _)| *n_strokes).max()?;
    let wobbles: Vec<Wobble> =
        std::iter::once(Wobble::default()).chain((1..most).map(drawn)).collect();
    let mut from = 0;
    for &(until, n_left) in effort.rounds {
        for runner in &mut field {
            runner.sum += problem.sum(&runner.delivery, &wobbles[from..until]);
        }
        field.retain(|runner| runner.sum > 0.0);
        field.sort_by(|a, b| b.sum.total_cmp(&a.sum));
        field.truncate(n_left);
        from = until;
    }
    let stroke = field.first()?.plan.aimed(&problem.situation)?;
    Some((stroke, n_plans))
}

/// A plan in the race of all.
struct Runner {
    plan: Plan,
    delivery: Delivery,
    /// Of what its strokes so far were worth.
    sum: f64,
}

/// Compares the two on layout `seed`; gives by how much the exhaustive search is better.
fn behind(seed: u64, effort: &Effort) -> f64 {
    let problem = problem(seed);
    let start = Instant::now();
    let Problem { situation, demand, hand, own, prospect } = &problem;
    let (mut known, mut nothing) =
        (prospect.as_ref().map(|known| known.borrow().clone()), |_: DVec2| 1.0);
    let next: &mut dyn Outlook = match &mut known {
        Some(known) => known,
        None => &mut nothing,
    };
    let mut search =
        Search::new(situation.clone(), demand.clone(), *hand, seed as u32, *own, Share::ALL);
    let progress = search.step(MOST_PLAYS, next);
    let took = start.elapsed().as_secs_f64();
    let start = Instant::now();
    let (reference, n_plans) =
        exhaustive(&problem, effort, 1000 + seed as u32).expect("some stroke pots");
    let wobbles: Vec<Wobble> =
        (0..effort.n_judged).map(|k| Wobble::drawn(2_000_000 + seed as u32, k)).collect();
    let best = progress.best.expect("some stroke pots");
    let (found, most) = (problem.mean(&best.stroke, &wobbles), problem.mean(&reference, &wobbles));
    println!(
        "{seed:>3}: {found:.4} ({:.3}) of {most:.4}, {:+.4} behind; {} plays in {took:.2} s; {n_plans} plans in {:.0} s\n     {:?}\n     {reference:?}",
        best.chance.share,
        most - found,
        progress.n_plays,
        start.elapsed().as_secs_f64(),
        best.stroke,
    );
    assert!(progress.n_plays <= MOST_PLAYS, "more plays than it may");
    most - found
}

/// Compares the two on `n` layouts from number `first` on.
pub fn validate(n: u64, first: u64, effort: &Effort) -> ExitCode {
    let seeds: Vec<u64> = (first..first + n).collect();
    let behind = on_every_core(&seeds, |&seed| behind(seed, effort));
    let worst = behind.iter().copied().fold(f64::NEG_INFINITY, f64::max);
    let mean = behind.iter().sum::<f64>() / n as f64;
    println!("{n} layouts: {worst:.4} behind at worst, {mean:.4} on average");
    if worst <= ALLOWED { ExitCode::SUCCESS } else { ExitCode::FAILURE }
}
