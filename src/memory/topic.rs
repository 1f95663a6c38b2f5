//! What can be practised: topics, each told of by some skills.

use super::record::Part;
use super::skill::Skill;

/// Something to practise.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Topic {
    /// The heading of a stun ball.
    Stun,
    /// The heading of a ball with follow.
    Follow,
    /// The heading of a ball with draw.
    Draw,
    /// One cushion.
    OneCushion,
    /// Two cushions.
    TwoCushions,
    /// Three cushions or more.
    ThreeCushions,
    /// What side does.
    Side,
    /// How far the ball runs.
    Speed,
    /// The zone.
    Zone,
    /// Which shot is chosen.
    Order,
    /// Where the object ball goes.
    Cut,
}

impl Topic {
    /// All.
    pub const ALL: [Self; 11] = [
        Self::Stun,
        Self::Follow,
        Self::Draw,
        Self::OneCushion,
        Self::TwoCushions,
        Self::ThreeCushions,
        Self::Side,
        Self::Speed,
        Self::Zone,
        Self::Order,
        Self::Cut,
    ];

    /// Its name in a sentence.
    pub fn name(self) -> &'static str {
        match self {
            Self::Stun => "headings with stun",
            Self::Follow => "headings with follow",
            Self::Draw => "headings with draw",
            Self::OneCushion => "one cushion",
            Self::TwoCushions => "two cushions",
            Self::ThreeCushions => "three cushions",
            Self::Side => "the effect of side",
            Self::Speed => "the length of the path",
            Self::Zone => "the zone",
            Self::Order => "the choice of the shot",
            Self::Cut => "cut angles",
        }
    }

    /// Its name in forms.
    pub fn id(self) -> &'static str {
        match self {
            Self::Stun => "stun",
            Self::Follow => "follow",
            Self::Draw => "draw",
            Self::OneCushion => "one-cushion",
            Self::TwoCushions => "two-cushions",
            Self::ThreeCushions => "three-cushions",
            Self::Side => "side",
            Self::Speed => "speed",
            Self::Zone => "zone",
            Self::Order => "order",
            Self::Cut => "cut",
        }
    }

    /// The skills that tell of it.
    pub fn skills(self) -> &'static [Skill] {
        match self {
            Self::Stun => &[Skill::HeadingStun],
            Self::Follow => &[Skill::HeadingRoll],
            Self::Draw => &[Skill::HeadingDraw],
            Self::OneCushion => &[Skill::FirstRail, Skill::FirstRebound],
            Self::TwoCushions => &[Skill::SecondRail, Skill::SecondRebound],
            Self::ThreeCushions => &[Skill::ThirdRail, Skill::ThirdRebound],
            Self::Side => &[Skill::Side],
            Self::Speed => &[Skill::Speed],
            Self::Zone => &[Skill::ZoneAlong, Skill::ZoneAcross, Skill::ZoneSize],
            Self::Order => &[Skill::Order],
            Self::Cut => &[Skill::Cut],
        }
    }

    /// The part in which it is practised.
    pub fn part(self) -> Part {
        match self {
            Self::Zone => Part::Leave,
            Self::Order => Part::Clear,
            Self::Cut => Part::Eye,
            _ => Part::Read,
        }
    }
}
