//! What the sets that come with the page exercise.

use crate::practice::set::Pass;

/// What can be practised.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Skill {
    /// The heading off the object ball with draw.
    Draw,
    /// The heading without spin.
    Stun,
    /// The heading of a ball that rolls.
    Roll,
    /// What side does at a cushion.
    Side,
    /// The path off three cushions.
    ThreeCushions,
    /// The path off two cushions.
    TwoCushions,
    /// The path off one cushion.
    OneCushion,
    /// How far the cue ball goes.
    Speed,
    /// Where to leave it for the next ball.
    Zone,
    /// In which order balls are cleared.
    Order,
}

impl Skill {
    /// All of them; those that few items exercise choose theirs first.
    pub const ALL: [Self; 10] = [
        Self::OneCushion,
        Self::Draw,
        Self::Stun,
        Self::Roll,
        Self::Side,
        Self::ThreeCushions,
        Self::TwoCushions,
        Self::Speed,
        Self::Zone,
        Self::Order,
    ];

    /// Its name in the name of the file.
    pub fn name(self) -> &'static str {
        match self {
            Self::Draw => "draw",
            Self::Stun => "stun",
            Self::Roll => "roll",
            Self::Side => "side",
            Self::ThreeCushions => "three-cushions",
            Self::TwoCushions => "two-cushions",
            Self::OneCushion => "one-cushion",
            Self::Speed => "speed",
            Self::Zone => "zone",
            Self::Order => "order",
        }
    }

    /// The title of its set.
    pub fn title(self) -> &'static str {
        match self {
            Self::Draw => "Heading: draw",
            Self::Stun => "Heading: stun",
            Self::Roll => "Heading: roll",
            Self::Side => "Side at the cushion",
            Self::ThreeCushions => "Three cushions",
            Self::TwoCushions => "Two cushions",
            Self::OneCushion => "One cushion",
            Self::Speed => "Speed",
            Self::Zone => "The zone for the next ball",
            Self::Order => "The order",
        }
    }

    /// The note of its set.
    pub fn words(self) -> &'static str {
        match self {
            Self::Draw => {
                "Backspin bends the cue ball back from the tangent line: where does it go?"
            }
            Self::Stun => {
                "Without spin the cue ball goes along the tangent line: where does it go?"
            }
            Self::Roll => {
                "A rolling cue ball bends forward from the tangent line: where does it go?"
            }
            Self::Side => "Side turns the cue ball at the cushion: where does it go?",
            Self::ThreeCushions => "Three cushions, then the stop: follow it all the way.",
            Self::TwoCushions => "Two cushions, then the stop.",
            Self::OneCushion => "One cushion, then the stop.",
            Self::Speed => "The line is plain: how far does the cue ball go?",
            Self::Zone => "Pot the ball on, and say where you leave the cue ball for the next.",
            Self::Order => "A few balls and then the 8: which order clears most often?",
        }
    }

    /// What counts as passed (tuning choice: a run is all or nothing, so fewer are asked for).
    pub fn pass(self) -> Pass {
        match self {
            Self::Order => Pass { mark: 100, need: 5 },
            _ => Pass { mark: 50, need: 7 },
        }
    }
}
