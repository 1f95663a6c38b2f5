//! Errors as a draughtsman would draw them.

use super::View;
use crate::geometry::heading;
use crate::table::{Rail, TableCard, diamond_of, point_at};
use glam::DVec2;

/// How far beyond the nose line a dimension along a rail lies, m.
const BEYOND_NOSE: f64 = 0.03;

/// Largest radius of an arc at the ghost ball and at a touch, m.
const LARGEST_ARC: (f64, f64) = (0.35, 0.20);

/// Smallest radius that can be read, m.
const SMALLEST_ARC: f64 = 0.03;

/// An error drawn on the table.
#[derive(Clone, Debug, PartialEq)]
pub enum Dimension {
    /// An arc from the called to the real direction, the shorter way round.
    Arc {
        /// Its centre, m.
        centre: DVec2,
        /// Its radius, m.
        radius: f64,
        /// The called direction, rad, anticlockwise from +x.
        from: f64,
        /// The real direction, rad.
        to: f64,
        /// The number beside it.
        text: String,
    },
    /// A line with arrows at both ends.
    Line {
        /// The called place, m.
        from: DVec2,
        /// The real place, m.
        to: DVec2,
        /// The number beside it.
        text: String,
    },
}

/// The arc of the heading, inside the first legs.
pub(super) fn heading_arc(view: &View, text: String) -> Option<Dimension> {
    arc(view.truth.ghost, view.called.chord(0), view.real.chord(0), LARGEST_ARC.0, text)
}

/// The arc of a rebound, at the real touch; `real` and `called` are its nodes.
pub(super) fn rebound_arc(
    view: &View,
    real: usize,
    called: usize,
    text: String,
) -> Option<Dimension> {
    let centre = view.real.node(real);
    arc(centre, view.called.chord(called), view.real.chord(real), LARGEST_ARC.1, text)
}

fn arc(centre: DVec2, from: DVec2, to: DVec2, most: f64, text: String) -> Option<Dimension> {
    let radius = (0.6 * from.length().min(to.length())).min(most);
    (radius >= SMALLEST_ARC).then(|| Dimension::Arc {
        centre,
        radius,
        from: heading(from),
        to: heading(to),
        text,
    })
}

/// The line of an error along a rail, a little beyond its nose.
pub(super) fn rail_line(
    card: &TableCard,
    rail: Rail,
    called: DVec2,
    real: DVec2,
    text: String,
) -> Dimension {
    let outside = |place: DVec2| {
        point_at(card, rail, diamond_of(card, rail, place)) - rail.inward() * BEYOND_NOSE
    };
    Dimension::Line { from: outside(called), to: outside(real), text }
}

/// The line between called and real stop.
pub(super) fn stop_line(view: &View, text: String) -> Dimension {
    Dimension::Line {
        from: view.called.node(view.called.last()),
        to: view.real.node(view.real.last()),
        text,
    }
}
