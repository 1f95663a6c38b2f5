//! How a map looks: each chance a colour. Whoever draws it needs no rule of its own.
//!
//! The scale is cividis, which rises evenly in lightness and looks the same to who does
//! not tell red from green: Nunez, Anderton and Renslow 2018, "Optimizing colormaps with
//! consideration for color vision deficiency", PLoS ONE 13(7), e0199239.

use super::map::check_cells;
use super::value::Value;
use crate::error::Error;

/// Cividis in ten even steps, as matplotlib 3 tabulates it (the paper's own table was not seen).
const NODES: [[u8; 3]; 10] = [
    [0, 34, 78],
    [18, 53, 112],
    [60, 74, 108],
    [87, 93, 109],
    [112, 113, 115],
    [138, 134, 120],
    [165, 156, 116],
    [194, 179, 105],
    [225, 204, 85],
    [254, 232, 56],
];

/// The most colours of a legend (tuning choice: more than the eye tells apart).
const MOST_COLOURS: u32 = 256;

/// The colour of a chance, red, green and blue; what lies outside of 0 to 1 looks as the
/// nearer end.
fn colour(chance: f64) -> [u8; 3] {
    let most = NODES.len() - 1;
    let at = chance.clamp(0.0, 1.0) * most as f64;
    let low = (at as usize).min(most - 1);
    let share = at - low as f64;
    std::array::from_fn(|k| {
        let [from, to] = [NODES[low][k], NODES[low + 1][k]].map(f64::from);
        (from + share * (to - from) + 0.5) as u8
    })
}

/// The picture of a map, one pixel a cell: red, green, blue and opacity, row by row as the
/// cells. A cell where the cue ball cannot lie, and one that is missing, shows nothing.
///
/// # Errors
/// [`Error::OutOfRange`] as [`check_cells`].
pub(super) fn draw_map(chances: &[f64], columns: u32, rows: u32) -> Result<Vec<u8>, Error> {
    check_cells(chances.len(), columns, rows)?;
    let pixel = |chance: &f64| match colour(*chance) {
        _ if chance.is_nan() => [0; 4],
        [red, green, blue] => [red, green, blue, u8::MAX],
    };
    Ok(chances.iter().flat_map(pixel).collect())
}

/// The colours of a legend from chance 0 to 1, `#rrggbb`.
///
/// # Errors
/// [`Error::OutOfRange`] unless there are 2 to 256.
pub fn map_scale(n_colours: u32) -> Result<Value, Error> {
    if !(2..=MOST_COLOURS).contains(&n_colours) {
        let rule = format!("must be 2 to {MOST_COLOURS}");
        return Err(Error::out_of_range("colours", f64::from(n_colours), rule));
    }
    let last = f64::from(n_colours - 1);
    let colours = (0..n_colours).map(|k| {
        let [red, green, blue] = colour(f64::from(k) / last);
        Value::text(format!("#{red:02x}{green:02x}{blue:02x}"))
    });
    Ok(Value::List(colours.collect()))
}

#[cfg(test)]
mod tests {
    use super::*;

    /// CIE 1976 lightness of an sRGB colour (IEC 61966-2-1, CIE 15; from memory).
    fn lightness(colour: [u8; 3]) -> f64 {
        let [red, green, blue] = colour.map(|part| {
            let part = f64::from(part) / 255.0;
            if part <= 0.04045 { part / 12.92 } else { libm::pow((part + 0.055) / 1.055, 2.4) }
        });
        116.0 * libm::cbrt(0.2126 * red + 0.7152 * green + 0.0722 * blue) - 16.0
    }

    #[test]
    fn a_better_chance_is_lighter_and_evenly_so() {
        let light: Vec<f64> = (0..=100).map(|k| lightness(colour(f64::from(k) / 100.0))).collect();
        assert!(light.windows(2).all(|pair| pair[1] > pair[0]), "rises at every step: {light:?}");
        for (k, found) in light.iter().enumerate() {
            let even = light[0] + (light[100] - light[0]) * k as f64 / 100.0;
            // What is left is rounding of the nodes and the straight lines between them.
            assert!((found - even).abs() < 1.5, "{k} %: {found}, evenly {even}");
        }
    }

    #[test]
    fn a_cell_is_a_pixel_and_shows_nothing_where_no_ball_can_lie() {
        let picture = draw_map(&[0.0, 1.0, f64::NAN, 2.0], 2, 2).expect("four cells");
        let [first, last] = [[0, 34, 78, 255], [254, 232, 56, 255]];
        assert_eq!(picture, [first, last, [0; 4], last].concat(), "row by row");
    }

    #[test]
    fn a_legend_has_the_colours_of_the_map() {
        let Ok(Value::List(colours)) = map_scale(3) else { panic!("three colours") };
        let [low, half, high] = ["#00224e", "#7d7c76", "#fee838"].map(Value::text);
        assert_eq!(colours, [low, half, high], "from nothing to certain");
    }

    #[test]
    fn numbers_that_fit_no_map_are_refused() {
        let missing = draw_map(&[0.5; 3], 2, 2).expect_err("one is missing");
        assert_eq!(missing.field(), "chances.length", "which field");
        assert_eq!(missing.rule(), "must be columns times rows", "which rule");
        assert_eq!(map_scale(1).expect_err("one end only").field(), "colours", "legend");
    }
}
