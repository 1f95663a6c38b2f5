//! One sentence about a call: what cost most, and what can be learned from it.

use super::View;
use super::bend::{self, Bend};
use super::errors::{TouchError, TouchFault, rebound_angle, way};
use super::legs::{Route, length_of};
use super::lines::along_word;
use super::mark::{Mark, Subject, Tolerances};
use super::matching::Anchor;
use crate::table::{PocketId, Rail, Surface};
use crate::units::degrees;

/// From this mark on there is nothing to correct, if the rails are right.
const PRAISE: f64 = 88.0;

/// What is off by more balls than this is not called close, even on a path so
/// long that the mark forgives it.
const CLOSE: f64 = 2.5;

/// A drawn angle that is off by less than this share of its tolerance explains
/// nothing.
const SLIGHT: f64 = 0.5;

/// A direction that is off by more tolerances than this was wrong before any
/// speed was.
const ASTRAY: f64 = 5.0;

/// A touch that is nearer to the real one shifts nothing, diamonds.
const SHIFT: f64 = 0.05;

/// What the sentence is about.
#[derive(Clone, Debug, PartialEq)]
pub(super) enum Lesson {
    /// All of it was close: the largest error of a node, balls.
    Close(f64),
    /// It fell into a pocket.
    Scratch(PocketId),
    /// A touch was not called; the length of path that followed it, m.
    LeftOut { rail: Rail, left: f64 },
    /// One rail was called and another met.
    Instead { met: Rail, called: Rail },
    /// It stopped before a called rail, by so many metres.
    StoppedBefore { rail: Rail, gap: f64 },
    /// It went on without touching a called rail.
    PassedBy { rail: Rail, next: Option<Rail> },
    /// A jaw turned it.
    Jaw(PocketId),
    /// It left the object ball otherwise than called.
    Heading(Bend),
    /// It left a rail otherwise than called: from the normal, rad, signed the
    /// way of travel: as it came, as it left, as it was called.
    Rebound { rail: Rail, came: f64, left: f64, called: f64 },
    /// A touch was misplaced and took the rest with it.
    Shifted { rail: Rail, along: f64, travels: bool },
    /// The line was right, the length was not, balls; and both lengths, m.
    Speed { balls: f64, real: f64, called: f64 },
    /// The length was right, the place was not, balls.
    Aside(f64),
}

/// Says what cost most.
pub(super) fn sentence(
    view: &View,
    anchors: &[Anchor],
    mark: &Mark,
    tolerances: &Tolerances,
) -> String {
    words(view, &lesson(view, anchors, mark, tolerances))
}

/// Chooses what to say. A direction is blamed together with the touch that it
/// leads to; wrong rails come first unless they cost less than half of what
/// something else did.
fn lesson(view: &View, anchors: &[Anchor], mark: &Mark, tolerances: &Tolerances) -> Lesson {
    let stop = view.errors.stop;
    if let Some(pocket) = view.truth.pocketed.filter(|_| stop.balls > 2.0) {
        return Lesson::Scratch(pocket);
    }
    let wrong_rail = worst_rail(view, mark);
    let largest = largest_error(view, anchors);
    if mark.value >= PRAISE && wrong_rail.is_none() && largest <= CLOSE {
        return Lesson::Close(largest);
    }

    // The direction of leg k is the heading (0) or the rebound off touch k.
    let cost = |leg: usize| {
        let own = if leg == 0 { Subject::Heading } else { Subject::Rebound(leg) };
        mark.loss(own) + mark.loss(Subject::Rail(leg + 1))
    };
    let matched = anchors.iter().map(|anchor| anchor.0).filter(|&node| node < view.real.last());
    let worst_leg =
        matched.fold(
            (0, cost(0)),
            |worst, leg| {
                if cost(leg) > worst.1 { (leg, cost(leg)) } else { worst }
            },
        );
    let stop_cost = mark.loss(Subject::Stop);
    if let Some((error, loss)) = wrong_rail
        && 2.0 * loss >= worst_leg.1.max(stop_cost)
    {
        return rail_lesson(view, anchors, error);
    }
    if stop_cost <= worst_leg.1 {
        return direction(view, worst_leg.0, tolerances);
    }
    let last_leg = view.real.last() - 1;
    if let Some(pocket) = jaw_on(view, last_leg) {
        return Lesson::Jaw(pocket);
    }
    let worst = worst_drawn(view, tolerances);
    let astray = worst.is_some_and(|(_, share)| share > ASTRAY);
    if stop.is_along() && !astray {
        let (real, called) = (view.real.curve_length(), view.called.curve_length());
        return Lesson::Speed { balls: stop.along, real, called };
    }
    // A stop off to a side comes of some direction: the one that was worst drawn.
    match worst {
        Some((leg, _)) => direction(view, leg, tolerances),
        None => shifted(view),
    }
}

