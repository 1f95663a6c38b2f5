//! The skills that calls tell of, and what is said of each.

use super::unit::Unit;

/// What a call can be good or bad at. Their order is that of their codes, which are kept
/// on devices: new ones go to the end.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Skill {
    /// Heading off the object ball of a ball that leaves along the tangent line.
    HeadingStun,
    /// The same of one that leaves in front of it.
    HeadingRoll,
    /// The same of one that leaves behind it.
    HeadingDraw,
    /// Where the first rail is met.
    FirstRail,
    /// Where the second is met.
    SecondRail,
    /// Where the third or a later one is met.
    ThirdRail,
    /// How the ball leaves the first rail.
    FirstRebound,
    /// How it leaves the second.
    SecondRebound,
    /// How it leaves the third or a later one.
    ThirdRebound,
    /// Effect of side at the first rail.
    Side,
    /// How long the path is.
    Speed,
    /// Where it ends, along its last leg,
    StopAlong,
    /// and across it.
    StopAcross,
    /// Where the zone lies, along the cue ball's last leg,
    ZoneAlong,
    /// and across it.
    ZoneAcross,
    /// How large the zone is.
    ZoneSize,
    /// Which shot is chosen.
    Order,
    /// Where the object ball goes, by how full it is hit.
    Cut,
}

/// What is said of a skill.
struct Words {
    id: &'static str,
    name: &'static str,
    unit: Unit,
    /// Begins the sentence about a bias,
    claim: &'static str,
    /// which ends with one of these.
    over: &'static str,
    under: &'static str,
    /// A smaller bias is not worth a sentence.
    least: f64,
    /// The error up to which a call succeeds, at level 4.
    tolerance: f64,
}

