//! Hard cases held to closed forms and to the second routes, so that each fails if
//! the engine is wrong by more than rounding. `hard_cases` has what can only be
//! said in words.

use super::blow::blow;
use super::brute::{Ball, Mode};
use super::rubber::{Care, rebound};
use glam::{DVec2, DVec3};
use leaveline::physics::{Arena, BallEnd, Course, CushionLaw, Event, EventKind, Listen};
use leaveline::table::{PocketId, Rail, Surface, TableCard, TableSize};
use leaveline::{BallId, BallMotion};

const FINE: Care = Care { rounding: 1e-12, tolerance: 1e-12 };

/// Events, and how each ball goes on after each.
#[derive(Default)]
pub struct Heard {
    pub events: Vec<Event>,
    legs: Vec<(usize, f64, BallMotion)>,
}

impl Listen for Heard {
    fn event(&mut self, event: Event) {
        self.events.push(event);
    }

    fn leg(&mut self, place: usize, course: &Course, since: f64, until: f64) {
        if until > since {
            self.legs.push((place, since, course.start));
        }
    }
}

impl Heard {
    /// The ball as it goes on at `time`; at rest if it does not.
    pub fn after(&self, place: usize, time: f64) -> BallMotion {
        let leg = self.legs.iter().find(|leg| leg.0 == place && leg.1 == time);
        leg.map_or(BallMotion::default(), |leg| leg.2)
    }

    fn first(&self, is_it: impl Fn(EventKind) -> bool) -> Option<Event> {
        self.events.iter().find(|event| is_it(event.kind)).copied()
    }

    fn contact(&self) -> Option<Event> {
        self.first(|kind| matches!(kind, EventKind::Contact(_)))
    }
}

pub fn card() -> TableCard {
    TableCard::of_size(TableSize::NineFoot)
}

/// Plays the balls, the cue ball first.
pub fn run(card: &TableCard, balls: &[BallMotion]) -> (Heard, Vec<BallEnd>) {
    let id = |place: usize| BallId::object(place as u8).unwrap_or(BallId::CUE);
    let balls: Vec<_> = balls.iter().enumerate().map(|(k, ball)| (id(k), *ball)).collect();
    let mut heard = Heard::default();
    let ends = Arena::new(card).run(&balls, &mut heard);
    (heard, ends.to_vec())
}

/// Where a ball rests.
fn rest(end: &BallEnd) -> DVec2 {
    let BallEnd::Rest(at) = end else { panic!("it rests: {end:?}") };
    *at
}

pub fn still(x: f64, y: f64) -> BallMotion {
    BallMotion { position: DVec2::new(x, y), ..BallMotion::default() }
}

/// A ball that goes +x and rolls `roll` times as fast as natural.
fn going(x: f64, y: f64, speed: f64, roll: f64) -> BallMotion {
    let spin = DVec3::new(0.0, roll * speed / card().ball.radius, 0.0);
    BallMotion { velocity: DVec2::new(speed, 0.0), spin, ..still(x, y) }
}

fn near(what: &str, got: f64, expected: f64, tolerance: f64) {
    println!("{what}: {got}, expected {expected}");
    assert!((got - expected).abs() <= tolerance, "{what}: {got} for {expected} ± {tolerance:e}");
}

/// Deceleration of a sliding and of a rolling ball, m/s².
fn drags() -> (f64, f64) {
    let cloth = card().cloth;
    (cloth.sliding_friction * cloth.gravity, cloth.rolling_friction * cloth.gravity)
}

#[test]
fn a_cue_ball_frozen_to_a_ball_drives_it_at_once() {
    let card = card();
    for (k, angle) in [0.0_f64, 0.4, 0.9, 1.3, 1.5].into_iter().enumerate() {
        let mut cue = going(1.0, 0.6, 1.5, 0.3 * k as f64 - 0.5);
        cue.spin.z = 20.0 * k as f64 - 30.0;
        let at = cue.position + DVec2::from_angle(angle) * (2.0 * card.ball.radius);
        let (heard, _) = run(&card, &[cue, still(at.x, at.y)]);
        let first = heard.events[0];
        assert!(matches!(first.kind, EventKind::Contact(_)), "{angle}: they touch: {first:?}");
        assert_eq!(first.time, 0.0, "{angle}: at once");
        let ball = |motion: &BallMotion| Ball {
            at: motion.position,
            v: motion.velocity,
            w: motion.spin,
            mode: Mode::Rests,
        };
        let (one, two) = blow(&card, &ball(&cue), &ball(&still(at.x, at.y)), 50);
        for (place, expected) in [one, two].iter().enumerate() {
            let got = heard.after(place, 0.0);
            let off = (got.velocity - expected.v).length();
            let spin = (got.spin - expected.w).length() * card.ball.radius;
            assert!(off < 1e-12 && spin < 1e-12, "{angle}, ball {place}: off {off:e}, {spin:e}");
        }
    }
}

