//! The cushion's impact by a second route that knows no events: velocity and spin
//! themselves over the impulse at the nose, with Coulomb's friction rounded off
//! below a slip so small that it does not count, so that sticking, breaking loose
//! and creeping need no case of their own.
//!
//! The equation is very stiff where surfaces hold. It is followed by the linearly
//! implicit method of Euler, extrapolated: Deuflhard, Hairer and Zugck 1987, Numer.
//! Math. 51, 501 (from memory; how well it converges is measured here).

use glam::{DVec2, DVec3};
use leaveline::BallMotion;
use leaveline::physics::CushionLaw;

/// Slip over the nose along x and up, over the bed along x and y, velocity along x,
/// work done on the nose. The first five are a linear map of velocity and spin.
/// Mass is one; x runs along the nose, y into the cushion.
type State = [f64; 6];

/// The rows of the extrapolation: one step is tried in 1, 2, ... this many parts.
const ROWS: usize = 6;

/// Error of a slip that is allowed in one step, as a share of that slip.
const SLIP_SHARE: f64 = 1e-4;

/// How closely an impact is followed, as shares of the ball's speed.
#[derive(Clone, Copy, Debug)]
pub struct Care {
    /// Slip below which friction is rounded off.
    pub rounding: f64,
    /// Error allowed in one step.
    pub tolerance: f64,
}

struct Impact<'a> {
    law: &'a CushionLaw,
    /// From the ball's centre to the nose, in radii.
    arm: DVec3,
    care: Care,
}

/// From the ball's centre to the bed, in radii.
const DOWN: DVec3 = DVec3::NEG_Z;

/// Friction's direction, rounded off: a unit vector against all but the least slips.
struct Rub {
    along: DVec3,
    size: f64,
}

impl Rub {
    fn new(slip: DVec3, rounding: f64) -> Self {
        let size = (slip.length_squared() + rounding * rounding).sqrt();
        Self { along: slip / size, size }
    }

    /// How the direction turns as the slip changes by `change`.
    fn turn(&self, change: DVec3) -> DVec3 {
        (change - self.along * self.along.dot(change)) / self.size
    }
}

