//! Why the cue ball ran as it did: the shot is played again from the moment of the
//! contact with one thing changed.
//!
//! Every replay begins with the balls where they really are as the cue ball meets its
//! first ball: the ghost ball, the cut and the speed stay, so nothing differs but what
//! is changed. It is compared with a run from the same moment without any change.

mod facts;
mod run;
mod words;

pub use facts::{Facts, Rebound};
pub use words::{angle as angle_in_words, distance as distance_in_words};

use super::grade::{Dimension, length_of};
use crate::ball::{BallId, BallMotion};
use crate::error::Error;
use crate::order::sort_by_number;
use crate::physics::{Arena, Shot, at_the_strike, rolling_spin};
use crate::table::{PocketId, Rail};
use facts::{Contact, along, facts, from_square, way_off};
use glam::DVec2;
use run::{Run, State, place_of};

/// A path that lies nowhere farther off makes no difference, as a share of the ball's
/// radius (tuning choice: a quarter of a ball is about what the eye can tell).
const NO_DIFFERENCE: f64 = 0.5;

/// An angle that is told, rad (tuning choice: half a degree).
const TOLD: f64 = 0.5 * std::f64::consts::PI / 180.0;

/// What is changed.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Change {
    /// It comes without spin about the vertical and about its own line; follow and draw stay.
    NoSide,
    /// It comes rolling at the same speed; side stays.
    NaturalRoll,
    /// Balls do not rub against each other, now and later.
    NoThrow,
    /// Rails mirror the cue ball, spin and all, and take no speed. The path is followed
    /// for the length of the real one.
    MirrorCushion,
}

impl Change {
    /// All four.
    pub const ALL: [Self; 4] =
        [Self::NoSide, Self::NaturalRoll, Self::NoThrow, Self::MirrorCushion];
}

/// What is told of a replay first.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Amount {
    /// An angle between real and replayed direction, rad, not negative.
    Turned(f64),
    /// How far the real stop lies from the replayed one, m.
    Moved(f64),
    /// Nothing differs that is worth telling.
    Nothing,
}

/// The shot played again with one change.
#[derive(Clone, Debug, PartialEq)]
pub struct Replay {
    /// What was changed.
    pub change: Change,
    /// What came of it.
    pub amount: Amount,
    /// How far the changed path strays from the real one at most, at equal lengths, m.
    pub strays: f64,
    /// The cue ball's changed path from the ghost ball on, m.
    pub path: Vec<DVec2>,
    /// The object ball's, where that is what changes, m.
    pub object_path: Vec<DVec2>,
    /// The pocket into which the cue ball falls.
    pub pocketed: Option<PocketId>,
    /// What differs and by how much, short: "heading by 11°".
    pub text: String,
    /// All of it in a sentence or two.
    pub sentence: String,
    /// The amount drawn on the table, from replayed to real.
    pub dimension: Option<Dimension>,
}

/// Why the cue ball ran as it did.
#[derive(Clone, Debug, PartialEq)]
pub struct Why {
    /// The ball that was met.
    pub first: BallId,
    /// What happened, in numbers.
    pub facts: Facts,
    /// The same in words, each a name and a value.
    pub lines: Vec<(String, String)>,
    /// The replays, the one that matters most first.
    pub replays: Vec<Replay>,
}

/// Explains `shot`; `None` if the cue ball meets no object ball.
///
/// # Errors
/// As [`Shot::check`].
pub fn why(shot: &Shot) -> Result<Option<Why>, Error> {
    shot.check()?;
    let arena = Arena::new(&shot.card);
    let Some(struck) = shot.struck() else { return Ok(None) };
    let strike: State = at_the_strike(&shot.balls, struck);
    let whole = Run::from(&arena, &strike);
    let Some((time, first)) = whole.first_contact() else { return Ok(None) };
    let state = whole.state_before(&strike, time);
    let Some((cue, object)) = place_of(&state, BallId::CUE).zip(place_of(&state, first)) else {
        return Ok(None);
    };
    let balls = [cue, object].map(|place| state[place].1);
    let contact = Contact {
        cue,
        object,
        line: (balls[1].position - balls[0].position).normalize_or_zero(),
        approach: balls[0].velocity.normalize_or_zero(),
    };
    let real = Run::from(&arena, &state);
    let facts = facts(&arena, &state, &real, &contact);
    let scene = Scene { arena: &arena, state: &state, contact, first, real: &real, facts: &facts };
    let mut replays: Vec<Replay> = Change::ALL.map(|change| scene.replay(change)).into();
    sort_by_number(&mut replays, |replay| -replay.strays);
    let lines = words::lines(&facts);
    Ok(Some(Why { first, facts, lines, replays }))
}