#[test]
fn a_ball_frozen_to_a_jaw_point_rebounds_from_it() {
    let card = card();
    let arena = Arena::new(&card);
    let shape = arena.shape();
    for (k, jaw) in shape.jaw_points.iter().enumerate() {
        // Between the normals of the two faces that meet at the point.
        let faces = shape.walls.iter().filter(|wall| wall.distance(jaw.position) < 1e-9);
        let faces: Vec<DVec2> = faces.map(|wall| wall.normal).collect();
        let share = 0.3 + 0.4 * (k as f64 / 11.0);
        let normal = (faces[0] * share + faces[1] * (1.0 - share)).normalize();
        let velocity = DVec2::from_angle(0.8 - 0.1 * k as f64).rotate(-normal) * 1.2;
        let spin = DVec3::new(10.0, -25.0 + 4.0 * k as f64, 20.0);
        let position = jaw.position + normal * card.touch_distance();
        let motion = BallMotion { position, velocity, spin };
        let mut heard = Heard::default();
        arena.run(&[(BallId::CUE, motion)], &mut heard);
        let first = heard.events[0];
        assert_eq!(first.kind, EventKind::Cushion(Surface::Pocket(jaw.pocket)), "jaw {k}");
        assert_eq!(first.time, 0.0, "jaw {k}: at once");
        let expected = rebound(&CushionLaw::new(&card), FINE, &motion, normal);
        let got = heard.after(0, 0.0);
        let off = (got.velocity - expected.velocity).length();
        let spin = (got.spin - expected.spin).length() * card.ball.radius;
        // 2 m/s of velocity and spin together.
        assert!(off.max(spin) < 2e-8, "jaw {k}: off {off:e} m/s, {spin:e} m/s");
    }
}

/// The cue ball leaves an object ball behind, or touching, and its draw brings it
/// back while it still slides, or after it has begun to roll.
#[test]
fn a_cue_ball_drawn_back_meets_the_ball_behind_it() {
    let (card, (slide, roll)) = (card(), drags());
    let reach = 2.0 * card.ball.radius;
    let share = 0.5 * (1.0 + card.ball_contact.restitution);
    for gap in [0.0, 1e-9, 1e-6, 1e-3, 0.02] {
        for (speed, draw) in [(0.4, 10.0), (0.4, 5.0), (1.0, 6.0)] {
            let (heard, _) =
                run(&card, &[going(1.0, 0.6, speed, -draw), still(1.0 - reach - gap, 0.6)]);
            let slip = speed * (1.0 + draw);
            let slides = 2.0 * slip / (7.0 * slide);
            // Back over the start and the gap: speed t - slide t²/2 = -gap.
            let while_sliding = (speed + (speed * speed + 2.0 * slide * gap).sqrt()) / slide;
            let (time, back) = if while_sliding < slides {
                (while_sliding, slide * while_sliding - speed)
            } else {
                let start = slide * slides - speed;
                let left = gap + speed * slides - 0.5 * slide * slides * slides;
                let end = (start * start - 2.0 * roll * left).sqrt();
                (slides + (start - end) / roll, end)
            };
            let name = format!("{speed} m/s, draw {draw}, gap {gap}");
            let contact = heard.contact().unwrap_or_else(|| panic!("{name}: they meet"));
            near(&format!("{name}: when"), contact.time, time, 1e-12);
            let gets = heard.after(1, contact.time).velocity;
            near(&format!("{name}: speed given"), -gets.x, share * back, 1e-11);
        }
    }
}

