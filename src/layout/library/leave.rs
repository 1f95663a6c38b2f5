//! What a Leave item is good for: the stroke that leaves best, and what it leaves when the
//! speed is off.

use super::hardness::hardness;
use super::read::{OFF, potted};
use super::room::is_in_the_clear;
use super::words::{note, path_in_words};
use super::{Found, LEAST_POTTED, Places, REFERENCE, Skill, mean_worth};
use crate::geometry::{angle_between, cross};
use crate::layout::leave::aimed;
use crate::order::sort_by_number;
use crate::physics::{PlacedBall, Shot, Stroke};
use crate::practice::set::{Entry, Meant};
use crate::practice::{AnyItem, LeaveItem, capital, distance_in_words, percent};
use crate::shot::{NextShot, Situation, Way, approach};
use crate::units::degrees;

/// Strokes of the hand by which strokes are compared, and the one that is meant is described
/// (tuning choices).
const COMPARED: u32 = 24;
const DESCRIBED: u32 = 256;

/// A stroke that leaves well less often is beyond what the set asks (tuning choice).
const LEAST: f64 = 0.35;

/// Strokes that are tried: speeds (m/s), tip heights and sides (ball radii; tuning choices).
const SPEEDS: [f64; 10] = [0.7, 0.9, 1.1, 1.3, 1.5, 1.8, 2.1, 2.5, 2.9, 3.4];
const HEIGHTS: [f64; 5] = [-0.4, -0.2, 0.0, 0.2, 0.35];
const SIDES: [f64; 3] = [0.0, -0.25, 0.25];

/// Rails that a coach would still have it go off (tuning choice).
const MOST_RAILS: usize = 3;

/// A plainer stroke is meant if it is worth less than the best by no more than this, and by as
/// much less a tenth of the speed must leave to be a trap (tuning choices).
const AS_GOOD: f64 = 0.03;
const WORSE: f64 = 0.1;

/// The stop is at the weak end of the zone if a tenth of the speed leaves a better chance by
/// this, or one as good and so much straighter, degrees (tuning choices).
const BETTER: f64 = 0.03;
const STRAIGHTER: f64 = 15.0;

/// From where on a path comes along a line or across it, degrees, as a player is told of it
/// everywhere, and up to which cut it is on that line; the end of the path by which that is
/// told, m (tuning choices).
const ALONG: f64 = 30.0;
const ACROSS: f64 = 60.0;
const ON_LINE: f64 = 20.0;
const END: f64 = 0.15;

/// Straighter than this is said to be straight, degrees.
const STRAIGHT: f64 = 2.5;

/// What is asked, and what is tried.
struct Asked<'a> {
    item: &'a LeaveItem,
    situation: Situation,
    /// All balls but the one on.
    left: Vec<PlacedBall>,
}

/// A stroke that leaves the next ball.
struct Tried {
    stroke: Stroke,
    rails: usize,
    worth: f64,
}

/// What comes of a stroke whose speed is off.
struct Off {
    /// What the next ball's chance is, see [`Asked::leaves`].
    leaves: f64,
    /// That cut, degrees.
    cut: f64,
    /// Whether the ball on still falls.
    pots: bool,
    words: String,
}

