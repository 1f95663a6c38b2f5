//! The directions in which the ball on, alone among the others, goes into a pocket.

use super::edge_search::{Care, WHOLE, intervals, near};
use crate::ball::{BallId, BallMotion};
use crate::geometry::{heading, unit_from_angle};
use crate::physics::{Arena, BallEnd, Event, EventKind, Listen, rolling_spin};
use crate::shot::aim::leads_to;
use crate::table::{PocketId, Surface};
use glam::DVec2;

/// Beyond the pocket the ball on would run so far, m (tuning choice: soft, as a player
/// pots who wants nothing more).
const PAST: f64 = 1.0;

/// What the ball on has from the impact: its speed (m/s), and its spin about the axis on
/// which it rolls as a share of natural roll.
pub type Given = [f64; 2];

/// A rolling cue ball gives the ball on about so much spin backward.
const BACKWARD: f64 = -0.08;

/// Speeds at which the edges are found: the speed with which the ball would reach the
/// pocket without friction's share, as a part of what it has at the standard speed (tuning
/// choice: dense where the ball just arrives, where windows open and close).
const ARRIVALS: [f64; N_SPEEDS] =
    [0.0, 0.15, 0.3, 0.45, 0.6, 0.75, 0.9, 1.0, 1.15, 1.35, 1.6, 2.0, 2.7];
const N_SPEEDS: usize = 13;

/// That of them which is the standard speed.
const STANDARD: usize = 7;

/// Another roll at which the edges are found at the standard speed.
const OTHER_ROLL: f64 = -0.2;

/// A window: right and left edge (rad, against the line to the middle of the mouth) by
/// speed, and how they go with roll.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct PotWindow {
    edges: [[f64; N_SPEEDS]; 2],
    rolls: [f64; 2],
}

impl PotWindow {
    /// Right and left edge at the standard speed.
    pub fn usual(&self) -> [f64; 2] {
        self.edges.map(|edge| edge[STANDARD])
    }
}

/// The windows of one pocket.
#[derive(Clone, Debug, PartialEq)]
pub struct Windows {
    /// Direction from the ball on to the middle of the mouth, rad.
    pub line: f64,
    /// Half the mouth, as the ball on sees it at most, rad.
    pub half_mouth: f64,
    /// Speed that carries the ball on a metre past the pocket, m/s.
    pub speed: f64,
    /// Speed at which it just arrives, m/s.
    pub least: f64,
    speeds: [f64; N_SPEEDS],
    /// From right to left.
    pub all: Vec<PotWindow>,
    /// The direction to the middle of the main one, if there is one.
    pub goal: Option<DVec2>,
}

/// The speed of a ball without spin that rolls as fast in the end.
fn rolled(speed: f64, roll: f64) -> f64 {
    speed * (5.0 + 2.0 * roll) / 5.0
}

impl Windows {
    /// The window round the line to the pocket, not one by way of a rail.
    pub fn main(&self) -> Option<&PotWindow> {
        let aside = |window: &&PotWindow| {
            let [right, left] = window.usual();
            right.max(0.0).max(-left)
        };
        self.all
            .iter()
            .min_by(|a, b| aside(a).total_cmp(&aside(b)))
            .filter(|window| aside(window) <= self.half_mouth)
    }

    /// Right (0) or left (1) edge of `window` for what is given.
    pub fn edge(&self, window: &PotWindow, side: usize, [speed, roll]: Given) -> f64 {
        let rolled = rolled(speed, roll);
        let edge = &window.edges[side];
        let above = self.speeds.iter().position(|&speed| speed > rolled).unwrap_or(N_SPEEDS - 1);
        let below = above.max(1) - 1;
        let above = below + 1;
        let share = (rolled - self.speeds[below]) / (self.speeds[above] - self.speeds[below]);
        let at = edge[below] + (edge[above] - edge[below]) * share.clamp(0.0, 1.0);
        at + (roll - BACKWARD) * window.rolls[side]
    }

