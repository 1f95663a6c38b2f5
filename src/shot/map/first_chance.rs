//! Quick chances from one place of the cue ball, by what is known in closed form.
//!
//! A stroke without side runs straight, so its meeting with the ball on needs no steps in
//! time. The errors of a hand are taken as one of direction, as wide as all of them
//! together turn the ball on, and one of speed; DEVELOPERS.md, "Map of chances", says how
//! near that comes.

use super::PotMap;
use super::aim::{clipped, corrected, standard};
use super::answer::turn;
use super::errors::{FAR, between};
use super::straight::{Launch, Straight};
use super::window::{PotWindow, Windows};
use crate::geometry::wrap_angle;
use crate::normal::{below, quantile};
use crate::physics::{PlacedBall, Stroke};
use crate::shot::awkward::awkwardness;
use crate::shot::hand::Wobble;
use crate::table::PocketId;
use arrayvec::ArrayVec;
use glam::DVec2;

/// Values of the speed's error at which the chance is taken, in standard deviations, and
/// their weights.
///
/// # Source
/// Gauss's rule of five points for Hermite's polynomials: the nodes are 0 and the roots of
/// 5 plus and less the root of 10.
const SPEEDS: [(f64, f64); 5] = [
    (0.0, 8.0 / 15.0),
    (-1.355_626_179_974_266, 0.222_075_922_005_613),
    (1.355_626_179_974_266, 0.222_075_922_005_613),
    (-2.856_970_013_872_806, 0.011_257_411_327_721),
    (2.856_970_013_872_806, 0.011_257_411_327_721),
];

/// Where the chance changes more than this with the speed, those values are too few.
const UNEVEN: f64 = 0.1;

/// The chance then changes by no more than this in a step of the speed's share (tuning
/// choice).
const CHANGE: f64 = 0.003;

/// An edge is found this near, in standard deviations: as near as one more of Newton's
/// steps, with a slope that leaves out throw, comes.
const STEP: f64 = 0.1;

/// A chance can exceed what the window at the standard speed promises by this factor, for
/// it is wider at slower ones (tuning choice).
const BOUND: f64 = 1.25;

/// What is seen from one place of the cue ball.
pub(super) struct Glance<'a> {
    map: &'a PotMap,
    balls: &'a [PlacedBall],
    from: DVec2,
    straight: Straight<'a>,
}

/// The directions that send the ball on into one window, the lower first, and what other
/// balls leave of them, against a full hit, rad.
#[derive(Clone, Copy)]
struct Ways<'a> {
    window: &'a PotWindow,
    edges: [f64; 2],
    seen: [f64; 2],
}

impl<'a> Glance<'a> {
    /// `balls` are those of the map with the cue ball at `from`.
    pub fn new(map: &'a PotMap, balls: &'a [PlacedBall], from: DVec2) -> Self {
        let straight = Straight::new(map.arena.card(), from, map.balls[0].1);
        Self { map, balls, from, straight }
    }

    /// The best of these pockets and its chance; `None` if the ball goes nowhere.
    pub fn best(&self, pockets: &[PocketId]) -> Option<(PocketId, f64)> {
        let mut bounds: ArrayVec<(PocketId, f64), 6> =
            pockets.iter().take(6).map(|&pocket| (pocket, self.bound(pocket))).collect();
        bounds.sort_by(|a, b| b.1.total_cmp(&a.1));
        let mut best: Option<(PocketId, f64)> = None;
        for (pocket, bound) in bounds {
            let beaten = best.map_or(0.0, |(_, chance)| chance);
            if bound <= beaten {
                break;
            }
            // So that the best of all is the best of the bests of some.
            let chance = self.chance(pocket).min(bound);
            if chance > beaten {
                best = Some((pocket, chance));
            }
        }
        best
    }

    /// The chance is hardly greater, for errors of the direction alone make it smaller.
    fn bound(&self, pocket: PocketId) -> f64 {
        let Some(windows) = self.map.windows(pocket) else { return 0.0 };
        let Some(goal) = windows.goal else { return 0.0 };
        let radius = self.map.arena.card().ball.radius;
        let way = self.map.balls[0].1 - goal * (2.0 * radius) - self.from;
        let along = way.dot(goal);
        if along <= 0.0 {
            return 0.0;
        }
        let width: f64 =
            windows.all.iter().map(|window| window.usual()[1] - window.usual()[0]).sum();
        // How far the ball on turns with the cue.
        let turned = way.length_squared() / (2.0 * radius * along) * self.map.hand.azimuth;
        BOUND * (1.0 - 2.0 * below(-0.5 * width / turned))
    }

    /// The chance that the standard stroke makes the ball on into `pocket`.
    pub fn chance(&self, pocket: PocketId) -> f64 {
        self.map.windows(pocket).and_then(|windows| self.chance_through(windows)).unwrap_or(0.0)
    }

