//! Who decides on the next shot of a run.

use super::foresight::{Depth, Foresight};
use super::guide::Guide;
use super::kept_stroke::Seen;
use super::ladder::Entry;
use super::openness::{DISTURBED, Openness};
use super::search::{Choice, Planned, Search};
use super::set::BallSet;
use super::strokes::{TIPS, speed_at};
use super::table::{Called, Over, Table};
use super::target::Target;
use crate::ball::BallId;
use crate::order::sort_by_number;
use crate::physics::{PlacedBall, Stroke};
use crate::shot::{Delivery, Series, Wobble};
use crate::table::PocketId;
use glam::DVec2;

/// How much thought a player gives to a shot.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Care {
    /// Balls of a group that are looked at more closely.
    pub balls: usize,
    /// How many strokes are tried in mind with how many errors, round after round: the best of
    /// one go on to the next.
    pub rounds: [(usize, u32); 2],
    /// With how many errors that nothing was chosen by the best ones are judged; if with none,
    /// as the last round has them.
    pub fresh: u32,
    /// Where balls have moved: with how many tips and speeds they are tried anew, and whether
    /// their ways to the pockets are found or guessed.
    pub anew: (usize, u8, bool),
}

impl Care {
    /// For runs that are played by the thousand (tuning choice).
    pub const QUICK: Self =
        Self { balls: 3, rounds: [(5, 4), (2, 6)], fresh: 0, anew: (3, 4, false) };
    /// For a shot that is shown soon, and is looked at again (tuning choice).
    pub const SOON: Self =
        Self { balls: 7, rounds: [(16, 8), (6, 32)], fresh: 128, anew: (5, 8, true) };
    /// For a shot that is shown (tuning choice).
    pub const CALM: Self =
        Self { balls: 7, rounds: [(48, 16), (20, 64)], fresh: 256, anew: (11, 11, true) };
}

/// A stroke that runs into others is worth less than it seems where these have a way (tuning
/// choice).
const BUMPED: f64 = 0.5;

/// What is foreseen of a pot, and of what it leaves, counts as much as so many strokes that are
/// tried in mind (tuning choices).
const FORESEEN: [f64; 2] = [4.0, 2.0];

/// One who plays by a guide.
#[derive(Clone, Debug)]
pub struct Player<'a> {
    guide: &'a Guide,
    foresight: &'a Foresight,
    care: Care,
    in_mind: Vec<Wobble>,
    fresh: Vec<Wobble>,
}

/// A stroke that comes to mind, and what is foreseen of it.
#[derive(Clone, Copy, Debug)]
struct Idea {
    called: Called,
    stroke: Stroke,
    /// The chance that the ball falls.
    pot: f64,
    /// What is left is worth so much if it does.
    leave: f64,
}

/// How open balls lie that no guide is to, worked out once while they lie so.
type Sights = Vec<(Vec<PlacedBall>, Openness)>;

impl<'a> Player<'a> {
    /// One who looks as far ahead as `foresight` goes.
    pub fn new(guide: &'a Guide, foresight: &'a Foresight, care: Care) -> Self {
        let most = care.rounds.iter().map(|(_, errors)| *errors).max().unwrap_or_default();
        let in_mind = (0..most).map(|k| drawn_in_pairs(Series::InMind.number(), k)).collect();
        let fresh = (0..care.fresh).map(|k| Wobble::drawn(Series::Fresh.number(), k)).collect();
        Self { guide, foresight, care, in_mind, fresh }
    }

    /// The next shot; `None` if there is none that may pot.
    pub fn choose(&self, table: &Table) -> Option<Choice> {
        self.options(table).into_iter().next()
    }

    /// Every ball and pocket that a stroke in mind made something of, each with its best
    /// stroke, the best first.
    pub fn options(&self, table: &Table) -> Vec<Choice> {
        let mut sights = Sights::new();
        let mut rest = self.ideas(table);
        let mut tried: Vec<(Idea, f64)> = Vec::new();
        for (n, errors) in self.care.rounds {
            keep(&mut rest, n);
            let errors = &self.in_mind[..errors as usize];
            tried = rest
                .iter()
                .map(|idea| (*idea, self.tried(table, errors, idea, &mut sights)))
                .collect();
            sort_by_number(&mut tried, |(_, worth)| -worth);
            rest = tried.iter().map(|(idea, _)| *idea).collect();
        }
        let mut best: Vec<Choice> = Vec::new();
        for (Idea { called, stroke, .. }, worth) in tried {
            if best.iter().all(|other| other.called != called) {
                best.push(Choice { called, stroke, worth });
            }
        }
        if self.fresh.is_empty() {
            return best;
        }
        let best: Vec<Planned> = best.iter().map(|one| (one.called, one.stroke)).collect();
        self.judged(table, &best)
    }

