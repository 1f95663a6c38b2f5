//! Balls that press, rattle and creep, where an event engine may never come to an
//! end: each of these shots once did not, or ended where no ball can be.

use glam::DVec2;
use leaveline::BallId;
use leaveline::physics::{
    Arena, BallEnd, Course, Event, LONGEST_SHOT, Listen, PlacedBall, Shot, Stroke, at_the_strike,
    play,
};
use leaveline::table::{TableCard, TableSize};
use std::f64::consts::FRAC_PI_2;

/// Counts, and keeps how near the balls start.
#[derive(Default)]
struct Counted {
    events: usize,
    legs: usize,
    starts: Vec<(usize, DVec2)>,
}

impl Listen for Counted {
    fn event(&mut self, _event: Event) {
        self.events += 1;
    }

    fn leg(&mut self, place: usize, course: &Course, since: f64, _until: f64) {
        self.legs += 1;
        if since == 0.0 {
            self.starts.push((place, course.start.position));
        }
    }
}

fn run(shot: &Shot) -> (Vec<BallEnd>, Counted) {
    shot.check().unwrap_or_else(|error| panic!("{error}"));
    let struck = shot.struck().expect("a cue ball");
    let mut counted = Counted::default();
    let ends = Arena::new(&shot.card).run(&at_the_strike(&shot.balls, struck), &mut counted);
    (ends.to_vec(), counted)
}

fn id(number: u8) -> BallId {
    if number == 0 { BallId::CUE } else { BallId::object(number).expect("1 to 15") }
}

/// The cue ball first.
fn balls(places: &[(f64, f64)]) -> Vec<PlacedBall> {
    let ball = |(k, &(x, y)): (usize, &(f64, f64))| PlacedBall {
        id: id(k as u8),
        position: DVec2::new(x, y),
    };
    places.iter().enumerate().map(ball).collect()
}

fn stroke(azimuth: f64, speed: f64) -> Stroke {
    Stroke { azimuth, elevation: 0.0, speed, side: 0.0, height: 0.0 }
}

fn all_rest(ends: &[BallEnd]) -> bool {
    ends.iter().all(|end| !matches!(end, BallEnd::Moving(_)))
}

#[test]
fn three_balls_that_roll_pressed_together_take_few_courses() {
    let shot = Shot {
        card: TableCard::of_size(TableSize::SevenFoot),
        balls: balls(&[
            (0.5893695110007826, 0.43080035257736293),
            (0.6465259836836762, 0.43080408958257393),
            (0.5607880386856657, 0.3813107391405166),
        ]),
        stroke: Stroke {
            azimuth: (-97.787172422_f64).to_radians(),
            elevation: 85_f64.to_radians(),
            speed: 0.3120343971633541,
            side: -0.25079075997420985,
            height: 0.3476555033354142,
        },
    };
    let (ends, counted) = run(&shot);
    assert!(all_rest(&ends), "{ends:?}");
    assert!(counted.events < 300, "a hundred or so, not thousands: {}", counted.events);
    assert!(counted.legs < 3_000, "a thousand or so, not 100,000: {}", counted.legs);
}

/// A row of `n` balls from rail to rail with `gap` between each two, one of them the
/// cue ball, on a table just so wide.
fn row(n: usize, gap: f64, cue: usize) -> (TableCard, Vec<PlacedBall>) {
    let mut card = TableCard::of_size(TableSize::EightFoot);
    let (touch, pitch) = (card.touch_distance(), 2.0 * card.ball.radius + gap);
    card.width = 2.0 * touch + pitch * (n - 1) as f64;
    let ball = |k: usize| PlacedBall {
        id: id(if k == cue { 0 } else { k as u8 + u8::from(k < cue) }),
        position: DVec2::new(1.2235, touch + pitch * k as f64),
    };
    (card, (0..n).map(ball).collect())
}

#[test]
fn a_row_wedged_in_from_rail_to_rail_comes_to_an_end() {
    for gap in [0.0, 5.4e-8, 1e-6] {
        for azimuth in [-FRAC_PI_2, 0.0, 0.3] {
            let (card, balls) = row(12, gap, 7);
            let (ends, counted) = run(&Shot { card, balls, stroke: stroke(azimuth, 0.18) });
            assert!(all_rest(&ends), "gap {gap}, azimuth {azimuth}: {ends:?}");
            let (events, legs) = (counted.events, counted.legs);
            assert!(events < 3_000 && legs < 30_000, "gap {gap}: {events} events, {legs} legs");
        }
    }
}

