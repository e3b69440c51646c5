//! Readings of a thermometer.

use super::RoomClimate;
use crate::units::{Day, MilliCelsius};

use super::HumidityPermille;

/// Minutes in a day.
pub const MINUTES_PER_DAY: i64 = 1440;
/// A reading speaks for so many minutes to either side: 6 hours. Two readings at most twice that
/// apart are joined by a straight line; a longer stretch is a gap, bridged by the setting.
pub const REACH_MINUTES: i64 = 360;

/// One reading.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct RoomReading {
    /// The day, by the holding's clocks.
    pub day: Day,
    /// Minutes after its midnight, 0 to 1439.
    pub minute: u16,
    /// The temperature.
    pub celsius: MilliCelsius,
    /// The humidity, when it was read too.
    pub humidity: Option<HumidityPermille>,
}

impl RoomReading {
    /// Minutes since 1970 by the holding's clocks.
    pub(super) fn at(&self) -> i64 {
        i64::from(self.day.number()) * MINUTES_PER_DAY + i64::from(self.minute)
    }
}

/// A stretch of days in which a thermometer was silent for more than [`REACH_MINUTES`] to either
/// side, and the setting was reckoned with.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Gap {
    /// The day on which the last reading before it stopped counting.
    pub from: Day,
    /// The day on which the next began to count.
    pub to: Day,
}

impl RoomClimate {
    /// Where readings are missing between two days, both included; nothing when there never was a
    /// thermometer.
    pub fn gaps(&self, from: Day, to: Day) -> Vec<Gap> {
        let day = |minute: i64| {
            Day::from_number(i32::try_from(minute.div_euclid(MINUTES_PER_DAY)).unwrap_or(i32::MAX))
        };
        let start = i64::from(from.number()) * MINUTES_PER_DAY;
        let end = (i64::from(to.number()) + 1) * MINUTES_PER_DAY;
        if self.readings.is_empty() || end <= start {
            return Vec::new();
        }
        let mut covered = start;
        let mut gaps = Vec::new();
        for reading in &self.readings {
            let (speaks, until) = (reading.at() - REACH_MINUTES, reading.at() + REACH_MINUTES);
            if speaks > covered && covered < end {
                gaps.push(Gap { from: day(covered), to: day(speaks.min(end - 1)) });
            }
            covered = covered.max(until);
        }
        if covered < end {
            gaps.push(Gap { from: day(covered), to });
        }
        gaps
    }

    /// Temperature and humidity at a minute, as far as readings speak for it.
    pub(super) fn read_at(&self, minute: i64) -> Option<(f64, Option<f64>)> {
        let next = self.readings.partition_point(|reading| reading.at() <= minute);
        let after = self.readings.get(next);
        let before = next.checked_sub(1).map(|i| &self.readings[i]);
        let humid = |one: &RoomReading| one.humidity.map(|h| f64::from(h.0) / 10.0);
        if let (Some(before), Some(after)) = (before, after)
            && after.at() - before.at() <= 2 * REACH_MINUTES
        {
            let w = (minute - before.at()) as f64 / (after.at() - before.at()) as f64;
            let between = |a: f64, b: f64| a + w * (b - a);
            let humidity = match (humid(before), humid(after)) {
                (Some(a), Some(b)) => Some(between(a, b)),
                (a, b) => a.or(b),
            };
            return Some((between(before.celsius.celsius(), after.celsius.celsius()), humidity));
        }
        let near = |one: &&RoomReading| (one.at() - minute).abs() <= REACH_MINUTES;
        let only = before.filter(near).or(after.filter(near))?;
        Some((only.celsius.celsius(), humid(only)))
    }

    /// Do readings speak for any part of a day?
    pub(super) fn read_on(&self, day: Day) -> bool {
        let start = i64::from(day.number()) * MINUTES_PER_DAY;
        let first = self.readings.partition_point(|one| one.at() < start - 2 * REACH_MINUTES);
        self.readings
            .get(first)
            .is_some_and(|one| one.at() <= start + MINUTES_PER_DAY + 2 * REACH_MINUTES)
    }
}
