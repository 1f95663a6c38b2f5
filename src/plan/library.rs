//! What a set of strokes at one ball comes to from one place of the cue ball.

use super::kept::{Sample, Stop, Tried};
use super::set::BallSet;
use super::strokes::{Tip, speed_at};
use crate::ball::{BallId, BallMotion};
use crate::geometry::{first_fall, heading, unit_from_angle};
use crate::normal::below;
use crate::physics::{
    Arena, BallEnd, Course, Event, EventKind, Listen, OfBalls, PlacedBall, Stroke, at_the_strike,
    squirt_angle,
};
use crate::shot::{
    Delivery, Given, Hand, PotWindow, SpeedError, Windows, Wobble, awkwardness, least_elevation,
    turn,
};
use crate::table::{PocketId, Surface};
use glam::DVec2;

/// A stroke with less chance to pot than this is not kept (tuning choice: it is never
/// part of a good plan, but where there is nothing else it is what there is).
const LEAST_CHANCE: f64 = 0.02;

/// A pocket whose first strokes have less than this share of another's chance is left.
const RIVAL: f64 = 0.2;

/// What one stroke comes to.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Entry {
    /// Where the ball is to fall.
    pub pocket: PocketId,
    /// Which tip and which speed, by their numbers.
    pub tip: u8,
    /// See `tip`.
    pub speed: u8,
    /// The stroke.
    pub stroke: Stroke,
    /// The chance that the ball falls, 0 to 1.
    pub pot: f64,
    /// Whether the cue ball stays on the table when all goes as meant.
    pub stays: bool,
    /// Where the cue ball stops, m.
    pub stop: DVec2,
    /// How the stop goes with the speed: by a standard deviation of it, m. `None` if a
    /// slower or a faster stroke scratches.
    pub drift: [Option<DVec2>; 2],
    /// Rails met after the ball.
    pub rails: u8,
    /// Balls in the way of the cue ball to the ball, or of the ball to the pocket, of those
    /// that were left out.
    pub blocked: BallSet,
    /// Those into which the cue ball runs after the ball.
    pub bumped: BallSet,
}

/// What stays the same while strokes at one ball are tried from many places.
#[derive(Clone, Debug)]
pub struct Target {
    ball: PlacedBall,
    /// Balls that lie there in any case.
    fixed: Vec<PlacedBall>,
    /// Balls that may lie there or be gone.
    others: Vec<PlacedBall>,
    windows: [Windows; 6],
}

impl Target {
    /// The ball `ball` of `balls`, of which those of `loose` may be gone. A cue ball among
    /// them is left out.
    pub fn new(arena: &Arena, balls: &[PlacedBall], ball: PlacedBall, loose: BallSet) -> Self {
        let (others, fixed) = around(balls, ball, loose);
        let windows = found(arena, ball, &fixed);
        Self { ball, fixed, others, windows }
    }

    /// The ball.
    pub fn ball(&self) -> PlacedBall {
        self.ball
    }

    /// The same ball, where it lies as `ball`, on a table where some balls have moved or are
    /// gone. Only what differs is worked out anew; if it is to be quick and not to be found, what
    /// a ball that has moved finds of pockets is guessed by the straight ways to them.
    pub fn as_on(
        &self,
        arena: &Arena,
        balls: &[PlacedBall],
        ball: PlacedBall,
        loose: BallSet,
        finds: bool,
    ) -> Self {
        let (others, fixed) = around(balls, ball, loose);
        let windows = if ball == self.ball && (!finds || fixed == self.fixed) {
            self.windows.clone()
        } else if finds {
            found(arena, ball, &fixed)
        } else {
            PocketId::ALL.map(|pocket| Windows::guessed(arena, ball.position, pocket))
        };
        Self { ball, fixed, others, windows }
    }

    /// Whether the cue ball can lie at `place` beside this ball and those that are there in
    /// any case.
    pub fn leaves_free(&self, arena: &Arena, place: DVec2) -> bool {
        let reach = 2.0 * arena.card().ball.radius;
        std::iter::once(&self.ball)
            .chain(&self.fixed)
            .all(|ball| ball.position.distance(place) >= reach)
            && arena.shape().refusal(place).is_none()
    }

    /// What the strokes of `tips` and speeds come to from `place`.
    pub fn from(
        &self,
        arena: &Arena,
        hand: &Hand,
        place: DVec2,
        tips: &[Tip],
        n_speeds: u8,
    ) -> Vec<Entry> {
        let balls = self.with_cue_ball(place);
        let table = Table { arena, hand, target: self, balls: &balls, place };
        let mut routes: Vec<(PocketId, f64)> = PocketId::ALL
            .into_iter()
            .filter_map(|pocket| Some((pocket, table.rough(pocket)?)))
            .collect();
        let most = routes.iter().map(|(_, chance)| *chance).fold(LEAST_CHANCE, f64::max);
        routes.retain(|(_, chance)| *chance >= RIVAL * most);
        let mut entries = Vec::new();
        for (pocket, _) in routes {
            for (number, tip) in tips.iter().enumerate() {
                table.ladder(pocket, number as u8, *tip, n_speeds, &mut entries);
            }
        }
        entries
    }
}

