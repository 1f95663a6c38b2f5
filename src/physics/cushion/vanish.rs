//! How long a slip that is nearly gone still lasts.

use super::grip::{Contacts, Grip};
use glam::{DMat2, DVec2};

/// A slip farther than this from an axis along which it vanishes straight is not yet
/// followed to its end, radians.
const FAR: f64 = 0.15;

/// How a slip of direction u changes while nothing else does: for each unit of impulse
/// at the rate `(push + pull u) / (pace + paces . u)`.
pub(super) struct Lone {
    pub push: DVec2,
    pub pull: DMat2,
    pub pace: f64,
    pub paces: DVec2,
}

impl Lone {
    /// The slip at the nose.
    pub fn nose(contacts: &Contacts, bed: Grip, pressed: bool) -> Self {
        let (own, cross) = (contacts.own(), contacts.cross());
        let (sine, cosine) = (contacts.sine, contacts.cosine);
        let friction = contacts.nose_friction;
        let free = DVec2::new(0.0, cosine * sine);
        let own_pull = DMat2::from_diagonal(own * -friction);
        let (push, pull) = match bed {
            _ if !pressed => (free, own_pull),
            Grip::Slips(direction) => {
                let lifts = cross * direction * contacts.bed_friction;
                let along = DMat2::from_cols(DVec2::ZERO, lifts * (cosine * friction));
                (free - lifts * sine, own_pull - along)
            }
            Grip::Follows(_) => {
                let held = DMat2::from_diagonal(cross * cross * (friction / 3.5));
                (free + DVec2::new(0.0, cosine * cross.y / 3.5), own_pull + held)
            }
        };
        Self { push, pull, pace: 1.0, paces: DVec2::ZERO }
    }

    /// The slip at the bed.
    pub fn bed(contacts: &Contacts, nose: Grip, press: f64) -> Self {
        let (own, cross, cosine) = (contacts.own(), contacts.cross(), contacts.cosine);
        match nose {
            Grip::Slips(direction) => {
                let push = -DVec2::new(0.0, cosine) - cross * direction * contacts.nose_friction;
                let pull = DMat2::from_diagonal(DVec2::splat(-3.5 * contacts.bed_friction * press));
                Self { push, pull, pace: 1.0, paces: DVec2::ZERO }
            }
            Grip::Follows(_) => {
                let (pace, pull) = contacts.nose_hold();
                let bed = contacts.bed_friction * contacts.sine * (own.y + cosine * cosine);
                let x = bed * (cross.x * cross.x / own.x - 3.5);
                let y = pull * (cross.y * contacts.sine - cosine * cosine) - 3.5 * bed;
                Self {
                    push: DVec2::new(0.0, -cosine * (own.y + cross.y * contacts.sine)),
                    pull: DMat2::from_diagonal(DVec2::new(x, y)),
                    pace,
                    paces: DVec2::new(0.0, cosine * pull),
                }
            }
        }
    }

    /// Impulse over which a slip vanishes that is now `slip`, and about by how much
    /// that may err. None if it grows, or turns too much on the way.
    ///
    /// The impulse is the slip's size times a function f of its angle d from an axis
    /// along which it would vanish straight. With T and R the rates across and along that
    /// axis and p the pace, f' T + f R = -p: the terms of f in powers of d.
    pub fn end(&self, slip: DVec2) -> Option<(f64, f64)> {
        let size = slip.length();
        let direction = slip / size;
        let mut axis = direction;
        for _ in 0..8 {
            let (across, slope) = self.turning(axis);
            let step = across / slope;
            if step.is_nan() || step.abs() > FAR {
                return None;
            }
            axis = (axis - axis.perp() * step).normalize();
            if step.abs() < 1e-8 {
                break;
            }
        }
        let sine = axis.perp_dot(direction);
        if axis.dot(direction) <= 0.0 || sine.abs() > FAR {
            return None;
        }
        let square = sine * sine;
        let angle =
            sine * (1.0 + square * (1.0 / 6.0 + square * (3.0 / 40.0 + square * (5.0 / 112.0))));
        let terms = self.terms(axis);
        let share = terms.iter().rev().fold(0.0, |sum, term| sum * angle + term);
        let square = angle * angle;
        let last = terms[TERMS - 1] * square * square * square;
        let doubt = last.abs() + self.parting(axis, angle);
        (share > 0.0).then_some((size * share, size * doubt))
    }

    /// A slip that turns away from the axis as it vanishes goes another way in the end:
    /// about what that adds to the terms, which know nothing of it.
    fn parting(&self, axis: DVec2, angle: f64) -> f64 {
        let slope = self.turning(axis).1;
        if slope <= 0.0 {
            return 0.0;
        }
        let along = axis.dot(self.push + self.pull * axis);
        libm::pow(angle.abs(), -along / slope)
    }

