//! The strokes round a plan, as a hand that tries its neighbours, too, would play them.

use super::candidate::Trial;
use super::plan::{FARTHEST_TIP, Plan, SPEEDS};
use crate::physics::Stroke;
use crate::shot::{Delivery, Input, Wobble};
use glam::{DMat4, DVec4};

/// By so much each of speed (as its logarithm), side and height is changed to see how the
/// aim answers (tuning choice: small, and far above the aim's own accuracy).
const PROBE: f64 = 0.03;

/// A plan with its aim, and how the aim follows where speed and tip are changed a little.
///
/// A stroke is the vector of its direction, speed, side and height.
#[derive(Clone, Debug)]
pub(super) struct Frame {
    pub plan: Plan,
    pub delivery: Delivery,
    /// What the direction is off the middle of the pocket, rad.
    turn: f64,
    /// Changes of the direction with speed, side and height.
    slopes: [f64; 3],
    /// Standard deviations of the hand.
    errors: DVec4,
    /// Standard deviations with which plans are tried: of speed, side and height.
    widths: [f64; 3],
    /// Of the strokes' covariance.
    inverse: DMat4,
    /// What their density has in front.
    factor: f64,
}

impl Frame {
    /// Round `plan`, aimed `turn` (rad) off the middle, with plans tried so widely; `None`
    /// if there is no such pot.
    pub fn new(trial: &Trial, plan: Plan, turn: f64, widths: [f64; 3]) -> Option<Self> {
        let situation = &trial.situation;
        let aimed = plan.aimed(situation)?;
        let stroke = Stroke { azimuth: aimed.azimuth + turn, ..aimed };
        let (arena, balls) = (situation.arena(), situation.balls());
        let delivery = Delivery::new(&trial.hand, arena.card(), balls, &stroke);
        let slope = |k: usize| {
            let mut other = plan;
            // Toward the middle, where there is room.
            let by = match k {
                0 => PROBE * plan.speed * if plan.speed < 2.0 { 1.0 } else { -1.0 },
                1 => -PROBE.copysign(plan.side),
                _ => -PROBE.copysign(plan.height),
            };
            *[&mut other.speed, &mut other.side, &mut other.height][k] += by;
            other.aimed(situation).map_or(0.0, |it| (it.azimuth - aimed.azimuth) / by)
        };
        let slopes = [slope(0), slope(1), slope(2)];
        let error = |input: Input| delivery.awkwardness * input.error(&stroke, &trial.hand);
        let errors = DVec4::new(
            error(Input::Azimuth),
            error(Input::Speed),
            error(Input::Side),
            error(Input::Height),
        );
        let widths = [plan.speed * widths[0], widths[1], widths[2]];
        let mut covariance = DMat4::from_diagonal(errors * errors);
        for (k, width) in widths.iter().enumerate() {
            let way = along(&slopes, k) * *width;
            covariance += DMat4::from_cols(way * way.x, way * way.y, way * way.z, way * way.w);
        }
        let factor = 1.0 / covariance.determinant().sqrt();
        let inverse = covariance.inverse();
        let frame = Self { plan, delivery, turn, slopes, errors, widths, inverse, factor };
        (factor.is_finite() && inverse.is_finite()).then_some(frame)
    }

    /// The stroke in the middle.
    pub fn middle(&self) -> DVec4 {
        let Stroke { azimuth, speed, side, height, .. } = self.delivery.aimed;
        DVec4::new(azimuth, speed, side, height)
    }

    /// A stroke of these errors, on a plan so far away.
    pub fn struck(&self, errors: &Wobble, away: [f64; 3]) -> (DVec4, Stroke) {
        let aim = self.shifted(away);
        let mut delivery = self.delivery;
        let Stroke { azimuth, speed, side, height, .. } = &mut delivery.aimed;
        (*azimuth, *speed, *side, *height) = aim.into();
        let of = DVec4::new(errors.azimuth, errors.speed, errors.side, errors.height);
        (aim + self.errors * of, delivery.struck(errors))
    }

    /// The middle of a plan so many widths away.
    fn shifted(&self, away: [f64; 3]) -> DVec4 {
        (0..3).fold(self.middle(), |at, k| at + along(&self.slopes, k) * (self.widths[k] * away[k]))
    }

    /// How likely a stroke is so far from the middle, but for a constant factor.
    pub fn density(&self, away: DVec4) -> f64 {
        self.factor * libm::exp(-0.5 * away.dot(self.inverse * away))
    }

    /// A stroke in standard deviations of those round this plan: of the turn off the aim, of
    /// speed, side and height.
    pub fn seen(&self, stroke: DVec4) -> DVec4 {
        self.seen_change(stroke - self.middle())
    }

