//! What a Leave item is good for: the stroke that leaves best, and what it leaves when the
//! speed is off.

use super::read::OFF;
use super::words::{note, path_in_words};
use super::{Draft, Skill};
use crate::layout::leave::{HEIGHTS, SIDES, SPEEDS, aimed};
use crate::physics::{Shot, Stroke};
use crate::practice::set::{Entry, Meant};
use crate::practice::{AnyItem, LeaveItem, distance_in_words};
use crate::shot::{Delivery, HANDS, Hand, NamedHand, NextShot, Situation, Way, Wobble, approach};
use crate::units::degrees;

/// One hand judges all, whatever the level of the deal.
const REFERENCE: NamedHand = HANDS[1];

/// Strokes of the hand by which strokes are compared, and the best is described; the series
/// of their errors (tuning choices).
const COMPARED: u32 = 24;
const DESCRIBED: u32 = 256;
const SERIES: u32 = 0x1ea5;

/// A stroke that leaves well less often is beyond what the set asks (tuning choice).
const LEAST: f64 = 0.2;

/// The stroke that is meant, and what comes of it.
struct Found<'a> {
    item: &'a LeaveItem,
    situation: Situation,
    hand: Hand,
}

impl Found<'_> {
    /// What the next ball's chance is from where a stroke leaves the cue ball; 0 if it does
    /// not do what is asked.
    fn left(&self, stroke: &Stroke) -> f64 {
        let ending = self.situation.play(stroke);
        if !self.item.demand.is_met(&ending) {
            return 0.0;
        }
        let radius = self.item.shot.card.ball.radius;
        self.next(stroke).map_or(0.0, |next| next.rough_chance(&self.hand, radius))
    }

    /// The shot on the next ball after a stroke.
    fn next(&self, stroke: &Stroke) -> Option<NextShot> {
        let ball = self.item.demand.next?;
        let stop = self.situation.play(stroke).stop;
        let left = self.situation.arrival(stroke).left;
        NextShot::of(self.situation.arena(), &left, ball, None, stop)
    }

    /// What a stroke of the hand is worth: the chance to do what is asked and then to pot the
    /// next ball.
    fn worth(&self, stroke: &Stroke, n: u32) -> f64 {
        let shot = &self.item.shot;
        let delivery = Delivery::new(&self.hand, &shot.card, &shot.balls, stroke);
        let sum: f64 = (0..n).map(|k| self.left(&delivery.struck(&Wobble::drawn(SERIES, k)))).sum();
        sum / f64::from(n)
    }

    /// The best of the strokes that are tried when items are dealt.
    fn best(&self) -> Option<Stroke> {
        let (shot, demand) = (&self.item.shot, &self.item.demand);
        let pocket = demand.pocket?;
        let mut best: Option<(f64, Stroke)> = None;
        for side in SIDES {
            for height in HEIGHTS {
                for speed in SPEEDS {
                    let stroke = Stroke { speed, side, height, elevation: 0.0, ..shot.stroke };
                    let arena = self.situation.arena();
                    let aim = aimed(arena, &shot.balls, &stroke, demand.on, pocket);
                    let Some(stroke) = aim.filter(|stroke| self.left(stroke) > 0.0) else {
                        continue;
                    };
                    let worth = self.worth(&stroke, COMPARED);
                    if best.is_none_or(|(most, _)| worth > most) {
                        best = Some((worth, stroke));
                    }
                }
            }
        }
        best.map(|(_, stroke)| stroke)
    }

    /// What a speed that is off by a tenth leaves.
    fn off(&self, stroke: &Stroke, long: bool) -> String {
        let when = if long { "a tenth harder" } else { "a tenth softer" };
        let by = if long { 1.0 + OFF } else { 1.0 - OFF };
        let other = Stroke { speed: stroke.speed * by, ..*stroke };
        let ending = self.situation.play(&other);
        let demand = &self.item.demand;
        let (on, next) = (demand.on, demand.next.map_or(String::new(), |next| next.to_string()));
        if ending.scratch {
            return format!("{when} it scratches");
        }
        if !demand.is_potted(&ending) {
            return format!("{when} the {on} is missed");
        }
        if !demand.has_met_rails(&ending) {
            return format!("{when} it does not meet the rails asked for");
        }
        match self.next(&other) {
            Some(shot) => {
                let cut = degrees(shot.cut).abs();
                format!("{when} the {next} is cut {cut:.0}° to the {} pocket", shot.pocket)
            }
            None => format!("{when} the {next} has no pocket"),
        }
    }
}

/// What `item` is good for.
pub(super) fn draft(item: LeaveItem) -> Option<Draft> {
    let next_ball = item.demand.next?;
    let found = Found {
        situation: Situation::new(&item.shot, item.demand.on).ok()?,
        hand: REFERENCE.hand,
        item: &item,
    };
    let stroke = found.best()?;
    let worth = found.worth(&stroke, DESCRIBED);
    let meant = Meant::of(Shot { stroke, ..item.shot.clone() })?;
    let next = found.next(&stroke)?;
    if worth < LEAST {
        return None;
    }
    let card = &item.shot.card;
    let way = approach(&found.situation, &item.demand, &stroke, &found.hand);
    let comes = match way.map(|approach| approach.way) {
        Some(Way::Along) => format!(" It comes along the line of the {next_ball}."),
        Some(Way::Between) => format!(" It comes at a slant to the line of the {next_ball}."),
        Some(Way::Across) => format!(" It comes across the line of the {next_ball}: speed counts."),
        None => String::new(),
    };
    let skill = format!("the zone. {}", meant.words);
    let path = format!(
        "{}, {} from the {next_ball}, which is cut {:.0}° to the {} pocket.{comes}",
        path_in_words(card, &meant.truth),
        distance_in_words(card, next.distance),
        degrees(next.cut).abs(),
        next.pocket
    );
    let trap = format!("{}; {}.", found.off(&stroke, true), found.off(&stroke, false));
    Some(Draft {
        skill: Skill::Zone,
        difficulty: 1.0 - worth,
        entry: Entry {
            title: format!("The {}, then the {next_ball}", item.demand.on),
            note: note(&skill, &path, &trap),
            item: AnyItem::Leave(item.clone()),
            stroke: Some(stroke),
        },
    })
}
