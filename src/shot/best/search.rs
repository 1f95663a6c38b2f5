//! The search for the best stroke, in steps that a caller can count.

use super::batch::{Batch, Share};
use super::narrowing::{Best, Narrowing};
use super::prospect::Outlook;
use crate::physics::Stroke;
use crate::shot::{Chance, Demand, Hand, Situation};
use std::collections::VecDeque;

/// A search plays no more than so many strokes (tuning choice: about a second in a browser).
pub const MOST_PLAYS: usize = 43_000;

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
///
/// Several workers may search together: each has a search of its own, does its share of every
/// batch of work, and tells the others what came of it; all of them then know the same.
#[derive(Clone, Debug)]
pub struct Search {
    narrowing: Narrowing,
    share: Share,
    batch: Batch,
    /// What the other workers are still to be told.
    outbox: VecDeque<Vec<f64>>,
    /// Plays of the batches that are over.
    n_plays: usize,
}

impl Search {
    /// For what `demand` asks on this situation, under `hand`, measured with the errors of
    /// the series `seed`; `own` is the player's stroke. Does this share of the work.
    pub fn new(
        situation: Situation,
        demand: Demand,
        hand: Hand,
        seed: u32,
        own: Stroke,
        share: Share,
    ) -> Self {
        let narrowing = Narrowing::new(situation, demand, hand, seed, own);
        let batch = Batch::new(narrowing.tasks(), share);
        Self { narrowing, share, batch, outbox: VecDeque::new(), n_plays: 0 }
    }

    /// Plays at least `n_plays` strokes more, and few more than that, unless it ends
    /// before, or must wait for other workers. `next` is what stops are worth for
    /// the next ball. The answer is the same whatever the steps, and whatever the share.
    pub fn step(&mut self, n_plays: usize, next: &mut dyn Outlook) -> Progress {
        // Where there is nothing to be surveyed all is over at once.
        self.go_on();
        let mut left = n_plays.max(1);
        while left > 0 {
            let Some(n) = self.batch.advance(&self.narrowing.trial, next) else { break };
            left = left.saturating_sub(n);
            if self.share.n_workers > 1 && self.batch.is_own_done() {
                self.outbox.push_back(self.batch.own_numbers());
            }
            self.go_on();
        }
        self.progress()
    }

    /// How far it is.
    pub fn progress(&self) -> Progress {
        let narrowing = &self.narrowing;
        let n_plays = self.n_plays + self.batch.n_done();
        let part = (n_plays as f64 / MOST_PLAYS as f64).min(0.99);
        let done = if narrowing.is_over() { 1.0 } else { part };
        Progress { done, best: narrowing.best, own: narrowing.own(), n_plays }
    }

    /// What the other workers must be told before they can go on, once for each batch of
    /// which this one's share is done.
    pub fn tell(&mut self) -> Option<Vec<f64>> {
        self.outbox.pop_front()
    }

    /// Whether it can do no more before it hears from others.
    pub fn waits(&self) -> bool {
        self.batch.is_own_done() && !self.batch.is_complete()
    }

    /// Takes in what worker `from` tells; gives whether it was to be expected.
    pub fn hear(&mut self, from: usize, numbers: &[f64]) -> bool {
        let is_expected = self.batch.hear(from, numbers);
        self.go_on();
        is_expected
    }

    /// On to the next batch, if this one is complete.
    fn go_on(&mut self) {
        while self.batch.is_complete() && !self.narrowing.is_over() {
            self.n_plays += self.batch.n_plays();
            let batch = std::mem::replace(&mut self.batch, Batch::new(Vec::new(), self.share));
            self.narrowing.go_on(&batch.into_numbers());
            self.batch = Batch::new(self.narrowing.tasks(), self.share);
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::ball::BallId;
    use crate::physics::{PlacedBall, Shot};
    use crate::shot::best::narrowing::MEASURED;
    use crate::shot::{HANDS, Zone};
    use crate::table::{PocketId, TableCard, TableSize};
    use glam::DVec2;

    fn search(pocket: Option<PocketId>, share: Share) -> Search {
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
        Search::new(situation, demand, HANDS[1].hand, 7, OWN, share)
    }

    const OWN: Stroke = Stroke { azimuth: 0.0, elevation: 0.0, speed: 2.0, side: 0.0, height: 0.0 };

    #[test]
    fn the_answer_is_the_same_whatever_the_steps_and_better_than_ones_own() {
        let whole = search(None, Share::ALL).step(MOST_PLAYS, &mut |_: DVec2| 1.0);
        assert_eq!(whole.done, 1.0, "within its plays: {whole:?}");
        let mut sliced = search(None, Share::ALL);
        let mut progress = sliced.step(997, &mut |_: DVec2| 1.0);
        while progress.done < 1.0 {
            let further = sliced.step(997, &mut |_: DVec2| 1.0);
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
    fn two_workers_find_what_one_finds() {
        let mut next = |place: DVec2| 0.2 + 0.3 * place.y;
        let whole = search(None, Share::ALL).step(MOST_PLAYS, &mut next);
        let mut both = [0, 1].map(|number| search(None, Share { number, n_workers: 2 }));
        let mut n_batches = 0;
        while both.iter().any(|one| one.progress().done < 1.0) {
            let told = both.each_mut().map(|one| {
                one.step(MOST_PLAYS, &mut next);
                assert!(one.waits(), "for the other: {:?}", one.progress());
                one.tell().expect("what it did alone")
            });
            assert!(!both[0].hear(0, &told[1]), "from itself");
            assert!(!both[0].hear(1, &told[1][1..]), "too little");
            assert!(both[0].hear(1, &told[1]) && both[1].hear(0, &told[0]), "expected");
            n_batches += 1;
        }
        assert!((5..30).contains(&n_batches), "few words between them: {n_batches}");
        let [one, other] = both.map(|one| one.progress());
        assert_eq!(one, whole, "the first and one alone");
        assert_eq!(other, whole, "the second and one alone");
    }

    #[test]
    fn where_nothing_pots_there_is_no_best() {
        let mut none = search(Some(PocketId::HeadRight), Share::ALL);
        let progress = none.step(MOST_PLAYS, &mut |_: DVec2| 1.0);
        assert_eq!((progress.done, progress.best), (1.0, None), "the pocket is behind");
    }
}
