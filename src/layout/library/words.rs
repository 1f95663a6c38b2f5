//! The notes of the library, made from what happens when an item is played as it is meant:
//! the skill, the path, and what goes wrong.

use super::Skill;
use super::read::Known;
use crate::physics::EventKind;
use crate::practice::set::Meant;
use crate::practice::{
    CallPoint, Change, CuePath, Rebound, Touch, angle_in_words, capital, distance_in_words,
    place_in_words, point_in_words, snap,
};
use crate::table::{PocketId, Rail, Surface, TableCard, TableShape};
use crate::units::degrees;

/// A stop that moves by less than this says nothing, m.
const STILL: f64 = 0.02;

/// A stop that moves by so much more than its path is longer or shorter lies beside it (tuning
/// choice).
const BESIDE: f64 = 0.6;

/// From here on so much of a diamond is one.
const ROUNDED: f64 = 0.95;

/// The name of an item, which gives nothing of its path away and fits a line of the list:
/// "The 5, foot-left, cut 34°".
pub(super) fn title_of(meant: &Meant) -> String {
    let to = pocket_of(meant).map_or(String::new(), |pocket| format!(", {pocket}"));
    format!("The {}{to}, cut {:.0}°", meant.truth.first, degrees(meant.truth.cut()).abs())
}

/// Where the ball that is met first falls.
pub(super) fn pocket_of(meant: &Meant) -> Option<PocketId> {
    meant.outcome.events.iter().find_map(|event| match event.kind {
        EventKind::Pocketed(pocket) if event.ball == meant.truth.first => Some(pocket),
        _ => None,
    })
}

/// A note of three lines.
pub(super) fn note(skill: &str, path: &str, trap: &str) -> String {
    let [skill, path, trap] = [skill, path, trap].map(capital);
    format!("Skill: {skill}\nPath: {path}\nTrap: {trap}")
}

/// The cue ball's path: the rails with their diamonds, and the stop. Once it is said from where
/// the diamonds of a short rail count.
pub(super) fn path_in_words(card: &TableCard, truth: &CuePath) -> String {
    let mut words = String::new();
    let mut is_said = false;
    for (rail, touch) in truth.rail_touches() {
        let point = CallPoint { position: touch.position, rail: Some(rail) };
        let is_short = matches!(rail, Rail::Head | Rail::Foot);
        let from = if is_short && !is_said { " from the right" } else { "" };
        is_said |= is_short;
        words += &format!("{}{from}; then ", point_in_words(card, &point));
    }
    match truth.pocketed {
        Some(pocket) => words + &format!("it falls into the {pocket} pocket"),
        None if words.is_empty() => {
            format!("no rail; it stops at {}", place_in_words(card, truth.stop))
        }
        None => words + &format!("it stops at {}", place_in_words(card, truth.stop)),
    }
}

/// What becomes of a path whose speed is off.
enum OffSpeed {
    /// It stops elsewhere, so far away, m, and rather beside its line than along it or not.
    Stops(f64, bool),
    /// Something else.
    Does(String),
}

/// What goes wrong with a tenth more or less of the speed.
fn off_speed(meant: &Meant, other: Option<&Meant>) -> OffSpeed {
    let truth = &meant.truth;
    let Some(other) = other.filter(|other| pocket_of(other) == pocket_of(meant)) else {
        return OffSpeed::Does(format!("the {} is missed", truth.first));
    };
    let other = &other.truth;
    if let Some(pocket) = other.pocketed {
        return OffSpeed::Does(format!("it scratches in the {pocket} pocket"));
    }
    let rails = |path: &CuePath| path.rail_touches().map(|(rail, _)| rail).collect::<Vec<Rail>>();
    let (was, is) = (rails(truth), rails(other));
    let jaws = |path: &CuePath| -> Vec<PocketId> {
        let jaw = |touch: &Touch| match touch.surface {
            Surface::Pocket(pocket) => Some(pocket),
            Surface::Rail(_) => None,
        };
        path.touches.iter().filter_map(jaw).collect()
    };
    if let Some(pocket) = jaws(other).get(jaws(truth).len()) {
        return OffSpeed::Does(format!("it runs into a jaw of the {pocket} pocket"));
    }
    let moved = other.stop.distance(truth.stop);
    if is.len() > was.len() && is.starts_with(&was) {
        return OffSpeed::Does(format!("it goes on to the {} rail", is[was.len()]));
    }
    if is.len() < was.len() && was.starts_with(&is) {
        return OffSpeed::Does(format!("it does not meet the {} rail", was[is.len()]));
    }
    if moved < STILL {
        return OffSpeed::Does("it stops in the same place".to_owned());
    }
    let along = (other.length() - truth.length()).abs();
    OffSpeed::Stops(moved, along < BESIDE * moved)
}