    /// `None` if there is no stroke that sends the ball on there.
    fn chance_through(&self, windows: &Windows) -> Option<f64> {
        let map = self.map;
        let main = windows.main()?;
        let goal = windows.line + 0.5 * main.usual().iter().sum::<f64>();
        let mut stroke = standard(map, self.balls, self.from, goal, windows.speed)?;
        let aside = wrap_angle(stroke.azimuth - self.straight.full);
        for _ in 0..2 {
            if let Some((_, [speed, _])) = self.straight.hit(aside, Launch::of(&stroke)) {
                stroke.speed = corrected(stroke.speed, windows.speed, speed);
            }
        }
        let launch = Launch::of(&stroke);
        let main = self.ways(windows, main, launch)?;
        let middle = 0.5 * (main.seen[0] + main.seen[1]);
        stroke.azimuth = self.straight.full + middle;
        let awkward = awkwardness(map.arena.card(), self.balls, &stroke);
        let sigma = self.sigma(&stroke, awkward, middle)?;

        let mut all: ArrayVec<Ways, 4> = ArrayVec::new();
        for window in &windows.all {
            let ways = if std::ptr::eq(window, main.window) {
                Some(main)
            } else {
                self.ways(windows, window, launch)
            };
            let reach = FAR * sigma;
            let is_near =
                |ways: &Ways| ways.seen[0] < middle + reach && ways.seen[1] > middle - reach;
            if let Some(ways) = ways.filter(is_near) {
                let _ = all.try_push(ways);
            }
        }
        let at = |sigmas: f64| {
            let wobble = Wobble { speed: sigmas, ..Wobble::default() };
            let launch = Launch::of(&map.hand.strike(&stroke, &wobble, awkward));
            let share = |ways: &Ways| {
                let [low, high] = self.met(windows, ways, launch);
                (below((high - middle) / sigma) - below((low - middle) / sigma)).max(0.0)
            };
            all.iter().map(share).sum::<f64>().min(1.0)
        };
        let chances = SPEEDS.map(|(sigmas, _)| at(sigmas));
        let [least, most] = [f64::min, f64::max].map(|of| chances.into_iter().fold(chances[0], of));
        if most - least < UNEVEN {
            let weighed = SPEEDS.iter().zip(chances).map(|((_, weight), chance)| weight * chance);
            // The weights are rounded.
            return Some(weighed.sum::<f64>().min(1.0));
        }
        let plain = |share: f64| at(quantile(share.clamp(1e-5, 1.0 - 1e-5)));
        let marks = [0.0, 0.25, 0.5, 0.75, 1.0];
        let taken = marks.map(plain);
        let step =
            |k: usize| between([marks[k], marks[k + 1]], [taken[k], taken[k + 1]], CHANGE, &plain);
        Some((0..4).map(step).sum())
    }