impl Impact<'_> {
    /// The state of a ball with this velocity and spin (times radius).
    fn state(&self, velocity: DVec2, spin: DVec3) -> State {
        let nose = velocity.extend(0.0) + spin.cross(self.arm);
        let bed = velocity.extend(0.0) + spin.cross(DOWN);
        [nose.x, nose.dot(self.up()), bed.x, bed.y, velocity.x, 0.0]
    }

    /// The way back: velocity, and spin times radius.
    fn ball(&self, s: &State) -> (DVec2, DVec3) {
        let [nose_x, nose_up, bed_x, bed_y, vx, _] = *s;
        let vy = self.approach(s);
        let (wx, wy) = (bed_y - vy, vx - bed_x);
        let wz = (vx + wy * self.arm.z - nose_x) / self.arm.y;
        debug_assert!((wx - self.arm.z * vy - nose_up).abs() < 1e-9, "one linear map and back");
        (DVec2::new(vx, vy), DVec3::new(wx, wy, wz))
    }

    /// Up along the ball's surface at the nose.
    fn up(&self) -> DVec3 {
        DVec3::new(0.0, -self.arm.z, self.arm.y)
    }

    fn approach(&self, s: &State) -> f64 {
        (s[3] - s[1]) / (1.0 + self.arm.z)
    }

    /// What the forces `nose` and `bed` do, for each unit of impulse.
    fn pushed(&self, nose: DVec3, bed: DVec3) -> State {
        let (force, torque) = (nose + bed, (self.arm.cross(nose) + DOWN.cross(bed)) * 2.5);
        // Cloth and gravity keep the ball down.
        self.state(force.truncate(), torque)
    }

    /// Friction at nose and bed.
    fn rubs(&self, s: &State) -> (Rub, Rub) {
        let nose = DVec3::X * s[0] + self.up() * s[1];
        let rounding = self.care.rounding;
        (Rub::new(nose, rounding), Rub::new(DVec3::new(s[2], s[3], 0.0), rounding))
    }

    /// Change of the state over the impulse.
    fn rate(&self, s: &State) -> State {
        let (nose, bed) = self.rubs(s);
        let rub = nose.along * -self.law.nose_friction;
        let weight = self.weight(rub);
        let mut rate = self.pushed(rub - self.arm, bed.along * (-self.law.bed_friction * weight));
        rate[5] = self.arm.y * self.approach(s);
        rate
    }

    /// What the nose's push and friction press onto the bed, which never pulls.
    fn weight(&self, rub: DVec3) -> f64 {
        (self.arm.z - rub.z).max(0.0)
    }

    /// Derivative of the rate by the first five of the state, by columns.
    fn derivative(&self, s: &State) -> [State; 5] {
        let (nose, bed) = self.rubs(s);
        let (nose_friction, bed_friction) = (self.law.nose_friction, self.law.bed_friction);
        let weight = self.weight(nose.along * -nose_friction);
        [0, 1, 2, 3, 4].map(|k| {
            let mut unit = [0.0; 6];
            unit[k] = 1.0;
            let change = DVec3::X * unit[0] + self.up() * unit[1];
            let rub = nose.turn(change) * -nose_friction;
            let more = if weight > 0.0 { -rub.z } else { 0.0 };
            let turn = bed.turn(DVec3::new(unit[2], unit[3], 0.0)) * weight;
            self.pushed(rub, (bed.along * more + turn) * -bed_friction)
        })
    }

    /// The state after `impulse`, and an estimate of its error.
    fn step(&self, start: &State, impulse: f64) -> (State, f64) {
        let (first, columns) = (self.rate(start), self.derivative(start));
        let mut rows: [State; ROWS] = [[0.0; 6]; ROWS];
        let mut error = f64::INFINITY;
        for parts in 1..=ROWS {
            let part = impulse / parts as f64;
            let solver = Solver::new(&columns, part);
            let mut state = *start;
            for k in 0..parts {
                let rate = if k == 0 { first } else { self.rate(&state) };
                let change = solver.solve(&rate, part);
                for (value, change) in state.iter_mut().zip(change) {
                    *value += change;
                }
                // The work is driven by the speed at the end of the part.
                state[5] += part * (self.arm.y * self.approach(&state) - rate[5]);
                if self.leaps(start, &state) {
                    // Half as far next time.
                    return (state, 2.0_f64.powi(ROWS as i32));
                }
            }
            // Neville's scheme toward a part of no length.
            let mut finer = state;
            for column in 1..parts {
                let ratio = parts as f64 / (parts - column) as f64;
                let coarser = rows[column - 1];
                rows[column - 1] = finer;
                let mut changes = [0.0; 6];
                for k in 0..6 {
                    changes[k] = (finer[k] - coarser[k]) / (ratio - 1.0);
                    finer[k] += changes[k];
                }
                error = self.error(start, &changes);
            }
            rows[parts - 1] = finer;
        }
        (rows[ROWS - 1], error)
    }

    /// Whether a part of a step leaps over the end of a slip. The extrapolation would
    /// be blind to that: where friction leaps from one constant to another in the
    /// first part of every row, all rows agree.
    fn leaps(&self, start: &State, end: &State) -> bool {
        let least = (10.0 * self.care.rounding).powi(2);
        [0, 2].iter().any(|&k| {
            start[k] * end[k] + start[k + 1] * end[k + 1] < 0.0
                && start[k] * start[k] + start[k + 1] * start[k + 1] > least
        })
    }

    /// How large `errors` are in a step from `start`, 1 being allowed. A slip's is
    /// held to a share of the slip as well, so that no step leaps over its end.
    fn error(&self, start: &State, errors: &State) -> f64 {
        let (nose, bed) = self.rubs(start);
        let slips =
            (errors[0].hypot(errors[1]) / nose.size).max(errors[2].hypot(errors[3]) / bed.size);
        let largest = errors.iter().fold(0.0, |largest: f64, error| largest.max(error.abs()));
        (largest / self.care.tolerance).max(slips / SLIP_SHARE)
    }

    /// Follows the impact until `left` (positive before the end) is nil.
    fn follow(&self, mut state: State, left: impl Fn(&State) -> f64) -> State {
        let mut impulse: f64 = 1e-3;
        for _ in 0..1_000_000 {
            let (end, error) = self.step(&state, impulse);
            let wanted = error.max(1e-20).powf(-1.0 / ROWS as f64);
            let next = impulse * (0.8 * wanted).clamp(0.1, 5.0);
            if error > 1.0 {
                impulse = next;
                continue;
            }
            if left(&end) <= 0.0 {
                return self.land(&state, impulse, &left);
            }
            (state, impulse) = (end, next);
        }
        panic!("the impact does not end: {:?}", self.law);
    }

    /// The state at which `left` is nil, within one step of `impulse` from `start`.
    fn land(&self, start: &State, impulse: f64, left: impl Fn(&State) -> f64) -> State {
        let (mut low, mut high) = ((0.0, left(start)), (impulse, f64::NAN));
        let mut end = self.step(start, impulse).0;
        high.1 = left(&end);
        for _ in 0..60 {
            // Regula falsi, halving the weight of an end that stays (Illinois).
            let middle = low.0 + (high.0 - low.0) * low.1 / (low.1 - high.1);
            if !(middle > low.0 && middle < high.0) {
                break;
            }
            end = self.step(start, middle).0;
            let value = left(&end);
            if value.abs() < 1e-16 {
                break;
            }
            if value > 0.0 {
                low = (middle, value);
                high.1 *= 0.5;
            } else {
                high = (middle, value);
                low.1 *= 0.5;
            }
        }
        end
    }
}

