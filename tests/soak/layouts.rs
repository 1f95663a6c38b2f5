//! Layouts that are hard for an event engine: frozen, squeezed, wedged, racked.

use crate::support::Seeded;
use glam::DVec2;
use leaveline::BallId;
use leaveline::physics::PlacedBall;
use leaveline::table::{TableCard, TableShape};
use std::f64::consts::{FRAC_PI_3, PI};

/// Balls that are being placed; the first is the cue ball unless another is named.
pub struct Layout {
    pub card: TableCard,
    pub shape: TableShape,
    pub places: Vec<DVec2>,
    /// Which of them is the cue ball.
    pub cue: usize,
}

impl Layout {
    pub fn new(card: &TableCard) -> Self {
        Self { card: *card, shape: TableShape::new(card), places: Vec::new(), cue: 0 }
    }

    pub fn diameter(&self) -> f64 {
        2.0 * self.card.ball.radius
    }

    /// Adds a ball, if it may stand there.
    pub fn add(&mut self, at: DVec2) -> bool {
        // Balls may stand a nanometre in each other.
        let least = self.diameter() - 0.95e-9;
        let fits = self.places.len() < BallId::MAX_BALLS
            && self.places.iter().all(|other| other.distance(at) >= least)
            && self.shape.refusal(at).is_none();
        if fits {
            self.places.push(at);
        }
        fits
    }

    /// A place anywhere on the cloth, legal or not.
    fn anywhere(&self, seeded: &mut Seeded) -> DVec2 {
        DVec2::new(
            seeded.within(-0.02, self.card.length + 0.02),
            seeded.within(-0.02, self.card.width + 0.02),
        )
    }

    pub fn add_anywhere(&mut self, seeded: &mut Seeded) -> bool {
        (0..200).any(|_| {
            let at = self.anywhere(seeded);
            self.add(at)
        })
    }

    /// Adds a ball that touches `other`, seen from it in direction `angle`.
    fn add_beside(&mut self, other: DVec2, angle: f64, gap: f64) -> bool {
        self.add(other + direction(angle) * (self.diameter() + gap))
    }

    /// Adds a ball that touches two others, on a side of them that is free.
    fn add_in_the_fork(&mut self, seeded: &mut Seeded, gap: f64) -> bool {
        let n = self.places.len() as u64;
        (0..60).any(|_| {
            let one = self.places[seeded.below(n) as usize];
            let two = self.places[seeded.below(n) as usize];
            let (half, reach) = ((two - one) / 2.0, self.diameter() + gap);
            let rise = reach * reach - half.length_squared();
            if half == DVec2::ZERO || rise <= 0.0 {
                return false;
            }
            self.add(one + half + half.perp().normalize() * rise.sqrt())
        })
    }

    /// Adds a ball frozen to another and to a cushion, as near as rounding allows.
    fn add_between_ball_and_cushion(&mut self, seeded: &mut Seeded, gap: f64) -> bool {
        let n = self.places.len() as u64;
        (0..60).any(|_| {
            let other = self.places[seeded.below(n) as usize];
            let wall = self.shape.walls[seeded.below(18) as usize];
            let reach = self.diameter() + gap;
            let drop = wall.height_of(other) - self.shape.touch_distance;
            let along = reach * reach - drop * drop;
            if along < 0.0 {
                return false;
            }
            let side = if seeded.below(2) == 0 { 1.0 } else { -1.0 };
            self.add(other - wall.normal * drop + wall.along * (side * along.sqrt()))
        })
    }

    /// The whole as balls with numbers.
    pub fn balls(&self, seeded: &mut Seeded) -> Vec<PlacedBall> {
        let mut numbers: Vec<u8> = (1..16).collect();
        let mut id = |k: usize| {
            if k == self.cue {
                return BallId::CUE;
            }
            let number = numbers.swap_remove(seeded.below(numbers.len() as u64) as usize);
            BallId::object(number).expect("1 to 15")
        };
        let ids: Vec<BallId> = (0..self.places.len()).map(&mut id).collect();
        ids.into_iter()
            .zip(&self.places)
            .map(|(id, &position)| PlacedBall { id, position })
            .collect()
    }
}

pub fn direction(angle: f64) -> DVec2 {
    DVec2::new(angle.cos(), angle.sin())
}

/// None, a hair's breadth, or as much overlap as is legal, m.
fn tiny_gap(seeded: &mut Seeded) -> f64 {
    match seeded.below(4) {
        0 | 1 => 0.0,
        2 => 10.0_f64.powf(seeded.within(-12.0, -4.0)),
        _ => -seeded.within(0.0, 0.9e-9),
    }
}