impl Asked<'_> {
    /// What the next ball's chance is from where a stroke leaves the cue ball; 0 if it does
    /// not do what is asked, or moves another ball.
    fn leaves(&self, stroke: &Stroke) -> f64 {
        let radius = self.item.shot.card.ball.radius;
        self.next(stroke).map_or(0.0, |next| next.rough_chance(&REFERENCE.hand, radius))
    }

    /// The shot on the next ball after a stroke that does what is asked and moves no other ball.
    fn next(&self, stroke: &Stroke) -> Option<NextShot> {
        let demand = &self.item.demand;
        let ending = self.situation.play(stroke);
        let is_still = |ball: &PlacedBall| ball.id.is_cue() || !ending.has_moved(ball.id);
        if !demand.is_met(&ending) || !self.left.iter().all(is_still) {
            return None;
        }
        NextShot::of(self.situation.arena(), &self.left, demand.next?, None, ending.stop)
    }

    /// "Is cut 9° to the head-right pocket (88 %)": the chance by the windows alone.
    fn next_in_words(&self, next: &NextShot) -> String {
        let cut = degrees(next.cut).abs();
        let radius = self.item.shot.card.ball.radius;
        let chance = percent(next.rough_chance(&REFERENCE.hand, radius));
        if cut < STRAIGHT {
            return format!("lies straight for the {} pocket ({chance})", next.pocket);
        }
        format!("is cut {cut:.0}° to the {} pocket ({chance})", next.pocket)
    }

    /// What a stroke of the hand is worth: the chance to do what is asked and then to pot the
    /// next ball.
    fn worth(&self, stroke: &Stroke, n: u32) -> f64 {
        mean_worth(&self.item.shot, stroke, n, |struck| self.leaves(struck))
    }

    /// The plainest of those that are tried and as good as the best: the fewest rails, then no
    /// side, then the best, then the softest.
    fn plainest(&self) -> Option<Stroke> {
        let (shot, demand) = (&self.item.shot, &self.item.demand);
        let (pocket, arena) = (demand.pocket?, self.situation.arena());
        let mut tried = Vec::new();
        for side in SIDES {
            for height in HEIGHTS {
                for speed in SPEEDS {
                    let stroke = Stroke { speed, side, height, elevation: 0.0, ..shot.stroke };
                    let aim = aimed(arena, &shot.balls, &stroke, demand.on, pocket);
                    let Some(stroke) = aim.filter(|stroke| self.leaves(stroke) > 0.0) else {
                        continue;
                    };
                    let rails = self.situation.play(&stroke).rails.len();
                    if rails <= MOST_RAILS {
                        let worth = self.worth(&stroke, COMPARED);
                        tried.push(Tried { stroke, rails, worth });
                    }
                }
            }
        }
        let most = tried.iter().map(|one| one.worth).fold(0.0, f64::max);
        tried.retain(|one| one.worth >= most - AS_GOOD);
        // The last sort counts most.
        sort_by_number(&mut tried, |one| one.stroke.speed);
        sort_by_number(&mut tried, |one| -one.worth);
        sort_by_number(&mut tried, |one| one.stroke.side.abs());
        sort_by_number(&mut tried, |one| one.rails as f64);
        tried.first().map(|one| one.stroke)
    }

    /// What a speed that is off by a tenth leaves.
    fn off(&self, stroke: &Stroke, long: bool) -> Off {
        let when = if long { "with a tenth more speed" } else { "with a tenth less" };
        let by = if long { 1.0 + OFF } else { 1.0 - OFF };
        let other = Stroke { speed: stroke.speed * by, ..*stroke };
        let ending = self.situation.play(&other);
        let demand = &self.item.demand;
        let (on, next) = (demand.on, demand.next.map_or(String::new(), |next| next.to_string()));
        let moved = self.left.iter().find(|ball| !ball.id.is_cue() && ending.has_moved(ball.id));
        let said = if ending.scratch {
            format!("{when} it scratches")
        } else if !demand.is_potted(&ending) {
            format!("{when} the {on} is missed")
        } else if let Some(ball) = moved {
            format!("{when} it runs into the {}", ball.id)
        } else if !demand.has_met_rails(&ending) {
            format!("{when} it does not meet the rails asked for")
        } else if let Some(shot) = self.next(&other) {
            format!("{when} the {next} {}", self.next_in_words(&shot))
        } else {
            format!("{when} the {next} has no pocket")
        };
        let cut = self.next(&other).map_or(f64::INFINITY, |shot| degrees(shot.cut).abs());
        Off { leaves: self.leaves(&other), cut, pots: demand.is_potted(&ending), words: said }
    }

    /// How the cue ball comes to the line on which the next ball goes to its pocket, drawn back:
    /// along it, beside it, across it. Nothing where the end of the path is short, or where the
    /// trace of the stops ([`approach`]) says the opposite.
    fn comes(&self, meant: &Meant, stroke: &Stroke, next: &NextShot) -> Option<String> {
        let truth = &meant.truth;
        let since = truth.touches.last().map_or(truth.contact_time, |touch| touch.time);
        let mut back = truth.path.iter().rev().take_while(|sample| sample.time >= since);
        let from = back.find(|sample| sample.position.distance(truth.stop) >= END)?.position;
        let on = self.item.demand.next?;
        let ball = self.left.iter().find(|ball| ball.id == on)?.position;
        let (leg, course) = (truth.stop - from, (ball - next.ghost).normalize());
        let angle = degrees(angle_between(leg, course)).abs();
        let angle = angle.min(180.0 - angle);
        let way = approach(&self.situation, &self.item.demand, stroke, &REFERENCE.hand)?.way;
        if matches!(way, Way::Along) && angle >= ACROSS
            || matches!(way, Way::Across) && angle <= ALONG
        {
            return None;
        }
        let line = format!("the {on}'s line to the {} pocket", next.pocket);
        if angle <= ALONG {
            let is_on = degrees(next.cut).abs() <= ON_LINE;
            return Some(format!(" It comes {} {line}.", if is_on { "along" } else { "beside" }));
        }
        // The last straight leg, not its end alone, is what is seen to cross.
        let corner = truth.touches.last().map_or(truth.ghost, |touch| touch.position);
        let [before, after] = [corner, truth.stop].map(|place| cross(course, place - ball));
        let share = before / (before - after);
        let meets = corner.lerp(truth.stop, share);
        let crosses = before * after < 0.0 && (meets - ball).dot(course) < 0.0;
        let how = if crosses {
            format!("crosses {line}, drawn back, at {angle:.0}°")
        } else {
            format!("comes at {angle:.0}° to {line}")
        };
        let counts = if angle >= ACROSS { ": speed counts" } else { "" };
        Some(format!(" It {how}{counts}."))
    }

    /// What goes wrong with the speed; `None` if hardly anything does, the pot does, or the
    /// stop is no better than where another speed leaves it.
    fn trap(&self, stroke: &Stroke, next: &NextShot) -> Option<String> {
        let meant = self.leaves(stroke);
        let cut = degrees(next.cut).abs();
        let [long, short] = [true, false].map(|long| self.off(stroke, long));
        let is_worse = |off: &Off| off.leaves < meant - WORSE;
        let is_better = |off: &Off| {
            let as_good = off.leaves >= meant - BETTER;
            off.leaves > meant + BETTER || as_good && off.cut < cut - STRAIGHTER
        };
        if !long.pots || !short.pots || is_better(&long) || is_better(&short) {
            return None;
        }
        let (which, first, then) = match (is_worse(&long), is_worse(&short)) {
            (true, true) => ("a little too hard or too soft", long, short),
            (true, false) => ("a little too hard", long, short),
            (false, true) => ("a little too soft", short, long),
            (false, false) => return None,
        };
        Some(format!("playing it {which}. {}; {}.", capital(&first.words), then.words))
    }
}