#[test]
fn a_row_wedged_in_without_any_losses_stays_on_the_table() {
    let (mut card, mut balls) = row(11, -1e-10, 0);
    card.cloth.sliding_friction = 0.0;
    card.cloth.rolling_friction = 0.0;
    card.ball_contact.restitution = 1.0;
    card.cushion.restitution = 1.0;
    balls[0].id = id(11);
    balls.push(PlacedBall { id: BallId::CUE, position: DVec2::new(2.0, 0.3) });
    let (ends, _) = run(&Shot { card, balls, stroke: stroke(std::f64::consts::PI, 0.0958) });
    for end in ends {
        let (BallEnd::Moving(at) | BallEnd::Rest(at)) = end else { continue };
        let least = card.touch_distance() - 1e-9;
        let inside = at.cmpgt(DVec2::splat(least)).all()
            && at.cmplt(DVec2::new(card.length, card.width) - least).all();
        assert!(inside, "minutes later no ball has crept into a rail: {at}");
    }
}

#[test]
fn racks_of_balls_that_hardly_bounce_come_apart_and_rest() {
    let mut card = TableCard::of_size(TableSize::NineFoot);
    card.cushion.friction = 0.0;
    card.ball_contact.friction.range = 0.0;
    let radius = card.ball.radius;
    let mut places = vec![(0.6, 0.627)];
    for row in 0..5 {
        for k in 0..=row {
            let across = f64::from(2 * k - row) * radius;
            places.push((1.9 + f64::from(row) * radius * 3.0_f64.sqrt(), 0.635 + across));
        }
    }
    for restitution in [0.0, 0.2, 0.367, 0.7] {
        card.ball_contact.restitution = restitution;
        for speed in [1.0, 5.0, 12.0] {
            let shot = Shot { card, balls: balls(&places), stroke: stroke(0.0, speed) };
            let (ends, counted) = run(&shot);
            assert!(all_rest(&ends), "restitution {restitution}, {speed} m/s: {ends:?}");
            let (events, legs) = (counted.events, counted.legs);
            let fine = events < 3_000 && legs < 40_000;
            assert!(fine, "restitution {restitution}, {speed} m/s: {events} events, {legs} legs");
        }
    }
}

#[test]
fn a_row_placed_in_each_other_is_parted_as_a_whole() {
    let card = TableCard::of_size(TableSize::NineFoot);
    let reach = 2.0 * card.ball.radius;
    // As deep as is legal, and the last one just out of touch.
    let mut x = 0.5;
    let mut places = vec![(2.0, 0.9)];
    for gap in [0.0, -7e-10, -7e-10, -7e-10, -7e-10, -7e-10, 6e-10] {
        places.push((x + gap, 0.4));
        x += reach + gap;
    }
    let shot = Shot { card, balls: balls(&places), stroke: stroke(0.0, 0.05) };
    let (_, counted) = run(&shot);
    for &(one, at) in &counted.starts {
        for &(two, other) in &counted.starts {
            let overlap = reach - at.distance(other);
            assert!(one == two || overlap < 1e-10, "{one} and {two} overlap by {overlap}");
        }
    }
}

#[test]
fn a_shot_in_which_too_much_happens_is_left_moving() {
    let mut card = TableCard::of_size(TableSize::SevenFoot);
    (card.length, card.width) = (0.9, 0.6);
    card.cloth.sliding_friction = 0.0;
    card.cloth.rolling_friction = 0.0;
    card.ball_contact.restitution = 1.0;
    card.cushion.restitution = 1.0;
    card.cushion.friction = 0.0;
    (card.ball_contact.friction.floor, card.ball_contact.friction.range) = (0.0, 0.0);
    // Pockets so narrow that nothing falls.
    for pocket in [&mut card.corner_pocket, &mut card.side_pocket] {
        pocket.mouth = 0.04;
        pocket.shelf = 0.05;
        pocket.facing = 0.02;
        pocket.hole_radius = 0.02;
    }
    let places: Vec<(f64, f64)> =
        (0..16).map(|k| (0.1 + 0.2 * f64::from(k % 4), 0.1 + 0.13 * f64::from(k / 4))).collect();
    let shot = Shot { card, balls: balls(&places), stroke: stroke(0.4, 15.0) };
    let outcome = play(&shot).unwrap_or_else(|error| panic!("{error}"));
    assert!(outcome.ends.iter().any(|end| matches!(end, BallEnd::Moving(_))), "it never rests");
    assert!(outcome.duration < LONGEST_SHOT, "followed for {} s", outcome.duration);
    for path in &outcome.paths {
        let last = path.last().expect("a place").time;
        assert!(last <= outcome.duration, "no path is longer than the shot: {last}");
    }
}
