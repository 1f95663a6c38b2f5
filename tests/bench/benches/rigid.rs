//! Scene (b) in a general-purpose rigid-body engine, which steps through time: how far
//! off it is at each step, and what a shot costs at the step of its least error.
//!
//! Both play the same shot up to the first cushion, by laws that both have: sliding
//! friction on the cloth, restitution and no friction between balls, no rolling
//! resistance. Our side of it is exact. One line of JSON a step; the cost is for the
//! whole shot's duration.

use bench::scenes;
use criterion::{Criterion, SamplingMode};
use glam::{DVec2, DVec3};
use leaveline::BallMotion;
use leaveline::physics::{Arena, Course, Event, EventKind, Listen, Shot, at_the_strike};
use leaveline::table::FrictionCurve;
use leaveline::wire::{Value, compact};
use rapier3d_f64::math::Vector;
use rapier3d_f64::prelude::{
    CoefficientCombineRule, ColliderBuilder, FrictionModel, IntegrationParameters, PhysicsWorld,
    RigidBodyBuilder, RigidBodyHandle, SpringCoefficients,
};
use std::hint::black_box;
use std::time::Duration;

/// Steps that are tried, in steps a second.
const RATES: [f64; 6] = [240.0, 1_000.0, 4_000.0, 10_000.0, 40_000.0, 100_000.0];

/// This long before the first cushion the two are compared, s.
const BEFORE: f64 = 0.02;

/// Place and velocity of both balls at one moment.
type Moment = [(DVec2, DVec2); 2];

/// How the engine's contacts are set. Its defaults are for boxes of a metre.
#[derive(Clone, Copy, Debug)]
struct Tuning {
    /// The size of things, m: distances at which contacts are made scale with it.
    length_unit: f64,
    substeps: usize,
    /// How stiff contacts are, Hz, or as they come.
    stiffness: Option<f64>,
}

const TUNINGS: [Tuning; 4] = [
    Tuning { length_unit: 1.0, substeps: 4, stiffness: None },
    Tuning { length_unit: 0.01, substeps: 1, stiffness: None },
    Tuning { length_unit: 0.01, substeps: 4, stiffness: None },
    Tuning { length_unit: 0.01, substeps: 4, stiffness: Some(1e4) },
];

/// Keeps what the two balls do until the first cushion.
#[derive(Default)]
struct Tape {
    legs: Vec<(usize, Course, f64, f64)>,
    first_cushion: Option<f64>,
}

impl Listen for Tape {
    fn event(&mut self, event: Event) {
        if let EventKind::Cushion(_) | EventKind::Pocketed(_) = event.kind {
            self.first_cushion.get_or_insert(event.time);
        }
    }

    fn leg(&mut self, place: usize, course: &Course, since: f64, until: f64) {
        self.legs.push((place, *course, since, until));
    }
}

/// When the comparison is made, s, and what is true then.
fn truth(shot: &Shot) -> (f64, Moment) {
    let mut tape = Tape::default();
    let struck = shot.struck().expect("a scene has a cue ball");
    Arena::new(&shot.card).run(&at_the_strike(&shot.balls, struck), &mut tape);
    let time = tape.first_cushion.expect("it comes to a cushion") - BEFORE;
    let at = |place: usize| {
        let is_it = |leg: &&(usize, Course, f64, f64)| {
            leg.0 == place && leg.2 <= time && time <= leg.3 && leg.3 > leg.2
        };
        let (_, course, since, _) = tape.legs.iter().find(is_it).expect("a leg at that time");
        (course.position(time - since), course.velocity(time - since))
    };
    (time, [at(0), at(1)])
}

