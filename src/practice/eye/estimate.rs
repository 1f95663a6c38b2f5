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

    /// An amount as it is said: "4°", "0.3 diamond", "1.20 lengths".
    pub fn said(self, amount: f64) -> String {
        let shown = self.shown(amount);
        match self {
            Self::Degrees => format!("{shown}°"),
            Self::Diamonds if amount.abs() < 1.05 => format!("{shown} diamond"),
            Self::Diamonds => format!("{shown} diamonds"),
            Self::Lengths if shown == "1.00" => format!("{shown} length"),
            Self::Lengths => format!("{shown} lengths"),
        }
    }

    /// An amount, to as many places as are said.
    pub fn shown(self, amount: f64) -> String {
        let (places, of_one) = match self {
            Self::Degrees => (0, 1.0),
            Self::Diamonds => (1, 10.0),
            Self::Lengths => (2, 100.0),
        };
        // Nothing has no sign.
        format!("{:.places$}", (of_one * amount).round() / of_one + 0.0)
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

    /// A value as it is said: "34°", "diamond 2.1", "0.40 lengths".
    pub fn value(self, value: f64) -> String {
        let unit = self.unit();
        match self {
            Self::ThirdRail => format!("diamond {}", unit.shown(value)),
            _ => unit.said(value),
        }
    }

    /// What the cue ball or the object ball really does, with what it is measured from.
    pub fn told(self, truth: f64) -> String {
        let truth = self.value(truth);
        match self {
            Self::Tangent | Self::Roll | Self::Draw => {
                format!("it leaves at {truth} to the line of the shot")
            }
            Self::Cut => format!("it is cut by {truth}"),
            Self::Rebound | Self::Side => format!("it leaves at {truth} from square"),
            Self::ThirdRail => format!("it meets the rail at {truth}"),
            Self::Distance => format!("it runs {truth}"),
        }
    }

    /// An error with its side: "4° too wide".
    pub fn off(self, error: f64) -> String {
        let (more, less) = self.sides();
        format!("{} too {}", self.unit().said(error.abs()), if error > 0.0 { more } else { less })
    }
}
