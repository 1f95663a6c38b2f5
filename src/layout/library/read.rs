//! What a Read item is good for.

use super::hardness::hardness;
use super::readings::cost;
use super::room::is_in_the_clear;
use super::words::{after_cushions, heading, off_side, pocket_of, title_of};
use super::{Found, LEAST_POTTED, Places, Skill, TRIED, mean_worth};
use crate::physics::{Shot, Stroke};
use crate::practice::set::{Entry, Meant};
use crate::practice::{Amount, AnyItem, Change, ReadItem, Rebound, Replay, Why, why};
use crate::shot::{Demand, Situation};
use crate::units::degrees;

/// Bends of a path that keeps to the tangent line, and of one that is clearly drawn back,
/// degrees (tuning choices).
const STUNNED: f64 = 1.5;
const DRAWN: f64 = 8.0;

/// A change that moves the path by less than so many balls is none (tuning choice: what tells
/// a rolling ball from one that slides, and side that counts from side that does not).
const SLIGHT: f64 = 1.0;
const MARKED: f64 = 4.0;

/// By so many balls a mirror for a cushion must mislead to be a trap (tuning choice, looked at:
/// less is hardly seen).
const FOOLED: f64 = 1.1;

/// By so many balls for each rail of a path the one that is least like a mirror must mislead on
/// the leg after it, and by so many degrees side must turn the cue ball at one (tuning choices:
/// less is no trap that a player is told of).
const MISLED: f64 = 0.75;
const SIDED: f64 = 10.0;

/// From here on side is side, ball radii.
const LEAST_SIDE: f64 = 0.15;

/// What is worth reading (tuning choices, looked at item by item): the cue ball's way to the
/// ball and after it, its way before a cushion or between two, m, the least cut whose side is
/// seen, and the cuts of which a heading can be told, degrees.
const FAR: std::ops::RangeInclusive<f64> = 0.3..=1.7;
const LEAST_WAY: f64 = 0.5;
const LEAST_LEG: f64 = 0.18;
const LEAST_CUT: f64 = 8.0;
const CUTS: std::ops::RangeInclusive<f64> = 12.0..=56.0;

/// A path for speed: so long at least, table lengths, so little bent, degrees, and by so
/// little moved at the rails with a tenth of the speed, m (tuning choices).
const LONG: f64 = 0.6;
const PLAIN: f64 = 10.0;
const HELD: f64 = 0.15;

/// The share of the speed by which it is too hard or too soft in notes.
pub(super) const OFF: f64 = 0.1;

/// A Read item with all that is known of it.
pub(super) struct Known {
    pub meant: Meant,
    pub why: Why,
    /// How often the hand pots it, 0 to 1.
    potted: f64,
    /// The same struck a tenth harder and a tenth softer.
    pub long: Option<Meant>,
    pub short: Option<Meant>,
}

impl Known {
    fn of(shot: &Shot) -> Option<Self> {
        let meant = Meant::of(shot.clone())?;
        let faster = |by: f64| {
            let stroke = Stroke { speed: shot.stroke.speed * by, ..shot.stroke };
            Meant::of(Shot { stroke, ..shot.clone() })
        };
        Some(Self {
            why: why(shot).ok()??,
            potted: potted(&meant),
            long: faster(1.0 + OFF),
            short: faster(1.0 - OFF),
            meant,
        })
    }

    fn replay(&self, change: Change) -> Option<&Replay> {
        self.why.replays.iter().find(|replay| replay.change == change)
    }

    /// How far a change leads the path astray, m.
    pub fn astray(&self, change: Change) -> f64 {
        self.replay(change).map_or(0.0, |replay| replay.strays)
    }

    /// The same in balls.
    fn strays(&self, change: Change) -> f64 {
        self.astray(change) / (2.0 * self.meant.shot.card.ball.radius)
    }

