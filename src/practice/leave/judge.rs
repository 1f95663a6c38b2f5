//! What comes of an answer: the shot as it was played, and three grades.

use super::judgement::{LeaveJudgement, PathJudgement, ZoneGrade};
use super::lesson::sentence;
use super::score::{Stops, ZONE_STROKES, ZoneRule};
use super::worth::Worth;
use crate::ball::BallId;
use crate::error::Error;
use crate::physics::{Shot, play};
use crate::practice::read::tangent_end;
use crate::practice::{CuePath, LeaveAnswer, LeaveItem, check_call, grade};
use crate::shot::{
    Delivery, Ending, HANDS, Hand, NamedHand, PotMap, Series, Situation, Wobble, hand_named,
};
use glam::DVec2;

/// How an answer is played.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Playing {
    /// The hand over whose strokes the zone is graded.
    pub hand: Hand,
    /// The errors of the stroke that is shown; none if it is played exactly.
    pub wobble: Option<Wobble>,
}

/// The hand of an item of this level, by which a zone is graded if the player plays by
/// none: the easier, the looser, so that a rough idea pays at first (tuning choice).
pub fn hand_of_level(level: u8) -> &'static NamedHand {
    let id = match level {
        0..=2 => "makes-35",
        3 | 4 => "makes-60",
        5 => "makes-85",
        _ => "makes-95",
    };
    hand_named(id).unwrap_or(&HANDS[0])
}

/// Plays `answer` and grades it; the cue is lifted over what lies under it.
///
/// # Errors
/// As [`Situation::new`], with `item` before the field; whatever [`check_call`] and
/// [`crate::physics::Stroke::check`] refuse, with `call` and `stroke` before it.
pub fn judge_leave(
    item: &LeaveItem,
    answer: &LeaveAnswer,
    playing: &Playing,
) -> Result<LeaveJudgement, Error> {
    let card = &item.shot.card;
    answer.stroke.check().map_err(|error| error.within("stroke"))?;
    if let Some(call) = &answer.call {
        check_call(card, call).map_err(|error| error.within("call"))?;
    }
    let situation =
        Situation::new(&item.shot, item.demand.on).map_err(|error| error.within("item"))?;
    let delivery = Delivery::new(&playing.hand, card, &item.shot.balls, &answer.stroke);
    let stroke = playing.wobble.map_or(delivery.aimed, |wobble| delivery.struck(&wobble));
    let shot = Shot { stroke, ..item.shot.clone() };
    let outcome = play(&shot)?;
    let ending = situation.play(&stroke);
    let path = CuePath::of(&shot, &outcome).map(|truth| PathJudgement {
        tangent_end: tangent_end(card, &truth),
        grade: answer.call.as_ref().map(|call| grade(card, &truth, call, item.level)),
        truth,
    });

    let endings: Vec<Ending> = (0..ZONE_STROKES)
        .map(|index| situation.play(&delivery.drawn(Series::Zones.number(), index)))
        .collect();
    let zone = grade_zone(item, answer, &endings);
    let worth = match item.demand.next {
        Some(next) => {
            let map = map_of(&situation, next, &playing.hand)?;
            let chance = |place| chance_at(&map, place);
            Some(Worth::of(&answer.zone, &item.demand, &endings, &chance))
        }
        None => None,
    };
    let mut judgement =
        LeaveJudgement { shot, outcome, ending, path, zone, worth, sentence: String::new() };
    judgement.sentence = sentence(item, answer, &judgement, playing.wobble.is_none());
    Ok(judgement)
}

/// The map of the ball `next`, when the ball on is gone and the others lie as before.
fn map_of(situation: &Situation, next: BallId, hand: &Hand) -> Result<PotMap, Error> {
    let mut balls = situation.balls().to_vec();
    balls.retain(|ball| ball.id != situation.on());
    PotMap::new(situation.arena(), &balls, next, hand)
}

/// The chance in the best pocket; 0 where no ball can lie.
fn chance_at(map: &PotMap, place: DVec2) -> f64 {
    if !map.is_free(place) {
        return 0.0;
    }
    map.quick_best_from(place).map_or(0.0, |(_, pot)| pot.chance)
}

fn grade_zone(item: &LeaveItem, answer: &LeaveAnswer, endings: &[Ending]) -> ZoneGrade {
    let mut stops = Stops::default();
    let mut given = 0;
    for ending in endings {
        if ending.scratch {
            stops.scratches += 1;
        } else {
            stops.places.push(ending.stop);
        }
        given += u32::from(item.demand.is_potted(ending) && item.demand.has_met_rails(ending));
    }
    let rule = ZoneRule::of(&stops, item.shot.card.ball.radius);
    let mark = rule.map_or(0.0, |rule| rule.mark(rule.loss(&answer.zone, &stops)));
    ZoneGrade {
        mark,
        share: stops.share_in(&answer.zone),
        gives: f64::from(given) / endings.len() as f64,
        stops,
        rule,
    }
}
