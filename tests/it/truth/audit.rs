//! Whole shots gone through without rounding: every contact stands at the exact
//! first time at which the courses before it touch, and between contacts nothing
//! touches.

use super::exact::{Chain, Exact};
use super::meetings::{Mover, first_time};
use super::spread;
use crate::support::{Seeded, any_shot};
use glam::DVec2;
use leaveline::physics::{Arena, Course, Event, EventKind, Listen, Shot, at_the_strike};
use leaveline::table::TableShape;
use std::collections::BTreeMap;

/// What touches at the start of a leg, m, is left to that leg's own beginning.
const APART: f64 = 1e-9;

#[derive(Clone, Copy)]
struct Leg {
    place: usize,
    course: Course,
    since: f64,
    until: f64,
}

#[derive(Default)]
struct Heard {
    legs: Vec<Leg>,
    events: Vec<Event>,
}

impl Listen for Heard {
    fn event(&mut self, event: Event) {
        self.events.push(event);
    }

    fn leg(&mut self, place: usize, course: &Course, since: f64, until: f64) {
        if until > since {
            self.legs.push(Leg { place, course: *course, since, until });
        }
    }
}

impl Leg {
    fn at(&self, time: f64) -> DVec2 {
        self.course.position(time - self.since)
    }

    /// The exact motion, with time counted from `from`.
    fn mover(&self, from: f64) -> Mover {
        Mover::new(&self.course, &(&Exact::from(from) - &Exact::from(self.since)))
    }

    /// No point of the leg lies further than this from its position at `from`, m.
    fn room(&self, from: f64, until: f64) -> f64 {
        if !self.course.moves() {
            return 0.0;
        }
        let span = until - from;
        let speed = self.course.velocity(from - self.since).length();
        (speed + 0.5 * self.course.acceleration.length() * span) * span
    }
}

/// Something that a ball can come up against: its gap along one leg.
struct Fixed {
    name: &'static str,
    reach: f64,
    kind: Against,
}

enum Against {
    Point(DVec2),
    Wall(usize),
}

fn fixed(shape: &TableShape) -> Vec<Fixed> {
    let touch = shape.touch_distance;
    let jaws = shape.jaw_points.iter().map(|jaw| Fixed {
        name: "jaw point",
        reach: touch,
        kind: Against::Point(jaw.position),
    });
    let holes = shape.pockets.iter().map(|pocket| Fixed {
        name: "hole",
        reach: pocket.hole_radius,
        kind: Against::Point(pocket.hole),
    });
    let walls = (0..18).map(|k| Fixed { name: "wall", reach: touch, kind: Against::Wall(k) });
    jaws.chain(holes).chain(walls).collect()
}

impl Fixed {
    fn gap(&self, shape: &TableShape, at: DVec2) -> f64 {
        match self.kind {
            Against::Point(point) => (at - point).length() - self.reach,
            Against::Wall(wall) => shape.walls[wall].height_of(at) - self.reach,
        }
    }

    fn polynomial(&self, shape: &TableShape, ball: &Mover) -> Vec<Exact> {
        match self.kind {
            Against::Point(point) => ball.within(&Mover::fixed(point), self.reach).into(),
            Against::Wall(wall) => {
                let wall = &shape.walls[wall];
                ball.over(wall.from, wall.normal, self.reach).into()
            }
        }
    }

    fn is_faced(&self, shape: &TableShape, at: DVec2) -> bool {
        match self.kind {
            Against::Point(_) => true,
            Against::Wall(wall) => {
                let wall = &shape.walls[wall];
                (1e-9..wall.length - 1e-9).contains(&wall.foot_of(at))
            }
        }
    }
}

/// What one kind of event or gap came to.
#[derive(Default)]
struct Sum {
    /// By how much the times of contacts are off, s.
    off: Vec<f64>,
    /// Gaps that stay open, of those near enough to be asked without rounding.
    open: usize,
}

struct Audit<'a> {
    shape: &'a TableShape,
    radius: f64,
    seed: u64,
    sums: &'a mut BTreeMap<&'static str, Sum>,
}

