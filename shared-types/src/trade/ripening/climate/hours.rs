//! A day of a room, hour by hour where it is not the same all day.

use libm::cos;

use super::super::table::tables;
use super::{MINUTES_PER_DAY, RoomClimate};
use crate::units::Day;

/// Hours of a day.
const HOURS: usize = 24;
/// The warmest hour: three in the afternoon, common practice for unheated rooms.
const WARMEST_HOUR: f64 = 15.0;

/// The temperatures and humidities of a day.
#[derive(Clone, Debug)]
pub(in super::super) enum Weather {
    /// °C and %, all day.
    Even(f64, f64),
    /// The same for the middle of every hour.
    Hours(Box<[(f64, f64); HOURS]>),
}

impl Weather {
    /// Mean over the day of what a temperature, °C, and a humidity, %, give.
    pub(in super::super) fn mean_of<const N: usize>(
        &self,
        of: impl Fn(f64, f64) -> [f64; N],
    ) -> [f64; N] {
        match self {
            Self::Even(celsius, humidity) => of(*celsius, *humidity),
            Self::Hours(hours) => {
                let mut sum = [0.0; N];
                for (celsius, humidity) in hours.iter() {
                    for (sum, value) in sum.iter_mut().zip(of(*celsius, *humidity)) {
                        *sum += value;
                    }
                }
                sum.map(|sum| sum / HOURS as f64)
            }
        }
    }

    /// Mean temperature, °C.
    pub(in super::super) fn mean(&self) -> f64 {
        self.mean_of(|celsius, _| [celsius])[0]
    }

    /// Temperature of the coolest and of the warmest hour, °C.
    pub(in super::super) fn ends(&self) -> (f64, f64) {
        match self {
            Self::Even(celsius, _) => (*celsius, *celsius),
            Self::Hours(hours) => hours
                .iter()
                .fold((f64::MAX, f64::MIN), |(low, high), (t, _)| (low.min(*t), high.max(*t))),
        }
    }
}

impl RoomClimate {
    /// The weather of a day.
    pub(in super::super) fn weather(&self, day: Day) -> Weather {
        let setting = self.setting_on(day);
        let (mean, swing) = (setting.celsius.celsius(), setting.swing.celsius());
        let humidity = self.humidity_on(day);
        let read = self.read_on(day);
        if setting.swing.0 == 0 && !read {
            return Weather::Even(mean, humidity);
        }
        let start = i64::from(day.number()) * MINUTES_PER_DAY;
        Weather::Hours(Box::new(std::array::from_fn(|hour| {
            let minute = start + 60 * hour as i64 + 30;
            if read && let Some((celsius, read)) = self.read_at(minute) {
                return (celsius, read.unwrap_or(humidity));
            }
            (mean + swing * wave(hour), humidity)
        })))
    }

    /// Relative humidity when nothing else is known, %.
    pub fn humidity_percent(&self) -> f64 {
        self.humidity.map_or(tables().loss.humidity_percent.value, |h| f64::from(h.0) / 10.0)
    }
}

/// cos(2π (h + ½ − 15)/24): 1 in the warmest hour's middle, −1 twelve hours from it.
fn wave(hour: usize) -> f64 {
    cos(std::f64::consts::TAU * (hour as f64 + 0.5 - WARMEST_HOUR) / HOURS as f64)
}
