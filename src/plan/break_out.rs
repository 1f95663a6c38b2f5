//! Breaking out balls that have no way to a pocket: what it is worth, and what comes of it.

use super::guide::Guide;
use super::kept_stroke::Kept;
use super::openness::{DISTURBED, Openness};
use super::rack::Rack;
use super::set::BallSet;
use super::table::{Called, Over, Table};
use crate::ball::BallId;
use crate::order::sort_by_number;
use crate::physics::PlacedBall;
use crate::shot::{Delivery, Series, Wobble};
use glam::DVec2;

/// Strokes that are played to see what comes of it, each with errors of its own (tuning
/// choice).
const PLAYED: usize = 12;

/// A ball that falls less often is no way to run into others (tuning choice).
const LEAST_POT: f32 = 0.3;

/// What running into certain balls is worth after a pot.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct BrokenOut {
    /// The balls.
    pub aims: BallSet,
    /// What the layouts that come of it are worth on average, 0 to 1.
    pub value: f64,
}

/// What it is worth that the cue ball runs into one of `aims` after it has potted `ball` of
/// `table`: strokes of the guide from all over the table that do so are played with the
/// hand, and the layouts that they leave are judged as they lie. `None` if there are none.
pub fn broken_out(
    guide: &Guide,
    rack: &Rack,
    table: &Table,
    ball: BallId,
    aims: BallSet,
) -> Option<BrokenOut> {
    let (arena, hand) = (guide.arena(), guide.hand());
    let (grid, after) = (guide.grid(), table.left.without(ball));
    let runs = |kept: &&Kept| {
        kept.pot >= LEAST_POT
            && kept.blocked.and(after).is_empty()
            && !kept.bumped.and(aims).is_empty()
    };
    let reach = 2.0 * rack.card.ball.radius;
    let is_free =
        |place: DVec2| table.balls.iter().all(|ball| ball.position.distance(place) >= reach);
    let strokes: Vec<(DVec2, &Kept)> = (0..grid.n_cells())
        .map(|cell| (cell, grid.place_of(cell)))
        .filter(|(_, place)| is_free(*place))
        .flat_map(|(cell, place)| {
            guide.shelf(ball, cell).iter().filter(runs).map(move |kept| (place, kept))
        })
        .collect();
    let n = strokes.len().min(PLAYED);
    let (mut sum, mut stayed) = (0.0, 0.0);
    for number in 0..n {
        let (place, kept) = strokes[number * strokes.len() / n];
        let cue_ball = PlacedBall { id: BallId::CUE, position: place };
        let others = table.balls.iter().copied().filter(|ball| !ball.id.is_cue());
        let table = Table { balls: std::iter::once(cue_ball).chain(others).collect(), ..*table };
        let stroke = kept.stroke(guide.n_speeds());
        let delivery = Delivery::new(hand, arena.card(), &table.balls, &stroke);
        let struck = delivery.struck(&Wobble::drawn(Series::BreakOuts.number(), number as u32));
        let called = Called { ball, pocket: kept.pocket };
        if let Ok(after) = table.after(rack, arena, called, &struck) {
            let open = Openness::new(rack, arena, hand, &after.balls, after.left);
            sum += open.value(rack, arena, hand, after.left, after.cue_ball());
            stayed += 1.0;
        }
    }
    (stayed > 0.0).then(|| BrokenOut { aims, value: DISTURBED * sum / stayed })
}

/// Places from which a set that seems tied up is tried as it lies, strokes from each, and
/// errors of each (tuning choices).
const TRIED_FROM: usize = 8;
const TRIED: usize = 4;
const ERRORS: u32 = 3;

