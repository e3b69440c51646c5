//! Logged nights, and which of them the method is for.

use serde::{Deserialize, Serialize};

use crate::units::Day;

/// Wind from which the method no longer holds, m/s: "wind less than 2 m/s" (FAO, V2).
pub const WIND_LIMIT_M_S: f64 = 2.0;

/// Hours after sunset at which the evening's reading is taken (FAO, V2).
pub const READING_HOURS: f64 = 2.0;

/// How far from that hour a reading may be. Chosen here: the fall is steepest early, and half an
/// hour moves the reading by about half a degree on a clear night.
pub const READING_SLACK_HOURS: f64 = 0.5;

/// The sky of an evening.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Sky {
    /// Stars everywhere.
    Clear,
    /// Some cloud.
    PartCloud,
    /// Overcast.
    Cloud,
    /// Fog.
    Fog,
    /// Rain or snow.
    Rain,
}

impl Sky {
    /// All, in the order they stand on screens.
    pub const ALL: [Self; 5] = [Self::Clear, Self::PartCloud, Self::Cloud, Self::Fog, Self::Rain];

    /// In words.
    pub const fn words(self) -> &'static str {
        match self {
            Self::Clear => "clear",
            Self::PartCloud => "part cloud",
            Self::Cloud => "cloud",
            Self::Fog => "fog",
            Self::Rain => "rain or snow",
        }
    }
}

/// One night of the grower's own, all three temperatures from one sensor, °C.
#[derive(Clone, Copy, Debug, Default, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct LoggedNight {
    /// The evening's day.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub day: Option<Day>,
    /// Air two hours past sunset: T0.
    pub evening: f64,
    /// Dew point then: Td0.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub dew_point: Option<f64>,
    /// The night's lowest: Tn.
    pub low: f64,
    /// The official low for that night, forecast the evening before, if noted.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub official_low: Option<f64>,
    /// The sky; taken as clear when nobody said.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub sky: Option<Sky>,
    /// Wind, m/s; taken as calm when nobody said.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub wind_m_s: Option<f64>,
    /// When the evening was read, hours after sunset; taken as two when nobody said.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub read_hours: Option<f64>,
}

/// Why a night, or an evening, is outside the method's scope.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
#[serde(tag = "why", rename_all = "snake_case")]
pub enum OutOfScope {
    /// Cloud, fog or rain.
    Sky {
        /// Which.
        sky: Sky,
    },
    /// Too much wind.
    Wind {
        /// How much, m/s.
        m_s: f64,
    },
    /// Not read two hours after sunset.
    Hour {
        /// Hours after sunset; below zero before it.
        hours: f64,
    },
    /// A number that no thermometer shows, or a low above the evening.
    Numbers,
}

impl OutOfScope {
    /// In words.
    pub fn words(&self) -> String {
        match self {
            Self::Sky { sky } => {
                format!("{}: the method is for clear nights without fog or rain", sky.words())
            }
            Self::Wind { m_s } => {
                format!("wind of {m_s:.1} m/s: the method is for less than {WIND_LIMIT_M_S} m/s")
            }
            Self::Hour { hours } if *hours < 0.0 => format!(
                "read {:.1} h before sunset: the method takes the reading two hours after it",
                -hours
            ),
            Self::Hour { hours } => {
                format!("read {hours:.1} h after sunset: the method takes the reading at two hours")
            }
            Self::Numbers => "its temperatures cannot be: -60 to 60 °C, the low not above the \
                              evening, the dew point not above the air"
                .to_owned(),
        }
    }
}

/// Is an evening one that the method is for? What nobody said counts as clear, calm and on time.
///
/// # Errors
/// The first reason why not.
pub fn in_scope(
    sky: Option<Sky>,
    wind_m_s: Option<f64>,
    read_hours: Option<f64>,
) -> Result<(), OutOfScope> {
    if let Some(sky) = sky.filter(|sky| *sky != Sky::Clear) {
        return Err(OutOfScope::Sky { sky });
    }
    if let Some(m_s) = wind_m_s.filter(|m_s| !(0.0..WIND_LIMIT_M_S).contains(m_s)) {
        return Err(OutOfScope::Wind { m_s });
    }
    let late = |hours: &f64| (hours - READING_HOURS).abs() <= READING_SLACK_HOURS;
    if let Some(hours) = read_hours.filter(|hours| !late(hours)) {
        return Err(OutOfScope::Hour { hours });
    }
    Ok(())
}

impl LoggedNight {
    /// Is it one that the method is for?
    ///
    /// # Errors
    /// The first reason why not.
    pub fn in_scope(&self) -> Result<(), OutOfScope> {
        let air = |celsius: f64| (-60.0..=60.0).contains(&celsius);
        let dew = self.dew_point.is_none_or(|dew| air(dew) && dew <= self.evening + 0.5);
        if !air(self.evening) || !air(self.low) || self.low > self.evening || !dew {
            return Err(OutOfScope::Numbers);
        }
        in_scope(self.sky, self.wind_m_s, self.read_hours)
    }

    /// Was its weather noted, or is it only taken as clear and calm?
    pub const fn weather_was_noted(&self) -> bool {
        self.sky.is_some() && self.wind_m_s.is_some()
    }
}
