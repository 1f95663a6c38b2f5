//! How good a zone is as a prediction of where the cue ball stops.
//!
//! # The loss
//! `area + c * (share of strokes that do not stop in the zone)`: an area that is
//! claimed is paid for, and so is every stroke that ends elsewhere. The price `c` (m²)
//! depends on the stops alone and never on the zone. So, for strokes whose stops have
//! the density p, the least loss is reached by the set where p > 1/c, and by no other
//! region: whoever knows where the ball stops does best by saying so.
//!
//! # The price
//! Let A(q) be the area of the smallest ellipse that holds the share q of the stops. The
//! loss A(q) + c (1 - q) is least where A'(q) = c. Of normal stops with covariance S,
//! A(q) = -2 pi sqrt(det S) ln(1 - q), hence A'(q) = A(q) / (-(1 - q) ln(1 - q)), and
//! `c = A(0.8) / (0.2 ln 5)`, about 3.1 A(0.8), makes an ellipse that holds 80 % of the
//! stops the best. Taken from the stops' own A(0.8), and not from their covariance, it
//! stays right for stops that a jaw or a kiss sends far away.
//!
//! # The mark
//! `100 (c - loss) / (c - least loss)`, within 0 to 100: nothing for a dot, whose loss
//! is c, and for anything worse, the whole table above all; everything for the best
//! ellipse that is found here, and for what may be better by a little. It falls in a straight
//! line with the loss, so that an expected mark is largest where the expected loss is least.
//!
//! # What counts as a stop
//! Wherever the cue ball comes to rest, whether the ball on was potted or not: the zone
//! says where the cue ball goes. A scratch stops in no zone, and is not seen by the
//! price: a stroke that scratches now and then cannot earn the whole mark.
//!
//! # Source
//! Winkler 1972, Journal of the American Statistical Association 67, 187 (width plus a
//! price for what lies outside, of intervals); Gneiting and Raftery 2007, same journal
//! 102, 359, section 6.2 (the interval score is proper). With the share outside in place
//! of the distance it is the loss of a density level set (from memory: Hartigan 1987,
//! same journal 82, 267, excess mass).

use crate::order::sort_by_number;
use crate::shot::Zone;
use glam::DVec2;

/// Strokes of the hand that a zone is graded over.
pub const ZONE_STROKES: u32 = 256;

/// The share of stops that the best zone holds.
pub const BEST_SHARE: f64 = 0.8;

/// Fewer stops than this say nothing (tuning choice: a sixteenth of the strokes).
const FEWEST_STOPS: usize = 16;

/// The smallest ellipse is found within so many steps; seldom are ten needed.
const MOST_STEPS: usize = 40;

/// Where the cue ball stopped, stroke by stroke.
#[derive(Clone, Debug, PartialEq, Default)]
pub struct Stops {
    /// Where it came to rest, m.
    pub places: Vec<DVec2>,
    /// How often it scratched instead.
    pub scratches: u32,
}

impl Stops {
    /// Strokes in all, at least 1 in what can be graded.
    fn strokes(&self) -> f64 {
        self.places.len() as f64 + f64::from(self.scratches)
    }

    /// The share of all strokes whose stop `zone` holds.
    pub fn share_in(&self, zone: &Zone) -> f64 {
        let held = self.places.iter().filter(|place| zone.contains(**place)).count();
        held as f64 / self.strokes()
    }

    /// The share of all strokes that scratched.
    pub fn share_scratched(&self) -> f64 {
        f64::from(self.scratches) / self.strokes()
    }
}

/// How zones are graded that predict certain stops.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct ZoneRule {
    /// The smallest ellipse found that holds 80 % of the stops; it is never narrower than a
    /// ball (tuning choice: nobody sees less).
    pub best: Zone,
    /// The price `c` of a stroke that stops outside, m².
    pub price: f64,
    /// The loss of `best` if no stroke scratched, m².
    pub least: f64,
}