/// The wrong rail that cost most, and how much.
fn worst_rail<'a>(view: &'a View, mark: &Mark) -> Option<(&'a TouchError, f64)> {
    let cost = |error: &TouchError| match (error.fault, error.real, error.called) {
        (TouchFault::LeftOut { .. }, Some(real), _) => {
            Some(mark.loss(Subject::Rail(real)) + mark.loss(Subject::Rebound(real)))
        }
        (TouchFault::NotTouched { .. }, _, Some(called)) => Some(mark.loss_of_extra(called)),
        _ => None,
    };
    let wrong = view.errors.touches.iter().filter_map(|error| cost(error).map(|c| (error, c)));
    wrong.fold(None, |worst: Option<(&TouchError, f64)>, next| match worst {
        Some(worst) if worst.1 >= next.1 => Some(worst),
        _ => Some(next),
    })
}

fn rail_lesson(view: &View, anchors: &[Anchor], error: &TouchError) -> Lesson {
    let block = anchors.windows(2).find(|pair| {
        let within = |node: usize, from: usize, to: usize| from < node && node < to;
        error.real.is_some_and(|node| within(node, pair[0].0, pair[1].0))
            || error.called.is_some_and(|node| within(node, pair[0].1, pair[1].1))
    });
    let ((r, c), (next_r, next_c)) = block.map_or(((0, 0), (1, 1)), |pair| (pair[0], pair[1]));
    let left_out = (r + 1..next_r).find_map(|node| view.real.rail(node));
    let not_touched = (c + 1..next_c).find_map(|node| view.called.rail(node));
    match (left_out, not_touched, error.real) {
        (Some(met), Some(called), _) if met != called => Lesson::Instead { met, called },
        (_, _, Some(node)) => {
            let after = view.real.piece(node, view.real.last());
            Lesson::LeftOut { rail: error.rail, left: length_of(after) }
        }
        _ if next_r == view.real.last() && view.truth.pocketed.is_none() => {
            Lesson::StoppedBefore { rail: error.rail, gap: gap(view, error.rail) }
        }
        _ => Lesson::PassedBy { rail: error.rail, next: view.real.rail(next_r) },
    }
}

/// From the stopped ball to where it would touch `rail`, m.
fn gap(view: &View, rail: Rail) -> f64 {
    let stop = view.truth.stop;
    let from_nose = match rail {
        Rail::Head => stop.x,
        Rail::Foot => view.card.length - stop.x,
        Rail::Right => stop.y,
        Rail::Left => view.card.width - stop.y,
    };
    from_nose - view.card.touch_distance()
}

/// What to say about the direction of a real leg.
fn direction(view: &View, leg: usize, tolerances: &Tolerances) -> Lesson {
    if let Some(pocket) = jaw_on(view, leg) {
        return Lesson::Jaw(pocket);
    }
    if drawn_error(view, leg, tolerances).is_some_and(|share| share < SLIGHT) {
        // The leg was drawn in the right direction, from the wrong place.
        return shifted(view);
    }
    match called_node(view, leg).zip(view.real.rail(leg)) {
        Some((called, rail)) => {
            let (came, left) = (view.real.chord(leg - 1), view.real.chord(leg));
            let drawn = view.called.chord(called);
            let way = way(rail, [came, left, drawn]);
            // The ball arrives against the normal: turned round, it can be compared.
            let mirrored = came - rail.inward() * (2.0 * came.dot(rail.inward()));
            Lesson::Rebound {
                rail,
                came: rebound_angle(rail, mirrored, way),
                left: rebound_angle(rail, left, way),
                called: rebound_angle(rail, drawn, way),
            }
        }
        None => Lesson::Heading(bend::bend(view)),
    }
}

/// The called node that answers to a real touch.
fn called_node(view: &View, real: usize) -> Option<usize> {
    view.errors.touches.iter().find(|error| error.real == Some(real))?.called
}

/// The directions are right, so a place must be wrong: the touch that is
/// farthest off along its rail.
fn shifted(view: &View) -> Lesson {
    let touches = view.errors.touches.iter().filter_map(|error| match error.fault {
        TouchFault::Met { along, travels, .. } => Some((error.rail, along, travels)),
        _ => None,
    });
    let worst = touches.fold(None, |worst: Option<(Rail, f64, bool)>, next| match worst {
        Some(worst) if worst.1.abs() >= next.1.abs() => Some(worst),
        _ => Some(next),
    });
    match worst {
        Some((rail, along, travels)) if along.abs() >= SHIFT => {
            Lesson::Shifted { rail, along, travels }
        }
        _ => Lesson::Aside(view.errors.stop.balls),
    }
}

/// Error of the drawn direction of a real leg, as a share of its tolerance.
fn drawn_error(view: &View, leg: usize, tolerances: &Tolerances) -> Option<f64> {
    if leg == 0 {
        return view.errors.heading.map(|error| error.angle / tolerances.heading);
    }
    let error = view.errors.touches.iter().find(|error| error.real == Some(leg))?;
    match error.fault {
        TouchFault::Met { rebound, .. } => rebound.map(|angle| angle.abs() / tolerances.rebound),
        _ => None,
    }
}

