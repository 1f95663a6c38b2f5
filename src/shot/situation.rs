//! Balls on a table, on which many strokes are tried for their ends alone.

use super::Demand;
use super::aim::leads_to;
use crate::ball::{BallId, BallMotion};
use crate::error::Error;
use crate::physics::{
    Arena, BallEnd, Course, Event, EventKind, Listen, OfBalls, Outcome, PlacedBall, Shot, Stroke,
    at_the_strike,
};
use crate::table::{PocketId, Rail, Surface};
use arrayvec::ArrayVec;
use glam::DVec2;

/// Of the rails that the cue ball meets, so many are kept, the first ones (tuning
/// choice: nobody plans more).
pub const MOST_RAILS: usize = 12;

/// Balls on a table, ready for any number of strokes.
#[derive(Clone, Debug)]
pub struct Situation {
    arena: Arena,
    balls: Vec<PlacedBall>,
    on: BallId,
    /// Every ball at rest.
    still: Vec<(BallId, BallMotion)>,
    cue_place: usize,
    on_place: usize,
}

/// What came of a stroke, in short.
#[derive(Clone, Debug, PartialEq)]
pub struct Ending {
    /// The ball that the cue ball met first.
    pub first: Option<BallId>,
    /// The pocket into which the ball on fell.
    pub pocket: Option<PocketId>,
    /// Whether the cue ball fell, or was still moving when the shot was given up.
    pub scratch: bool,
    /// Where the cue ball stopped, m; the middle of the hole it fell into.
    pub stop: DVec2,
    /// The rails that the cue ball met after its first ball, in order.
    pub rails: ArrayVec<Rail, MOST_RAILS>,
    /// The balls that do not lie any more where they lay, one bit for each number.
    pub moved: u16,
}

impl Ending {
    /// Whether this ball does not lie any more where it lay.
    pub fn has_moved(&self, ball: BallId) -> bool {
        self.moved >> ball.number() & 1 == 1
    }
}

impl Situation {
    /// The layout of `shot`, whose stroke is not used, with the ball `on` to be potted.
    ///
    /// # Errors
    /// As [`Shot::check`]; [`Error::Invalid`] naming `on` if it is not an object ball of
    /// the layout.
    pub fn new(shot: &Shot, on: BallId) -> Result<Self, Error> {
        shot.check()?;
        let place = |id: BallId| shot.balls.iter().position(|ball| ball.id == id);
        let cue_place =
            place(BallId::CUE).ok_or_else(|| Error::invalid("balls", "the cue ball is missing"))?;
        let on_place = place(on)
            .filter(|_| !on.is_cue())
            .ok_or_else(|| Error::invalid("on", "must be an object ball that is on the table"))?;
        let arena = Arena::new(&shot.card);
        let still = at_the_strike(&shot.balls, BallMotion::default());
        Ok(Self { arena, balls: shot.balls.clone(), on, still, cue_place, on_place })
    }

    /// The table.
    pub fn arena(&self) -> &Arena {
        &self.arena
    }

    /// All balls.
    pub fn balls(&self) -> &[PlacedBall] {
        &self.balls
    }

    /// The ball on.
    pub fn on(&self) -> BallId {
        self.on
    }

    /// Where the cue ball lies, m.
    pub fn cue_ball(&self) -> DVec2 {
        self.balls[self.cue_place].position
    }

    /// Where the ball on lies, m.
    pub fn object_ball(&self) -> DVec2 {
        self.balls[self.on_place].position
    }

    /// Plays `stroke`, which must have passed [`Stroke::check`].
    pub fn play(&self, stroke: &Stroke) -> Ending {
        let mut watch = Watch::default();
        let ends = self.run(stroke, &mut watch);
        self.ending(&watch.met, &ends)
    }

    /// The same for what `demand` asks: given up, as `None`, at the first event after which
    /// the ball on cannot be potted as asked, or, where the stop's worth rests on the next
    /// ball, that one is not where it lay. What comes to its end comes out alike.
    ///
    /// If a pocket is `called`, flukes do not count: it is given up, too, once the ball on
    /// meets a cushion that does not lead there, or any cushion after the jaws.
    pub fn play_for(
        &self,
        demand: &Demand,
        called: Option<PocketId>,
        stroke: &Stroke,
    ) -> Option<Ending> {
        let next = demand.next.filter(|_| demand.zone.is_none());
        let next = next.and_then(|next| self.balls.iter().position(|ball| ball.id == next));
        let mut watch = Watch { asked: Some((demand, next)), called, ..Watch::default() };
        let ends = self.run(stroke, &mut watch);
        (!watch.in_vain).then(|| self.ending(&watch.met, &ends))
    }

