//! How the edges of a window are looked for: directions are tried, then edges closed in on.

/// How closely windows are looked for.
#[derive(Clone, Copy, Debug)]
pub(super) struct Care {
    /// So many directions are tried before edges are closed in on.
    n_tried: usize,
    /// Halvings of an edge's bracket.
    halvings: usize,
    /// First step when an edge is looked for near where it was, rad, and how near it is found.
    step: f64,
    near: f64,
    /// The speeds at which edges are found, by their numbers; between them they are drawn
    /// straight.
    pub speeds: &'static [usize],
    /// Whether a ball is followed after a rail that does not lead to the pocket.
    pub is_whole: bool,
}

/// What is proved, and whatever else is worth its time, rests on these.
pub(super) const WHOLE: Care = Care {
    n_tried: 60,
    halvings: 9,
    step: 1e-3,
    near: 5e-5,
    speeds: &[0, 1, 2, 3, 4, 5, 6, 7, 8, 9, 10, 11, 12],
    is_whole: true,
};

/// For a first picture (tuning choices: by what maps of seeded layouts lose).
pub(super) const SKETCH: Care = Care {
    n_tried: 24,
    halvings: 5,
    step: 1.5e-3,
    near: 1.5e-3,
    speeds: &[0, 1, 3, 5, 7, 10, 12],
    is_whole: false,
};

/// The interval in which `falls` near where it was `before`; empty, in the middle of that,
/// if there is none.
pub(super) fn near(care: Care, before: [f64; 2], mut falls: impl FnMut(f64) -> bool) -> [f64; 2] {
    let [right, left] = before;
    let width = left - right;
    let tried = [0.5, 0.25, 0.75, 0.1, 0.9].map(|part| right + part * width);
    let Some(&inside) = tried.iter().find(|&&turn| width > 0.0 && falls(turn)) else {
        return [tried[0]; 2];
    };
    let mut edge = |from: f64, outward: f64| {
        let mut step = care.step;
        let (mut within, mut without);
        if falls(from) {
            within = from;
            loop {
                without = within + outward * step;
                if step > 0.5 || !falls(without) {
                    break;
                }
                within = without;
                step *= 2.0;
            }
        } else {
            without = from;
            loop {
                within = without - outward * step;
                if (within - inside) * outward <= 0.0 {
                    within = inside;
                    break;
                }
                if falls(within) {
                    break;
                }
                without = within;
                step *= 2.0;
            }
        }
        while (without - within).abs() > care.near {
            let middle = 0.5 * (within + without);
            if falls(middle) { within = middle } else { without = middle }
        }
        0.5 * (within + without)
    };
    [edge(right, -1.0), edge(left, 1.0)]
}

/// The intervals of turns within `reach` to either side at which `falls`.
pub(super) fn intervals(
    care: Care,
    reach: f64,
    mut falls: impl FnMut(f64) -> bool,
) -> Vec<[f64; 2]> {
    let turn = |k: usize| reach * (2.0 * k as f64 / care.n_tried as f64 - 1.0);
    let mut found: Vec<[f64; 2]> = Vec::new();
    let mut before = false;
    for k in 0..=care.n_tried {
        let now = falls(turn(k));
        if now != before && k > 0 {
            let (mut low, mut high) = (turn(k - 1), turn(k));
            for _ in 0..care.halvings {
                let middle = 0.5 * (low + high);
                if falls(middle) == before { low = middle } else { high = middle }
            }
            let edge = 0.5 * (low + high);
            match found.last_mut() {
                Some(last) if !now => last[1] = edge,
                _ => found.push([edge, reach]),
            }
        } else if now && k == 0 {
            found.push([-reach, reach]);
        }
        before = now;
    }
    found
}
