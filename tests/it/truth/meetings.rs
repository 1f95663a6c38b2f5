//! The exact polynomials of time that say when what the model's courses lead to
//! touches: their coefficients follow from the courses' doubles without rounding.

use super::exact::{Chain, Exact};
use glam::DVec2;
use leaveline::physics::Course;

/// Position (ascending powers of time) along one axis.
type Motion = [Exact; 3];

/// A point that moves, along x and y.
#[derive(Clone)]
pub struct Mover([Motion; 2]);

impl Mover {
    /// A ball on its course `late` seconds after it began.
    pub fn new(course: &Course, late: &Exact) -> Self {
        let axis = |at: f64, v: f64, a: f64| {
            let (at, v, half) = (Exact::from(at), Exact::from(v), Exact::from(a).half());
            let rate = &half * late;
            let position = &at + &(&(&v + &rate) * late);
            let velocity = &v + &(&rate + &rate);
            [position, velocity, half]
        };
        let (at, v, a) = (course.start.position, course.start.velocity, course.acceleration);
        Self([axis(at.x, v.x, a.x), axis(at.y, v.y, a.y)])
    }

    /// A fixed point.
    pub fn fixed(at: DVec2) -> Self {
        let nil = || Exact::from(0.0);
        Self([at.x, at.y].map(|at| [Exact::from(at), nil(), nil()]))
    }

    /// Square of the distance from another less that of `reach`.
    pub fn within(&self, other: &Self, reach: f64) -> [Exact; 5] {
        let mut sum = [0.0, 0.0, 0.0, 0.0, 0.0].map(Exact::from);
        for (ours, theirs) in self.0.iter().zip(&other.0) {
            let [a, b, c] = [0, 1, 2].map(|k| &ours[k] - &theirs[k]);
            let (ab, ac, bc) = (&a * &b, &a * &c, &b * &c);
            let terms = [a.square(), &ab + &ab, &b.square() + &(&ac + &ac), &bc + &bc, c.square()];
            for (sum, term) in sum.iter_mut().zip(&terms) {
                *sum = &*sum + term;
            }
        }
        sum[0] = &sum[0] - &Exact::from(reach).square();
        sum
    }

    /// Height over the line through `from` with this normal, less `reach`.
    pub fn over(&self, from: DVec2, normal: DVec2, reach: f64) -> [Exact; 3] {
        let axis = |k: usize, from: f64, normal: f64| {
            let normal = Exact::from(normal);
            let [a, b, c] = &self.0[k];
            [&(a - &Exact::from(from)) * &normal, b * &normal, c * &normal]
        };
        let (x, y) = (axis(0, from.x, normal.x), axis(1, from.y, normal.y));
        let mut sum = [0, 1, 2].map(|k| &x[k] + &y[k]);
        sum[0] = &sum[0] - &Exact::from(reach);
        sum
    }
}

/// When the gap first closes within `span`, if it does.
pub fn first_time(gap: &[Exact], span: f64) -> Option<Exact> {
    Chain::new(gap).first_root(span)
}
