//! The search for the best stroke, in steps that a caller can count.

use super::candidate::{Candidate, Trial, Value};
use super::climb::Climb;
use super::plan::{AIM_PLAYS, FARTHEST_TIP, Plan, SPEEDS};
use super::worth::{promise, worth};
use crate::order::sort_by_number;
use crate::physics::Stroke;
use crate::shot::{Chance, Demand, Hand, Situation, Wobble, aim_at_pocket};
use crate::table::PocketId;
use glam::DVec2;

/// A search plays no more than so many strokes (tuning choice: a second in a browser).
pub const MOST_PLAYS: usize = 48_000;

/// Speeds of the survey, evenly spaced in their logarithms (tuning choice, as are all
/// numbers below: they were tried on seeded layouts against the exhaustive search).
const N_SPEEDS: usize = 16;
/// Steps of the survey's tips from the middle to the farthest.
const TIP_STEPS: i32 = 3;
/// Strokes of each plan in the survey.
const SURVEY_STROKES: usize = 2;
/// Rounds of the race: strokes of each plan, and how many plans go on.
const RACE: [(usize, usize); 3] = [(8, 192), (32, 64), (96, 24)];
/// Strokes of a trial in the first climbs and in the second ones, and how many climb.
const CLIMBS: [(usize, usize); 2] = [(96, 6), (768, 2)];
/// Share of the plays left that the first climbs may take.
const FIRST_CLIMBS: f64 = 0.35;
/// Strokes by which the last few are judged.
const JUDGED: usize = 2048;
/// Strokes, all of them fresh, that measure the best and the player's.
const MEASURED: usize = 1024;

/// What all climbs together may play beyond their budgets, a few strokes each.
const SLACK: usize = 256;

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
/// A grid of plans is surveyed, the promising race on growing numbers of strokes, the
/// best few climb to the top near them, and the tops are judged on many strokes. All meet
/// the same numbered errors of the hand.
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
    Survey { plans: Vec<Plan>, found: Vec<Candidate> },
    Race { round: usize, at: usize, field: Vec<Candidate> },
    Climb { round: usize, waiting: Vec<Candidate>, climb: Option<Box<Climb>>, tops: Vec<Candidate> },
    Measure { best: Option<Candidate> },
    Done,
}

