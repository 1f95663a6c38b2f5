//! Setting a layout up on a real table: where each ball is found, as a player finds it, by
//! the diamonds, by balls off a cushion, and by what it touches or stands in line with.

use crate::ball::BallId;
use crate::geometry::cross;
use crate::physics::{PlacedBall, Shot};
use crate::table::{Rail, TableCard, TableShape, diamond_of, diamonds_on, point_at};
use glam::DVec2;

/// Nearer than this, ball and ball or ball and rail touch, m (tuning choice: what no eye
/// tells from touching).
const TOUCHING: f64 = 1e-4;

/// A ball is measured off a cushion that is not farther than so many balls from its edge
/// (tuning choice: farther, the diamonds are easier).
const NEAR_BALLS: f64 = 3.0;

/// A ball stands in line if it is not farther off than this, m (tuning choice: what a
/// player sees along the line).
const IN_LINE: f64 = 1e-3;

/// How one ball is set up.
#[derive(Clone, Debug, PartialEq)]
pub struct Spot {
    /// Which ball.
    pub ball: BallId,
    /// Diamonds from the head and from the right.
    pub diamonds: DVec2,
    /// From the nose lines of the head and of the right rail to its centre, m.
    pub place: DVec2,
    /// How a player finds it.
    pub words: String,
}

/// How the balls of `shot` are set up, in the order in which it is done: the cue ball last.
/// Who follows the words with a tape is within a centimetre of each place.
pub fn set_up(shot: &Shot) -> Vec<Spot> {
    let shape = TableShape::new(&shot.card);
    let is_cue = |ball: &&PlacedBall| ball.id.is_cue();
    let order: Vec<PlacedBall> = shot
        .balls
        .iter()
        .filter(|ball| !ball.id.is_cue())
        .chain(shot.balls.iter().filter(is_cue))
        .copied()
        .collect();
    let spot = |(k, ball): (usize, &PlacedBall)| Spot {
        ball: ball.id,
        diamonds: DVec2::new(
            diamond_of(&shot.card, Rail::Right, ball.position),
            diamond_of(&shot.card, Rail::Head, ball.position),
        ),
        place: ball.position,
        words: in_words(&shot.card, &shape, ball.position, &order[..k]),
    };
    order.iter().enumerate().map(spot).collect()
}

fn in_words(card: &TableCard, shape: &TableShape, at: DVec2, before: &[PlacedBall]) -> String {
    let along = coordinate_in_words(card, [Rail::Head, Rail::Foot], at);
    let across = coordinate_in_words(card, [Rail::Right, Rail::Left], at);
    let mut words = format!("{along}; {across}");
    let reach = 2.0 * card.ball.radius + TOUCHING;
    let beside = before.iter().filter(|other| other.position.distance(at) <= reach);
    let touched: Vec<String> = beside.map(|other| format!("the {}", other.id)).collect();
    if !touched.is_empty() {
        words += &format!("; touching {}", touched.join(" and "));
    } else if let Some(line) = line_in_words(shape, at, before) {
        words += &format!("; {line}");
    }
    words
}

/// One coordinate: from the rail at its low end to that at its high end.
fn coordinate_in_words(card: &TableCard, [low, high]: [Rail; 2], at: DVec2) -> String {
    let (value, size) = if low.is_long() { (at.y, card.width) } else { (at.x, card.length) };
    let touch = card.touch_distance();
    let gap = (value - touch).min(size - touch - value);
    let near = if value <= size - value { low } else { high };
    let balls = gap / (2.0 * card.ball.radius);
    if gap < -TOUCHING {
        // In the jaws, where no cushion is beside it.
        let from = in_centimetres(value.min(size - value).abs(), 10.0);
        let side = if value.min(size - value) < 0.0 { "beyond" } else { "inside" };
        return format!("its centre {from} {side} the {near} nose line");
    }
    if gap <= TOUCHING {
        return format!("frozen to the {near} rail");
    }
    if balls <= NEAR_BALLS {
        let width = match (4.0 * balls).round() {
            quarters if quarters < 1.0 => "a hair".to_owned(),
            quarters if quarters <= 4.0 => format!("{} ball", in_quarters(quarters)),
            quarters => format!("{} balls", in_quarters(quarters)),
        };
        return format!("{width} ({}) off the {near} rail", in_centimetres(gap, 10.0));
    }
    // The diamonds beside which it is counted stand on the rails along it.
    let counting = if low.is_long() { Rail::Head } else { Rail::Right };
    let quarters = (4.0 * diamond_of(card, counting, at)).round();
    let mark = point_at(card, counting, quarters / 4.0);
    let rest = value - if low.is_long() { mark.y } else { mark.x };
    let toward = if rest > 0.0 { high } else { low };
    let last = 4.0 * diamonds_on(counting);
    let more = match in_centimetres(rest.abs(), 2.0) {
        none if none == "0 cm" || !(0.0..=last).contains(&quarters) => String::new(),
        off => format!(", {off} toward the {toward}"),
    };
    format!("diamond {} from the {low}{more}", in_quarters(quarters))
}