impl Target {
    /// Tries `stroke` from `place` with these errors of the hand.
    pub fn tried(
        &self,
        arena: &Arena,
        hand: &Hand,
        place: DVec2,
        stroke: &Stroke,
        pocket: PocketId,
        wobbles: &[Wobble],
    ) -> Tried {
        let balls = self.with_cue_ball(place);
        let delivery = Delivery::new(hand, arena.card(), &balls, stroke);
        let made = wobbles.iter().enumerate().filter_map(|(number, wobble)| {
            let (ends, watch) = self.played(arena, &balls, &delivery.struck(wobble));
            let falls = !watch.wrong && ends[1] == BallEnd::Pocketed(pocket);
            let BallEnd::Rest(stop) = ends[0] else { return None };
            let Watch { blocked, bumped, rails, .. } = watch;
            let (stop, number) = (Stop::at(stop), number as u8);
            falls.then_some(Sample { number, stop, blocked, bumped, rails })
        });
        Tried { n: wobbles.len() as u32, made: made.collect() }
    }

    /// The stroke of a tip at a speed that carries the ball from `place` to the pocket, and its
    /// chance to, as the windows have it; `None` if there is none.
    pub fn aimed(
        &self,
        arena: &Arena,
        hand: &Hand,
        place: DVec2,
        (pocket, tip, speed): (PocketId, Tip, f64),
    ) -> Option<(Stroke, f64)> {
        let balls = self.with_cue_ball(place);
        let table = Table { arena, hand, target: self, balls: &balls, place };
        let plain =
            Stroke { azimuth: 0.0, elevation: 0.0, speed, side: tip.side, height: tip.height };
        let Aimed { stroke, pot, .. } =
            table.aimed(pocket, &table.lifted(pocket, &plain)?, Some(1.0))?;
        Some((stroke, pot))
    }

    /// The balls of a play, but for those that may be gone.
    fn with_cue_ball(&self, place: DVec2) -> Vec<PlacedBall> {
        let cue_ball = PlacedBall { id: BallId::CUE, position: place };
        [cue_ball, self.ball].into_iter().chain(self.fixed.iter().copied()).collect()
    }

    fn played(
        &self,
        arena: &Arena,
        balls: &[PlacedBall],
        stroke: &Stroke,
    ) -> (OfBalls<BallEnd>, Watch<'_>) {
        let card = arena.card();
        let (velocity, spin) = stroke.launch(card.ball.radius, card.squirt_mass_ratio);
        let struck = BallMotion { velocity, spin, ..BallMotion::default() };
        let reach = 2.0 * card.ball.radius;
        let mut watch = Watch {
            target: self,
            reach,
            blocked: BallSet::NONE,
            bumped: BallSet::NONE,
            met: None,
            rails: 0,
            wrong: false,
        };
        let ends = arena.run(&at_the_strike(balls, struck), &mut watch);
        (ends, watch)
    }
}

/// The ways of `ball` into the pockets among those that are there in any case.
fn found(arena: &Arena, ball: PlacedBall, fixed: &[PlacedBall]) -> [Windows; 6] {
    let among: Vec<(BallId, DVec2)> = std::iter::once((ball.id, ball.position))
        .chain(fixed.iter().map(|other| (other.id, other.position)))
        .collect();
    PocketId::ALL.map(|pocket| Windows::find(arena, &among, 0, pocket))
}

/// The others of `balls` beside `ball`: those of `loose`, and those that are there in any case.
fn around(
    balls: &[PlacedBall],
    ball: PlacedBall,
    loose: BallSet,
) -> (Vec<PlacedBall>, Vec<PlacedBall>) {
    let others = balls.iter().copied().filter(|other| !other.id.is_cue() && other.id != ball.id);
    others.partition(|other| loose.has(other.id))
}

/// One place of the cue ball.
struct Table<'a> {
    arena: &'a Arena,
    hand: &'a Hand,
    target: &'a Target,
    balls: &'a [PlacedBall],
    place: DVec2,
}

/// A stroke that is aimed, and its chance to pot.
#[derive(Clone, Copy)]
struct Aimed {
    stroke: Stroke,
    pot: f64,
    /// By this factor the hand's errors are wider.
    awkward: f64,
}

