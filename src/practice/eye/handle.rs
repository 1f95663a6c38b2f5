//! The one handle that answers an estimate: what it measures, and where it is.

use super::estimate::Unit;
use crate::geometry::{angle_between, unit_from_angle};
use crate::practice::grade::length_of;
use crate::practice::point::{edge, on_touch};
use crate::table::{Rail, TableCard, diamond_of, diamonds_on};
use crate::units::{degrees, radians};
use glam::DVec2;
use std::f64::consts::PI;

/// What is dragged to answer.
#[derive(Clone, Debug, PartialEq)]
pub enum Handle {
    /// A line that swings about a place: degrees from a direction.
    Swing {
        /// The place, m.
        at: DVec2,
        /// Unit vector of 0 degrees.
        zero: DVec2,
        /// 1 where angles count to the left of it, -1 where to the right.
        toward: f64,
        /// The least and the most it goes to, degrees.
        range: [f64; 2],
    },
    /// A point on the line of touch of a rail: diamonds.
    OnRail {
        /// The rail.
        rail: Rail,
        /// 1 where more diamonds are farther along the path, else -1.
        long: f64,
        /// The diamond abreast of which the path left the rail before.
        from: f64,
    },
    /// A point on a path: table lengths from its start.
    Along {
        /// The path, m.
        path: Vec<DVec2>,
    },
}

impl Handle {
    /// What `place` (m) answers, to a tenth of a degree, a hundredth of a diamond or of a
    /// length.
    pub fn value_at(&self, card: &TableCard, place: DVec2) -> f64 {
        match self {
            Self::Swing { at, zero, toward, range: [least, most] } => {
                let turn = toward * angle_between(*zero, place - *at);
                // What lies behind the range counts for the nearer of its ends.
                let middle = radians(0.5 * (least + most));
                let turn = if turn < middle - PI { turn + 2.0 * PI } else { turn };
                (10.0 * degrees(turn).clamp(*least, *most)).round() / 10.0
            }
            Self::OnRail { rail, .. } => {
                let diamond = diamond_of(card, *rail, place).clamp(0.0, diamonds_on(*rail));
                (100.0 * diamond).round() / 100.0
            }
            Self::Along { path } => {
                (100.0 * nearest(path, place) / card.travel_length()).round() / 100.0
            }
        }
    }

    /// `value` brought into what the handle can say.
    pub fn within(&self, card: &TableCard, value: f64) -> f64 {
        match self {
            Self::Swing { range: [least, most], .. } => value.clamp(*least, *most),
            Self::OnRail { rail, .. } => value.clamp(0.0, diamonds_on(*rail)),
            Self::Along { path } => value.clamp(0.0, length_of(path) / card.travel_length()),
        }
    }

    /// `value` moved by some steps of an arrow key, brought into what the handle can say.
    pub fn stepped(&self, card: &TableCard, value: f64, steps: f64, is_fine: bool) -> f64 {
        self.within(card, value + steps * self.unit().step(is_fine))
    }

    /// Where the handle is when it says `value`, m.
    pub fn place_of(&self, card: &TableCard, value: f64) -> DVec2 {
        match self {
            Self::Swing { at, zero, toward, .. } => {
                edge(card, *at, zero.rotate(unit_from_angle(toward * radians(value))))
            }
            Self::OnRail { rail, .. } => on_touch(card, *rail, value),
            Self::Along { path } => point_along(path, value * card.travel_length()),
        }
    }

    /// The line that shows `value`, m.
    pub fn line_of(&self, card: &TableCard, value: f64) -> Vec<DVec2> {
        let place = self.place_of(card, value);
        match self {
            Self::Swing { at, .. } => vec![*at, place],
            Self::OnRail { .. } | Self::Along { .. } => vec![place],
        }
    }

    /// Where it stands before it was moved.
    pub fn home(&self, card: &TableCard) -> f64 {
        match self {
            Self::Swing { range: [least, most], .. } => least.max(0.0).midpoint(*most).round(),
            Self::OnRail { rail, .. } => diamonds_on(*rail) / 2.0,
            Self::Along { path } => 0.5 * length_of(path) / card.travel_length(),
        }
    }

    /// How much an answer is above the truth, in its unit.
    pub fn error(&self, answer: f64, truth: f64) -> f64 {
        match self {
            Self::OnRail { long, .. } => long * (answer - truth),
            Self::Swing { .. } | Self::Along { .. } => answer - truth,
        }
    }

