//! A whole shot in small steps of time: the laws of cloth, balls and cushions
//! written down once more, without phases in closed form, predicted events or any
//! part of `src/physics`.
//!
//! Each step integrates Newton's and Euler's equations by Runge and Kutta's method
//! of order four. What happens inside a step is found by halving it. Contacts of
//! more than two things at once, and contacts that rest, have no form of their own
//! here: the shot is cut there.

use super::blow::blow;
use super::gaps::{Near, Thing, near};
use super::rubber::{Care, rebound};
use glam::{DVec2, DVec3};
use leaveline::physics::{CushionLaw, EventKind};
use leaveline::table::{PocketId, TableCard, TableShape};
use leaveline::{BallId, BallMotion};

/// Slips and speeds below this are none, m/s: as in the model.
const NO_SPEED: f64 = 1e-9;

/// Spin about the vertical below this is none, rad/s: as in the model.
const NO_SPIN: f64 = 1e-8;

/// A step takes no more than this share off a slip or a speed: nearer to its end the
/// direction is rounding, which must not last for more than a moment.
const TAKEN: f64 = 0.9;

/// What is left when a slip or a speed is taken for ended, m/s: a picosecond of it.
const SPENT: f64 = 1e-12;

/// Contacts that close slower than this rest, m/s: as in the model.
const RESTS: f64 = 1e-4;

/// Things nearer than this to a contact take part in it, m.
const TOUCHES: f64 = 1e-9;

/// What the cloth does to a ball.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Mode {
    Slides,
    Rolls,
    Spins,
    Rests,
    Fallen(PocketId),
}

/// A ball at one moment.
#[derive(Clone, Copy, Debug)]
pub struct Ball {
    pub at: DVec2,
    pub v: DVec2,
    pub w: DVec3,
    pub mode: Mode,
}

/// How finely a shot is followed.
#[derive(Clone, Copy, Debug)]
pub struct Fineness {
    /// Step of time, s.
    pub step: f64,
    /// Steps of impulse in a blow between balls.
    pub parts: u32,
    /// The same for cushions.
    pub care: Care,
}

/// What happened, and how the balls go on.
#[derive(Clone, Copy, Debug)]
pub struct Told {
    pub time: f64,
    pub ball: BallId,
    pub kind: EventKind,
    pub at: DVec2,
    /// Velocity afterwards of the ball, and of the other if there is one.
    pub after: [DVec2; 2],
}

/// Why a shot was not followed to its end.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Cut {
    /// Several contacts at one moment.
    Together,
    /// A contact that rests.
    Rests,
}

/// A shot as the small steps tell it.
#[derive(Debug, Default)]
pub struct Played {
    pub told: Vec<Told>,
    pub cut: Option<(f64, Cut)>,
    pub ends: Vec<DVec2>,
    /// By how little something was hit or missed, and when, m.
    pub close_calls: Vec<(f64, f64)>,
}

/// The table.
pub struct Table<'a> {
    pub card: &'a TableCard,
    pub shape: &'a TableShape,
    pub law: CushionLaw,
}

