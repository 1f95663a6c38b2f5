//! The words, what they mean, and the shots that show them.
//!
//! Places, speeds and tips are tuning choices: each shows its word plainly on the default
//! table, which `tests/it/words.rs` holds it to.

use super::scene::{Aim, Scene};
use super::tell::Tell;

pub struct Entry {
    pub id: &'static str,
    pub term: &'static str,
    pub meaning: &'static str,
    pub scenes: &'static [Scene],
    pub tell: Tell,
}

/// A pot into the foot-left pocket, whose tangent line leads over the open table; a cut aims
/// a little wide of it, by what it is thrown.
const fn pot(cut: f64, away: f64) -> Scene {
    let line = if cut < 10.0 { 27.8 } else { 29.3 };
    let aim = Aim::Cut { ball: 3, at: (1.65, 0.8), line, cut, away };
    Scene { aim, speed: 2.0, tip: (0.0, 0.0), raise: 0.0, around: &[] }
}

/// A cue ball alone on the table.
const fn alone(from: (f64, f64), azimuth: f64, speed: f64) -> Scene {
    Scene { aim: Aim::Free { from, azimuth }, speed, tip: (0.0, 0.0), raise: 0.0, around: &[] }
}

/// The tip that brings a ball of 2 m/s over 35 cm without any spin left: as much backspin
/// as the cloth takes on the way.
const STUN: f64 = -0.19;

const STUNNED: Scene = pot(45.0, 0.35).tip(0.0, STUN);

/// A pot into the left side pocket, from which the cue ball comes along the line of the ball
/// near the head-right pocket.
const ALONG: Scene = Scene {
    aim: Aim::Cut { ball: 7, at: (1.413, 1.065), line: 125.0, cut: -45.0, away: 0.2 },
    speed: 1.3,
    tip: (0.0, -0.27),
    raise: 0.0,
    around: &[(8, 0.286, 0.201)],
};

/// Two balls that touch, where the stunned ball goes, and one before the foot-right pocket.
const CLUSTER: Scene =
    STUNNED.at(3.0).tip(0.0, -0.08).among(&[(4, 1.83, 0.4), (5, 1.85, 0.3464), (6, 2.44, 0.1)]);

/// The 3 before the foot-left pocket, sent along `line` from one and the same direction.
const fn cheated(line: f64) -> Scene {
    let aim = Aim::Cut { ball: 3, at: (2.22, 1.0), line, cut: line - 5.0, away: 0.4 };
    Scene { aim, speed: 1.6, tip: (0.0, -0.25), raise: 0.0, around: &[] }
}

/// A cue ball to the right rail with so much side, the cue turned by as much as it squirts.
const fn sided(right: f64) -> Scene {
    alone((0.9, 1.0), -50.0 - 3.75 * right, 1.5).tip(right, 0.0)
}

