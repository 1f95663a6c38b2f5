//! Three and more balls that touch, against springs integrated in small steps of
//! time: force by compression to the power 3/2, and on the way back from a dent
//! that keeps what the restitution takes.

use super::hard::{card, run, still};
use super::spread;
use crate::support::Seeded;
use glam::DVec2;
use leaveline::BallMotion;

/// Two balls in contact, and how deep they are and were.
struct Spring {
    one: usize,
    two: usize,
    line: DVec2,
    deepest: f64,
}

/// Force between two balls pressed `depth` together, `deepest` so far. Energy is the
/// area under it: e² of it comes back.
fn force(depth: f64, deepest: f64, restitution: f64) -> f64 {
    if depth >= deepest {
        return depth.max(0.0).powf(1.5);
    }
    let back = restitution * restitution * deepest;
    if back <= 0.0 {
        return 0.0;
    }
    ((depth - deepest + back).max(0.0) / back).powf(1.5) * deepest.powf(1.5)
}

/// Velocities after the impact: each step by the method of Runge and Kutta of order
/// four over places and velocities, until all springs are slack. Unit mass and
/// stiffness; the places are small beside the balls, so the lines do not turn.
fn released(balls: &[BallMotion], reach: f64, restitution: f64, step: f64) -> Vec<DVec2> {
    let mut springs = Vec::new();
    for one in 0..balls.len() {
        for two in one + 1..balls.len() {
            let way = balls[two].position - balls[one].position;
            if way.length() < reach + 1e-10 {
                springs.push(Spring { one, two, line: way.normalize(), deepest: 0.0 });
            }
        }
    }
    let n = balls.len();
    let mut state: Vec<DVec2> = vec![DVec2::ZERO; n];
    state.extend(balls.iter().map(|ball| ball.velocity));
    let depth = |s: &[DVec2], spring: &Spring| (s[spring.one] - s[spring.two]).dot(spring.line);
    let rates = |s: &[DVec2], springs: &[Spring]| {
        let mut rates = s[n..].to_vec();
        rates.resize(2 * n, DVec2::ZERO);
        for spring in springs {
            let push = force(depth(s, spring), spring.deepest, restitution);
            rates[n + spring.one] -= spring.line * push;
            rates[n + spring.two] += spring.line * push;
        }
        rates
    };
    let along = |s: &[DVec2], rates: &[DVec2], time: f64| -> Vec<DVec2> {
        s.iter().zip(rates).map(|(s, rate)| *s + *rate * time).collect()
    };
    for k in 0..1_000_000 {
        let first = rates(&state, &springs);
        let second = rates(&along(&state, &first, 0.5 * step), &springs);
        let third = rates(&along(&state, &second, 0.5 * step), &springs);
        let fourth = rates(&along(&state, &third, step), &springs);
        for k in 0..2 * n {
            state[k] += (first[k] + (second[k] + third[k]) * 2.0 + fourth[k]) * (step / 6.0);
        }
        for spring in &mut springs {
            spring.deepest = spring.deepest.max(depth(&state, spring));
        }
        let pressed = |s: &Spring| force(depth(&state, s), s.deepest, restitution) > 0.0;
        if k > 10 && !springs.iter().any(pressed) {
            let closes = |s: &Spring| (state[n + s.one] - state[n + s.two]).dot(s.line) > 1e-4;
            let mut after = balls.to_vec();
            for (ball, velocity) in after.iter_mut().zip(&state[n..]) {
                ball.velocity = *velocity;
            }
            // Nothing presses, yet some still close: they meet anew.
            return if springs.iter().any(closes) {
                released(&after, reach, restitution, step)
            } else {
                state[n..].to_vec()
            };
        }
    }
    panic!("the springs never come to rest");
}

/// A layout of balls that touch, the first of which moves.
fn layout(name: &str, seeded: &mut Seeded) -> Vec<BallMotion> {
    let reach = 2.0 * card().ball.radius;
    let mut cue = still(1.0, 0.6);
    cue.velocity = DVec2::from_angle(seeded.within(-0.6, 0.6)) * seeded.within(0.5, 3.0);
    let beside = |ball: &BallMotion, angle: f64| {
        let at = ball.position + DVec2::from_angle(angle) * reach;
        still(at.x, at.y)
    };
    match name {
        "line of three" => {
            let second = beside(&cue, 0.0);
            vec![cue, second, beside(&second, 0.0)]
        }
        "bent line of three" => {
            let second = beside(&cue, 0.0);
            vec![cue, second, beside(&second, seeded.within(-1.0, 1.0))]
        }
        "one against two" => {
            let angle = seeded.within(0.55, 0.8);
            vec![cue, beside(&cue, angle), beside(&cue, -angle)]
        }
        "three in a triangle" => {
            let turn = seeded.within(-0.4, 0.4);
            let sixth = std::f64::consts::FRAC_PI_6;
            vec![cue, beside(&cue, turn + sixth), beside(&cue, turn - sixth)]
        }
        _ => {
            let second = beside(&cue, 0.0);
            let third = beside(&second, 0.0);
            vec![cue, second, third, beside(&third, 0.0)]
        }
    }
}

/// The model steps its springs with an error that its docstring puts at 1e-4.
#[test]
fn three_balls_that_touch_part_as_springs_do() {
    let mut card = card();
    let reach = 2.0 * card.ball.radius;
    card.ball_contact.friction.floor = 0.0;
    card.ball_contact.friction.range = 0.0;
    let names = [
        "line of three",
        "bent line of three",
        "one against two",
        "three in a triangle",
        "line of four",
    ];
    let mut seeded = Seeded::new(33);
    for name in names {
        let (mut off, mut own) = (Vec::new(), Vec::new());
        for case in 0..12 {
            card.ball_contact.restitution = [0.95, 1.0, 0.92, 0.98][case % 4];
            let e = card.ball_contact.restitution;
            let balls = layout(name, &mut seeded);
            let speed = balls[0].velocity.length();
            let (heard, _) = run(&card, &balls);
            let fine = released(&balls, reach, e, 2e-3);
            let coarse = released(&balls, reach, e, 4e-3);
            for place in 0..balls.len() {
                let got = heard.after(place, 0.0).velocity;
                off.push((got - fine[place]).length() / speed);
                own.push((coarse[place] - fine[place]).length() / speed);
            }
        }
        let (off, own) = (spread(off), spread(own));
        println!(
            "{name}: {} velocities, off by {:.0e} (median), {:.0e} (worst) of the speed; small \
             steps by themselves {:.0e}",
            off.count, off.median, off.worst, own.worst
        );
        assert!(own.worst < 1e-5, "{name}: small steps have converged: {:e}", own.worst);
        assert!(off.worst < 3e-4, "{name}: off by {:e}", off.worst);
    }
}
