//! Every pocket with what a stroke can do there: the ways to pot, and where they leave.

use super::board::read_only_item;
use super::judgement::StopForm;
use super::outcome::finite;
use super::try_stroke::WindowForm;
use super::value::Value;
use crate::error::Error;
use crate::practice::{LeaveItem, no_pot_in_words};
use crate::shot::{Leaving, Pot, Route, Situation, cheats, cut_angle, pot, pots_cushion_first};
use crate::table::PocketId;
use crate::units::degrees;
use serde::Serialize;

/// One pocket and what the stroke can do there.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[serde(rename_all = "camelCase")]
pub struct PocketAimForm {
    pocket: &'static str,
    cut: f64,
    refusal: Option<String>,
    ball_first: Option<WayForm>,
    cushion_first: Vec<WayForm>,
}

/// One way to pot the ball.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[serde(rename_all = "camelCase")]
struct WayForm {
    rail: Option<&'static str>,
    azimuth: f64,
    window: WindowForm,
    right: LeavingForm,
    left: LeavingForm,
}

/// What the cue ball does at one end of the window.
#[derive(Clone, Debug, PartialEq, Serialize)]
struct LeavingForm {
    azimuth: f64,
    departure: f64,
    stop: StopForm,
}

/// Looks at every pocket with the stroke of `{ item }`, whose direction is not used.
///
/// # Errors
/// As [`read_leave_item`](super::read_leave_item).
pub fn aims(request: &Value) -> Result<Vec<PocketAimForm>, Error> {
    let item = read_only_item(request)?;
    let situation = Situation::new(&item.shot, item.demand.on)?;
    Ok(PocketId::ALL.into_iter().map(|pocket| write_aim(&situation, &item, pocket)).collect())
}

fn write_aim(situation: &Situation, item: &LeaveItem, pocket: PocketId) -> PocketAimForm {
    let (arena, balls, on) = (situation.arena(), situation.balls(), situation.on());
    let stroke = &item.shot.stroke;
    let mouth = arena.shape().pocket(pocket).mouth_middle;
    let radius = arena.card().ball.radius;
    let cut = cut_angle(situation.cue_ball(), situation.object_ball(), mouth, radius);
    let (ball_first, refusal) = match pot(arena, balls, stroke, on, pocket) {
        Ok(pot) => (write_way(situation, &pot), None),
        Err(reason) => (None, Some(no_pot_in_words(reason, on, pocket))),
    };
    let over = pots_cushion_first(arena, balls, stroke, on, pocket);
    PocketAimForm {
        pocket: pocket.name(),
        cut: finite(degrees(cut)),
        refusal,
        ball_first,
        cushion_first: over.iter().filter_map(|pot| write_way(situation, pot)).collect(),
    }
}

fn write_way(situation: &Situation, pot: &Pot) -> Option<WayForm> {
    let [right, left] = cheats(situation.arena(), situation.balls(), pot)?;
    let end = |leaving: &Leaving| LeavingForm {
        azimuth: finite(degrees(leaving.stroke.azimuth)),
        departure: finite(degrees(leaving.departure)),
        stop: StopForm::new(leaving.stop, leaving.scratch),
    };
    Some(WayForm {
        rail: match pot.route {
            Route::BallFirst => None,
            Route::CushionFirst(rail) => Some(rail.name()),
        },
        azimuth: finite(degrees(pot.stroke.azimuth)),
        window: WindowForm::new(&pot.window),
        right: end(&right),
        left: end(&left),
    })
}