/// What replays are compared with.
struct Scene<'a> {
    arena: &'a Arena,
    state: &'a State,
    contact: Contact,
    first: BallId,
    real: &'a Run,
    facts: &'a Facts,
}

impl Scene<'_> {
    fn replay(&self, change: Change) -> Replay {
        let Contact { cue, object, .. } = self.contact;
        let mut state = self.state.clone();
        let ball = &mut state[cue].1;
        let mut card = *self.arena.card();
        match change {
            Change::NoSide => *ball = without_side(ball, self.contact.approach),
            Change::NaturalRoll => {
                ball.spin = rolling_spin(ball.velocity, card.ball.radius).extend(ball.spin.z);
            }
            Change::NoThrow => {
                card.ball_contact.friction.floor = 0.0;
                card.ball_contact.friction.range = 0.0;
            }
            Change::MirrorCushion => {}
        }
        let run = Run::from(&Arena::new(&card), &state);
        let real: Vec<DVec2> = self.real.line(cue, f64::INFINITY).collect();
        let mut path: Vec<DVec2> = run.line(cue, f64::INFINITY).collect();
        if change == Change::MirrorCushion {
            path = shortened(Run::mirrored(self.arena, &state), length_of(&real));
        }
        let mut strays = strays(&real, &path);
        let mut object_path = Vec::new();
        if change == Change::NoThrow {
            object_path = run.line(object, f64::INFINITY).collect();
            let real: Vec<DVec2> = self.real.line(object, f64::INFINITY).collect();
            strays = strays.max(self::strays(&real, &object_path));
        }
        let (amount, dimension) = if strays < NO_DIFFERENCE * card.ball.radius {
            (Amount::Nothing, None)
        } else {
            self.amount(change, &run, &path)
        };
        let mirrors = change == Change::MirrorCushion;
        let pocketed = run.pocket(cue).filter(|_| !mirrors);
        let text = words::amount(self.arena.card(), amount);
        let told = words::Told { scene: self, change, amount, run: &run, text: &text };
        let sentence = words::sentence(&told);
        let differs = words::differs(&told);
        let dimension = dimension.map(|drawn| drawn.with(text.clone()));
        Replay {
            change,
            amount,
            strays,
            path,
            object_path,
            pocketed,
            text: differs,
            sentence,
            dimension,
        }
    }

    /// What is told first, and where it is drawn.
    fn amount(&self, change: Change, run: &Run, path: &[DVec2]) -> (Amount, Option<Drawn>) {
        let angle = match change {
            Change::NoSide => self.turned_at_rail(run),
            Change::NaturalRoll => {
                let way = |run: &Run| run.leg_from(self.contact.cue, 0.0)?.way();
                self.turned(self.state[self.contact.cue].1.position, way(run), way(self.real))
            }
            Change::NoThrow => {
                let way = |run: &Run| run.starts(self.contact.object);
                self.turned(self.state[self.contact.object].1.position, way(run), way(self.real))
            }
            Change::MirrorCushion => self.facts.rebounds.first().and_then(|rebound| {
                let square = rebound.rail.inward();
                let real = self.real.touches().next()?;
                let motion = self.real.motion_before(self.contact.cue, real.time)?;
                let came = motion.velocity;
                let mirrored = came - square * (2.0 * came.dot(square));
                let way = way_off(self.real, self.contact.cue, &real);
                self.turned(rebound.position, mirrored.try_normalize(), way)
            }),
        };
        if let Some((angle, drawn)) = angle.filter(|(angle, _)| *angle >= TOLD) {
            return (Amount::Turned(angle), Some(drawn));
        }
        let stops = self.real.line(self.contact.cue, f64::INFINITY).last().zip(path.last());
        match stops.filter(|_| change != Change::MirrorCushion) {
            Some((real, &replayed)) if real.distance(replayed) >= self.arena.card().ball.radius => {
                (Amount::Moved(real.distance(replayed)), Some(Drawn::Line(replayed, real)))
            }
            _ => (Amount::Nothing, None),
        }
    }

    /// The angle between two directions, drawn at `centre`.
    fn turned(
        &self,
        centre: DVec2,
        from: Option<DVec2>,
        to: Option<DVec2>,
    ) -> Option<(f64, Drawn)> {
        let (from, to) = from.zip(to)?;
        let angle = crate::geometry::angle_between(from, to).abs();
        Some((angle, Drawn::Arc(centre, from, to)))
    }

    /// By how much the first rebounds differ, if both runs meet the same rail first.
    fn turned_at_rail(&self, run: &Run) -> Option<(f64, Drawn)> {
        let (real, replayed) = self.real.touches().next().zip(run.touches().next())?;
        if real.rail != replayed.rail {
            return None;
        }
        let cue = self.contact.cue;
        self.turned(real.position, way_off(run, cue, &replayed), way_off(self.real, cue, &real))
    }

    /// The angles from square of the first rebound as it was and in `run`.
    fn squares(&self, run: &Run) -> Option<(Rail, f64, f64)> {
        let (real, replayed) = self.real.touches().next().zip(run.touches().next())?;
        let cue = self.contact.cue;
        let velocity = self.real.motion_before(cue, real.time)?.velocity;
        let angle = |way| from_square(real.rail, way, along(real.rail, velocity));
        let was = angle(way_off(self.real, cue, &real)?);
        Some((real.rail, was, angle(way_off(run, cue, &replayed)?)))
    }
}