    /// The window of `pocket` for a ball at `place`, by the straight way between the jaws:
    /// for whoever has no time to play the ball.
    pub fn guessed(arena: &Arena, place: DVec2, pocket: PocketId) -> Self {
        let pocket = arena.shape().pocket(pocket);
        let way = pocket.mouth_middle - place;
        let distance = way.length().max(1e-9);
        let (speed, least) = (speed_for(arena, distance + PAST), speed_for(arena, distance));
        let line = heading(way);
        let room = 0.5 * pocket.mouth * (way / distance).dot(pocket.axis);
        let half = ((room - arena.card().ball.radius) / distance).min(0.3);
        let speeds = ARRIVALS.map(|part| least + part * (speed - least));
        let mut edges = [[-half; N_SPEEDS], [half; N_SPEEDS]];
        (edges[0][0], edges[1][0]) = (0.0, 0.0);
        let window = PotWindow { edges, rolls: [0.0; 2] };
        let (all, goal) = match half > 0.0 {
            true => (vec![window], Some(unit_from_angle(line))),
            false => (Vec::new(), None),
        };
        Self { line, half_mouth: half.max(0.0), speed, least, speeds, all, goal }
    }

    /// The windows of `pocket` for the ball at `place` of `balls`, which holds no cue ball.
    pub fn find(arena: &Arena, balls: &[(BallId, DVec2)], place: usize, pocket: PocketId) -> Self {
        Self::find_with(WHOLE, arena, balls, place, pocket)
    }

    /// The same, looked for so closely.
    pub(super) fn find_with(
        care: Care,
        arena: &Arena,
        balls: &[(BallId, DVec2)],
        place: usize,
        pocket: PocketId,
    ) -> Self {
        let mouth = arena.shape().pocket(pocket).mouth_middle;
        let way = mouth - balls[place].1;
        let distance = way.length();
        let (speed, least) = (speed_for(arena, distance + PAST), speed_for(arena, distance));
        let reach = (2.0 * arena.shape().pocket(pocket).mouth / distance.max(1e-9)).min(1.2);
        let half_mouth = 0.25 * reach;
        let line = heading(way);
        let mut still: Vec<(BallId, BallMotion)> = balls
            .iter()
            .map(|&(id, position)| (id, BallMotion { position, ..BallMotion::default() }))
            .collect();
        let radius = arena.card().ball.radius;
        let goal = BallEnd::Pocketed(pocket);
        let mut falls = |turn: f64, rolled_speed: f64, roll: f64| {
            let velocity = unit_from_angle(line + turn) * (rolled_speed / rolled(1.0, roll));
            still[place].1.velocity = velocity;
            still[place].1.spin = (rolling_spin(velocity, radius) * roll).extend(0.0);
            let pocket = (!care.is_whole).then_some(pocket);
            let mut watch = Watch { on: still[place].0, pocket, in_jaws: false, is_over: false };
            arena.run(&still, &mut watch)[place] == goal
        };
        let past = rolled(speed, BACKWARD).max(1.02 * least);
        let arrival = (past * past - least * least).sqrt();
        let speeds = ARRIVALS.map(|part| (least * least + part * part * arrival * arrival).sqrt());
        let standard = intervals(care, reach, |turn| falls(turn, past, BACKWARD));
        let all = standard.iter().map(|&usual| {
            let mut edges = [[0.0; N_SPEEDS]; 2];
            let mut set = |k: usize, [right, left]: [f64; 2]| {
                (edges[0][k], edges[1][k]) = (right, left);
            };
            set(STANDARD, usual);
            for is_faster in [false, true] {
                let mut last = usual;
                for step in 1..N_SPEEDS {
                    let k = if is_faster { STANDARD + step } else { STANDARD.wrapping_sub(step) };
                    if !care.speeds.contains(&k) {
                        continue;
                    }
                    // At the least speed there is none.
                    last = match k {
                        0 => [0.5 * (last[0] + last[1]); 2],
                        _ => near(care, last, |turn| falls(turn, speeds[k], BACKWARD)),
                    };
                    set(k, last);
                }
            }
            for pair in care.speeds.windows(2) {
                for edge in &mut edges {
                    draw_straight(edge, &speeds, [pair[0], pair[1]]);
                }
            }
            let other = near(care, usual, |turn| falls(turn, past, OTHER_ROLL));
            let slope = |side: usize| (other[side] - usual[side]) / (OTHER_ROLL - BACKWARD);
            PotWindow { edges, rolls: [slope(0), slope(1)] }
        });
        let mut windows =
            Self { line, half_mouth, speed, least, speeds, all: all.collect(), goal: None };
        let middle = |main: &PotWindow| line + 0.5 * main.usual().iter().sum::<f64>();
        windows.goal = windows.main().map(|main| unit_from_angle(middle(main)));
        windows
    }
}