/// The leg whose drawn direction is farthest off against its tolerance, if any
/// is off enough to tell, and by how many tolerances.
fn worst_drawn(view: &View, tolerances: &Tolerances) -> Option<(usize, f64)> {
    (0..view.real.last())
        .filter_map(|leg| Some((leg, drawn_error(view, leg, tolerances)?)))
        .filter(|&(_, share)| share >= SLIGHT)
        .fold(None, |worst: Option<(usize, f64)>, next| match worst {
            Some(worst) if worst.1 >= next.1 => Some(worst),
            _ => Some(next),
        })
}

/// The pocket whose jaw the ball met on a real leg.
fn jaw_on(view: &View, leg: usize) -> Option<PocketId> {
    let mut rails = 0;
    view.truth.touches.iter().find_map(|touch| match touch.surface {
        Surface::Rail(_) => {
            rails += 1;
            None
        }
        Surface::Pocket(pocket) => (rails == leg).then_some(pocket),
    })
}

/// The largest distance between nodes that answer to each other, balls.
fn largest_error(view: &View, anchors: &[Anchor]) -> f64 {
    let node = |route: &Route, k: usize| route.node(k);
    let errors = anchors.iter().map(|&(r, c)| node(view.real, r).distance(node(view.called, c)));
    errors.fold(0.0, f64::max) / (2.0 * view.card.ball.radius)
}

fn words(view: &View, lesson: &Lesson) -> String {
    let first = view.truth.first;
    match *lesson {
        Lesson::Close(balls) if balls < 0.05 && view.real.touches.is_empty() => {
            "It stopped where you called it.".into()
        }
        Lesson::Close(balls) if balls < 0.05 => {
            "Every touch and the stop are where you called them.".into()
        }
        Lesson::Close(balls) if balls < 0.95 => format!("All of it within {balls:.1} of a ball."),
        Lesson::Close(balls) => format!("All of it within {balls:.1} balls."),
        Lesson::Scratch(pocket) => {
            let ran = lengths(view, view.real.curve_length());
            format!("It scratched: {ran} off the {first} lead into the {pocket} pocket.")
        }
        Lesson::LeftOut { rail, left } => {
            format!(
                "You left out the {rail} rail: from there the ball ran on for {}.",
                lengths(view, left)
            )
        }
        Lesson::Instead { met, called } => {
            format!("It met the {met} rail where you called the {called} rail.")
        }
        Lesson::StoppedBefore { rail, gap } if gap < 0.30 => {
            format!("It stopped {} short of the {rail} rail.", centimetres(gap))
        }
        Lesson::StoppedBefore { rail, .. } => {
            let ran = lengths(view, view.real.curve_length());
            format!("It never reached the {rail} rail: {ran} off the {first} was all it had.")
        }
        Lesson::PassedBy { rail, next: Some(next) } => {
            format!("It ran on to the {next} rail without touching the {rail} rail.")
        }
        Lesson::PassedBy { rail, next: None } => format!("It did not touch the {rail} rail."),
        Lesson::Jaw(pocket) => {
            format!("It caught a jaw of the {pocket} pocket, which turned it off your line.")
        }
        Lesson::Heading(bend) => bend::words(&bend, view.truth.height),
        Lesson::Rebound { rail, came, left, called } => {
            let (came, left, called) = (leaning(came), leaning(left), leaning(called));
            format!(
                "It met the {rail} rail at {came} from square and left at {left}; you called {called}."
            )
        }
        Lesson::Shifted { rail, along, travels } => {
            let word = along_word(rail, along, travels);
            let off = along.abs();
            format!(
                "Your line meets the {rail} rail {off:.2} diamonds {word}, and that shifts what follows."
            )
        }
        Lesson::Speed { balls, real, called } => speed_words(view, balls, real, called),
        Lesson::Aside(balls) => format!("It stopped {balls:.1} balls to the side of your mark."),
    }
}

fn speed_words(view: &View, balls: f64, real: f64, called: f64) -> String {
    let much = if balls > 0.0 { "much" } else { "little" };
    let far = if balls > 0.0 { "far" } else { "short" };
    // Both in the unit of the longer one.
    let length = view.card.travel_length();
    let (ran, drew) = if real.max(called) < 0.5 * length {
        (centimetres(real), centimetres(called))
    } else {
        (in_lengths(real / length), in_lengths(called / length))
    };
    if ran == drew || (called > real) != (balls > 0.0) {
        return format!("The line was right; the stop lies {:.1} balls too {far}.", balls.abs());
    }
    format!("Too {much} speed: off the {} it runs {ran}, and you drew {drew}.", view.truth.first)
}

/// An angle from the normal; back when the ball returns against its travel. Half
/// a turn, into the rail, is to no side.
fn leaning(angle: f64) -> String {
    let whole = degrees(angle).round();
    let back = if whole < 0.0 && whole > -180.0 { " back" } else { "" };
    format!("{:.0}°{back}", whole.abs())
}

/// A distance in table lengths, or in centimetres when it is less than half of one.
fn lengths(view: &View, distance: f64) -> String {
    let share = distance / view.card.travel_length();
    if share < 0.5 { centimetres(distance) } else { in_lengths(share) }
}

fn in_lengths(share: f64) -> String {
    format!("{share:.1} lengths")
}

fn centimetres(distance: f64) -> String {
    format!("{:.0} cm", (100.0 * distance).round().max(1.0))
}
