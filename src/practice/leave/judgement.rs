//! What came of an answer to a Leave item.

use super::score::{Stops, ZoneRule};
use super::worth::Worth;
use crate::physics::{Outcome, Shot};
use crate::practice::{CuePath, Grade};
use crate::shot::Ending;
use glam::DVec2;

/// What came of an answer.
#[derive(Clone, Debug, PartialEq)]
pub struct LeaveJudgement {
    /// The shot as it was played, errors included.
    pub shot: Shot,
    /// All of it.
    pub outcome: Outcome,
    /// The same in short.
    pub ending: Ending,
    /// The cue ball's path, if it met a ball.
    pub path: Option<PathJudgement>,
    /// The grade of the zone.
    pub zone: ZoneGrade,
    /// What it is worth, if a next ball is asked for.
    pub worth: Option<Worth>,
    /// What can be learned, in a sentence.
    pub sentence: String,
}

/// The cue ball's path, and the call of it.
#[derive(Clone, Debug, PartialEq)]
pub struct PathJudgement {
    /// From the first ball on.
    pub truth: CuePath,
    /// Where the tangent line meets the edge of the cloth, m.
    pub tangent_end: DVec2,
    /// The grade of the call, if the path was called.
    pub grade: Option<Grade>,
}

/// How good a zone is.
#[derive(Clone, Debug, PartialEq)]
pub struct ZoneGrade {
    /// 0 to 100; how it is made is told where [`ZoneRule`] is.
    pub mark: f64,
    /// Share of the hand's strokes that stop in the zone.
    pub share: f64,
    /// Share of the hand's strokes that pot the ball on and meet the rails asked for.
    pub gives: f64,
    /// Where the hand's strokes stop.
    pub stops: Stops,
    /// The rule; `None` if there are too few stops for one, which earns nothing.
    pub rule: Option<ZoneRule>,
}
