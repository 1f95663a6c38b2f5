//! The search for the best stroke, in steps that a caller can count.

use super::candidate::{Candidate, Trial};
use super::climb::{Climb, Stage, errors_and_away};
use super::plan::{AIM_PLAYS, Plan};
use super::survey::{are_within, by_mean, centre, lines, of_each_pocket, steps, survey};
use super::worth::{hope, worth};
use crate::order::sort_by_number;
use crate::physics::Stroke;
use crate::shot::{Chance, Demand, Hand, Situation, Wobble};
use crate::table::PocketId;
use glam::DVec2;

/// A search plays no more than so many strokes (tuning choice: about a second in a browser).
pub const MOST_PLAYS: usize = 48_000;

/// Rounds of the race: strokes of each plan, and how many plans race (tuning choice, as are
/// all numbers below: they were tried on seeded layouts, each against the best stroke that
/// any form of the search had found).
const RACE: [(usize, usize); 2] = [(16, 192), (48, 64)];

/// A round of climbs.
struct Round {
    /// How many climb.
    n_climbs: usize,
    /// Stages of each: how widely plans are tried, in steps of the survey.
    widths: &'static [f64],
    /// Strokes of a stage.
    n_strokes: usize,
    /// What a promise counts for beside a worth.
    hope: f64,
    /// Strokes by which tops are judged.
    n_judged: usize,
}

const ROUNDS: [Round; 3] = [
    Round { n_climbs: 18, widths: &[0.25, 0.12], n_strokes: 192, hope: 0.5, n_judged: 128 },
    Round { n_climbs: 7, widths: &[0.12, 0.06], n_strokes: 288, hope: 0.1, n_judged: 320 },
    Round { n_climbs: 3, widths: &[0.04, 0.0, 0.0], n_strokes: 600, hope: 0.0, n_judged: JUDGED },
];

/// Of plans within so many steps of the survey of each other only the best starts to climb,
/// if there are enough, and only the best top climbs on.
const NEIGHBOURS: f64 = 1.5;
const SAME_TOP: f64 = 0.4;

/// Strokes by which the last few are judged.
const JUDGED: usize = 1024;
/// Strokes, all of them fresh, that measure the best and the player's.
const MEASURED: usize = 1024;

/// What is kept for the end beside the strokes of the last tops.
const SLACK: usize = 128;

/// The best stroke, or the best so far.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Best {
    /// What was chosen.
    pub plan: Plan,
    /// The stroke, aimed.
    pub stroke: Stroke,
    /// Its chance to pot and leave as asked: while the search goes on flattered, for it was
    /// chosen by it; at the end on fresh strokes.
    pub chance: Chance,
}

/// How far a search is.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Progress {
    /// 0 to 1, and 1 only at the end.
    pub done: f64,
    /// `None` while, or if, no stroke pots the ball.
    pub best: Option<Best>,
    /// The chance of the player's own stroke on the same strokes, at the end.
    pub own: Option<Chance>,
    /// Strokes played.
    pub n_plays: usize,
}

/// A search for the best stroke.
///
/// A grid of plans is surveyed without errors, the promising race on growing numbers of
/// strokes, the best climb to the top near them, fewer in each round, and tops are judged on
/// ever more strokes. Whatever is compared meets the same errors of the hand.
#[derive(Clone, Debug)]
pub struct Search {
    trial: Trial,
    /// Errors that nothing was chosen by.
    fresh: Vec<Wobble>,
    own: Candidate,
    state: State,
    n_plays: usize,
    best: Option<Best>,
}

#[derive(Clone, Debug)]
enum State {
    Survey { lines: Vec<Plan>, found: Vec<Candidate> },
    Race { round: usize, at: usize, field: Vec<Candidate> },
    Climb { round: usize, at: usize, field: Vec<Climber> },
    Judge { round: usize, at: usize, field: Vec<Climber> },
    Measure { best: Option<Candidate> },
    Done,
}

/// A climb, and the best that it has reached.
#[derive(Clone, Debug)]
struct Climber {
    climb: Climb,
    best: Candidate,
}

impl Search {
    /// For what `demand` asks on this situation, under `hand`, measured with the errors of
    /// the series `seed`; `own` is the player's stroke.
    pub fn new(situation: Situation, demand: Demand, hand: Hand, seed: u32, own: Stroke) -> Self {
        let lines = lines(&situation, &demand);
        let pocket = demand.pocket.unwrap_or(PocketId::ALL[0]);
        let plan = Plan { pocket, speed: own.speed, side: own.side, height: own.height };
        let wobbles = (0..JUDGED).map(|k| errors_and_away(k as u32).0).collect();
        let trial = Trial { situation, demand, hand, wobbles };
        Self {
            fresh: (0..MEASURED).map(|k| Wobble::drawn(seed, k as u32)).collect(),
            own: Candidate::of(&trial, plan, &own),
            trial,
            state: State::Survey { lines, found: Vec::new() },
            n_plays: 0,
            best: None,
        }
    }

