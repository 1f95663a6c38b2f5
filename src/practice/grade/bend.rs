//! How the cue ball came off the object ball, seen from the tangent line.

use super::View;
use crate::geometry::{angle_between, wrap_angle};
use crate::units::{degrees, radians};
use glam::DVec2;

/// A hit fuller than this cut angle has no tangent line to speak of, rad.
const NEARLY_FULL: f64 = 0.05;

/// A smaller bend is none: the ball held the tangent line, rad.
const STRAIGHT: f64 = 0.05;

/// Follow and draw bend a path by a right angle at most; what has turned farther
/// did so for another reason, rad.
const WIDEST: f64 = 1.6;

/// What there is to say about a heading. Angles are in rad.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) enum Bend {
    /// A full hit: it ran on along the line of the shot, or came back along it.
    Full { back: bool, error: f64 },
    /// It kept to the tangent line; the call lies forward of it or back from it.
    Stun { error: f64, forward: bool },
    /// It left the tangent line by `angle` while it slid for `within` metres, and
    /// the call allows too little or too much for that.
    Bent { angle: f64, within: f64, forward: bool, too_little: bool },
    /// It was still sliding at its first rail, and so had not bent in full.
    Sliding { angle: f64, forward: bool, too_little: bool },
    /// None of these: headings off the line of the shot, as run and as called.
    Plain { ran: f64, called: f64 },
}

/// Looks at how the ball left the object ball.
pub(super) fn bend(view: &View) -> Bend {
    let truth = view.truth;
    let (real, called) = (view.real.chord(0), view.called.chord(0));
    let off_line = |chord: DVec2| angle_between(truth.approach, chord).abs();
    let error = view.errors.heading.map_or(0.0, |error| error.angle);
    let plain = Bend::Plain { ran: off_line(real), called: off_line(called) };

    let forward = truth.line_of_centres;
    let across = truth.approach - forward * truth.approach.dot(forward);
    let cut = angle_between(forward, truth.approach).abs();
    let Some(tangent) = across.try_normalize().filter(|_| cut >= NEARLY_FULL) else {
        let straight = off_line(real);
        return match (straight < 0.2, straight > std::f64::consts::PI - 0.2) {
            (true, _) => Bend::Full { back: false, error },
            (_, true) => Bend::Full { back: true, error },
            _ => plain,
        };
    };
    // From the tangent line, positive forward, whichever side the ball leaves to.
    let lean = |chord: DVec2| libm::atan2(chord.dot(forward), chord.dot(tangent));

    let slid = slide(view);
    let angle = match slid {
        Some((place, _)) if place != view.real.node(1) => lean(view.real.node(1) - place),
        _ => lean(real),
    };
    let off = wrap_angle(lean(called) - lean(real));
    if angle.abs() < STRAIGHT {
        return Bend::Stun { error: lean(called).abs(), forward: lean(called) > 0.0 };
    }
    if angle.abs() > WIDEST {
        return plain;
    }
    let ahead = angle > 0.0;
    let too_little = (off < 0.0) == ahead;
    match slid {
        Some((_, within)) => Bend::Bent { angle: angle.abs(), within, forward: ahead, too_little },
        None if view.real.touches.is_empty() => plain,
        None => Bend::Sliding { angle: angle.abs(), forward: ahead, too_little },
    }
}

/// Where sliding ended, if it did on the first leg, and the way to there, m.
fn slide(view: &View) -> Option<(DVec2, f64)> {
    let place = view.truth.slide_end?;
    let leg = view.real.piece(0, 1);
    // The place is a sample of the path; of the first leg only if it ended there.
    let at = leg.iter().position(|sample| sample.distance(place) < 1e-6)?;
    Some((place, super::legs::length_of(&leg[..=at])))
}

/// A tip that meets the ball lower than this drew it, in radii of the ball.
const LOW: f64 = -0.05;

/// The sentence about a ball that the tip met at this height, in its radii. What was drawn
/// and did not come back has lost its draw on the way, which no player sees in the tip.
pub(super) fn words(bend: &Bend, height: f64) -> String {
    let lost = match *bend {
        Bend::Stun { .. } => true,
        Bend::Bent { forward, .. } | Bend::Sliding { forward, .. } => forward,
        _ => false,
    };
    let said = said(bend);
    if !lost || height >= LOW {
        return said;
    }
    let mut letters = said.chars();
    let first = letters.next().map(|letter| letter.to_ascii_lowercase());
    let rest: String = first.into_iter().chain(letters).collect();
    format!("The draw had worn off by the contact: {rest}")
}

fn said(bend: &Bend) -> String {
    let way = |forward: bool| if forward { "forward of" } else { "back from" };
    let spin = |forward: bool| if forward { "follow" } else { "draw" };
    let amount = |too_little: bool| if too_little { "little" } else { "much" };
    match *bend {
        Bend::Full { back, error } => {
            let went = if back { "came back" } else { "ran on" };
            let off = whole(error);
            format!("Hit full, it {went} along the line of the shot; you called it {off} off that.")
        }
        Bend::Stun { error, .. } if error > WIDEST => {
            "Stun: it kept to the tangent line; you called the other side of the shot.".into()
        }
        Bend::Stun { error, forward } if error >= radians(0.5) => {
            let (off, way) = (whole(error), way(forward));
            format!("Stun: it kept to the tangent line, and you called it {off} {way} that.")
        }
        Bend::Stun { .. } => "Stun: it kept to the tangent line.".into(),
        Bend::Bent { angle, within, forward, too_little } => {
            let (angle, centimetres) = (whole(angle), (100.0 * within).round());
            let (spin, way, amount) = (spin(forward), way(forward), amount(too_little));
            format!(
                "The {spin} bent it {angle} {way} the tangent line within {centimetres:.0} cm; you \
                 allowed too {amount}."
            )
        }
        Bend::Sliding { angle, forward, too_little } => {
            let (angle, spin, amount) = (whole(angle), spin(forward), amount(too_little));
            let way = way(forward);
            format!(
                "Still sliding at the first rail: the {spin} had bent it only {angle} {way} the \
                 tangent line, and you allowed too {amount}."
            )
        }
        Bend::Plain { ran, called } => {
            let (ran, called) = (whole(ran), whole(called));
            format!("It left at {ran} to the line of the shot; you called {called}.")
        }
    }
}

fn whole(angle: f64) -> String {
    format!("{:.0}°", degrees(angle))
}
