//! What becomes of the object ball, followed no further than it takes to know.

use crate::ball::BallId;
use crate::physics::{Arena, Course, Event, EventKind, Listen, PlacedBall, Stroke};
use crate::table::{PocketId, Rail, Surface};
use glam::DVec2;

/// The way of the cue ball to the object ball.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Route {
    /// Straight to it.
    BallFirst,
    /// Off this rail, once.
    CushionFirst(Rail),
}

/// What becomes of the object ball.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Fate {
    /// It falls where it should, having met nothing but the pocket's jaws and the rails
    /// that lead to it.
    Potted,
    /// The cue ball meets another ball before it.
    CueMeets(BallId),
    /// The cue ball meets a cushion that is not on its way.
    CueMeetsCushion,
    /// The cue ball falls before it meets the object ball, or stops.
    NotReached,
    /// The object ball meets another.
    Meets(BallId),
    /// The object ball meets a cushion that does not lead to the pocket, or falls into
    /// another pocket.
    Astray,
    /// The object ball met the jaws and stays out.
    Rattles,
    /// The object ball stops on its way.
    TooSlow,
}

/// A ball to be potted, and the table on which it is tried.
#[derive(Clone, Copy)]
pub(super) struct Task<'a> {
    pub arena: &'a Arena,
    pub balls: &'a [PlacedBall],
    /// Places of the cue ball and the object ball among the balls.
    pub cue: usize,
    pub object: usize,
    pub pocket: PocketId,
}

impl<'a> Task<'a> {
    /// `None` if one of the two balls is not there.
    pub fn new(
        arena: &'a Arena,
        balls: &'a [PlacedBall],
        object: BallId,
        pocket: PocketId,
    ) -> Option<Self> {
        let place = |id: BallId| balls.iter().position(|ball| ball.id == id);
        let (cue, object) = (place(BallId::CUE)?, place(object).filter(|_| !object.is_cue())?);
        Some(Self { arena, balls, cue, object, pocket })
    }

    pub fn cue_ball(&self) -> DVec2 {
        self.balls[self.cue].position
    }

    pub fn object_ball(&self) -> DVec2 {
        self.balls[self.object].position
    }

    /// Plays `stroke`; also gives the velocity with which the object ball leaves.
    pub fn fate(&self, stroke: &Stroke, route: Route) -> (Fate, DVec2) {
        let mut watch = Watch {
            object: self.balls[self.object].id,
            place: self.object,
            pocket: self.pocket,
            route,
            off_rail: false,
            met: false,
            in_jaws: false,
            velocity: DVec2::ZERO,
            fate: None,
        };
        self.arena.strike(self.balls, stroke, &mut watch);
        let unsettled = match (watch.met, watch.in_jaws) {
            (false, _) => Fate::NotReached,
            (true, true) => Fate::Rattles,
            (true, false) => Fate::TooSlow,
        };
        (watch.fate.unwrap_or(unsettled), watch.velocity)
    }

    /// Whether `stroke` turned to `azimuth` pots the ball.
    pub fn pots(&self, stroke: &Stroke, azimuth: f64, route: Route) -> bool {
        self.fate(&Stroke { azimuth, ..*stroke }, route).0 == Fate::Potted
    }
}

struct Watch {
    object: BallId,
    place: usize,
    pocket: PocketId,
    route: Route,
    /// The cue ball has met the rail that is on its route.
    off_rail: bool,
    met: bool,
    in_jaws: bool,
    velocity: DVec2,
    fate: Option<Fate>,
}

impl Watch {
    /// What the cue ball meets before the object ball.
    fn on_the_way(&mut self, event: Event) {
        match event.kind {
            EventKind::Contact(other) if event.ball.is_cue() => {
                let ready = self.route == Route::BallFirst || self.off_rail;
                match other == self.object {
                    true if ready => self.met = true,
                    true => self.fate = Some(Fate::CueMeetsCushion),
                    false => self.fate = Some(Fate::CueMeets(other)),
                }
            }
            EventKind::Cushion(surface) if event.ball.is_cue() => match self.route {
                Route::CushionFirst(rail) if surface == Surface::Rail(rail) && !self.off_rail => {
                    self.off_rail = true;
                }
                _ => self.fate = Some(Fate::CueMeetsCushion),
            },
            EventKind::Pocketed(_) | EventKind::Stop if event.ball.is_cue() => {
                self.fate = Some(Fate::NotReached);
            }
            _ => {}
        }
    }

    /// What the object ball meets.
    fn after_it(&mut self, event: Event) {
        match event.kind {
            EventKind::Contact(other) => {
                let (one, two) = (event.ball, other);
                let met = if one == self.object { two } else { one };
                // That the cue ball follows it once more is no matter.
                if (one == self.object || two == self.object) && !met.is_cue() {
                    self.fate = Some(Fate::Meets(met));
                }
            }
            _ if event.ball != self.object => {}
            EventKind::Cushion(Surface::Pocket(pocket)) if pocket == self.pocket => {
                self.in_jaws = true;
            }
            EventKind::Cushion(Surface::Rail(rail)) if leads_to(rail, self.pocket) => {}
            EventKind::Cushion(_) => {
                self.fate = Some(if self.in_jaws { Fate::Rattles } else { Fate::Astray });
            }
            EventKind::Pocketed(pocket) => {
                let potted = pocket == self.pocket;
                self.fate = Some(if potted { Fate::Potted } else { Fate::Astray });
            }
            EventKind::Stop => {
                self.fate = Some(if self.in_jaws { Fate::Rattles } else { Fate::TooSlow });
            }
            EventKind::Strike | EventKind::Roll => {}
        }
    }
}

impl Listen for Watch {
    fn event(&mut self, event: Event) {
        if self.fate.is_some() {
            return;
        }
        if self.met { self.after_it(event) } else { self.on_the_way(event) }
    }

    fn leg(&mut self, place: usize, course: &Course, _since: f64, _until: f64) {
        if place == self.place && self.met && self.velocity == DVec2::ZERO {
            self.velocity = course.start.velocity;
        }
    }

    fn has_heard_enough(&self) -> bool {
        self.fate.is_some()
    }
}

/// Whether a ball can run along `rail` into `pocket`.
pub(in crate::shot) fn leads_to(rail: Rail, pocket: PocketId) -> bool {
    use PocketId::{FootLeft, FootRight, HeadLeft, HeadRight, SideLeft, SideRight};
    match rail {
        Rail::Head => matches!(pocket, HeadRight | HeadLeft),
        Rail::Foot => matches!(pocket, FootRight | FootLeft),
        Rail::Right => matches!(pocket, HeadRight | FootRight | SideRight),
        Rail::Left => matches!(pocket, HeadLeft | FootLeft | SideLeft),
    }
}
