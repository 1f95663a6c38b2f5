//! Items of Read, Leave and Clear, and the call that answers a Read item.

use crate::ball::BallId;
use crate::error::Error;
use crate::physics::{Shot, Stroke};
use crate::plan::{Game, Link, Rack};
use crate::shot::{Demand, Zone};
use crate::table::Rail;
use glam::DVec2;

/// A Read item: a stroke is given, the path and the stop are asked.
#[derive(Clone, Debug, PartialEq)]
pub struct ReadItem {
    /// Layout, table and stroke.
    pub shot: Shot,
    /// The version of the model that it was made with; its outcome under another
    /// may differ.
    pub model: u32,
    /// Level of difficulty, 1 to 6.
    pub level: u8,
    /// The seed it was dealt from, if it was dealt.
    pub seed: Option<u32>,
}

/// A Leave item: what is to be done on a layout is given, the stroke, its path and the
/// zone are asked. What is set up to be tried has the same shape.
#[derive(Clone, Debug, PartialEq)]
pub struct LeaveItem {
    /// Layout and table, and the stroke to begin with.
    pub shot: Shot,
    /// What is asked; its balls are on the table and differ.
    pub demand: Demand,
    /// The version of the model that it was made with.
    pub model: u32,
    /// Level of difficulty, 1 to 6.
    pub level: u8,
    /// The seed it was dealt from, if it was dealt.
    pub seed: Option<u32>,
}

/// A Clear item: a layout to be cleared. In the middle of a run it holds the balls that are
/// still on the table.
#[derive(Clone, Debug, PartialEq)]
pub struct ClearItem {
    /// Layout and table, and the stroke to begin with.
    pub shot: Shot,
    /// The rule by which it is cleared.
    pub game: Game,
    /// What is asked between two balls.
    pub links: Vec<Link>,
    /// The ball of a group that must be the last before the last ball.
    pub key: Option<BallId>,
    /// The version of the model that it was made with.
    pub model: u32,
    /// Level of difficulty, 1 to 6.
    pub level: u8,
    /// The seed it was dealt from, if it was dealt.
    pub seed: Option<u32>,
}

impl ClearItem {
    /// What is to be cleared.
    ///
    /// # Errors
    /// As [`Rack::new`].
    pub fn rack(&self) -> Result<Rack, Error> {
        Rack::new(&self.shot.card, &self.shot.balls, self.game, self.links.clone(), self.key)
    }
}

/// An item of any kind.
#[derive(Clone, Debug, PartialEq)]
pub enum AnyItem {
    /// Of Read.
    Read(ReadItem),
    /// Of Leave or the Bench.
    Leave(LeaveItem),
    /// Of Clear.
    Clear(ClearItem),
}

impl AnyItem {
    /// Its kind, as forms name it.
    pub fn kind(&self) -> &'static str {
        match self {
            Self::Read(_) => "read",
            Self::Leave(_) => "leave",
            Self::Clear(_) => "clear",
        }
    }

    /// Layout, table and stroke.
    pub fn shot(&self) -> &Shot {
        match self {
            Self::Read(item) => &item.shot,
            Self::Leave(item) => &item.shot,
            Self::Clear(item) => &item.shot,
        }
    }

    /// The version of the model that it was made with.
    pub fn model(&self) -> u32 {
        match self {
            Self::Read(item) => item.model,
            Self::Leave(item) => item.model,
            Self::Clear(item) => item.model,
        }
    }

    /// Level of difficulty, 1 to 6.
    pub fn level(&self) -> u8 {
        match self {
            Self::Read(item) => item.level,
            Self::Leave(item) => item.level,
            Self::Clear(item) => item.level,
        }
    }

    /// The seed it was dealt from, if it was dealt.
    pub fn seed(&self) -> Option<u32> {
        match self {
            Self::Read(item) => item.seed,
            Self::Leave(item) => item.seed,
            Self::Clear(item) => item.seed,
        }
    }
}

/// A point of a called path: on a rail where the cue ball should touch it, or
/// free where the path bends.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct CallPoint {
    /// The ball's centre, m.
    pub position: DVec2,
    /// The rail it touches there, if any.
    pub rail: Option<Rail>,
}

/// The player's answer to a Read item.
#[derive(Clone, Debug, PartialEq)]
pub struct Call {
    /// The path from the object ball on, without its stop.
    pub points: Vec<CallPoint>,
    /// Where the cue ball stops, m.
    pub stop: DVec2,
}

/// The player's answer to a Leave item.
#[derive(Clone, Debug, PartialEq)]
pub struct LeaveAnswer {
    /// Where the cue ball is to stop.
    pub zone: Zone,
    /// How it is to be played.
    pub stroke: Stroke,
    /// The path and the stop, if they were called.
    pub call: Option<Call>,
}
