//! Many calls at once, as plain numbers: what summaries and plots are made of.

use super::record::{Part, Record};
use super::skill::Skill;
use super::told::Told;
use super::topic::Topic;
use crate::error::Error;
use crate::order::sort_by_number;

/// Numbers before the errors of a call: how many numbers it has in all, when it was made
/// (ms), part, level, whether it succeeded.
pub const HEAD: usize = 5;

/// Numbers for each error: the skill's code, what was called, what was.
pub const PER_ERROR: usize = 3;

/// The most calls of one request (tuning choice: a hundred a day for ten years).
const MOST_CALLS: usize = 400_000;

/// The call of `record` as numbers.
pub fn digest(record: &Record) -> Vec<f64> {
    let mut numbers = vec![0.0, record.at, f64::from(record.part().code())];
    numbers.extend([f64::from(record.level()), f64::from(u8::from(record.success))]);
    for Told { skill, called, real } in &record.told {
        numbers.extend([f64::from(skill.code()), *called, *real]);
    }
    numbers[0] = numbers.len() as f64;
    numbers
}

/// A call.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Entry<'a> {
    /// When it was made, ms.
    pub at: f64,
    /// In which part.
    pub part: Part,
    /// On which level.
    pub level: u8,
    /// Whether it succeeded.
    pub success: bool,
    errors: &'a [f64],
}

impl Entry<'_> {
    /// What it tells.
    pub fn told(&self) -> impl Iterator<Item = Told> {
        self.errors.chunks_exact(PER_ERROR).filter_map(|numbers| {
            let skill = *Skill::ALL.get(numbers[0] as usize)?;
            Some(Told { skill, called: numbers[1], real: numbers[2] })
        })
    }

    /// What it tells of one skill.
    pub fn of(&self, skill: Skill) -> Option<Told> {
        self.told().find(|told| told.skill == skill)
    }

    /// Whether it succeeded at a topic; `None` if it tells nothing of it.
    pub fn succeeds_at(&self, topic: Topic) -> Option<bool> {
        let mut of_topic =
            self.told().filter(|told| topic.skills().contains(&told.skill)).peekable();
        of_topic.peek()?;
        Some(of_topic.all(|told| told.error().abs() <= told.skill.tolerance(self.level)))
    }
}

/// Calls in the order of time.
#[derive(Clone, Debug, PartialEq)]
pub struct Calls<'a> {
    entries: Vec<Entry<'a>>,
    /// Where each stood in the numbers.
    places: Vec<usize>,
}

impl<'a> Calls<'a> {
    /// Takes apart the numbers of many calls, each as [`digest`] gives them.
    ///
    /// # Errors
    /// [`Error::Malformed`] if they are not such numbers, named by the number of the call.
    pub fn read(numbers: &'a [f64]) -> Result<Self, Error> {
        let mut found: Vec<(usize, Entry<'a>)> = vec![];
        let mut rest = numbers;
        while let Some(&length) = rest.first() {
            let refuse = || {
                let rule = "must be the numbers of a call, as this version writes them";
                Error::malformed(format!("calls[{}]", found.len()), rule)
            };
            // A number that is no length is taken for nil, and refused.
            let (call, after) = rest.split_at_checked(length as usize).ok_or_else(refuse)?;
            let entry = entry(call).ok_or_else(refuse)?;
            if found.len() == MOST_CALLS {
                return Err(refuse());
            }
            found.push((found.len(), entry));
            rest = after;
        }
        sort_by_number(&mut found, |(_, entry)| entry.at);
        let (places, entries) = found.into_iter().unzip();
        Ok(Self { entries, places })
    }

    /// All, the earliest first.
    pub fn entries(&self) -> &[Entry<'a>] {
        &self.entries
    }

    /// The places, among the calls as they were given, of those that tell of `skill`.
    pub fn places_of(&self, skill: Skill) -> Vec<usize> {
        let told = self.entries.iter().zip(&self.places);
        told.filter(|(entry, _)| entry.of(skill).is_some()).map(|(_, place)| *place).collect()
    }

    /// The errors of each skill in the order of time, by the skill's code.
    pub fn errors(&self) -> Vec<Vec<f64>> {
        let mut errors = vec![vec![]; Skill::ALL.len()];
        for told in self.entries.iter().flat_map(Entry::told) {
            errors[usize::from(told.skill.code())].push(told.error());
        }
        errors
    }
}

fn entry(call: &[f64]) -> Option<Entry<'_>> {
    let (head, errors) = call.split_at_checked(HEAD)?;
    let is_code = |code: f64| code.fract() == 0.0 && (0.0..Skill::ALL.len() as f64).contains(&code);
    let sound = errors.len().is_multiple_of(PER_ERROR)
        && call.iter().all(|number| number.is_finite())
        && errors.chunks_exact(PER_ERROR).all(|numbers| is_code(numbers[0]));
    let part = Part::ALL.into_iter().find(|part| f64::from(part.code()) == head[2])?;
    let level = (1..=6).find(|level| f64::from(*level) == head[3])?;
    sound.then_some(Entry { at: head[1], part, level, success: head[4] == 1.0, errors })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn calls_come_in_the_order_of_time_with_their_places() {
        let speed = f64::from(Skill::Speed.code());
        let numbers = [8.0, 20.0, 0.0, 3.0, 1.0, speed, 2.0, 2.5, 5.0, 10.0, 1.0, 4.0, 0.0];
        let calls = Calls::read(&numbers).expect("two calls");
        let [first, second] = calls.entries() else { panic!("two calls: {calls:?}") };
        assert_eq!((first.at, first.part, first.level), (10.0, Part::Leave, 4), "the earlier");
        assert_eq!((second.at, second.part, second.success), (20.0, Part::Read, true), "the later");
        assert_eq!(calls.places_of(Skill::Speed), [0], "it was given first");
        let errors = &calls.errors()[usize::from(Skill::Speed.code())];
        assert!((errors[0] + 20.0).abs() < 1e-12, "a fifth too short");
        assert_eq!(second.succeeds_at(Topic::Speed), Some(false), "too far off");
        assert_eq!(first.succeeds_at(Topic::Speed), None, "it tells nothing of it");
    }

    #[test]
    fn what_are_no_calls_is_refused_by_its_place() {
        let good = [5.0, 10.0, 1.0, 4.0, 0.0];
        for bad in [
            vec![5.0, 10.0, 1.0, 4.0],
            vec![0.0],
            vec![-3.0],
            vec![f64::NAN, 1.0],
            vec![1e300, 1.0],
            vec![5.0, f64::INFINITY, 1.0, 4.0, 0.0],
            vec![5.0, 10.0, 77.0, 4.0, 0.0],
            vec![5.0, 10.0, 1.0, 9.0, 0.0],
            vec![6.0, 10.0, 1.0, 4.0, 0.0, 1.0],
            vec![8.0, 10.0, 1.0, 4.0, 0.0, 200.0, 1.0, 1.0],
        ] {
            let numbers = [good.as_slice(), &bad].concat();
            let refusal = Calls::read(&numbers).expect_err("a bad call");
            assert_eq!(refusal.field(), "calls[1]", "{bad:?}");
        }
        assert_eq!(Calls::read(&[]).map(|calls| calls.entries().len()), Ok(0), "none at all");
    }
}