    /// The ways into a window at the standard speed; `None` if other balls hide all of them.
    #[inline(never)]
    fn ways<'w>(
        &self,
        windows: &Windows,
        window: &'w PotWindow,
        launch: Launch,
    ) -> Option<Ways<'w>> {
        let guess = window.usual().map(|turn| self.straight.way_to(windows.line + turn));
        let edges = [1, 0].map(|side| self.edge(windows, window, side, guess[side], launch).0);
        let seen = clipped(self.map, self.from, edges.map(|edge| self.straight.full + edge))?;
        Some(Ways { window, edges, seen: seen.map(|way| way - self.straight.full) })
    }

    /// The directions that send the ball on into a window, the lower first, without what is
    /// hidden.
    #[inline(never)]
    fn met(&self, windows: &Windows, ways: &Ways, launch: Launch) -> [f64; 2] {
        let ends = [(1, ways.edges[0]), (0, ways.edges[1])]
            .map(|(side, guess)| self.edge(windows, ways.window, side, guess, launch));
        let [mut low, mut high] = ends.map(|(end, _)| end);
        if low < high && !ends.iter().all(|(_, is_edge)| *is_edge) {
            // So thin a hit is slow, too, and the window then narrower, or none.
            let is_met = |aside: f64| {
                let Some((turn, given)) = self.straight.hit(aside, launch) else { return false };
                let turn = wrap_angle(self.straight.full + turn - windows.line);
                let edge = |side: usize| windows.edge(ways.window, side, given);
                edge(0) < turn && turn < edge(1)
            };
            let part = |k: i32| low + (high - low) * f64::from(k) / 8.0;
            let Some(inside) = (1..8).map(part).find(|aside| is_met(*aside)) else {
                return [low; 2];
            };
            [low, high] = ends.map(|(end, is_edge)| {
                let (mut within, mut without) = (inside, end);
                for _ in 0..if is_edge { 0 } else { 8 } {
                    let half = 0.5 * (within + without);
                    if is_met(half) { within = half } else { without = half }
                }
                if is_edge { end } else { within }
            });
        }
        let [least, most] = ways.seen;
        // What is hidden begins where it does, whatever the speed.
        [
            if least > ways.edges[0] { low.max(least) } else { low },
            if most < ways.edges[1] { high.min(most) } else { high },
        ]
    }

    /// The direction that sends the ball on along the right (0) or left (1) edge of a window,
    /// from a guess, or else the thinnest hit on that side, and which of both.
    #[inline(never)]
    fn edge(
        &self,
        windows: &Windows,
        window: &PotWindow,
        side: usize,
        guess: f64,
        launch: Launch,
    ) -> (f64, bool) {
        let mut aside = guess.clamp(-self.straight.thinnest, self.straight.thinnest);
        for _ in 0..6 {
            let Some((turn, given)) = self.straight.hit(aside, launch) else { break };
            let turn = wrap_angle(self.straight.full + turn - windows.line);
            let step = (turn - windows.edge(window, side, given)) / self.straight.slope(aside);
            let next = (aside - step).clamp(-self.straight.thinnest, self.straight.thinnest);
            let is_bounded = next.abs() >= self.straight.thinnest;
            if step.abs() < STEP * self.map.hand.azimuth || (is_bounded && next == aside) {
                return (next, !is_bounded);
            }
            aside = next;
        }
        (aside, false)
    }

    /// The error of direction that turns the ball on as much as all errors together but the
    /// speed's, rad; `None` if the ball on is not met on either side.
    fn sigma(&self, stroke: &Stroke, awkward: f64, middle: f64) -> Option<f64> {
        let (map, card) = (self.map, self.map.arena.card());
        let (turned, _) = self.straight.hit(middle, Launch::of(stroke))?;
        // Differences over half a standard deviation, to that side on which there is one.
        let azimuth = 0.5 * awkward * map.hand.azimuth;
        let by_azimuth = [azimuth, -azimuth].into_iter().find_map(|half| {
            Some((self.straight.hit(middle + half, Launch::of(stroke))?.0 - turned) * half.signum())
        })?;
        let tip = 0.5 * awkward * map.hand.tip;
        let higher = Launch::of(&Stroke { height: stroke.height + tip, ..*stroke });
        let by_height = self.straight.hit(middle, higher).map_or(0.0, |(turn, _)| turn - turned);
        let aside = Stroke { side: tip, ..*stroke };
        let by_side = turn(card, self.from, map.balls[0].1, &aside, self.straight.full + turned)
            .map_or(0.0, |(turn, _)| turn);
        let size = (by_azimuth * by_azimuth + by_height * by_height + by_side * by_side).sqrt();
        (by_azimuth < 0.0).then(|| 2.0 * azimuth * size / -by_azimuth)
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::ball::BallId;
    use crate::physics::Arena;
    use crate::shot::HANDS;
    use crate::table::{TableCard, TableSize};

    fn map(others: &[DVec2], hand: usize) -> PotMap {
        let arena = Arena::new(&TableCard::of_size(TableSize::NineFoot));
        let id = |number: usize| BallId::object(number as u8).expect("1 to 15");
        let on = PlacedBall { id: id(1), position: DVec2::new(1.7, 0.9) };
        let mut balls = vec![on];
        let others = others.iter().enumerate();
        balls.extend(others.map(|(k, &position)| PlacedBall { id: id(k + 2), position }));
        PotMap::new(&arena, &balls, on.id, &HANDS[hand].hand).expect("a sound map")
    }

    #[test]
    fn first_chances_are_those_of_the_lines_of_errors() {
        for (others, hand) in [(vec![], 1), (vec![DVec2::new(1.2, 0.6), DVec2::new(2.2, 0.4)], 3)] {
            let map = map(&others, hand);
            let mut offs = Vec::new();
            for k in 0..120 {
                let place =
                    DVec2::new(0.1 + 0.19 * f64::from(k % 12), 0.08 + 0.12 * f64::from(k / 12));
                if !map.is_free(place) {
                    continue;
                }
                for pocket in PocketId::ALL {
                    let chance =
                        map.first_best_from(place, &[pocket]).map_or(0.0, |(_, chance)| chance);
                    let slow = map.quick_pot_from(place, pocket).map_or(0.0, |pot| pot.chance);
                    assert!((0.0..=1.0).contains(&chance), "{pocket:?} from {place}: {chance}");
                    offs.push((chance - slow).abs());
                }
            }
            offs.sort_by(f64::total_cmp);
            let at = |share: f64| offs[(share * (offs.len() - 1) as f64) as usize];
            assert!(at(0.5) < 0.001 && at(0.9) < 0.01, "{} {}", at(0.5), at(0.9));
        }
    }

    #[test]
    fn the_best_is_the_best_of_all_pockets() {
        let map = map(&[DVec2::new(1.2, 0.6)], 2);
        for place in [DVec2::new(0.5, 0.3), DVec2::new(2.2, 1.0), DVec2::new(1.3, 1.1)] {
            let first = |pockets: &[PocketId]| map.first_best_from(place, pockets);
            let (best, chance) = first(&PocketId::ALL).expect("an open ball");
            let all = PocketId::ALL.map(|one| first(&[one]).map_or(0.0, |(_, chance)| chance));
            assert_eq!(chance, all[best as usize], "of {best:?}");
            assert!(all.iter().all(|other| *other <= chance), "{best:?} of {all:?}");
        }
    }
}
