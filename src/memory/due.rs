//! When a topic is due: how well it is still remembered, by a published scheduler.

use fsrs::{FSRS, FSRS6_DEFAULT_DECAY, FSRSItem, FSRSReview, current_retrievability};

/// Calls within so long of the first of them are one session, ms (tuning choice: twelve
/// hours, so that a night lies between two).
pub const SESSION: f64 = 12.0 * 3_600_000.0;

const DAY: f64 = 24.0 * 3_600_000.0;

/// A topic is due where the chance to remember it falls below this (the scheduler's usual
/// choice).
const KEPT: f32 = 0.9;

/// What is remembered of a topic: each session of calls is one review of it.
///
/// # Source
/// FSRS 6, a scheduler of spaced repetition, with its published default parameters, as the
/// crate `fsrs` has it: Ye, Su and Cao 2022, Proc. KDD '22, 4381 (the model that it grew
/// from; from memory).
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Memory {
    /// When the last session began, ms.
    pub last: f64,
    /// The chance to remember it now, 0 to 1.
    pub recall: f64,
}

impl Memory {
    /// What is remembered at the time `now` after calls at these times, in order, that
    /// succeeded or not; `None` if there were none.
    pub fn after(calls: impl Iterator<Item = (f64, bool)>, now: f64) -> Option<Self> {
        let mut last = None;
        let reviews = sessions(calls).into_iter().map(|session| {
            let days = last.map_or(0.0, |last: f64| (session.begin - last) / DAY);
            last = Some(session.begin);
            FSRSReview { rating: session.rating(), delta_t: libm::round(days).max(0.0) as u32 }
        });
        let item = FSRSItem { reviews: reviews.collect() };
        let last = last?;
        let state = FSRS::new(&[]).and_then(|scheduler| scheduler.memory_state(item, None)).ok()?;
        let days = ((now - last) / DAY).max(0.0) as f32;
        let recall = f64::from(current_retrievability(state, days, FSRS6_DEFAULT_DECAY));
        Some(Self { last, recall })
    }

    /// Whether it is due.
    pub fn is_due(&self) -> bool {
        self.recall < f64::from(KEPT)
    }
}

struct Session {
    begin: f64,
    n: u32,
    succeeded: u32,
}

impl Session {
    /// How good it was, from 1 (again) to 4 (easy) (tuning choices).
    fn rating(&self) -> u32 {
        match f64::from(self.succeeded) / f64::from(self.n) {
            share if share >= 0.9 => 4,
            share if share >= 0.7 => 3,
            share if share >= 0.5 => 2,
            _ => 1,
        }
    }
}

fn sessions(calls: impl Iterator<Item = (f64, bool)>) -> Vec<Session> {
    let mut sessions: Vec<Session> = vec![];
    for (at, success) in calls {
        match sessions.last_mut() {
            Some(session) if at - session.begin < SESSION => {
                session.n += 1;
                session.succeeded += u32::from(success);
            }
            _ => sessions.push(Session { begin: at, n: 1, succeeded: u32::from(success) }),
        }
    }
    sessions
}

#[cfg(test)]
mod tests {
    use super::*;

    fn after(days: &[(f64, bool)], now: f64) -> Memory {
        let calls = days.iter().map(|(day, success)| (day * DAY, *success));
        Memory::after(calls, now * DAY).expect("calls")
    }

    #[test]
    fn what_was_practised_fades_and_comes_due() {
        let fresh = after(&[(0.0, true)], 0.0);
        assert!(fresh.recall > 0.99 && !fresh.is_due(), "{fresh:?}");
        let mut before = fresh.recall;
        for day in [1.0, 5.0, 20.0, 100.0] {
            let later = after(&[(0.0, true)], day);
            assert!(later.recall < before, "day {day}: {later:?}");
            before = later.recall;
        }
        assert!(after(&[(0.0, true)], 100.0).is_due(), "after so long");
        assert_eq!(Memory::after(std::iter::empty(), 0.0), None, "never practised");
    }

    #[test]
    fn failures_and_few_sessions_come_due_sooner() {
        let (good, bad) = (after(&[(0.0, true)], 4.0), after(&[(0.0, false)], 4.0));
        assert!(bad.recall < good.recall, "{bad:?} {good:?}");
        let often = after(&[(0.0, true), (3.0, true), (10.0, true)], 30.0);
        let once = after(&[(10.0, true)], 30.0);
        assert!(often.recall > once.recall, "{often:?} {once:?}");
    }

    #[test]
    fn a_session_is_one_review() {
        let hour = 1.0 / 24.0;
        let many: Vec<_> = (0..10).map(|k| (f64::from(k) * hour, k % 10 != 0)).collect();
        let one = after(&[(0.0, true)], 9.0);
        assert_eq!(after(&many, 9.0).recall, one.recall, "nine of ten are as good as one of one");
    }
}