    /// Plays at least `n_plays` strokes more, and few more than that, unless it ends
    /// before. `next` is the chance to pot the next ball from a place (m). The answer is
    /// the same whatever the steps.
    pub fn step(&mut self, n_plays: usize, next: &dyn Fn(DVec2) -> f64) -> Progress {
        let until = self.n_plays + n_plays.max(1);
        while self.n_plays < until && !matches!(self.state, State::Done) {
            self.advance(next);
        }
        let done = match self.state {
            State::Done => 1.0,
            _ => (self.n_plays as f64 / MOST_PLAYS as f64).min(0.99),
        };
        let own = matches!(self.state, State::Done).then(|| self.own.chance());
        Progress { done, best: self.best, own, n_plays: self.n_plays }
    }

    /// One small piece of work.
    fn advance(&mut self, next: &dyn Fn(DVec2) -> f64) {
        let state = std::mem::replace(&mut self.state, State::Done);
        self.state = match state {
            State::Survey { mut lines, mut found } => match lines.pop() {
                Some(line) => {
                    self.n_plays += survey(&self.trial, line, &mut found, next);
                    State::Survey { lines, found }
                }
                None => State::Race { round: 0, at: 0, field: of_each_pocket(found, RACE[0].1) },
            },
            State::Race { round, at, field } => self.race(round, at, field, next),
            State::Climb { round, at, field } => self.climb(round, at, field, next),
            State::Judge { round, at, field } => self.judge(round, at, field, next),
            State::Measure { best } => {
                self.measure(best, next);
                State::Done
            }
            State::Done => State::Done,
        };
    }

    fn race(
        &mut self,
        round: usize,
        at: usize,
        mut field: Vec<Candidate>,
        next: &dyn Fn(DVec2) -> f64,
    ) -> State {
        if let Some(candidate) = field.get_mut(at) {
            if round == 0 {
                self.n_plays += centre(&self.trial, candidate, next);
            }
            self.n_plays += candidate.play(&self.trial, RACE[round].0, hope, next);
            return State::Race { round, at: at + 1, field };
        }
        by_mean(&mut field);
        if let Some((_, n_plans)) = RACE.get(round + 1) {
            return State::Race { round: round + 1, at: 0, field: distinct(field, *n_plans) };
        }
        self.tell(field.first());
        let climber = |start: Candidate| Climber {
            climb: Climb::new(start.plan, 0.0),
            best: Candidate { values: Vec::new(), ..start },
        };
        let field = distinct(field, ROUNDS[0].n_climbs).into_iter().map(climber).collect();
        self.send(0, field)
    }

    /// Lets all of them climb through the stages of a round.
    fn send(&self, round: usize, mut field: Vec<Climber>) -> State {
        let Round { widths, mut n_strokes, hope, n_judged, .. } = ROUNDS[round];
        if round + 1 == ROUNDS.len() {
            // As many as are left.
            let ends = field.len() * (2 * n_judged + SLACK) + 2 * MEASURED;
            let left = MOST_PLAYS.saturating_sub(self.n_plays + ends);
            n_strokes = n_strokes.min(left / (field.len() * widths.len()).max(1));
        }
        let stage = |share: &f64| Stage { widths: steps().map(|step| share * step), n_strokes };
        for climber in &mut field {
            climber.climb.go_on(widths.iter().map(stage).collect(), hope);
        }
        State::Climb { round, at: 0, field }
    }

    fn climb(
        &mut self,
        round: usize,
        at: usize,
        mut field: Vec<Climber>,
        next: &dyn Fn(DVec2) -> f64,
    ) -> State {
        let Some(climber) = field.get_mut(at) else { return State::Judge { round, at: 0, field } };
        if climber.climb.is_over() {
            return State::Climb { round, at: at + 1, field };
        }
        self.n_plays += climber.climb.advance(&self.trial, next);
        State::Climb { round, at, field }
    }