impl ZoneRule {
    /// The rule for these stops of balls with this `radius` (m); `None` if there are too
    /// few stops to say anything.
    pub fn of(stops: &Stops, radius: f64) -> Option<Self> {
        let places = &stops.places;
        if places.len() < FEWEST_STOPS {
            return None;
        }
        let best = zone_of_stops(places, radius)?;
        let price = best.area() / (-(1.0 - BEST_SHARE) * libm::log(1.0 - BEST_SHARE));
        let out = places.iter().filter(|place| !best.contains(**place)).count();
        let least = best.area() + price * out as f64 / places.len() as f64;
        Some(Self { best, price, least })
    }

    /// What `zone` loses by these stops, m².
    pub fn loss(&self, zone: &Zone, stops: &Stops) -> f64 {
        zone.area() + self.price * (1.0 - stops.share_in(zone))
    }

    /// The mark, 0 to 100, for this loss.
    pub fn mark(&self, loss: f64) -> f64 {
        (100.0 * (self.price - loss) / (self.price - self.least)).clamp(0.0, 100.0)
    }
}

/// The zone that a plan asks for whose stops are `places`, with room for a ball of `radius`
/// (m); `None` if there are none.
pub fn zone_of_stops(places: &[DVec2], radius: f64) -> Option<Zone> {
    let zone = (!places.is_empty()).then(|| smallest_ellipse(places))?;
    Some(Zone { half: zone.half.max(DVec2::splat(radius)), ..zone })
}

/// An ellipse that holds 80 % of `places` and is about as small as one can be.
///
/// # Source
/// The concentration steps of Rousseeuw and Van Driessen 1999, Technometrics 41, 212:
/// the mean and covariance of the nearest places give new distances, by which others
/// are the nearest; the determinant never grows. Begun with all places.
fn smallest_ellipse(places: &[DVec2]) -> Zone {
    let held = libm::ceil(BEST_SHARE * places.len() as f64) as usize;
    let mut order: Vec<(f64, DVec2)> = places.iter().map(|place| (0.0, *place)).collect();
    let mut nearest = places.len();
    let mut found = Zone { centre: DVec2::ZERO, half: DVec2::INFINITY, turn: 0.0 };
    for _ in 0..MOST_STEPS {
        let shape = spread(order[..nearest].iter().map(|(_, place)| *place));
        for (reach, place) in &mut order {
            *reach = shape.reach(*place);
        }
        sort_by_number(&mut order, |one| one.0);
        nearest = held;
        // No less than its edge by a rounding, so that the place on it is held.
        let next = Zone { half: shape.half * (order[held - 1].0 * (1.0 + 1e-12)), ..shape };
        if next.area() >= found.area() {
            break;
        }
        found = next;
    }
    found
}

