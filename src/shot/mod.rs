//! One shot as a player thinks of it: how far a speed goes, how steep the cue must
//! be, where to aim, what is asked, and how exactly a hand plays it.

mod aim;
mod approach;
mod arrival;
mod awkward;
mod best;
mod demand;
mod elevation;
#[cfg(test)]
mod example;
mod hand;
mod hands;
mod input;
mod lengths;
mod map;
mod margin;
mod next;
mod sample;
mod series;
mod situation;
mod spread;
mod trace;
mod zone;

pub use aim::{
    Aim, Leaving, NoPot, Pot, Route, Window, aim_at_pocket, cheats, cut_angle, ghost_ball, leaving,
    pot, pot_stroke, pots_cushion_first,
};
pub use approach::{Approach, Way, approach};
pub use arrival::Arrival;
pub use awkward::{BRIDGE, Delivery, awkwardness};
pub use best::{
    Best, FARTHEST_TIP, MOST_PLAYS, Outlook, Plan, Progress, Prospect, SPEEDS, Search, Share, worth,
};
pub use demand::{Demand, MOST_DEMANDED_RAILS};
pub use elevation::least_elevation;
pub use hand::{Hand, SpeedError, Wobble};
pub use hands::{HANDS, NamedHand, hand_named};
pub use input::Input;
pub use lengths::lengths_of_speed;
pub(crate) use map::{Given, PotWindow, Windows, turn};
pub use map::{Grid, PotMap, Spot, SpotProof, StandardPot};
pub use margin::{Edge, End, Fault, Margin, Margins, Off, Span, margins};
pub use next::{NextShot, distance_from};
pub use sample::{Chance, Tally, played};
pub use series::Series;
pub use situation::{Ending, MOST_RAILS, Situation};
pub use trace::{MOST_TRACE_POINTS, Trace, TracePoint, range_under, trace};
pub use zone::Zone;
