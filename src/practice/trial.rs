//! A stroke tried on a set-up table: aimed if asked, the cue lifted as needed, played,
//! and said in a sentence.

use super::bench::is_in_reach;
use super::item::LeaveItem;
use super::point::place_in_words;
use super::rounding::Quantum;
use super::truth::CuePath;
use crate::ball::BallId;
use crate::error::Error;
use crate::geometry::angle_between;
use crate::geometry::heading;
use crate::order::sort_by_number;
use crate::physics::{Outcome, Shot, Stroke, play};
use crate::shot::{
    Ending, NoPot, Pot, Situation, cut_angle, least_elevation, lengths_of_speed, pot, pot_stroke,
};
use crate::table::{PocketId, Rail};
use crate::units::{degrees, radians};

/// A stroke that was tried.
#[derive(Clone, Debug, PartialEq)]
pub struct Trial {
    /// The item with the stroke as it was played.
    pub item: LeaveItem,
    /// Whether the cue had to be lifted over a rail or a ball.
    pub is_lifted: bool,
    /// The pot, if one was asked for and there is one.
    pub pot: Option<Pot>,
    /// Why there is no pot that was asked for, in a sentence; the stroke then keeps its
    /// direction.
    pub refusal: Option<String>,
    /// The whole shot.
    pub outcome: Outcome,
    /// The cue ball's path from its first ball on, if it meets one.
    pub path: Option<CuePath>,
    /// What came of it, in short.
    pub ending: Ending,
    /// Cut angle, rad, positive to the left; 0 if no ball is met.
    pub cut: f64,
    /// The stroke's speed in table lengths.
    pub lengths: f64,
    /// What happens, in a sentence or two.
    pub words: String,
    /// Whether all that is asked is met.
    pub is_met: bool,
    /// Whether the player reaches the cue ball without a rest.
    pub is_in_reach: bool,
}

/// Tries the stroke of `item`, turned to pot the ball on if `aiming`: into the pocket
/// that is asked for, else into the one that forgives most.
///
/// # Errors
/// As [`Situation::new`].
pub fn trial(item: &LeaveItem, aiming: bool) -> Result<Trial, Error> {
    let situation = Situation::new(&item.shot, item.demand.on)?;
    let mut item = item.clone();
    let elevation = item.shot.stroke.elevation;
    let aimed = aiming.then(|| aim(&situation, &item));
    let (pot, refusal) = match aimed {
        Some(Ok(pot)) => (Some(pot), None),
        Some(Err(refusal)) => (None, Some(refusal)),
        None => (None, None),
    };
    match &pot {
        Some(pot) => item.shot.stroke = pot.stroke,
        None => item.shot.stroke = lifted(&item.shot, item.shot.stroke),
    }
    let outcome = play(&item.shot)?;
    let path = CuePath::of(&item.shot, &outcome);
    let ending = situation.ending_of(&outcome);
    let cut = path.as_ref().map_or(0.0, |path| angle_between(path.approach, path.line_of_centres));
    Ok(Trial {
        is_lifted: item.shot.stroke.elevation > elevation,
        lengths: lengths_of_speed(situation.arena(), item.shot.stroke.speed),
        words: in_words(&item, &ending),
        is_met: item.demand.is_met(&ending),
        is_in_reach: is_in_reach(&item.shot),
        pot,
        refusal,
        outcome,
        path,
        ending,
        cut,
        item,
    })
}

/// `stroke` with the cue as high as it must be, in whole tenths of a degree with a
/// little to spare; as high as cues go where nothing is enough.
fn lifted(shot: &Shot, stroke: Stroke) -> Stroke {
    let least = degrees(least_elevation(&shot.card, &shot.balls, &stroke));
    // As a deal does it.
    let enough = radians(((10.0 * least + 2.0).ceil() / 10.0).min(85.0));
    let is_low = stroke.elevation < radians(least.min(85.0));
    Stroke { elevation: if is_low { enough } else { stroke.elevation }, ..stroke }
}

/// The pot that is asked for, its direction in whole thousandths of a degree.
fn aim(situation: &Situation, item: &LeaveItem) -> Result<Pot, String> {
    let (on, given) = (item.demand.on, item.shot.stroke);
    let (arena, balls) = (situation.arena(), situation.balls());
    let line = situation.object_ball() - situation.cue_ball();
    let start = lifted(&item.shot, Stroke { azimuth: heading(line), ..given });
    let pocket = match item.demand.pocket {
        Some(pocket) => pocket,
        None => best_pocket(situation, &start)
            .ok_or_else(|| format!("No pocket takes the {on} with this stroke."))?,
    };
    let mut stroke = start;
    // Turned, the cue may lie over something else; each time it can only rise.
    for _ in 0..4 {
        let found = pot(arena, balls, &stroke, on, pocket)
            .map_err(|reason| no_pot_in_words(reason, on, pocket))?;
        let tidy = tidied(&found);
        let raised = lifted(&item.shot, tidy.stroke);
        if raised.elevation == tidy.stroke.elevation {
            return Ok(tidy);
        }
        stroke = raised;
    }
    Err(format!("No elevation of the cue pots the {on} in the {pocket} pocket."))
}