/// Both, in one sentence.
fn long_and_short(known: &Known) -> String {
    let card = &known.meant.shot.card;
    let offs = [&known.long, &known.short].map(|other| off_speed(&known.meant, other.as_ref()));
    let farthest = offs.iter().map(|off| if let OffSpeed::Stops(by, _) = off { *by } else { 0.0 });
    let diamond = card.length / 8.0;
    let is_in_diamonds = farthest.fold(0.0, f64::max) >= diamond;
    let told = |off: &OffSpeed, how: &str| match off {
        OffSpeed::Does(what) => what.clone(),
        // Both in one unit.
        OffSpeed::Stops(by, is_beside) => {
            let how = if *is_beside { "to one side" } else { how };
            let least = if is_in_diamonds { diamond } else { 0.0 };
            if *by < ROUNDED * least {
                return format!("it stops {:.1} diamonds {how}", by / diamond);
            }
            format!("it stops {} {how}", distance_in_words(card, by.max(least)))
        }
    };
    let [long, short] = &offs;
    let (long, short) = (told(long, "long"), told(short, "short"));
    format!("With a tenth more speed {long}; with a tenth less {short}.")
}

/// Where the tangent line leads that does not lead where the path goes: "; it points at the
/// left rail".
fn tangent_leads(meant: &Meant) -> String {
    let Meant { shot, truth, tangent_end, .. } = meant;
    let (card, ball) = (&shot.card, 2.0 * shot.card.ball.radius);
    let shape = TableShape::new(card);
    let mut mouths = shape
        .pockets
        .iter()
        .map(|pocket| (pocket, tangent_end.distance(pocket.mouth_middle) - 0.5 * pocket.mouth));
    if let Some((pocket, beside)) = mouths.find(|(_, beside)| *beside < ball) {
        let what = if beside < -0.5 * ball { "into" } else { "at a jaw of" };
        return format!("; it points {what} the {} pocket", pocket.id);
    }
    let rail = snap(card, *tangent_end, ball, true).rail;
    let first = truth.rail_touches().map(|(rail, _)| rail).next();
    match rail.filter(|rail| Some(*rail) != first) {
        Some(rail) => format!("; it points at the {rail} rail"),
        None => String::new(),
    }
}

/// The note of a heading.
pub(super) fn heading(known: &Known, skill: Skill) -> String {
    let (card, truth) = (&known.meant.shot.card, &known.meant.truth);
    let first = truth.first;
    let tangent = known.why.facts.tangent.map_or(String::new(), angle_in_words);
    let bend = known.why.facts.bend.map_or(String::new(), angle_in_words);
    let slid = match known.why.facts.slid {
        Some(way) if way > STILL => format!(" over {:.0} cm", 100.0 * way),
        _ => String::new(),
    };
    let told = match skill {
        Skill::Stun => format!(
            "the cue ball's heading with stun. {} Hardly any spin is left at the {first}, so the cue ball keeps \
             within {:.0}° of the tangent line, {tangent} from the line of the shot.",
            known.meant.words,
            known.bend().abs().ceil().max(1.0)
        ),
        Skill::Draw => format!(
            "the cue ball's heading with draw. {} It leaves along the tangent line, {tangent} from the line of \
             the shot, and bends back by {bend}{slid}.",
            known.meant.words
        ),
        _ => format!(
            "the cue ball's heading with natural roll. {} It leaves along the tangent line, {tangent} from the \
             line of the shot, and bends forward by {bend}{slid}.",
            known.meant.words
        ),
    };
    let trap = match skill {
        Skill::Roll | Skill::Draw => format!(
            "calling the tangent line, as for stun, is {bend} out{}. {}",
            tangent_leads(&known.meant),
            long_and_short(known)
        ),
        _ => {
            let off =
                known.why.facts.tangent.zip(known.why.facts.bend).map(|(line, bend)| line - bend);
            let rolls =
                off.zip(known.turned(Change::NaturalRoll)).map_or(String::new(), |(off, by)| {
                    let [off, rolling] = [off, off - by].map(angle_in_words);
                    format!(
                        " Rolling, it would leave at {rolling} from the line of the shot, not at \
                         {off}."
                    )
                });
            format!("taking the cue ball for one that rolls.{rolls} {}", long_and_short(known))
        }
    };
    note(&told, &format!("{}.", path_in_words(card, truth)), &trap)
}