impl Table<'_> {
    fn slip(&self, ball: &Ball) -> DVec2 {
        let radius = self.card.ball.radius;
        (ball.v.extend(0.0) + ball.w.cross(DVec3::new(0.0, 0.0, -radius))).truncate()
    }

    /// The spin of a ball that rolls with this velocity.
    fn rolling(&self, v: DVec2, about_z: f64) -> DVec3 {
        DVec3::Z.cross(v.extend(0.0)) / self.card.ball.radius + DVec3::Z * about_z
    }

    /// What the cloth does to a ball with this motion.
    fn mode(&self, ball: &Ball) -> Mode {
        if self.slip(ball).length() > NO_SPEED {
            Mode::Slides
        } else if ball.v.length() > NO_SPEED {
            Mode::Rolls
        } else if ball.w.z.abs() > NO_SPIN {
            Mode::Spins
        } else {
            Mode::Rests
        }
    }

    /// Acceleration, and change of the horizontal spin.
    fn pulls(&self, ball: &Ball) -> (DVec2, DVec3) {
        let (cloth, radius) = (&self.card.cloth, self.card.ball.radius);
        match ball.mode {
            Mode::Slides => {
                let force = self.slip(ball).normalize() * (-cloth.sliding_friction * cloth.gravity);
                let moment = DVec3::new(0.0, 0.0, -radius).cross(force.extend(0.0));
                (force, moment / (0.4 * radius * radius))
            }
            Mode::Rolls => {
                let force = ball.v.normalize() * (-cloth.rolling_friction * cloth.gravity);
                (force, self.rolling(force, 0.0))
            }
            _ => (DVec2::ZERO, DVec3::ZERO),
        }
    }

    /// What friction spends: the slip or the speed.
    fn drive(&self, ball: &Ball) -> DVec2 {
        if ball.mode == Mode::Slides { self.slip(ball) } else { ball.v }
    }

    /// The ball after `time`, and whether that is too long: the slip or the speed
    /// has nearly gone by then, or turned about.
    pub fn moved(&self, ball: &Ball, time: f64) -> (Ball, bool) {
        if matches!(ball.mode, Mode::Rests | Mode::Fallen(_)) {
            return (*ball, false);
        }
        let decay = self.card.cloth.spin_decay * time;
        let upright = (ball.w.z.abs() - decay).max(0.0).copysign(ball.w.z);
        if ball.mode == Mode::Spins {
            let w = DVec3::Z * upright;
            return (Ball { w, ..*ball }, ball.w.z.abs() <= decay);
        }
        let start = self.drive(ball);
        let least = (1.0 - TAKEN) * start.length_squared();
        let mut ended = false;
        let (mut at, mut v, mut w) = (DVec2::ZERO, DVec2::ZERO, DVec3::ZERO);
        let mut stage = *ball;
        for (weight, next) in [(1.0, 0.5), (2.0, 0.5), (2.0, 1.0), (1.0, 0.0)] {
            let (pull, twist) = self.pulls(&stage);
            at += stage.v * (weight / 6.0);
            v += pull * (weight / 6.0);
            w += twist * (weight / 6.0);
            let part = time * next;
            stage.at = ball.at + stage.v * part;
            stage.v = ball.v + pull * part;
            stage.w = ball.w + twist * part;
            ended |= self.drive(&stage).dot(start) <= least;
        }
        let mut end = *ball;
        end.at += at * time;
        end.v += v * time;
        end.w += w * time;
        ended |= self.drive(&end).dot(start) <= least;
        end.w = if ball.mode == Mode::Rolls {
            self.rolling(end.v, upright)
        } else {
            end.w.truncate().extend(upright)
        };
        (end, ended)
    }

    /// The ball at the end of its slide, roll or spin.
    fn settled(&self, ball: &Ball) -> Ball {
        let mut next = *ball;
        match ball.mode {
            Mode::Slides => next.w = self.rolling(ball.v, ball.w.z),
            Mode::Rolls => (next.v, next.w) = (DVec2::ZERO, DVec3::Z * ball.w.z),
            _ => next.w = DVec3::ZERO,
        }
        next.mode = self.mode(&next);
        next
    }
}

struct Game<'a> {
    table: &'a Table<'a>,
    fineness: Fineness,
    ids: Vec<BallId>,
    balls: Vec<Ball>,
    now: f64,
    played: Played,
}

/// Plays on from these states.
pub fn play(table: &Table<'_>, start: &[(BallId, BallMotion)], fineness: Fineness) -> Played {
    let balls = start.iter().map(|(_, motion)| {
        let BallMotion { position: at, velocity: v, spin: w } = *motion;
        let ball = Ball { at, v, w, mode: Mode::Rests };
        Ball { mode: table.mode(&ball), ..ball }
    });
    let mut game = Game {
        table,
        fineness,
        ids: start.iter().map(|(id, _)| *id).collect(),
        balls: balls.collect(),
        now: 0.0,
        played: Played::default(),
    };
    while game.played.cut.is_none() && game.balls.iter().any(is_live) {
        game.step();
    }
    game.played.ends = game.balls.iter().map(|ball| ball.at).collect();
    game.played
}

fn is_live(ball: &Ball) -> bool {
    !matches!(ball.mode, Mode::Rests | Mode::Fallen(_))
}

