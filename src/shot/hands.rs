//! The hands to choose from.

use super::hand::{Hand, SpeedError};
use std::f64::consts::PI;

/// A hand that can be chosen.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct NamedHand {
    /// What it is called in forms.
    pub id: &'static str,
    /// What it is called.
    pub name: &'static str,
    /// What it does, in a sentence.
    pub words: &'static str,
    /// The hand.
    pub hand: Hand,
}

/// Errors of the elevation, as a share of those of the direction.
const ELEVATION: f64 = 0.8;
/// Relative errors of the speed for each degree of those of the direction.
const SPEED: f64 = 0.3;
/// Errors of the tip, as a fraction of the radius, for each degree of those of the
/// direction.
const OFFSET: f64 = 0.14;

const fn radians(degrees: f64) -> f64 {
    degrees * PI / 180.0
}

/// The hand whose direction errs by so many degrees.
///
/// The other errors stand to it as those of the academic tournaments do, a speed of 2
/// m/s taken for theirs (tuning choice: no other set of all five errors is known to us).
const fn steady_to(degrees: f64) -> Hand {
    Hand {
        azimuth: radians(degrees),
        elevation: radians(ELEVATION * degrees),
        speed: SpeedError::Relative(SPEED * degrees),
        tip: OFFSET * degrees,
    }
}

/// The hands to choose from, the steadiest first: four by the share that they make of
/// a straight shot of one metre and one metre, and the noise of the academic
/// tournaments.
///
/// The shot: nine-foot table, object ball one metre from the middle of a corner's mouth
/// on a line 30 degrees off the long rail, cue ball one metre farther back on it, a stroke
/// at centre of 1.5 m/s, which carries the object ball about a metre past the pocket. The
/// errors of direction are solved for on the model (`scripts/validate hands`).
///
/// # Source
/// Academic tournaments: Smith 2007 (Artificial Intelligence 171, 1069) and Archibald et
/// al. 2010 (AI Magazine 31(4)): direction 0.125 degrees, elevation 0.1 degrees, speed
/// 0.075 m/s, offsets 0.5 mm. From memory, an assumption; the radius is taken as 28.575 mm.
pub const HANDS: [NamedHand; 5] = [
    NamedHand {
        id: "makes-95",
        name: "Makes 95 of 100",
        words: "Makes 95 of 100 straight shots of one metre and one metre.",
        hand: steady_to(0.0588),
    },
    NamedHand {
        id: "makes-85",
        name: "Makes 85 of 100",
        words: "Makes 85 of 100 straight shots of one metre and one metre.",
        hand: steady_to(0.0801),
    },
    NamedHand {
        id: "makes-60",
        name: "Makes 60 of 100",
        words: "Makes 60 of 100 straight shots of one metre and one metre.",
        hand: steady_to(0.1370),
    },
    NamedHand {
        id: "makes-35",
        name: "Makes 35 of 100",
        words: "Makes 35 of 100 straight shots of one metre and one metre.",
        hand: steady_to(0.2549),
    },
    NamedHand {
        id: "tournament-noise",
        name: "Errors as in studies",
        words: "Errs as studies of computed play had it (assumed, from memory).",
        hand: Hand {
            azimuth: radians(0.125),
            elevation: radians(0.1),
            speed: SpeedError::Absolute(0.075),
            tip: 0.5 / 28.575,
        },
    },
];

/// The hand that forms call `id`.
pub fn hand_named(id: &str) -> Option<&'static NamedHand> {
    HANDS.iter().find(|named| named.id == id)
}