/// Metres in centimetres, to so many parts of one.
fn in_centimetres(length: f64, parts: f64) -> String {
    format!("{} cm", (100.0 * parts * length).round() / parts)
}

/// Quarters as a mixed number.
fn in_quarters(quarters: f64) -> String {
    let whole = (quarters / 4.0).floor();
    let sign = ["", "¼", "½", "¾"][(quarters - 4.0 * whole) as usize % 4];
    if whole == 0.0 && !sign.is_empty() { sign.to_owned() } else { format!("{whole}{sign}") }
}

/// The line on which `at` lies, if there is one to go by: between a ball and a pocket,
/// behind a ball from a pocket, or with two balls.
fn line_in_words(shape: &TableShape, at: DVec2, before: &[PlacedBall]) -> Option<String> {
    for ball in before {
        for pocket in &shape.pockets {
            let (id, name, mouth) = (pocket.id, ball.id, pocket.mouth_middle);
            if is_between(at, ball.position, mouth) {
                return Some(format!("on the line from the {name} to the {id} pocket"));
            }
            if is_between(ball.position, at, mouth) {
                return Some(format!("straight behind the {name} from the {id} pocket"));
            }
        }
    }
    for (k, one) in before.iter().enumerate() {
        for other in &before[..k] {
            let [a, b] = [other.position, one.position];
            if is_between(at, a, b) || is_between(a, at, b) || is_between(b, at, a) {
                return Some(format!("in line with the {} and the {}", other.id, one.id));
            }
        }
    }
    None
}

