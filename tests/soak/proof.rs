//! What must hold for every shot, measured from the legs of its balls.

use crate::paths::{Leg, Trespass, least_distance, rests};
use glam::DVec2;
use leaveline::BallId;
use leaveline::physics::{
    Arena, BallEnd, Course, Event, EventKind, LONGEST_SHOT, Listen, Shot, at_the_strike, play,
    specific_energy,
};
use leaveline::table::card_advice;
use std::time::{Duration, Instant};

/// No ball is deeper than this in another, in a cushion or past the rim of a hole, m.
pub const MOST_OVERLAP: f64 = 1e-9;

/// No ball is moved farther than this by being put right, m: sixteen in a row may
/// each stand so deep in the next when they are placed.
pub const MOST_JUMP: f64 = 16.0 * MOST_OVERLAP;

/// All balls together never gain more than this share of the energy they were given,
/// or each than what it has at the speed below which the model takes a pressed ball
/// for resting.
pub const MOST_GAIN: f64 = 1e-9;

/// That speed, m/s.
const CREEPS: f64 = 1e-7;

/// A shot that ends by itself has fewer events than this.
pub const MOST_EVENTS: usize = 5_000;

/// And one on a table that nobody has: balls that bounce from nothing, gravity a
/// thousandfold.
pub const MOST_EVENTS_ON_STRANGE_TABLES: usize = 50_000;

/// And one on a table without friction, which is followed for [`LONGEST_SHOT`].
pub const MOST_EVENTS_FOR_EVER: usize = 200_000;

/// So many legs for each event that is allowed: a ball that leans on another is
/// followed in many short ones.
const LEGS_PER_EVENT: usize = 20;

/// A shot that is played for longer than this would hang a page, even on a busy
/// machine.
const TOO_LONG: Duration = Duration::from_secs(20);

/// So many faults of one shot are kept.
const MOST_FAULTS: usize = 8;

/// Something that did not hold.
#[derive(Clone, Debug)]
pub struct Fault {
    /// What, in a word or two: the same for all of its kind.
    pub what: &'static str,
    /// What was found, in words.
    pub words: String,
}

/// What was seen of one shot.
#[derive(Clone, Debug, Default)]
pub struct Proof {
    /// What did not hold; the first few.
    pub faults: Vec<Fault>,
    pub balls: usize,
    pub events: usize,
    pub legs: usize,
    pub pocketed: usize,
    /// Whether the table is so slippery that it may move for ever.
    pub slippery: bool,
    /// Time of its end, s.
    pub duration: f64,
    /// Most contacts at one moment.
    pub at_once: usize,
    /// Deepest overlap of two balls, m.
    pub overlap: f64,
    /// Deepest overlap with a cushion, m.
    pub cushion: f64,
    /// Farthest past the rim of a hole, m.
    pub hole: f64,
    /// Farthest that a ball was moved at one moment, m.
    pub jump: f64,
    /// Largest gain of energy, as a share of what was given.
    pub gain: f64,
}

impl Proof {
    pub fn panicked(words: String) -> Self {
        Self { faults: vec![Fault { what: "panic", words }], ..Self::default() }
    }

    fn fault(&mut self, holds: bool, what: &'static str, words: impl FnOnce() -> String) {
        if !holds && self.faults.len() < MOST_FAULTS {
            self.faults.push(Fault { what, words: words() });
        }
    }
}

/// Keeps everything, and stops listening when it has become too much.
struct Heard {
    legs: Vec<Vec<Leg>>,
    events: Vec<Event>,
    n_legs: usize,
    most: usize,
    start: Instant,
}

impl Listen for Heard {
    fn event(&mut self, event: Event) {
        self.events.push(event);
    }

    fn leg(&mut self, place: usize, course: &Course, since: f64, until: f64) {
        self.n_legs += 1;
        self.legs[place].push(Leg { course: *course, since, until });
    }

    fn has_heard_enough(&self) -> bool {
        self.events.len() > self.most
            || self.n_legs > LEGS_PER_EVENT * self.most
            || self.start.elapsed() > TOO_LONG
    }
}