const fn words(
    [id, name, claim, over, under]: [&'static str; 5],
    unit: Unit,
    [least, tolerance]: [f64; 2],
) -> Words {
    Words { id, name, unit, claim, over, under, least, tolerance }
}

/// In the order of the codes. Tolerances of headings, rails and rebounds are those that
/// halve a term of the mark ([`crate::practice::grade::REFERENCE`], larger by the root of
/// the touch's number), that of the cut is what halves its mark in Eye; the others, and what is worth a sentence, are tuning choices.
const WORDS: [Words; 18] = {
    use Unit::{Balls, Degrees, Diamonds, PerCent, Points};
    const WIDE: [&str; 2] = ["too wide", "too narrow"];
    const LONG: [&str; 2] = ["too long", "too short"];
    const ALONG: [&str; 2] = ["too far on", "too short"];
    const LEFT: [&str; 2] = ["too far left", "too far right"];
    const fn of(
        id: &'static str,
        name: &'static str,
        claim: &'static str,
        ends: [&'static str; 2],
    ) -> [&'static str; 5] {
        [id, name, claim, ends[0], ends[1]]
    }
    [
        words(
            of("heading-stun", "Heading with stun", "With stun you call the heading", WIDE),
            Degrees,
            [1.0, 6.0],
        ),
        words(
            of("heading-roll", "Heading with follow", "With follow you call the heading", WIDE),
            Degrees,
            [1.0, 6.0],
        ),
        words(
            of("heading-draw", "Heading with draw", "With draw you call the heading", WIDE),
            Degrees,
            [1.0, 6.0],
        ),
        words(
            of("rail-1", "Place on the first cushion", "You call the first cushion", LONG),
            Diamonds,
            [0.1, 0.5],
        ),
        words(
            of("rail-2", "Place on the second cushion", "You call the second cushion", LONG),
            Diamonds,
            [0.1, 0.71],
        ),
        words(
            of("rail-3", "Place on the third cushion", "You call the third cushion", LONG),
            Diamonds,
            [0.1, 0.87],
        ),
        words(
            of(
                "rebound-1",
                "Rebound off the first cushion",
                "Off the first cushion you call",
                LONG,
            ),
            Degrees,
            [1.0, 8.0],
        ),
        words(
            of(
                "rebound-2",
                "Rebound off the second cushion",
                "Off the second cushion you call",
                LONG,
            ),
            Degrees,
            [1.0, 11.3],
        ),
        words(
            of(
                "rebound-3",
                "Rebound off the third cushion",
                "Off the third cushion you call",
                LONG,
            ),
            Degrees,
            [1.0, 13.9],
        ),
        words(
            of(
                "side",
                "Effect of side",
                "At the first cushion you give side",
                ["too much", "too little"],
            ),
            Degrees,
            [1.0, 8.0],
        ),
        words(of("speed", "Length of the path", "You call the path", LONG), PerCent, [3.0, 15.0]),
        words(
            of("stop-along", "Stop along the path", "You call the stop", ALONG),
            Balls,
            [0.5, 2.5],
        ),
        words(
            of("stop-across", "Stop across the path", "You call the stop", LEFT),
            Balls,
            [0.5, 2.5],
        ),
        words(
            of("zone-along", "Zone along the path", "You place the zone", ALONG),
            Balls,
            [0.5, 2.0],
        ),
        words(
            of("zone-across", "Zone across the path", "You place the zone", LEFT),
            Balls,
            [0.5, 2.0],
        ),
        words(
            of("zone-size", "Size of the zone", "You make the zone", ["too large", "too small"]),
            PerCent,
            [5.0, 40.0],
        ),
        words(
            of("order", "Choice of the shot", "Your choice of the shot costs", ["", ""]),
            Points,
            [1.0, 4.0],
        ),
        words(
            of("cut", "Cut angle", "You see the cut", ["too thin", "too full"]),
            Degrees,
            [1.0, 5.0],
        ),
    ]
};

impl Skill {
    /// All, in the order of their codes.
    pub const ALL: [Self; 18] = [
        Self::HeadingStun,
        Self::HeadingRoll,
        Self::HeadingDraw,
        Self::FirstRail,
        Self::SecondRail,
        Self::ThirdRail,
        Self::FirstRebound,
        Self::SecondRebound,
        Self::ThirdRebound,
        Self::Side,
        Self::Speed,
        Self::StopAlong,
        Self::StopAcross,
        Self::ZoneAlong,
        Self::ZoneAcross,
        Self::ZoneSize,
        Self::Order,
        Self::Cut,
    ];

    fn words(self) -> &'static Words {
        &WORDS[self as usize]
    }

    /// Its number on devices.
    pub fn code(self) -> u8 {
        self as u8
    }

    /// Its name in forms.
    pub fn id(self) -> &'static str {
        self.words().id
    }

    /// Its name on the screen.
    pub fn name(self) -> &'static str {
        self.words().name
    }

    /// In what its errors are measured.
    pub fn unit(self) -> Unit {
        self.words().unit
    }

    /// What a smaller bias than this is not worth a sentence.
    pub fn least(self) -> f64 {
        self.words().least
    }

    /// The error up to which a call of `level` succeeds.
    pub fn tolerance(self, level: u8) -> f64 {
        self.words().tolerance * crate::practice::level(level).tolerance
    }

    /// Whether what was called and what happened have a place of their own, and are not
    /// only a distance from each other.
    pub fn has_places(self) -> bool {
        !matches!(self, Self::StopAlong | Self::StopAcross | Self::ZoneAlong | Self::ZoneAcross)
    }

    /// In what its called and real values are, which need not be the unit of its errors.
    pub fn placed_in(self) -> &'static str {
        match self {
            Self::Speed => "table lengths",
            Self::ZoneSize => "balls",
            _ => self.unit().name(),
        }
    }

    /// Whether errors go to one side only: then their mean is a cost and no bias.
    pub fn is_cost(self) -> bool {
        self == Self::Order
    }

    /// An error in words: "6.2° too long"; one that rounds to nothing is on no side.
    pub fn off(self, error: f64) -> String {
        let Words { unit, over, under, .. } = self.words();
        let (amount, end) = (unit.said(error.abs()), if error > 0.0 { over } else { under });
        let is_nothing = amount == unit.said(0.0);
        if end.is_empty() || is_nothing { amount } else { format!("{amount} {end}") }
    }

    /// A bias in a sentence without its end: "Off the second cushion you call 6.2° too long".
    pub fn claim(self, bias: f64) -> String {
        format!("{} {}", self.words().claim, self.off(bias))
    }

    pub(super) fn rail(touch: usize) -> Self {
        [Self::FirstRail, Self::SecondRail, Self::ThirdRail][touch.clamp(1, 3) - 1]
    }

    pub(super) fn rebound(touch: usize) -> Self {
        [Self::FirstRebound, Self::SecondRebound, Self::ThirdRebound][touch.clamp(1, 3) - 1]
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::memory::Told;
    use crate::units::degrees;

    #[test]
    fn codes_are_places_in_the_list() {
        for (k, skill) in Skill::ALL.into_iter().enumerate() {
            assert_eq!(usize::from(skill.code()), k, "{} is in its place", skill.id());
        }
        let mut ids: Vec<_> = Skill::ALL.iter().map(|skill| skill.id()).collect();
        ids.sort_unstable();
        ids.dedup();
        assert_eq!(ids.len(), Skill::ALL.len(), "no name is given twice");
    }

    #[test]
    fn errors_are_said_in_their_units() {
        for (skill, called, real, words) in [
            (Skill::SecondRebound, 46.2, 40.0, "Off the second cushion you call 6.2° too long"),
            (Skill::Speed, 2.0, 2.5, "You call the path 20 % too short"),
            (Skill::StopAcross, 1.25, 0.0, "You call the stop 1.2 balls too far left"),
            (Skill::FirstRail, 1.0, 1.31, "You call the first cushion 0.31 diamond too short"),
            (Skill::Order, 60.0, 66.0, "Your choice of the shot costs 6 points"),
        ] {
            let told = Told { skill, called, real };
            assert_eq!(skill.claim(told.error()), words, "{told:?}");
        }
        assert_eq!(Unit::Degrees.said(-0.04), "0.0°", "nothing has no sign");
        assert_eq!(Skill::Side.off(0.04), "0.0°", "and is on no side");
    }

    /// The tolerances are those of the mark.
    #[test]
    fn tolerances_follow_the_mark() {
        let mark = crate::practice::grade::REFERENCE.at_level(2);
        let near = |skill: Skill, expected: f64| {
            let off = skill.tolerance(2) / expected - 1.0;
            assert!(off.abs() < 0.01, "{}: {}", skill.id(), skill.tolerance(2));
        };
        near(Skill::HeadingDraw, degrees(mark.heading));
        near(Skill::FirstRail, mark.rail);
        near(Skill::SecondRail, mark.rail * 2_f64.sqrt());
        near(Skill::ThirdRebound, degrees(mark.rebound) * 3_f64.sqrt());
    }
}
