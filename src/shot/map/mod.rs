//! The chance to pot a ball from every place of the cue ball.
//!
//! Real windows of the ball on are found once, by playing it alone among the others;
//! from each place the cue directions that lead into them follow in closed form, and
//! each edge answers to the other errors linearly. DEVELOPERS.md, "Map of chances", says how far
//! that agrees with counted strokes.

mod answer;
mod contour;
mod grid;
mod window;

pub use grid::{Grid, Spot};

use super::awkward::{Delivery, awkwardness};
use super::elevation::least_elevation;
use super::hand::{Hand, SpeedError, Wobble};
use crate::ball::{BallId, BallMotion};
use crate::error::Error;
use crate::geometry::{heading, unit_from_angle, wrap_angle};
use crate::normal::{below, density, quantile};
use crate::physics::{
    Arena, BallEnd, FASTEST_STROKE, Nothing, PlacedBall, Stroke, at_the_strike, squirt_angle,
};
use crate::table::PocketId;
use answer::turn;
use arrayvec::ArrayVec;
use glam::DVec2;
use window::{Window, Windows};

/// Fastest standard stroke, m/s (tuning choice: what a player still controls).
const FASTEST: f64 = 6.0;

/// Thinnest cut at which the standard stroke makes up for what is lost, as cosine.
const THINNEST: f64 = 0.1;

/// Strokes that are tried at a place, and how many where one of them does not come out as
/// foreseen (tuning choice: more cost too much).
const PROOFS: u32 = 128;
const MOST_PROOFS: u32 = 4096;

/// Strokes of which the windows say whether the ball on falls.
const FORESEEN: u32 = 16_384;

/// A pocket with a rough chance of less than this share of the best cannot be the best.
const RIVAL: f64 = 0.5;

/// A window so many standard deviations away is not looked at more closely.
const FAR: f64 = 5.0;

/// Where the chance is less no stroke is tried.
const HOPELESS: f64 = 0.005;

/// The errors with this number of a series that fills their space evenly.
///
/// # Source
/// Kronecker's sequence by powers of the root of x^6 = x + 1 (Roberts 2018, "The
/// unreasonable effectiveness of quasirandom sequences", from memory).
fn spread_evenly(index: u32) -> Wobble {
    const ROOT: f64 = 1.134_724_138_401_519_5;
    let mut part = 1.0;
    let mut next = || {
        part /= ROOT;
        let at = 0.5 + part * f64::from(index + 1);
        quantile((at - at.floor()).clamp(1e-6, 1.0 - 1e-6))
    };
    Wobble { azimuth: next(), speed: next(), side: next(), height: next(), elevation: next() }
}

/// Nodes of the error of the speed, and what lies between them, in standard deviations:
/// the trapezoidal rule over six of them, whose weights add up to 0.9973.
const NODES: usize = 25;
const BETWEEN: f64 = 0.25;
/// Of these every sixth is solved for in any case.
const STRIDE: usize = 6;

/// Slowest stroke, m/s (as the hand's).
const SLOWEST: f64 = 0.01;

/// The error of the speed at a node, in standard deviations.
fn sigmas(node: usize) -> f64 {
    BETWEEN * (node as f64 - 0.5 * (NODES - 1) as f64)
}

/// Fills in the edges between the first and the last, which stand at the nodes from `first`
/// on: halved by `at_node` until they are straight but for `near_enough`.
fn refine(
    edges: &mut [[f64; 2]],
    first: usize,
    near_enough: f64,
    at_node: &dyn Fn(usize, [f64; 2]) -> [f64; 2],
) {
    let last = edges.len() - 1;
    if last < 2 {
        return;
    }
    let (from, to) = (edges[0], edges[last]);
    let between = |share: f64| [0, 1].map(|side| from[side] + share * (to[side] - from[side]));
    let half = last / 2;
    let straight = between(half as f64 / last as f64);
    edges[half] = at_node(first + half, straight);
    if (0..2).all(|side| (edges[half][side] - straight[side]).abs() < near_enough) {
        for (k, edges) in edges.iter_mut().enumerate() {
            *edges = between(k as f64 / last as f64);
        }
        return;
    }
    refine(&mut edges[..=half], first, near_enough, at_node);
    refine(&mut edges[half..], first + half, near_enough, at_node);
}