/// Any direction, or one of the twelve that are special in a rack.
fn any_angle(seeded: &mut Seeded) -> f64 {
    if seeded.below(2) == 0 {
        return seeded.within(-PI, PI);
    }
    seeded.below(12) as f64 * (FRAC_PI_3 / 2.0)
}

/// Balls frozen to each other in twos and threes, and to rails, among loose ones.
pub fn scatter(seeded: &mut Seeded, layout: &mut Layout) {
    let n = 1 + seeded.below(16) as usize;
    layout.add_anywhere(seeded);
    for _ in 0..3 * n {
        if layout.places.len() == n {
            break;
        }
        let other = layout.places[seeded.below(layout.places.len() as u64) as usize];
        let (angle, gap) = (any_angle(seeded), tiny_gap(seeded));
        match seeded.below(8) {
            0 | 1 => layout.add_beside(other, angle, gap),
            2 => layout.add_in_the_fork(seeded, gap),
            3 => layout.add_between_ball_and_cushion(seeded, gap),
            _ => layout.add_anywhere(seeded),
        };
    }
}

/// Fifteen or nine balls in a tight rack, with the cue ball anywhere else.
pub fn rack(seeded: &mut Seeded, layout: &mut Layout) {
    let gap = match seeded.below(3) {
        0 => 0.0,
        _ => 10.0_f64.powf(seeded.within(-12.0, -4.0)),
    };
    // The rows of a triangle, and of a diamond.
    let rows: &[i32] = if seeded.below(2) == 0 { &[1, 2, 3, 4, 5] } else { &[1, 2, 3, 2, 1] };
    let (apex, turn) = match seeded.below(3) {
        0 => (layout.anywhere(seeded), any_angle(seeded)),
        _ => (DVec2::new(0.75 * layout.card.length, 0.5 * layout.card.width), 0.0),
    };
    let (ahead, pitch) = (direction(turn), layout.diameter() + gap);
    for (row, &n) in rows.iter().enumerate() {
        for k in 0..n {
            let across = (f64::from(k) - 0.5 * f64::from(n - 1)) * pitch;
            let deep = row as f64 * pitch * 0.75_f64.sqrt();
            // Each a little out of its place, but by no more than the gaps allow.
            let off = direction(seeded.within(-PI, PI)) * seeded.within(0.0, 0.5 * gap);
            layout.add(apex + ahead * deep + ahead.perp() * across + off);
        }
    }
    place_the_cue_ball(seeded, layout);
}

/// A frozen row that the cue ball strikes at its end, or from its middle.
pub fn line(seeded: &mut Seeded, layout: &mut Layout) {
    let (ahead, gap) = (any_angle(seeded), tiny_gap(seeded));
    layout.add_anywhere(seeded);
    for _ in 0..1 + seeded.below(14) {
        let last = *layout.places.last().expect("a first ball");
        if !layout.add_beside(last, ahead, gap) {
            break;
        }
    }
    if seeded.below(2) == 0 {
        place_the_cue_ball(seeded, layout);
    } else {
        layout.cue = seeded.below(layout.places.len() as u64) as usize;
    }
}

/// Balls frozen to rails and facings, and to each other along them.
pub fn rail(seeded: &mut Seeded, layout: &mut Layout) {
    for _ in 0..1 + seeded.below(12) {
        let wall = layout.shape.walls[seeded.below(18) as usize];
        let gap = tiny_gap(seeded);
        let foot = wall.from + wall.along * seeded.within(0.0, wall.length);
        layout.add(foot + wall.normal * (layout.shape.touch_distance + gap));
        if !layout.places.is_empty() && seeded.below(2) == 0 {
            layout.add_between_ball_and_cushion(seeded, gap);
        }
    }
    place_the_cue_ball(seeded, layout);
}

/// A ball between another and a cushion, or between two frozen ones, and the cue
/// ball frozen to it or not.
pub fn squeeze(seeded: &mut Seeded, layout: &mut Layout) {
    if seeded.below(2) == 0 {
        let wall = layout.shape.walls[seeded.below(6) as usize];
        let foot = wall.from + wall.along * seeded.within(0.0, wall.length);
        layout.add(foot + wall.normal * layout.shape.touch_distance);
        let out = wall.normal.y.atan2(wall.normal.x);
        // Straight out of the rail, or aslant.
        let lean = if seeded.below(2) == 0 { 0.0 } else { seeded.within(-1.4, 1.4) };
        for _ in 0..1 + seeded.below(4) {
            let Some(&last) = layout.places.last() else { break };
            layout.add_beside(last, out + lean, tiny_gap(seeded));
        }
    } else {
        layout.add_anywhere(seeded);
        let first = layout.places[0];
        let angle = any_angle(seeded);
        layout.add_beside(first, angle, tiny_gap(seeded));
        layout.add_beside(first, angle + PI - seeded.within(0.0, 0.3), tiny_gap(seeded));
    }
    for _ in 0..seeded.below(4) {
        layout.add_anywhere(seeded);
    }
    if seeded.below(2) == 0 {
        place_the_cue_ball(seeded, layout);
    } else if !layout.places.is_empty() {
        layout.cue = seeded.below(layout.places.len() as u64) as usize;
    }
}

