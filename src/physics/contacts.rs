//! Everything that touches at one moment, and the impacts that follow from it.

use super::ball_ball::{closing_speed, collide};
use super::barrier::{faces, is_clear, jaw_bit, wall_bit};
use super::cluster::{Pair, impact_together};
use super::cushion::CushionLaw;
use super::gap::{BEHIND, TOUCH};
use super::rest::{RESTING_SPEED, Touch};
use super::short_list::{MOST_CONTACTS, OfBalls, OfContacts};
use super::slow_contacts::stop_closing;
use crate::ball::BallMotion;
use crate::table::{BallContact, Cloth, Surface, TableShape};
use glam::DVec2;

/// Most rounds in which impacts of one moment set off others at that moment (tuning
/// choice: of 20,000 random shots on common tables, wedged rows apart, none had
/// more). To meet ever again within no time is to be pressed: what still closes then
/// is stopped without a bounce, as in models where a contact that returns within its
/// own duration loses its restitution.
///
/// # Source
/// Luding and McNamara 1998, Granular Matter 1, 113 (restitution by the time since
/// the last contact); from memory.
const MOST_ROUNDS: u32 = 40;

/// Most rounds in which overlaps are parted: each leaves a row of sixteen balls
/// between two rails with a thirtieth less (tuning choice).
const MOST_PARTINGS: u32 = 400;

/// Overlaps below this are left alone, m (tuning choice).
const OVERLAP: f64 = 0.1 * TOUCH;

/// A cushion that a ball of a cluster touches.
pub(super) struct CushionTouch {
    /// Place of the ball in the cluster.
    pub ball: usize,
    /// Toward the table.
    pub normal: DVec2,
    pub surface: Surface,
    /// The mark of the wall or jaw point in a ball's mask.
    pub bit: u32,
    /// Radius of the circle that the centre can follow: infinite along a wall.
    reach: f64,
    /// Distance left between ball and cushion, m; negative inside it.
    gap: f64,
}

/// What a cluster of balls touches, by their places in the cluster.
pub(super) struct Contacts {
    /// Balls that touch each other.
    pub pairs: OfContacts<Pair>,
    /// Cushions that balls touch.
    pub cushions: OfContacts<CushionTouch>,
    radius: f64,
}

/// The laws of an impact.
pub(super) struct Laws<'a> {
    /// Ball on ball.
    pub ball: &'a BallContact,
    /// Ball on cushion.
    pub cushion: &'a CushionLaw,
    /// Ball on cloth.
    pub cloth: &'a Cloth,
}

/// Two things of a cluster that met.
pub(super) enum Met {
    /// Two balls.
    Balls(usize, usize),
    /// A ball and a cushion.
    Cushion(usize, Surface),
}

impl Contacts {
    /// Everything that the balls with these states touch.
    pub fn find(shape: &TableShape, motions: &[BallMotion], radius: f64) -> Self {
        let mut contacts = Self { pairs: OfContacts::new(), cushions: OfContacts::new(), radius };
        contacts.find_pairs(motions);
        contacts.find_cushions(shape, motions);
        contacts
    }

    /// Whether nothing is touched.
    pub fn is_empty(&self) -> bool {
        self.pairs.is_empty() && self.cushions.is_empty()
    }

    /// Pairs, then cushions, as contacts that may rest.
    pub fn touches(&self) -> OfContacts<Touch> {
        let balls = self.pairs.iter().map(|pair| Touch {
            ball: pair.first,
            other: Some(pair.second),
            normal: pair.normal,
            reach: 2.0 * self.radius,
        });
        let fixed = self.cushions.iter().map(|touch| Touch {
            ball: touch.ball,
            other: None,
            normal: -touch.normal,
            reach: touch.reach,
        });
        let mut touches = OfContacts::new();
        touches.extend(balls.chain(fixed).take(MOST_CONTACTS));
        touches
    }

    /// Balls that lean on each other along curved courses creep together by less
    /// than a nanometre: they are put side by side again, and out of the cushions.
    pub fn part_overlaps(&self, motions: &mut [BallMotion]) {
        let starts: OfContacts<DVec2> =
            self.cushions.iter().map(|touch| motions[touch.ball].position).collect();
        // What one ball leaves to the next in a row dies out from round to round.
        for _ in 0..MOST_PARTINGS {
            let mut parted = true;
            for pair in &self.pairs {
                let offset = motions[pair.second].position - motions[pair.first].position;
                let overlap = 2.0 * self.radius - offset.length();
                if overlap > OVERLAP {
                    parted = false;
                    motions[pair.first].position -= pair.normal * (0.5 * overlap);
                    motions[pair.second].position += pair.normal * (0.5 * overlap);
                }
            }
            for (touch, start) in self.cushions.iter().zip(&starts) {
                let moved = (motions[touch.ball].position - *start).dot(touch.normal);
                let depth = -(touch.gap + moved);
                if depth > OVERLAP {
                    parted = false;
                    motions[touch.ball].position += touch.normal * depth;
                }
            }
            if parted {
                return;
            }
        }
    }

    /// Plays all impacts of this moment and tells who met: balls first, since they
    /// are far stiffer than cushions; then cushions; until nothing closes but what
    /// rests.
    pub fn impacts(&self, motions: &mut [BallMotion], laws: &Laws<'_>, tell: &mut impl FnMut(Met)) {
        for _ in 0..MOST_ROUNDS {
            let mut quiet = true;
            let mut meet = |met| {
                quiet = false;
                tell(met);
            };
            self.ball_impacts(motions, laws.ball, &mut meet);
            self.cushion_impacts(motions, laws.cushion, &mut meet);
            if quiet {
                break;
            }
        }
        stop_closing(motions, &self.touches(), self.radius, laws.cloth);
    }

