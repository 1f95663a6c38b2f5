//! Times of contacts against their exact values: meetings of every kind, and
//! grazes made to measure, as shallow as a picometre. A graze closes slowly: where
//! that is under 0.1 mm/s the contact rests and no event is told, but the course is
//! cut short at its time, which is held to the same.

use super::exact::Exact;
use super::meetings::{Mover, first_time};
use super::spread;
use crate::support::Seeded;
use glam::{DVec2, DVec3};
use leaveline::physics::{Arena, Course, Event, EventKind, Listen};
use leaveline::table::{TableCard, TableSize};
use leaveline::{BallId, BallMotion};
use std::f64::consts::PI;

/// The first event, and each ball's first course with its end: a contact cuts it
/// short, whether it bounces and is told or only rests.
#[derive(Default)]
struct First {
    event: Option<Event>,
    courses: [Option<(Course, f64)>; 2],
}

impl Listen for First {
    fn event(&mut self, event: Event) {
        self.event.get_or_insert(event);
    }

    fn leg(&mut self, place: usize, course: &Course, since: f64, until: f64) {
        if since == 0.0 && until > 0.0 {
            self.courses[place].get_or_insert((*course, until));
        }
    }

    fn has_heard_enough(&self) -> bool {
        self.courses[0].is_some()
    }
}

/// What a ball meets.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Kind {
    Ball,
    Jaw,
    Hole,
    Wall,
}

/// Two states that lead to a meeting, and the exact gap that closes.
struct Case {
    balls: Vec<(BallId, BallMotion)>,
    gap: Vec<Exact>,
    /// The thing: a fixed point with a reach, or a wall by its number.
    thing: Thing,
    /// When the gap is smallest, about, s.
    nearest: f64,
}

#[derive(Clone, Copy, Debug)]
enum Thing {
    Ball,
    Point(DVec2, f64),
    Wall(usize),
}

/// By how much the times of one kind of meeting are off.
#[derive(Default)]
struct Tally {
    /// Of contacts that bounce.
    told: Vec<f64>,
    /// Of contacts that close too slowly to bounce.
    rests: Vec<f64>,
    /// Exact contacts that the model does not have, and the reverse.
    missed: usize,
    invented: usize,
    /// Rightly without a contact.
    clear: usize,
}

/// A ball that slides or rolls in some way.
fn moving(seeded: &mut Seeded, radius: f64) -> BallMotion {
    let direction = DVec2::from_angle(seeded.within(-PI, PI));
    let velocity = direction * seeded.within(-7.0, 1.6).exp();
    let mut spin = DVec3::new(-velocity.y, velocity.x, 0.0) / radius;
    if seeded.below(4) > 0 {
        let most = velocity.length() / radius;
        let any = |seeded: &mut Seeded| seeded.within(-1.5, 1.5) * most;
        spin = DVec3::new(any(seeded), any(seeded), any(seeded));
    }
    BallMotion { position: DVec2::ZERO, velocity, spin }
}