    /// A change of a stroke, alike.
    pub fn seen_change(&self, by: DVec4) -> DVec4 {
        let aim = self.slopes[0] * by.y + self.slopes[1] * by.z + self.slopes[2] * by.w;
        DVec4::new(by.x - aim, by.y, by.z, by.w) / self.scales()
    }

    /// The stroke that is seen so.
    pub fn stroke_seen(&self, x: DVec4) -> DVec4 {
        let by = x * self.scales();
        let aim = self.slopes[0] * by.y + self.slopes[1] * by.z + self.slopes[2] * by.w;
        self.middle() + DVec4::new(by.x + aim, by.y, by.z, by.w)
    }

    fn scales(&self) -> DVec4 {
        let [speed, side, height] = self.widths;
        let widths = DVec4::new(0.0, speed, side, height);
        (self.errors * self.errors + widths * widths).map(f64::sqrt)
    }

    /// Standard deviations of the hand: direction, speed, side and height.
    pub fn errors(&self) -> DVec4 {
        self.errors
    }

    /// The nearest stroke that may be planned: with speed and tip within reach, the aim
    /// along with them.
    pub fn within_reach(&self, at: DVec4) -> DVec4 {
        let offset = (at.z * at.z + at.w * at.w).sqrt();
        let inward = if offset > FARTHEST_TIP { FARTHEST_TIP / offset } else { 1.0 };
        let speed = at.y.clamp(*SPEEDS.start(), *SPEEDS.end());
        let by = [speed - at.y, at.z * (inward - 1.0), at.w * (inward - 1.0)];
        (0..3).fold(at, |at, k| at + along(&self.slopes, k) * by[k])
    }

    /// The plan of this stroke, and what its direction is off the middle of the pocket.
    pub fn planned(&self, at: DVec4) -> (Plan, f64) {
        let by = at - self.middle();
        let aim = self.slopes[0] * by.y + self.slopes[1] * by.z + self.slopes[2] * by.w;
        let plan = Plan { pocket: self.plan.pocket, speed: at.y, side: at.z, height: at.w };
        (plan, self.turn + by.x - aim)
    }
}

/// A change of speed, side or height by one, with the aim along.
fn along(slopes: &[f64; 3], k: usize) -> DVec4 {
    let axis = [DVec4::Y, DVec4::Z, DVec4::W][k];
    axis + DVec4::X * slopes[k]
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::shot::example::potted;
    use crate::shot::{Demand, HANDS};
    use crate::table::PocketId;

    #[test]
    fn a_frame_tells_where_a_stroke_belongs() {
        let (situation, _) = potted(1.5, 0.2);
        let demand = Demand::to_pot(situation.on());
        let trial = Trial { situation, demand, hand: HANDS[1].hand, wobbles: Vec::new() };
        let plan = Plan { pocket: PocketId::FootLeft, speed: 1.5, side: 0.3, height: 0.1 };
        let frame = Frame::new(&trial, plan, 1e-3, [0.05, 0.04, 0.03]).expect("an open pot");
        let (middle, stroke) = frame.struck(&Wobble::default(), [0.0; 3]);
        assert_eq!((middle, stroke), (frame.middle(), frame.delivery.aimed), "no error");
        let (there, turn) = frame.planned(middle);
        assert_eq!((there, turn), (plan, 1e-3), "the plan and its turn");
        let (aside, _) = frame.struck(&Wobble::default(), [1.0, -1.0, 1.0]);
        let (other, turn) = frame.planned(aside);
        assert!((turn - 1e-3).abs() < 1e-9, "the aim goes along: {turn}");
        let exact = other.aimed(&trial.situation).expect("an open pot").azimuth + turn;
        assert!((exact - aside.x).abs() < 3e-4, "nearly as aimed: {exact}, {}", aside.x);
        let seen = frame.seen(aside);
        let back = frame.stroke_seen(seen);
        assert!((back - aside).abs().max_element() < 1e-12, "and back: {back}");
        assert!(seen.x.abs() < 1e-6, "the aim goes along: {seen}");
        assert!((0.7..1.0).contains(&seen.y), "a width, and the hand's error beside it: {seen}");
        let ratio = frame.density(aside - middle) / frame.density(DVec4::ZERO);
        // exp(-3/2), and more for what the hand's errors add.
        assert!((0.223..0.35).contains(&ratio), "three widths of one each: {ratio}");
        let far = middle + DVec4::new(0.0, 9.0, 0.4, 0.0);
        let (within, _) = frame.planned(frame.within_reach(far));
        assert!(within.is_within_reach(), "brought back: {within:?}");
    }
}
