//! One sentence about an answer: what cost most, and what can be learned from it.

use super::judgement::LeaveJudgement;
use super::score::{Stops, ZoneRule};
use crate::geometry::{share_along, wrap_angle};
use crate::practice::stroke_words::percent;
use crate::practice::{LeaveAnswer, LeaveItem};
use crate::shot::Zone;
use crate::table::Rail;
use crate::units::degrees;
use glam::DVec2;

/// From this mark on a zone needs no correction (tuning choice, as all below).
const WELL_PLACED: f64 = 80.0;

/// A stroke that scratches more often than this is the first thing to change.
const RISKY: f64 = 0.2;

/// A stroke that gives what is asked less often than this is beyond the hand.
const BEYOND: f64 = 0.5;

/// From here the next ball is a gamble.
const GAMBLE: f64 = 0.6;

/// Says what cost most; `exact` if the stroke was played without errors.
pub(super) fn sentence(
    item: &LeaveItem,
    answer: &LeaveAnswer,
    judgement: &LeaveJudgement,
    exact: bool,
) -> String {
    let (demand, ending, zone) = (&item.demand, &judgement.ending, &judgement.zone);
    let on = demand.on;
    if ending.first != Some(on) && exact {
        return match ending.first {
            Some(other) => format!("This stroke meets the {other} before the {on}."),
            None => format!("This stroke misses the {on}."),
        };
    }
    let risk = zone.stops.share_scratched();
    if risk > RISKY || ending.scratch && exact {
        let often = percent(risk);
        return format!("The cue ball scratches in {often} of the strokes: take another line.");
    }
    if exact && !demand.is_potted(ending) {
        return format!("This stroke does not pot the {on}, however well it is played.");
    }
    if exact && !demand.has_met_rails(ending) {
        return format!("The {on} falls, but the cue ball does not meet the rails it should.");
    }
    if zone.mark < WELL_PLACED
        && let Some(rule) = &zone.rule
    {
        let path = judgement.path.iter().flat_map(|path| &path.truth.path);
        let path: Vec<DVec2> = path.map(|sample| sample.position).collect();
        let ball = 2.0 * item.shot.card.ball.radius;
        return correction(&answer.zone, rule, &zone.stops, &path, ball);
    }
    if zone.gives < BEYOND {
        let often = percent(zone.gives);
        return format!("The zone is right, but the hand brings it off in {often} only.");
    }
    let held = percent(zone.share);
    match (demand.next, judgement.worth) {
        (Some(next), Some(worth)) if worth.stops < GAMBLE => {
            let chance = percent(worth.stops);
            format!("You know where it stops, but from there the {next} goes in {chance} only.")
        }
        (Some(next), Some(worth)) => {
            let chance = percent(worth.stops);
            format!("Well placed: {held} of the stops lie in it, and the {next} goes in {chance}.")
        }
        _ => format!("Well placed: {held} of the stops lie in it."),
    }
}

/// What is wrong with a zone: its place, its size, or the way it is turned, whichever
/// would gain most if it were right. `path` (m) is how the cue ball ran.
fn correction(zone: &Zone, rule: &ZoneRule, stops: &Stops, path: &[DVec2], ball: f64) -> String {
    let best = &rule.best;
    let loss = |zone: &Zone| rule.loss(zone, stops);
    let moved = loss(&Zone { centre: best.centre, ..*zone });
    let sized = loss(&Zone { half: best.half, ..*zone });
    let turned = loss(&Zone { turn: best.turn, ..*zone });
    let size =
        format!("{} by {} balls", balls(2.0 * best.half.x / ball), balls(2.0 * best.half.y / ball));
    // A zone that holds none of the stops is in the wrong place, whatever its size.
    if stops.share_in(zone) == 0.0 || moved <= sized.min(turned) {
        let off = best.centre - zone.centre;
        let far = balls(off.length() / ball);
        return match Miss::of(zone, path, ball) {
            Miss::Past => format!("The cue ball runs through your zone and {far} balls beyond it."),
            Miss::Short => {
                format!("The cue ball comes towards your zone, but stops {far} balls short of it.")
            }
            Miss::Beside => {
                let rail = rail_towards(off);
                format!("The cue ball misses your zone by {far} balls, toward the {rail} rail.")
            }
        };
    }
    if sized <= turned {
        let held = percent(stops.share_in(zone));
        return if zone.area() > best.area() {
            format!("Your zone is larger than it need be: {size} hold four stops of five.")
        } else {
            format!("Your zone holds only {held} of the stops: they spread over {size}.")
        };
    }
    let turn = degrees(wrap_angle(2.0 * (best.turn - zone.turn)) / 2.0);
    let way = if turn > 0.0 { "to the left" } else { "to the right" };
    format!("Turn your zone {}° {way}: that is how the stops spread.", turn.abs().round())
}