impl Table<'_> {
    /// The chance of a plain stroke that brings the ball to the pocket; `None` if there is no
    /// way there.
    fn rough(&self, pocket: PocketId) -> Option<f64> {
        let speed = 2.0 * self.windows(pocket).speed;
        let plain = Stroke { azimuth: 0.0, elevation: 0.0, speed, side: 0.0, height: 0.0 };
        Some(self.aimed(pocket, &self.lifted(pocket, &plain)?, None)?.pot)
    }

    fn windows(&self, pocket: PocketId) -> &Windows {
        &self.target.windows[pocket as usize]
    }

    /// `plain` turned toward the ghost ball and lifted as far as it must be.
    fn lifted(&self, pocket: PocketId, plain: &Stroke) -> Option<Stroke> {
        let radius = self.arena.card().ball.radius;
        let [right, left] = self.windows(pocket).main()?.usual();
        let line = unit_from_angle(self.windows(pocket).line + 0.5 * (right + left));
        let way = self.target.ball.position - line * (2.0 * radius) - self.place;
        if way.dot(line) <= 0.0 {
            return None;
        }
        let squirt = squirt_angle(plain.side, self.arena.card().squirt_mass_ratio);
        let turned = Stroke { azimuth: heading(way) - squirt, ..*plain };
        let elevation = least_elevation(self.arena.card(), self.balls, &turned);
        Some(Stroke { elevation, ..turned })
    }

    /// By how much the ball goes past the middle of the window, rad, and what it is given.
    fn past(&self, pocket: PocketId, window: &PotWindow, stroke: &Stroke) -> Option<(f64, Given)> {
        let windows = self.windows(pocket);
        let object = self.target.ball.position;
        let (turn, given) = turn(self.arena.card(), self.place, object, stroke, windows.line)?;
        let edges = [0, 1].map(|side| windows.edge(window, side, given));
        Some((turn - 0.5 * (edges[0] + edges[1]), given))
    }

    /// The stroke aimed at the middle of the window, from a direction that is nearly right.
    fn aimed(&self, pocket: PocketId, start: &Stroke, awkward: Option<f64>) -> Option<Aimed> {
        let window = self.windows(pocket).main()?;
        let mut stroke = *start;
        let (mut past, mut given) = self.past(pocket, window, &stroke)?;
        let step = 1e-4;
        let (aside, _) =
            self.past(pocket, window, &Stroke { azimuth: stroke.azimuth + step, ..stroke })?;
        let mut slope = (aside - past) / step;
        for _ in 0..6 {
            if past.abs() < 1e-4 {
                break;
            }
            let azimuth = stroke.azimuth - (past / slope).clamp(-0.02, 0.02);
            let next = Stroke { azimuth, ..stroke };
            let (there, gives) = self.past(pocket, window, &next)?;
            if (there - past) / (azimuth - stroke.azimuth) < 0.0 {
                slope = (there - past) / (azimuth - stroke.azimuth);
            }
            (stroke, past, given) = (next, there, gives);
        }
        let awkward =
            awkward.unwrap_or_else(|| awkwardness(self.arena.card(), self.balls, &stroke));
        let spread = self.spread(pocket, window, &stroke, past, slope, awkward);
        let edges = [0, 1].map(|side| self.windows(pocket).edge(window, side, given));
        let half = 0.5 * (edges[1] - edges[0]);
        let pot = (below((half - past) / spread) - below((-half - past) / spread)).max(0.0);
        Some(Aimed { stroke, pot, awkward })
    }

    /// Standard deviation of the ball's direction under the hand, rad.
    fn spread(
        &self,
        pocket: PocketId,
        window: &PotWindow,
        stroke: &Stroke,
        past: f64,
        slope: f64,
        awkward: f64,
    ) -> f64 {
        let tip = self.hand.tip;
        let direct = slope * self.hand.azimuth;
        let by = |changed: Stroke| {
            self.past(pocket, window, &changed).map_or(0.0, |(there, _)| there - past)
        };
        let side = by(Stroke { side: stroke.side + 0.02, ..*stroke }) / 0.02 * tip;
        let height = by(Stroke { height: stroke.height - 0.02, ..*stroke }) / 0.02 * tip;
        let speed = by(Stroke { speed: 1.02 * stroke.speed, ..*stroke }) / 0.02
            * self.speed_error(stroke.speed);
        awkward * (direct * direct + side * side + height * height + speed * speed).sqrt()
    }

    /// Standard deviation of the speed, as a share of it.
    fn speed_error(&self, speed: f64) -> f64 {
        match self.hand.speed {
            SpeedError::Relative(share) => share,
            SpeedError::Absolute(error) => error / speed,
        }
    }

    /// Strokes of one tip at all speeds that carry the ball to the pocket.
    fn ladder(
        &self,
        pocket: PocketId,
        number: u8,
        tip: Tip,
        n_speeds: u8,
        entries: &mut Vec<Entry>,
    ) {
        let plain =
            Stroke { azimuth: 0.0, elevation: 0.0, speed: 2.0, side: tip.side, height: tip.height };
        let Some(mut start) = self.lifted(pocket, &plain) else { return };
        let first = entries.len();
        let mut awkward = None;
        for k in 0..n_speeds {
            start.speed = speed_at(k, n_speeds);
            let Some(aimed) = self.aimed(pocket, &start, awkward) else { continue };
            (start.azimuth, awkward) = (aimed.stroke.azimuth, Some(aimed.awkward));
            if aimed.pot < LEAST_CHANCE {
                continue;
            }
            entries.push(self.played(pocket, number, k, &aimed));
        }
        drifts(&mut entries[first..], |stroke| {
            let awkward = awkward.unwrap_or(1.0);
            awkward * self.speed_error(stroke.speed)
        });
    }

    fn played(&self, pocket: PocketId, tip: u8, speed: u8, aimed: &Aimed) -> Entry {
        let Aimed { stroke, pot, .. } = *aimed;
        let (ends, watch) = self.target.played(self.arena, self.balls, &stroke);
        let (stop, stays) = match ends[0] {
            BallEnd::Rest(at) => (at, true),
            BallEnd::Moving(at) => (at, false),
            BallEnd::Pocketed(_) => (self.place, false),
        };
        // What the windows foresee must come true when all goes as meant.
        let falls = watch.met.is_some() && !watch.wrong && ends[1] == BallEnd::Pocketed(pocket);
        Entry {
            pocket,
            tip,
            speed,
            stroke,
            pot: if falls { pot } else { 0.0 },
            stays,
            stop,
            drift: [None; 2],
            rails: watch.rails,
            blocked: watch.blocked,
            bumped: watch.bumped,
        }
    }
}

