//! Which candidates make the sets.

use super::{Candidate, Skill, Wish};
use crate::error::Error;
use crate::order::sort_by_number;
use crate::practice::set::{Entry, ItemSet};

/// Items of a set.
pub const ITEMS: usize = 10;

/// Chooses what makes each set from all candidates, which must come in the order of
/// [`wishes`](super::wishes): of those of a skill, sorted by difficulty, as many as a set has,
/// evenly from the easiest to the hardest, and none that looks like another of the set.
/// No item is in two sets.
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
            let chosen = evenly(&free);
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
/// look alike: each time the one that is near to its turn and has few others to give way.
fn evenly<'a>(free: &[&'a Candidate]) -> Vec<&'a Candidate> {
    let differ = |a: usize, b: usize| !free[a].places.are_like(&free[b].places);
    let mut left: Vec<usize> = (0..free.len()).collect();
    let mut chosen: Vec<usize> = Vec::new();
    for k in 0..ITEMS {
        let wanted = (k * free.len().saturating_sub(1) + (ITEMS - 1) / 2) / (ITEMS - 1);
        let give_way = |at: usize| left.iter().filter(|&&other| !differ(at, other)).count();
        let best = left.iter().copied().min_by_key(|&at| at.abs_diff(wanted) + give_way(at));
        let Some(best) = best else { break };
        left.retain(|&other| other != best && differ(best, other));
        chosen.push(best);
    }
    chosen.sort_unstable();
    chosen.into_iter().map(|at| free[at]).collect()
}
