//! What is asked of a shot, and whether a played one gave it.

use super::Zone;
use super::situation::Ending;
use crate::ball::BallId;
use crate::table::{PocketId, Rail};

/// The most rails that a demand can name.
pub const MOST_DEMANDED_RAILS: usize = 6;

/// What is asked of a shot.
#[derive(Clone, Debug, PartialEq)]
pub struct Demand {
    /// The ball on: to be met first, and potted.
    pub on: BallId,
    /// The pocket it must fall into; any if none is named.
    pub pocket: Option<PocketId>,
    /// The ball that is to be potted after it.
    pub next: Option<BallId>,
    /// Rails that the cue ball must meet after the ball on, in this order; others may
    /// come between.
    pub rails: Vec<Rail>,
    /// Where the cue ball must stop.
    pub zone: Option<Zone>,
}

impl Demand {
    /// To pot this ball anywhere, and nothing more.
    pub fn to_pot(on: BallId) -> Self {
        Self { on, pocket: None, next: None, rails: Vec::new(), zone: None }
    }

    /// Whether the ball on was met first and fell where it should, scratch or not.
    pub fn has_fallen(&self, ending: &Ending) -> bool {
        ending.first == Some(self.on)
            && ending.pocket.is_some_and(|pocket| self.pocket.is_none_or(|named| named == pocket))
    }

    /// Whether the ball on was met first and fell where it should, without a scratch.
    pub fn is_potted(&self, ending: &Ending) -> bool {
        self.has_fallen(ending) && !ending.scratch
    }

    /// Whether the cue ball met the rails that are asked for.
    pub fn has_met_rails(&self, ending: &Ending) -> bool {
        let mut met = ending.rails.iter();
        self.rails.iter().all(|wanted| met.any(|rail| rail == wanted))
    }

    /// Whether everything that is asked was given.
    pub fn is_met(&self, ending: &Ending) -> bool {
        self.is_potted(ending)
            && self.has_met_rails(ending)
            && self.zone.is_none_or(|zone| zone.contains(ending.stop))
    }
}