/// " The left rail sends it off at 54° from square; without side, at 34°.".
fn by_side(rebound: &Rebound) -> String {
    let Some((left, without)) = rebound.left.zip(rebound.without_side) else {
        return String::new();
    };
    let rail = rebound.rail;
    let turns_back = left * without < 0.0;
    let [left, without] = [left, without].map(angle_in_words);
    if turns_back {
        return format!(
            " At the {rail} rail side turns the cue ball back: {left} to one side of square, where \
             without side it goes {without} to the other."
        );
    }
    format!(" The {rail} rail sends it off at {left} from square; without side, at {without}.")
}

/// " It comes to the foot rail at 49° from square and leaves at 53°.".
fn by_itself(rebound: &Rebound) -> String {
    let Some(left) = rebound.left else { return String::new() };
    let [came, left] = [rebound.came, left].map(angle_in_words);
    format!(" It comes to the {} rail at {came} from square and leaves at {left}.", rebound.rail)
}

/// " At the foot rail that misleads most: it comes at 49° from square and leaves at 53°, which
/// is 3.1 balls out by the left rail.".
fn where_misled(known: &Known) -> String {
    let rebounds = &known.why.facts.rebounds;
    let Some((at, out)) = known.misled() else { return String::new() };
    let Some((came, left)) = rebounds[at].left.map(|left| (rebounds[at].came, left)) else {
        return String::new();
    };
    let [came, left] = [came, left].map(angle_in_words);
    let by = rebounds.get(at + 1).map_or("stop".to_owned(), |next| format!("{} rail", next.rail));
    let out = distance_in_words(&known.meant.shot.card, out);
    format!(
        " That misleads most at the {} rail: it comes at {came} from square and leaves at {left}, \
         which alone is {out} out by the {by}.",
        rebounds[at].rail
    )
}

/// The note of an item with side.
pub(super) fn off_side(known: &Known) -> String {
    let Meant { shot, truth, words, .. } = &known.meant;
    let hand = if shot.stroke.side > 0.0 { "right" } else { "left" };
    note(
        &format!("{hand} side at the cushion. {words}"),
        &format!("{}.", path_in_words(&shot.card, truth)),
        &format!(
            "forgetting the side.{} {}",
            known.most_sided().map_or(String::new(), |(rebound, _)| by_side(rebound)),
            long_and_short(known)
        ),
    )
}

/// The note of an item off cushions, or of one for speed.
pub(super) fn after_cushions(known: &Known, skill: Skill) -> String {
    let Meant { shot, truth, words, .. } = &known.meant;
    let way = distance_in_words(&shot.card, truth.length());
    let n = truth.rail_touches().count();
    let told = match (skill, n) {
        (Skill::Speed, 0) => {
            format!(
                "speed, how far the cue ball goes. {words} From the {} it goes {way}.",
                truth.first
            )
        }
        (Skill::Speed, _) => format!(
            "speed, how far the cue ball goes. {words} From the {} it goes {way}, rails included.",
            truth.first
        ),
        (_, 1) => format!("the path off one cushion. {words}"),
        (_, n) => {
            let n = if n == 2 { "two" } else { "three" };
            format!("the path off {n} cushions, in order. {words}")
        }
    };
    let astray = distance_in_words(&shot.card, known.astray(Change::MirrorCushion));
    let trap = match skill {
        Skill::Speed => long_and_short(known),
        _ if n > 1 => format!(
            "calling equal angles off the rails.{} {}",
            where_misled(known),
            long_and_short(known)
        ),
        _ => format!(
            "calling equal angles off the cushion.{} Equal angles are up to {astray} out. {}",
            known.first_cushion().map_or(String::new(), by_itself),
            long_and_short(known)
        ),
    };
    note(&told, &format!("{}.", path_in_words(&shot.card, truth)), &trap)
}
