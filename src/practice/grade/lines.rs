//! The lines of a grade, in the words and units of players.

use super::dimension::{heading_arc, rail_line, rebound_arc, stop_line};
use super::errors::{HeadingSide, TouchError, TouchFault};
use super::{GradeLine, View};
use crate::table::Rail;
use crate::units::degrees;

/// What a line says when the error rounds to nothing.
const NO_ERROR: &str = "spot on";

/// All lines, in the order of the path; a line without anything to measure is left out.
pub(super) fn lines(view: &View) -> Vec<GradeLine> {
    let mut lines = vec![];
    lines.extend(heading(view));
    for error in &view.errors.touches {
        lines.extend(touch(view, error));
    }
    lines.push(stop(view));
    lines.extend(length(view));
    lines.push(curve(view));
    lines
}

/// A number with a unit and a word, or that there is no error.
struct Amount {
    number: String,
    unit: &'static str,
    spoken_unit: &'static str,
    word: String,
}

impl Amount {
    /// `value`, not negative, with so many decimals.
    fn new(
        value: f64,
        decimals: usize,
        units: (&'static str, &'static str),
        word: impl Into<String>,
    ) -> Self {
        let number = format!("{value:.decimals$}");
        Self { number, unit: units.0, spoken_unit: units.1, word: word.into() }
    }

    fn is_nothing(&self) -> bool {
        self.number.chars().all(|digit| matches!(digit, '0' | '.'))
    }

    /// The number with its unit.
    fn short(&self) -> String {
        format!("{}{}", self.number, self.unit)
    }

    fn text(&self) -> String {
        if self.is_nothing() { NO_ERROR.into() } else { format!("{} {}", self.short(), self.word) }
    }

    fn spoken(&self) -> String {
        if self.is_nothing() {
            NO_ERROR.into()
        } else {
            format!("{} {} {}", self.number, self.spoken_unit, self.word)
        }
    }

    fn line(&self, id: impl Into<String>, label: impl Into<String>) -> GradeLine {
        GradeLine {
            id: id.into(),
            label: label.into(),
            text: self.text(),
            spoken: self.spoken(),
            dimension: None,
        }
    }
}

const DEGREES: (&str, &str) = ("°", "degrees");
const DIAMONDS: (&str, &str) = (" ◇", "diamonds");
const BALLS: (&str, &str) = (" balls", "balls");
const PER_CENT: (&str, &str) = (" %", "per cent");

fn heading(view: &View) -> Option<GradeLine> {
    let error = view.errors.heading?;
    let word = match error.side {
        HeadingSide::Wide => "too wide",
        HeadingSide::Narrow => "too narrow",
        HeadingSide::Across => "off, on the wrong side",
    };
    let amount = Amount::new(degrees(error.angle), 1, DEGREES, word);
    let mut line = amount.line("heading", format!("heading off the {}", view.truth.first));
    if !amount.is_nothing() {
        line.dimension = heading_arc(view, amount.short());
    }
    Some(line)
}

/// The rail's name, counted if the path has it more than once.
fn rail_label(view: &View, error: &TouchError) -> String {
    let same = |other: &&TouchError| other.rail == error.rail;
    if view.errors.touches.iter().filter(same).count() < 2 {
        return format!("{} rail", error.rail);
    }
    let before = view.errors.touches.iter().take_while(|other| *other != error);
    let count = before.filter(same).count() + 1;
    let ending = match count {
        1 => "st",
        2 => "nd",
        3 => "rd",
        _ => "th",
    };
    format!("{} rail, {count}{ending}", error.rail)
}