/// Draws an edge straight between two of the speeds.
fn draw_straight(edge: &mut [f64; N_SPEEDS], speeds: &[f64; N_SPEEDS], [from, to]: [usize; 2]) {
    for k in from + 1..to {
        let share = (speeds[k] - speeds[from]) / (speeds[to] - speeds[from]);
        edge[k] = edge[from] + share * (edge[to] - edge[from]);
    }
}

/// Hears when the ball on has fallen or rests.
struct Watch {
    on: BallId,
    /// The one that it is given up for once it meets a rail that does not lead there, or a
    /// rail after the jaws.
    pocket: Option<PocketId>,
    in_jaws: bool,
    is_over: bool,
}

impl Listen for Watch {
    fn event(&mut self, event: Event) {
        if event.ball != self.on {
            return;
        }
        self.is_over |= match (event.kind, self.pocket) {
            (EventKind::Pocketed(_) | EventKind::Stop, _) => true,
            (EventKind::Cushion(Surface::Pocket(at)), Some(pocket)) => {
                self.in_jaws |= at == pocket;
                at != pocket
            }
            (EventKind::Cushion(Surface::Rail(rail)), Some(pocket)) => {
                self.in_jaws || !leads_to(rail, pocket)
            }
            _ => false,
        };
    }

    fn has_heard_enough(&self) -> bool {
        self.is_over
    }
}

/// The speed (m/s) at which a ball that starts without spin runs so far, m.
fn speed_for(arena: &Arena, distance: f64) -> f64 {
    let cloth = &arena.card().cloth;
    let slide = 12.0 / (49.0 * cloth.sliding_friction * cloth.gravity);
    let roll = 25.0 / (98.0 * cloth.rolling_friction * cloth.gravity);
    (distance / (slide + roll)).sqrt()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::table::{TableCard, TableSize};

    #[test]
    fn a_guess_lies_in_the_window_that_is_found() {
        let arena = Arena::new(&TableCard::of_size(TableSize::NineFoot));
        let ball = BallId::object(3).expect("a ball");
        let place = DVec2::new(1.9, 0.8);
        for pocket in [PocketId::FootLeft, PocketId::FootRight, PocketId::HeadLeft] {
            let found = Windows::find(&arena, &[(ball, place)], 0, pocket);
            let [right, left] = found.main().expect("a way").usual();
            let guess = Windows::guessed(&arena, place, pocket);
            let main = guess.main().expect("a way by sight");
            let [from, to] = main.usual();
            assert_eq!(guess.line, found.line, "toward the same mouth");
            assert!(
                from < to && to - from < 1.5 * (left - right),
                "{from} to {to}, {right} to {left}"
            );
            let middle = 0.5 * (from + to);
            assert!((right..left).contains(&middle), "{middle} in {right} to {left}");
            let slow = [guess.least, BACKWARD];
            assert!(guess.edge(main, 1, slow) < to, "narrow where it just arrives");
        }
    }
}