    /// In what it measures.
    pub fn unit(&self) -> Unit {
        match self {
            Self::Swing { .. } => Unit::Degrees,
            Self::OnRail { .. } => Unit::Diamonds,
            Self::Along { .. } => Unit::Lengths,
        }
    }
}

/// How far along `path` the point is that lies nearest to `place`, m.
fn nearest(path: &[DVec2], place: DVec2) -> f64 {
    let mut before = 0.0;
    let mut best = (f64::INFINITY, 0.0);
    for pair in path.windows(2) {
        let step = pair[1] - pair[0];
        let long = step.length();
        if long > 0.0 {
            let along = ((place - pair[0]).dot(step) / long).clamp(0.0, long);
            let off = place.distance(pair[0] + step * (along / long));
            if off < best.0 {
                best = (off, before + along);
            }
        }
        before += long;
    }
    best.1
}

/// The point so far along `path`, m; its end if it is shorter.
fn point_along(path: &[DVec2], far: f64) -> DVec2 {
    let mut left = far;
    for pair in path.windows(2) {
        let long = pair[0].distance(pair[1]);
        if left <= long && long > 0.0 {
            return pair[0].lerp(pair[1], left / long);
        }
        left -= long;
    }
    path.last().copied().unwrap_or_default()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::table::TableSize;

    fn handles() -> [Handle; 3] {
        let path = vec![DVec2::new(0.4, 0.4), DVec2::new(1.4, 0.4), DVec2::new(1.4, 1.0)];
        let zero = DVec2::X;
        [
            Handle::Swing { at: DVec2::new(1.2, 0.6), zero, toward: -1.0, range: [0.0, 180.0] },
            Handle::OnRail { rail: Rail::Foot, long: -1.0, from: 3.0 },
            Handle::Along { path },
        ]
    }

    #[test]
    fn a_value_is_found_again_where_its_handle_is() {
        let card = TableCard::of_size(TableSize::NineFoot);
        for handle in handles() {
            for value in [0.2, 0.31, 0.5] {
                let value = if handle.unit() == Unit::Degrees { 200.0 * value } else { value };
                let back = handle.value_at(&card, handle.place_of(&card, value));
                assert!((back - value).abs() < 1e-9, "{handle:?}: {back} for {value}");
            }
        }
    }

    #[test]
    fn what_lies_beyond_counts_for_the_nearer_end() {
        let card = TableCard::of_size(TableSize::NineFoot);
        let [swing, rail, along] = handles();
        let at = |x, y| DVec2::new(x, y);
        assert_eq!(swing.value_at(&card, at(2.0, 0.7)), 0.0, "a little to the other side");
        assert_eq!(swing.value_at(&card, at(0.4, 0.7)), 180.0, "past the back");
        assert_eq!(rail.value_at(&card, at(1.0, -3.0)), 0.0, "right of the rail");
        assert_eq!(rail.value_at(&card, at(1.0, 9.0)), 4.0, "left of it");
        assert_eq!(along.value_at(&card, at(0.1, 0.4)), 0.0, "before the path");
        assert_eq!(along.within(&card, 9.0), length_of(&path_of(&along)) / card.travel_length());
    }

    #[test]
    fn a_key_steps_by_the_unit_and_not_past_the_end() {
        let card = TableCard::of_size(TableSize::NineFoot);
        let [swing, rail, along] = handles();
        assert_eq!(swing.stepped(&card, 30.0, -1.0, false), 28.0, "two degrees");
        assert_eq!(swing.stepped(&card, 30.0, 1.0, true), 30.5, "finely");
        assert_eq!(rail.stepped(&card, 3.95, 1.0, false), 4.0, "to the end of the rail");
        assert_eq!(along.stepped(&card, 0.02, -1.0, false), 0.0, "to the start of the path");
    }

    fn path_of(handle: &Handle) -> Vec<DVec2> {
        match handle {
            Handle::Along { path } => path.clone(),
            _ => Vec::new(),
        }
    }

    #[test]
    fn long_is_farther_along_the_path_on_a_rail() {
        let [_, rail, _] = handles();
        assert!(rail.error(1.0, 1.5) > 0.0, "fewer diamonds are farther there");
    }
}