/// Plays `shot` and measures everything; `again` also plays it through [`play`] and
/// compares.
pub fn prove(shot: &Shot, again: bool) -> Proof {
    let mut proof = Proof { balls: shot.balls.len(), ..Proof::default() };
    if let Err(error) = shot.check() {
        proof.fault(false, "illegal", || error.to_string());
        return proof;
    }
    let struck = shot.struck().expect("a legal shot has a cue ball");
    let balls = at_the_strike(&shot.balls, struck);
    let energy = specific_energy(&struck, shot.card.ball.radius);
    let may_last = may_last_for_ever(shot, energy);
    let most = match may_last {
        true => MOST_EVENTS_FOR_EVER,
        false if card_advice(&shot.card).is_empty() => MOST_EVENTS,
        false => MOST_EVENTS_ON_STRANGE_TABLES,
    };
    let mut heard = Heard {
        legs: vec![Vec::new(); balls.len()],
        events: Vec::new(),
        n_legs: 0,
        most,
        start: Instant::now(),
    };
    let arena = Arena::new(&shot.card);
    let ends = arena.run(&balls, &mut heard);

    (proof.events, proof.legs) = (heard.events.len(), heard.n_legs);
    let cut = heard.has_heard_enough();
    let took = heard.start.elapsed();
    proof.slippery = may_last;
    let moving = !cut && ends.iter().any(|end| matches!(end, BallEnd::Moving(_)));
    proof.fault(!cut, "no end", || {
        format!("after {} events, {} legs and {took:?}", heard.events.len(), heard.n_legs)
    });
    proof.fault(may_last || !moving, "moving", || "still, at the end".to_owned());
    check_legs(&mut proof, &heard, cut);
    check_events(&mut proof, shot, &heard);
    if !cut {
        check_ends(&mut proof, shot, &heard, &ends);
    }
    for leg in heard.legs.iter().flatten() {
        let trespass = Trespass::of(arena.shape(), leg);
        proof.cushion = proof.cushion.max(trespass.cushion);
        proof.hole = proof.hole.max(trespass.hole);
        proof.fault(!trespass.outside, "outside", || format!("from {} s on", leg.since));
        proof.fault(
            trespass.cushion <= MOST_OVERLAP && trespass.hole <= MOST_OVERLAP,
            "cushion",
            || {
                let Trespass { cushion, hole, .. } = trespass;
                format!("{cushion:e} m in a cushion or {hole:e} m over a hole, {leg:?}")
            },
        );
    }
    check_room(&mut proof, shot, &heard);
    check_energy(&mut proof, shot, &heard, energy);
    if again && !cut {
        check_again(&mut proof, shot, &heard, &ends);
    }
    proof
}

/// Whether a single ball with that energy for each unit of mass could still move
/// when the shot is no longer followed, with room for what impacts make of it.
fn may_last_for_ever(shot: &Shot, energy: f64) -> bool {
    let (cloth, radius) = (&shot.card.cloth, shot.card.ball.radius);
    let (fastest, fastest_spin) = ((2.0 * energy).sqrt(), (5.0 * energy).sqrt() / radius);
    let roll = fastest / (cloth.rolling_friction * cloth.gravity);
    let slide = (fastest + radius * fastest_spin) / (cloth.sliding_friction * cloth.gravity);
    let spin = fastest_spin / cloth.spin_decay;
    let longest = roll + slide + spin;
    // Nothing divided by nothing lasts for ever as well.
    longest.is_nan() || longest > LONGEST_SHOT / 1.5
}