/// An amount's place on the table.
enum Drawn {
    Arc(DVec2, DVec2, DVec2),
    Line(DVec2, DVec2),
}

/// Radius of an arc, m (tuning choice).
const ARC: f64 = 0.2;

impl Drawn {
    fn with(self, text: String) -> Dimension {
        let heading = crate::geometry::heading;
        match self {
            Self::Arc(centre, from, to) => {
                Dimension::Arc { centre, radius: ARC, from: heading(from), to: heading(to), text }
            }
            Self::Line(from, to) => Dimension::Line { from, to, text },
        }
    }
}

/// The ball as if the tip had met it on the vertical through its centre: only the spin
/// of follow and draw is left, which turns about the level axis across its way.
fn without_side(ball: &BallMotion, way: DVec2) -> BallMotion {
    if ball.spin.z == 0.0 {
        return *ball;
    }
    let across = crate::geometry::left_of(way);
    let spin = across * ball.spin.truncate().dot(across);
    BallMotion { spin: spin.extend(0.0), ..*ball }
}

/// The first `length` metres of a path.
fn shortened(path: Vec<DVec2>, length: f64) -> Vec<DVec2> {
    let mut left = length;
    let mut kept: Vec<DVec2> = Vec::with_capacity(path.len());
    for at in path {
        let step = kept.last().map_or(0.0, |last| last.distance(at));
        if step > left {
            let last = kept[kept.len() - 1];
            kept.push(last.lerp(at, left / step));
            break;
        }
        left -= step;
        kept.push(at);
    }
    kept
}

/// How far two paths are apart at most at equal shares of their lengths, m.
fn strays(one: &[DVec2], other: &[DVec2]) -> f64 {
    let lengths = [one, other].map(length_of);
    (0..=64)
        .map(|k| {
            let share = f64::from(k) / 64.0;
            let place =
                |path: &[DVec2], length| shortened(path.to_vec(), share * length).last().copied();
            match (place(one, lengths[0]), place(other, lengths[1])) {
                (Some(a), Some(b)) => a.distance(b),
                _ => 0.0,
            }
        })
        .fold(0.0, f64::max)
}
