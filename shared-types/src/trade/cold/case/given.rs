//! Quantities as people write them.

use serde::{Deserialize, Serialize};

/// The unit of bare temperatures.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
pub enum Unit {
    /// Degrees Celsius.
    #[default]
    #[serde(alias = "c", alias = "celsius", alias = "Celsius", alias = "°C")]
    C,
    /// Degrees Fahrenheit.
    #[serde(alias = "f", alias = "fahrenheit", alias = "Fahrenheit", alias = "°F")]
    F,
}

/// A temperature: a number in the case's unit, or a text with its own.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(untagged, expecting = "a temperature is a number, or a text like \"41 F\" or \"5 °C\"")]
pub enum Degrees {
    /// In the case's unit.
    Bare(f64),
    /// With its own unit.
    Text(String),
}

impl Degrees {
    /// In °C.
    ///
    /// # Errors
    /// The text, when it is no temperature.
    pub fn celsius(&self, unit: Unit) -> Result<f64, String> {
        match self {
            Self::Bare(degrees) => Ok(to_celsius(*degrees, unit)),
            Self::Text(text) => {
                let wrong = || format!("`{text}` is not a temperature: write it like \"41 F\"");
                let bare = text.trim().replace(['°', ' ', ','], "").to_uppercase();
                let (number, unit) = match bare.strip_suffix(['C', 'F']) {
                    Some(number) if bare.ends_with('F') => (number.to_owned(), Unit::F),
                    Some(number) => (number.to_owned(), Unit::C),
                    None => (bare.clone(), unit),
                };
                number.parse().map(|degrees| to_celsius(degrees, unit)).map_err(|_| wrong())
            }
        }
    }
}

fn to_celsius(degrees: f64, unit: Unit) -> f64 {
    match unit {
        Unit::C => degrees,
        Unit::F => (degrees - 32.0) * 5.0 / 9.0,
    }
}

/// A foot in metres, exactly.
pub(super) const METRES_PER_FOOT: f64 = 0.3048;

/// A length given in metres or in feet, metres.
pub(super) fn metres(
    what: &str,
    in_metres: Option<f64>,
    in_feet: Option<f64>,
) -> Result<Option<f64>, String> {
    match (in_metres, in_feet) {
        (Some(_), Some(_)) => Err(format!("give {what} once: in metres or in feet")),
        (metres, feet) => {
            let length = metres.or(feet.map(|feet| feet * METRES_PER_FOOT));
            match length.filter(|length| !length.is_finite()) {
                Some(wrong) => Err(format!("{what} of {wrong} is not a length")),
                None => Ok(length),
            }
        }
    }
}

/// Wind in m/s.
pub(super) fn wind(
    m_s: Option<f64>,
    km_h: Option<f64>,
    mph: Option<f64>,
) -> Result<Option<f64>, String> {
    let all = [m_s, km_h.map(|km_h| km_h / 3.6), mph.map(|mph| mph * 0.447_04)];
    let mut given = all.into_iter().flatten();
    match (given.next(), given.next()) {
        (_, Some(_)) => Err("give the wind once: `wind_m_s`, `wind_km_h` or `wind_mph`".to_owned()),
        (wind, None) => Ok(wind),
    }
}

/// Minutes after midnight of a clock time like `20:45`.
pub(super) fn clock_minutes(text: &str) -> Result<i64, String> {
    let wrong = || format!("`{text}` is not a clock time: write it like \"20:45\"");
    let (hours, minutes) = text.trim().split_once(':').ok_or_else(wrong)?;
    match (hours.parse::<i64>(), minutes.parse::<i64>()) {
        (Ok(hours @ 0..=23), Ok(minutes @ 0..=59)) => Ok(hours * 60 + minutes),
        _ => Err(wrong()),
    }
}
