//! A ball meets the cushion's nose: the impact in impulse space, with friction
//! at the nose and at the cloth.
//!
//! Frame of the impact: y points into the cushion, z up, x along the nose. All
//! speeds are scaled by the ball's own, since the law is homogeneous in speed,
//! and a spin w is carried as the speed R w.

use super::motion::specific_energy;
use super::ode::{Step, adapt, extrapolated_step};
use crate::ball::BallMotion;
use crate::table::TableCard;
use glam::{DVec2, DVec3};

/// Error allowed in one step, as a share of the ball's speed (tuning choice: the
/// whole impact is then good to 1e-8, save where a slip creeps).
const TOLERANCE: f64 = 1e-10;

/// A slip below this share of the ball's speed counts as none (tuning choice:
/// well above the error of a step, or a slip that dies away would be lost in it).
const NO_SLIP: f64 = 1e-8;

/// Below this share of the ball's speed a slip creeps unless it vanishes fast: its
/// direction settles at once to the one that friction keeps, and is too stiff to
/// step (tuning choice: costs 1e-6 of the speed).
const CREEP: f64 = 3e-5;

/// A slip that shrinks by less than this for each unit of impulse may creep
/// (tuning choice: the friction of any table makes a slip vanish faster or not at
/// all, save close to the limit of a hold).
const SLOW: f64 = 0.05;

/// A contact holds if its friction stays below the limit by this much for each
/// unit of impulse (tuning choice: well above rounding, so that a hold which has
/// just broken is not taken up again).
const HOLD_SLACK: f64 = 1e-9;

/// Impulse over which the first step is tried, as a share of the ball's (tuning
/// choice: it is rarely refused).
const FIRST_STEP: f64 = 0.15;

/// An impact takes some twenty steps, and a few thousand where a slip leaves its
/// creep slowly; one that has not ended after this many is jammed under the nose,
/// which only happens with frictions no table has.
const MOST_STEPS: u32 = 40_000;

/// The cushion as one impact sees it.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct CushionLaw {
    /// Radius of the ball, m.
    pub radius: f64,
    /// Sine of the angle under which the nose is seen from the ball's centre.
    pub sine: f64,
    /// Root of the share of work that the rubber returns.
    pub restitution: f64,
    /// Coefficient of friction at the nose.
    pub nose_friction: f64,
    /// Coefficient of friction at the cloth.
    pub bed_friction: f64,
}

impl CushionLaw {
    /// The law for the table described by `card`.
    pub fn new(card: &TableCard) -> Self {
        Self {
            radius: card.ball.radius,
            sine: card.nose_sine(),
            restitution: card.cushion.restitution,
            nose_friction: card.cushion.friction,
            bed_friction: card.cloth.sliding_friction,
        }
    }

    /// The ball after its impact with a cushion whose horizontal unit normal,
    /// toward the table, is `normal`.
    ///
    /// A ball that moves away is returned as it came.
    ///
    /// # Source
    /// Mathavan, Jackson and Parkin 2010, Proc. IMechE C 224(9), 1863: the rigid
    /// cushion in impulse space, restitution by work. The equations are derived
    /// in DEVELOPERS.md, "Ball on cushion". Measured up to 2.5 m/s of normal speed.
    pub fn rebound(&self, motion: &BallMotion, normal: DVec2) -> BallMotion {
        if motion.velocity.dot(normal) >= 0.0 {
            return *motion;
        }
        let scale = (2.0 * specific_energy(motion, self.radius)).sqrt();
        let along = DVec2::new(-normal.y, normal.x);
        let turned = |v: DVec2| DVec2::new(v.dot(along), -v.dot(normal));
        let velocity = turned(motion.velocity) / scale;
        let flat = turned(motion.spin.truncate()) * (self.radius / scale);
        let upright = motion.spin.z * (self.radius / scale);
        let after = self.impact([velocity.x, velocity.y, flat.x, flat.y, upright, 0.0]);

        let back = |x: f64, y: f64| along * x - normal * y;
        let flat = back(after[2], after[3]) * (scale / self.radius);
        BallMotion {
            position: motion.position,
            velocity: back(after[0], after[1]) * scale,
            spin: DVec3::new(flat.x, flat.y, after[4] * (scale / self.radius)),
        }
    }

