//! Angles: degrees in forms, radians in the core.

use super::text::parse;
use super::value::Value;
use crate::units::{degrees, radians};

/// The degrees to write for an angle of `angle` rad: one that
/// [`radians`] turns into exactly these bits, and the shortest if one of up to
/// 15 digits does.
///
/// So an angle that was given in degrees is written as it was given, unless it
/// has 16 or 17 digits and shares its radians with a neighbour; either then
/// plays the same shot. An angle that no number of degrees gives exactly (one that was
/// computed in radians) is written as the nearest.
pub fn degrees_for(angle: f64) -> f64 {
    let near = degrees(angle);
    let fits = |one: &f64| radians(*one) == angle;
    let rounded = (0..15).filter_map(|digits| as_read(&format!("{near:.digits$e}")));
    // The two products and the two factors are each rounded once, which moves
    // the result by three units in the last place at most.
    let (up, down) = (near.next_up(), near.next_down());
    let neighbours = [near, up, down, up.next_up(), down.next_down()];
    let further = [neighbours[3].next_up(), neighbours[4].next_down()];
    rounded.chain(neighbours).chain(further).find(fits).unwrap_or(near)
}

/// The number that a form has where it says `text`: the reader of JSON is here
/// anyhow, and the standard library's would come with 10 kB of powers of five.
fn as_read(text: &str) -> Option<f64> {
    match parse(text) {
        Ok(Value::Number(number)) => Some(number),
        _ => None,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn typed_degrees_come_back_as_typed() {
        for thousandths in -360_000..=360_000 {
            let typed = f64::from(thousandths) / 1000.0;
            assert_eq!(degrees_for(radians(typed)), typed, "{typed} degrees");
        }
    }

    #[test]
    fn long_fractions_come_back_to_the_same_radians() {
        let mut typed = 1e-3;
        while typed < 360.0 {
            let angle = radians(typed);
            assert_eq!(radians(degrees_for(angle)), angle, "{typed} degrees");
            typed *= 1.000_37;
        }
    }

    #[test]
    fn an_angle_computed_in_radians_moves_by_an_ulp_at_most() {
        for k in 1..10_000 {
            let angle = f64::from(k) * 0.000_61;
            let back = radians(degrees_for(angle));
            let ulp = angle.next_up() - angle;
            assert!((back - angle).abs() <= ulp, "{angle} rad came back as {back}");
        }
    }
}
