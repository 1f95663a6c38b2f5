//! A stroke and a deal in words.

use crate::physics::Stroke;
use crate::table::{TableCard, TableSize};
use crate::units::degrees;

/// A tip, as a fraction of the radius (tuning choice).
pub const TIP: f64 = 0.25;

/// Less than this off the middle is not worth a word.
const LEAST: f64 = TIP / 8.0;

/// Tips in words.
fn tips(offset: f64) -> String {
    let quarters = (4.0 * offset.abs() / TIP).round() as u32;
    let parts = ["", "¼", "½", "¾"][(quarters % 4) as usize];
    match (quarters / 4, quarters % 4) {
        (0, 2) => "half a tip".into(),
        (0, _) => format!("{parts} tip"),
        (1, 0) => "a tip".into(),
        (whole, _) => format!("{whole}{parts} tips"),
    }
}

/// Where the tip meets the cue ball: "A tip low, half a tip left".
fn contact(stroke: &Stroke) -> String {
    let part = |offset: f64, positive: &str, negative: &str| {
        (offset.abs() >= LEAST)
            .then(|| format!("{} {}", tips(offset), if offset > 0.0 { positive } else { negative }))
    };
    match (part(stroke.height, "high", "low"), part(stroke.side, "right", "left")) {
        (None, None) => "Centre ball".into(),
        (Some(height), None) => capital(&height),
        (None, Some(side)) => capital(&side),
        (Some(height), Some(side)) => format!("{}, {side}", capital(&height)),
    }
}

/// The side of a stroke: "Half a tip of right side", "Without side".
pub(super) fn side_in_words(stroke: &Stroke) -> String {
    if stroke.side.abs() < LEAST {
        return "Without side".into();
    }
    let hand = if stroke.side > 0.0 { "right" } else { "left" };
    capital(&format!("{} of {hand} side", tips(stroke.side)))
}

/// The text with its first letter large.
pub(crate) fn capital(text: &str) -> String {
    let mut letters = text.chars();
    letters.next().map_or_else(String::new, |first| {
        first.to_uppercase().collect::<String>() + letters.as_str()
    })
}

/// A share in whole percents.
pub(crate) fn whole_percent(share: f64) -> f64 {
    libm::round(100.0 * share)
}

/// The same with its sign: "45 %".
pub(crate) fn percent(share: f64) -> String {
    format!("{} %", whole_percent(share))
}

/// The stroke in a few words: tip, cut (rad, positive to the left), speed in table
/// lengths, and the cue's elevation where it is more than the least that is usual.
pub fn stroke_in_words(stroke: &Stroke, cut: f64, lengths: f64) -> String {
    let angle = degrees(cut).abs().round();
    let cut = match (angle, cut > 0.0) {
        (0.0, _) => "Full".to_string(),
        (_, true) => format!("Cut {angle}° left"),
        (_, false) => format!("Cut {angle}° right"),
    };
    format!("{}. {cut}, {}.{}", contact(stroke), in_lengths(lengths), raised(stroke))
}

/// The stroke in a few words where no cut is to be told: tip, speed in table lengths, and
/// the cue's elevation.
pub fn tip_in_words(stroke: &Stroke, lengths: f64) -> String {
    format!("{}, {}.{}", contact(stroke), in_lengths(lengths), raised(stroke))
}

fn in_lengths(lengths: f64) -> String {
    let lengths = (10.0 * lengths).round() / 10.0;
    format!("{lengths} {}", if lengths == 1.0 { "length" } else { "lengths" })
}

fn raised(stroke: &Stroke) -> String {
    let raised = degrees(stroke.elevation);
    if raised >= 5.0 { format!(" Cue raised {}°.", raised.round()) } else { String::new() }
}

/// The table card in a few words.
pub fn card_in_words(card: &TableCard) -> String {
    let size = match card.size {
        TableSize::NineFoot => "Nine-foot",
        TableSize::EightFoot => "Eight-foot",
        TableSize::SevenFoot => "Seven-foot",
    };
    let own = *card != TableCard::of_size(card.size);
    format!("{size}, {}", if own { "own settings" } else { "default cloth" })
}

/// A seed as a short code to read out: seven letters and digits without those that
/// look alike.
pub fn deal_code(seed: u32) -> String {
    const LETTERS: &[u8; 32] = b"23456789ABCDEFGHJKLMNPQRSTUVWXYZ";
    (0..7).rev().map(|k| char::from(LETTERS[(u64::from(seed) >> (5 * k)) as usize % 32])).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn strokes_are_said_as_players_say_them() {
        let stroke =
            Stroke { azimuth: 0.0, elevation: 0.02, speed: 1.8, side: -0.125, height: -0.25 };
        let words = stroke_in_words(&stroke, 0.47, 3.31);
        assert_eq!(words, "A tip low, half a tip left. Cut 27° left, 3.3 lengths.");
        let plain = Stroke { side: 0.0, height: 0.0, elevation: 0.12, ..stroke };
        let words = stroke_in_words(&plain, 0.0, 1.0);
        assert_eq!(words, "Centre ball. Full, 1 length. Cue raised 7°.");
        let high = Stroke { side: 0.3, height: 0.4, ..stroke };
        let words = stroke_in_words(&high, -0.1, 2.0);
        assert_eq!(words, "1½ tips high, 1¼ tips right. Cut 6° right, 2 lengths.");
    }

    #[test]
    fn codes_tell_seeds_apart() {
        assert_eq!(deal_code(0), "2222222", "the first letter is zero");
        assert_eq!(deal_code(33), "2222233", "and counts up from the right");
        assert_eq!(deal_code(u32::MAX).len(), 7, "every seed has seven");
    }
}