/// Chances to pot one ball among others, for one hand.
#[derive(Clone, Debug)]
pub struct PotMap {
    arena: Arena,
    hand: Hand,
    /// The ball on, then the others.
    balls: Vec<(BallId, DVec2)>,
    windows: [Windows; 6],
}

/// A standard stroke and what comes of it.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct StandardPot {
    /// The stroke, aimed at the middle of the widest window of cue directions.
    pub stroke: Stroke,
    /// The chance that the ball falls into the pocket, 0 to 1.
    pub chance: f64,
}

impl PotMap {
    /// The map of the ball `on` for this hand. A cue ball among `balls` is left out: it
    /// may be anywhere. The table's card and the balls' places must have been checked.
    ///
    /// # Errors
    /// [`Error::Invalid`] naming `ball` if it is not an object ball among `balls`.
    pub fn new(
        arena: &Arena,
        balls: &[PlacedBall],
        on: BallId,
        hand: &Hand,
    ) -> Result<Self, Error> {
        let mut balls: Vec<(BallId, DVec2)> = balls
            .iter()
            .filter(|ball| !ball.id.is_cue())
            .map(|ball| (ball.id, ball.position))
            .collect();
        let Some(place) = balls.iter().position(|(id, _)| *id == on) else {
            return Err(Error::invalid("ball", "must be an object ball that is on the table"));
        };
        balls.swap(0, place);
        let windows = PocketId::ALL.map(|pocket| Windows::find(arena, &balls, 0, pocket));
        Ok(Self { arena: arena.clone(), hand: *hand, balls, windows })
    }

    /// The same map for another hand; the windows stay.
    #[must_use]
    pub fn in_hand(&self, hand: &Hand) -> Self {
        Self { hand: *hand, ..self.clone() }
    }

    /// The table.
    pub fn arena(&self) -> &Arena {
        &self.arena
    }

    /// Whether the cue ball can lie at `place`.
    pub fn is_free(&self, place: DVec2) -> bool {
        let least = 2.0 * self.arena.card().ball.radius;
        self.arena.shape().refusal(place).is_none()
            && self.balls.iter().all(|(_, at)| at.distance_squared(place) >= least * least)
    }

    /// The best pocket from `place`, where the cue ball must be free, and its chance;
    /// `None` if the ball goes nowhere.
    pub fn best_from(&self, place: DVec2) -> Option<(PocketId, StandardPot)> {
        let balls = self.with_cue_ball(place);
        let mut pots = self.pots(&balls, place);
        let mut proved = [false; 6];
        // Only what seems to be the best is tried by strokes.
        loop {
            let (pocket, pot) = best_of(&pots)?;
            if proved[pocket as usize] || pot.chance < HOPELESS {
                return Some((pocket, pot));
            }
            let chance = self.proved(&balls, place, pocket, &pot);
            proved[pocket as usize] = true;
            for (_, pot) in pots.iter_mut().filter(|(other, _)| *other == pocket) {
                pot.chance = chance;
            }
        }
    }

    /// As [`best_from`](Self::best_from), but by the windows alone: no stroke is played, so
    /// that what the cue ball or others do to the ball on later is not seen.
    pub fn quick_best_from(&self, place: DVec2) -> Option<(PocketId, StandardPot)> {
        best_of(&self.pots(&self.with_cue_ball(place), place))
    }

    /// As [`pot_from`](Self::pot_from), but by the windows alone.
    pub fn quick_pot_from(&self, place: DVec2, pocket: PocketId) -> Option<StandardPot> {
        self.pot(&self.with_cue_ball(place), place, pocket)
    }