/// Legs are finite, in order, and each begins where and when the last one ended.
fn check_legs(proof: &mut Proof, heard: &Heard, cut: bool) {
    for (place, legs) in heard.legs.iter().enumerate() {
        // A ball that did not move yet when listening ended has not been told of.
        let whole = legs.first().map_or(cut, |leg| leg.since == 0.0);
        proof.fault(whole, "legs", || format!("ball {place} has no leg from the strike on"));
        for leg in legs {
            let (start, end) = (leg.course.motion(0.0), leg.course.motion(leg.length()));
            let finite = [start, end]
                .iter()
                .all(|m| m.position.is_finite() && m.velocity.is_finite() && m.spin.is_finite());
            proof.fault(
                finite && leg.since.is_finite() && leg.until >= leg.since,
                "numbers",
                || format!("ball {place}: {leg:?}"),
            );
            proof.duration = proof.duration.max(leg.until);
        }
        for pair in legs.windows(2) {
            proof.fault(pair[0].until == pair[1].since, "legs", || {
                format!(
                    "ball {place}: a leg ends at {} and the next begins at {}",
                    pair[0].until, pair[1].since
                )
            });
            let jump = (pair[0].end() - pair[1].course.start.position).length();
            proof.jump = proof.jump.max(jump);
            proof.fault(jump <= MOST_JUMP, "jump", || {
                format!("ball {place} jumps {jump:e} m at {} s", pair[0].until)
            });
        }
    }
    let duration = proof.duration;
    proof.fault(duration <= LONGEST_SHOT, "duration", || format!("it lasts {duration} s"));
}

/// Events are finite, in order of time, and where their ball was.
fn check_events(proof: &mut Proof, shot: &Shot, heard: &Heard) {
    let impacts = |at_once: &[Event]| {
        let is_impact =
            |event: &&Event| matches!(event.kind, EventKind::Contact(_) | EventKind::Cushion(_));
        at_once.iter().filter(is_impact).count()
    };
    let moments = heard.events.chunk_by(|a, b| a.time == b.time);
    proof.at_once = moments.map(impacts).max().unwrap_or(0);
    let mut before = 0.0;
    for event in &heard.events {
        proof.fault(event.time >= before && event.position.is_finite(), "events", || {
            format!("{event:?} after {before} s")
        });
        before = event.time;
        let place = shot.balls.iter().position(|ball| ball.id == event.ball);
        let Some(place) = place else {
            proof.fault(false, "events", || format!("{event:?} of no ball"));
            continue;
        };
        let legs = &heard.legs[place];
        let first = legs.partition_point(|leg| leg.until < event.time);
        let off = legs[first..]
            .iter()
            .take_while(|leg| leg.since <= event.time)
            .map(|leg| (leg.position(event.time) - event.position).length())
            .fold(f64::INFINITY, f64::min);
        proof.fault(off <= MOST_JUMP, "events", || {
            format!("{event:?} is {off:e} m off its ball's path")
        });
    }
}

/// What moved has stopped or fallen, and has said so last.
fn check_ends(proof: &mut Proof, shot: &Shot, heard: &Heard, ends: &[BallEnd]) {
    for ((ball, legs), end) in shot.balls.iter().zip(&heard.legs).zip(ends) {
        let is_of = |event: &Event, id: BallId| {
            event.ball == id || matches!(event.kind, EventKind::Contact(other) if other == id)
        };
        let last = heard.events.iter().rev().find(|event| is_of(event, ball.id));
        let moved = legs.iter().rev().find(|leg| !rests(leg)).map(|leg| leg.until);
        let stop = |event: &&Event| event.ball == ball.id && event.kind == EventKind::Stop;
        let stopped = heard.events.iter().rev().find(stop).map(|event| event.time);
        let sound = match *end {
            BallEnd::Pocketed(pocket) => {
                proof.pocketed += 1;
                last.is_some_and(|event| event.kind == EventKind::Pocketed(pocket))
            }
            BallEnd::Rest(at) => {
                legs.last().is_some_and(|leg| rests(leg) && leg.end() == at) && stopped >= moved
            }
            BallEnd::Moving(at) => at.is_finite(),
        };
        proof.fault(sound, "end", || format!("the {} ball ends {end:?} after {last:?}", ball.id));
    }
}

