//! Moments and days.

use std::fmt;
use std::str::FromStr;

use chrono::{Datelike, Duration, NaiveDate};
use serde::de::Error as _;
use serde::{Deserialize, Deserializer, Serialize, Serializer};

/// A minute in milliseconds.
pub const MINUTE_MS: i64 = 60_000;
/// An hour in milliseconds.
pub const HOUR_MS: i64 = 60 * MINUTE_MS;
/// A day of 24 hours in milliseconds.
pub const DAY_MS: i64 = 24 * HOUR_MS;

/// A moment: milliseconds since 1970-01-01T00:00Z, as the device's clock told it.
#[derive(
    Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize,
)]
#[serde(transparent)]
pub struct Millis(pub i64);

impl Millis {
    /// This moment moved by `ms` milliseconds, held at the ends of the range.
    pub const fn plus(self, ms: i64) -> Self {
        Self(self.0.saturating_add(ms))
    }

    /// Milliseconds from `earlier` to this moment; negative when it came before.
    pub const fn since(self, earlier: Self) -> i64 {
        self.0.saturating_sub(earlier.0)
    }
}

/// A calendar day at the holding, without a zone. Written `2026-10-09`.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Day(NaiveDate);

impl Day {
    /// The day of a civil date, if there is one.
    pub fn from_ymd(year: i32, month: u32, day: u32) -> Option<Self> {
        NaiveDate::from_ymd_opt(year, month, day).map(Self)
    }

    /// The day on which `at` falls for a clock `offset_minutes` ahead of UTC.
    pub fn at(at: Millis, offset_minutes: i32) -> Self {
        let local = at.0.saturating_add(i64::from(offset_minutes) * MINUTE_MS);
        Self::from_number(i32::try_from(local.div_euclid(DAY_MS)).unwrap_or(0))
    }

    /// Days since 1970-01-01.
    pub fn number(self) -> i32 {
        self.0.num_days_from_ce() - UNIX_EPOCH_FROM_CE
    }

    /// The day `number` days after 1970-01-01; the epoch itself when out of the calendar's range.
    pub fn from_number(number: i32) -> Self {
        Self(
            number
                .checked_add(UNIX_EPOCH_FROM_CE)
                .and_then(NaiveDate::from_num_days_from_ce_opt)
                .unwrap_or_default(),
        )
    }

    /// This day moved by `days`, held at the ends of the calendar.
    pub fn plus(self, days: i32) -> Self {
        self.0.checked_add_signed(Duration::days(i64::from(days))).map_or(self, Self)
    }

    /// Days from `earlier` to this day.
    pub fn since(self, earlier: Self) -> i32 {
        self.number() - earlier.number()
    }

    /// The midnight, UTC, that begins this day.
    pub fn start(self) -> Millis {
        Millis(i64::from(self.number()) * DAY_MS)
    }

    /// The civil date, for formatting.
    pub fn date(self) -> NaiveDate {
        self.0
    }

    /// The year.
    pub fn year(self) -> i32 {
        self.0.year()
    }
}

/// Days from 0001-01-01 (day 1) to 1970-01-01 in the proleptic Gregorian calendar.
const UNIX_EPOCH_FROM_CE: i32 = 719_163;

impl fmt::Display for Day {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{}", self.0.format("%Y-%m-%d"))
    }
}

impl FromStr for Day {
    type Err = chrono::ParseError;

    fn from_str(text: &str) -> Result<Self, Self::Err> {
        NaiveDate::parse_from_str(text, "%Y-%m-%d").map(Self)
    }
}

impl Serialize for Day {
    fn serialize<S: Serializer>(&self, to: S) -> Result<S::Ok, S::Error> {
        to.collect_str(self)
    }
}

impl<'de> Deserialize<'de> for Day {
    fn deserialize<D: Deserializer<'de>>(from: D) -> Result<Self, D::Error> {
        let text = std::borrow::Cow::<'de, str>::deserialize(from)?;
        text.parse().map_err(|_| D::Error::custom(format!("`{text}` is not a day like 2026-10-09")))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_day_begins_at_local_midnight() {
        let noon = Millis(DAY_MS / 2);
        assert_eq!(Day::at(noon, 0).number(), 0);
        assert_eq!(Day::at(noon, 12 * 60).number(), 1);
        assert_eq!(Day::at(noon, -13 * 60).number(), -1);
    }

    #[test]
    fn days_count_over_a_leap_day() {
        let before = Day::from_ymd(2028, 2, 28).expect("a day");
        let after = Day::from_ymd(2028, 3, 1).expect("a day");
        assert_eq!(after.since(before), 2);
        assert_eq!(before.plus(2), after);
        assert_eq!(Day::from_number(after.number()), after);
    }

    #[test]
    fn a_day_is_written_as_people_write_it() {
        let day: Day = serde_json::from_str("\"2026-10-09\"").expect("reads");
        assert_eq!(serde_json::to_string(&day).expect("writes"), "\"2026-10-09\"");
        let wrong = serde_json::from_str::<Day>("\"9/10\"").expect_err("refuses");
        assert!(wrong.to_string().contains("like 2026-10-09"), "{wrong}");
    }
}