    /// What a shot is worth, 0 to 1, by the hand's strokes in mind, those that nothing was
    /// chosen by if there are such.
    pub fn weighed(&self, table: &Table, called: Called, stroke: &Stroke) -> f64 {
        self.judged(table, &[(called, *stroke)]).first().map_or(0.0, |choice| choice.worth)
    }

    /// What `strokes` are worth with errors that nothing was chosen by, and with what is left
    /// by the foresight; the best first.
    fn judged(&self, table: &Table, strokes: &[Planned]) -> Vec<Choice> {
        let search = Search {
            rack: self.guide.rack(),
            arena: self.guide.arena(),
            hand: self.guide.hand(),
            errors: if self.fresh.is_empty() { &self.in_mind } else { &self.fresh },
            strokes: &|_| strokes.to_vec(),
            leaf: &|after| self.value(after, &mut Sights::new()),
        };
        search.choices(table, 1)
    }

    /// What `idea` is worth: what is foreseen of the pot and of the leave, put right by what
    /// strokes with these errors make of it.
    fn tried(&self, table: &Table, errors: &[Wobble], idea: &Idea, sights: &mut Sights) -> f64 {
        let (rack, arena, hand) = (self.guide.rack(), self.guide.arena(), self.guide.hand());
        let delivery = Delivery::new(hand, arena.card(), &table.balls, &idea.stroke);
        let (mut fallen, mut sum) = (0.0, 0.0);
        for error in errors {
            let worth = match table.after(rack, arena, idea.called, &delivery.struck(error)) {
                Ok(after) => self.value(&after, sights),
                Err(Over::Cleared) => 1.0,
                Err(Over::Missed) => continue,
                Err(_) => 0.0,
            };
            (fallen, sum) = (fallen + 1.0, sum + worth);
        }
        let pot = (fallen + FORESEEN[0] * idea.pot) / (errors.len() as f64 + FORESEEN[0]);
        likely(pot * (sum + FORESEEN[1] * idea.leave) / (fallen + FORESEEN[1]), pot)
    }

    /// Strokes at the balls that seem best, the most promising first.
    fn ideas(&self, table: &Table) -> Vec<Idea> {
        let most = self.care.balls;
        let from = table.cue_ball();
        let balls = self.foresight.promising(self.guide, table.left, from, most);
        let mut found: Vec<Idea> = Vec::new();
        if self.guide.rack().lies_so(table) {
            for ball in &balls {
                self.add_known(table, *ball, &mut found);
            }
        }
        // Where the guide knows nothing, all is looked at as it lies.
        if found.is_empty() {
            for ball in balls {
                self.add_as_it_lies(table, ball, &mut found);
            }
        }
        sort_by_number(&mut found, |idea| -likely(idea.pot * idea.leave, idea.pot));
        found
    }

    /// Strokes that the guide has for the places around the cue ball, aimed from where it lies.
    fn add_known(&self, table: &Table, ball: BallId, found: &mut Vec<Idea>) {
        let Some(target) = self.guide.target(ball) else { return };
        let worth = self.foresight.worth(table.left, ball);
        let from = table.cue_ball();
        // Of each what it is worth, and how often the ball falls.
        let mut sums: Vec<((PocketId, u8, u8), f64, f64)> = Vec::new();
        for (cell, weight) in self.guide.grid().around(from) {
            if weight <= 0.0 {
                continue;
            }
            for kept in self.guide.shelf(ball, cell) {
                let how = (kept.pocket, kept.tip, kept.speed);
                let (value, pot) = (weight * worth.of(kept, Seen::All), kept.chance(Seen::All));
                match sums.iter_mut().find(|(other, ..)| *other == how) {
                    Some((_, worth, pots)) => {
                        (*worth, *pots) = (*worth + value, *pots + weight * pot);
                    }
                    None => sums.push((how, value, weight * pot)),
                }
            }
        }
        sort_by_number(&mut sums, |(_, worth, pot)| -likely(*worth, *pot));
        sums.truncate(2 * self.care.rounds[0].0);
        for ((pocket, tip, speed), worth, pots) in sums {
            let how = (pocket, TIPS[usize::from(tip)], speed_at(speed, self.guide.n_speeds()));
            let aimed = target.aimed(self.guide.arena(), self.guide.hand(), from, how);
            if let Some((stroke, pot)) = aimed {
                let leave = worth / pots.max(f64::MIN_POSITIVE);
                found.push(Idea { called: Called { ball, pocket }, stroke, pot, leave });
            }
        }
    }