/// Gauss's elimination of (1 - part * derivative), with pivots.
struct Solver {
    rows: [[f64; 5]; 5],
    order: [usize; 5],
}

impl Solver {
    fn new(columns: &[State; 5], part: f64) -> Self {
        let mut rows = [[0.0; 5]; 5];
        for (i, row) in rows.iter_mut().enumerate() {
            for (j, value) in row.iter_mut().enumerate() {
                *value = f64::from(u8::from(i == j)) - part * columns[j][i];
            }
        }
        let mut order = [0, 1, 2, 3, 4];
        for k in 0..5 {
            let pivot = (k..5).max_by(|&a, &b| rows[a][k].abs().total_cmp(&rows[b][k].abs()));
            let pivot = pivot.expect("five rows");
            rows.swap(k, pivot);
            order.swap(k, pivot);
            let top = rows[k];
            for row in rows.iter_mut().skip(k + 1) {
                let share = row[k] / top[k];
                row[k] = share;
                for j in k + 1..5 {
                    row[j] -= share * top[j];
                }
            }
        }
        Self { rows, order }
    }

    /// The change of the state under `rate` over `part`; the work's share is that of
    /// the rate given.
    fn solve(&self, rate: &State, part: f64) -> State {
        let mut x = [0.0; 6];
        for i in 0..5 {
            x[i] = rate[self.order[i]] * part;
            for j in 0..i {
                x[i] -= self.rows[i][j] * x[j];
            }
        }
        for i in (0..5).rev() {
            for j in i + 1..5 {
                x[i] -= self.rows[i][j] * x[j];
            }
            x[i] /= self.rows[i][i];
        }
        x[5] = rate[5] * part;
        x
    }
}

/// Speed of a ball with its spin: the root of twice its energy.
pub fn whole_speed(motion: &BallMotion, radius: f64) -> f64 {
    (motion.velocity.length_squared() + 0.4 * radius * radius * motion.spin.length_squared()).sqrt()
}

/// The ball after its impact with a cushion whose normal, toward the table, is
/// `normal`; it must be moving into it.
pub fn rebound(law: &CushionLaw, care: Care, motion: &BallMotion, normal: DVec2) -> BallMotion {
    let speed = whole_speed(motion, law.radius);
    let arm = DVec3::new(0.0, (1.0 - law.sine * law.sine).sqrt(), law.sine);
    let impact = Impact { law, arm, care };
    let into = -normal;
    let along = DVec2::new(into.y, -into.x);
    let turned = |v: DVec2| DVec2::new(v.dot(along), v.dot(into));
    let spin = (turned(motion.spin.truncate())).extend(motion.spin.z) * law.radius;
    let start = impact.state(turned(motion.velocity) / speed, spin / speed);
    let most = impact.follow(start, |s| impact.approach(s));
    let goal = most[5] * (1.0 - law.restitution * law.restitution);
    let (velocity, spin) = impact.ball(&impact.follow(most, |s| s[5] - goal));
    let back = |v: DVec2| (along * v.x + into * v.y) * speed;
    let spin = back(spin.truncate()).extend(spin.z * speed) / law.radius;
    BallMotion { position: motion.position, velocity: back(velocity), spin }
}