/// The pot with its direction in whole thousandths of a degree, or in whole steps of a
/// link, if that pots as well.
fn tidied(pot: &Pot) -> Pot {
    let thousandth = radians((1000.0 * degrees(pot.stroke.azimuth)).round() / 1000.0 + 0.0);
    let step = Quantum::AZIMUTH.round_angle(pot.stroke.azimuth);
    // Well inside: what is between the edges may have holes near them.
    let fits = |azimuth: &f64| (azimuth - pot.stroke.azimuth).abs() <= 0.1 * pot.window.width();
    let Some(azimuth) = [thousandth, step].into_iter().find(fits) else { return *pot };
    let turn = azimuth - pot.stroke.azimuth;
    let mut tidy = *pot;
    tidy.stroke.azimuth = azimuth;
    (tidy.window.low, tidy.window.high) = (pot.window.low - turn, pot.window.high - turn);
    tidy
}

/// The pocket that takes the ball on with the most room by plane geometry, of those
/// that the stroke can find.
fn best_pocket(situation: &Situation, stroke: &Stroke) -> Option<PocketId> {
    let (arena, balls) = (situation.arena(), situation.balls());
    let radius = arena.card().ball.radius;
    let room = |pocket: PocketId| {
        let pocket = arena.shape().pocket(pocket);
        let way = pocket.mouth_middle - situation.object_ball();
        let cut =
            cut_angle(situation.cue_ball(), situation.object_ball(), pocket.mouth_middle, radius);
        let open = pocket.mouth * way.normalize_or_zero().dot(pocket.axis) - 2.0 * radius;
        open.max(0.0) * libm::cos(cut).max(0.0) / way.length().max(radius)
    };
    let mut pockets = Vec::from(PocketId::ALL);
    sort_by_number(&mut pockets, |pocket| -room(*pocket));
    let found = |pocket| pot_stroke(arena, balls, stroke, situation.on(), pocket).is_ok();
    pockets.into_iter().find(|pocket| found(*pocket))
}

/// Why there is no pot, in a sentence.
pub fn no_pot_in_words(reason: NoPot, on: BallId, pocket: PocketId) -> String {
    match reason {
        NoPot::Missing => format!("The {on} is not on the table."),
        NoPot::Miscue => "The tip meets the ball too far out: a miscue.".into(),
        NoPot::NoAngle => format!("The {on} has no angle into the {pocket} pocket."),
        NoPot::TooThin(cut) => {
            let cut = degrees(cut).round();
            format!("A cut of {cut}° is too thin to send the {on} to the {pocket} pocket.")
        }
        NoPot::CueBlocked(ball) => format!("The {ball} blocks the cue ball's way to the {on}."),
        NoPot::ObjectBlocked(ball) => {
            format!("The {ball} blocks the way of the {on} to the {pocket} pocket.")
        }
        NoPot::NoRoom => format!("A cushion leaves the cue ball no room behind the {on}."),
        NoPot::NotReached => format!("The cue ball does not reach the {on}."),
        NoPot::TooSlow => format!("The {on} stops short of the {pocket} pocket: too slow."),
        NoPot::Rattles => format!("The {on} rattles in the jaws of the {pocket} pocket."),
        NoPot::Astray => format!("No direction turns the {on} into the {pocket} pocket."),
    }
}

/// What happens, and what of the demand is not met.
fn in_words(item: &LeaveItem, ending: &Ending) -> String {
    let demand = &item.demand;
    let on = demand.on;
    let fall = match (ending.first, ending.pocket) {
        (None, _) => "The cue ball meets no ball".to_owned(),
        (_, Some(pocket)) => format!("The {on} falls in the {pocket} pocket"),
        (Some(first), None) if first != on => format!("The {first} is met first"),
        (Some(_), None) => format!("The {on} stays out"),
    };
    let over = match &ending.rails[..] {
        [] => String::new(),
        rails => format!(" off {}", listed(rails)),
    };
    let stop = if ending.scratch {
        format!("the cue ball scratches{over}")
    } else {
        format!("the cue ball stops{over} at {}", place_in_words(&item.shot.card, ending.stop))
    };
    let mut words = format!("{fall}; {stop}.");
    if ending.first.is_some_and(|first| first != on) && ending.pocket.is_some() {
        words += &format!(" The {on} was not met first.");
    }
    if let (Some(wanted), Some(pocket)) = (demand.pocket, ending.pocket)
        && wanted != pocket
    {
        words += &format!(" The {wanted} pocket was called.");
    }
    if !demand.has_met_rails(ending) {
        words += &format!(" It does not go off {}, as it should.", listed(&demand.rails));
    }
    if !ending.scratch && demand.zone.is_some_and(|zone| !zone.contains(ending.stop)) {
        words += " It stops outside the zone.";
    }
    words
}

