//! What an estimate asks, in a sentence.

use super::{Estimate, EyeItem, Handle, Sight};
use crate::practice::stroke_words::side_in_words;

/// What is asked.
pub fn task_of_eye(item: &EyeItem, sight: &Sight) -> String {
    let first = sight.first.map_or_else(String::new, |ball| ball.to_string());
    match (item.estimate, &sight.handle) {
        (Estimate::Tangent, _) => {
            format!("Stun: no spin is left at the {first}. Which way does the cue ball go off it?")
        }
        (Estimate::Roll, _) => {
            format!("The cue ball rolls into the {first}. Which way does it go on?")
        }
        (Estimate::Draw, _) => {
            format!(
                "Full draw: the cue ball meets the {first} with as much backspin as a rolling \
                 ball has topspin. Which way does it go?"
            )
        }
        (Estimate::Cut, _) => format!("Hit along this line, which way does the {first} go?"),
        (Estimate::Distance, _) => {
            format!("The cue ball rolls into the {first}. How far does it run from there?")
        }
        (_, Handle::OnRail { rail, .. }) => {
            let side = side_in_words(&item.shot.stroke);
            format!("{side}, round the table. Where does it meet its third rail, the {rail} rail?")
        }
        (Estimate::Side, _) => {
            let side = side_in_words(&item.shot.stroke);
            format!("{side} into the cushion. At what angle does the cue ball leave it?")
        }
        _ => "No side. At what angle does the cue ball leave the cushion?".to_owned(),
    }
}
