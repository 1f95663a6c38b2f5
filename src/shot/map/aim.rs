//! The standard stroke from one place of the cue ball into one pocket.

use super::PotMap;
use super::answer::turn;
use super::window::{PotWindow, Windows};
use crate::geometry::{heading, unit_from_angle, wrap_angle};
use crate::physics::{PlacedBall, Stroke};
use crate::shot::awkward::Delivery;
use crate::shot::elevation::least_elevation;
use crate::table::Cloth;
use glam::DVec2;

/// Fastest standard stroke, m/s (tuning choice: what a player still controls).
const FASTEST: f64 = 6.0;

/// Thinnest cut at which the standard stroke makes up for what is lost, as cosine.
const THINNEST: f64 = 0.1;

/// One place of the cue ball and one pocket.
pub(super) struct Aim<'a> {
    pub map: &'a PotMap,
    pub windows: &'a Windows,
    /// The cue ball.
    pub from: DVec2,
    /// The ball on.
    pub object: DVec2,
    /// The standard stroke.
    pub stroke: Stroke,
    /// By how much all errors are wider there.
    pub awkward: f64,
}

impl<'a> Aim<'a> {
    /// `balls` are those of the map with the cue ball at `from`; `None` if there is no
    /// stroke that sends the ball on there.
    pub fn new(
        map: &'a PotMap,
        balls: &[PlacedBall],
        from: DVec2,
        windows: &'a Windows,
    ) -> Option<Self> {
        let card = map.arena.card();
        let object = map.balls[0].1;
        let main = windows.main()?;
        let goal = windows.line + 0.5 * main.usual().iter().sum::<f64>();
        let mut stroke = standard(map, balls, from, goal, windows.speed)?;
        // What height, elevation and throw make of the speed is put right twice.
        for _ in 0..2 {
            if let Some((_, [speed, ..])) = turn(card, from, object, &stroke, windows.line) {
                stroke.speed = corrected(stroke.speed, windows.speed, speed);
            }
        }
        let mut aim = Self { map, windows, from, object, stroke, awkward: 1.0 };
        let [low, high] = clipped(map, from, aim.interval(main)?)?;
        aim.stroke.azimuth = 0.5 * (low + high);
        let delivery = Delivery::new(&map.hand, card, balls, &aim.stroke);
        (aim.stroke, aim.awkward) = (delivery.aimed, delivery.awkwardness);
        Some(aim)
    }

    /// By how much the ball on goes past the edge, rad, positive to the left; `None` if
    /// it is not met.
    pub fn past(&self, stroke: &Stroke, window: &PotWindow, side: usize) -> Option<f64> {
        let card = self.map.arena.card();
        let (turn, given) = turn(card, self.from, self.object, stroke, self.windows.line)?;
        Some(turn - self.windows.edge(window, side, given))
    }

    /// The cue directions of the stroke that send the ball on into the window, the lower
    /// first, rad.
    fn interval(&self, window: &PotWindow) -> Option<[f64; 2]> {
        // The ball on turns right as the cue turns left.
        Some([self.solve(window, 1)?, self.solve(window, 0)?])
    }

    /// The cue direction that sends the ball on along the edge, or the thinnest hit that
    /// comes nearest.
    fn solve(&self, window: &PotWindow, side: usize) -> Option<f64> {
        let radius = self.map.arena.card().ball.radius;
        let (middle, thinnest) = self.thinnest();
        let bounded =
            |azimuth: f64| middle + wrap_angle(azimuth - middle).clamp(-thinnest, thinnest);
        let mut azimuth = bounded(self.way_to(window.usual()[side]));
        let past = |azimuth| self.past(&Stroke { azimuth, ..self.stroke }, window, side);
        let mut off = past(azimuth)?;
        let mut slope = -(self.object - self.from).length() / (2.0 * radius);
        for _ in 0..8 {
            if off.abs() < 2e-5 {
                break;
            }
            let next = bounded(azimuth - (off / slope).clamp(-0.02, 0.02));
            if next == azimuth {
                break;
            }
            let Some(there) = past(next) else { break };
            let secant = (there - off) / (next - azimuth);
            if secant < 0.0 {
                slope = secant;
            }
            (azimuth, off) = (next, there);
        }
        Some(azimuth)
    }

    /// The direction in which the cue ball gets to the ball on to turn it so, but for
    /// throw, rad.
    pub fn way_to(&self, turn: f64) -> f64 {
        let radius = self.map.arena.card().ball.radius;
        let line = unit_from_angle(self.windows.line + turn);
        heading(self.object - line * (2.0 * radius) - self.from)
    }

    /// The direction of a full hit, and how far from it the ball on is all but missed, rad.
    pub fn thinnest(&self) -> (f64, f64) {
        let way = self.object - self.from;
        let radius = self.map.arena.card().ball.radius;
        (heading(way), libm::asin((2.0 * radius / way.length()).min(1.0)) * 0.9999)
    }
}

/// The speed with which the ball on, which got `given`, gets what is `wanted`, m/s.
pub(super) fn corrected(speed: f64, wanted: f64, given: f64) -> f64 {
    (speed * (wanted / given).clamp(0.5, 2.0)).min(FASTEST)
}

/// The directions of a cue ball from `from` to the ball on without what other balls hide.
pub(super) fn clipped(map: &PotMap, from: DVec2, interval: [f64; 2]) -> Option<[f64; 2]> {
    let [mut low, mut high] = interval;
    let reach = 2.0 * map.arena.card().ball.radius;
    let to_object = map.balls[0].1 - from;
    for (_, at) in &map.balls[1..] {
        let offset = *at - from;
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
            forward - (reach * reach - offset.length_squared() + forward * forward).max(0.0).sqrt()
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

/// The standard stroke that sends the ball on toward `goal`, but for throw.
pub(super) fn standard(
    map: &PotMap,
    balls: &[PlacedBall],
    from: DVec2,
    goal: f64,
    speed: f64,
) -> Option<Stroke> {
    let card = map.arena.card();
    let line = unit_from_angle(goal);
    let way = map.balls[0].1 - line * (2.0 * card.ball.radius) - from;
    let distance = way.length();
    let cosine = way.dot(line) / distance.max(1e-9);
    if cosine <= 0.0 {
        return None;
    }
    let needed = 2.0 * speed / ((1.0 + card.ball_contact.restitution) * cosine.max(THINNEST));
    let level = Stroke {
        azimuth: heading(way),
        elevation: 0.0,
        speed: struck_speed(&card.cloth, needed, distance),
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
fn struck_speed(cloth: &Cloth, speed: f64, distance: f64) -> f64 {
    let (slide, roll) = (cloth.sliding_friction, cloth.rolling_friction);
    let rolls = (speed * speed + 2.0 * roll * cloth.gravity * distance)
        / (25.0 / 49.0 + 24.0 / 49.0 * roll / slide);
    if 12.0 * rolls / (49.0 * slide * cloth.gravity) <= distance {
        return rolls.sqrt();
    }
    (speed * speed + 2.0 * slide * cloth.gravity * distance).sqrt()
}