    /// Angle from the tangent line to where it went, degrees, positive forward.
    pub fn bend(&self) -> f64 {
        self.why.facts.bend.map_or(0.0, degrees)
    }

    fn cushions(&self) -> usize {
        self.meant.truth.touches.len()
    }

    /// Lengths of the path's legs between its corners, m: as many as it has touches, and one.
    fn legs(&self) -> impl Iterator<Item = f64> {
        let truth = &self.meant.truth;
        let corners = std::iter::once(truth.ghost)
            .chain(truth.touches.iter().map(|touch| touch.position))
            .chain([truth.stop]);
        let corners: Vec<_> = corners.collect();
        (1..corners.len()).map(move |k| corners[k].distance(corners[k - 1]))
    }

    /// Whether it is worth reading at all.
    fn is_worth_it(&self) -> bool {
        let truth = &self.meant.truth;
        let cue_ball = self.meant.shot.balls.iter().find(|ball| ball.id.is_cue());
        let far = cue_ball.map_or(0.0, |ball| ball.position.distance(truth.ghost));
        let is_heading_seen = truth.ghost.distance(truth.stop) >= LEAST_LEG;
        FAR.contains(&far)
            && truth.pocketed.is_none()
            && truth.length() >= LEAST_WAY
            && is_heading_seen
            && self.legs().all(|leg| leg >= LEAST_LEG)
            && degrees(truth.cut()).abs() >= LEAST_CUT
            && self.pots_off_speed()
            && is_in_the_clear(&self.meant)
            && self.potted >= LEAST_POTTED
    }

    /// Whether the ball still falls with a tenth of the speed more or less: else the item is
    /// about the pot.
    fn pots_off_speed(&self) -> bool {
        let pots = |other: &Option<Meant>| {
            other.as_ref().is_some_and(|other| pocket_of(other) == pocket_of(&self.meant))
        };
        pots(&self.long) && pots(&self.short)
    }

    /// Whether a tenth of the speed moves it along its line, and hardly off it.
    fn keeps_its_line(&self) -> bool {
        let line = &self.meant.truth.touches;
        [&self.long, &self.short].into_iter().flatten().all(|other| {
            let touches = other.truth.touches.iter().zip(line);
            let mut moved = touches.map(|(one, other)| {
                one.surface == other.surface && one.position.distance(other.position) <= HELD
            });
            moved.all(|is_held| is_held) && other.truth.pocketed.is_none()
        })
    }

    /// Whether its heading can be told, and is what it is about.
    fn has_heading(&self) -> bool {
        let cut = self.why.facts.tangent.map_or(0.0, |tangent| 90.0 - degrees(tangent));
        self.cushions() <= 2 && self.is_plain() && CUTS.contains(&cut)
    }

    /// Whether it is struck without side.
    fn is_plain(&self) -> bool {
        self.meant.shot.stroke.side == 0.0
    }

    /// Whether a mirror for a cushion would lead it somewhere else.
    fn fools_a_mirror(&self) -> bool {
        self.strays(Change::MirrorCushion) >= FOOLED
    }

    /// What it exercises.
    fn exercises(&self, skill: Skill) -> bool {
        let bend = self.bend();
        let rolls = self.strays(Change::NaturalRoll) <= SLIGHT;
        match skill {
            Skill::Stun => {
                self.has_heading()
                    && bend.abs() <= STUNNED
                    && self.strays(Change::NaturalRoll) >= MARKED
                    && self.turned(Change::NaturalRoll).is_some()
            }
            Skill::Roll => self.has_heading() && rolls && bend >= DRAWN,
            Skill::Draw => self.has_heading() && bend <= -DRAWN,
            Skill::OneCushion => self.is_plain() && self.cushions() == 1 && self.fools_a_mirror(),
            Skill::TwoCushions => self.is_plain() && self.cushions() == 2 && self.misleads(),
            Skill::ThreeCushions => self.is_plain() && self.cushions() == 3 && self.misleads(),
            Skill::Side => {
                self.meant.shot.stroke.side.abs() >= LEAST_SIDE
                    && (1..=2).contains(&self.cushions())
                    && self.strays(Change::NoSide) >= MARKED
                    && self.most_sided().is_some_and(|(_, turned)| degrees(turned) >= SIDED)
            }
            Skill::Speed => {
                self.is_plain()
                    && self.cushions() <= 2
                    && bend.abs() <= PLAIN
                    && self.meant.truth.length() >= LONG * self.meant.shot.card.travel_length()
                    && self.keeps_its_line()
            }
            Skill::Zone | Skill::Order => false,
        }
    }