    fn run(&self, stroke: &Stroke, watch: &mut Watch) -> OfBalls<BallEnd> {
        let card = self.arena.card();
        let mut balls: OfBalls<_> = self.still.iter().copied().collect();
        let (velocity, spin) = stroke.launch(card.ball.radius, card.squirt_mass_ratio);
        let cue_ball = &mut balls[self.cue_place].1;
        (cue_ball.velocity, cue_ball.spin) = (velocity, spin);
        self.arena.run(&balls, watch)
    }

    /// What came of a stroke that was played on this layout with all its events.
    pub fn ending_of(&self, outcome: &Outcome) -> Ending {
        let mut watch = Watch::default();
        for event in &outcome.events {
            watch.event(*event);
        }
        self.ending(&watch.met, &outcome.ends)
    }

    fn ending(&self, met: &Met, ends: &[BallEnd]) -> Ending {
        let (stop, scratch) = match ends[self.cue_place] {
            BallEnd::Rest(at) => (at, false),
            BallEnd::Moving(at) => (at, true),
            BallEnd::Pocketed(pocket) => (self.arena.shape().pocket(pocket).hole, true),
        };
        let pocket = match ends[self.on_place] {
            BallEnd::Pocketed(pocket) => Some(pocket),
            _ => None,
        };
        let moved = self.balls.iter().zip(ends).fold(0, |moved, (ball, end)| {
            let has_moved = *end != BallEnd::Rest(ball.position);
            moved | u16::from(has_moved) << ball.id.number()
        });
        Ending { first: met.first, pocket, scratch, stop, rails: met.rails.clone(), moved }
    }
}

/// What the cue ball met.
#[derive(Default)]
struct Met {
    first: Option<BallId>,
    rails: ArrayVec<Rail, MOST_RAILS>,
}

/// Hears what the cue ball meets, and whether what is asked can still be given.
#[derive(Default)]
struct Watch<'a> {
    met: Met,
    /// What is asked, and the place of the ball that must stay where it lies.
    asked: Option<(&'a Demand, Option<usize>)>,
    /// The pocket that alone counts.
    called: Option<PocketId>,
    /// The ball on has met the jaws of that pocket.
    in_jaws: bool,
    in_vain: bool,
}

impl Watch<'_> {
    /// Whether the ball on cannot be potted as asked any more after this.
    fn rules_out(&self, demand: &Demand, event: Event) -> bool {
        match event.kind {
            EventKind::Contact(other) => {
                event.ball.is_cue() && self.met.first.is_none() && other != demand.on
            }
            EventKind::Pocketed(pocket) if event.ball == demand.on => {
                self.called.or(demand.pocket).is_some_and(|named| named != pocket)
            }
            EventKind::Pocketed(_) => event.ball.is_cue(),
            EventKind::Cushion(surface) if event.ball == demand.on => {
                self.called.is_some_and(|called| match surface {
                    Surface::Rail(rail) => self.in_jaws || !leads_to(rail, called),
                    Surface::Pocket(pocket) => pocket != called,
                })
            }
            _ => false,
        }
    }
}