/// How a path misses a zone.
enum Miss {
    /// It leads through the zone, and on.
    Past,
    /// It would lead there if it went on.
    Short,
    Beside,
}

impl Miss {
    /// A path that comes within a ball of the zone counts as leading there.
    fn of(zone: &Zone, path: &[DVec2], ball: f64) -> Self {
        let wide = Zone { half: zone.half + ball, ..*zone };
        let nearest_of =
            |from: DVec2, to: DVec2| from + (to - from) * share_along(from, to, zone.centre);
        let mut legs = path.windows(2).filter(|leg| leg[0] != leg[1]);
        let Some(&[before, stop]) = legs.clone().next_back() else { return Self::Beside };
        // What comes nearest where it stops has not gone by.
        let goes_by = |place: DVec2| wide.contains(place) && place.distance(stop) > ball;
        let ahead = nearest_of(stop, stop + (stop - before).normalize() * FARTHEST);
        if legs.any(|leg| goes_by(nearest_of(leg[0], leg[1]))) {
            Self::Past
        } else if wide.contains(ahead) {
            Self::Short
        } else {
            Self::Beside
        }
    }
}

/// Longer than any table, m.
const FARTHEST: f64 = 5.0;

/// The rail that lies most in this direction.
fn rail_towards(direction: DVec2) -> Rail {
    match (direction.x.abs() >= direction.y.abs(), direction.x > 0.0, direction.y > 0.0) {
        (true, true, _) => Rail::Foot,
        (true, false, _) => Rail::Head,
        (false, _, true) => Rail::Left,
        (false, _, false) => Rail::Right,
    }
}

fn balls(number: f64) -> String {
    if number < 9.95 { format!("{number:.1}") } else { format!("{number:.0}") }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::shot::Wobble;

    const BALL: f64 = 0.05715;

    fn stops() -> Stops {
        let place = |k| {
            let wobble = Wobble::drawn(3, k);
            DVec2::new(1.2 + 0.2 * wobble.speed, 0.6 + 0.05 * wobble.azimuth)
        };
        Stops { places: (0..256).map(place).collect(), scratches: 0 }
    }

    #[test]
    fn what_would_gain_most_is_said() {
        let stops = stops();
        let rule = ZoneRule::of(&stops, BALL / 2.0).expect("stops");
        let best = rule.best;
        let path = [best.centre - DVec2::X, best.centre];
        let said = |zone: Zone| correction(&zone, &rule, &stops, &path, BALL);
        let moved = |x: f64, y: f64| said(Zone { centre: best.centre + DVec2::new(x, y), ..best });
        for (said, part) in [
            (moved(-0.5, 0.02), "runs through your zone and 8.8 balls beyond it"),
            (moved(0.4, 0.0), "stops 7.0 balls short of it"),
            (moved(-0.1, -0.3), "misses your zone by 5.5 balls, toward the left rail"),
            (moved(0.5, 0.4), "by 11 balls, toward the head rail"),
            (said(Zone { half: best.half * 1.6, ..best }), "larger than it need be"),
            (said(Zone { half: best.half * 0.4, ..best }), "holds only"),
            (said(Zone { turn: best.turn + 1.0, ..best }), "57° to the right"),
        ] {
            assert!(said.contains(part), "{said:?} should say {part:?}");
        }
    }
}
