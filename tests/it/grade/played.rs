//! Grading against shots that were really played.

use super::{perfect, text};
use glam::DVec2;
use leaveline::BallId;
use leaveline::physics::{PlacedBall, Shot, Stroke, play};
use leaveline::practice::{Call, CuePath, Grade, grade};
use leaveline::table::{TableCard, TableSize};
use leaveline::units::radians;

/// A half-ball hit on the 3 from 60 cm away, along +x, with this tip height and
/// speed; the cue ball leaves to the right.
fn half_ball(height: f64, speed: f64) -> (Shot, CuePath) {
    let card = TableCard::of_size(TableSize::NineFoot);
    let cue = DVec2::new(0.8, 0.6);
    let balls = vec![
        PlacedBall { id: BallId::CUE, position: cue },
        PlacedBall {
            id: BallId::object(3).expect("a ball"),
            position: cue + DVec2::new(0.6, card.ball.radius),
        },
    ];
    let stroke = Stroke { azimuth: 0.0, elevation: 0.0, speed, side: 0.0, height };
    let shot = Shot { card, balls, stroke };
    let outcome = play(&shot).expect("a sound shot");
    let path = CuePath::of(&shot, &outcome).expect("the 3 is met");
    (shot, path)
}

fn graded(shot: &Shot, path: &CuePath, call: &Call) -> Grade {
    grade(&shot.card, path, call, 4)
}

#[test]
fn the_ghost_ball_of_a_half_ball_hit() {
    let (shot, path) = half_ball(0.0, 1.5);
    assert!((path.approach - DVec2::X).length() < 1e-9, "along the cue: {}", path.approach);
    let cut = path.line_of_centres.angle_to(path.approach).abs();
    assert!((cut - radians(30.0)).abs() < 1e-6, "half a ball is 30 degrees: {cut}");
    let object = shot.balls[1].position;
    let gap = path.ghost.distance(object) - 2.0 * shot.card.ball.radius;
    assert!(gap.abs() < 1e-9, "it touches the 3: {gap}");
    assert_eq!(path.path[0].position, path.ghost, "the path starts there");
    assert_eq!(path.path[path.path.len() - 1].position, path.stop, "and ends at the stop");
    assert!(path.path.windows(2).all(|pair| pair[0].time < pair[1].time), "in order of time");
}

#[test]
fn the_perfect_call_of_a_played_shot_gets_100() {
    for (height, speed) in [(0.0, 1.0), (0.4, 2.0), (-0.4, 2.5), (-0.2, 4.0), (0.3, 6.0)] {
        let (shot, path) = half_ball(height, speed);
        let grade = graded(&shot, &path, &perfect(&path));
        assert_eq!(grade.mark, 100.0, "at {speed} m/s, height {height}");
        assert_eq!(text(&grade, "heading"), "spot on", "the chord is the chord");
        assert_eq!(text(&grade, "length"), "spot on", "straight legs against straight legs");
        assert!(grade.errors.curve < 3.0, "the bends are small: {} balls", grade.errors.curve);
    }
}

/// Slow draw would be lost before the 3 is reached, so that shot is harder.
/// A call along the tangent line misses the bend that spin makes, and is told so.
#[test]
fn follow_and_draw_bend_the_path_off_the_tangent_line() {
    for (height, speed, spin, way) in
        [(0.4, 1.5, "follow", "forward of"), (-0.45, 3.0, "draw", "back from")]
    {
        let (shot, path) = half_ball(height, speed);
        let n = path.line_of_centres;
        let tangent = (path.approach - n * path.approach.dot(n)).normalize();
        let end = path.rail_touches().next().map_or(path.stop, |(_, touch)| touch.position);
        let length = (end - path.ghost).length();
        let rails = perfect(&path).points;
        let mut call = Call { points: rails, stop: path.stop };
        match call.points.first_mut() {
            Some(first) => first.position = path.ghost + tangent * length,
            None => call.stop = path.ghost + tangent * length,
        }
        let sentence = graded(&shot, &path, &call).sentence;
        let start = format!("The {spin} bent it ");
        assert!(sentence.starts_with(&start), "{sentence}");
        assert!(sentence.contains(&format!("{way} the tangent line within")), "{sentence}");
        assert!(sentence.ends_with("you allowed too little."), "{sentence}");
    }
}