    fn note(&self, skill: Skill) -> String {
        match skill {
            Skill::Stun | Skill::Roll | Skill::Draw => heading(self, skill),
            Skill::Side => off_side(self),
            _ => after_cushions(self, skill),
        }
    }

    /// By which angle a change turns it, rad.
    pub fn turned(&self, change: Change) -> Option<f64> {
        match self.replay(change)?.amount {
            Amount::Turned(angle) => Some(angle),
            _ => None,
        }
    }

    /// Which of its rails misleads most who calls equal angles there, and by how much at the
    /// end of the leg after it, m.
    pub fn misled(&self) -> Option<(usize, f64)> {
        let rebounds = self.why.facts.rebounds.iter();
        let out = rebounds.zip(self.legs().skip(1)).map(|(rebound, leg)| {
            let turned = rebound.left.map_or(0.0, |left| left - rebound.came);
            2.0 * libm::sin(0.5 * turned.abs()) * leg
        });
        out.enumerate().max_by(|(_, one), (_, other)| one.total_cmp(other))
    }

    /// Whether that is a trap.
    fn misleads(&self) -> bool {
        let ball = 2.0 * self.meant.shot.card.ball.radius;
        self.misled().is_some_and(|(_, out)| out >= MISLED * self.cushions() as f64 * ball)
    }

    /// What it did at its only cushion, or its first.
    pub fn first_cushion(&self) -> Option<&Rebound> {
        self.why.facts.rebounds.first()
    }

    /// What it did at the rail where its side turned it most, and by how much, rad.
    pub fn most_sided(&self) -> Option<(&Rebound, f64)> {
        let rebounds = self.why.facts.rebounds.iter();
        let sided = rebounds
            .filter_map(|rebound| Some((rebound, (rebound.left? - rebound.without_side?).abs())));
        sided.max_by(|(_, one), (_, other)| one.total_cmp(other))
    }
}

/// How often the hand pots the ball that is met first, 0 to 1.
pub(super) fn potted(meant: &Meant) -> f64 {
    let demand = Demand::to_pot(meant.truth.first);
    let Ok(situation) = Situation::new(&meant.shot, demand.on) else { return 0.0 };
    let potted = |stroke: &Stroke| f64::from(demand.is_met(&situation.play(stroke)));
    mean_worth(&meant.shot, &meant.shot.stroke, TRIED, potted)
}

/// What `item` is good for.
pub(super) fn drafts(item: &ReadItem) -> Vec<Found> {
    let Some(known) = Known::of(&item.shot).filter(Known::is_worth_it) else { return Vec::new() };
    let skills: Vec<Skill> =
        Skill::ALL.into_iter().filter(|&skill| known.exercises(skill)).collect();
    let Some(pocket) = pocket_of(&known.meant).filter(|_| !skills.is_empty()) else {
        return Vec::new();
    };
    let cost = cost(item, &known.meant, pocket);
    let difficulty = hardness(&known.meant, cost, known.potted);
    skills
        .into_iter()
        .map(|skill| Found {
            skill,
            difficulty,
            potted: known.potted,
            places: Places::of(&known.meant),
            entry: Entry {
                title: title_of(&known.meant),
                note: known.note(skill),
                item: AnyItem::Read(item.clone()),
                stroke: None,
            },
        })
        .collect()
}
