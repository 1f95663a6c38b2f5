//! Which candidates make the sets.

use super::{Candidate, Skill, Wish};
use crate::error::Error;
use crate::order::sort_by_number;
use crate::practice::set::{Entry, ItemSet};

/// Items of a set.
pub const ITEMS: usize = 10;

/// A set opens with an item whose ball is potted so often (tuning choice: nobody warms up with
/// a long thin cut).
const OPENS: f64 = 0.85;

/// What takes an opener's place has no thinner cut, rad (tuning choice).
const OPENS_WITHIN: f64 = std::f64::consts::FRAC_PI_4;

/// What was chosen, looked at on the Bench, each by itself, and given up for another of its
/// difficulty: openers that nobody warms up with, twins to the eye though by no rule, pots that
/// outweigh what the set is about, and a stop that a strong player would not choose.
const GIVEN_UP: [(Skill, Wish); 17] = [
    (Skill::OneCushion, Wish::Read(2, 3_859_079)),
    (Skill::OneCushion, Wish::Read(3, 4_388_047)),
    (Skill::Roll, Wish::Read(2, 1_454_679)),
    (Skill::Side, Wish::Read(4, 4_129_574)),
    (Skill::Side, Wish::Read(4, 3_624_650)),
    (Skill::Side, Wish::Read(5, 2_085_834)),
    (Skill::Side, Wish::Read(4, 84_171)),
    (Skill::Stun, Wish::Read(2, 2_572_725)),
    (Skill::ThreeCushions, Wish::Read(4, 1_033_909)),
    (Skill::Speed, Wish::Read(3, 1_839_383)),
    (Skill::Speed, Wish::Read(3, 865_601)),
    (Skill::Zone, Wish::Leave(3, 125_104)),
    (Skill::Zone, Wish::Leave(3, 40_053)),
    (Skill::Zone, Wish::Leave(5, 15_038)),
    (Skill::Zone, Wish::Leave(1, 25_044)),
    (Skill::Order, Wish::Clear(3, 9332, 3)),
    (Skill::Order, Wish::Clear(6, 24_464, 4)),
];

/// How much more is called alike than what a player takes for a twin, if ten are left then: the
/// more the better, and less only where so few are left, as off one cushion (tuning choices, as
/// is how much it counts that others must give way; the last still tells the one pair of twins
/// off one cushion).
const STRICT: [f64; 6] = [2.0, 1.75, 1.5, 1.25, 1.0, 0.75];
const GIVE_WAY: [usize; 3] = [1, 4, 16];

/// The same for what takes another's place, where nothing else is left (tuning choice: what is
/// taken so is looked at, too).
const LAX: [f64; 2] = [0.6, 0.5];

/// Chooses what makes each set from all candidates, which must come in the order of
/// [`wishes`](super::wishes): of those of a skill, sorted by difficulty, as many as a set has,
/// evenly from the easiest to the hardest, none that looks like another of the set, and all
/// as different as there are candidates for; then others for those that are given up. No item is
/// in two sets.
///
/// # Errors
/// [`Error::Invalid`] if a skill has fewer than it needs.
pub fn choose(candidates: &[Candidate]) -> Result<Vec<(Skill, Vec<&Candidate>)>, Error> {
    let mut taken: Vec<Wish> = Vec::new();
    let chosen: Result<Vec<_>, Error> = Skill::ALL
        .into_iter()
        .map(|skill| {
            let free = free(candidates, skill, &taken);
            let ways = STRICT.into_iter().flat_map(|by| GIVE_WAY.map(|weight| (by, weight)));
            let mut tries = ways.map(|(by, weight)| evenly(&free, by, weight));
            let enough = tries.find(|chosen| chosen.len() == ITEMS);
            let chosen =
                enough.unwrap_or_else(|| evenly(&free, STRICT[STRICT.len() - 1], GIVE_WAY[0]));
            if chosen.len() < ITEMS {
                let rule = format!("has {} of {ITEMS} items, of {}", chosen.len(), free.len());
                return Err(Error::invalid(skill.name(), rule));
            }
            taken.extend(chosen.iter().map(|one| one.wish));
            Ok((skill, chosen))
        })
        .collect();
    let mut chosen = chosen?;
    // Once all are chosen, so that nothing else changes.
    for (skill, set) in &mut chosen {
        replace_given_up(*skill, set, candidates, &mut taken)?;
    }
    Ok(chosen)
}

