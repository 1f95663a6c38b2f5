//! The impacts that the scenes hold, and the questions that are asked between them.

use crate::Scene;
use glam::DVec2;
use leaveline::BallMotion;
use leaveline::physics::{Arena, Course, Event, EventKind, Listen, at_the_strike};
use leaveline::table::{Rail, Surface};

/// A leg: which ball followed which course, from when to when.
struct Leg {
    place: usize,
    course: Course,
    since: f64,
    until: f64,
}

/// Keeps every leg and event.
#[derive(Default)]
struct Tape {
    legs: Vec<Leg>,
    events: Vec<Event>,
}

impl Listen for Tape {
    fn event(&mut self, event: Event) {
        self.events.push(event);
    }

    fn leg(&mut self, place: usize, course: &Course, since: f64, until: f64) {
        if until > since {
            self.legs.push(Leg { place, course: *course, since, until });
        }
    }
}

fn tape(scene: &Scene, place: usize) -> Tape {
    let shot = scene.shot_at(place);
    let mut tape = Tape::default();
    let struck = shot.struck().expect("a scene has a cue ball");
    Arena::new(&shot.card).run(&at_the_strike(&shot.balls, struck), &mut tape);
    tape
}

/// A ball's motion as it meets a rail, and the rail's normal.
pub fn cushion_impacts(scene: &Scene) -> Vec<(BallMotion, DVec2)> {
    let mut found = Vec::new();
    for k in 0..scene.strokes.len() {
        let tape = tape(scene, k);
        for event in &tape.events {
            let EventKind::Cushion(Surface::Rail(rail)) = event.kind else { continue };
            let is_its = |leg: &&Leg| {
                leg.until == event.time && scene.shot.balls[leg.place].id == event.ball
            };
            // The leg that ends with the impact; a ball held on the rail has none.
            let Some(leg) = tape.legs.iter().find(is_its) else { continue };
            let motion = leg.course.motion(leg.until - leg.since);
            let normal = normal(rail);
            if motion.velocity.dot(normal) < 0.0 {
                found.push((motion, normal));
            }
        }
    }
    found
}

/// Into the table.
fn normal(rail: Rail) -> DVec2 {
    match rail {
        Rail::Head => DVec2::X,
        Rail::Foot => DVec2::NEG_X,
        Rail::Right => DVec2::Y,
        Rail::Left => DVec2::NEG_Y,
    }
}

/// How far two balls are apart, squared and less their reach, as a polynomial in time
/// from the start of every leg of the scene to every other ball at rest, and for how
/// long it holds, s.
pub fn gaps(scene: &Scene) -> Vec<([f64; 5], f64)> {
    let reach = 2.0 * scene.shot.card.ball.radius;
    let mut found = Vec::new();
    for k in 0..scene.strokes.len() {
        for leg in tape(scene, k).legs.iter().filter(|leg| leg.course.moves()) {
            let course = &leg.course;
            for (other, ball) in scene.shot.balls.iter().enumerate() {
                let offset = ball.position - course.start.position;
                let constant = offset.length_squared() - reach * reach;
                if other == leg.place || ball.id.is_cue() || constant < 1e-6 {
                    continue;
                }
                let (velocity, acceleration) = (-course.start.velocity, -course.acceleration);
                let c = [
                    constant,
                    2.0 * offset.dot(velocity),
                    velocity.length_squared() + offset.dot(acceleration),
                    velocity.dot(acceleration),
                    0.25 * acceleration.length_squared(),
                ];
                found.push((c, course.span));
            }
        }
    }
    found
}

/// How many courses are drawn up in a shot of the scene, and how many pairs of balls
/// are looked at for them, on average.
pub fn look_aheads(scene: &Scene) -> (f64, f64) {
    let mut legs = 0;
    for k in 0..scene.strokes.len() {
        legs += tape(scene, k).legs.iter().filter(|leg| leg.course.moves()).count();
    }
    let legs = legs as f64 / scene.strokes.len() as f64;
    (legs, legs * (scene.shot.balls.len() - 1) as f64)
}