    /// The pots that may be the best, by the windows alone.
    fn pots(&self, balls: &[PlacedBall], place: DVec2) -> ArrayVec<(PocketId, StandardPot), 6> {
        let aims: ArrayVec<_, 6> = PocketId::ALL
            .into_iter()
            .filter_map(|pocket| {
                let (aim, stroke) = self.aim(balls, place, pocket)?;
                let rough = aim.chance(&stroke, true);
                Some((pocket, aim, stroke, rough))
            })
            .collect();
        let most = aims.iter().map(|(.., rough)| *rough).fold(0.0, f64::max);
        aims.iter()
            .filter(|(.., rough)| *rough >= RIVAL * most)
            .map(|(pocket, aim, stroke, _)| {
                let chance = aim.chance(stroke, false);
                (*pocket, StandardPot { stroke: *stroke, chance })
            })
            .filter(|(_, pot)| pot.chance > 0.0)
            .collect()
    }

    /// The standard stroke from `place` into `pocket`, and its chance; `None` if there is
    /// none. A scratch is not counted: the ball on falls, whatever the cue ball does.
    ///
    /// The standard stroke (tuning choice): no side, at centre, higher the more the cue
    /// must be lifted; as fast as carries the ball on a metre past the pocket, and at most
    /// 6 m/s.
    pub fn pot_from(&self, place: DVec2, pocket: PocketId) -> Option<StandardPot> {
        let balls = self.with_cue_ball(place);
        let pot = self.pot(&balls, place, pocket)?;
        Some(StandardPot { chance: self.proved(&balls, place, pocket, &pot), ..pot })
    }

    /// The chance by strokes of the hand that fill the space of its errors evenly: many that
    /// the windows judge, put right by what real strokes show that these do not see: that the cue ball comes back and
    /// meets the ball on again, that another ball helps, that a cushion is met on the way.
    fn proved(
        &self,
        balls: &[PlacedBall],
        place: DVec2,
        pocket: PocketId,
        pot: &StandardPot,
    ) -> f64 {
        let windows = &self.windows[pocket as usize];
        let delivery = Delivery::new(&self.hand, self.arena.card(), balls, &pot.stroke);
        let foreseen = |stroke: &Stroke| {
            let answer = turn(self.arena.card(), place, self.balls[0].1, stroke, windows.line);
            windows.is_met(answer)
        };
        let met = (0..FORESEEN).filter(|&k| foreseen(&delivery.struck(&spread_evenly(k)))).count();
        let chance = met as f64 / f64::from(FORESEEN);
        let mut still = at_the_strike(balls, BallMotion::default());
        // By how many more strokes it falls than the windows say, and how many differ.
        let (mut more, mut differ) = (0, 0);
        for index in 0..MOST_PROOFS {
            if index == PROOFS && differ == 0 {
                return chance;
            }
            let stroke = delivery.struck(&spread_evenly(index));
            let (falls, foreseen) = (self.falls(&mut still, &stroke, pocket), foreseen(&stroke));
            more += i32::from(falls) - i32::from(foreseen);
            differ += i32::from(falls != foreseen);
        }
        (chance + f64::from(more) / f64::from(MOST_PROOFS)).clamp(0.0, 1.0)
    }

    /// Whether the ball on falls. The cue ball is the first of `still`, the ball on the next.
    fn falls(&self, still: &mut [(BallId, BallMotion)], stroke: &Stroke, pocket: PocketId) -> bool {
        let card = self.arena.card();
        let (velocity, spin) = stroke.launch(card.ball.radius, card.squirt_mass_ratio);
        (still[0].1.velocity, still[0].1.spin) = (velocity, spin);
        self.arena.run(still, &mut Nothing)[1] == BallEnd::Pocketed(pocket)
    }

    fn with_cue_ball(&self, place: DVec2) -> Vec<PlacedBall> {
        let mut balls = vec![PlacedBall { id: BallId::CUE, position: place }];
        balls.extend(self.balls.iter().map(|&(id, position)| PlacedBall { id, position }));
        balls
    }