    /// Compression until the approach stops, then restitution until the work
    /// given back is the square of `restitution` times the work stored.
    fn impact(&self, start: State) -> State {
        let mut impact = Impact::new(self, start);
        impact.run(|state| state[1]);
        let stored = impact.state[5];
        let left = stored * (1.0 - self.restitution * self.restitution);
        if left < stored {
            impact.run(|state| state[5] - left);
        }
        impact.state
    }
}

/// vx, vy, R wx, R wy, R wz, and the work done on the nose.
type State = [f64; 6];

/// What friction does at one of the two contacts.
#[derive(Clone, Copy, Debug, PartialEq)]
enum Grip {
    /// The surfaces slip, and friction opposes the slip.
    Slips,
    /// There is next to no slip; it grows or shrinks slowly along this direction.
    Creeps(DVec2),
    /// The surfaces hold.
    Holds,
}

/// Friction at nose and bed, for each unit of impulse at the nose. The nose's y
/// runs along the tangent (0, -sine, cosine).
#[derive(Clone, Copy)]
struct Frictions {
    nose: DVec2,
    bed: DVec2,
    /// Impulse between ball and bed.
    bed_press: f64,
}

/// The independent variable: the impulse, run slower in proportion to a slip that
/// vanishes. Its direction turns ever faster toward the end; against this clock
/// it turns evenly, and the slip decays like an exponential.
#[derive(Clone, Copy)]
struct Clock {
    nose: bool,
    bed: bool,
}

impl Clock {
    fn pace(self, impact: &Impact<'_>, s: &State) -> f64 {
        let nose = if self.nose { impact.nose_slip(s).length() } else { 1.0 };
        let bed = if self.bed { Impact::bed_slip(s).length() } else { 1.0 };
        nose * bed
    }
}

struct Impact<'a> {
    law: &'a CushionLaw,
    cosine: f64,
    state: State,
    nose: Grip,
    bed: Grip,
    /// Impulse over which the next step is tried.
    step: f64,
}

impl<'a> Impact<'a> {
    fn new(law: &'a CushionLaw, state: State) -> Self {
        let cosine = (1.0 - law.sine * law.sine).sqrt();
        let mut impact =
            Self { law, cosine, state, nose: Grip::Slips, bed: Grip::Slips, step: FIRST_STEP };
        impact.choose_grips(false, false);
        impact
    }

    /// Slip of the ball's surface over the nose.
    fn nose_slip(&self, s: &State) -> DVec2 {
        DVec2::new(s[0] + s[3] * self.law.sine - s[4] * self.cosine, s[2] - s[1] * self.law.sine)
    }

    /// Slip of the ball's surface over the cloth.
    fn bed_slip(s: &State) -> DVec2 {
        DVec2::new(s[0] - s[3], s[1] + s[2])
    }

    fn frictions(&self, s: &State) -> Frictions {
        let (nose, bed) = self.settled(s);
        self.frictions_of(s, nose, bed)
    }

