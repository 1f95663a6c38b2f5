//! The search for the best stroke, as the page asks for it, and what it has found.

use super::angle::degrees_for;
use super::item::read_leave_item;
use super::map::read_hand;
use super::outcome::finite;
use super::reader::Form;
use super::value::Value;
use crate::error::Error;
use crate::practice::LeaveItem;
use crate::shot::{Best, Progress, Prospect, Search, Situation, lengths_of_speed};
use glam::DVec2;
use serde::Serialize;

/// The series of errors that a search uses unless another is asked for (tuning choice).
const SERIES: u32 = 5;

/// A search that goes on in steps.
#[derive(Clone, Debug)]
pub struct BestSearch {
    search: Search,
    situation: Situation,
    prospect: Option<Prospect>,
}

/// How far a search is, and the best stroke so far.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct BestForm {
    done: f64,
    plays: usize,
    best: Option<BestStrokeForm>,
    own: Option<f64>,
    words: Option<String>,
}

#[derive(Clone, Debug, PartialEq, Serialize)]
struct BestStrokeForm {
    stroke: Value,
    pocket: &'static str,
    lengths: f64,
    chance: f64,
}

impl BestSearch {
    /// For `{ item, hand, seed? }`; the item's stroke is the player's.
    ///
    /// # Errors
    /// As [`Form`], [`read_leave_item`] and [`Situation::new`].
    pub fn new(request: &Value) -> Result<Self, Error> {
        let form = Form::open(request, "", &["item", "hand", "seed"])?;
        let LeaveItem { shot, demand, .. } = read_leave_item(form.value("item")?, "item")?;
        let hand = read_hand(&form, "hand")?.hand;
        let seed = match form.optional("seed") {
            Some(_) => form.integer("seed", 0, u32::MAX)?,
            None => SERIES,
        };
        let situation = Situation::new(&shot, demand.on).map_err(|e| e.within("item.demand"))?;
        let prospect = Prospect::new(&situation, &demand, &hand)?;
        let search = Search::new(situation.clone(), demand, hand, seed, shot.stroke);
        Ok(Self { search, situation, prospect })
    }

    /// Plays about `plays` strokes more, at least one unless the search is over.
    pub fn step(&mut self, plays: u32) -> BestForm {
        let prospect = self.prospect.as_ref();
        let next = |place: DVec2| prospect.map_or(1.0, |prospect| prospect.chance(place));
        let progress = self.search.step(plays as usize, &next);
        let Progress { done, best, own, n_plays } = progress;
        let is_over = done >= 1.0;
        BestForm {
            done: finite(done),
            plays: n_plays,
            best: best.map(|best| self.write_best(&best)),
            own: own.map(finite),
            words: is_over.then(|| in_words(best.as_ref(), own)),
        }
    }

    fn write_best(&self, best: &Best) -> BestStrokeForm {
        let stroke = &best.stroke;
        BestStrokeForm {
            stroke: Value::fields([
                ("azimuth", degrees_for(stroke.azimuth).into()),
                ("elevation", degrees_for(stroke.elevation).into()),
                ("speed", stroke.speed.into()),
                ("side", stroke.side.into()),
                ("height", stroke.height.into()),
            ]),
            pocket: best.plan.pocket.name(),
            lengths: finite(lengths_of_speed(self.situation.arena(), stroke.speed)),
            chance: finite(best.chance),
        }
    }
}

fn in_words(best: Option<&Best>, own: Option<f64>) -> String {
    let Some(best) = best else { return "No stroke was found that pots the ball on.".to_owned() };
    let percent = |chance: f64| (100.0 * chance).round();
    let (best, own) = (percent(best.chance), percent(own.unwrap_or(0.0)));
    if own >= best {
        return format!("Yours is as good as any found: {own} % against {best} %.");
    }
    format!("Best found: {best} %; yours: {own} %.")
}