/// "the head rail", "the head and left rails", "the head, left and head rails".
fn listed(rails: &[Rail]) -> String {
    match rails {
        [] => "no rail".into(),
        [rail] => format!("the {rail} rail"),
        [first @ .., last] => {
            let first: Vec<_> = first.iter().map(|rail| rail.name()).collect();
            format!("the {} and {last} rails", first.join(", "))
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::physics::PlacedBall;
    use crate::shot::{Demand, Zone};
    use crate::table::{TableCard, TableSize};
    use glam::DVec2;

    fn item(balls: &[(u8, f64, f64)]) -> LeaveItem {
        let balls = balls.iter().map(|(number, x, y)| PlacedBall {
            id: BallId::object(*number).unwrap_or(BallId::CUE),
            position: DVec2::new(*x, *y),
        });
        let stroke = Stroke { azimuth: 3.0, elevation: 0.0, speed: 2.0, side: 0.0, height: 0.1 };
        let card = TableCard::of_size(TableSize::NineFoot);
        let shot = Shot { card, balls: balls.collect(), stroke };
        let demand = Demand::to_pot(BallId::object(3).expect("a ball"));
        LeaveItem { shot, demand, model: 1, level: 1, seed: None }
    }

    #[test]
    fn an_aimed_trial_pots_and_says_so() {
        let tried = trial(&item(&[(0, 0.8, 0.5), (3, 1.7, 0.9)]), true).expect("a layout");
        assert_eq!(tried.refusal, None, "an open ball");
        assert!(tried.is_met, "potted: {}", tried.words);
        assert!(tried.words.starts_with("The 3 falls in the foot-left pocket; the cue ball"));
        let thousandths = 1000.0 * degrees(tried.item.shot.stroke.azimuth);
        assert!((thousandths - thousandths.round()).abs() < 1e-6, "a tidy angle: {thousandths}");
        let again = trial(&tried.item, false).expect("a layout");
        assert_eq!(again.outcome, tried.outcome, "and plays as shown");
        let pot = tried.pot.expect("aimed");
        assert!(pot.window.low < 0.0 && pot.window.high > 0.0, "{:?}", pot.window);
    }

    #[test]
    fn what_is_not_met_is_said() {
        let mut item = item(&[(0, 0.8, 0.5), (3, 1.7, 0.9)]);
        item.demand.rails = vec![Rail::Head, Rail::Left];
        item.demand.zone =
            Some(Zone { centre: DVec2::new(0.3, 0.3), half: DVec2::splat(0.05), turn: 0.0 });
        let tried = trial(&item, true).expect("a layout");
        assert!(!tried.is_met, "{}", tried.words);
        for part in ["does not go off the head and left rails", "outside the zone"] {
            assert!(tried.words.contains(part), "{part}: {}", tried.words);
        }
    }

    #[test]
    fn a_blocked_ball_is_refused_in_words_and_the_stroke_kept() {
        let mut item = item(&[(0, 0.8, 0.5), (3, 1.7, 0.9), (5, 1.2, 0.678)]);
        item.demand.pocket = Some(PocketId::FootLeft);
        let tried = trial(&item, true).expect("a layout");
        let refusal = tried.refusal.expect("blocked");
        assert_eq!(refusal, "The 5 blocks the cue ball's way to the 3.");
        assert_eq!(tried.item.shot.stroke.azimuth, 3.0, "as it was");
    }

    #[test]
    fn the_cue_is_lifted_over_a_rail() {
        let tried = trial(&item(&[(0, 0.05, 0.6), (3, 1.7, 0.9)]), true).expect("a layout");
        assert!(tried.is_lifted, "near the head rail");
        let shot = &tried.item.shot;
        let least = least_elevation(&shot.card, &shot.balls, &shot.stroke);
        assert!(shot.stroke.elevation >= least, "enough");
        assert_eq!(shot.check(), Ok(()), "and playable");
    }
}