/// Contact within a nanosecond of the end of sliding, on either side of it.
#[test]
fn contacts_at_the_moment_a_slide_ends() {
    let (card, (slide, _)) = (card(), drags());
    let (reach, touch) = (2.0 * card.ball.radius, card.touch_distance());
    let time = 2.0 * 1.4 / (7.0 * slide);
    let way = 1.4 * time - 0.5 * slide * time * time;
    let share = 0.5 * (1.0 + card.ball_contact.restitution);
    let mut rests = Vec::new();
    for off in [0.0, 1e-6, 1e-9, 1e-11, 1e-13, 1e-15, -1e-15, -1e-13, -1e-11, -1e-9, -1e-6] {
        let (heard, ends) =
            run(&card, &[going(0.7, 0.6, 1.4, 0.0), still(0.7 + way + reach + off, 0.6)]);
        let contact = heard.contact().unwrap_or_else(|| panic!("{off:e}: they meet"));
        // It goes at 1 m/s by then; friction bends that by some m/s² over `off`.
        near(&format!("ball {off:e} m away: when"), contact.time, time + off, 1e-9);
        let gets = heard.after(1, contact.time).velocity.x;
        near(&format!("ball {off:e} m away: speed given"), gets, share, 3.0 * off.abs() + 1e-11);
        rests.push(rest(&ends[1]).x - off);

        let start = card.length - touch - way - off;
        let (heard, _) = run(&card, &[going(start, 0.6, 1.4, 0.0)]);
        let contact = heard.first(|kind| kind == EventKind::Cushion(Surface::Rail(Rail::Foot)));
        let contact = contact.unwrap_or_else(|| panic!("{off:e}: it reaches the rail"));
        near(&format!("rail {off:e} m away: when"), contact.time, time + off, 1e-9);
        let rolling = going(0.0, 0.6, 1.0, 1.0);
        let expected = rebound(&CushionLaw::new(&card), FINE, &rolling, DVec2::NEG_X);
        let gets = heard.after(0, contact.time).velocity;
        let away = (gets - expected.velocity).length();
        assert!(away < 10.0 * off.abs() + 1e-8, "rail {off:e} m away: {gets}, off {away:e}");
    }
    for (k, rest) in rests.iter().enumerate() {
        assert!((rest - rests[0]).abs() < 1e-5, "case {k}: the moment makes no leap: {rest}");
    }
}

#[test]
fn very_slow_balls_keep_the_law() {
    let (card, (slide, roll)) = (card(), drags());
    for speed in [3e-2, 1e-3, 1e-4, 1e-5, 1e-6, 1e-7] {
        let (heard, ends) = run(&card, &[going(1.0, 0.6, speed, 1.0)]);
        let stop = heard.first(|kind| kind == EventKind::Stop).expect("it stops");
        near(&format!("{speed} m/s: when it stops"), stop.time, speed / roll, 1e-9 * speed / roll);
        near(
            &format!("{speed} m/s: where"),
            rest(&ends[0]).x - 1.0,
            0.5 * speed * speed / roll,
            4e-16,
        );
    }
    // Into a ball a little ahead, faster than what rests.
    let share = 0.5 * (1.0 + card.ball_contact.restitution);
    for (speed, gap) in [(1e-2, 1e-4), (1e-3, 1e-6), (3e-4, 1e-7), (1.5e-4, 1e-8)] {
        let ahead = 1.0 + 2.0 * card.ball.radius + gap;
        let (heard, ends) = run(&card, &[going(1.0, 0.6, speed, 1.0), still(ahead, 0.6)]);
        let left = f64::sqrt(speed * speed - 2.0 * roll * gap);
        let contact = heard.contact().unwrap_or_else(|| panic!("{speed} m/s: they meet"));
        near(&format!("{speed} m/s: when"), contact.time, (speed - left) / roll, 1e-9);
        let (gets, given) = (share * left, heard.after(1, contact.time));
        near(&format!("{speed} m/s: given"), given.velocity.x, gets, 1e-12);
        // The cue ball's roll rubs some back spin onto it.
        let slip = gets - card.ball.radius * given.spin.y;
        let slides = 2.0 * slip / (7.0 * slide);
        let rolls = gets - slide * slides;
        let way = gets * slides - 0.5 * slide * slides * slides + 0.5 * rolls * rolls / roll;
        near(&format!("{speed} m/s: how far"), rest(&ends[1]).x - ahead, way, 1e-12);
    }
    // Slower than that it leans, and nothing is told.
    for speed in [9e-5, 1e-5, 1e-7] {
        let ahead = 1.0 + 2.0 * card.ball.radius;
        let (heard, ends) = run(&card, &[going(1.0, 0.6, speed, 1.0), still(ahead, 0.6)]);
        assert_eq!(heard.contact(), None, "{speed} m/s: it rests");
        let gap = (rest(&ends[1]) - rest(&ends[0])).length() - 2.0 * card.ball.radius;
        assert!(gap > -1e-9 && gap < speed * speed / roll, "{speed} m/s: {gap} m apart");
        assert!(
            rest(&ends[1]).x - ahead < 0.5 * speed * speed / roll,
            "{speed} m/s: no gain: {ends:?}"
        );
    }
}