    /// Strokes at `ball` as all lies now.
    fn add_as_it_lies(&self, table: &Table, ball: BallId, found: &mut Vec<Idea>) {
        let Some(target) = self.target(table, ball) else { return };
        let (rack, arena, hand) = (self.guide.rack(), self.guide.arena(), self.guide.hand());
        let (tips, speeds, _) = self.care.anew;
        let tips = &self.guide.tips()[..tips.min(self.guide.tips().len())];
        let n_speeds = speeds.min(self.guide.n_speeds());
        let entries = target.from(arena, hand, table.cue_ball(), tips, n_speeds);
        let after = table.left.without(ball);
        let others: Vec<_> = table.balls.iter().copied().filter(|other| other.id != ball).collect();
        let open = Openness::new(rack, arena, hand, &others, after);
        for Entry { pocket, stroke, pot, stop, blocked, bumped, .. } in entries {
            let free = if blocked.and(after).is_empty() { 1.0 } else { 0.0 };
            let bumped = if bumped.and(after).is_empty() { 1.0 } else { BUMPED };
            let leave = free * bumped * self.by_sight(&open, after, stop);
            found.push(Idea { called: Called { ball, pocket }, stroke, pot, leave });
        }
    }

    /// The ball as it lies now among the others as they lie now.
    fn target(&self, table: &Table, ball: BallId) -> Option<Target> {
        let placed = table.ball(ball)?;
        let loose = self.guide.rack().targets();
        let known = self.guide.target(ball)?;
        let (.., finds) = self.care.anew;
        Some(known.as_on(self.guide.arena(), &table.balls, placed, loose, finds))
    }

    /// What a table is worth that is left by a shot.
    fn value(&self, after: &Table, sights: &mut Sights) -> f64 {
        let (left, place) = (after.left, after.cue_ball());
        let planned = self.foresight.value(left, place);
        if self.foresight.depth() == Depth::Pot || self.guide.rack().lies_so(after) {
            return planned;
        }
        let balls = &after.balls[1..];
        let at = sights.iter().position(|(others, _)| others == balls).unwrap_or_else(|| {
            let (rack, arena, hand) = (self.guide.rack(), self.guide.arena(), self.guide.hand());
            sights.push((balls.to_vec(), Openness::new(rack, arena, hand, balls, left)));
            sights.len() - 1
        });
        let now = self.by_sight(&sights[at].1, left, place);
        // As much better or worse than planned as it looks better or worse.
        let meant = self.foresight.open(left).map_or(0.0, |open| self.by_sight(open, left, place));
        if meant > NOTHING && planned > NOTHING {
            planned * (now / meant).min(1.0)
        } else {
            DISTURBED * now
        }
    }

    /// What a layout is worth to one who looks so far ahead, by how open it lies.
    fn by_sight(&self, open: &Openness, left: BallSet, place: DVec2) -> f64 {
        let (rack, arena, hand) = (self.guide.rack(), self.guide.arena(), self.guide.hand());
        match self.foresight.depth() {
            Depth::Pot => 1.0,
            _ if left.is_empty() => 1.0,
            Depth::Next => {
                let pots = rack.legal(left).balls().map(|ball| open.pot(arena, hand, ball, place));
                pots.fold(0.0, f64::max)
            }
            Depth::All => open.value(rack, arena, hand, left, place),
        }
    }
}

/// Less than this counts as nothing when two chances are compared (tuning choice).
const NOTHING: f64 = 0.02;

/// Where nothing is thought to be worth anything, the likeliest pot goes first.
fn likely(worth: f64, pot: f64) -> f64 {
    worth + 1e-9 * pot
}

/// Errors in pairs that are off to opposite sides, so that few of them are fair.
fn drawn_in_pairs(series: u32, number: u32) -> Wobble {
    let drawn = Wobble::drawn(series, number / 2);
    if number.is_multiple_of(2) {
        return drawn;
    }
    let Wobble { azimuth, elevation, speed, side, height } = drawn;
    Wobble { azimuth: -azimuth, elevation: -elevation, speed: -speed, side: -side, height: -height }
}

/// Keeps the best `n` of `ideas`, which are sorted; the best at each ball and pocket is
/// among them if these are few.
fn keep(ideas: &mut Vec<Idea>, n: usize) {
    let mut called: Vec<Called> = Vec::new();
    let (mut first, mut others) = (Vec::new(), Vec::new());
    for idea in ideas.drain(..) {
        if called.contains(&idea.called) {
            others.push(idea);
        } else {
            called.push(idea.called);
            first.push(idea);
        }
    }
    first.truncate(n / 2);
    others.truncate(n - first.len());
    first.append(&mut others);
    *ideas = first;
}
