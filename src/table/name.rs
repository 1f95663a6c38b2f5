//! Names of the rails and pockets, as seen by a player who stands at the head
//! and looks toward the foot.

use glam::DVec2;
use std::fmt;

/// One of the four rails.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Rail {
    /// x = 0.
    Head,
    /// x = length.
    Foot,
    /// y = 0.
    Right,
    /// y = width.
    Left,
}

impl Rail {
    /// All four, in the order of the enum.
    pub const ALL: [Self; 4] = [Self::Head, Self::Foot, Self::Right, Self::Left];

    /// Whether this is one of the two long rails.
    pub fn is_long(self) -> bool {
        matches!(self, Self::Right | Self::Left)
    }

    /// The unit vector from the rail into the table.
    pub fn inward(self) -> DVec2 {
        match self {
            Self::Head => DVec2::X,
            Self::Foot => DVec2::NEG_X,
            Self::Right => DVec2::Y,
            Self::Left => DVec2::NEG_Y,
        }
    }

    /// The name used in forms and on the screen.
    pub fn name(self) -> &'static str {
        match self {
            Self::Head => "head",
            Self::Foot => "foot",
            Self::Right => "right",
            Self::Left => "left",
        }
    }
}

/// One of the six pockets.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum PocketId {
    /// Corner at the origin.
    HeadRight,
    /// Corner of head and left rail.
    HeadLeft,
    /// Corner of foot and right rail.
    FootRight,
    /// Corner of foot and left rail.
    FootLeft,
    /// Middle of the right rail.
    SideRight,
    /// Middle of the left rail.
    SideLeft,
}

impl PocketId {
    /// All six, in the order of the enum.
    pub const ALL: [Self; 6] = [
        Self::HeadRight,
        Self::HeadLeft,
        Self::FootRight,
        Self::FootLeft,
        Self::SideRight,
        Self::SideLeft,
    ];

    /// Whether this is one of the two side pockets.
    pub fn is_side(self) -> bool {
        matches!(self, Self::SideRight | Self::SideLeft)
    }

    /// The name used in forms.
    pub fn name(self) -> &'static str {
        match self {
            Self::HeadRight => "head-right",
            Self::HeadLeft => "head-left",
            Self::FootRight => "foot-right",
            Self::FootLeft => "foot-left",
            Self::SideRight => "side-right",
            Self::SideLeft => "side-left",
        }
    }
}

/// What a ball rebounds from: a rail, or a jaw point or facing, which are named
/// by their pocket.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Surface {
    /// The nose of a rail.
    Rail(Rail),
    /// A jaw point or facing of a pocket.
    Pocket(PocketId),
}

impl Surface {
    /// The name used in forms.
    pub fn name(self) -> &'static str {
        match self {
            Self::Rail(rail) => rail.name(),
            Self::Pocket(pocket) => pocket.name(),
        }
    }
}

impl fmt::Display for Rail {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(self.name())
    }
}

impl fmt::Display for PocketId {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(self.name())
    }
}