    fn pot(&self, balls: &[PlacedBall], place: DVec2, pocket: PocketId) -> Option<StandardPot> {
        let (aim, stroke) = self.aim(balls, place, pocket)?;
        let chance = aim.chance(&stroke, false);
        (chance > 0.0).then_some(StandardPot { stroke, chance })
    }

    fn aim(
        &self,
        balls: &[PlacedBall],
        place: DVec2,
        pocket: PocketId,
    ) -> Option<(Aim<'_>, Stroke)> {
        let windows = &self.windows[pocket as usize];
        let card = self.arena.card();
        let object = self.balls[0].1;
        // The window round the line to the pocket, not one by way of a rail.
        let aside = |window: &&Window| {
            let [right, left] = window.usual();
            right.max(0.0).max(-left)
        };
        let main = windows.all.iter().min_by(|a, b| aside(a).total_cmp(&aside(b)))?;
        if aside(&main) > windows.half_mouth {
            return None;
        }
        let goal = windows.line + 0.5 * main.usual().iter().sum::<f64>();
        let mut base = self.standard(balls, place, goal, windows.speed)?;
        // What height, elevation and throw make of the speed is put right twice.
        for _ in 0..2 {
            if let Some((_, [speed, ..])) = turn(card, place, object, &base, windows.line) {
                let factor = (windows.speed / speed).clamp(0.5, 2.0);
                base.speed = (base.speed * factor).min(FASTEST);
            }
        }
        let awkward = awkwardness(card, balls, &base);
        let aim = Aim { map: self, windows, from: place, object, base, awkward };
        let [low, high] = aim.clipped(aim.interval(main, &base, None)?)?;
        let stroke = Stroke { azimuth: 0.5 * (low + high), ..base };
        Some((aim, stroke))
    }

    /// The standard stroke that sends the ball on toward `goal`, but for throw.
    fn standard(&self, balls: &[PlacedBall], from: DVec2, goal: f64, speed: f64) -> Option<Stroke> {
        let card = self.arena.card();
        let line = unit_from_angle(goal);
        let way = self.balls[0].1 - line * (2.0 * card.ball.radius) - from;
        let distance = way.length();
        let cosine = way.dot(line) / distance.max(1e-9);
        if cosine <= 0.0 {
            return None;
        }
        let needed = 2.0 * speed / ((1.0 + card.ball_contact.restitution) * cosine.max(THINNEST));
        let level = Stroke {
            azimuth: heading(way),
            elevation: 0.0,
            speed: self.struck_speed(needed, distance),
            side: 0.0,
            height: 0.0,
        };
        let lift = least_elevation(card, balls, &level);
        let stroke = Stroke { height: (0.8 * lift).min(0.3), ..level };
        let elevation = least_elevation(card, balls, &stroke);
        let speed = (stroke.speed / libm::cos(elevation)).min(FASTEST);
        Some(Stroke { elevation, speed, ..stroke })
    }

    /// The speed of a stroke at centre that arrives with `speed` (m/s) after `distance`.
    fn struck_speed(&self, speed: f64, distance: f64) -> f64 {
        let cloth = &self.arena.card().cloth;
        let (slide, roll) = (cloth.sliding_friction, cloth.rolling_friction);
        let rolls = (speed * speed + 2.0 * roll * cloth.gravity * distance)
            / (25.0 / 49.0 + 24.0 / 49.0 * roll / slide);
        if 12.0 * rolls / (49.0 * slide * cloth.gravity) <= distance {
            return rolls.sqrt();
        }
        (speed * speed + 2.0 * slide * cloth.gravity * distance).sqrt()
    }
}

/// The first of the greatest chance, in the order of the pockets.
fn best_of(pots: &[(PocketId, StandardPot)]) -> Option<(PocketId, StandardPot)> {
    let better = |best: (PocketId, StandardPot), next: (PocketId, StandardPot)| {
        if next.1.chance > best.1.chance { next } else { best }
    };
    pots.iter().copied().reduce(better)
}