    /// The grips in state `s`, with the directions of creep settled.
    ///
    /// A slip creeps along the direction whose friction leaves a change of slip
    /// along itself. Friction turns against the slip some 3.5-fold: adding that
    /// back makes the iteration contract.
    fn settled(&self, s: &State) -> (Grip, Grip) {
        let (mut nose, mut bed) = (self.nose, self.bed);
        if !matches!((nose, bed), (Grip::Creeps(_), _) | (_, Grip::Creeps(_))) {
            return (nose, bed);
        }
        for _ in 0..60 {
            let frictions = self.frictions_of(s, nose, bed);
            let (nose_rate, bed_rate) = self.slip_rates(&self.rates_under(s, &frictions));
            let mut moved: f64 = 0.0;
            for (grip, rate, friction) in [
                (&mut nose, nose_rate, self.law.nose_friction),
                (&mut bed, bed_rate, self.law.bed_friction * frictions.bed_press),
            ] {
                if let Grip::Creeps(guess) = *grip {
                    let next = (rate + guess * (3.5 * friction)).normalize_or_zero();
                    moved = moved.max((next - guess).length());
                    *grip = Grip::Creeps(next);
                }
            }
            if moved < 1e-14 {
                break;
            }
        }
        (nose, bed)
    }

    fn frictions_of(&self, s: &State, nose: Grip, bed: Grip) -> Frictions {
        let bed_direction = match bed {
            Grip::Slips => Some(Self::bed_slip(s).normalize_or_zero()),
            Grip::Creeps(direction) => Some(direction),
            Grip::Holds => None,
        };
        let nose = match nose {
            Grip::Slips => self.nose_slip(s).normalize_or_zero() * self.law.nose_friction,
            Grip::Creeps(direction) => direction * self.law.nose_friction,
            Grip::Holds => self.holding_nose(bed_direction),
        };
        let bed_press = (self.law.sine + self.cosine * nose.y).max(0.0);
        let bed = match bed_direction {
            Some(direction) => direction * (self.law.bed_friction * bed_press),
            None => self.holding_bed(nose),
        };
        Frictions { nose, bed, bed_press }
    }

    /// The friction that keeps the nose's slip at nil. The bed slips along
    /// `bed_direction`, or holds too.
    fn holding_nose(&self, bed_direction: Option<DVec2>) -> DVec2 {
        let (sine, cosine) = (self.law.sine, self.cosine);
        let Some(direction) = bed_direction else {
            // Both hold: nothing acts along x, and two equations remain for y.
            let (own, other) = (sine * sine + 2.5, 2.5 - sine);
            return DVec2::new(0.0, cosine * (3.5 * sine + other) / (3.5 * own - other * other));
        };
        let mu = self.law.bed_friction;
        let pull = mu * direction.y * (sine - 2.5);
        let y = sine * (cosine + pull) / (sine * sine + 2.5 - cosine * pull);
        if sine + cosine * y < 0.0 {
            return DVec2::new(0.0, sine * cosine / (sine * sine + 2.5));
        }
        let bed = mu * (sine + cosine * y) * direction.x;
        DVec2::new(-(1.0 - 2.5 * sine) * bed / 3.5, y)
    }

    /// The friction that keeps the bed's slip at nil under the nose's friction.
    fn holding_bed(&self, nose: DVec2) -> DVec2 {
        let sine = self.law.sine;
        DVec2::new(-(1.0 - 2.5 * sine) * nose.x / 3.5, (nose.y * (sine - 2.5) - self.cosine) / 3.5)
    }

    /// Change of the state for each unit of impulse at the nose.
    fn rates(&self, s: &State) -> State {
        self.rates_under(s, &self.frictions(s))
    }

    fn rates_under(&self, s: &State, frictions: &Frictions) -> State {
        let Frictions { nose, bed, .. } = *frictions;
        let (sine, cosine) = (self.law.sine, self.cosine);
        [
            -nose.x - bed.x,
            sine * nose.y - cosine - bed.y,
            -2.5 * (nose.y + bed.y),
            -2.5 * (sine * nose.x - bed.x),
            2.5 * cosine * nose.x,
            cosine * s[1],
        ]
    }

    /// How the two slips change, given the state's rates.
    fn slip_rates(&self, rates: &State) -> (DVec2, DVec2) {
        (self.nose_slip(rates), Self::bed_slip(rates))
    }

