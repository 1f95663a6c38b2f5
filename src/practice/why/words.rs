//! Replays and facts in words.

use super::facts::Facts;
use super::run::Run;
use super::{Amount, Change, Scene, TOLD};
use crate::table::TableCard;
use crate::units::degrees;

/// A smaller bend is none: the ball kept to the tangent line, rad.
const STRAIGHT: f64 = 0.05;

/// An angle, in whole degrees from ten on.
pub fn angle(angle: f64) -> String {
    let value = degrees(angle).abs();
    if value < 9.95 { format!("{value:.1}°") } else { format!("{value:.0}°") }
}

/// A distance in diamonds, or in balls if it is less than one: "1 diamond", "3.4 balls".
pub fn distance(card: &TableCard, distance: f64) -> String {
    let diamonds = distance / (card.length / 8.0);
    let (number, unit) = if diamonds < 1.0 {
        (distance / (2.0 * card.ball.radius), "ball")
    } else {
        (diamonds, "diamond")
    };
    let tenths = (10.0 * number).round() / 10.0;
    format!("{tenths} {unit}{}", if tenths == 1.0 { "" } else { "s" })
}

/// An amount, short.
pub(super) fn amount(card: &TableCard, amount: Amount) -> String {
    match amount {
        Amount::Turned(turn) => angle(turn),
        Amount::Moved(way) => distance(card, way),
        Amount::Nothing => "the same".into(),
    }
}

/// What differs by it: "heading by 11°".
pub(super) fn differs(told: &Told) -> String {
    let Told { scene, change, amount, text, .. } = *told;
    match (amount, change) {
        (Amount::Nothing, _) => text.to_owned(),
        (Amount::Moved(_), _) => format!("stop by {text}"),
        (Amount::Turned(_), Change::NaturalRoll) => format!("heading by {text}"),
        (Amount::Turned(_), Change::NoThrow) => format!("the {} by {text}", scene.first),
        (Amount::Turned(_), Change::NoSide | Change::MirrorCushion) => {
            format!("rebound by {text}")
        }
    }
}

/// What sentences are made from.
pub(super) struct Told<'a> {
    pub scene: &'a Scene<'a>,
    pub change: Change,
    pub amount: Amount,
    pub run: &'a Run,
    pub text: &'a str,
}

/// What a replay shows.
pub(super) fn sentence(told: &Told) -> String {
    let mut said = main(told);
    if told.change != Change::MirrorCushion && told.amount != Amount::Nothing {
        said += &aftermath(told);
    }
    said
}

fn main(told: &Told) -> String {
    let Told { scene, change, amount, run, text } = *told;
    let first = scene.first;
    match (change, amount) {
        (Change::NoSide, Amount::Nothing) => "Side makes no difference here.".into(),
        (Change::NaturalRoll, Amount::Nothing) => {
            "Natural roll makes no difference: it goes as good as there.".into()
        }
        (Change::NoThrow, Amount::Nothing) => "Throw makes no difference here.".into(),
        (Change::MirrorCushion, Amount::Nothing) if scene.facts.rebounds.is_empty() => {
            "It meets no cushion.".into()
        }
        (Change::MirrorCushion, Amount::Nothing) => {
            "The first cushion gives it back as a mirror would.".into()
        }
        (Change::NoSide, Amount::Turned(_)) => match scene.squares(run) {
            Some((rail, was, without)) => {
                let (was, without) = (angle(was), angle(without));
                format!(
                    "Side turned it by {text} at the {rail} rail: it left at {was} from square, \
                     without side at {without}."
                )
            }
            None => format!("Side turned it by {text}."),
        },
        (Change::NoSide, Amount::Moved(_)) => format!("Side moved the stop by {text}."),
        (Change::NaturalRoll, Amount::Turned(_)) => {
            let approach = scene.contact.approach;
            let off = |run: &Run| {
                let way = run.leg_from(scene.contact.cue, 0.0)?.way()?;
                Some(angle(crate::geometry::angle_between(approach, way)))
            };
            match off(run).zip(off(scene.real)) {
                Some((rolling, was)) => format!(
                    "Rolling, it leaves at {rolling} to the line of the shot; as struck it left \
                     at {was}."
                ),
                None => format!("Natural roll turns it by {text}."),
            }
        }
        (Change::NaturalRoll, Amount::Moved(_)) => {
            format!("Natural roll moves the stop by {text}.")
        }
        (Change::NoThrow, Amount::Turned(_)) => format!("Throw turned the {first} by {text}."),
        (Change::NoThrow, Amount::Moved(_)) => {
            format!("Friction between the balls moved the stop by {text}.")
        }
        (Change::MirrorCushion, _) => match scene.facts.rebounds.first() {
            Some(rebound) => {
                let (rail, came) = (rebound.rail, angle(rebound.came));
                let left = rebound.left.map_or_else(|| text.to_owned(), angle);
                format!(
                    "It met the {rail} rail at {came} from square and left at {left}: a mirror keeps the angle."
                )
            }
            None => "It meets no cushion.".into(),
        },
    }
}