    fn ball_impacts(
        &self,
        motions: &mut [BallMotion],
        law: &BallContact,
        meet: &mut impl FnMut(Met),
    ) {
        let closes = |motions: &[BallMotion], pair: &Pair| {
            closing_speed(&motions[pair.first], &motions[pair.second], pair.normal) > RESTING_SPEED
        };
        if !self.pairs.iter().any(|pair| closes(motions, pair)) {
            return;
        }
        let before: OfBalls<BallMotion> = motions.iter().copied().collect();
        if let [pair] = self.pairs[..] {
            let (one, two) = (&before[pair.first], &before[pair.second]);
            let (one, two) = collide(one, two, pair.normal, self.radius, law);
            (motions[pair.first], motions[pair.second]) = (one, two);
        } else {
            impact_together(motions, &self.pairs, self.radius, law);
        }
        for pair in &self.pairs {
            // In a cluster a contact that closed late is known by the kick it gave.
            let gained = motions[pair.second].velocity - before[pair.second].velocity;
            let lost = before[pair.first].velocity - motions[pair.first].velocity;
            let kick = gained.dot(pair.normal).min(lost.dot(pair.normal));
            if closes(&before, pair) || kick > RESTING_SPEED {
                meet(Met::Balls(pair.first, pair.second));
            }
        }
    }

    fn cushion_impacts(
        &self,
        motions: &mut [BallMotion],
        law: &CushionLaw,
        meet: &mut impl FnMut(Met),
    ) {
        for (ball, motion) in motions.iter_mut().enumerate() {
            let before = *motion;
            let mut closing = self
                .cushions
                .iter()
                .filter(|touch| touch.ball == ball)
                .filter(|touch| -before.velocity.dot(touch.normal) > RESTING_SPEED);
            let (one, two) = (closing.next(), closing.next());
            *motion = match (one, two) {
                (None, _) => continue,
                (Some(one), None) => law.rebound(motion, one.normal),
                (Some(one), Some(two)) => {
                    // Wedged between two cushions: neither order is preferred, and
                    // the mean of two rebounds has no more energy than either.
                    let ahead = law.rebound(&law.rebound(motion, one.normal), two.normal);
                    let back = law.rebound(&law.rebound(motion, two.normal), one.normal);
                    mean(&ahead, &back)
                }
            };
            for touch in [one, two].into_iter().flatten() {
                meet(Met::Cushion(ball, touch.surface));
            }
        }
    }

    fn find_pairs(&mut self, motions: &[BallMotion]) {
        for first in 0..motions.len() {
            for second in first + 1..motions.len() {
                let offset = motions[second].position - motions[first].position;
                let distance = offset.length();
                if distance - 2.0 * self.radius <= TOUCH {
                    add(&mut self.pairs, Pair { first, second, normal: offset / distance });
                }
            }
        }
    }

    fn find_cushions(&mut self, shape: &TableShape, motions: &[BallMotion]) {
        let reach = shape.touch_distance;
        for (ball, motion) in motions.iter().enumerate() {
            let at = motion.position;
            if is_clear(shape, at) {
                continue;
            }
            for (k, wall) in shape.walls.iter().enumerate() {
                let gap = wall.height_of(at) - reach;
                if (-BEHIND..=TOUCH).contains(&gap) && faces(wall, at) {
                    let (normal, surface) = (wall.normal, wall.surface);
                    let (bit, reach) = (wall_bit(k), f64::INFINITY);
                    let touch = CushionTouch { ball, normal, surface, bit, reach, gap };
                    add(&mut self.cushions, touch);
                }
            }
            for (k, jaw) in shape.jaw_points.iter().enumerate() {
                let offset = at - jaw.position;
                let distance = offset.length();
                let gap = distance - reach;
                if gap <= TOUCH {
                    let surface = Surface::Pocket(jaw.pocket);
                    let (normal, bit) = (offset / distance, jaw_bit(k));
                    let touch = CushionTouch { ball, normal, surface, bit, reach, gap };
                    add(&mut self.cushions, touch);
                }
            }
        }
    }
}

/// Adds a contact; there cannot be more than there is room for.
fn add<T>(contacts: &mut OfContacts<T>, contact: T) {
    let full = contacts.try_push(contact).is_err();
    debug_assert!(!full, "more contacts at one moment than balls on a table can have");
}

/// Puts balls side by side that were placed as deep in each other, or in a cushion,
/// as is legal: all at once, since a row of them pushes itself apart.
pub(super) fn part_placed(shape: &TableShape, motions: &mut [BallMotion], radius: f64) {
    for _ in 0..MOST_PARTINGS {
        if !overlap(shape, motions, radius) {
            return;
        }
        Contacts::find(shape, motions, radius).part_overlaps(motions);
    }
}

/// Whether any of the balls stands in another or in a cushion.
fn overlap(shape: &TableShape, motions: &[BallMotion], radius: f64) -> bool {
    motions.iter().enumerate().any(|(k, motion)| {
        let at = motion.position;
        motions[..k].iter().any(|other| 2.0 * radius - (other.position - at).length() > OVERLAP)
            || !is_clear(shape, at)
                && shape.walls.iter().any(|wall| shape.touch_distance - wall.distance(at) > OVERLAP)
    })
}

fn mean(one: &BallMotion, two: &BallMotion) -> BallMotion {
    BallMotion {
        position: one.position,
        velocity: (one.velocity + two.velocity) * 0.5,
        spin: (one.spin + two.spin) * 0.5,
    }
}
