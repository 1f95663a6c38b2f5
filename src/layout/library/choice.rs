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

/// How much more is called alike than what a player takes for a twin, if ten are left then: the
/// more the better, and less only where so few are left, as off one cushion (tuning choices, as
/// is how much it counts that others must give way; the last still tells the one pair of twins
/// off one cushion).
const STRICT: [f64; 6] = [2.0, 1.75, 1.5, 1.25, 1.0, 0.75];
const GIVE_WAY: [usize; 3] = [1, 4, 16];

/// Chooses what makes each set from all candidates, which must come in the order of
/// [`wishes`](super::wishes): of those of a skill, sorted by difficulty, as many as a set has,
/// evenly from the easiest to the hardest, none that looks like another of the set, and all
/// as different as there are candidates for. No item is in two sets.
///
/// # Errors
/// [`Error::Invalid`] if a skill has fewer than it needs.
pub fn choose(candidates: &[Candidate]) -> Result<Vec<(Skill, Vec<&Candidate>)>, Error> {
    let mut taken: Vec<Wish> = Vec::new();
    Skill::ALL
        .into_iter()
        .map(|skill| {
            let mut free: Vec<&Candidate> = candidates
                .iter()
                .filter(|one| one.skill == skill && !taken.contains(&one.wish))
                .collect();
            sort_by_number(&mut free, |one| one.difficulty);
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
        .collect()
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
