//! Clear in words.

use crate::physics::MODEL_VERSION;
use crate::plan::{
    BallSet, BreakOut, Called, Depth, Game, KeyBall, Link, Over, Race, Second, Way, Wrong,
};
use crate::practice::ClearItem;
use crate::practice::read::older;
use crate::practice::stroke_words::percent;
use crate::shot::Chance;

/// "the 1, the 2 and the 5".
fn list(balls: BallSet) -> String {
    let names: Vec<String> = balls.balls().map(|ball| format!("the {ball}")).collect();
    match names.split_last() {
        Some((last, [])) => last.clone(),
        Some((last, others)) => format!("{} and {last}", others.join(", ")),
        None => String::new(),
    }
}

/// What is to be done, in a few sentences.
pub fn clear_in_words(item: &ClearItem) -> String {
    let on_table: BallSet = item.shot.balls.iter().map(|ball| ball.id).collect();
    let mut words = match item.game {
        Game::Rotation => format!("Clear {}, lowest first.", list(on_table)),
        Game::Group { group, last } => match group.and(on_table) {
            BallSet::NONE => format!("Pot the {last}."),
            group if group.len() == 1 => format!("Clear {}, then the {last}.", list(group)),
            group => format!("Clear {} in any order, then the {last}.", list(group)),
        },
    };
    for Link { from, to, cushions, side } in &item.links {
        if !on_table.has(*to) {
            continue;
        }
        words += &match (cushions, side) {
            (0, Some(side)) => {
                format!(" From the {from} come to the {} side of the {to}.", side.name())
            }
            (n, side) => {
                let rails = if *n == 1 { "one rail" } else { &format!("{n} rails") };
                let side =
                    side.map_or(String::new(), |side| format!(", on its {} side", side.name()));
                format!(" From the {from} to the {to} go off at least {rails}{side}.")
            }
        };
    }
    if let Some(key) = item.key.filter(|key| on_table.has(*key)) {
        words += &format!(" Keep the {key} for just before the last.");
    }
    words
}

/// What to know of `item` if an older version of the model made it.
pub fn notice_for(item: &ClearItem) -> Option<String> {
    older(item.model, MODEL_VERSION)
}

/// How many of the runs that were played out were cleared; the low end of the interval of
/// 95 % comes first, for it is what may be relied on.
pub fn runs_in_words(cleared: u32, runs: u32, chance: &Chance) -> String {
    format!(
        "At least {}: played out, {cleared} of {runs} were cleared ({} to {}).",
        percent(chance.low),
        percent(chance.low),
        percent(chance.high)
    )
}

/// By which way the plan plays, and what the race between the ways has shown.
pub fn race_in_words(race: &Race, ways: &[Way]) -> String {
    let n = ways.len();
    let look = |way: usize| match ways.get(way).map(|way| way.depth) {
        Some(Depth::Pot) => "takes the likeliest pot",
        Some(Depth::Next) => "looks one ball ahead",
        _ => "looks all ahead",
    };
    let taken = race.taken();
    if taken <= 1 {
        let look = look(taken);
        return format!("It {look}: of {n} ways to play none was surely better.");
    }
    let tally = |way| {
        let (cleared, runs) = race.tally(way);
        format!("{cleared} of {runs}")
    };
    let plain = race.plain();
    format!(
        "Of {n} ways to play it cleared most: {} runs, {} one who {}. After its first shot it {}.",
        tally(taken),
        tally(plain),
        look(plain),
        look(taken)
    )
}

/// Why a run is over.
pub fn over_in_words(over: Over) -> &'static str {
    match over {
        Over::Cleared => "Cleared.",
        Over::Missed => "Missed: the run is over.",
        Over::Scratched => "Scratch: the run is over.",
        Over::WrongBall => "The cue ball met the wrong ball first: the run is over.",
        Over::LastBallEarly => "The last ball fell too early: the run is over.",
        Over::NotAsAsked => "The task on the way was not done: the run is over.",
        Over::Stuck => "No shot pots from here.",
    }
}

/// " The 4 fell, too.", for what nobody called; nothing where nothing did.
pub fn also_fell_in_words(balls: BallSet) -> String {
    let named = list(balls);
    named.strip_prefix('t').map_or_else(String::new, |rest| format!(" T{rest} fell, too."))
}

/// "The 3 in the foot-left pocket".
pub fn shot_in_words(called: Called) -> String {
    format!("The {} in the {} pocket", called.ball, called.pocket)
}

/// "Breaks out the 5 and the 6; the 3 is the insurance."
pub fn break_out_in_words(broken: &BreakOut) -> String {
    let freed = list(broken.freed);
    match broken.insurance {
        Some(ball) => format!("Breaks out {freed}; the {ball} is the insurance."),
        None => format!("Breaks out {freed}."),
    }
}

/// What to do after a leave that went wrong.
pub fn second_in_words(second: &Second) -> String {
    let wrong = match second.wrong {
        Wrong::Long => "Long",
        Wrong::Short => "Short",
        Wrong::Side => "On the wrong side",
    };
    match second.then {
        Some(then) => {
            let Called { ball, pocket } = then.called;
            format!("{wrong}: the {ball} in the {pocket} pocket, {}.", percent(then.worth))
        }
        None => format!("{wrong}: no shot pots from there."),
    }
}

/// What makes a ball the key ball, against the next best one.
pub fn key_in_words(keys: &[KeyBall]) -> Option<String> {
    let best = keys.first()?;
    let two = format!(
        "From the best leave on it you clear {}, from an average one {}",
        percent(best.two.1),
        percent(best.two.0)
    );
    Some(match keys.get(1) {
        // What rounds to the same is not told apart.
        Some(other) if percent(other.all) == percent(best.all) => {
            format!("No key ball stands out: the {} and the {} do as well.", best.ball, other.ball)
        }
        Some(other) => format!(
            "Key ball: the {}. Kept for just before the last it gives {}, the {} {}. {two}.",
            best.ball,
            percent(best.all),
            other.ball,
            percent(other.all)
        ),
        None => format!("Key ball: the {}. {two}.", best.ball),
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::ball::BallId;

    #[test]
    fn a_key_ball_is_named_where_it_is_better() {
        let key = |number, all| KeyBall {
            ball: BallId::object(number).expect("a ball"),
            all,
            two: (0.5, 0.9),
        };
        let told = key_in_words(&[key(3, 0.62), key(5, 0.48)]).expect("two to choose from");
        assert!(told.starts_with("Key ball: the 3. Kept for"), "{told}");
        let alike = key_in_words(&[key(3, 0.624), key(5, 0.621)]).expect("two to choose from");
        assert_eq!(alike, "No key ball stands out: the 3 and the 5 do as well.");
        assert_eq!(key_in_words(&[]), None, "one ball alone");
    }
}