/// One place of the cue ball and one pocket.
struct Aim<'a> {
    map: &'a PotMap,
    windows: &'a Windows,
    from: DVec2,
    object: DVec2,
    base: Stroke,
    awkward: f64,
}

impl Aim<'_> {
    /// By how much the ball on goes past the edge, rad, positive to the left.
    fn past(&self, stroke: &Stroke, window: &Window, side: usize) -> Option<f64> {
        let (turn, given) =
            turn(self.map.arena.card(), self.from, self.object, stroke, self.windows.line)?;
        Some(turn - self.windows.edge(window, side, given))
    }

    /// The cue directions of `stroke` that send the ball on into the window, the lower
    /// first, rad; `near` are such of a stroke that hardly differs.
    fn interval(
        &self,
        window: &Window,
        stroke: &Stroke,
        near: Option<[f64; 2]>,
    ) -> Option<[f64; 2]> {
        // The ball on turns right as the cue turns left.
        let low = self.solve(window, 1, stroke, near.map(|near| near[0]))?;
        let high = self.solve(window, 0, stroke, near.map(|near| near[1]))?;
        Some([low, high])
    }

    /// The cue direction that sends the ball on along the edge, or the thinnest hit that
    /// comes nearest.
    fn solve(
        &self,
        window: &Window,
        side: usize,
        stroke: &Stroke,
        near: Option<f64>,
    ) -> Option<f64> {
        let radius = self.map.arena.card().ball.radius;
        let to_object = self.object - self.from;
        let (middle, distance) = (heading(to_object), to_object.length());
        let thinnest = libm::asin((2.0 * radius / distance).min(1.0)) * 0.9999;
        let bounded =
            |azimuth: f64| middle + wrap_angle(azimuth - middle).clamp(-thinnest, thinnest);
        let mut azimuth = bounded(near.unwrap_or_else(|| {
            let line = unit_from_angle(self.windows.line + window.usual()[side]);
            heading(to_object - line * (2.0 * radius))
        }));
        let mut past = self.past(&Stroke { azimuth, ..*stroke }, window, side)?;
        let mut slope = -distance / (2.0 * radius);
        for _ in 0..8 {
            if past.abs() < 2e-5 {
                break;
            }
            let next = bounded(azimuth - (past / slope).clamp(-0.02, 0.02));
            if next == azimuth {
                break;
            }
            let Some(there) = self.past(&Stroke { azimuth: next, ..*stroke }, window, side) else {
                break;
            };
            let secant = (there - past) / (next - azimuth);
            if secant < 0.0 {
                slope = secant;
            }
            (azimuth, past) = (next, there);
        }
        Some(azimuth)
    }

    /// The interval without what other balls hide.
    fn clipped(&self, [mut low, mut high]: [f64; 2]) -> Option<[f64; 2]> {
        let reach = 2.0 * self.map.arena.card().ball.radius;
        let to_object = self.object - self.from;
        for (_, at) in &self.map.balls[1..] {
            let offset = *at - self.from;
            let distance = offset.length();
            let half = libm::asin((reach / distance).min(1.0));
            let middle = low + wrap_angle(heading(offset) - low);
            if middle + half <= low || middle - half >= high {
                continue;
            }
            // Which is met first, where they compete.
            let along = unit_from_angle((0.5 * (low + high)).clamp(middle - half, middle + half));
            let way = |offset: DVec2| {
                let forward = offset.dot(along);
                forward
                    - (reach * reach - offset.length_squared() + forward * forward).max(0.0).sqrt()
            };
            if way(offset) > way(to_object) {
                continue;
            }
            // The larger part that is left.
            if (middle - half) - low > high - (middle + half) {
                high = high.min(middle - half);
            } else {
                low = low.max(middle + half);
            }
        }
        (low < high).then_some([low, high])
    }

    /// The chance of `stroke`; a rough one takes the speed for right.
    fn chance(&self, stroke: &Stroke, rough: bool) -> f64 {
        self.windows
            .all
            .iter()
            .map(|window| self.share(stroke, window, rough))
            .sum::<f64>()
            .min(1.0)
    }

    /// The share of the hand's strokes that send the ball on into the window. Strokes of
    /// nodes of the speed are integrated over, other errors only shift the edges.
    fn share(&self, stroke: &Stroke, window: &Window, rough: bool) -> f64 {
        let speed_error = match self.map.hand.speed {
            SpeedError::Relative(share) => share * stroke.speed,
            SpeedError::Absolute(speed) => speed,
        };
        let Some(usual) = self.interval(window, stroke, None) else { return 0.0 };
        let spreads = [self.spread(usual[0], window, 1), self.spread(usual[1], window, 0)];
        let share = |edges: [f64; 2]| {
            let Some([low, high]) = self.clipped(edges) else { return 0.0 };
            let at = |azimuth: f64, spread: f64| below((azimuth - stroke.azimuth) / spread);
            (at(high, spreads[1]) - at(low, spreads[0])).max(0.0)
        };
        let far = (usual[0] - stroke.azimuth) / spreads[0] > FAR
            || (stroke.azimuth - usual[1]) / spreads[1] > FAR;
        if rough || far {
            return share(usual);
        }
        let at_node = |k: usize, near: [f64; 2]| {
            let speed = stroke.speed + self.awkward * speed_error * sigmas(k);
            let played = Stroke { speed: speed.clamp(SLOWEST, FASTEST_STROKE), ..*stroke };
            self.interval(window, &played, Some(near)).unwrap_or([near[0]; 2])
        };
        let mut edges = [usual; NODES];
        for k in (0..NODES).step_by(STRIDE) {
            edges[k] = at_node(k, usual);
        }
        let near_enough = 0.05 * spreads[0].min(spreads[1]);
        for k in (0..NODES - 1).step_by(STRIDE) {
            refine(&mut edges[k..=k + STRIDE], k, near_enough, &at_node);
        }
        let weighed = |(k, edges)| BETWEEN / 0.9973 * density(sigmas(k)) * share(edges);
        edges.into_iter().enumerate().map(weighed).sum()
    }

    /// Standard deviation of the distance from an edge, in terms of direction, rad, by all
    /// errors but that of the speed.
    fn spread(&self, azimuth: f64, window: &Window, side: usize) -> f64 {
        let hand = &self.map.hand;
        let stroke = Stroke { azimuth, ..self.base };
        let ratio = self.map.arena.card().squirt_mass_ratio;
        let step = 1e-4;
        let mut square = hand.azimuth * hand.azimuth;
        let past = |stroke: Stroke| self.past(&stroke, window, side);
        let here = past(stroke);
        let slope = here
            .zip(past(Stroke { azimuth: azimuth + step, ..stroke }))
            .map(|(here, aside)| (aside - here) / step);
        let mut add = |changed: Stroke, share: f64| {
            let all = here.zip(slope).zip(past(changed));
            let error = all.map(|((here, slope), there)| (there - here) / slope * share);
            square += error.map_or(0.0, |error| error * error);
            error.is_some()
        };
        // Steps of the size of the errors themselves.
        let tip = hand.tip.min(0.05);
        if !add(Stroke { side: stroke.side + tip, ..stroke }, hand.tip / tip.max(1e-12)) {
            let squirt = squirt_angle(hand.tip, ratio);
            square += squirt * squirt;
        } else {
            add(Stroke { height: stroke.height - tip, ..stroke }, hand.tip / tip.max(1e-12));
            if stroke.elevation > 0.0 {
                let elevation = stroke.elevation + 0.5 * hand.elevation;
                add(Stroke { elevation, ..stroke }, 2.0);
            }
        }
        self.awkward * square.sqrt()
    }
}
