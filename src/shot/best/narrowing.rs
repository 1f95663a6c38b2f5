//! What a search decides between its batches: who is surveyed, races, climbs and is judged.

use super::batch::Task;
use super::candidate::{Candidate, Trial};
use super::climb::{ASCENT_NUMBERS, Climb, Stage, errors_and_away};
use super::plan::Plan;
use super::survey::{Find, are_within, finds, lines, of_each_pocket, steps};
use super::worth::HOPE;
use crate::order::sort_by_number;
use crate::physics::Stroke;
use crate::shot::{Chance, Demand, Hand, Situation, Wobble};
use crate::table::PocketId;

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
    /// How many tops are judged, and by how many strokes.
    n_tops: usize,
    n_judged: usize,
}

const ROUNDS: [Round; 3] = [
    Round {
        n_climbs: 18,
        widths: &[0.3, 0.15],
        n_strokes: 128,
        hope: 0.35,
        n_tops: 11,
        n_judged: 128,
    },
    Round {
        n_climbs: 7,
        widths: &[0.2, 0.1],
        n_strokes: 200,
        hope: 0.05,
        n_tops: 7,
        n_judged: 256,
    },
    Round {
        n_climbs: 3,
        widths: &[0.08, 0.04],
        n_strokes: 256,
        hope: 0.0,
        n_tops: 3,
        n_judged: JUDGED,
    },
];

/// Of plans within so many steps of the survey of each other only the best starts to climb,
/// if there are enough, and only the best top climbs on.
const NEIGHBOURS: f64 = 1.5;
const SAME_TOP: f64 = 0.4;

/// The number of the first errors of the race, far from all others.
const RACING: u32 = 1 << 20;

/// Strokes by which the last few are judged.
const JUDGED: usize = 640;

/// Strokes, all of them fresh, that measure the best and the player's.
pub(super) const MEASURED: usize = 1024;

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

/// All that is known of the plans so far.
#[derive(Clone, Debug)]
pub(super) struct Narrowing {
    pub trial: Trial,
    pub best: Option<Best>,
    /// Errors that nothing was chosen by.
    fresh: Vec<Wobble>,
    own: Candidate,
    state: State,
}

/// What the batch under way is for.
#[derive(Clone, Debug)]
enum State {
    Survey { lines: Vec<Plan> },
    Centre { field: Vec<Find> },
    Race { round: usize, field: Vec<Candidate> },
    Climb { round: usize, stage: usize, field: Vec<Climber> },
    Ascend { round: usize, stage: usize, field: Vec<Climber> },
    Judge { round: usize, field: Vec<(Climber, Option<Candidate>)> },
    Measure { best: Option<Candidate> },
    Done,
}

/// A climb, and the best that it has reached.
#[derive(Clone, Debug)]
struct Climber {
    climb: Climb,
    best: Candidate,
}

impl Narrowing {
    /// Nothing has been tried yet; the rest is as in [`Search::new`](super::Search::new).
    pub fn new(situation: Situation, demand: Demand, hand: Hand, seed: u32, own: Stroke) -> Self {
        let lines = lines(&situation, &demand);
        let pocket = demand.pocket.unwrap_or(PocketId::ALL[0]);
        let plan = Plan { pocket, speed: own.speed, side: own.side, height: own.height };
        let wobbles = wobbles(RACING);
        let trial = Trial { situation, demand, hand, wobbles };
        Self {
            fresh: (0..MEASURED).map(|k| Wobble::drawn(seed, k as u32)).collect(),
            own: Candidate::of(&trial, plan, &own),
            trial,
            state: State::Survey { lines },
            best: None,
        }
    }

    /// Whether there is nothing more to be decided.
    pub fn is_over(&self) -> bool {
        matches!(self.state, State::Done)
    }

    /// The chance of the player's own stroke, at the end.
    pub fn own(&self) -> Option<Chance> {
        self.is_over().then(|| self.own.chance())
    }

    /// On to the next batch, where this one gave these numbers.
    pub fn go_on(&mut self, numbers: &[f64]) {
        let state = std::mem::replace(&mut self.state, State::Done);
        self.state = self.follow(state, numbers);
    }

    /// What comes after a state whose batch gave these numbers.
    fn follow(&mut self, state: State, numbers: &[f64]) -> State {
        match state {
            State::Survey { lines } => {
                let field = of_each_pocket(finds(&lines, numbers), RACE[0].1);
                State::Centre { field }
            }
            State::Centre { field } => {
                let centred = field.iter().zip(numbers.chunks_exact(2));
                let field = centred.filter_map(|(find, to)| find.at(&self.trial, to[0])).collect();
                State::Race { round: 0, field }
            }
            State::Race { round, field } => self.race(round, field, numbers),
            State::Climb { round, stage, mut field } => {
                let mut numbers = numbers.iter().copied();
                for climber in &mut field {
                    climber.climb.take(&mut numbers);
                }
                State::Ascend { round, stage, field }
            }
            State::Ascend { round, stage, field } => self.ascend(round, stage, field, numbers),
            State::Judge { round, field } => self.judge(round, field, numbers),
            State::Measure { best } => {
                let mut numbers = numbers.iter().copied();
                self.own.take(MEASURED, &mut numbers);
                if let Some(mut best) = best {
                    best.take(MEASURED, &mut numbers);
                    self.show(Some(&best));
                }
                State::Done
            }
            State::Done => State::Done,
        }
    }