impl Listen for Watch<'_> {
    fn event(&mut self, event: Event) {
        if let Some((demand, _)) = self.asked {
            self.in_vain |= self.rules_out(demand, event);
            self.in_jaws |= event.ball == demand.on
                && matches!(event.kind, EventKind::Cushion(Surface::Pocket(_)));
        }
        if !event.ball.is_cue() {
            return;
        }
        match event.kind {
            EventKind::Contact(other) if self.met.first.is_none() => self.met.first = Some(other),
            EventKind::Cushion(Surface::Rail(rail)) if self.met.first.is_some() => {
                // Only the first are kept.
                let _ = self.met.rails.try_push(rail);
            }
            _ => {}
        }
    }

    fn leg(&mut self, place: usize, course: &Course, since: f64, until: f64) {
        if self.asked.is_some_and(|(_, next)| next == Some(place)) {
            self.in_vain |= course.position(until - since) != course.start.position;
        }
    }

    fn has_heard_enough(&self) -> bool {
        self.in_vain
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::physics::play;
    use crate::shot::example::potted;
    use crate::shot::{Zone, worth};
    use crate::table::{TableCard, TableSize};

    #[test]
    fn an_ending_tells_what_a_demand_asks() {
        let (situation, stroke) = potted(1.5, 0.2);
        let ending = situation.play(&stroke);
        let shot =
            Shot { card: *situation.arena().card(), balls: situation.balls().to_vec(), stroke };
        let outcome = play(&shot).expect("a legal shot");
        assert_eq!(situation.ending_of(&outcome), ending, "told of the whole shot alike");
        let mut demand = Demand::to_pot(situation.on());
        assert!(demand.is_met(&ending), "potted: {ending:?}");
        assert!(ending.has_moved(situation.on()), "it is gone");
        demand.pocket = Some(PocketId::HeadLeft);
        assert!(!demand.is_met(&ending), "in the wrong pocket");
        demand.pocket = Some(PocketId::FootLeft);
        demand.rails = ending.rails.iter().copied().collect();
        demand.zone = Some(Zone { centre: ending.stop, half: DVec2::splat(0.01), turn: 0.0 });
        assert!(demand.is_met(&ending), "all as played");
        demand.rails.insert(0, Rail::Head);
        assert!(!demand.is_met(&ending), "a rail too many");
    }

    #[test]
    fn what_is_given_up_was_in_vain_and_all_else_comes_out_alike() {
        let (_, plain) = potted(1.5, 0.2);
        let ball = |number: u8| BallId::object(number).expect("a ball");
        let at = |id: BallId, x: f64, y: f64| PlacedBall { id, position: DVec2::new(x, y) };
        let shot = Shot {
            card: TableCard::of_size(TableSize::NineFoot),
            balls: vec![
                at(ball(3), 1.7, 0.9),
                at(BallId::CUE, 0.8, 0.5),
                at(ball(5), 2.1, 0.4),
                at(ball(7), 1.2, 1.1),
            ],
            stroke: plain,
        };
        let situation = Situation::new(&shot, ball(3)).expect("a sound layout");
        let any = Demand::to_pot(ball(3));
        let named = Demand { pocket: Some(PocketId::FootLeft), ..any.clone() };
        let next = Demand { next: Some(ball(5)), ..any.clone() };
        let mut leave = |from: DVec2| 0.1 + 0.2 * from.x;
        let (mut n_given_up, mut n_worth) = (0, 0);
        for k in 0..1200 {
            let part = |n: u32| f64::from(k % n) / f64::from(n) - 0.5;
            let stroke = Stroke {
                azimuth: plain.azimuth + 0.3 * part(5) * part(7) * part(11),
                elevation: 0.03,
                speed: 0.6 + 5.0 * (0.5 + part(17)),
                side: 0.5 * part(13),
                height: 0.7 * part(19),
            };
            let whole = situation.play(&stroke);
            for demand in [&any, &named, &next] {
                let full = worth(demand, &whole, &mut leave);
                match situation.play_for(demand, None, &stroke) {
                    Some(ending) => assert_eq!(ending, whole, "{stroke:?}"),
                    None => {
                        n_given_up += 1;
                        assert_eq!(full, 0.0, "not in vain: {stroke:?} for {demand:?}: {whole:?}");
                    }
                }
                n_worth += u32::from(full > 0.0);
            }
        }
        assert!(n_given_up > 100 && n_worth > 100, "{n_given_up} given up, {n_worth} worth it");
    }

    #[test]
    fn a_called_shot_counts_no_flukes_and_hardly_any_other_pot_is_given_up() {
        let (situation, plain) = potted(1.5, 0.2);
        let demand = Demand::to_pot(situation.on());
        let (mut n_pots, mut n_flukes, mut n_given_up) = (0, 0, 0);
        for k in 0..1500 {
            let part = |n: u32| f64::from(k % n) / f64::from(n) - 0.5;
            let azimuth = plain.azimuth + 0.05 * part(7) * part(11);
            let stroke = Stroke { azimuth, speed: 0.8 + 5.0 * (0.5 + part(17)), ..plain };
            let whole = situation.play(&stroke);
            let is_called = whole.pocket == Some(PocketId::FootLeft);
            match situation.play_for(&demand, Some(PocketId::FootLeft), &stroke) {
                Some(ending) => {
                    n_pots += u32::from(is_called);
                    assert_eq!(ending, whole, "{stroke:?}");
                }
                None if is_called && !whole.scratch => n_given_up += 1,
                None => n_flukes += u32::from(whole.pocket.is_some()),
            }
        }
        assert!(n_pots > 200 && n_flukes > 0, "{n_pots} pots, {n_flukes} flukes");
        assert!(n_given_up * 50 < n_pots, "{n_given_up} given up beside {n_pots} pots");
    }

    #[test]
    fn the_ball_on_must_lie_on_the_table() {
        let (situation, stroke) = potted(1.5, 0.2);
        let shot =
            Shot { card: *situation.arena().card(), balls: situation.balls().to_vec(), stroke };
        for on in [BallId::CUE, BallId::object(4).expect("a ball")] {
            let error = Situation::new(&shot, on).expect_err("no such ball on");
            assert_eq!(error.field(), "on", "{error}");
        }
    }
}
