//! Grading a Read call: shared set-ups, and the tests by what they are about.
mod marks;
mod played;
mod properties;
mod wording;

use glam::DVec2;
use leaveline::BallId;
use leaveline::physics::Sample;
use leaveline::practice::{Call, CallPoint, CuePath, Grade, Touch, grade};
use leaveline::table::{Rail, Surface, TableCard, TableSize};

/// A table whose sizes and touch lines are short binary fractions, so that
/// mirrored places have exact coordinates.
fn card() -> TableCard {
    let mut card = TableCard::of_size(TableSize::NineFoot);
    card.length = 2.5;
    card.width = 1.25;
    card.ball.radius = 0.03125;
    card.cushion.nose_height = card.ball.radius;
    card
}

/// Where a ball touches `rail` at so many metres along it.
fn on(card: &TableCard, rail: Rail, along: f64) -> DVec2 {
    let gap = card.touch_distance();
    match rail {
        Rail::Head => DVec2::new(gap, along),
        Rail::Foot => DVec2::new(card.length - gap, along),
        Rail::Right => DVec2::new(along, gap),
        Rail::Left => DVec2::new(along, card.width - gap),
    }
}

/// A path of straight legs, one second each, off the 3 that lies straight
/// toward the foot; the shot comes at it on a cut of about 45 degrees.
fn truth(ghost: DVec2, touches: &[(Rail, DVec2)], stop: DVec2) -> CuePath {
    let mut path = vec![Sample { time: 1.0, position: ghost }];
    let mut met = vec![];
    for &(rail, position) in touches {
        let time = 1.0 + path.len() as f64;
        path.push(Sample { time, position });
        met.push(Touch { surface: Surface::Rail(rail), position, time });
    }
    path.push(Sample { time: 1.0 + path.len() as f64, position: stop });
    CuePath {
        first: BallId::object(3).expect("a ball"),
        height: 0.0,
        approach: DVec2::new(1.0, 1.0).normalize(),
        ghost,
        line_of_centres: DVec2::X,
        contact_time: 1.0,
        touches: met,
        stop,
        pocketed: None,
        path,
        slide_end: None,
    }
}

fn call(points: &[(Rail, DVec2)], stop: DVec2) -> Call {
    let point = |&(rail, position): &(Rail, DVec2)| CallPoint { position, rail: Some(rail) };
    Call { points: points.iter().map(point).collect(), stop }
}

/// The call that says exactly what happened.
fn perfect(truth: &CuePath) -> Call {
    let touches: Vec<_> =
        truth.rail_touches().map(|(rail, touch)| (rail, touch.position)).collect();
    call(&touches, truth.stop)
}

/// The text of the line with this id; empty if there is none.
fn text<'a>(grade: &'a Grade, id: &str) -> &'a str {
    grade.lines.iter().find(|line| line.id == id).map_or("", |line| &line.text)
}

/// A level-4 grade on the test table.
fn graded(truth: &CuePath, call: &Call) -> Grade {
    grade(&card(), truth, call, 4)
}

/// Off the left rail and the foot rail, to a stop in the middle of the table.
fn two_rails() -> CuePath {
    let card = card();
    let touches =
        [(Rail::Left, on(&card, Rail::Left, 1.5)), (Rail::Foot, on(&card, Rail::Foot, 0.75))];
    truth(DVec2::new(1.0, 0.5), &touches, DVec2::new(1.5, 0.25))
}
