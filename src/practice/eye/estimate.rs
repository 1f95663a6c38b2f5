//! What can be estimated, and in what it is measured.

/// What is to be estimated.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Estimate {
    /// The heading of a stun ball off the object ball.
    Tangent,
    /// The heading of a rolling ball off the object ball.
    Roll,
    /// The heading off the object ball of a ball with as much draw as a rolling one has
    /// follow.
    Draw,
    /// Where the object ball goes, by how full it is hit.
    Cut,
    /// The heading off a cushion without side.
    Rebound,
    /// The heading off a cushion with side.
    Side,
    /// The diamond at which the third rail is met.
    ThirdRail,
    /// How far the cue ball runs off the object ball.
    Distance,
}

/// In what an estimate is measured.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Unit {
    /// Degrees.
    Degrees,
    /// Diamonds.
    Diamonds,
    /// Table lengths.
    Lengths,
}

impl Unit {
    /// Its name in forms.
    pub fn name(self) -> &'static str {
        match self {
            Self::Degrees => "degrees",
            Self::Diamonds => "diamonds",
            Self::Lengths => "lengths",
        }
    }

    /// The least that is told apart in words.
    pub fn grain(self) -> f64 {
        match self {
            Self::Degrees => 0.5,
            Self::Diamonds => 0.05,
            Self::Lengths => 0.01,
        }
    }

    /// By how much an arrow key moves the handle, plainly or finely (tuning choices).
    pub fn step(self, is_fine: bool) -> f64 {
        let [plain, fine] = match self {
            Self::Degrees => [2.0, 0.5],
            Self::Diamonds => [0.1, 0.02],
            Self::Lengths => [0.05, 0.01],
        };
        if is_fine { fine } else { plain }
    }

    /// An amount as it is said: "4°", "0.3 diamonds", "0.12 lengths".
    pub fn said(self, amount: f64) -> String {
        let shown = self.shown(amount);
        let one = shown == 1.0;
        match self {
            Self::Degrees => format!("{shown}°"),
            Self::Diamonds => format!("{shown} {}", if one { "diamond" } else { "diamonds" }),
            Self::Lengths => format!("{shown} {}", if one { "length" } else { "lengths" }),
        }
    }

    /// An amount, to as many places as are said.
    pub fn shown(self, amount: f64) -> f64 {
        let places = match self {
            Self::Degrees => 1.0,
            Self::Diamonds => 10.0,
            Self::Lengths => 100.0,
        };
        (places * amount).round() / places + 0.0
    }
}

impl Estimate {
    /// All of them, in the order in which a summary lists them.
    pub const ALL: [Self; 8] = [
        Self::Tangent,
        Self::Roll,
        Self::Draw,
        Self::Cut,
        Self::Rebound,
        Self::Side,
        Self::ThirdRail,
        Self::Distance,
    ];

    /// Its name in forms.
    pub fn name(self) -> &'static str {
        match self {
            Self::Tangent => "tangent",
            Self::Roll => "roll",
            Self::Draw => "draw",
            Self::Cut => "cut",
            Self::Rebound => "rebound",
            Self::Side => "side",
            Self::ThirdRail => "third-rail",
            Self::Distance => "distance",
        }
    }

    /// Its name on the screen.
    pub fn title(self) -> &'static str {
        match self {
            Self::Tangent => "Tangent line",
            Self::Roll => "Natural roll",
            Self::Draw => "Draw",
            Self::Cut => "Cut angle",
            Self::Rebound => "Cushion",
            Self::Side => "Cushion, side",
            Self::ThirdRail => "Third rail",
            Self::Distance => "Distance",
        }
    }

    /// In what it is measured.
    pub fn unit(self) -> Unit {
        match self {
            Self::ThirdRail => Unit::Diamonds,
            Self::Distance => Unit::Lengths,
            _ => Unit::Degrees,
        }
    }

    /// The error that halves the mark, in its unit (tuning choice: what moves the cue ball
    /// by about two balls at the end of an ordinary path).
    pub fn half(self) -> f64 {
        match self.unit() {
            Unit::Degrees => 5.0,
            Unit::Diamonds => 0.35,
            Unit::Lengths => 0.1,
        }
    }

    /// The mark of an answer that is off by `error`, 0 to 100: halved by every
    /// [`half`](Self::half) of it.
    pub fn mark(self, error: f64) -> f64 {
        100.0 * libm::exp2(-error.abs() / self.half())
    }

    /// What too much of it is called, and what too little.
    pub fn sides(self) -> (&'static str, &'static str) {
        match self {
            Self::Tangent | Self::Roll | Self::Draw => ("wide", "narrow"),
            Self::Cut => ("thin", "full"),
            Self::Rebound | Self::Side | Self::ThirdRail | Self::Distance => ("long", "short"),
        }
    }

    /// An error with its side: "4° too wide".
    pub fn off(self, error: f64) -> String {
        let (more, less) = self.sides();
        format!("{} too {}", self.unit().said(error.abs()), if error > 0.0 { more } else { less })
    }
}
