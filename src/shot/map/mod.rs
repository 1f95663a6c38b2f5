//! The chance to pot a ball from every place of the cue ball.
//!
//! Real windows of the ball on are found once, by playing it alone among the others;
//! from each place the cue directions that lead into them follow in closed form, and
//! each edge answers to the other errors linearly. DEVELOPERS.md, "Map", says how far
//! that agrees with counted strokes.

mod answer;
mod contour;
mod grid;
mod window;

pub use grid::{Grid, Spot};

use super::awkward::awkwardness;
use super::elevation::least_elevation;
use super::hand::{Hand, SpeedError};
use crate::ball::BallId;
use crate::error::Error;
use crate::geometry::{heading, unit_from_angle, wrap_angle};
use crate::normal::below;
use crate::physics::{Arena, PlacedBall, Stroke, squirt_angle};
use crate::table::PocketId;
use answer::turn;
use glam::DVec2;
use window::{Edge, Windows};

/// Fastest standard stroke, m/s (tuning choice: what a player still controls).
const FASTEST: f64 = 6.0;

/// Thinnest cut at which the standard stroke makes up for what is lost, as cosine.
const THINNEST: f64 = 0.1;

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
        let pots = PocketId::ALL
            .into_iter()
            .filter_map(|pocket| Some((pocket, self.pot(&balls, place, pocket)?)));
        // The first of equals, in the order of the pockets.
        pots.reduce(|best, next| if next.1.chance > best.1.chance { next } else { best })
    }

    /// The standard stroke from `place` into `pocket`, and its chance; `None` if there is
    /// none. A scratch is not counted: the ball on falls, whatever the cue ball does.
    ///
    /// The standard stroke (tuning choice): no side, at centre, higher the more the cue
    /// must be lifted; as fast as carries the ball on a metre past the pocket, and at most
    /// 6 m/s.
    pub fn pot_from(&self, place: DVec2, pocket: PocketId) -> Option<StandardPot> {
        self.pot(&self.with_cue_ball(place), place, pocket)
    }

    fn with_cue_ball(&self, place: DVec2) -> Vec<PlacedBall> {
        let mut balls = vec![PlacedBall { id: BallId::CUE, position: place }];
        balls.extend(self.balls.iter().map(|&(id, position)| PlacedBall { id, position }));
        balls
    }

    fn pot(&self, balls: &[PlacedBall], place: DVec2, pocket: PocketId) -> Option<StandardPot> {
        let windows = &self.windows[pocket as usize];
        let card = self.arena.card();
        let object = self.balls[0].1;
        let widest = windows.all.iter().max_by(|a, b| width(a).total_cmp(&width(b)))?;
        let goal = windows.line + 0.5 * (widest[0].at + widest[1].at);
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
        let [low, high] = aim.interval(widest)?;
        let stroke = Stroke { azimuth: 0.5 * (low + high), ..base };
        let mut chance = 0.0;
        for window in &windows.all {
            if let Some(interval) = aim.interval(window) {
                chance += aim.share(&stroke, window, interval);
            }
        }
        chance *= aim.arrives(&stroke);
        (chance > 0.0).then_some(StandardPot { stroke, chance: chance.min(1.0) })
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

fn width(window: &[Edge; 2]) -> f64 {
    window[1].at - window[0].at
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
    fn past(&self, stroke: &Stroke, edge: &Edge) -> Option<f64> {
        let (turn, given) =
            turn(self.map.arena.card(), self.from, self.object, stroke, self.windows.line)?;
        Some(turn - edge.for_given(given))
    }

    /// The cue directions that send the ball on into the window and meet nothing before
    /// it, the lower first, rad.
    fn interval(&self, window: &[Edge; 2]) -> Option<[f64; 2]> {
        // The ball on turns right as the cue turns left.
        let low = self.solve(&window[1])?;
        let high = self.solve(&window[0])?;
        self.clipped([low, high])
    }

    /// The cue direction that sends the ball on along the edge, or the thinnest hit that
    /// comes nearest.
    fn solve(&self, edge: &Edge) -> Option<f64> {
        let radius = self.map.arena.card().ball.radius;
        let to_object = self.object - self.from;
        let (middle, distance) = (heading(to_object), to_object.length());
        let thinnest = libm::asin((2.0 * radius / distance).min(1.0)) * 0.999;
        let ahead =
            self.object - unit_from_angle(self.windows.line + edge.at) * (2.0 * radius) - self.from;
        let bounded =
            |azimuth: f64| middle + wrap_angle(azimuth - middle).clamp(-thinnest, thinnest);
        let mut azimuth = bounded(heading(ahead));
        let mut past = self.past(&Stroke { azimuth, ..self.base }, edge)?;
        let mut slope = -distance / (2.0 * radius);
        for _ in 0..8 {
            if past.abs() < 1e-5 {
                break;
            }
            let next = bounded(azimuth - (past / slope).clamp(-0.02, 0.02));
            if next == azimuth {
                break;
            }
            let Some(there) = self.past(&Stroke { azimuth: next, ..self.base }, edge) else {
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

    /// The share of the hand's strokes that lie between the edges.
    fn share(&self, stroke: &Stroke, window: &[Edge; 2], [low, high]: [f64; 2]) -> f64 {
        let at = |azimuth: f64, edge: &Edge| {
            below((azimuth - stroke.azimuth) / self.spread(azimuth, edge))
        };
        (at(high, &window[0]) - at(low, &window[1])).max(0.0)
    }

    /// Standard deviation of the distance from an edge, in terms of direction, rad.
    fn spread(&self, azimuth: f64, edge: &Edge) -> f64 {
        let hand = &self.map.hand;
        let stroke = Stroke { azimuth, ..self.base };
        let speed = match hand.speed {
            SpeedError::Relative(share) => share * stroke.speed,
            SpeedError::Absolute(speed) => speed,
        };
        let ratio = self.map.arena.card().squirt_mass_ratio;
        let step = 1e-4;
        let mut square = hand.azimuth * hand.azimuth;
        let here = self.past(&stroke, edge);
        let aside = self.past(&Stroke { azimuth: azimuth + step, ..stroke }, edge);
        let slope = here.zip(aside).map(|(here, aside)| (aside - here) / step);
        let mut add = |changed: Stroke, share: f64| {
            if let (Some(here), Some(slope), Some(there)) = (here, slope, self.past(&changed, edge))
            {
                let error = (there - here) / slope * share;
                square += error * error;
                return true;
            }
            false
        };
        // Steps of the size of the errors themselves.
        let tip = hand.tip.min(0.05);
        if !add(Stroke { side: stroke.side + tip, ..stroke }, hand.tip / tip.max(1e-12)) {
            let squirt = squirt_angle(hand.tip, ratio);
            square += squirt * squirt;
        } else {
            add(Stroke { height: stroke.height - tip, ..stroke }, hand.tip / tip.max(1e-12));
            add(Stroke { speed: stroke.speed + 0.5 * speed, ..stroke }, 2.0);
            if stroke.elevation > 0.0 {
                let elevation = stroke.elevation + 0.5 * hand.elevation;
                add(Stroke { elevation, ..stroke }, 2.0);
            }
        }
        self.awkward * square.sqrt()
    }

    /// The chance that the ball on is fast enough.
    fn arrives(&self, stroke: &Stroke) -> f64 {
        let card = self.map.arena.card();
        let Some((_, [speed, ..])) = turn(card, self.from, self.object, stroke, self.windows.line)
        else {
            return 0.0;
        };
        let share = match self.map.hand.speed {
            SpeedError::Relative(share) => share,
            SpeedError::Absolute(speed) => speed / stroke.speed,
        };
        below((speed - self.windows.least) / (self.awkward * share * speed).max(1e-9))
    }
}