    /// Settles, for each contact that has no slip or has just lost it, whether it
    /// holds or creeps.
    fn choose_grips(&mut self, nose_lost: bool, bed_lost: bool) {
        let still = |grip: Grip, slip: DVec2| grip == Grip::Holds || slip.length() <= NO_SLIP;
        let nose_still = nose_lost || still(self.nose, self.nose_slip(&self.state));
        let bed_still = bed_lost || still(self.bed, Self::bed_slip(&self.state));
        if nose_still {
            self.nose = Grip::Holds;
        }
        if bed_still {
            self.bed = Grip::Holds;
        }
        if bed_still && !self.bed_can_hold() {
            self.bed = Grip::Creeps(DVec2::ZERO);
        }
        if nose_still && !self.nose_can_hold() {
            self.nose = Grip::Creeps(DVec2::ZERO);
        }
        (self.nose, self.bed) = self.settled(&self.state);
        self.step = FIRST_STEP;
    }

    fn nose_can_hold(&self) -> bool {
        self.nose_margin(&self.frictions(&self.state)) > HOLD_SLACK
    }

    fn bed_can_hold(&self) -> bool {
        self.bed_margin(&self.frictions(&self.state)) > HOLD_SLACK
    }

    fn nose_margin(&self, frictions: &Frictions) -> f64 {
        self.law.nose_friction - frictions.nose.length()
    }

    fn bed_margin(&self, frictions: &Frictions) -> f64 {
        self.law.bed_friction * frictions.bed_press - frictions.bed.length()
    }

    /// How far the contacts that hold are from breaking; negative beyond.
    fn margin(&self, s: &State) -> f64 {
        let frictions = self.frictions(s);
        let nose =
            if self.nose == Grip::Holds { self.nose_margin(&frictions) } else { f64::INFINITY };
        let bed = if self.bed == Grip::Holds { self.bed_margin(&frictions) } else { f64::INFINITY };
        nose.min(bed)
    }

    /// Integrates until `remaining`, which falls along the impact, reaches nil.
    fn run(&mut self, remaining: impl Fn(&State) -> f64) {
        for _ in 0..MOST_STEPS {
            if remaining(&self.state) <= 0.0 {
                return;
            }
            let clock = self.clock();
            let pace = clock.pace(self, &self.state);
            let tried = self.step / pace;
            let rates = self.timed_rates(clock, &self.state);
            let step =
                extrapolated_step(&self.state, &rates, tried, |s| self.timed_rates(clock, s));
            let (accepted, next) = adapt(tried, step.error, TOLERANCE);
            if !accepted {
                self.step = next * pace;
                continue;
            }
            // What comes first within the step ends it: the end of the impact, a
            // hold that breaks, a creep that ends.
            if self.margin(&step.end) < 0.0 || self.creep_room(&step.end) < 0.0 {
                let room = |s: &State| self.margin(s).min(self.creep_room(s));
                let end = self.land(clock, &rates, tried, &step, &room);
                if remaining(&end) > 0.0 {
                    let broken = self.margin(&end) < HOLD_SLACK;
                    self.state = end;
                    if broken {
                        self.choose_grips(false, false);
                    } else {
                        self.catch_slips();
                    }
                    continue;
                }
            }
            if remaining(&step.end) <= 0.0 {
                self.state = self.land(clock, &rates, tried, &step, &remaining);
                return;
            }
            self.state = step.end;
            self.step = next * clock.pace(self, &self.state);
            self.catch_slips();
        }
        // Jammed: the ball stops dead against the rubber.
        self.state = [0.0; 6];
    }

    /// The clock that suits the present state.
    fn clock(&self) -> Clock {
        let (nose_rate, bed_rate) = self.slip_rates(&self.rates(&self.state));
        let vanishes = |grip: Grip, slip: DVec2, rate: DVec2| {
            grip == Grip::Slips && slip.length() > NO_SLIP && slip.dot(rate) < 0.0
        };
        Clock {
            nose: vanishes(self.nose, self.nose_slip(&self.state), nose_rate),
            bed: vanishes(self.bed, Self::bed_slip(&self.state), bed_rate),
        }
    }