/// A table for the engine: a floor, four walls, and the two balls.
fn world(shot: &Shot, rate: f64, tuning: Tuning) -> (PhysicsWorld, [RigidBodyHandle; 2]) {
    let card = &shot.card;
    let mut world =
        PhysicsWorld { gravity: Vector::new(0.0, 0.0, -card.cloth.gravity), ..Default::default() };
    let parameters: &mut IntegrationParameters = &mut world.integration_parameters;
    parameters.dt = 1.0 / rate;
    parameters.length_unit = tuning.length_unit;
    parameters.num_solver_iterations = tuning.substeps;
    parameters.friction_model = FrictionModel::Coulomb;
    parameters.contact_recycling = false;
    if let Some(stiffness) = tuning.stiffness {
        parameters.contact_softness = SpringCoefficients::new(stiffness, 1.0);
        parameters.static_contact_softness = SpringCoefficients::new(stiffness, 1.0);
    }

    let (length, width, radius) = (card.length, card.width, card.ball.radius);
    let fixed = |x: f64, y: f64, z: f64| {
        ColliderBuilder::cuboid(x, y, z)
            .friction_combine_rule(CoefficientCombineRule::Max)
            .restitution_combine_rule(CoefficientCombineRule::Max)
    };
    let floor = fixed(length, width, 0.5)
        .friction(card.cloth.sliding_friction)
        .restitution(0.0)
        .restitution_combine_rule(CoefficientCombineRule::Min)
        .translation(Vector::new(0.5 * length, 0.5 * width, -0.5));
    world.insert(RigidBodyBuilder::fixed(), floor);
    for (x, y) in [(-0.5, 0.5 * width), (length + 0.5, 0.5 * width)] {
        let wall = fixed(0.5, width, 0.1).restitution(0.8).friction(0.2);
        world.insert(RigidBodyBuilder::fixed(), wall.translation(Vector::new(x, y, 0.0)));
    }
    for (x, y) in [(0.5 * length, -0.5), (0.5 * length, width + 0.5)] {
        let wall = fixed(length, 0.5, 0.1).restitution(0.8).friction(0.2);
        world.insert(RigidBodyBuilder::fixed(), wall.translation(Vector::new(x, y, 0.0)));
    }

    let struck = shot.struck().expect("a scene has a cue ball");
    let balls = [struck, BallMotion { position: shot.balls[1].position, ..BallMotion::default() }];
    let handles = balls.map(|ball| {
        let DVec3 { x, y, z } = ball.spin;
        let body = RigidBodyBuilder::dynamic()
            .translation(Vector::new(ball.position.x, ball.position.y, radius))
            .linvel(Vector::new(ball.velocity.x, ball.velocity.y, 0.0))
            .angvel(Vector::new(x, y, z))
            .can_sleep(false);
        let collider = ColliderBuilder::ball(radius)
            .mass(card.ball.mass)
            .friction(0.0)
            .restitution(card.ball_contact.restitution);
        world.insert(body, collider).0
    });
    (world, handles)
}

fn stepped(shot: &Shot, rate: f64, tuning: Tuning, time: f64) -> Moment {
    let (mut world, handles) = world(shot, rate, tuning);
    // The last step ends at the moment itself.
    let whole = (time * rate).floor();
    for _ in 0..whole as u64 {
        world.step();
    }
    world.integration_parameters.dt = time - whole / rate;
    world.step();
    handles.map(|handle| {
        let body = &world.bodies[handle];
        let (at, velocity) = (body.translation(), body.linvel());
        (DVec2::new(at.x, at.y), DVec2::new(velocity.x, velocity.y))
    })
}

/// Largest error of a place, m, and of each ball's direction, degrees.
fn errors(found: &Moment, truth: &Moment) -> (f64, [f64; 2]) {
    let place = [0, 1].map(|k| (found[k].0 - truth[k].0).length());
    let turn = [0, 1].map(|k| found[k].1.angle_to(truth[k].1).abs().to_degrees());
    (place[0].max(place[1]), turn)
}

fn main() {
    let [_, scene, ..] = scenes();
    let duration = scene.counts()[0].duration;
    let mut shot = scene.shot.clone();
    shot.card.cloth.rolling_friction = 0.0;
    shot.card.cloth.spin_decay = 0.0;
    shot.card.ball_contact.friction = FrictionCurve { floor: 0.0, range: 0.0, decay: 1.0 };
    let (time, truth) = truth(&shot);

    let mut tried = Vec::new();
    for rate in RATES {
        let tries =
            TUNINGS.map(|tuning| (errors(&stepped(&shot, rate, tuning, time), &truth), tuning));
        let least = tries.iter().min_by(|a, b| a.0.0.total_cmp(&b.0.0)).expect("four tries");
        let ((place, turn), tuning) = *least;
        tried.extend(tries.map(|((place, _), tuning)| (place, rate, tuning)));
        let line = Value::fields([
            ("rate", rate.into()),
            ("place", place.into()),
            ("cueBall", turn[0].into()),
            ("objectBall", turn[1].into()),
            ("tuning", Value::text(format!("{tuning:?}"))),
        ]);
        println!("{}", compact(&line).expect("numbers"));
    }

    // The least work whose error is the least but for a tenth.
    let least = tried.iter().map(|(place, ..)| *place).fold(f64::INFINITY, f64::min);
    let work = |(_, rate, tuning): &(f64, f64, Tuning)| rate * tuning.substeps as f64;
    let best = tried
        .iter()
        .filter(|(place, ..)| *place <= 1.1 * least)
        .min_by(|a, b| work(a).total_cmp(&work(b)));
    let &(place, rate, tuning) = best.expect("the least itself");
    let line = Value::fields([
        ("best", rate.into()),
        ("place", place.into()),
        ("substeps", (tuning.substeps as f64).into()),
    ]);
    println!("{}", compact(&line).expect("numbers"));
    let mut c = Criterion::default()
        .sample_size(10)
        .warm_up_time(Duration::from_millis(100))
        .measurement_time(Duration::from_secs(1))
        .configure_from_args();
    let mut group = c.benchmark_group("b");
    group.sampling_mode(SamplingMode::Flat);
    group.bench_function("rigid", |b| b.iter(|| black_box(stepped(&shot, rate, tuning, duration))));
    group.finish();
    c.final_summary();
}
