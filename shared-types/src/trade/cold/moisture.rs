//! Dew point.

use libm::{exp, log};
use serde::{Deserialize, Serialize};
use thiserror::Error;

use super::site::Site;

/// Magnus, `a`: Alduchov and Eskridge as used by Lawrence, BAMS 2005 (V).
pub const MAGNUS_A: f64 = 17.625;
/// Magnus, `b`, °C: the same (V).
pub const MAGNUS_B_CELSIUS: f64 = 243.04;
/// Saturation vapour pressure over water at 0 °C, hPa (M).
const SATURATED_AT_ZERO_HPA: f64 = 6.1094;

/// How moist the air is, as it was measured.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Moisture {
    /// Dew point, °C.
    DewPoint(f64),
    /// Relative humidity, %.
    Humidity(f64),
    /// Wet-bulb temperature of an aspirated psychrometer, °C.
    WetBulb(f64),
}

/// What cannot be turned into a dew point.
#[derive(Clone, Copy, Debug, PartialEq, Error)]
pub enum MoistureError {
    /// No moisture at all.
    #[error("a humidity of {0} % has no dew point: give more than 0 and at most 100 percent")]
    TooDry(f64),
    /// More than saturated.
    #[error(
        "a humidity of {0} % is not possible: give at most 100 percent (sensors in fog over-read; \
         write 100)"
    )]
    TooWet(f64),
    /// Not air.
    #[error("{0} °C is not an evening's air: give -60 to 60 °C, or say that it is Fahrenheit")]
    Air(f64),
    /// Above the air's own temperature.
    #[error(
        "a dew point of {dew_point} °C lies above the air's {air} °C: check which is which, and \
         the unit"
    )]
    AboveAir {
        /// As given, °C.
        dew_point: f64,
        /// The air, °C.
        air: f64,
    },
    /// Not between the dew point and the air.
    #[error("a wet bulb of {wet} °C does not fit air of {air} °C: it lies at or somewhat below it")]
    WetBulb {
        /// As given, °C.
        wet: f64,
        /// The air, °C.
        air: f64,
    },
}

/// Tolerance for a dew point above the air: two sensors differ.
const SENSORS_DIFFER_CELSIUS: f64 = 0.5;

/// Dew point over water, °C, of air at `celsius` with a relative humidity in percent.
///
/// ```text
/// γ  = ln(RH/100) + a·T/(b + T)
/// Td = b·γ / (a − γ)            a = 17.625, b = 243.04 °C
/// ```
///
/// Below 0 °C it is the dew point, not the frost point.
///
/// # Errors
/// A humidity of 0 or less, or above 100; air that is none.
pub fn dew_point(celsius: f64, humidity_percent: f64) -> Result<f64, MoistureError> {
    is_air(celsius)?;
    if humidity_percent > 100.0 {
        return Err(MoistureError::TooWet(humidity_percent));
    }
    if humidity_percent.is_nan() || humidity_percent <= 0.0 {
        return Err(MoistureError::TooDry(humidity_percent));
    }
    let gamma = log(humidity_percent / 100.0) + MAGNUS_A * celsius / (MAGNUS_B_CELSIUS + celsius);
    Ok(MAGNUS_B_CELSIUS * gamma / (MAGNUS_A - gamma))
}

/// Saturation vapour pressure over water, hPa: `6.1094 · exp(a·T/(b + T))`.
pub fn saturated_hpa(celsius: f64) -> f64 {
    SATURATED_AT_ZERO_HPA * exp(MAGNUS_A * celsius / (MAGNUS_B_CELSIUS + celsius))
}

impl Moisture {
    /// Dew point of air at `celsius`, °C. The site's height sets the pressure for a wet bulb:
    ///
    /// ```text
    /// e = e_s(W) − 0.00066 · (1 + 0.00115·W) · (T − W) · P        (AZMET, V)
    /// ```
    ///
    /// # Errors
    /// What [`dew_point`] refuses; a dew point or wet bulb above the air.
    pub fn dew_point(self, celsius: f64, site: &Site) -> Result<f64, MoistureError> {
        is_air(celsius)?;
        match self {
            Self::Humidity(percent) => dew_point(celsius, percent),
            Self::DewPoint(dew) => {
                is_air(dew)?;
                if dew > celsius + SENSORS_DIFFER_CELSIUS {
                    return Err(MoistureError::AboveAir { dew_point: dew, air: celsius });
                }
                Ok(dew.min(celsius))
            }
            Self::WetBulb(wet) => {
                is_air(wet)?;
                let away = celsius - wet;
                let vapour = saturated_hpa(wet)
                    - 0.000_66 * (1.0 + 0.001_15 * wet) * away * site.pressure_hpa();
                if away < 0.0 || vapour <= 0.0 {
                    return Err(MoistureError::WetBulb { wet, air: celsius });
                }
                dew_point(celsius, (vapour / saturated_hpa(celsius) * 100.0).min(100.0))
            }
        }
    }
}

fn is_air(celsius: f64) -> Result<(), MoistureError> {
    if (-60.0..=60.0).contains(&celsius) { Ok(()) } else { Err(MoistureError::Air(celsius)) }
}
