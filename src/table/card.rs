//! The table card: every physical parameter of one table, its balls and cloth.

use crate::ball::BallSpec;
use crate::units::radians;

/// A named size of table.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum TableSize {
    /// 100 by 50 inches of playing surface.
    NineFoot,
    /// 92 by 46 inches.
    EightFoot,
    /// 78 by 39 inches (common practice, no source).
    SevenFoot,
}

impl TableSize {
    /// All three sizes, largest first.
    pub const ALL: [Self; 3] = [Self::NineFoot, Self::EightFoot, Self::SevenFoot];

    /// The name used in forms.
    pub fn name(self) -> &'static str {
        match self {
            Self::NineFoot => "nine-foot",
            Self::EightFoot => "eight-foot",
            Self::SevenFoot => "seven-foot",
        }
    }

    /// Length and width between the noses, m.
    ///
    /// # Source
    /// WPA Tournament Table and Equipment Specifications (November 2001),
    /// section 5, for nine and eight feet; seven feet by common practice.
    pub fn playing_surface(self) -> (f64, f64) {
        match self {
            Self::NineFoot => (2.54, 1.27),
            Self::EightFoot => (2.3368, 1.1684),
            Self::SevenFoot => (1.9812, 0.9906),
        }
    }
}

/// The cloth, and the gravity that presses a ball on it.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Cloth {
    /// Acceleration of gravity, m/s².
    pub gravity: f64,
    /// Coefficient of friction of a sliding ball.
    pub sliding_friction: f64,
    /// Rolling resistance, as a share of the weight.
    pub rolling_friction: f64,
    /// Decay of spin about the vertical, rad/s².
    pub spin_decay: f64,
}

/// Friction between two balls, falling with the surface speed u (m/s):
/// `floor + range * exp(-decay * u)`.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct FrictionCurve {
    /// Coefficient at high surface speed.
    pub floor: f64,
    /// What is added to it at no surface speed.
    pub range: f64,
    /// How fast it falls, s/m.
    pub decay: f64,
}

/// What happens where two balls meet.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct BallContact {
    /// Coefficient of restitution.
    pub restitution: f64,
    /// Friction by surface speed.
    pub friction: FrictionCurve,
}

/// The cushion's rubber.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Cushion {
    /// Coefficient of restitution: the root of the share of work returned.
    pub restitution: f64,
    /// Coefficient of friction between nose and ball.
    pub friction: f64,
    /// Height of the nose line above the cloth, m.
    pub nose_height: f64,
}

/// One kind of pocket.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct PocketSpec {
    /// Distance between the two jaw points, m.
    pub mouth: f64,
    /// Angle between nose line and facing, rad.
    pub cut_angle: f64,
    /// From the middle of the mouth line to the hole, m.
    pub shelf: f64,
    /// Length of a facing, m.
    pub facing: f64,
    /// Radius of the hole, m.
    pub hole_radius: f64,
}

/// Every physical parameter of one table.
///
/// [`TableCard::of_size`] gives the defaults of this model; any field may then
/// be replaced, and [`TableCard::check`] says whether the whole is physically
/// meaningful.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct TableCard {
    /// The named size whose defaults were taken.
    pub size: TableSize,
    /// From head nose to foot nose, m.
    pub length: f64,
    /// From right nose to left nose, m.
    pub width: f64,
    /// The balls.
    pub ball: BallSpec,
    /// The cloth.
    pub cloth: Cloth,
    /// Ball on ball.
    pub ball_contact: BallContact,
    /// Ball on cushion.
    pub cushion: Cushion,
    /// Ball mass over the effective end mass of the cue; sets the squirt.
    pub squirt_mass_ratio: f64,
    /// The four corner pockets.
    pub corner_pocket: PocketSpec,
    /// The two side pockets.
    pub side_pocket: PocketSpec,
}

impl TableCard {
    /// The default parameters on a table of the given size.
    ///
    /// Links, sets and kept calls hold only what differs from them, so they belong to the
    /// form of links and to the version of the model: changed, they would change the table
    /// of every item that was ever sent.
    ///
    /// # Source
    /// Playing surface, pockets, ball size and nose height: WPA Tournament
    /// Table and Equipment Specifications (November 2001), the middle of each
    /// tolerance. Friction of balls: fitted to three values remembered from
    /// Marlow 1995 (0.11 at 0.1 m/s, 0.06 at 1 m/s, 0.01 at 10 m/s), from
    /// memory. Sliding and rolling friction lie inside the ranges measured by
    /// Mathavan, Jackson and Parkin 2009 (quoted at second hand). The cushion
    /// pair (0.92, 0.25), the decay of spin, the restitution of balls and the
    /// end mass are tuning choices; DEVELOPERS.md says what tuned them.
    pub fn of_size(size: TableSize) -> Self {
        let (length, width) = size.playing_surface();
        let radius = 0.028_575;
        Self {
            size,
            length,
            width,
            ball: BallSpec { radius, mass: 0.1701 },
            cloth: Cloth {
                gravity: 9.806_65,
                sliding_friction: 0.20,
                rolling_friction: 0.010,
                spin_decay: 10.0,
            },
            ball_contact: BallContact {
                restitution: 0.95,
                friction: FrictionCurve { floor: 0.010, range: 0.108, decay: 0.77 },
            },
            cushion: Cushion { restitution: 0.92, friction: 0.25, nose_height: 1.27 * radius },
            squirt_mass_ratio: 30.0,
            corner_pocket: PocketSpec {
                mouth: 0.1159,
                cut_angle: radians(142.0),
                shelf: 0.0413,
                facing: 0.060,
                hole_radius: 0.058,
            },
            side_pocket: PocketSpec {
                mouth: 0.1286,
                cut_angle: radians(104.0),
                shelf: 0.0048,
                facing: 0.045,
                hole_radius: 0.064,
            },
        }
    }

    /// Sine of the angle under which the nose is seen from the ball's centre,
    /// (h - R)/R.
    pub fn nose_sine(&self) -> f64 {
        self.cushion.nose_height / self.ball.radius - 1.0
    }

    /// Horizontal distance of the ball's centre from the nose at contact,
    /// R cos(theta), m.
    pub fn touch_distance(&self) -> f64 {
        let sine = self.nose_sine();
        self.ball.radius * (1.0 - sine * sine).max(0.0).sqrt()
    }

    /// One table length as a ball travels it: from touching one short rail to
    /// touching the other, m.
    pub fn travel_length(&self) -> f64 {
        self.length - 2.0 * self.touch_distance()
    }
}
