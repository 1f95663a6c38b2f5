//! What happens at one moment: everything that touches is played, and new courses begin.

use super::Simulation;
use crate::ball::{BallId, BallMotion, Phase};
use crate::physics::barrier::is_clear;
use crate::physics::contacts::{Contacts, Laws, Met};
use crate::physics::gap::TOUCH;
use crate::physics::motion::{Course, NO_SPEED, slip};
use crate::physics::rest::{lean_courses, stop_fading};
use crate::physics::short_list::OfBalls;
use crate::physics::shot::EventKind;
use glam::DVec2;

impl Simulation<'_> {
    /// Plays every contact of this moment in the cluster of balls that touch those
    /// at `seeds`, and draws up the cluster's courses anew.
    pub(super) fn settle(&mut self, seeds: &[usize]) {
        let cluster = self.cluster_of(seeds);
        let mut motions = OfBalls::new();
        motions.extend(cluster.iter().map(|&place| self.leaning_motion(place)));
        if matches!(motions[..], [motion] if is_clear(self.arena.shape(), motion.position)) {
            self.begin(&cluster, &motions);
        } else {
            self.touch(&cluster, &mut motions);
        }
        for place in cluster {
            let body = &mut self.bodies[place];
            let rested = body.rests;
            body.rests = body.course.phase == Phase::AtRest;
            if body.rests && !rested {
                let position = body.course.start.position;
                self.tell(place, EventKind::Stop, position);
            }
            self.look_ahead(place);
        }
    }

    /// Gives every ball of the cluster, which may touch something, its new course.
    fn touch(&mut self, cluster: &[usize], motions: &mut [BallMotion]) {
        let contacts = Contacts::find(self.arena.shape(), motions, self.arena.card().ball.radius);
        if contacts.is_empty() {
            return self.begin(cluster, motions);
        }
        contacts.part_overlaps(motions);
        self.play_impacts(cluster, motions, &contacts);
        self.begin(cluster, motions);
        self.lean(cluster, &contacts);
    }

    /// Begins a course of each ball of the cluster as if it were alone.
    fn begin(&mut self, cluster: &[usize], motions: &[BallMotion]) {
        for (&place, motion) in cluster.iter().zip(motions) {
            self.start_leg(place, *motion);
            let body = &mut self.bodies[place];
            (body.leans, body.held_balls, body.held_walls) = (false, 0, 0);
        }
    }

    fn play_impacts(&mut self, cluster: &[usize], motions: &mut [BallMotion], contacts: &Contacts) {
        let arena = self.arena;
        let laws = Laws {
            ball: &arena.card().ball_contact,
            cushion: arena.law(),
            cloth: &arena.card().cloth,
        };
        let places: OfBalls<DVec2> = motions.iter().map(|motion| motion.position).collect();
        contacts.impacts(motions, &laws, &mut |met| match met {
            Met::Balls(one, two) => {
                let (a, b) = (cluster[one], cluster[two]);
                let first = self.bodies[a].id < self.bodies[b].id;
                let (low, high) = if first { (a, b) } else { (b, a) };
                let position = self.position_now(low);
                self.tell(low, EventKind::Contact(self.bodies[high].id), position);
            }
            Met::Cushion(ball, surface) => {
                self.tell(cluster[ball], EventKind::Cushion(surface), places[ball]);
            }
        });
    }

    /// The places of all balls that touch those at `seeds`, directly or through
    /// others, in order.
    fn cluster_of(&self, seeds: &[usize]) -> OfBalls<usize> {
        let reach = 2.0 * self.arena.card().ball.radius + TOUCH;
        let n = self.bodies.len();
        let mut found = [false; BallId::MAX_BALLS];
        let mut unchecked: OfBalls<usize> = OfBalls::new();
        for &seed in seeds {
            found[seed] = true;
            unchecked.push(seed);
        }
        while let Some(place) = unchecked.pop() {
            let at = self.position_now(place);
            for (other, found) in found[..n].iter_mut().enumerate() {
                if !*found
                    && self.bodies[other].pocket.is_none()
                    && (self.position_now(other) - at).length_squared() <= reach * reach
                {
                    *found = true;
                    unchecked.push(other);
                }
            }
        }
        (0..n).filter(|&place| found[place]).collect()
    }

    /// Draws up anew the courses that have just begun where something is pressed.
    fn lean(&mut self, cluster: &[usize], contacts: &Contacts) {
        let (radius, cloth) = (self.arena.card().ball.radius, self.arena.card().cloth);
        let mut courses: OfBalls<Course> =
            cluster.iter().map(|&place| self.bodies[place].course).collect();
        let touches = contacts.touches();
        let pressed = lean_courses(&mut courses, &touches, radius, &cloth);
        if pressed.is_empty() {
            return;
        }
        for (&place, course) in cluster.iter().zip(courses) {
            let body = &mut self.bodies[place];
            body.leans = course != body.course;
            body.course = course;
        }
        for (k, _) in pressed.iter().enumerate().filter(|(_, pressed)| **pressed) {
            let place = cluster[touches[k].ball];
            match touches[k].other {
                Some(other) => {
                    let other = cluster[other];
                    self.bodies[place].held_balls |= 1 << other;
                    self.bodies[other].held_balls |= 1 << place;
                }
                None => {
                    self.bodies[place].held_walls |= contacts.cushions[k - contacts.pairs.len()].bit
                }
            }
        }
    }

    /// The ball's state now, without what the cloth has all but taken from it while
    /// it leaned.
    fn leaning_motion(&mut self, place: usize) -> BallMotion {
        let mut motion = self.motion_now(place);
        let body = &self.bodies[place];
        if body.leans {
            let radius = self.arena.card().ball.radius;
            stop_fading(&body.course, &mut motion, radius, &self.arena.card().cloth);
            if body.course.phase == Phase::Sliding && slip(&motion, radius).length() <= NO_SPEED {
                self.tell(place, EventKind::Roll, motion.position);
            }
        }
        motion
    }
}
