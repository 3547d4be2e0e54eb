//! Days of the calendar.

use std::fmt;

use super::{Quantity, QuantityError};

/// A day of the Gregorian calendar, written as ISO 8601 does.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub struct Date {
    year: u16,
    month: u8,
    day: u8,
}

impl Date {
    /// The year, 1900 to 9999.
    pub const fn year(self) -> u16 {
        self.year
    }

    /// The month, from one.
    pub const fn month(self) -> u8 {
        self.month
    }

    /// The day of the month, from one.
    pub const fn day(self) -> u8 {
        self.day
    }

    /// The day that comes so many days later.
    #[must_use]
    pub fn after(self, days: u32) -> Self {
        (0..days).fold(self, |date, _| date.next())
    }

    /// Days from another day to this one; below zero where this one comes first.
    pub fn days_since(self, other: Self) -> i32 {
        self.day_number() - other.day_number()
    }

    /// Days since the first of March of the year 0, from which months have a regular length
    /// (Richards' algorithm, Explanatory Supplement to the Astronomical Almanac, 15.11; from memory).
    fn day_number(self) -> i32 {
        let (month, year) = match self.month {
            1 | 2 => (i32::from(self.month) + 9, i32::from(self.year) - 1),
            month => (i32::from(month) - 3, i32::from(self.year)),
        };
        let before = (153 * month + 2) / 5;
        365 * year + year / 4 - year / 100 + year / 400 + before + i32::from(self.day) - 1
    }

    fn next(self) -> Self {
        if self.day < days_in(self.year, self.month) {
            return Self {
                day: self.day + 1,
                ..self
            };
        }
        let (year, month) = match self.month {
            12 => (self.year + 1, 1),
            month => (self.year, month + 1),
        };
        Self {
            year,
            month,
            day: 1,
        }
    }
}

const fn days_in(year: u16, month: u8) -> u8 {
    match month {
        4 | 6 | 9 | 11 => 30,
        2 if year.is_multiple_of(400) => 29,
        2 if year.is_multiple_of(100) => 28,
        2 if year.is_multiple_of(4) => 29,
        2 => 28,
        _ => 31,
    }
}

impl Quantity for Date {
    const NAME: &'static str = "a date";
    const EXAMPLES: &'static str = r#""2026-11-25""#;

    fn parse(text: &str) -> Result<Self, QuantityError> {
        let text = text.trim();
        if text.is_empty() {
            return Err(QuantityError::Empty);
        }
        let not_a_date = || QuantityError::NotKnown {
            text: text.to_owned(),
            known: "dates as YEAR-MONTH-DAY, such as 2026-11-25".to_owned(),
        };
        let parts: Vec<&str> = text.split('-').collect();
        let [year, month, day] = parts.as_slice() else {
            return Err(not_a_date());
        };
        let digits = [(year, 4), (month, 2), (day, 2)];
        let written = |(part, length): &(&&str, usize)| {
            part.len() == *length && part.bytes().all(|digit| digit.is_ascii_digit())
        };
        if !digits.iter().all(written) {
            return Err(not_a_date());
        }
        let date = Self {
            year: year.parse().map_err(|_| not_a_date())?,
            month: month.parse().map_err(|_| not_a_date())?,
            day: day.parse().map_err(|_| not_a_date())?,
        };
        let real = (1..=12).contains(&date.month)
            && (1..=days_in(date.year, date.month)).contains(&date.day)
            && date.year >= 1900;
        real.then_some(date).ok_or(QuantityError::NoSuchDay)
    }
}

impl fmt::Display for Date {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{:04}-{:02}-{:02}", self.year, self.month, self.day)
    }
}

impl serde::Serialize for Date {
    fn serialize<S: serde::Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        serializer.collect_str(self)
    }
}

#[cfg(test)]
mod tests {
    #![allow(clippy::unwrap_used)]
    use super::*;

    fn date(text: &str) -> Date {
        Date::parse(text).unwrap()
    }

    #[test]
    fn days_go_over_the_ends_of_months_and_years() {
        assert_eq!(date("2026-11-25").after(30), date("2026-12-25"));
        assert_eq!(date("2026-12-25").after(14), date("2027-01-08"));
        assert_eq!(date("2024-02-28").after(1), date("2024-02-29"));
        assert_eq!(date("2023-02-28").after(1), date("2023-03-01"));
        assert_eq!(date("2026-11-25").after(0), date("2026-11-25"));
    }

    #[test]
    fn days_between_are_those_that_were_counted() {
        let start = date("1999-12-31");
        for days in [0, 1, 59, 60, 366, 367, 1461, 36_525, 146_097] {
            assert_eq!(
                start.after(days).days_since(start),
                i32::try_from(days).unwrap()
            );
            assert_eq!(
                start.days_since(start.after(days)),
                -i32::try_from(days).unwrap()
            );
        }
    }

    /// The Gregorian calendar repeats itself after 400 years of 146097 days.
    #[test]
    fn the_calendar_repeats_after_146097_days() {
        assert_eq!(date("2000-01-01").after(146_097), date("2400-01-01"));
        assert_eq!(date("1999-12-31").after(366 + 1), date("2001-01-01"));
    }

    #[test]
    fn days_that_are_none_are_refused() {
        for text in [
            "2026-02-29",
            "2100-02-29",
            "2026-13-01",
            "2026-00-10",
            "2026-04-31",
            "1899-12-31",
        ] {
            assert_eq!(Date::parse(text), Err(QuantityError::NoSuchDay), "{text}");
        }
        for text in [
            "25.11.2026",
            "2026-1-5",
            "2026-11",
            "2026-11-25-1",
            "+026-11-25",
        ] {
            assert!(
                matches!(Date::parse(text), Err(QuantityError::NotKnown { .. })),
                "{text}"
            );
        }
        assert_eq!(date("2000-02-29").to_string(), "2000-02-29");
    }
}