    /// What is to be done now.
    pub fn tasks(&self) -> Vec<Task> {
        let trial = &self.trial;
        let called = |it: &Candidate| Some(it.plan.pocket);
        match &self.state {
            State::Survey { lines } => lines.iter().copied().map(Task::Line).collect(),
            State::Centre { field } => field
                .iter()
                .map(|it| Task::Centre(Box::new(it.line.clone()), it.speed(), it.value))
                .collect(),
            State::Race { round, field } => {
                field.iter().flat_map(|it| it.tasks(trial, RACE[*round].0, called(it))).collect()
            }
            State::Climb { field, .. } => {
                field.iter().flat_map(|climber| climber.climb.tasks()).collect()
            }
            State::Ascend { field, .. } => {
                let climbs = field.iter().map(|climber| climber.climb.clone());
                climbs.map(|climb| Task::Ascend(Box::new(climb))).collect()
            }
            State::Judge { round, field } => field
                .iter()
                .flat_map(|(climber, top)| std::iter::once(&climber.best).chain(top))
                .flat_map(|it| it.tasks(trial, ROUNDS[*round].n_judged, called(it)))
                .collect(),
            State::Measure { best } => std::iter::once(&self.own)
                .chain(best)
                .flat_map(|it| it.tasks(trial, MEASURED, None))
                .collect(),
            State::Done => Vec::new(),
        }
    }

    fn race(&mut self, round: usize, mut field: Vec<Candidate>, numbers: &[f64]) -> State {
        let mut numbers = numbers.iter().copied();
        for candidate in &mut field {
            candidate.take(RACE[round].0, &mut numbers);
        }
        sort_by_number(&mut field, |it| -it.mean(HOPE));
        if let Some((_, n_plans)) = RACE.get(round + 1) {
            return State::Race { round: round + 1, field: distinct(field, *n_plans) };
        }
        self.show(field.first());
        // Starts were chosen by these strokes: others judge them beside their tops.
        self.trial.wobbles = wobbles(0);
        let climber =
            |best: Candidate| Climber { climb: Climb::new(best.plan, 0.0), best: best.unplayed() };
        let field = distinct(field, ROUNDS[0].n_climbs).into_iter().map(climber).collect();
        self.send(0, field)
    }

    /// Lets all of them climb through the stages of a round.
    fn send(&self, round: usize, mut field: Vec<Climber>) -> State {
        for climber in &mut field {
            climber.climb.hope = ROUNDS[round].hope;
            climber.climb.begin(&self.trial, &stage(round, 0));
        }
        State::Climb { round, stage: 0, field }
    }

    fn ascend(
        &mut self,
        round: usize,
        at: usize,
        mut field: Vec<Climber>,
        numbers: &[f64],
    ) -> State {
        for (climber, numbers) in field.iter_mut().zip(numbers.chunks_exact(ASCENT_NUMBERS)) {
            climber.climb.rise(numbers);
        }
        if at + 1 < ROUNDS[round].widths.len() {
            for climber in &mut field {
                climber.climb.begin(&self.trial, &stage(round, at + 1));
            }
            return State::Climb { round, stage: at + 1, field };
        }
        sort_by_number(&mut field, |climber| -climber.climb.score);
        field.truncate(ROUNDS[round].n_tops);
        let with_top = |climber: Climber| {
            let top = Candidate::new(&self.trial, climber.climb.plan, climber.climb.turn);
            (climber, top)
        };
        State::Judge { round, field: field.into_iter().map(with_top).collect() }
    }

    /// Where a climb has not led upward its start is kept, and the next begins there.
    fn judge(
        &mut self,
        round: usize,
        field: Vec<(Climber, Option<Candidate>)>,
        numbers: &[f64],
    ) -> State {
        let mut numbers = numbers.iter().copied();
        let mut judged = |(Climber { climb, mut best }, top): (Climber, Option<Candidate>)| {
            let n = ROUNDS[round].n_judged;
            best.take(n, &mut numbers);
            let top = top.map(|mut top| {
                top.take(n, &mut numbers);
                top
            });
            match top.filter(|top| top.mean(0.0) >= best.mean(0.0)) {
                Some(top) => Climber { climb, best: top },
                None => Climber { climb: climb.back_to(best.plan, best.turn), best },
            }
        };
        let mut field: Vec<Climber> = field.into_iter().map(&mut judged).collect();
        sort_by_number(&mut field, |climber| -climber.best.mean(0.0));
        self.show(field.first().map(|climber| &climber.best));
        let Some(Round { n_climbs, .. }) = ROUNDS.get(round + 1) else {
            std::mem::swap(&mut self.trial.wobbles, &mut self.fresh);
            let best = field.into_iter().next().map(|climber| climber.best.unplayed());
            return State::Measure { best };
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

    fn show(&mut self, best: Option<&Candidate>) {
        self.best =
            best.map(|it| Best { plan: it.plan, stroke: it.delivery.aimed, chance: it.chance() });
    }
}

/// Errors by which candidates are judged, from this number of their series on.
fn wobbles(first: u32) -> Vec<Wobble> {
    (0..JUDGED).map(|k| errors_and_away(first + k as u32).0).collect()
}

/// This stage of a round's climbs.
fn stage(round: usize, at: usize) -> Stage {
    let Round { widths, n_strokes, .. } = &ROUNDS[round];
    Stage { widths: steps().map(|step| widths[at] * step), n_strokes: *n_strokes }
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
    sort_by_number(&mut chosen, |it| -it.mean(HOPE));
    chosen
}