impl Audit<'_> {
    /// One gap from `from` to `until`: it is open at first, and closes at the end if
    /// `ends` says so, or not at all.
    fn gap(&mut self, name: &'static str, gap: &[Exact], from: f64, until: f64, ends: bool) {
        let sum = self.sums.entry(name).or_default();
        let (span, seed) = (until - from, self.seed);
        if ends {
            let first = first_time(gap, span + 1e-6).unwrap_or_else(|| {
                panic!("seed {seed}: a {name} is told at {until} s and never touched")
            });
            let told = &Exact::from(until) - &Exact::from(from);
            let off = (&first - &told).to_f64().abs();
            assert!(off < 1e-9, "seed {seed}: a {name} at {until} s is off by {off:e} s");
            sum.off.push(off);
        } else if span > 1e-9 {
            let roots = Chain::new(gap).roots(0.0, span - 1e-9);
            assert_eq!(roots, 0, "seed {seed}: a {name} is missed between {from} and {until} s");
            sum.open += 1;
        }
    }

    fn pair(&mut self, one: &Leg, two: &Leg, heard: &Heard, shot: &Shot) {
        let (from, until) = (one.since.max(two.since), one.until.min(two.until));
        let reach = 2.0 * self.radius;
        let apart = (one.at(from) - two.at(from)).length() - reach;
        if from >= until || apart <= APART {
            return;
        }
        let ids = [one, two].map(|leg| shot.balls[leg.place].id);
        let (low, high) = (ids[0].min(ids[1]), ids[0].max(ids[1]));
        let ends = heard.events.iter().any(|event| {
            event.time == until
                && event.ball == low
                && event.kind == EventKind::Contact(high)
                // In a cluster balls that touch already may be hit again.
                && ((one.at(until) - two.at(until)).length() - reach).abs() < APART
        });
        if !ends && one.room(from, until) + two.room(from, until) < apart {
            return;
        }
        let gap = one.mover(from).within(&two.mover(from), reach);
        self.gap("ball", &gap, from, until, ends);
    }

    fn leg(&mut self, leg: &Leg, heard: &Heard, shot: &Shot, all: &[Fixed]) {
        if !leg.course.moves() {
            return;
        }
        let (id, room) = (shot.balls[leg.place].id, leg.room(leg.since, leg.until));
        let end = leg.at(leg.until);
        let told = |event: &Event, hole: bool| {
            event.time == leg.until
                && event.ball == id
                && match event.kind {
                    EventKind::Cushion(_) => !hole,
                    EventKind::Pocketed(_) => hole,
                    _ => false,
                }
        };
        for thing in all {
            let gap = thing.gap(self.shape, leg.course.start.position);
            if gap <= APART || gap > room {
                continue;
            }
            let polynomial = thing.polynomial(self.shape, &leg.mover(leg.since));
            let touches = thing.gap(self.shape, end).abs() < APART;
            let ends = touches
                && thing.is_faced(self.shape, end)
                && heard.events.iter().any(|event| told(event, thing.name == "hole"));
            if !ends && let Against::Wall(_) = thing.kind {
                // The line of a wall may be crossed beyond its ends.
                let crossed = first_time(&polynomial, leg.until - leg.since - 1e-9);
                let at = |time: Exact| leg.at(leg.since + time.to_f64());
                let missed = crossed.is_some_and(|time| thing.is_faced(self.shape, at(time)));
                assert!(!missed, "seed {}: a wall is missed after {} s", self.seed, leg.since);
                self.sums.entry(thing.name).or_default().open += 1;
                continue;
            }
            self.gap(thing.name, &polynomial, leg.since, leg.until, ends);
        }
    }
}

/// Shots of any kind, with up to ten balls, some of them frozen.
#[test]
fn no_contact_is_missed_and_none_is_late() {
    let mut sums = BTreeMap::new();
    for seed in 0..800 {
        let mut seeded = Seeded::new(50_000 + seed);
        let n_balls = 1 + seeded.below(10) as usize;
        let shot = any_shot(&mut seeded, n_balls);
        let arena = Arena::new(&shot.card);
        let struck = shot.struck().expect("there is a cue ball");
        let mut heard = Heard::default();
        arena.run(&at_the_strike(&shot.balls, struck), &mut heard);
        let (shape, radius) = (arena.shape(), shot.card.ball.radius);
        let mut audit = Audit { shape, radius, seed, sums: &mut sums };
        let all = fixed(shape);
        for (k, leg) in heard.legs.iter().enumerate() {
            audit.leg(leg, &heard, &shot, &all);
            for other in heard.legs[k + 1..].iter().filter(|other| other.place != leg.place) {
                audit.pair(leg, other, &heard, &shot);
            }
        }
    }
    for (name, sum) in &sums {
        let off = spread(sum.off.clone());
        println!(
            "800 shots, {name}: {} contacts, off by {:.0e} s (median), {:.0e} s (worst); {} gaps \
             stay open",
            off.count, off.median, off.worst, sum.open
        );
        assert!(off.count > 50 && sum.open > 50, "{name}: enough to say so");
    }
}