/// Clusters that hang in a pocket's jaws.
pub fn pocket(seeded: &mut Seeded, layout: &mut Layout) {
    let pocket = layout.shape.pockets[seeded.below(6) as usize];
    let touch = layout.shape.touch_distance;
    for _ in 0..1 + seeded.below(12) {
        let gap = tiny_gap(seeded);
        match seeded.below(6) {
            // On the brink of the hole.
            0 => {
                let back = (-pocket.axis).y.atan2((-pocket.axis).x) + seeded.within(-1.0, 1.0);
                let brink = 10.0_f64.powf(seeded.within(-12.0, -2.0));
                layout.add(pocket.hole + direction(back) * (pocket.hole_radius + brink));
            }
            // Against a jaw point or a facing.
            1 | 2 => {
                let jaw = layout.shape.jaw_points[seeded.below(12) as usize];
                layout.add(jaw.position + direction(seeded.within(-PI, PI)) * (touch + gap.abs()));
            }
            3 if !layout.places.is_empty() => {
                layout.add_between_ball_and_cushion(seeded, gap);
            }
            4 if layout.places.len() > 1 => {
                layout.add_in_the_fork(seeded, gap);
            }
            _ => {
                let spread = 0.15;
                let off =
                    DVec2::new(seeded.within(-spread, spread), seeded.within(-spread, spread));
                layout.add(pocket.mouth_middle + off);
            }
        }
    }
    place_the_cue_ball(seeded, layout);
}

/// A close cluster, anywhere, with the cue ball inside or out.
pub fn nest(seeded: &mut Seeded, layout: &mut Layout) {
    layout.add_anywhere(seeded);
    let (angle, gap) = (any_angle(seeded), tiny_gap(seeded));
    layout.add_beside(layout.places[0], angle, gap);
    for _ in 0..seeded.below(15) {
        let gap = tiny_gap(seeded);
        if layout.places.len() < 2 || seeded.below(8) == 0 {
            layout.add_between_ball_and_cushion(seeded, gap);
        } else {
            layout.add_in_the_fork(seeded, gap);
        }
    }
    if seeded.below(2) == 0 {
        place_the_cue_ball(seeded, layout);
    } else {
        layout.cue = seeded.below(layout.places.len() as u64) as usize;
    }
}

/// A row of balls wedged in from rail to rail, on a table that is just so wide.
pub fn wedge(seeded: &mut Seeded, layout: &mut Layout) {
    let n = 5 + seeded.below(11) as usize;
    let gap = tiny_gap(seeded).max(-1e-10);
    let mut card = layout.card;
    let pitch = 2.0 * card.ball.radius + gap;
    card.width = 2.0 * card.touch_distance() + pitch * (n - 1) as f64;
    if card.check().is_err() {
        return scatter(seeded, layout);
    }
    *layout = Layout::new(&card);
    let x = seeded.within(0.1, 0.9) * card.length;
    for k in 0..n {
        layout.add(DVec2::new(x, card.touch_distance() + pitch * k as f64));
    }
    for _ in 0..seeded.below(3) {
        layout.add_in_the_fork(seeded, gap);
    }
    if seeded.below(3) > 0 {
        place_the_cue_ball(seeded, layout);
    } else if !layout.places.is_empty() {
        layout.cue = seeded.below(layout.places.len() as u64) as usize;
    }
}

/// Adds the cue ball: anywhere, or frozen to what is there.
fn place_the_cue_ball(seeded: &mut Seeded, layout: &mut Layout) {
    let n = layout.places.len();
    if n > 0 && seeded.below(6) == 0 {
        let other = layout.places[seeded.below(n as u64) as usize];
        layout.add_beside(other, any_angle(seeded), 0.0);
    }
    if layout.places.len() == n {
        layout.add_anywhere(seeded);
    }
    // On a full table it is the last of those that stand there.
    layout.cue = layout.places.len() - 1;
}
