//! The lines of one chance on a grid of chances, by marching squares.

use super::Grid;
use glam::DVec2;

/// A crossing of the level that no segment has reached yet.
const NONE: usize = usize::MAX;

impl Grid {
    /// The lines on which the chance is `level`, m, from `chances` of all cells, which
    /// are taken to change evenly from one cell's middle to the next. A line that closes
    /// ends where it began. Where a chance is not a number, lines break off.
    ///
    /// Four cells that are high and low crosswise are joined as their mean is.
    pub fn contour(&self, chances: &[f64], level: f64) -> Vec<Vec<DVec2>> {
        let mut links = vec![[NONE; 2]; 2 * self.columns * self.rows];
        for row in 1..self.rows {
            for column in 1..self.columns {
                self.join(chances, level, [column - 1, row - 1], &mut links);
            }
        }
        // Open lines from their ends first: what is left then closes.
        let mut lines = Vec::new();
        for is_open in [true, false] {
            for start in 0..links.len() {
                let [one, other] = links[start];
                if one != NONE && (other == NONE) == is_open {
                    let line = follow(&mut links, start);
                    lines.push(line.iter().map(|&at| self.crossing(chances, level, at)).collect());
                }
            }
        }
        lines
    }

    /// Links the crossings on the sides of the square between four cells' middles, the
    /// first of which is `low`.
    fn join(&self, chances: &[f64], level: f64, low: [usize; 2], links: &mut [[usize; 2]]) {
        let first = low[1] * self.columns + low[0];
        // Anticlockwise from `low`, and each side from one corner to the next.
        let cells = [first, first + 1, first + self.columns + 1, first + self.columns];
        let sides = [2 * first, 2 * cells[1] + 1, 2 * cells[3], 2 * first + 1];
        let corners = cells.map(|cell| chances.get(cell).copied().unwrap_or(f64::NAN));
        if corners.iter().any(|chance| chance.is_nan()) {
            return;
        }
        let is_high = corners.map(|chance| chance >= level);
        let is_crossed = |k: usize| is_high[k] != is_high[(k + 1) % 4];
        let mut link = |a: usize, b: usize| {
            for (from, to) in [(sides[a], sides[b]), (sides[b], sides[a])] {
                let free = usize::from(links[from][0] != NONE);
                links[from][free] = to;
            }
        };
        if (0..4).all(is_crossed) {
            // The corners that are not as the middle is are cut off, each by its two sides.
            let middle_is_high = corners.iter().sum::<f64>() / 4.0 >= level;
            let cuts =
                if is_high[0] == middle_is_high { [(0, 1), (2, 3)] } else { [(3, 0), (1, 2)] };
            cuts.into_iter().for_each(|(a, b)| link(a, b));
        } else {
            let mut crossed = (0..4).filter(|&k| is_crossed(k));
            if let (Some(a), Some(b)) = (crossed.next(), crossed.next()) {
                link(a, b);
            }
        }
    }

    /// Where the level is crossed on the side with this number: twice its first cell's,
    /// and one more if it runs along y.
    fn crossing(&self, chances: &[f64], level: f64, side: usize) -> DVec2 {
        let (cell, along_y) = (side / 2, side % 2);
        let next = if along_y == 1 { cell + self.columns } else { cell + 1 };
        let share = (level - chances[cell]) / (chances[next] - chances[cell]);
        let place = |cell| self.place(cell % self.columns, cell / self.columns);
        place(cell).lerp(place(next), share)
    }
}

/// Takes the line out of `links` that begins at `start`.
fn follow(links: &mut [[usize; 2]], start: usize) -> Vec<usize> {
    let mut line = vec![start];
    let (mut before, mut at) = (NONE, start);
    loop {
        let [one, other] = std::mem::replace(&mut links[at], [NONE; 2]);
        let next = if one == before { other } else { one };
        if next == NONE {
            return line;
        }
        line.push(next);
        if next == start {
            return line;
        }
        (before, at) = (at, next);
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::table::{TableCard, TableSize};

    fn grid(columns: usize, rows: usize) -> Grid {
        Grid::new(&TableCard::of_size(TableSize::NineFoot), columns, rows)
    }

    fn filled(grid: &Grid, chance: impl Fn(DVec2) -> f64) -> Vec<f64> {
        let cells = 0..grid.columns * grid.rows;
        cells.map(|cell| chance(grid.place(cell % grid.columns, cell / grid.columns))).collect()
    }

    #[test]
    fn the_line_of_an_even_slope_is_straight() {
        let grid = grid(16, 8);
        let slope = DVec2::new(0.3, 0.2);
        let lines = grid.contour(&filled(&grid, |place| slope.dot(place)), 0.5);
        assert_eq!(lines.len(), 1, "one line");
        assert!(lines[0].len() > 8, "over the whole width: {}", lines[0].len());
        for place in &lines[0] {
            let chance = slope.dot(*place);
            assert!((chance - 0.5).abs() < 1e-12, "{place} is at the level, not at {chance}");
        }
        let ends = [lines[0][0], lines[0][lines[0].len() - 1]];
        assert!((ends[0] - ends[1]).length() > 1.0, "from rail to rail: {ends:?}");
    }

    #[test]
    fn a_hill_is_ringed() {
        let grid = grid(128, 64);
        let middle = DVec2::new(1.27, 0.635);
        let lines = grid.contour(&filled(&grid, |place| -(place - middle).length()), -0.4);
        assert_eq!(lines.len(), 1, "one ring");
        assert_eq!(lines[0].first(), lines[0].last(), "it closes");
        for place in &lines[0] {
            let radius = (*place - middle).length();
            // A chord of a cell sinks in by its square over eight radii.
            assert!((radius - 0.4).abs() < 2e-4, "{place} is {radius} m away");
        }
    }

    #[test]
    fn a_line_breaks_off_where_no_ball_can_lie() {
        let grid = grid(16, 8);
        let mut chances = filled(&grid, |place| place.x);
        let whole = grid.contour(&chances, 1.3);
        assert_eq!(whole.len(), 1, "one line from rail to rail");
        for row in [3, 4] {
            (0..16).for_each(|column| chances[row * 16 + column] = f64::NAN);
        }
        let parts = grid.contour(&chances, 1.3);
        assert_eq!(parts.len(), 2, "above and below");
        assert!(parts.iter().all(|part| part.len() == 3), "three rows are left on each side");
    }

    #[test]
    fn what_is_high_crosswise_is_joined_as_the_mean_is() {
        let grid = grid(2, 2);
        let is_cut_off = |chances: [f64; 4], column: usize| {
            let corner = grid.place(column, 0);
            let is_beside = |at: &DVec2| at.x == corner.x || at.y == corner.y;
            let lines = grid.contour(&chances, 0.5);
            assert_eq!(lines.len(), 2, "two lines of {chances:?}");
            lines.iter().any(|line| line.iter().all(is_beside))
        };
        let high = [0.9, 0.2, 0.2, 0.9];
        assert!(is_cut_off(high, 1) && !is_cut_off(high, 0), "the low corner is cut off");
        let low = [0.8, 0.1, 0.1, 0.8];
        assert!(is_cut_off(low, 0) && !is_cut_off(low, 1), "with a low mean it is the high one");
    }

    #[test]
    fn an_even_field_and_a_short_list_have_no_lines() {
        let grid = grid(4, 4);
        assert!(grid.contour(&[0.5; 16], 0.5).is_empty(), "all at the level");
        assert!(grid.contour(&[0.1, 0.9], 0.5).is_empty(), "chances are missing");
    }
}