/// A meeting in which the gap is smallest, and is minus `depth`, at a time that is
/// drawn, before either ball's first phase ends. None if what was drawn does not fit
/// the table.
fn graze(arena: &Arena, kind: Kind, depth: f64, seeded: &mut Seeded) -> Option<Case> {
    let (card, shape) = (arena.card(), arena.shape());
    let radius = card.ball.radius;
    let course = |motion: &BallMotion| Course::new(*motion, radius, &card.cloth);
    let mut ball = moving(seeded, radius);
    let own = course(&ball);
    let mut balls = Vec::new();
    let (nearest, start_gap, thing);
    let gap: Vec<Exact> = match kind {
        Kind::Ball => {
            let rests = seeded.below(2) == 0;
            let mut object = if rests { BallMotion::default() } else { moving(seeded, radius) };
            let theirs = course(&object);
            nearest = own.span.min(theirs.span).min(0.5) * seeded.within(0.1, 0.95);
            let across = (theirs.velocity(nearest) - own.velocity(nearest)).normalize().perp();
            let way = theirs.position(nearest) - own.position(nearest);
            let offset = across * (2.0 * radius - depth) - way;
            start_gap = offset.length() - 2.0 * radius;
            let middle = DVec2::new(card.length, card.width) / 2.0;
            ball.position = middle - offset / 2.0;
            object.position = middle + offset / 2.0;
            thing = Thing::Ball;
            balls.push((BallId::object(1).expect("a ball"), object));
            let theirs = Mover::new(&course(&object), &Exact::from(0.0));
            Mover::new(&course(&ball), &Exact::from(0.0)).within(&theirs, 2.0 * radius).into()
        }
        Kind::Jaw | Kind::Hole => {
            let k = seeded.below(12) as usize;
            let (centre, reach, most) = match kind {
                Kind::Jaw => (shape.jaw_points[k].position, shape.touch_distance, 0.3),
                _ => (shape.pockets[k / 2].hole, shape.pockets[k / 2].hole_radius, 0.03),
            };
            nearest = (most * seeded.within(0.3, 1.0) / ball.velocity.length())
                .min(own.span * seeded.within(0.1, 0.95));
            let across = own.velocity(nearest).normalize().perp();
            ball.position = centre + across * (reach - depth) - own.position(nearest);
            thing = Thing::Point(centre, reach);
            start_gap = (ball.position - centre).length() - reach;
            Mover::new(&course(&ball), &Exact::from(0.0))
                .within(&Mover::fixed(centre), reach)
                .into()
        }
        Kind::Wall => {
            let k = seeded.below(18) as usize;
            let wall = &shape.walls[k];
            thing = Thing::Wall(k);
            let (fall, curve) = (ball.velocity.dot(wall.normal), own.acceleration.dot(wall.normal));
            nearest = -fall / curve;
            if !(curve > 0.01 && nearest > 0.02 * own.span && nearest < 0.95 * own.span) {
                return None;
            }
            let foot = wall.from + wall.along * (wall.length * seeded.within(0.02, 0.98));
            let there = foot + wall.normal * (shape.touch_distance - depth);
            ball.position = there - own.position(nearest);
            start_gap = wall.height_of(ball.position) - shape.touch_distance;
            let cue = Mover::new(&course(&ball), &Exact::from(0.0));
            cue.over(wall.from, wall.normal, shape.touch_distance).into()
        }
    };
    balls.insert(0, (BallId::CUE, ball));
    let stands = balls.iter().all(|(_, ball)| shape.refusal(ball.position).is_none());
    (stands && start_gap > 1e-6).then_some(Case { balls, gap, thing, nearest })
}

impl Case {
    /// Gap and closing speed at a time, and whether a wall is met in front of itself.
    fn at(&self, arena: &Arena, time: f64) -> (f64, f64, bool) {
        let (shape, radius) = (arena.shape(), arena.card().ball.radius);
        let course = |place: usize| Course::new(self.balls[place].1, radius, &arena.card().cloth);
        let cue = course(0);
        let (at, v) = (cue.position(time), cue.velocity(time));
        let round = |offset: DVec2, velocity: DVec2, reach: f64| {
            (offset.length() - reach, -velocity.dot(offset.normalize()), true)
        };
        match self.thing {
            Thing::Ball => {
                let other = course(1);
                let (there, theirs) = (other.position(time), other.velocity(time));
                round(at - there, v - theirs, 2.0 * radius)
            }
            Thing::Point(centre, reach) => round(at - centre, v, reach),
            Thing::Wall(wall) => {
                let wall = &shape.walls[wall];
                let faced = (0.0..=wall.length).contains(&wall.foot_of(at));
                (wall.height_of(at) - shape.touch_distance, -v.dot(wall.normal), faced)
            }
        }
    }
}

/// Contacts that close slower rest, m/s: as in the model.
const RESTS: f64 = 1e-4;