#[test]
fn a_ball_stops_a_hair_before_another_or_just_reaches_it() {
    let (card, (_, roll)) = (card(), drags());
    let (speed, reach) = (0.4, 2.0 * card.ball.radius);
    let way = 0.5 * speed * speed / roll;
    for hair in [1e-5, 1e-7, 1e-9, 2e-10, 1e-12] {
        let ahead = 0.3 + way + reach + hair;
        let (heard, ends) = run(&card, &[going(0.3, 0.6, speed, 1.0), still(ahead, 0.6)]);
        assert_eq!(heard.contact(), None, "{hair:e} m short: no contact");
        near(&format!("{hair:e} m short: where"), rest(&ends[0]).x, 0.3 + way, 1e-15);
        assert_eq!(rest(&ends[1]), DVec2::new(ahead, 0.6), "{hair:e} m short: it is not moved");
    }
    for hair in [1e-3, 1e-5, 1e-6, 1e-7] {
        let ahead = 0.3 + way + reach - hair;
        let (heard, _) = run(&card, &[going(0.3, 0.6, speed, 1.0), still(ahead, 0.6)]);
        // What is left of the speed a hair before the stop.
        let left = (2.0_f64 * roll * hair).sqrt();
        let contact = heard.contact().unwrap_or_else(|| panic!("{hair:e} m too far: they meet"));
        near(&format!("{hair:e} m too far: when"), contact.time, (speed - left) / roll, 1e-9);
        let share = 0.5 * (1.0 + card.ball_contact.restitution);
        let gets = heard.after(1, contact.time).velocity.x;
        near(&format!("{hair:e} m too far: given"), gets, share * left, 1e-10);
    }
}

/// A ball whose centre stops a hair before the hole hangs; one that gets there falls.
#[test]
fn a_ball_stops_a_hair_before_the_hole() {
    let (card, (_, roll)) = (card(), drags());
    let arena = Arena::new(&card);
    let pocket = arena.shape().pocket(PocketId::FootLeft);
    let (speed, edge) = (0.3, pocket.hole - pocket.axis * pocket.hole_radius);
    let way = 0.5 * speed * speed / roll;
    for hair in [1e-3, 1e-6, 1e-9, 1e-12, -1e-12, -1e-9, -1e-6, -1e-3] {
        let velocity = pocket.axis * speed;
        let spin = DVec3::new(-velocity.y, velocity.x, 0.0) / card.ball.radius;
        let position = edge - pocket.axis * (way + hair);
        let ends = arena.run(
            &[(BallId::CUE, BallMotion { position, velocity, spin })],
            &mut leaveline::physics::Nothing,
        );
        let falls = matches!(ends[0], BallEnd::Pocketed(PocketId::FootLeft));
        assert_eq!(falls, hair < 0.0, "{hair:e} m short of the hole: {ends:?}");
    }
}

/// Where another event of the ball finds it nearer to a contact than what counts as
/// touching (half a nanometre), the contact is played at once: early by no more than
/// the time for that way. That is within 1e-9 s for closing speeds above 0.5 m/s.
#[test]
fn a_contact_just_after_another_event_is_early_by_a_touch_at_most() {
    let (card, (slide, _)) = (card(), drags());
    let reach = 2.0 * card.ball.radius;
    for rolling in [1.0, 0.1, 0.01] {
        let speed = 1.4 * rolling;
        let time = 2.0 * speed / (7.0 * slide);
        let way = speed * time - 0.5 * slide * time * time;
        for gap in [1e-12, 1e-10, 4e-10, 6e-10, 1e-9] {
            let ahead = 0.7 + way + reach + gap;
            let (heard, _) = run(&card, &[going(0.7, 0.6, speed, 0.0), still(ahead, 0.6)]);
            let contact = heard.contact().unwrap_or_else(|| panic!("{gap:e}: they meet"));
            let early = (time + gap / rolling - contact.time) * rolling;
            println!("at {rolling} m/s, {gap:e} m after the slide ends: {early:.1e} m early");
            assert!((-1e-12..5.1e-10).contains(&early), "{rolling} m/s, {gap:e}: {early:e} m");
        }
    }
}