impl Game<'_> {
    /// All balls after `time`, and which of them ended what they did.
    fn ahead(&self, time: f64) -> (Vec<Ball>, Vec<bool>) {
        self.balls.iter().map(|ball| self.table.moved(ball, time)).unzip()
    }

    /// What is met within `time`, from the balls at its end.
    fn met(&self, nears: &[Near], end: &[Ball], time: f64) -> Vec<Thing> {
        let deep = |near: &Near| {
            let (gap, rate) = near.thing.gap(self.table, end);
            if rate <= 0.0 {
                return gap < 0.0 && near.thing.is_faced(self.table, end);
            }
            // It came nearest within the step.
            near.rate < 0.0 && gap.min(near.gap) < 0.01 && {
                let (_, nearest) = self.nearest(near.thing, time);
                near.thing.gap(self.table, &nearest).0 < 0.0
                    && near.thing.is_faced(self.table, &nearest)
            }
        };
        nears.iter().filter(|near| deep(near)).map(|near| near.thing).collect()
    }

    /// When within `time` the thing is nearest, and the balls then.
    fn nearest(&self, thing: Thing, time: f64) -> (f64, Vec<Ball>) {
        let (mut low, mut high) = (0.0, time);
        for _ in 0..60 {
            let middle = 0.5 * (low + high);
            let closes = thing.gap(self.table, &self.ahead(middle).0).1 < 0.0;
            if closes { low = middle } else { high = middle }
        }
        (low, self.ahead(low).0)
    }

    fn step(&mut self) {
        let mut time = self.fineness.step;
        let nears = near(self.table, &self.balls, time);
        let (end, ended) = self.ahead(time);
        if !ended.contains(&true) && self.met(&nears, &end, time).is_empty() {
            self.note_misses(&nears, &end, time);
            self.balls = end;
            self.now += time;
            return;
        }
        let (mut low, mut high) = (0.0, time);
        while high - low > 1e-17 {
            time = 0.5 * (low + high);
            let (end, ended) = self.ahead(time);
            let happens = ended.contains(&true) || !self.met(&nears, &end, time).is_empty();
            if happens {
                high = time
            } else {
                low = time
            }
            if time == low && 0.5 * (low + high) == low {
                break;
            }
        }
        let (end, ended) = self.ahead(high);
        let met = self.met(&nears, &end, high);
        self.balls = self.ahead(low).0;
        self.now += low;
        for (place, _) in ended.iter().enumerate().filter(|(_, ended)| **ended) {
            let before = self.balls[place];
            let spins = before.mode == Mode::Spins;
            if !spins && self.table.drive(&before).length() > SPENT {
                continue;
            }
            self.balls[place] = self.table.settled(&before);
            if before.mode == Mode::Slides {
                self.tell(place, None, EventKind::Roll);
            }
            if self.balls[place].mode == Mode::Rests {
                self.tell(place, None, EventKind::Stop);
            }
        }
        match met[..] {
            [] => {}
            [thing] => self.contact(thing, &nears),
            _ => self.cut(Cut::Together),
        }
    }

    fn cut(&mut self, why: Cut) {
        self.played.cut = Some((self.now, why));
    }

    fn tell(&mut self, place: usize, other: Option<usize>, kind: EventKind) {
        let after = [self.balls[place].v, other.map_or(DVec2::ZERO, |other| self.balls[other].v)];
        let (ball, at) = (self.ids[place], self.balls[place].at);
        self.played.told.push(Told { time: self.now, ball, kind, at, after });
    }

    fn contact(&mut self, thing: Thing, nears: &[Near]) {
        let touching = |near: &Near| {
            let other = near.thing;
            other != thing
                && other.shares_a_ball(thing)
                && !matches!(other, Thing::Hole(..))
                && other.gap(self.table, &self.balls).0.abs() < TOUCHES
                && other.is_faced(self.table, &self.balls)
        };
        if nears.iter().any(touching) {
            return self.cut(Cut::Together);
        }
        self.played.close_calls.push((self.now, thing.margin(self.table, &self.balls)));
        let normal = thing.normal(self.table, &self.balls);
        match thing {
            Thing::Hole(ball, pocket) => {
                let pocket = PocketId::ALL[pocket];
                self.tell(ball, None, EventKind::Pocketed(pocket));
                self.balls[ball].mode = Mode::Fallen(pocket);
            }
            Thing::Balls(one, two) => {
                let (low, high) =
                    if self.ids[one] < self.ids[two] { (one, two) } else { (two, one) };
                if (self.balls[two].v - self.balls[one].v).dot(normal) > -RESTS {
                    return self.cut(Cut::Rests);
                }
                let (a, b) = (self.balls[one], self.balls[two]);
                let (a, b) = blow(self.table.card, &a, &b, self.fineness.parts);
                for (place, ball) in [(one, a), (two, b)] {
                    self.balls[place] = Ball { mode: self.table.mode(&ball), ..ball };
                }
                self.tell(low, Some(high), EventKind::Contact(self.ids[high]));
            }
            Thing::Wall(ball, _) | Thing::Jaw(ball, _) => {
                let Ball { at: position, v: velocity, w: spin, .. } = self.balls[ball];
                if velocity.dot(normal) > -RESTS {
                    return self.cut(Cut::Rests);
                }
                let before = BallMotion { position, velocity, spin };
                let after = rebound(&self.table.law, self.fineness.care, &before, normal);
                let next = Ball { v: after.velocity, w: after.spin, ..self.balls[ball] };
                self.balls[ball] = Ball { mode: self.table.mode(&next), ..next };
                self.tell(ball, None, EventKind::Cushion(thing.surface(self.table)));
            }
        }
    }

    fn note_misses(&mut self, nears: &[Near], end: &[Ball], time: f64) {
        for near in nears.iter().filter(|near| near.rate < 0.0) {
            if near.gap < 1e-3 && near.thing.gap(self.table, end).1 > 0.0 {
                let (after, balls) = self.nearest(near.thing, time);
                let gap = near.thing.gap(self.table, &balls).0;
                if gap > 0.0 {
                    self.played.close_calls.push((self.now + after, gap));
                }
            }
        }
    }
}