fn touch(view: &View, error: &TouchError) -> Vec<GradeLine> {
    let label = rail_label(view, error);
    let said = |id: String, text: &str| GradeLine {
        id,
        label: label.clone(),
        text: text.into(),
        spoken: text.into(),
        dimension: None,
    };
    match (error.fault, error.real, error.called) {
        (TouchFault::LeftOut { .. }, Some(real), _) => {
            vec![said(format!("missing-{real}"), "left out")]
        }
        (TouchFault::NotTouched { .. }, _, Some(called)) => {
            vec![said(format!("extra-{called}"), "not touched")]
        }
        (TouchFault::Met { along, travels, rebound, .. }, Some(real), Some(called)) => {
            let word = along_word(error.rail, along, travels);
            let amount = Amount::new(along.abs(), 2, DIAMONDS, word);
            let mut line = amount.line(format!("rail-{real}"), label.clone());
            if !amount.is_nothing() {
                let (from, to) = (view.called.node(called), view.real.node(real));
                let drawn = rail_line(view.card, error.rail, from, to, amount.short());
                line.dimension = Some(drawn);
            }
            let mut lines = vec![line];
            lines.extend(rebound.map(|angle| rebound_line(view, (real, called), angle, &label)));
            lines
        }
        _ => vec![],
    }
}

/// Long or short along the path; where the path runs squarely to the rail, the
/// side to which the call is off.
pub(super) fn along_word(rail: Rail, along: f64, travels: bool) -> String {
    let toward = match (travels, along > 0.0, rail.is_long()) {
        (true, true, _) => return "long".into(),
        (true, false, _) => return "short".into(),
        (false, true, true) => Rail::Foot,
        (false, false, true) => Rail::Head,
        (false, true, false) => Rail::Left,
        (false, false, false) => Rail::Right,
    };
    format!("toward the {toward}")
}

fn rebound_line(view: &View, (real, called): (usize, usize), angle: f64, label: &str) -> GradeLine {
    let word = if angle > 0.0 { "too wide" } else { "too narrow" };
    let amount = Amount::new(degrees(angle.abs()), 1, DEGREES, word);
    let mut line = amount.line(format!("rebound-{real}"), format!("off the {label}"));
    if !amount.is_nothing() {
        line.dimension = rebound_arc(view, real, called, amount.short());
    }
    line
}

fn stop(view: &View) -> GradeLine {
    let error = view.errors.stop;
    let word = match (error.is_along(), error.along > 0.0) {
        (true, true) => "long",
        (true, false) => "short",
        (false, _) => "off",
    };
    let amount = Amount::new(error.balls, 1, BALLS, word);
    let mut line = amount.line("stop", "stop");
    if !amount.is_nothing() {
        line.dimension = Some(stop_line(view, amount.short()));
    }
    if let Some(pocket) = view.truth.pocketed {
        line.text = format!("{}, in the {pocket}", line.text);
        line.spoken = format!("{}, the ball fell into the {pocket} pocket", line.spoken);
    }
    line
}

fn length(view: &View) -> Option<GradeLine> {
    let share = view.errors.length?;
    let word = if share > 0.0 { "long" } else { "short" };
    Some(Amount::new(100.0 * share.abs(), 0, PER_CENT, word).line("length", "length"))
}

fn curve(view: &View) -> GradeLine {
    Amount::new(view.errors.curve, 1, BALLS, "off on average").line("curve", "whole curve")
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn amounts_are_short_on_paper_and_whole_when_spoken() {
        let amount = Amount::new(0.504, 2, DIAMONDS, "short");
        assert_eq!(amount.text(), "0.50 ◇ short", "on paper");
        assert_eq!(amount.spoken(), "0.50 diamonds short", "spoken");
        assert_eq!(amount.short(), "0.50 ◇", "on a dimension");
        let nothing = Amount::new(0.004, 2, DIAMONDS, "short");
        assert_eq!((nothing.text(), nothing.spoken()), (NO_ERROR.into(), NO_ERROR.into()), "none");
    }

    #[test]
    fn a_square_touch_is_off_toward_a_rail() {
        assert_eq!(along_word(Rail::Left, 0.3, true), "long", "farther along the path");
        assert_eq!(along_word(Rail::Left, -0.3, false), "toward the head", "along a long rail");
        assert_eq!(along_word(Rail::Foot, 0.3, false), "toward the left", "along a short rail");
    }
}