/// Reads off neighbours in speed how stops go with it.
fn drifts(ladder: &mut [Entry], error: impl Fn(&Stroke) -> f64) {
    for k in 0..ladder.len() {
        let here = ladder[k];
        let toward = |other: Option<&Entry>| {
            let other = other.filter(|other| other.stays)?;
            let way = libm::log(other.stroke.speed / here.stroke.speed).abs();
            Some((other.stop - here.stop) * (error(&here.stroke) / way).min(1.0))
        };
        let slower = toward(k.checked_sub(1).and_then(|k| ladder.get(k)));
        let faster = toward(ladder.get(k + 1));
        // At an end of the ladder the other side tells.
        let edge = |drift: Option<DVec2>, other: Option<DVec2>, is_edge: bool| {
            if is_edge { other.map(|other| -other) } else { drift }
        };
        ladder[k].drift =
            [edge(slower, faster, k == 0), edge(faster, slower, k + 1 == ladder.len())];
    }
}

/// Hears what the two balls meet, and which of the balls left out they would.
struct Watch<'a> {
    target: &'a Target,
    reach: f64,
    blocked: BallSet,
    bumped: BallSet,
    /// When the cue ball met its first ball, s.
    met: Option<f64>,
    rails: u8,
    wrong: bool,
}

impl Listen for Watch<'_> {
    fn event(&mut self, event: Event) {
        match event.kind {
            EventKind::Contact(other) if event.ball.is_cue() && self.met.is_none() => {
                self.met = Some(event.time);
                self.wrong = other != self.target.ball.id;
            }
            EventKind::Cushion(Surface::Rail(_)) if event.ball.is_cue() && self.met.is_some() => {
                self.rails = self.rails.saturating_add(1);
            }
            _ => {}
        }
    }

    fn leg(&mut self, place: usize, course: &Course, since: f64, until: f64) {
        if place > 1 || !course.moves() {
            return;
        }
        // A meeting is told before the leg that ends with it.
        let is_after = self.met.is_some_and(|met| since >= met);
        let found = if place == 0 && is_after { &mut self.bumped } else { &mut self.blocked };
        for other in &self.target.others {
            if found.has(other.id) {
                continue;
            }
            let offset = course.start.position - other.position;
            let velocity = course.start.velocity;
            let distance = offset.length();
            let inside = distance <= self.reach;
            let meets = inside || {
                let polynomial = [
                    (distance - self.reach) * (distance + self.reach),
                    2.0 * offset.dot(velocity),
                    velocity.length_squared() + offset.dot(course.acceleration),
                    velocity.dot(course.acceleration),
                    0.25 * course.acceleration.length_squared(),
                ];
                first_fall(&polynomial, until - since).is_some()
            };
            if meets {
                *found = found.with(other.id);
            }
        }
    }

    fn has_heard_enough(&self) -> bool {
        self.wrong
    }
}
