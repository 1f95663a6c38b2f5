//! Whether the cue ball comes along the line of the next shot or across it, and what that
//! costs.

use super::{Demand, Hand, Input, NextShot, Situation};
use crate::ball::BallId;
use crate::physics::{PlacedBall, Stroke};
use glam::DVec2;
use std::f64::consts::PI;

/// Share of the speed by which it is changed to see which way the stop goes (tuning
/// choice: a quarter of a percent, a few millimetres).
const NUDGE: f64 = 0.0025;

/// Share of the speed over which the next cut is compared, half of it to each side.
const COMPARED: f64 = 0.1;

/// The next ball is reached well from where its rough chance is at least this share of
/// the chance at the stop (tuning choice).
const WORTH: f64 = 0.8;

/// Step in which room is looked for, m, and how far (tuning choices).
const ROOM_STEP: f64 = 0.02;
const MOST_ROOM: u32 = 60;

/// How the trace of the speed meets the line of the next shot.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Way {
    /// Within 30 degrees of it (tuning choice: a third of a right angle).
    Along,
    /// Neither.
    Between,
    /// Within 30 degrees of its perpendicular.
    Across,
}

impl Way {
    /// The way at this angle, rad, from 0 to a right angle.
    pub fn at(angle: f64) -> Self {
        if angle <= PI / 6.0 {
            Self::Along
        } else if angle < PI / 3.0 {
            Self::Between
        } else {
            Self::Across
        }
    }
}

/// How a stroke comes to its stop, seen from the next ball.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Approach {
    /// The shot that is left.
    pub next: NextShot,
    /// Where the stop goes as the speed grows, m for the whole of the speed: a hundredth
    /// of it for each percent.
    pub tangent: DVec2,
    /// Angle between the tangent and the line of the next shot, rad, 0 to a right angle.
    pub angle: f64,
    /// The same in a word.
    pub way: Way,
    /// The cuts that 5 % less and 5 % more speed leave, rad, signed as in [`NextShot`];
    /// none if they leave no shot into this pocket.
    pub cuts: [Option<f64>; 2],
    /// How far the stop may move along the line of the next shot, and across it, both
    /// ways together, before its rough chance falls below four fifths of that at the
    /// stop, m; at most 2.4 m.
    pub room: [f64; 2],
}

/// How `stroke`, which must have passed [`Stroke::check`], comes to the shot on the next
/// ball; `hand` is the one that will play that.
///
/// The next ball lies where the stroke leaves it, and its pocket is the one with the
/// smallest cut, for a demand names none.
///
/// `None` if no next ball is asked for, it fell, it has no open pocket, the cue ball
/// falls, or its stop jumps with the speed.
pub fn approach(
    situation: &Situation,
    demand: &Demand,
    stroke: &Stroke,
    hand: &Hand,
) -> Option<Approach> {
    let ball = demand.next?;
    let ending = situation.play(stroke);
    if ending.scratch {
        return None;
    }
    let left = situation.arrival(stroke).left;
    let table = Left { situation, balls: &left, ball };
    let next = table.shot(ending.stop, None)?;
    let at = |share: f64| {
        let other = Input::Speed.set(stroke, stroke.speed * (1.0 + share));
        (other.check().is_ok()).then(|| situation.play(&other))
    };
    let tangent = tangent(
        ending.stop,
        [at(-NUDGE), at(NUDGE)]
            .map(|ending| ending.filter(|ending| !ending.scratch).map(|ending| ending.stop)),
    )?;
    let angle = libm::acos((tangent.dot(next.line) / tangent.length()).abs().min(1.0));
    let cuts = [-0.5 * COMPARED, 0.5 * COMPARED].map(|share| {
        let ending = at(share).filter(|ending| !ending.scratch)?;
        table.shot(ending.stop, Some(next.pocket)).map(|shot| shot.cut)
    });
    let radius = situation.arena().card().ball.radius;
    let least = WORTH * next.rough_chance(hand, radius);
    let is_good = |place: DVec2| {
        situation.arena().shape().refusal(place).is_none()
            && table
                .shot(place, Some(next.pocket))
                .is_some_and(|shot| shot.rough_chance(hand, radius) >= least)
    };
    let room = [next.line, next.left()]
        .map(|way| [way, -way].map(|way| room_toward(ending.stop, way, is_good)).iter().sum());
    Some(Approach { next, tangent, angle, way: Way::at(angle), cuts, room })
}

/// The table as a stroke leaves it.
struct Left<'a> {
    situation: &'a Situation,
    balls: &'a [PlacedBall],
    ball: BallId,
}