/// What else is different: pockets and balls.
fn aftermath(told: &Told) -> String {
    let Told { scene, change, run, .. } = *told;
    let (cue, object) = (scene.contact.cue, scene.contact.object);
    let mut said = String::new();
    if change == Change::NoThrow {
        let first = scene.first;
        match (scene.real.pocket(object), run.pocket(object)) {
            (Some(_), None) => said += &format!(" Without it the {first} is missed."),
            (None, Some(pocket)) => {
                said += &format!(" Without it the {first} falls into the {pocket} pocket.");
            }
            _ => {}
        }
    }
    match (scene.real.pocket(cue), run.pocket(cue)) {
        (None, Some(pocket)) => {
            said += &format!(" The cue ball would scratch in the {pocket} pocket.")
        }
        (Some(_), None) => said += " The cue ball would not scratch.",
        _ => {}
    }
    let was: Vec<_> = scene.real.met().collect();
    if let Some(other) = run.met().find(|id| !was.contains(id)) {
        said += &format!(" It would meet the {other}.");
    }
    said
}

/// The facts, each a name and a value.
pub(super) fn lines(facts: &Facts) -> Vec<(String, String)> {
    let mut lines = Vec::new();
    if let Some(tangent) = facts.tangent {
        lines.push(("tangent line".to_owned(), format!("{} to the shot", angle(tangent))));
    }
    if let Some(bend) = facts.bend {
        let (name, value) = if bend.abs() < STRAIGHT {
            ("stun", "along the tangent".to_owned())
        } else if bend > 0.0 {
            ("follow bent it", format!("{} forward", angle(bend)))
        } else {
            ("draw bent it", format!("{} back", angle(bend)))
        };
        lines.push((name.to_owned(), value));
    }
    let slid = match facts.slid {
        Some(way) if way > 0.005 => format!("after {:.0} cm", 100.0 * way),
        Some(_) => "at the contact".to_owned(),
        None => "not before it met something".to_owned(),
    };
    lines.push(("sliding ended".to_owned(), slid));
    for rebound in &facts.rebounds {
        if let (Some(left), Some(without)) = (rebound.left, rebound.without_side) {
            let mut value = format!("{} from square", angle(left));
            if (left - without).abs() >= TOLD {
                value += &format!(", without side {}", angle(without));
            }
            lines.push((format!("off the {} rail", rebound.rail), value));
        }
    }
    lines
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::table::TableSize;

    #[test]
    fn one_is_one_and_whole_numbers_are_whole() {
        let card = TableCard::of_size(TableSize::NineFoot);
        let (ball, diamond) = (2.0 * card.ball.radius, card.length / 8.0);
        let said = |by: f64| distance(&card, by);
        assert_eq!(said(ball), "1 ball", "one ball");
        assert_eq!(said(3.04 * ball), "3 balls", "rounded to tenths");
        assert_eq!(said(3.4 * ball), "3.4 balls", "with its tenth");
        assert_eq!(said(1.02 * diamond), "1 diamond", "one diamond");
        assert_eq!(said(2.6 * diamond), "2.6 diamonds", "and more");
    }
}
