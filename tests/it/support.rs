//! What several tests share: seeded numbers, layouts, shots.

use glam::DVec2;
use leaveline::BallId;
use leaveline::physics::{PlacedBall, Shot, Stroke};
use leaveline::table::{TableCard, TableShape, TableSize};
use std::f64::consts::PI;

/// Seeded numbers, the same on every machine.
///
/// Source: Steele, Lea and Flood 2014, OOPSLA, the splitmix64 generator
/// (constants from memory; the tests only need them to be fixed).
pub struct Seeded(u64);

impl Seeded {
    pub fn new(seed: u64) -> Self {
        Self(seed)
    }

    fn bits(&mut self) -> u64 {
        self.0 = self.0.wrapping_add(0x9e37_79b9_7f4a_7c15);
        let mut z = self.0;
        z = (z ^ (z >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
        z = (z ^ (z >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
        z ^ (z >> 31)
    }

    /// Even in `low..high`.
    pub fn within(&mut self, low: f64, high: f64) -> f64 {
        low + (high - low) * ((self.bits() >> 11) as f64 / (1_u64 << 53) as f64)
    }

    /// Even in `0..n`.
    pub fn below(&mut self, n: u64) -> u64 {
        self.bits() % n
    }
}

/// A legal place for a ball that overlaps none of `balls`, or `None` when a few
/// tries found none.
pub fn free_place(
    seeded: &mut Seeded,
    card: &TableCard,
    shape: &TableShape,
    balls: &[PlacedBall],
) -> Option<DVec2> {
    (0..50).find_map(|_| {
        let at = DVec2::new(
            seeded.within(-0.02, card.length + 0.02),
            seeded.within(-0.02, card.width + 0.02),
        );
        let free = balls.iter().all(|ball| (ball.position - at).length() >= 2.0 * card.ball.radius);
        (free && shape.refusal(at).is_none()).then_some(at)
    })
}

/// A shot with `n_balls` balls anywhere on a table of any size, some of them frozen
/// to each other or to a rail, and any stroke.
pub fn any_shot(seeded: &mut Seeded, n_balls: usize) -> Shot {
    let card = TableCard::of_size(any_size(seeded));
    any_shot_on(seeded, card, n_balls)
}

/// Any of the table sizes.
pub fn any_size(seeded: &mut Seeded) -> TableSize {
    TableSize::ALL[seeded.below(3) as usize]
}

/// Like [`any_shot`], on the table of `card`.
pub fn any_shot_on(seeded: &mut Seeded, card: TableCard, n_balls: usize) -> Shot {
    let shape = TableShape::new(&card);
    let mut balls: Vec<PlacedBall> = Vec::new();
    let mut ids: Vec<u8> = (0..16).collect();
    while balls.len() < n_balls {
        let place = if !balls.is_empty() && seeded.below(4) == 0 {
            // Frozen to a ball that is there already.
            let other = balls[seeded.below(balls.len() as u64) as usize].position;
            let angle = seeded.within(-PI, PI);
            let at = other + direction(angle) * (2.0 * card.ball.radius);
            let free = balls
                .iter()
                .all(|ball| (ball.position - at).length() >= 2.0 * card.ball.radius - 1e-12);
            (free && shape.refusal(at).is_none()).then_some(at)
        } else {
            free_place(seeded, &card, &shape, &balls).map(|at| {
                if seeded.below(8) > 0 {
                    return at;
                }
                // Frozen to the head rail, where nothing else is in the way.
                let at = DVec2::new(shape.touch_distance, at.y);
                let free = balls
                    .iter()
                    .all(|ball| (ball.position - at).length() >= 2.0 * card.ball.radius);
                if free && shape.refusal(at).is_none() { at } else { DVec2::new(-1.0, -1.0) }
            })
        };
        let Some(position) = place.filter(|at| at.x > -0.5) else { continue };
        let id = if balls.is_empty() {
            BallId::CUE
        } else {
            let k = 1 + seeded.below(ids.len() as u64 - 1) as usize;
            BallId::object(ids.swap_remove(k)).expect("1 to 15")
        };
        balls.push(PlacedBall { id, position });
    }
    Shot { card, balls, stroke: any_stroke(seeded) }
}

/// The unit vector at `angle`, rad. By libm like everything drawn from a seed: the
/// system's own functions differ from machine to machine.
pub fn direction(angle: f64) -> DVec2 {
    DVec2::new(libm::cos(angle), libm::sin(angle))
}

/// Any legal stroke, slow ones as likely as fast ones.
pub fn any_stroke(seeded: &mut Seeded) -> Stroke {
    let offset = direction(seeded.within(-PI, PI)) * (0.5 * seeded.within(0.0, 1.0).sqrt());
    Stroke {
        azimuth: seeded.within(-PI, PI),
        elevation: if seeded.below(3) == 0 { seeded.within(0.0, 1.2) } else { 0.0 },
        speed: libm::exp(seeded.within(-3.0, 2.2)),
        side: offset.x,
        height: offset.y,
    }
}