impl Left<'_> {
    fn shot(&self, place: DVec2, pocket: Option<crate::table::PocketId>) -> Option<NextShot> {
        NextShot::of(self.situation.arena(), self.balls, self.ball, pocket, place)
    }
}

/// Where the stop goes with the speed, m for the whole of it, from what a little less and
/// a little more give; the side on which it jumps or falls is left out.
fn tangent(stop: DVec2, [less, more]: [Option<DVec2>; 2]) -> Option<DVec2> {
    // A stop that goes farther than this for a quarter of a percent has jumped.
    let near = |place: &DVec2| (*place - stop).length() < 0.1;
    let ways =
        [less.filter(near).map(|less| stop - less), more.filter(near).map(|more| more - stop)];
    let n_ways = ways.iter().flatten().count();
    if n_ways == 0 {
        return None;
    }
    let sum: DVec2 = ways.into_iter().flatten().sum();
    let way = sum / (n_ways as f64 * NUDGE);
    (way.length() > 1e-6).then_some(way)
}

/// How far from `place` along `way` all is good, m.
fn room_toward(place: DVec2, way: DVec2, is_good: impl Fn(DVec2) -> bool) -> f64 {
    let steps = (1..=MOST_ROOM).take_while(|k| is_good(place + way * (ROOM_STEP * f64::from(*k))));
    ROOM_STEP * steps.count() as f64
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::physics::Shot;
    use crate::shot::{SpeedError, aim_at_pocket};
    use crate::table::{PocketId, TableCard, TableSize};

    const HAND: Hand =
        Hand { azimuth: 0.002, elevation: 0.0, speed: SpeedError::Relative(0.05), tip: 0.02 };

    /// A stroke that pots the 3, with the 5 so far ahead of the stop, turned by so much
    /// from where the stop goes with the speed.
    fn with_next(turn: f64) -> Option<Approach> {
        let on = BallId::object(3).expect("a ball");
        let next = BallId::object(5).expect("a ball");
        let stroke = Stroke { azimuth: 0.4, elevation: 0.0, speed: 1.2, side: 0.0, height: 0.2 };
        let mut shot = Shot {
            card: TableCard::of_size(TableSize::NineFoot),
            balls: vec![
                PlacedBall { id: on, position: DVec2::new(1.7, 0.9) },
                PlacedBall { id: BallId::CUE, position: DVec2::new(1.2, 0.35) },
                PlacedBall { id: next, position: DVec2::new(0.2, 0.2) },
            ],
            stroke,
        };
        let situation = Situation::new(&shot, on).expect("a sound layout");
        let aim =
            aim_at_pocket(situation.arena(), situation.balls(), &stroke, on, PocketId::FootLeft)
                .expect("an open pot");
        let stop = situation.play(&aim.stroke).stop;
        let heading = situation.arrival(&aim.stroke).heading.expect("it moves on");
        shot.balls[2].position =
            stop + heading.rotate(crate::geometry::unit_from_angle(turn)) * 0.35;
        let situation = Situation::new(&shot, on).expect("a sound layout");
        let demand = Demand { next: Some(next), ..Demand::to_pot(on) };
        approach(&situation, &demand, &aim.stroke, &HAND)
    }

    #[test]
    fn the_angle_is_that_between_path_and_line() {
        let (ahead, aside) = (with_next(0.0), with_next(PI / 2.0));
        let (ahead, aside) = (ahead.expect("a shot"), aside.expect("a shot"));
        assert_eq!(ahead.way, Way::Along, "{ahead:?}");
        assert_eq!(aside.way, Way::Across, "{aside:?}");
        assert!(ahead.room.iter().all(|room| *room > 0.0), "the stop itself is good: {ahead:?}");
        let change = |found: &Approach| {
            let [slower, faster] = found.cuts.map(|cut| cut.expect("still a shot"));
            (slower - faster).abs()
        };
        assert!(change(&ahead) < change(&aside), "the cut changes more across");
    }

    #[test]
    fn no_next_ball_is_no_approach() {
        let found = with_next(0.0).expect("a shot");
        assert!(found.tangent.length() > 0.1, "it goes on with speed: {found:?}");
        let on = BallId::object(3).expect("a ball");
        let shot = Shot {
            card: TableCard::of_size(TableSize::NineFoot),
            balls: vec![
                PlacedBall { id: on, position: DVec2::new(1.7, 0.9) },
                PlacedBall { id: BallId::CUE, position: DVec2::new(1.2, 0.35) },
            ],
            stroke: Stroke { azimuth: 0.8, elevation: 0.0, speed: 1.2, side: 0.0, height: 0.2 },
        };
        let situation = Situation::new(&shot, on).expect("a sound layout");
        assert_eq!(approach(&situation, &Demand::to_pot(on), &shot.stroke, &HAND), None);
    }
}