/// Plays one case and holds it against the exact time. False if something else
/// comes first.
fn judge(arena: &Arena, kind: Kind, case: &Case, tally: &mut Tally) -> bool {
    let mut first = First::default();
    arena.run(&case.balls, &mut first);
    let (radius, cloth) = (arena.card().ball.radius, &arena.card().cloth);
    let mut span = f64::INFINITY;
    for ((_, ball), heard) in case.balls.iter().zip(&first.courses) {
        let course = Course::new(*ball, radius, cloth);
        span = if course.moves() { span.min(course.span) } else { span };
        if let Some((heard, _)) = heard {
            assert_eq!(*heard, course, "the exact gap is that of the courses played");
        }
    }
    let (_, until) = first.courses[0].expect("the ball moves");
    let met = until < span * (1.0 - 1e-9) && case.at(arena, until).0.abs() < 1e-9;
    let Some(exact) = first_time(&case.gap, span) else {
        if until < case.nearest - 1e-4 {
            return false;
        }
        let tally = if met { &mut tally.invented } else { &mut tally.clear };
        *tally += 1;
        return true;
    };
    let due = exact.to_f64();
    let (_, closing, faced) = case.at(arena, due);
    if !faced || (until < due - 1e-9 && !met) {
        return false;
    }
    if !met {
        tally.missed += 1;
        return true;
    }
    let off = (&exact - &Exact::from(until)).to_f64().abs();
    let told = first.event.filter(|event| event.time == until);
    if kind == Kind::Hole || closing > RESTS {
        let event = told.unwrap_or_else(|| panic!("a contact at {closing} m/s is told: {kind:?}"));
        let is_right = match event.kind {
            EventKind::Contact(_) => kind == Kind::Ball,
            EventKind::Pocketed(_) => kind == Kind::Hole,
            EventKind::Cushion(_) => matches!(kind, Kind::Jaw | Kind::Wall),
            _ => false,
        };
        assert!(is_right, "{kind:?}: {event:?}");
        tally.told.push(off);
    } else {
        tally.rests.push(off);
    }
    true
}

/// How far under the reach the gap's smallest value lies, m. At nil it is a matter
/// of the last bit of the places whether there is a contact, so that is only told.
const DEPTHS: [f64; 11] = [0.01, 1e-4, 1e-6, 1e-8, 1e-10, 1e-12, 0.0, -1e-12, -1e-10, -1e-8, -1e-6];

fn check(kind: Kind, cases: usize) {
    const SEED: u64 = 900;
    let arena = Arena::new(&TableCard::of_size(TableSize::NineFoot));
    for depth in DEPTHS {
        let mut seeded = Seeded::new(SEED + kind as u64);
        let mut tally = Tally::default();
        let mut judged = 0;
        for _ in 0..100 * cases {
            if judged == cases {
                break;
            }
            if let Some(case) = graze(&arena, kind, depth, &mut seeded)
                && judge(&arena, kind, &case, &mut tally)
            {
                judged += 1;
            }
        }
        let Tally { told, rests, missed, invented, clear } = tally;
        let (told, rests) = (spread(told), spread(rests));
        println!(
            "{kind:?}, {depth:e} m deep: {} contacts, off by {:.0e} s (median), {:.0e} s (worst); \
             {} that rest, {:.0e} s (worst); {missed} missed, {invented} invented, {clear} clear",
            told.count, told.median, told.worst, rests.count, rests.worst
        );
        // A hole so far under a straight way in would have to be met beyond a facing.
        let fits = depth < 0.005 || matches!(kind, Kind::Ball | Kind::Jaw);
        assert!(judged >= if fits { cases / 2 } else { 0 }, "{kind:?}, {depth:e}: {judged} cases");
        if depth != 0.0 {
            assert_eq!((missed, invented), (0, 0), "{kind:?}, {depth:e} deep: missed, invented");
            let worst = told.worst.max(rests.worst);
            assert!(worst < 1e-9, "{kind:?}, {depth:e} deep: off by {worst:e} s");
        }
    }
}

#[test]
fn balls_meet_balls_at_the_exact_time() {
    check(Kind::Ball, 100);
}

#[test]
fn balls_meet_jaw_points_at_the_exact_time() {
    check(Kind::Jaw, 100);
}

#[test]
fn balls_fall_at_the_exact_time() {
    check(Kind::Hole, 100);
}

#[test]
fn balls_meet_walls_at_the_exact_time() {
    check(Kind::Wall, 100);
}