    /// The rate across a direction, and how that changes as the direction turns.
    fn turning(&self, axis: DVec2) -> (f64, f64) {
        let (along, across) = (self.pull * axis, self.pull * axis.perp());
        let rate = axis.perp().dot(self.push + along);
        (rate, axis.perp().dot(across) - axis.dot(self.push + along))
    }

    /// The terms of f, but for those that a slip which turns away does not have.
    fn terms(&self, axis: DVec2) -> [f64; TERMS] {
        let normal = axis.perp();
        let (p, q) = (axis.dot(self.push), normal.dot(self.push));
        let (along, across) = (self.pull * axis, self.pull * normal);
        let (a, b, c, d) =
            (axis.dot(along), axis.dot(across), normal.dot(along), normal.dot(across));
        let (g, h) = (axis.dot(self.paces), normal.dot(self.paces));
        let turn = [
            0.0,
            d - a - p,
            -(b + c) - 0.5 * q,
            p / 6.0 - 2.0 / 3.0 * (d - a),
            (b + c) / 3.0 + q / 24.0,
            2.0 / 15.0 * (d - a) - p / 120.0,
        ];
        let grow = [
            p + a,
            q + b + c,
            d - a - 0.5 * p,
            -2.0 / 3.0 * (b + c) - q / 6.0,
            (a - d) / 3.0 + p / 24.0,
            2.0 / 15.0 * (b + c) + q / 120.0,
        ];
        let pace = [self.pace + g, h, -0.5 * g, -h / 6.0, g / 24.0, h / 120.0];
        let mut terms = [0.0; TERMS];
        for n in 0..TERMS {
            let divisor = grow[0] + n as f64 * turn[1];
            if divisor >= 0.0 {
                break;
            }
            let mut sum = -pace[n];
            for j in 1..=n {
                sum -= grow[j] * terms[n - j];
            }
            for j in 2..=n {
                sum -= turn[j] * (n + 1 - j) as f64 * terms[n + 1 - j];
            }
            terms[n] = sum / divisor;
        }
        terms
    }
}

/// Terms of the impulse in powers of the angle.
const TERMS: usize = 6;

#[cfg(test)]
mod tests {
    use super::*;

    fn rate(lone: &Lone, slip: DVec2) -> DVec2 {
        let direction = slip.normalize();
        (lone.push + lone.pull * direction) / (lone.pace + lone.paces.dot(direction))
    }

    /// The slip shrunk to `size`, and the impulse which that takes, in steps of a share
    /// of what is left, by the midpoint rule.
    fn shrunk(lone: &Lone, slip: DVec2, size: f64, share: f64) -> (DVec2, f64) {
        let (mut slip, mut impulse) = (slip, 0.0);
        while slip.length() > size {
            let step = share * slip.length();
            let half = slip + rate(lone, slip) * (0.5 * step);
            slip += rate(lone, half) * step;
            impulse += step;
        }
        (slip, impulse + slip.length() / rate(lone, slip).length())
    }

    #[test]
    fn the_end_of_a_slip_is_that_found_in_small_steps() {
        let contacts =
            Contacts { sine: 0.27, cosine: 0.962_86, nose_friction: 0.25, bed_friction: 0.2 };
        let bed = Grip::Slips(DVec2::new(0.6, -0.8));
        let straight = (DVec2::new(0.001, -0.8), 1e-3);
        let turning = (DVec2::new(-0.9, -0.1), 1e-6);
        let cases = [
            (Lone::nose(&contacts, bed, true), &[straight, turning][..]),
            (Lone::nose(&contacts, bed, false), &[straight, turning]),
            (Lone::nose(&contacts, Grip::Follows(DVec2::ZERO), true), &[(DVec2::NEG_Y, 1e-3)]),
        ];
        for (k, (lone, slips)) in cases.iter().enumerate() {
            for &(slip, size) in *slips {
                let near = shrunk(lone, slip, size, 1e-3).0;
                let (impulse, doubt) = lone.end(near).expect("it is near its end");
                // Richardson's extrapolation, by halving the steps.
                let [long, short] = [2e-4, 1e-4].map(|share| shrunk(lone, near, 1e-13, share).1);
                let exact = (4.0 * short - long) / 3.0;
                let error = (impulse - exact).abs();
                assert!(error < doubt + 1e-12, "law {k}: {impulse} for {exact}, doubt {doubt}");
            }
        }
    }
}
