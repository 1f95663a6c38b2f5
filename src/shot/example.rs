//! A pot that the tests of several modules try their strokes on.

use super::{Situation, aim_at_pocket};
use crate::ball::BallId;
use crate::physics::{PlacedBall, Shot, Stroke};
use crate::table::{PocketId, TableCard, TableSize};
use glam::DVec2;

/// The 3 before the foot-left pocket, and a stroke of this speed (m/s) and tip height
/// that pots it there.
pub fn potted(speed: f64, height: f64) -> (Situation, Stroke) {
    let on = BallId::object(3).expect("a ball");
    let stroke = Stroke { azimuth: 0.4, elevation: 0.0, speed, side: 0.0, height };
    let shot = Shot {
        card: TableCard::of_size(TableSize::NineFoot),
        balls: vec![
            PlacedBall { id: on, position: DVec2::new(1.7, 0.9) },
            PlacedBall { id: BallId::CUE, position: DVec2::new(0.8, 0.5) },
        ],
        stroke,
    };
    let situation = Situation::new(&shot, on).expect("a sound layout");
    let pocket = PocketId::FootLeft;
    let aim = aim_at_pocket(situation.arena(), situation.balls(), &stroke, on, pocket);
    (situation, aim.expect("an open pot").stroke)
}