pub const ENTRIES: &[Entry] = &[
    Entry {
        id: "ghost-ball",
        term: "Ghost ball",
        meaning: "Where the cue ball is as it hits: touching the object ball. Its centre is what you aim at.",
        scenes: &[pot(30.0, 0.6)],
        tell: Tell::Ghost,
    },
    Entry {
        id: "cut-angle",
        term: "Cut angle",
        meaning: "The angle between the cue ball's way to the ghost ball and the line through both balls at the hit. 0° is full.",
        scenes: &[pot(40.0, 0.6)],
        tell: Tell::Cut,
    },
    Entry {
        id: "full-half-thin",
        term: "Full, half, thin",
        meaning: "How much of the object ball the cue ball covers at the hit, seen along its way: all, half (a cut of 30°), or a sliver.",
        scenes: &[pot(30.0, 0.6), pot(2.0, 0.6), pot(60.0, 0.6).at(2.4)],
        tell: Tell::Cover,
    },
    Entry {
        id: "tangent-line",
        term: "Tangent line",
        meaning: "The line through the ghost ball, square to the line of both balls. The cue ball starts off along it; follow and draw bend it away.",
        scenes: &[STUNNED, STUNNED.tip(0.0, 0.4), STUNNED.tip(0.0, -0.45)],
        tell: Tell::Tangent,
    },
    Entry {
        id: "stun",
        term: "Stun",
        meaning: "No follow and no draw left at the hit: the cue ball stays on the tangent line. Full, it stops nearly dead.",
        scenes: &[STUNNED],
        tell: Tell::Tangent,
    },
    Entry {
        id: "follow",
        term: "Follow",
        meaning: "Topspin at the hit, from a high tip: the cue ball bends forward from the tangent line.",
        scenes: &[STUNNED.tip(0.0, 0.4), STUNNED],
        tell: Tell::Bend("forward"),
    },
    Entry {
        id: "draw",
        term: "Draw",
        meaning: "Backspin at the hit, from a low tip: the cue ball bends back from the tangent line.",
        scenes: &[STUNNED.tip(0.0, -0.45), STUNNED],
        tell: Tell::Bend("back"),
    },
    Entry {
        id: "natural-roll",
        term: "Natural roll",
        meaning: "Rolling without sliding, as every ball ends up by the cloth's friction. It is mild follow, the same at any speed.",
        scenes: &[pot(30.0, 1.0).at(1.6)],
        tell: Tell::Roll,
    },
    Entry {
        id: "side",
        term: "Side",
        meaning: "Spin to the left or right, from a tip beside the centre. Its main effect comes at the cushion.",
        scenes: &[sided(-0.4), sided(0.0), sided(0.4)],
        tell: Tell::Rebound,
    },
    Entry {
        id: "running-side",
        term: "Running side",
        meaning: "Side that helps the ball along the cushion: it comes off wider and keeps more speed.",
        scenes: &[sided(-0.4), sided(0.0)],
        tell: Tell::Rebound,
    },
    Entry {
        id: "reverse-side",
        term: "Reverse side, check",
        meaning: "Side against the ball's way along the cushion: it comes off steeper and slower.",
        scenes: &[sided(0.4), sided(0.0)],
        tell: Tell::Rebound,
    },
    Entry {
        id: "throw",
        term: "Throw",
        meaning: "Friction at the hit drags the object ball off the line of both balls, the way the cue ball rubs it: most when slow and stunned.",
        scenes: &[pot(35.0, 0.3).at(1.0).tip(0.0, -0.42)],
        tell: Tell::Throw,
    },
    Entry {
        id: "squirt",
        term: "Squirt",
        meaning: "With side the cue ball leaves a little off the cue's line, away from the side of the tip.",
        scenes: &[alone((0.5, 0.6), 0.0, 3.0).tip(0.45, 0.0)],
        tell: Tell::Squirt,
    },
    Entry {
        id: "swerve",
        term: "Swerve",
        meaning: "With side and a raised cue the ball curves on the cloth, toward the side of the tip.",
        scenes: &[Scene { raise: 15.0, ..alone((0.4, 0.6), 0.0, 1.5).tip(0.35, 0.0) }],
        tell: Tell::Swerve,
    },
    Entry {
        id: "cushion",
        term: "Cushion",
        meaning: "The rubber along the rails. It takes speed, and the ball leaves at the mirror's angle only by chance: speed, roll and side turn it.",
        scenes: &[alone((0.7, 1.0), -45.0, 1.6)],
        tell: Tell::Mirror,
    },
    Entry {
        id: "diamond",
        term: "Diamond",
        meaning: "A sight on the rail: eighths of the table's length, quarters of its width. Here counted from the head rail and from the right.",
        scenes: &[alone((0.32, 0.9), -45.0, 1.0)],
        tell: Tell::Diamonds,
    },
    Entry {
        id: "length",
        term: "Length",
        meaning: "A measure of speed: how many lengths of the empty table a ball struck so would roll, cushion losses included.",
        scenes: &[alone((0.029, 0.635), 0.0, 1.56)],
        tell: Tell::Lengths,
    },
    Entry {
        id: "leave",
        term: "Leave",
        meaning: "Where the cue ball stops after a shot, and so what the next shot is.",
        scenes: &[ALONG],
        tell: Tell::Leave,
    },
    Entry {
        id: "zone",
        term: "Zone",
        meaning: "The part of the table in which you want the cue ball to stop for the next ball.",
        scenes: &[ALONG],
        tell: Tell::Zone,
    },
    Entry {
        id: "margin",
        term: "Margin",
        meaning: "How far speed, aim or tip may be off with the shot still good.",
        scenes: &[ALONG, ALONG.at(1.24), ALONG.at(1.36)],
        tell: Tell::Margin,
    },
    Entry {
        id: "along-the-line",
        term: "Along the line",
        meaning: "Coming to a stop along the line of the next shot: long or short, the angle stays good.",
        scenes: &[ALONG],
        tell: Tell::Line,
    },
    Entry {
        id: "across-the-line",
        term: "Across the line",
        meaning: "Crossing the line of the next shot: the good angle is passed in a moment, so the speed must be exact.",
        scenes: &[ALONG.at(2.2).tip(0.0, -0.45)],
        tell: Tell::Line,
    },
    Entry {
        id: "key-ball",
        term: "Key ball",
        meaning: "The last ball but one, kept because the cue ball comes from it to the last one easily.",
        scenes: &[ALONG],
        tell: Tell::Names(&[(1, "key ball"), (2, "last")]),
    },
    Entry {
        id: "insurance-ball",
        term: "Insurance ball",
        meaning: "A ball that goes from nearly anywhere, kept for when a break-out leaves nothing else.",
        scenes: &[CLUSTER],
        tell: Tell::Names(&[(4, "insurance")]),
    },
    Entry {
        id: "break-out",
        term: "Break-out",
        meaning: "Potting one ball so that the cue ball goes on and parts others that touch or block each other.",
        scenes: &[CLUSTER],
        tell: Tell::BreakOut,
    },
    Entry {
        id: "scratch",
        term: "Scratch",
        meaning: "The cue ball falls into a pocket: a foul.",
        scenes: &[ALONG.at(2.0).tip(0.0, -0.14).among(&[])],
        tell: Tell::Scratch,
    },
    Entry {
        id: "cheating-the-pocket",
        term: "Cheating the pocket",
        meaning: "Sending the ball into one side of the pocket, for another cut angle and another way of the cue ball.",
        scenes: &[cheated(44.5), cheated(38.5)],
        tell: Tell::Cheat,
    },
    Entry {
        id: "run-out",
        term: "Run-out",
        meaning: "Clearing all that is left in one visit, shot after shot.",
        scenes: &[ALONG],
        tell: Tell::RunOut,
    },
];
