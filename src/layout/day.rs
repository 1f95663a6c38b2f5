//! Days of the calendar, as they are the same all over the world: by UTC.

use std::fmt;

/// Milliseconds of a day; UTC's days all count as so long.
const DAY: f64 = 86_400_000.0;

/// The last day that has a year of four digits, 9999-12-31.
const LAST: u32 = 2_932_896;

const MONTHS: [&str; 12] = [
    "January",
    "February",
    "March",
    "April",
    "May",
    "June",
    "July",
    "August",
    "September",
    "October",
    "November",
    "December",
];

/// A day, by its number from the first of January 1970 on.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct Day(u32);

impl Day {
    /// The day of a moment, ms since the beginning of 1970; `None` before that, or after the
    /// year 9999.
    pub fn at(moment: f64) -> Option<Self> {
        let days = libm::floor(moment / DAY);
        (0.0..=f64::from(LAST)).contains(&days).then_some(Self(days as u32))
    }

    /// The day that is written as "2026-11-26"; `None` if there is none.
    pub fn named(text: &str) -> Option<Self> {
        let mut parts = text.split('-').map(|part| part.parse::<u32>().ok());
        let [year, month, day] = [parts.next()??, parts.next()??, parts.next()??];
        if !(1970..=9999).contains(&year) || !(1..=12).contains(&month) || !(1..=31).contains(&day)
        {
            return None;
        }
        // Only the one way of writing it; and no thirtieth of February.
        Some(Self::of(year, month, day)).filter(|found| found.to_string() == text)
    }

    /// Its number.
    pub fn number(self) -> u32 {
        self.0
    }

    /// Years begin with March here, so that a leap day is the last of its year.
    ///
    /// # Source
    /// Hinnant, "chrono-compatible low-level date algorithms", 2021 (from memory; checked
    /// against the calendar's own rule, day by day).
    fn of(year: u32, month: u32, day: u32) -> Self {
        let (year, month) = if month < 3 { (year - 1, month + 9) } else { (year, month - 3) };
        let days = 365 * year + year / 4 - year / 100 + year / 400;
        Self(days + (153 * month + 2) / 5 + day - 1 - 719_468)
    }

    /// Year, month and day.
    fn date(self) -> [u32; 3] {
        let days = self.0 + 719_468;
        let (era, days) = (days / 146_097, days % 146_097);
        let year = (days - days / 1_460 + days / 36_524 - days / 146_096) / 365;
        let days = days - (365 * year + year / 4 - year / 100);
        let month = (5 * days + 2) / 153;
        let day = days - (153 * month + 2) / 5 + 1;
        let year = 400 * era + year;
        if month < 10 { [year, month + 3, day] } else { [year + 1, month - 9, day] }
    }

    /// As it is said: "26 November 2026".
    pub fn in_words(self) -> String {
        let [year, month, day] = self.date();
        format!("{day} {} {year}", MONTHS[month as usize - 1])
    }
}

impl fmt::Display for Day {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let [year, month, day] = self.date();
        write!(f, "{year:04}-{month:02}-{day:02}")
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Every day follows the one before by the calendar's own rule.
    #[test]
    fn the_days_of_eight_thousand_years_follow_each_other() {
        let mut date = [1970, 1, 1];
        for number in 0..=LAST {
            let day = Day(number);
            assert_eq!(day.date(), date, "day {number}");
            assert_eq!(Day::of(date[0], date[1], date[2]), day, "{date:?}");
            let [year, month, of_month] = date;
            let is_leap = year % 4 == 0 && (year % 100 != 0 || year % 400 == 0);
            let last = match month {
                2 => 28 + u32::from(is_leap),
                4 | 6 | 9 | 11 => 30,
                _ => 31,
            };
            date = match (of_month == last, month == 12) {
                (false, _) => [year, month, of_month + 1],
                (true, false) => [year, month + 1, 1],
                (true, true) => [year + 1, 1, 1],
            };
        }
        assert_eq!(date, [10_000, 1, 1], "and that is the last of them");
    }

    #[test]
    fn a_day_is_read_as_it_is_written() {
        let day = Day::named("2026-11-26").expect("a day");
        assert_eq!(
            (day.to_string().as_str(), day.in_words().as_str()),
            ("2026-11-26", "26 November 2026")
        );
        assert_eq!(Day::at(1_795_651_200_000.0), Some(day), "at midnight");
        assert_eq!(Day::at(1_795_651_199_999.0), Day::named("2026-11-25"), "before");
        for bad in [
            "",
            "2026",
            "2026-11",
            "2026-2-3",
            "2026-02-30",
            "2026-13-01",
            "1969-12-31",
            "2026-11-26-1",
            "x-1-1",
            "99999-01-01",
        ] {
            assert_eq!(Day::named(bad), None, "{bad}");
        }
        assert_eq!((Day::at(-1.0), Day::at(f64::NAN), Day::at(1e18)), (None, None, None), "none");
    }
}