/// The candidates of a skill that are not taken, by difficulty.
fn free<'a>(candidates: &'a [Candidate], skill: Skill, taken: &[Wish]) -> Vec<&'a Candidate> {
    let is_free = |one: &&Candidate| one.skill == skill && !taken.contains(&one.wish);
    let mut free: Vec<&Candidate> = candidates.iter().filter(is_free).collect();
    sort_by_number(&mut free, |one| one.difficulty);
    free
}

/// Puts in the place of what is given up of a set the candidate that is nearest in difficulty
/// and looks like none of the others, if it can be in the same place of the row.
fn replace_given_up<'a>(
    skill: Skill,
    set: &mut Vec<&'a Candidate>,
    candidates: &'a [Candidate],
    taken: &mut Vec<Wish>,
) -> Result<(), Error> {
    for (_, wish) in GIVEN_UP.iter().filter(|(of, _)| *of == skill) {
        let Some(at) = set.iter().position(|one| one.wish == *wish) else { continue };
        let gone = set.remove(at);
        let opens = |one: &Candidate| one.potted >= OPENS && one.places.cut.abs() <= OPENS_WITHIN;
        let begins_well = |one: &Candidate| {
            at > 0 || opens(if one.difficulty <= set[0].difficulty { one } else { set[0] })
        };
        let mut near = free(candidates, skill, taken);
        near.retain(|one| !GIVEN_UP.contains(&(skill, one.wish)) && begins_well(one));
        sort_by_number(&mut near, |one| (one.difficulty - gone.difficulty).abs());
        let differs = |one: &Candidate, by: f64| {
            set.iter().all(|other| !one.places.are_like(&other.places, by))
        };
        let mut ways = STRICT.iter().chain(&LAX);
        let found = ways.find_map(|&by| near.iter().find(|one| differs(one, by)));
        let Some(&instead) = found else {
            return Err(Error::invalid(skill.name(), "has nothing instead of what is given up"));
        };
        taken.push(instead.wish);
        set.push(instead);
        sort_by_number(set, |one| one.difficulty);
    }
    Ok(())
}

/// The set of a skill with these entries.
pub fn set_of(skill: Skill, entries: Vec<Entry>) -> ItemSet {
    ItemSet {
        title: skill.title().to_owned(),
        note: skill.words().to_owned(),
        pass: skill.pass(),
        entries,
    }
}

/// As many of `free`, which come by difficulty, as a set has if there are so many that do not
/// look alike (`by` as in [`Places::are_like`](super::Places)): each time the one that is near
/// to its turn and has few others to give way, which count `weight` places each.
fn evenly<'a>(free: &[&'a Candidate], by: f64, weight: usize) -> Vec<&'a Candidate> {
    let differ = |a: usize, b: usize| !free[a].places.are_like(&free[b].places, by);
    let mut left: Vec<usize> = (0..free.len()).collect();
    let mut chosen: Vec<usize> = Vec::new();
    for k in 0..ITEMS {
        let wanted = (k * free.len().saturating_sub(1) + (ITEMS - 1) / 2) / (ITEMS - 1);
        let give_way = |at: usize| left.iter().filter(|&&other| !differ(at, other)).count();
        let fits = |at: &usize| k > 0 || free[*at].potted >= OPENS;
        let turns = left.iter().copied().filter(fits);
        let best = turns.min_by_key(|&at| at.abs_diff(wanted) + weight * give_way(at));
        let Some(best) = best else { break };
        // What is easier than the first is not asked before it.
        left.retain(|&other| other != best && differ(best, other) && (k > 0 || other > best));
        chosen.push(best);
    }
    chosen.sort_unstable();
    chosen.into_iter().map(|at| free[at]).collect()
}