    /// Where a climb has not led upward its start is kept, and the next begins there.
    fn judge(
        &mut self,
        round: usize,
        at: usize,
        mut field: Vec<Climber>,
        next: &dyn Fn(DVec2) -> f64,
    ) -> State {
        if let Some(Climber { climb, best }) = field.get_mut(at) {
            let n = ROUNDS[round].n_judged;
            self.n_plays += AIM_PLAYS;
            let top = Candidate::new(&self.trial, climb.plan, climb.turn);
            self.play(best, n, next);
            let top = top.map(|mut top| {
                self.play(&mut top, n, next);
                top
            });
            match top.filter(|top| top.mean() >= best.mean()) {
                Some(top) => *best = top,
                None => *climb = Climb::new(best.plan, best.turn),
            }
            return State::Judge { round, at: at + 1, field };
        }
        sort_by_number(&mut field, |climber| -climber.best.mean());
        self.tell(field.first().map(|climber| &climber.best));
        let Some(Round { n_climbs, .. }) = ROUNDS.get(round + 1) else {
            return State::Measure { best: field.into_iter().next().map(|climber| climber.best) };
        };
        let mut kept: Vec<Climber> = Vec::new();
        for climber in field {
            let plan = &climber.best.plan;
            let is_new = !kept.iter().any(|other| are_within(&other.best.plan, plan, SAME_TOP));
            if is_new && kept.len() < *n_climbs {
                kept.push(climber);
            }
        }
        self.send(round + 1, kept)
    }

    /// The chances of the best and of the player's own, on strokes that nothing was chosen
    /// by.
    fn measure(&mut self, best: Option<Candidate>, next: &dyn Fn(DVec2) -> f64) {
        std::mem::swap(&mut self.trial.wobbles, &mut self.fresh);
        let mut own = self.own.clone();
        self.play(&mut own, MEASURED, next);
        self.own = own;
        if let Some(mut best) = best {
            best.values.clear();
            self.play(&mut best, MEASURED, next);
            self.tell(Some(&best));
        }
    }

    fn play(&mut self, candidate: &mut Candidate, n: usize, next: &dyn Fn(DVec2) -> f64) {
        self.n_plays += candidate.play(&self.trial, n, worth, next);
    }

    fn tell(&mut self, best: Option<&Candidate>) {
        self.best =
            best.map(|it| Best { plan: it.plan, stroke: it.delivery.aimed, chance: it.chance() });
    }
}

/// So many of a sorted field: first those that are not next to a better one, for each of
/// them may lie under a top of its own.
fn distinct(field: Vec<Candidate>, n: usize) -> Vec<Candidate> {
    let mut chosen: Vec<Candidate> = Vec::new();
    let mut rest = Vec::new();
    for candidate in field {
        if chosen.iter().any(|better| are_within(&better.plan, &candidate.plan, NEIGHBOURS)) {
            rest.push(candidate);
        } else {
            chosen.push(candidate);
        }
    }
    chosen.extend(rest);
    chosen.truncate(n);
    by_mean(&mut chosen);
    chosen
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::ball::BallId;
    use crate::physics::{PlacedBall, Shot};
    use crate::shot::{HANDS, Zone};
    use crate::table::{TableCard, TableSize};

    fn search(pocket: Option<PocketId>) -> Search {
        let on = BallId::object(3).expect("a ball");
        let shot = Shot {
            card: TableCard::of_size(TableSize::NineFoot),
            balls: vec![
                PlacedBall { id: BallId::CUE, position: DVec2::new(1.6, 0.6) },
                PlacedBall { id: on, position: DVec2::new(2.2, 1.0) },
            ],
            stroke: OWN,
        };
        let zone = Zone { centre: DVec2::new(1.9, 0.4), half: DVec2::splat(0.15), turn: 0.0 };
        let demand = Demand { zone: Some(zone), pocket, ..Demand::to_pot(on) };
        let situation = Situation::new(&shot, on).expect("a sound layout");
        Search::new(situation, demand, HANDS[1].hand, 7, OWN)
    }

    const OWN: Stroke = Stroke { azimuth: 0.0, elevation: 0.0, speed: 2.0, side: 0.0, height: 0.0 };

    #[test]
    fn the_answer_is_the_same_whatever_the_steps_and_better_than_ones_own() {
        let whole = search(None).step(MOST_PLAYS, &|_| 1.0);
        assert_eq!(whole.done, 1.0, "within its plays: {whole:?}");
        let mut sliced = search(None);
        let mut progress = sliced.step(997, &|_| 1.0);
        while progress.done < 1.0 {
            let further = sliced.step(997, &|_| 1.0);
            assert!(further.done > progress.done, "on from {progress:?} to {further:?}");
            progress = further;
        }
        assert_eq!(progress, whole, "step by step and at once");
        assert!(whole.n_plays <= MOST_PLAYS, "{} plays", whole.n_plays);
        let best = whole.best.expect("an open pot");
        assert!(best.chance.low > 0.5, "an easy leave: {best:?}");
        assert_eq!(whole.own, Some(Chance::of(0, MEASURED as u32)), "aimed at nothing");
    }

    #[test]
    fn where_nothing_pots_there_is_no_best() {
        let mut none = search(Some(PocketId::HeadRight));
        let progress = none.step(MOST_PLAYS, &|_| 1.0);
        assert_eq!((progress.done, progress.best), (1.0, None), "the pocket is behind");
    }
}
