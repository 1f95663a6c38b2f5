//! The units in which errors are spoken of.

/// In what a skill is measured.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Unit {
    /// Degrees.
    Degrees,
    /// Diamonds.
    Diamonds,
    /// Ball diameters.
    Balls,
    /// Per cent of what really was.
    PerCent,
    /// Hundredths of a chance.
    Points,
}

impl Unit {
    /// Its name in forms.
    pub fn name(self) -> &'static str {
        match self {
            Self::Degrees => "degrees",
            Self::Diamonds => "diamonds",
            Self::Balls => "balls",
            Self::PerCent => "per cent",
            Self::Points => "points",
        }
    }

    fn decimals(self, amount: f64) -> usize {
        match self {
            Self::Diamonds => 2,
            Self::Degrees | Self::Balls => usize::from(amount.abs() < 9.95),
            Self::PerCent | Self::Points => 0,
        }
    }

    /// The bare number as it is said; zero has no sign.
    pub fn number(self, amount: f64) -> String {
        let decimals = self.decimals(amount);
        let text = format!("{amount:.decimals$}");
        if text.bytes().all(|b| matches!(b, b'-' | b'0' | b'.')) {
            format!("{:.decimals$}", 0.0)
        } else {
            text
        }
    }

    /// An amount with its unit: "4.1°", "0.31 diamond".
    pub fn said(self, amount: f64) -> String {
        let number = self.number(amount);
        let unit = match self {
            Self::Degrees => return number + "°",
            Self::PerCent => return number + " %",
            Self::Diamonds => "diamond",
            Self::Balls => "ball",
            Self::Points => "point",
        };
        // Parts of one are less than one, and one is one.
        let few = match self {
            Self::Diamonds => amount.abs() < 1.005,
            _ => number == "1" || number == "1.0",
        };
        format!("{number} {unit}{}", if few { "" } else { "s" })
    }
}