/// The ellipse of one standard deviation around the mean of `places`, at least a
/// nanometre wide.
fn spread(places: impl Iterator<Item = DVec2> + Clone) -> Zone {
    let (sum, n) = places.clone().fold((DVec2::ZERO, 0.0), |(sum, n), at| (sum + at, n + 1.0));
    let centre = sum / n;
    let (mut xx, mut xy, mut yy) = (0.0, 0.0, 0.0);
    for place in places {
        let off = place - centre;
        xx += off.x * off.x / n;
        xy += off.x * off.y / n;
        yy += off.y * off.y / n;
    }
    // The eigenvalues of [[xx, xy], [xy, yy]].
    let (middle, half_gap) = ((xx + yy) / 2.0, (xx - yy) / 2.0);
    let radius = (half_gap * half_gap + xy * xy).sqrt();
    let size = |variance: f64| variance.max(1e-18).sqrt();
    let half = DVec2::new(size(middle + radius), size(middle - radius));
    Zone { centre, half, turn: 0.5 * libm::atan2(xy, half_gap) }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::geometry::{left_of, unit_from_angle, wrap_angle};
    use crate::shot::Wobble;
    use std::f64::consts::PI;

    const RADIUS: f64 = 0.028575;
    const MIDDLE: DVec2 = DVec2::new(1.4, 0.6);
    const SIGMA: DVec2 = DVec2::new(0.2, 0.06);
    const TURN: f64 = 0.7;

    /// Seeded stops, normal about [`MIDDLE`].
    fn normal_stops(n: u32) -> Stops {
        let axis = unit_from_angle(TURN);
        let place = |k| {
            let wobble = Wobble::drawn(11, k);
            MIDDLE + axis * (SIGMA.x * wobble.azimuth) + left_of(axis) * (SIGMA.y * wobble.speed)
        };
        Stops { places: (0..n).map(place).collect(), scratches: 0 }
    }

    /// Stops along a bow, as a path that bends leaves them, and some far away.
    fn bent_stops(n: u32) -> Stops {
        let place = |k| {
            let wobble = Wobble::drawn(5, k);
            let along = 0.25 * wobble.speed;
            let stray = if k % 20 == 0 { DVec2::new(-0.5, 0.3) } else { DVec2::ZERO };
            MIDDLE + DVec2::new(along, along * along + 0.04 * wobble.azimuth) + stray
        };
        Stops { places: (0..n).map(place).collect(), scratches: 0 }
    }

    /// The zone of least loss, by a search that knows nothing of how the rule came about:
    /// each of its five numbers is moved by ever smaller steps.
    fn optimum(rule: &ZoneRule, stops: &Stops, start: Zone) -> Zone {
        let mut best = start;
        let mut least = rule.loss(&best, stops);
        let mut step = 0.3;
        while step > 1e-3 {
            let mut moved = false;
            for k in 0..10 {
                let by = if k % 2 == 0 { step } else { -step };
                let mut zone = best;
                let axis = unit_from_angle(zone.turn);
                match k / 2 {
                    0 => zone.centre += axis * (by * zone.half.x),
                    1 => zone.centre += left_of(axis) * (by * zone.half.y),
                    2 => zone.half.x *= 1.0 + by,
                    3 => zone.half.y *= 1.0 + by,
                    _ => zone.turn += by,
                }
                let loss = rule.loss(&zone, stops);
                if loss < least {
                    (best, least, moved) = (zone, loss, true);
                }
            }
            if !moved {
                step *= 0.7;
            }
        }
        best
    }

    #[test]
    fn the_best_zone_is_where_stops_fall() {
        let stops = normal_stops(4000);
        let rule = ZoneRule::of(&stops, RADIUS).expect("stops");
        // Begun as a wide circle beside the stops.
        let start =
            Zone { centre: MIDDLE + DVec2::new(0.1, -0.1), half: DVec2::splat(0.3), turn: 0.2 };
        let best = optimum(&rule, &stops, start);
        let share = stops.share_in(&best);
        assert!((share - 0.8).abs() < 0.03, "holds {share}");
        let off = best.centre - MIDDLE;
        assert!(off.length() < 0.02, "its middle is {off} m off");
        let turned = wrap_angle(2.0 * (best.turn - TURN)) / 2.0;
        assert!(turned.abs() < 0.05, "turned by {turned}");
        // The ellipse of 80 %: sqrt(2 ln 5) standard deviations.
        let half = SIGMA * (2.0 * libm::log(5.0)).sqrt();
        let ratio = best.half / half;
        assert!((ratio - 1.0).abs().max_element() < 0.1, "axes {ratio} of the right ones");
        // Zones made for these very stops gain a little.
        let gain = rule.loss(&best, &stops) / rule.least;
        assert!((0.97..=1.0).contains(&gain), "loses {gain} of what the rule's own does");
    }

    /// Source: the density of a bivariate normal, at the edge of its ellipse of 80 %.
    #[test]
    fn the_price_of_normal_stops_is_one_over_the_density_at_the_edge() {
        let rule = ZoneRule::of(&normal_stops(20_000), RADIUS).expect("stops");
        let density = 0.2 / (2.0 * PI * SIGMA.x * SIGMA.y);
        let product = rule.price * density;
        // Four standard errors of an area from 20,000 places.
        assert!((product - 1.0).abs() < 4.0 * (2.0 / 20_000_f64).sqrt(), "c p = {product}");
    }

    #[test]
    fn of_bent_and_strayed_stops_the_best_zone_holds_about_as_many() {
        let stops = bent_stops(256);
        let rule = ZoneRule::of(&stops, RADIUS).expect("stops");
        let best = optimum(&rule, &stops, rule.best);
        let share = stops.share_in(&best);
        assert!((0.72..=0.88).contains(&share), "holds {share}");
        let gain = rule.loss(&best, &stops) / rule.least;
        // Measured 0.89: no ellipse is a bow, and such a zone has its mark at the top.
        assert!(gain > 0.85, "and loses {gain} of what the rule's own does");
        assert!(rule.best.half.x < 0.6, "strays do not widen it: {}", rule.best.half);
    }

    #[test]
    fn neither_the_whole_table_nor_a_dot_pays() {
        let stops = normal_stops(256);
        let rule = ZoneRule::of(&stops, RADIUS).expect("stops");
        let mark = |zone: &Zone| rule.mark(rule.loss(zone, &stops));
        let table = Zone {
            centre: DVec2::new(1.27, 0.635),
            half: DVec2::new(1.27, 0.635) * 2.0_f64.sqrt(),
            turn: 0.0,
        };
        assert_eq!(stops.share_in(&table), 1.0, "it holds all");
        assert_eq!(mark(&table), 0.0, "the whole table");
        let dot = Zone { half: DVec2::splat(0.001), ..rule.best };
        assert!(mark(&dot) < 1.0, "a dot: {}", mark(&dot));
        assert_eq!(mark(&rule.best), 100.0, "where they fall");
        let elsewhere = Zone { centre: MIDDLE + DVec2::new(1.0, 0.0), ..rule.best };
        assert_eq!(mark(&elsewhere), 0.0, "where none fall");
    }

    #[test]
    fn the_farther_off_and_the_worse_sized_the_less() {
        let stops = normal_stops(256);
        let rule = ZoneRule::of(&stops, RADIUS).expect("stops");
        let mark = |zone: Zone| rule.mark(rule.loss(&zone, &stops));
        let falls = |what: &str, zones: [Zone; 4]| {
            let marks = zones.map(mark);
            assert!(marks.is_sorted_by(|a, b| a > b), "{what}: {marks:?}");
        };
        let best = rule.best;
        for k in 0..4 {
            let way = unit_from_angle(TURN + PI / 2.0 * f64::from(k)) * SIGMA.y;
            let moved = |n: f64| Zone { centre: best.centre + n * way, ..best };
            falls("moved", [moved(0.0), moved(0.6), moved(1.2), moved(1.8)]);
        }
        let sized = |by: f64| Zone { half: best.half * by, ..best };
        falls("larger", [1.0, 1.2, 1.4, 1.6].map(sized));
        falls("smaller", [1.0, 0.7, 0.5, 0.3].map(sized));
        let turned = |by: f64| Zone { turn: best.turn + by, ..best };
        falls("turned", [0.0, 0.3, 0.6, 0.9].map(turned));
    }

    #[test]
    fn a_scratch_stops_in_no_zone() {
        let mut stops = normal_stops(200);
        let clean = ZoneRule::of(&stops, RADIUS).expect("stops");
        let before = clean.mark(clean.loss(&clean.best, &stops));
        stops.scratches = 56;
        let rule = ZoneRule::of(&stops, RADIUS).expect("stops");
        assert_eq!(rule, clean, "the price knows nothing of it");
        let after = rule.mark(rule.loss(&rule.best, &stops));
        assert!(after < before - 20.0, "but the best zone earns {after} instead of {before}");
        stops.places.truncate(15);
        assert_eq!(ZoneRule::of(&stops, RADIUS), None, "too few to say anything");
    }

    #[test]
    fn stops_without_spread_still_leave_room_for_a_ball() {
        let stops = Stops { places: vec![MIDDLE; 256], scratches: 0 };
        let rule = ZoneRule::of(&stops, RADIUS).expect("stops");
        assert_eq!(rule.best.half, DVec2::splat(RADIUS), "a ball");
        assert!(rule.price.is_finite() && rule.least < rule.price, "{rule:?}");
        let zone = Zone { centre: MIDDLE, half: DVec2::splat(RADIUS), turn: 0.0 };
        assert_eq!(rule.mark(rule.loss(&zone, &stops)), 100.0, "and a ball is enough");
    }
}