/// Whether `at` lies on the way between two places.
fn is_between(at: DVec2, from: DVec2, to: DVec2) -> bool {
    let Some(way) = (to - from).try_normalize() else { return false };
    let off = at - from;
    cross(way, off).abs() <= IN_LINE && (0.0..=(to - from).length()).contains(&off.dot(way))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::physics::Stroke;
    use crate::table::{PocketId, TableSize};

    fn shot(places: &[(u8, f64, f64)], size: TableSize) -> Shot {
        let balls = places
            .iter()
            .map(|&(number, x, y)| PlacedBall {
                id: BallId::object(number).unwrap_or(BallId::CUE),
                position: DVec2::new(x, y),
            })
            .collect();
        let stroke = Stroke { azimuth: 0.0, elevation: 0.0, speed: 1.0, side: 0.0, height: 0.0 };
        Shot { card: TableCard::of_size(size), balls, stroke }
    }

    fn words(places: &[(u8, f64, f64)]) -> Vec<String> {
        let spots = set_up(&shot(places, TableSize::NineFoot));
        spots.into_iter().map(|spot| format!("{}: {}", spot.ball, spot.words)).collect()
    }

    /// A length as the words have it, m.
    fn metres(words: &str) -> f64 {
        let (number, _) = words.split_once(" cm").expect("centimetres");
        let number = number.rsplit([' ', '(']).next().expect("a number");
        number.parse::<f64>().expect("a number") / 100.0
    }

    /// A number with a fraction, as the words have it.
    fn mixed(words: &str) -> f64 {
        let first = words.split([' ', ',']).next().expect("a number");
        let parts = [("¼", 0.25), ("½", 0.5), ("¾", 0.75)];
        let (sign, part) =
            parts.into_iter().find(|(sign, _)| first.contains(sign)).unwrap_or(("", 0.0));
        let whole = first.trim_end_matches(sign);
        part + if whole.is_empty() { 0.0 } else { whole.parse::<f64>().expect("a whole number") }
    }

    /// Where someone puts a ball who has only the words, a tape and the table: m from the
    /// low rail.
    fn followed(card: &TableCard, words: &str, size: f64, diamond: f64, high: &str) -> f64 {
        let from_high =
            |from: f64| if words.contains(&format!("the {high} ")) { size - from } else { from };
        if let Some(rest) = words.strip_prefix("diamond ") {
            let off = match rest.split_once(", ") {
                Some((_, off)) if off.ends_with(high) => metres(off),
                Some((_, off)) => -metres(off),
                None => 0.0,
            };
            return mixed(rest) * diamond + off;
        }
        if words.starts_with("frozen") {
            return from_high(card.touch_distance());
        }
        if let Some(rest) = words.strip_prefix("its centre ") {
            let off = metres(rest);
            return from_high(if words.contains("beyond") { -off } else { off });
        }
        from_high(card.touch_distance() + metres(words))
    }

    #[test]
    fn who_follows_the_words_with_a_tape_is_within_a_centimetre() {
        let mut farthest: f64 = 0.0;
        for size in TableSize::ALL {
            let card = TableCard::of_size(size);
            let shape = TableShape::new(&card);
            let mut seen = 0;
            for k in 0..20_000_u32 {
                // Over the table and into its pockets, by the golden ratio.
                let share = |step: f64| (f64::from(k) * step).fract();
                let at = DVec2::new(share(0.618_033_988_7), share(0.754_877_666_2));
                let at = at * DVec2::new(card.length + 0.1, card.width + 0.1) - 0.05;
                let touch = DVec2::splat(card.touch_distance());
                // Some of them lie on a cushion.
                let at = match k % 4 {
                    0 => at.clamp(touch, DVec2::new(card.length, card.width) - touch),
                    _ => at,
                };
                if shape.refusal(at).is_some() {
                    continue;
                }
                let spots = set_up(&shot(&[(0, at.x, at.y)], size));
                let words = &spots[0].words;
                let mut parts = words.split("; ");
                let (along, across) = (parts.next().expect("along"), parts.next().expect("across"));
                let x = followed(&card, along, card.length, card.length / 8.0, "foot");
                let y = followed(&card, across, card.width, card.width / 4.0, "left");
                let off = DVec2::new(x, y).distance(at);
                assert!(off < 0.01, "{at}: {words} leads to {x}, {y}");
                farthest = farthest.max(off);
                seen += 1;
            }
            assert!(seen > 10_000, "{size:?}: {seen} places");
        }
        println!("followed with a tape: {farthest} m off at most");
    }

    #[test]
    fn a_ball_is_found_by_diamonds_cushions_and_balls() {
        let touch = TableCard::of_size(TableSize::NineFoot).touch_distance();
        let said =
            words(&[(0, 0.635, 0.635), (3, 1.27, touch), (5, 1.327_15, touch), (7, 2.0, 0.075)]);
        assert_eq!(
            said,
            [
                "3: diamond 4 from the head; frozen to the right rail",
                "5: diamond 4¼ from the head, 2 cm toward the head; frozen to the right rail; touching the 3",
                "7: diamond 6¼ from the head, 1.5 cm toward the foot; ¾ ball (4.7 cm) off the right rail",
                "cue: diamond 2 from the head; diamond 2 from the right",
            ]
        );
    }

    #[test]
    fn lines_are_said_where_there_are_any() {
        let shape = TableShape::new(&TableCard::of_size(TableSize::NineFoot));
        let mouth = shape.pocket(PocketId::FootLeft).mouth_middle;
        let object = DVec2::new(1.9, 0.8);
        let behind = object + (object - mouth) * 0.9;
        let between = object.lerp(mouth, 0.4);
        let said =
            words(&[(0, behind.x, behind.y), (4, object.x, object.y), (9, between.x, between.y)]);
        assert!(said[1].ends_with("; on the line from the 4 to the foot-left pocket"), "{said:?}");
        assert!(said[2].ends_with("; straight behind the 4 from the foot-left pocket"), "{said:?}");
        let said = words(&[(1, 0.5, 0.4), (2, 0.8, 0.5), (0, 1.4, 0.7)]);
        assert!(said[2].ends_with("; in line with the 1 and the 2"), "{said:?}");
        let said = words(&[(1, 0.5, 0.4), (2, 0.8, 0.52), (0, 1.4, 0.7)]);
        assert!(!said[2].contains("line"), "two centimetres off: {said:?}");
    }

    #[test]
    fn the_numbers_say_the_same() {
        let spots = set_up(&shot(&[(0, 0.635, 0.4)], TableSize::NineFoot));
        assert_eq!(spots[0].place, DVec2::new(0.635, 0.4), "m");
        let off = spots[0].diamonds - DVec2::new(2.0, 0.4 / 0.3175);
        assert!(off.length() < 1e-12, "diamonds: {}", spots[0].diamonds);
    }
}
