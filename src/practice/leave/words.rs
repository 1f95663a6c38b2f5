//! What is asked of a shot, in words, and what to know before it is played.

use crate::physics::MODEL_VERSION;
use crate::practice::LeaveItem;
use crate::practice::read::{advice_on, older};
use crate::shot::Demand;

/// The task as a sentence: "Pot the 3 in the foot-left pocket, go off the left rail, and
/// leave the cue ball in the zone for the 7."
pub fn task_in_words(demand: &Demand) -> String {
    let mut task = format!("Pot the {}", demand.on);
    if let Some(pocket) = demand.pocket {
        task += &format!(" in the {pocket} pocket");
    }
    for (k, rail) in demand.rails.iter().enumerate() {
        task += if k == 0 { ", go off the " } else { ", then the " };
        task += rail.name();
        task += " rail";
    }
    if demand.next.is_some() || demand.zone.is_some() {
        task += if demand.rails.is_empty() { " and" } else { ", and" };
        task += " leave the cue ball";
    }
    if demand.zone.is_some() {
        task += " in the zone";
    }
    match demand.next {
        Some(next) => task + &format!(" for the {next}."),
        None => task + ".",
    }
}

/// What a dealt item of this level asks; numbers below 1 or above 6 give the nearest.
pub fn level_words(level: u8) -> &'static str {
    match level {
        0 | 1 => "Two balls, and a wide zone pays.",
        2 => "Two balls, and more of an angle.",
        3 => "A plain stun leaves nothing: choose another stroke.",
        4 => "A ball in the way.",
        5 => "A ball in the way, and a rail to go off.",
        _ => "Two balls in the way, and rails to go off.",
    }
}

/// What to know of the table of `item`, in sentences.
pub fn advice_for(item: &LeaveItem) -> Vec<String> {
    advice_on(&item.shot.card)
}

/// What to know of `item` if an older version of the model made it.
pub fn notice_for(item: &LeaveItem) -> Option<String> {
    older(item.model, MODEL_VERSION)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::ball::BallId;
    use crate::shot::Zone;
    use crate::table::{PocketId, Rail};
    use glam::DVec2;

    #[test]
    fn a_task_is_one_sentence() {
        let ball = |n| BallId::object(n).expect("a ball");
        let mut demand = Demand::to_pot(ball(3));
        assert_eq!(task_in_words(&demand), "Pot the 3.");
        demand.next = Some(ball(7));
        demand.pocket = Some(PocketId::FootLeft);
        assert_eq!(
            task_in_words(&demand),
            "Pot the 3 in the foot-left pocket and leave the cue ball for the 7."
        );
        demand.rails = vec![Rail::Left, Rail::Foot];
        assert_eq!(
            task_in_words(&demand),
            "Pot the 3 in the foot-left pocket, go off the left rail, then the foot rail, and \
             leave the cue ball for the 7."
        );
        demand.zone = Some(Zone { centre: DVec2::ONE, half: DVec2::ONE, turn: 0.0 });
        demand.rails.clear();
        assert_eq!(
            task_in_words(&demand),
            "Pot the 3 in the foot-left pocket and leave the cue ball in the zone for the 7."
        );
        (demand.next, demand.pocket) = (None, None);
        assert_eq!(task_in_words(&demand), "Pot the 3 and leave the cue ball in the zone.");
    }
}