/// No two balls overlap: at no event, and not where they come closest in between.
fn check_room(proof: &mut Proof, shot: &Shot, heard: &Heard) {
    let reach = 2.0 * shot.card.ball.radius;
    for (k, one) in heard.legs.iter().enumerate() {
        for (j, two) in heard.legs.iter().enumerate().take(k) {
            // Only what lasts: a leg of no length is a step on the way to the next.
            let long = |legs: &[Leg], from: usize| {
                (from..legs.len()).find(|k| legs[*k].length() > 0.0).unwrap_or(legs.len())
            };
            let (mut a, mut b) = (long(one, 0), long(two, 0));
            while let (Some(first), Some(second)) = (one.get(a), two.get(b)) {
                if let Some(distance) = least_distance(first, second, reach) {
                    let overlap = reach - distance;
                    proof.overlap = proof.overlap.max(overlap);
                    proof.fault(overlap <= MOST_OVERLAP, "overlap", || {
                        let since = first.since.max(second.since);
                        let (one, two) = (shot.balls[k].id, shot.balls[j].id);
                        format!("{one} and {two} overlap by {overlap:e} m after {since} s")
                    });
                }
                if first.until <= second.until {
                    a = long(one, a + 1);
                } else {
                    b = long(two, b + 1);
                }
            }
        }
    }
}

/// The energy of all balls together never grows: not at events, nor in between.
fn check_energy(proof: &mut Proof, shot: &Shot, heard: &Heard, struck: f64) {
    let radius = shot.card.ball.radius;
    // The end of a leg is the start of the next, but for balls that fall.
    let ends = heard.legs.iter().flatten().flat_map(|leg| [leg.since, leg.until]);
    let mut times: Vec<f64> = ends.collect();
    times.sort_by(f64::total_cmp);
    times.dedup();
    let mut now = vec![0; heard.legs.len()];
    let mut least = struck;
    let creeping = 0.7 * CREEPS * CREEPS * shot.balls.len() as f64;
    for pair in times.windows(2) {
        for (now, legs) in now.iter_mut().zip(&heard.legs) {
            while legs.get(*now).is_some_and(|leg| leg.until <= pair[0]) {
                *now += 1;
            }
        }
        for share in [0.0, 0.5, 1.0] {
            let time = if share == 1.0 { pair[1] } else { pair[0] + share * (pair[1] - pair[0]) };
            let energy: f64 = now
                .iter()
                .zip(&heard.legs)
                .filter_map(|(now, legs)| legs.get(*now))
                .filter(|leg| !rests(leg))
                .map(|leg| specific_energy(&leg.course.motion(time - leg.since), radius))
                .sum();
            let gain = (energy - least - creeping) / struck;
            proof.gain = proof.gain.max(gain);
            proof.fault(gain <= MOST_GAIN, "energy", || {
                format!("energy grows by {gain:e} of what was given, at {time} s")
            });
            least = least.min(energy);
        }
    }
}

/// What [`play`] records is what was heard, in order, with whole and finite paths.
fn check_again(proof: &mut Proof, shot: &Shot, heard: &Heard, ends: &[BallEnd]) {
    let outcome = play(shot).expect("a legal shot");
    let (moved, n) = (outcome.ends != ends, outcome.events.len());
    proof.fault(!moved && n == heard.events.len() + 1, "again", || {
        format!("played again it ends {:?} after {n} events", outcome.ends)
    });
    let in_order = |pair: &[Event]| (pair[0].time, pair[0].ball) <= (pair[1].time, pair[1].ball);
    proof.fault(outcome.events.windows(2).all(in_order), "again", || "out of order".to_owned());
    for (ball, path) in shot.balls.iter().zip(&outcome.paths) {
        let finite = path.iter().all(|sample| sample.position.is_finite());
        let onward = path.windows(2).all(|pair| pair[0].time < pair[1].time);
        let begins = path.first().map_or(DVec2::NAN, |sample| sample.position);
        let near = (begins - ball.position).length() <= MOST_JUMP;
        proof.fault(finite && onward && near, "again", || format!("the path of {}", ball.id));
        for event in outcome.events.iter().filter(|event| event.ball == ball.id) {
            let first = path.partition_point(|sample| sample.time < event.time);
            let there = path.get(first).is_some_and(|sample| {
                sample.time == event.time
                    && (sample.position - event.position).length() <= MOST_JUMP
            });
            proof.fault(there, "again", || format!("{event:?} is not on its path"));
        }
    }
}
