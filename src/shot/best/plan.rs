//! What the player decides: pocket, speed and tip. The rest of a stroke follows.

use crate::geometry::heading;
use crate::physics::Stroke;
use crate::shot::{Situation, aim_at_pocket, ghost_ball, least_elevation};
use crate::table::PocketId;
use std::ops::RangeInclusive;

/// What aiming counts for in plays: it follows the object ball to the pocket a few times.
pub(super) const AIM_PLAYS: usize = 3;

/// Speeds that are tried, m/s (tuning choice: from a nudge to a hard stroke; faster is
/// for the break).
pub const SPEEDS: RangeInclusive<f64> = 0.4..=6.0;

/// Tips that are tried lie so near the middle, in ball radii (tuning choice: short of a
/// miscue, as strokes are dealt).
pub const FARTHEST_TIP: f64 = 0.45;

/// A stroke as it is chosen.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Plan {
    /// Where the ball on is to fall.
    pub pocket: PocketId,
    /// Speed, m/s.
    pub speed: f64,
    /// Tip's offset to the right, as a fraction of the radius.
    pub side: f64,
    /// Tip's height, as a fraction of the radius.
    pub height: f64,
}

impl Plan {
    /// Whether speed and tip are among those that are tried.
    pub fn is_within_reach(&self) -> bool {
        let offset = self.side * self.side + self.height * self.height;
        SPEEDS.contains(&self.speed) && offset <= FARTHEST_TIP * FARTHEST_TIP * (1.0 + 1e-12)
    }

    /// The stroke: the cue as level as rail and balls let it be, aimed with throw, squirt
    /// and swerve. `None` if there is no such pot.
    pub fn aimed(&self, situation: &Situation) -> Option<Stroke> {
        let card = situation.arena().card();
        let (cue_ball, object) = (situation.cue_ball(), situation.object_ball());
        let mouth = situation.arena().shape().pocket(self.pocket).mouth_middle;
        let ghost = ghost_ball(object, mouth, card.ball.radius);
        let mut stroke = Stroke {
            azimuth: heading(ghost - cue_ball),
            elevation: 0.0,
            speed: self.speed,
            side: self.side,
            height: self.height,
        };
        stroke.elevation = least_elevation(card, situation.balls(), &stroke);
        stroke.check().ok()?;
        let (arena, balls) = (situation.arena(), situation.balls());
        let aim = aim_at_pocket(arena, balls, &stroke, situation.on(), self.pocket)?;
        // In the direction found the cue may have to be a little steeper yet.
        let elevation = least_elevation(card, balls, &aim.stroke).max(stroke.elevation);
        let aimed = Stroke { elevation, ..aim.stroke };
        aimed.check().ok().map(|()| aimed)
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::ball::BallId;
    use crate::physics::{PlacedBall, Shot};
    use crate::table::{TableCard, TableSize};
    use glam::DVec2;

    #[test]
    fn a_plan_becomes_a_stroke_that_clears_the_rail_and_pots() {
        let on = BallId::object(3).expect("a ball");
        let stroke = Stroke { azimuth: 0.0, elevation: 0.0, speed: 1.0, side: 0.0, height: 0.0 };
        let shot = Shot {
            card: TableCard::of_size(TableSize::NineFoot),
            balls: vec![
                PlacedBall { id: BallId::CUE, position: DVec2::new(0.1, 0.7) },
                PlacedBall { id: on, position: DVec2::new(1.5, 0.9) },
            ],
            stroke,
        };
        let situation = Situation::new(&shot, on).expect("a sound layout");
        let plan = Plan { pocket: PocketId::FootLeft, speed: 2.5, side: 0.1, height: -0.2 };
        let stroke = plan.aimed(&situation).expect("an open pot");
        let least = least_elevation(&shot.card, situation.balls(), &stroke);
        assert!(stroke.elevation >= least && least > 0.1, "{stroke:?}, at least {least}");
        assert_eq!(situation.play(&stroke).pocket, Some(plan.pocket), "{stroke:?}");
        let behind = Plan { pocket: PocketId::HeadRight, ..plan };
        assert_eq!(behind.aimed(&situation), None, "there is no such pot");
        assert!(plan.is_within_reach(), "{plan:?}");
        assert!(!Plan { side: 0.45, ..plan }.is_within_reach(), "nearly a miscue");
        assert!(!Plan { speed: 7.0, ..plan }.is_within_reach(), "a break");
    }
}