impl Search {
    /// For what `demand` asks on this situation, under `hand`, with the errors of the
    /// series `seed`; `own` is the player's stroke.
    pub fn new(situation: Situation, demand: Demand, hand: Hand, seed: u32, own: Stroke) -> Self {
        let drawn = |from: usize, n: usize| {
            (from..from + n).map(|k| Wobble::drawn(seed, k as u32)).collect::<Vec<_>>()
        };
        let plans = grid(&situation, &demand);
        let pocket = demand.pocket.unwrap_or(PocketId::ALL[0]);
        let plan = Plan { pocket, speed: own.speed, side: own.side, height: own.height };
        let trial = Trial { situation, demand, hand, wobbles: drawn(0, JUDGED) };
        Self {
            fresh: drawn(JUDGED, MEASURED),
            own: Candidate::of(&trial, plan, &own),
            trial,
            state: State::Survey { plans, found: Vec::new() },
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
            State::Survey { mut plans, mut found } => match plans.pop() {
                Some(plan) => {
                    self.n_plays += AIM_PLAYS;
                    if let Some(mut candidate) = Candidate::new(&self.trial, plan) {
                        self.play(&mut candidate, SURVEY_STROKES, promise, next);
                        found.push(candidate);
                    }
                    State::Survey { plans, found }
                }
                None => State::Race { round: 0, at: 0, field: of_each_pocket(found, RACE[0].1) },
            },
            State::Race { round, at, mut field } => self.race(round, at, &mut field, next),
            State::Climb { round, waiting, climb, tops } => {
                self.climb(round, waiting, climb, tops, next)
            }
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
        field: &mut Vec<Candidate>,
        next: &dyn Fn(DVec2) -> f64,
    ) -> State {
        let (n_strokes, _) = RACE[round];
        // The first round still looks for promise.
        let value: Value = if round == 0 { promise } else { worth };
        let mut field = std::mem::take(field);
        if let Some(candidate) = field.get_mut(at) {
            self.play(candidate, n_strokes, value, next);
            return State::Race { round, at: at + 1, field };
        }
        by_mean(&mut field);
        match RACE.get(round + 1) {
            Some((_, n_plans)) => {
                let mut field = distinct(field, *n_plans);
                if round == 0 {
                    field.iter_mut().for_each(|candidate| candidate.values.clear());
                }
                State::Race { round: round + 1, at: 0, field }
            }
            None => {
                self.tell(field.first());
                let mut field = distinct(field, CLIMBS[0].1);
                field.reverse();
                State::Climb { round: 0, waiting: field, climb: None, tops: Vec::new() }
            }
        }
    }

    fn climb(
        &mut self,
        round: usize,
        mut waiting: Vec<Candidate>,
        climb: Option<Box<Climb>>,
        mut tops: Vec<Candidate>,
        next: &dyn Fn(DVec2) -> f64,
    ) -> State {
        if let Some(mut climb) = climb {
            self.n_plays += climb.advance(&self.trial, next);
            if !climb.is_over() {
                return State::Climb { round, waiting, climb: Some(climb), tops };
            }
            let mut top = climb.best;
            // Tops of different climbs differ by luck more than trials of one do.
            let n_strokes = CLIMBS.get(round + 1).map_or(JUDGED, |(n_strokes, _)| *n_strokes);
            self.play(&mut top, n_strokes, worth, next);
            tops.push(top);
            return State::Climb { round, waiting, climb: None, tops };
        }
        let (n_strokes, _) = CLIMBS[round];
        if let Some(start) = waiting.pop() {
            let n_waiting = waiting.len() + 1;
            let left = MOST_PLAYS.saturating_sub(self.n_plays + reserved(round, n_waiting));
            let share = if round == 0 { FIRST_CLIMBS } else { 1.0 };
            // What one does not take is left to those after it.
            let budget = share * left as f64 / n_waiting as f64;
            let scale = if round == 0 { 0.5 } else { 0.2 };
            let steps = grid_steps().map(|step| scale * step);
            let climb = Climb::new(start, steps, n_strokes, budget as usize);
            return State::Climb { round, waiting, climb: Some(Box::new(climb)), tops };
        }
        by_mean(&mut tops);
        self.tell(tops.first());
        match CLIMBS.get(round + 1) {
            Some((_, n_climbs)) => {
                tops.truncate(*n_climbs);
                tops.reverse();
                State::Climb { round: round + 1, waiting: tops, climb: None, tops: Vec::new() }
            }
            None => State::Measure { best: tops.into_iter().next() },
        }
    }

    /// The chances of the best and of the player's own, on strokes that nothing was chosen
    /// by.
    fn measure(&mut self, best: Option<Candidate>, next: &dyn Fn(DVec2) -> f64) {
        std::mem::swap(&mut self.trial.wobbles, &mut self.fresh);
        let mut own = self.own.clone();
        self.play(&mut own, MEASURED, worth, next);
        self.own = own;
        if let Some(mut best) = best {
            best.values.clear();
            self.play(&mut best, MEASURED, worth, next);
            self.tell(Some(&best));
        }
    }

    fn play(
        &mut self,
        candidate: &mut Candidate,
        n: usize,
        value: Value,
        next: &dyn Fn(DVec2) -> f64,
    ) {
        self.n_plays += candidate.play(&self.trial, n, value, next);
    }

    fn tell(&mut self, best: Option<&Candidate>) {
        self.best =
            best.map(|it| Best { plan: it.plan, stroke: it.delivery.aimed, chance: it.chance() });
    }
}

/// Plays kept for all that comes after the climbs of a round, of which so many have not
/// begun.
fn reserved(round: usize, n_waiting: usize) -> usize {
    let after = |round: usize| CLIMBS.get(round + 1).map_or(JUDGED, |(n_strokes, _)| *n_strokes);
    let more = |round: usize, n_climbs: usize| n_climbs * (after(round) - CLIMBS[round].0);
    let later: usize = (round + 1..CLIMBS.len()).map(|later| more(later, CLIMBS[later].1)).sum();
    more(round, n_waiting) + later + 2 * MEASURED + SLACK
}

/// The best first; of equals the earlier.
fn by_mean(field: &mut Vec<Candidate>) {
    sort_by_number(field, |candidate| -candidate.mean());
}

/// So many of a sorted field: first those that are not next to a better one, for each of
/// them may lie under a top of its own.
fn distinct(field: Vec<Candidate>, n: usize) -> Vec<Candidate> {
    let mut chosen: Vec<Candidate> = Vec::new();
    let mut rest = Vec::new();
    for candidate in field {
        if chosen.iter().any(|better| are_neighbours(&better.plan, &candidate.plan)) {
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

/// Whether two plans are at most a step of the survey apart in everything.
fn are_neighbours(a: &Plan, b: &Plan) -> bool {
    let apart = [libm::log(a.speed / b.speed), a.side - b.side, a.height - b.height];
    a.pocket == b.pocket
        && apart.iter().zip(grid_steps()).all(|(apart, step)| apart.abs() < 1.5 * step)
}

/// The best of each pocket, so many in all.
fn of_each_pocket(mut found: Vec<Candidate>, n: usize) -> Vec<Candidate> {
    by_mean(&mut found);
    let is_there = |pocket: &PocketId| found.iter().any(|it| it.plan.pocket == *pocket);
    let n_pockets = PocketId::ALL.iter().filter(|pocket| is_there(pocket)).count().max(1);
    PocketId::ALL
        .iter()
        .flat_map(|pocket| {
            let of_it = found.iter().filter(move |it| it.plan.pocket == *pocket);
            of_it.take(n / n_pockets).cloned()
        })
        .collect()
}

/// Between neighbours of the survey: logarithm of the speed, side, height.
fn grid_steps() -> [f64; 3] {
    let tip = FARTHEST_TIP / f64::from(TIP_STEPS);
    [libm::log(SPEEDS.end() / SPEEDS.start()) / (N_SPEEDS - 1) as f64, tip, tip]
}

/// The plans of the survey.
fn grid(situation: &Situation, demand: &Demand) -> Vec<Plan> {
    let [ratio, tip, _] = grid_steps();
    let pockets = PocketId::ALL.into_iter().filter(|pocket| {
        let stroke = Stroke { azimuth: 0.0, elevation: 0.0, speed: 2.0, side: 0.0, height: 0.0 };
        demand.pocket.is_none_or(|named| named == *pocket)
            && aim_at_pocket(situation.arena(), situation.balls(), &stroke, situation.on(), *pocket)
                .is_some()
    });
    let mut plans = Vec::new();
    for pocket in pockets {
        for across in -TIP_STEPS..=TIP_STEPS {
            for up in -TIP_STEPS..=TIP_STEPS {
                for k in 0..N_SPEEDS {
                    let speed = SPEEDS.start() * libm::exp(ratio * k as f64);
                    let speed = speed.min(*SPEEDS.end());
                    let (side, height) = (f64::from(across) * tip, f64::from(up) * tip);
                    let plan = Plan { pocket, speed, side, height };
                    if plan.is_within_reach() {
                        plans.push(plan);
                    }
                }
            }
        }
    }
    plans
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