/// What `item` is good for.
pub(super) fn draft(item: &LeaveItem) -> Option<Found> {
    let next_ball = item.demand.next?;
    let left = item.shot.balls.iter().copied().filter(|ball| ball.id != item.demand.on);
    let asked = Asked {
        situation: Situation::new(&item.shot, item.demand.on).ok()?,
        left: left.collect(),
        item,
    };
    let stroke = asked.plainest()?;
    let meant = Meant::of(Shot { stroke, ..item.shot.clone() })?;
    let potted = potted(&meant);
    if potted < LEAST_POTTED || !is_in_the_clear(&meant) {
        return None;
    }
    let next = asked.next(&stroke)?;
    let trap = asked.trap(&stroke, &next)?;
    let worth = asked.worth(&stroke, DESCRIBED);
    if worth < LEAST {
        return None;
    }
    let card = &item.shot.card;
    let comes = asked.comes(&meant, &stroke, &next).unwrap_or_default();
    let skill =
        format!("the zone, where to leave the cue ball for the {next_ball}. {}", meant.words);
    let path = format!(
        "{}, {} from the {next_ball}, which {}.{comes}",
        path_in_words(card, &meant.truth),
        distance_in_words(card, next.distance),
        asked.next_in_words(&next)
    );
    Some(Found {
        skill: Skill::Zone,
        difficulty: hardness(&meant, 1.0 - worth, potted),
        potted,
        entry: Entry {
            title: format!("The {}, then the {next_ball}", item.demand.on),
            note: note(&skill, &path, &trap),
            item: AnyItem::Leave(item.clone()),
            stroke: Some(stroke),
        },
        places: Places::of(&meant),
    })
}
