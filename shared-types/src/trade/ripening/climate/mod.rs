//! The room a lot stands in: a temperature, set by day, swinging between day and night, or read
//! from a thermometer; and a humidity.

mod hours;
mod reading;
mod written;

#[cfg(test)]
mod tests;

use serde::{Deserialize, Serialize};
use thiserror::Error;

use super::table::tables;
use crate::units::{Day, MilliCelsius};
#[cfg(test)]
use hours::Weather;
pub use reading::{Gap, MINUTES_PER_DAY, REACH_MINUTES, RoomReading};
pub(super) use written::{Celsius, Written};

/// Relative humidity in thousandths.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize)]
#[serde(transparent)]
pub struct HumidityPermille(pub u16);

/// What a room is set to, or usually at, from a day on.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct Setting {
    /// From the first hour of this day on.
    pub from: Day,
    /// Its mean over the day.
    pub celsius: MilliCelsius,
    /// The warmest hour is this much above the mean, the coolest as much below; nothing for none.
    pub swing: MilliCelsius,
    /// Its humidity, when that differs from the climate's.
    pub humidity: Option<HumidityPermille>,
}

/// The climate of a room.
///
/// In JSON any of `{"celsius": 18.5}`; `{"celsius": 14, "swing": 5}`; `{"min": 9, "max": 19}`;
/// `{"celsius": [{"day": "2026-10-09", "celsius": 12}, {"day": "2026-10-14", "celsius": 20}]}`;
/// and with each `"humidity": 80` in percent (75 when left out) and `"readings": [{"at":
/// "2026-10-09T14:30", "celsius": 13.2, "humidity": 71}]` in the holding's own time. Readings go
/// before the setting; where there are none for long, the setting bridges the gap. With readings,
/// the setting may be left out: then their mean is it.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize)]
#[serde(try_from = "Written", into = "Written")]
pub struct RoomClimate {
    /// In order of day, one a day, never empty; the first also holds before its day.
    settings: Vec<Setting>,
    /// In order of time, one a minute.
    readings: Vec<RoomReading>,
    /// Its humidity when somebody measured it.
    pub humidity: Option<HumidityPermille>,
}

/// What is wrong with a room's climate.
#[derive(Clone, Debug, PartialEq, Error)]
pub enum ClimateError {
    /// No step at all.
    #[error(
        "a room needs a temperature: give `celsius` a number or a list of {{day, celsius}}, or give `min` and `max`, or `readings`"
    )]
    NoTemperature,
    /// A mean and its ends.
    #[error("give the room `celsius` (with a `swing`), or `min` and `max`, not both")]
    TwoTemperatures,
    /// Not a room.
    #[error("{0} °C is not a room's temperature: give -30 to 60, in Celsius")]
    Temperature(f64),
    /// Not a swing.
    #[error(
        "{0} °C is not a swing: give 0 to 30, half of what lies between the coolest and the warmest hour"
    )]
    Swing(f64),
    /// The wrong way round.
    #[error("`min` {0} °C is above `max` {1} °C: exchange them")]
    MinAboveMax(f64, f64),
    /// Not a humidity.
    #[error("{0} % is not a humidity: give 1 to 100")]
    Humidity(f64),
    /// One day, two temperatures.
    #[error("the room has two temperatures for {0}: leave one out")]
    TwoForOneDay(Day),
    /// Not a time.
    #[error("`{0}` is not a time like 2026-10-09T14:30, in the holding's own time without a zone")]
    Time(String),
}

impl RoomClimate {
    /// A room that is the same all the time, of unmeasured humidity.
    pub fn constant(temperature: MilliCelsius) -> Self {
        Self::steps(vec![(Day::from_number(0), temperature)]).expect("it has a step")
    }

    /// A room whose temperature changed; steps in any order.
    ///
    /// # Errors
    /// Without a step, or with two for one day.
    pub fn steps(steps: Vec<(Day, MilliCelsius)>) -> Result<Self, ClimateError> {
        let setting =
            |(from, celsius)| Setting { from, celsius, swing: MilliCelsius(0), humidity: None };
        Self::settings(steps.into_iter().map(setting).collect())
    }

    /// A room by its settings, in any order.
    ///
    /// # Errors
    /// Without a setting, or with two for one day.
    pub fn settings(mut settings: Vec<Setting>) -> Result<Self, ClimateError> {
        settings.sort_unstable();
        if let Some(pair) = settings.windows(2).find(|pair| pair[0].from == pair[1].from) {
            return Err(ClimateError::TwoForOneDay(pair[0].from));
        }
        if settings.is_empty() {
            return Err(ClimateError::NoTemperature);
        }
        Ok(Self { settings, readings: Vec::new(), humidity: None })
    }

    /// The same room with the readings of a thermometer, in any order. Of two for one minute the
    /// lower counts.
    pub fn with_readings(mut self, mut readings: Vec<RoomReading>) -> Self {
        readings.sort_unstable();
        readings.dedup_by_key(|reading| reading.at());
        self.readings = readings;
        self
    }

    /// The climate of a lot that was carried: from each day on in another room. The parts in any
    /// order; the first also holds before its day. `None` without a part.
    pub fn carried(mut parts: Vec<(Day, Self)>) -> Option<Self> {
        parts.sort_by_key(|part| part.0);
        // Of two moves on one day the later listed is where it stayed.
        parts.reverse();
        parts.dedup_by_key(|part| part.0);
        parts.reverse();
        let (mut settings, mut readings) = (Vec::new(), Vec::new());
        for (i, (from, room)) in parts.iter().enumerate() {
            let until = parts.get(i + 1).map(|part| part.0);
            let within = |day: Day| (i == 0 || day >= *from) && until.is_none_or(|to| day < to);
            let of_room = |setting: &Setting| Setting {
                humidity: setting.humidity.or(room.humidity),
                ..*setting
            };
            settings.push(Setting { from: *from, ..of_room(room.setting_on(*from)) });
            let later = room.settings.iter().filter(|one| one.from > *from && within(one.from));
            settings.extend(later.map(of_room));
            readings.extend(room.readings.iter().filter(|one| within(one.day)));
        }
        Some(Self::settings(settings).ok()?.with_readings(readings))
    }

    /// The setting of a day.
    pub(super) fn setting_on(&self, day: Day) -> &Setting {
        let after = self.settings.partition_point(|setting| setting.from <= day);
        &self.settings[after.saturating_sub(1)]
    }

    /// The mean temperature of a day, °C.
    pub fn celsius_on(&self, day: Day) -> f64 {
        self.weather(day).mean()
    }

    /// Relative humidity of the setting, %: as measured, or else a usual one.
    pub(super) fn humidity_on(&self, day: Day) -> f64 {
        let known = self.setting_on(day).humidity.or(self.humidity);
        known.map_or(tables().loss.humidity_percent.value, |h| f64::from(h.0) / 10.0)
    }

    /// The last day on which anything changes: every day after it is alike.
    pub(super) fn last_change(&self) -> Day {
        let setting = self.settings[self.settings.len() - 1].from;
        self.readings.last().map_or(setting, |reading| setting.max(reading.day.plus(1)))
    }
}