    /// Change of the state for each unit of the clock's time.
    fn timed_rates(&self, clock: Clock, s: &State) -> State {
        let pace = clock.pace(self, s);
        self.rates(s).map(|rate| rate * pace)
    }

    /// How far the slips that creep are from ceasing to, by growing or by
    /// shrinking to nil; negative beyond.
    fn creep_room(&self, s: &State) -> f64 {
        let room = |grip: Grip, now: DVec2, then: DVec2| match grip {
            Grip::Creeps(direction) => {
                let grown = CREEP - then.length();
                let shrinks = now.dot(direction) > NO_SLIP;
                if shrinks { grown.min(then.dot(direction) - 0.5 * NO_SLIP) } else { grown }
            }
            _ => f64::INFINITY,
        };
        room(self.nose, self.nose_slip(&self.state), self.nose_slip(s)).min(room(
            self.bed,
            Self::bed_slip(&self.state),
            Self::bed_slip(s),
        ))
    }

    /// Looks whether a slip has vanished, has begun to creep or has ceased to.
    fn catch_slips(&mut self) {
        (self.nose, self.bed) = self.settled(&self.state);
        let (nose_rate, bed_rate) = self.slip_rates(&self.rates(&self.state));
        let (nose, nose_lost) = next_grip(self.nose, self.nose_slip(&self.state), nose_rate);
        let (bed, bed_lost) = next_grip(self.bed, Self::bed_slip(&self.state), bed_rate);
        if (nose, bed) != (self.nose, self.bed) {
            (self.nose, self.bed) = (nose, bed);
            self.step = self.step.min(CREEP);
        }
        if nose_lost || bed_lost {
            self.choose_grips(nose_lost, bed_lost);
        }
    }

    /// The state at which `remaining` reaches nil within the step just tried.
    fn land(
        &self,
        clock: Clock,
        rates: &State,
        tried: f64,
        step: &Step<6>,
        remaining: &impl Fn(&State) -> f64,
    ) -> State {
        let (mut low, mut high) = (0.0, tried);
        let (mut low_left, mut high_left) = (remaining(&self.state), remaining(&step.end));
        let mut end = step.end;
        for _ in 0..60 {
            if high_left == 0.0 || (high - low) <= 1e-15 * tried {
                break;
            }
            // Regula falsi with the far end's weight halved (Illinois).
            let at = high - high_left * (high - low) / (high_left - low_left);
            let at = if at > low && at < high { at } else { 0.5 * (low + high) };
            end = extrapolated_step(&self.state, rates, at, |s| self.timed_rates(clock, s)).end;
            let left = remaining(&end);
            if left.abs() < 1e-15 {
                break;
            }
            if left > 0.0 {
                (low, low_left) = (at, left);
                high_left *= 0.5;
            } else {
                (high, high_left) = (at, left);
                low_left *= 0.5;
            }
        }
        end
    }
}