/// What `table`, which no stroke of the guide gets on with, is worth as it lies, on average
/// over the table: its likeliest pots are played among all balls, for balls that touch can
/// often be played, off each other, too. `value` says what is left then.
pub fn as_it_lies(guide: &Guide, rack: &Rack, table: &Table, value: impl Fn(&Table) -> f64) -> f64 {
    let (arena, hand, grid) = (guide.arena(), guide.hand(), guide.grid());
    let reach = 2.0 * rack.card.ball.radius;
    let others: Vec<PlacedBall> =
        table.balls.iter().copied().filter(|ball| !ball.id.is_cue()).collect();
    let from = (0..grid.n_cells()).step_by((grid.n_cells() / TRIED_FROM).max(1));
    let (mut sum, mut n) = (0.0, 0.0);
    for (cell, place) in from.map(|cell| (cell, grid.place_of(cell))) {
        if others.iter().any(|ball| ball.position.distance(place) < reach) {
            continue;
        }
        let cue_ball = PlacedBall { id: BallId::CUE, position: place };
        let balls: Vec<PlacedBall> =
            std::iter::once(cue_ball).chain(others.iter().copied()).collect();
        let table = Table { balls, left: table.left };
        let mut strokes: Vec<(BallId, &Kept)> = rack
            .legal(table.left)
            .balls()
            .flat_map(|ball| guide.shelf(ball, cell).iter().map(move |kept| (ball, kept)))
            .collect();
        sort_by_number(&mut strokes, |(_, kept)| -f64::from(kept.pot));
        let step = (strokes.len() / TRIED).max(1);
        let worth = |(ball, kept): &(BallId, &Kept)| {
            let called = Called { ball: *ball, pocket: kept.pocket };
            let stroke = kept.stroke(guide.n_speeds());
            let delivery = Delivery::new(hand, arena.card(), &table.balls, &stroke);
            let played = (0..ERRORS).map(|k| {
                match table.after(
                    rack,
                    arena,
                    called,
                    &delivery.drawn(Series::BreakOuts.number(), k),
                ) {
                    Err(Over::Cleared) => 1.0,
                    Err(_) => 0.0,
                    Ok(after) => value(&after),
                }
            });
            played.sum::<f64>() / f64::from(ERRORS)
        };
        sum += strokes.iter().step_by(step).take(TRIED).map(worth).fold(0.0, f64::max);
        n += 1.0;
    }
    sum / f64::max(n, 1.0)
}

/// What a shot of a plan does to balls that had no way to a pocket.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct BreakOut {
    /// Those that have one after it more often than not.
    pub freed: BallSet,
    /// Another ball that can be played from nearly wherever the cue ball stops then.
    pub insurance: Option<BallId>,
}

/// A ball is insurance if it can be played from so large a share of the stops (tuning choice).
const NEARLY_ANYWHERE: f64 = 0.85;

/// And played means so well at least (tuning choice: what a player would not call a risk).
const SAFE: f64 = 0.7;

/// What potting `ball` of `table` does to balls without a way, by the tables that the hand
/// left after it; `None` if it frees none.
pub fn break_out(guide: &Guide, table: &Table, ball: BallId, stayed: &[Table]) -> Option<BreakOut> {
    let (rack, arena, hand) = (guide.rack(), guide.arena(), guide.hand());
    let left = table.left.without(ball);
    let there: Vec<PlacedBall> = table.balls.iter().copied().filter(|one| one.id != ball).collect();
    let stuck = Openness::new(rack, arena, hand, &there, left).stuck();
    if stuck.is_empty() || stayed.is_empty() {
        return None;
    }
    let opens: Vec<Openness> = stayed
        .iter()
        .map(|after| Openness::new(rack, arena, hand, &after.balls, after.left))
        .collect();
    let often = |n: usize, share: f64| n as f64 >= share * stayed.len() as f64;
    let freed: BallSet = stuck
        .balls()
        .filter(|ball| often(opens.iter().filter(|open| !open.stuck().has(*ball)).count(), 0.5))
        .collect();
    let playable = |ball: BallId| {
        let after = stayed.iter().zip(&opens);
        after.filter(|(after, open)| open.pot(arena, hand, ball, after.cue_ball()) >= SAFE).count()
    };
    let insurance = rack
        .legal(left)
        .minus(freed)
        .balls()
        .map(|ball| (ball, playable(ball)))
        .filter(|(_, n)| often(*n, NEARLY_ANYWHERE))
        .reduce(|best, next| if next.1 > best.1 { next } else { best })
        .map(|(ball, _)| ball);
    (!freed.is_empty()).then_some(BreakOut { freed, insurance })
}
