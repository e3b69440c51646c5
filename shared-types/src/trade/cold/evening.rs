//! What is known in the evening, and what comes of it.

use serde::{Deserialize, Serialize};
use thiserror::Error;

use super::daylight::{Night, SunTimes};
use super::fit::Fit;
use super::moisture::{Moisture, MoistureError};
use super::nights::{LoggedNight, Sky};
use super::site::Site;
use super::table::{Category, DewPointWords};
use super::trend::{Crossing, Trend};
use crate::trade::provenance::{Mark, Said};
use crate::units::{Day, Millis};

/// What is known in the evening, at one place or for one sensor. Temperatures in °C.
#[derive(Clone, Debug, PartialEq)]
pub struct Evening {
    /// The day whose evening it is.
    pub day: Day,
    /// Where.
    pub site: Site,
    /// How far local time is ahead of UTC that day, minutes.
    pub offset_minutes: i32,
    /// Air at the sensor.
    pub celsius: Option<f64>,
    /// How moist it was then.
    pub moisture: Option<Moisture>,
    /// When it was read; taken as two hours after sunset when nobody said.
    pub read_at: Option<Millis>,
    /// Height of the sensor above the ground, millimetres.
    pub sensor_height_mm: Option<u32>,
    /// The sky; taken as clear when nobody said.
    pub sky: Option<Sky>,
    /// Wind, m/s; taken as calm when nobody said.
    pub wind_m_s: Option<f64>,
    /// The official forecast of the low, °C at 2 m.
    pub official_low: Option<f64>,
    /// The grower's own nights with that sensor.
    pub nights: Vec<LoggedNight>,
}

/// How a low was come by.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum How {
    /// Fitted to own nights, on temperature and dew point.
    Fitted,
    /// Fitted to own nights, on temperature alone.
    FittedOnTemperature,
    /// The official low, shifted by what own nights differed from it.
    OfficialHere,
    /// Fall-back: half-way between air and dew point, less what ten published nights fell further.
    HalfWayRule,
    /// Fall-back: the evening's air less what ten published nights fell.
    DropRule,
    /// The official low as it is.
    Official,
    /// Fall-back: near the evening's dew point.
    DewPointRule,
}

impl How {
    /// Its name on a screen.
    pub const fn words(self) -> &'static str {
        match self {
            Self::Fitted => "fitted to your own nights",
            Self::FittedOnTemperature => "fitted to your own nights, without dew point",
            Self::OfficialHere => "official low, shifted by your own nights",
            Self::HalfWayRule => "fall-back rule: half-way to the dew point, and further",
            Self::DropRule => "fall-back rule: fall from the evening's air",
            Self::Official => "official low as it is",
            Self::DewPointRule => "fall-back rule: near the dew point",
        }
    }

    /// A rule that knows nothing of this place.
    pub const fn is_fall_back(self) -> bool {
        matches!(self, Self::HalfWayRule | Self::DropRule | Self::Official | Self::DewPointRule)
    }
}

/// An expected low with its range, °C at the sensor's height, to 0.01.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct Estimate {
    /// How it was come by.
    pub how: How,
    /// Expected.
    pub low: f64,
    /// Cold end of the range: alarms go by this.
    pub from: f64,
    /// Warm end.
    pub to: f64,
    /// Stands in for a fit of this place.
    pub fall_back: bool,
    /// How it was worked out and what the range means.
    pub why: String,
    /// Id of the source.
    pub source: String,
    /// How sure.
    pub mark: Mark,
}

/// The evening's reading as it was understood.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
pub struct ReadingTold {
    /// Air, °C.
    pub celsius: f64,
    /// Dew point, °C.
    pub dew_point: Option<f64>,
    /// When.
    pub at: Option<Millis>,
    /// Hours after sunset.
    pub hours_after_sunset: Option<f64>,
}

/// When a threshold is crossed, as expected and at the cold end of the range.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
pub struct HoursBelow {
    /// The threshold, °C.
    pub celsius: f64,
    /// By the expected low.
    pub expected: Crossing,
    /// By the cold end of the range.
    pub at_worst: Crossing,
}

/// The night ahead at one sensor.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct Tonight {
    /// The day whose evening it is.
    pub day: Day,
    /// Sun that day.
    pub sun: SunTimes,
    /// From sunset to sunrise; none where the sun does not set or does not come back.
    pub night: Option<Night>,
    /// The reading, when there was one.
    pub reading: Option<ReadingTold>,
    /// Height of the sensor the lows are for, millimetres.
    pub sensor_height_mm: Option<u32>,
    /// What to go by.
    pub best: Estimate,
    /// What else could be worked out.
    pub others: Vec<Estimate>,
    /// The fit, when own nights allow one.
    pub fit: Option<Fit>,
    /// Why the fit is not used tonight, with what to do.
    pub fit_refused: Option<String>,
    /// The fall through the night to the expected low.
    pub trend: Option<Trend>,
    /// The same to the cold end of the range.
    pub coldest_trend: Option<Trend>,
    /// Hours below the usual thresholds; empty without a trend.
    pub hours_below: Vec<HoursBelow>,
    /// Category of the expected low.
    pub category: Option<Category>,
    /// Category at the cold end.
    pub category_at_worst: Option<Category>,
    /// What the dew point says.
    pub dew_point_says: Option<DewPointWords>,
    /// What to know beside it.
    pub notes: Vec<Said>,
}

/// Why nothing can be said of a night, and what to give.
#[derive(Clone, Debug, PartialEq, Error)]
pub enum EveningError {
    /// Nothing to go by.
    #[error(
        "there is nothing to go by: give the air temperature two hours after sunset with its \
         humidity or dew point, or the official low"
    )]
    Nothing,
    /// Moisture without air.
    #[error("a humidity says nothing without the air's temperature: give both")]
    NoAir,
    /// Not air.
    #[error("{0} °C is not a night's air: give -60 to 60 °C, or say that it is Fahrenheit")]
    Air(f64),
    /// Wrong moisture.
    #[error(transparent)]
    Moisture(#[from] MoistureError),
    /// Wrong wind.
    #[error("a wind of {0} m/s is not possible: give 0 to 100 m/s")]
    Wind(f64),
    /// No night.
    #[error(
        "the sun does not {} at this place on {day}, so there is no fall from sunset to sunrise to \
         forecast: give the official low",
        if *.polar_day { "set" } else { "rise" }
    )]
    NoNight {
        /// The day.
        day: Day,
        /// It stays up.
        polar_day: bool,
    },
}