/// The grip of a contact after a step, and whether its slip has vanished.
fn next_grip(grip: Grip, slip: DVec2, rate: DVec2) -> (Grip, bool) {
    let size = slip.length();
    match grip {
        Grip::Slips => {
            let growth = slip.dot(rate) / size;
            let creeps = size < 0.5 * CREEP && size > NO_SLIP && growth > -SLOW;
            let next = if creeps { Grip::Creeps(slip / size) } else { Grip::Slips };
            (next, size <= NO_SLIP && slip.dot(rate) < 0.0)
        }
        Grip::Creeps(direction) => {
            let growth = direction.dot(rate);
            // The slack is what landing on the edge leaves.
            let grown = size > CREEP * (1.0 - 1e-6);
            let next = if grown || growth < -2.0 * SLOW { Grip::Slips } else { grip };
            (next, growth < 0.0 && slip.dot(direction) <= NO_SLIP)
        }
        Grip::Holds => (grip, false),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Pool geometry with the pair of constants of Mathavan, Jackson and Parkin.
    const LAW: CushionLaw = CushionLaw {
        radius: 0.028_575,
        sine: 0.27,
        restitution: 0.98,
        nose_friction: 0.14,
        bed_friction: 0.2,
    };

    /// A ball of speed `v` at `angle` degrees to the cushion line +x, with spin
    /// ratios `k` (roll) and `q` (side), into a cushion on the +y side.
    fn arriving(v: f64, angle: f64, k: f64, q: f64) -> BallMotion {
        let (sine, cosine) = angle.to_radians().sin_cos();
        let spin = v / LAW.radius;
        BallMotion {
            position: DVec2::ZERO,
            velocity: DVec2::new(v * cosine, v * sine),
            spin: DVec3::new(-k * spin * sine, k * spin * cosine, q * spin),
        }
    }

    /// Source: the equations of Mathavan, Jackson and Parkin 2010 integrated by a
    /// second route (the nose as a spring, in time), good to 1e-4.
    #[test]
    fn a_rolling_ball_at_forty_five_degrees() {
        let after = LAW.rebound(&arriving(1.0, 45.0, 1.0, 0.0), DVec2::NEG_Y);
        let expected = [0.542153, -0.686871, -9.514455, 20.561788, 14.113500];
        let got = [after.velocity.x, after.velocity.y, after.spin.x, after.spin.y, after.spin.z];
        for (got, expected) in got.iter().zip(expected) {
            assert!((got - expected).abs() < 1e-4 * expected.abs(), "{got} for {expected}");
        }
    }

    #[test]
    fn without_friction_only_the_normal_speed_changes() {
        let law = CushionLaw { nose_friction: 0.0, bed_friction: 0.0, restitution: 0.85, ..LAW };
        let after = law.rebound(&arriving(1.0, 40.0, 1.0, 0.3), DVec2::NEG_Y);
        assert!((after.velocity.x - 0.766_044_443).abs() < 1e-9, "{}", after.velocity.x);
        assert!((after.velocity.y + 0.85 * 0.642_787_610).abs() < 1e-9, "{}", after.velocity.y);
    }

    #[test]
    fn a_mirrored_impact_gives_the_mirrored_rebound() {
        for k in 0..40 {
            let angle = 4.0 + 2.1 * f64::from(k);
            let one = LAW.rebound(&arriving(1.3, angle, 0.7, 0.4), DVec2::NEG_Y);
            let mut mirrored = arriving(1.3, angle, 0.7, 0.4);
            mirrored.velocity.x = -mirrored.velocity.x;
            mirrored.spin.y = -mirrored.spin.y;
            mirrored.spin.z = -mirrored.spin.z;
            let two = LAW.rebound(&mirrored, DVec2::NEG_Y);
            assert!((one.velocity.x + two.velocity.x).abs() < 1e-9, "mirror at {angle} degrees");
            assert!((one.velocity.y - two.velocity.y).abs() < 1e-9, "mirror at {angle} degrees");
        }
    }

    #[test]
    fn energy_never_rises_even_with_absurd_friction() {
        for friction in [0.0, 0.25, 1.0, 4.0, 10.0] {
            let law =
                CushionLaw { nose_friction: friction, bed_friction: friction, sine: 0.6, ..LAW };
            for k in 0..50 {
                let spin = 0.2 * f64::from(k % 11) - 1.0;
                let before = arriving(1.0, 1.0 + 1.77 * f64::from(k), spin, -1.3 * spin);
                let after = law.rebound(&before, DVec2::NEG_Y);
                let (then, now) =
                    (specific_energy(&before, LAW.radius), specific_energy(&after, LAW.radius));
                assert!(
                    now <= then * (1.0 + 1e-9),
                    "friction {friction}, case {k}: {then} to {now}"
                );
                assert!(after.velocity.y <= 1e-9, "it leaves the cushion: {}", after.velocity.y);
            }
        }
    }
}
