//! A plan for all that is left, shot by shot, with what to do when a leave goes wrong.

use super::break_out::{BreakOut, break_out};
use super::foresight::Depth;
use super::guide::Guide;
use super::player::{Care, Player};
use super::search::Choice;
use super::table::{Called, Over, Table};
use super::way::{Foresights, Way};
use crate::geometry::cross;
use crate::order::sort_by_number;
use crate::shot::{Chance, Delivery, Series, Wobble};
use glam::DVec2;

/// Strokes of the hand by which a shot of the plan is described (tuning choice).
const STROKES: u32 = 192;

/// The longest and the shortest ways of so large a share count as long and short (tuning
/// choice: what is more than a standard deviation off).
const OFF: f64 = 0.16;

/// A way of leaving badly that is rarer than this is not told (tuning choice).
const RARE: f64 = 0.03;

/// How a leave went wrong.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Wrong {
    /// Farther along the path than meant.
    Long,
    /// Not so far.
    Short,
    /// On the other side of the line on which the next ball goes into its pocket.
    Side,
}

/// What to do then.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Second {
    /// What went wrong.
    pub wrong: Wrong,
    /// In what share of the pots, 0 to 1.
    pub share: f64,
    /// A stop of this kind, in the middle of them, m.
    pub stop: DVec2,
    /// The shot to go on with, if there is any.
    pub then: Option<Choice>,
}

/// One shot of a plan.
#[derive(Clone, Debug, PartialEq)]
pub struct Step {
    /// How the table lies before it.
    pub table: Table,
    /// What to play.
    pub choice: Choice,
    /// The chance to pot and stay in the run.
    pub pot: Chance,
    /// Where the cue ball stops when all goes as meant, m; `None` after the last shot, or if
    /// the run ends there.
    pub stop: Option<DVec2>,
    /// Stops of the hand that stay in the run, m.
    pub stops: Vec<DVec2>,
    /// What it does to balls that had no way to a pocket.
    pub break_out: Option<BreakOut>,
    /// What to do when the leave goes wrong.
    pub seconds: Vec<Second>,
}

/// The shots of a plan that plays `table` by `way`, each as if the ones before had gone as
/// meant. It ends early where no shot goes on. Whoever decides, what shots are worth is told
/// by who looks all ahead.
pub fn run_out(
    guide: &Guide,
    foresights: &Foresights,
    table: &Table,
    way: Way,
    care: Care,
) -> Vec<Step> {
    let planner = Planner { guide, foresights, depth: way.depth };
    let mut steps = Vec::new();
    let mut table = table.clone();
    let mut next = way.first.map(|first| planner.told(care, &table, first));
    while let Some(choice) = next {
        let meant = table.after(guide.rack(), guide.arena(), choice.called, &choice.stroke);
        next = meant.as_ref().ok().and_then(|after| planner.choose(care, after));
        steps.push(planner.step(&table, choice, next));
        match meant {
            Ok(after) => table = after,
            Err(_) => break,
        }
    }
    steps
}

/// A pot that stayed in the run.
struct Stayed {
    after: Table,
    way: f64,
}

/// Who decides on a plan's shots, and tells what they are worth.
struct Planner<'a> {
    guide: &'a Guide,
    foresights: &'a Foresights,
    depth: Depth,
}

impl Planner<'_> {
    fn choose(&self, care: Care, table: &Table) -> Option<Choice> {
        let choice = Player::new(self.guide, self.foresights.of(self.depth), care).choose(table)?;
        Some(if self.depth == Depth::All { choice } else { self.told(care, table, choice) })
    }

    /// `choice` with its worth to clear all.
    fn told(&self, care: Care, table: &Table, choice: Choice) -> Choice {
        let all = Player::new(self.guide, self.foresights.of(Depth::All), care);
        Choice { worth: all.weighed(table, choice.called, &choice.stroke), ..choice }
    }

    /// One shot of a plan, before `next`.
    fn step(&self, table: &Table, choice: Choice, next: Option<Choice>) -> Step {
        let guide = self.guide;
        let (rack, arena) = (guide.rack(), guide.arena());
        let delivery = Delivery::new(guide.hand(), arena.card(), &table.balls, &choice.stroke);
        let (mut stayed, mut n_made) = (Vec::new(), 0);
        for index in 0..STROKES {
            let stroke = delivery.struck(&Wobble::drawn(Series::Described.number(), index));
            match table.played(rack, arena, choice.called, &stroke) {
                (Ok(after), way) => {
                    n_made += 1;
                    stayed.push(Stayed { after, way });
                }
                (Err(Over::Cleared), _) => n_made += 1,
                _ => {}
            }
        }
        let meant = table.after(rack, arena, choice.called, &choice.stroke).ok();
        sort_by_number(&mut stayed, |stayed| stayed.way);
        let seconds = match (&meant, next) {
            (Some(meant), Some(next)) => [Wrong::Long, Wrong::Short, Wrong::Side]
                .into_iter()
                .filter_map(|wrong| self.second(&stayed, meant, next.called, wrong))
                .collect(),
            _ => Vec::new(),
        };
        let tables: Vec<Table> = stayed.iter().map(|stayed| stayed.after.clone()).collect();
        Step {
            table: table.clone(),
            choice,
            pot: Chance::of(n_made, STROKES),
            stop: meant.map(|after| after.cue_ball()),
            stops: stayed.iter().map(|stayed| stayed.after.cue_ball()).collect(),
            break_out: break_out(guide, table, choice.called.ball, &tables),
            seconds,
        }
    }

    /// What to do after what went wrong so, if that happens often enough. `stayed` are sorted
    /// by their ways.
    fn second(
        &self,
        stayed: &[Stayed],
        meant: &Table,
        next: Called,
        wrong: Wrong,
    ) -> Option<Second> {
        let n = stayed.len();
        let off = (n as f64 * OFF) as usize;
        let side = |table: &Table| {
            let ball = table.ball(next.ball)?.position;
            let mouth = self.guide.arena().shape().pocket(next.pocket).mouth_middle;
            Some(cross(mouth - ball, table.cue_ball() - ball) > 0.0)
        };
        let such: Vec<&Stayed> = match wrong {
            Wrong::Long => stayed[n - off..].iter().collect(),
            Wrong::Short => stayed[..off].iter().collect(),
            Wrong::Side => {
                let meant = side(meant)?;
                stayed.iter().filter(|one| side(&one.after) == Some(!meant)).collect()
            }
        };
        let share = such.len() as f64 / n.max(1) as f64;
        let middle = such.get(such.len() / 2).filter(|_| share >= RARE)?;
        let then = self.choose(Care::QUICK, &middle.after);
        Some(Second { wrong, share, stop: middle.after.cue_ball(), then })
    }
}
