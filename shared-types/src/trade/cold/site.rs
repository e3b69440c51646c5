//! The spot on earth, and the hills around it.

use serde::{Deserialize, Serialize};
use thiserror::Error;

use crate::units::Altitude;

/// Where a holding lies.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct Site {
    latitude_udeg: i32,
    longitude_udeg: i32,
    /// Height above the sea: sets the air pressure for a wet-bulb reading. It does not move
    /// sunrise: a valley has no sea horizon to dip.
    pub height: Altitude,
    /// What the hills take off the day.
    pub shadow: Shadow,
}

/// Minutes that hills take off the day, as the grower has seen them.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
pub struct Shadow {
    /// How much later than on the plain the sun comes, minutes.
    pub morning_minutes: u16,
    /// How much earlier it goes, minutes.
    pub evening_minutes: u16,
}

/// Not a spot on earth.
#[derive(Clone, Copy, Debug, PartialEq, Error)]
pub enum SiteError {
    /// Beyond a pole.
    #[error("latitude {0} is beyond a pole: give -90 to 90 degrees, south below zero")]
    Latitude(f64),
    /// Beyond the date line.
    #[error("longitude {0} is out of range: give -180 to 180 degrees, west below zero")]
    Longitude(f64),
    /// Longer than a hill can shade.
    #[error("a hill's shadow of {0} minutes is too long: give 0 to {MAX_SHADOW_MINUTES}")]
    Shadow(u16),
}

/// Longest shadow that is taken, minutes: above it no sun would be left on a winter's day.
pub const MAX_SHADOW_MINUTES: u16 = 240;

impl Site {
    /// A site by its latitude (north above zero) and longitude (east above zero) in millionths of
    /// a degree.
    ///
    /// # Errors
    /// When it is not on earth.
    pub fn new(latitude_udeg: i32, longitude_udeg: i32) -> Result<Self, SiteError> {
        let degrees = |micro: i32| f64::from(micro) / 1e6;
        if latitude_udeg.unsigned_abs() > 90_000_000 {
            return Err(SiteError::Latitude(degrees(latitude_udeg)));
        }
        if longitude_udeg.unsigned_abs() > 180_000_000 {
            return Err(SiteError::Longitude(degrees(longitude_udeg)));
        }
        Ok(Self {
            latitude_udeg,
            longitude_udeg,
            height: Altitude::default(),
            shadow: Shadow::default(),
        })
    }

    /// The same from degrees.
    ///
    /// # Errors
    /// When it is not on earth, or not a number.
    pub fn from_degrees(latitude: f64, longitude: f64) -> Result<Self, SiteError> {
        if !(-90.0..=90.0).contains(&latitude) {
            return Err(SiteError::Latitude(latitude));
        }
        if !(-180.0..=180.0).contains(&longitude) {
            return Err(SiteError::Longitude(longitude));
        }
        let micro = |degrees: f64| libm::round(degrees * 1e6) as i32;
        Self::new(micro(latitude), micro(longitude))
    }

    /// At that height.
    #[must_use]
    pub const fn at_height(self, height: Altitude) -> Self {
        Self { height, ..self }
    }

    /// Behind those hills.
    ///
    /// # Errors
    /// When a shadow is longer than [`MAX_SHADOW_MINUTES`].
    pub fn shaded(self, shadow: Shadow) -> Result<Self, SiteError> {
        let longest = shadow.morning_minutes.max(shadow.evening_minutes);
        if longest > MAX_SHADOW_MINUTES {
            return Err(SiteError::Shadow(longest));
        }
        Ok(Self { shadow, ..self })
    }

    /// Degrees, north above zero.
    pub fn latitude(&self) -> f64 {
        f64::from(self.latitude_udeg) / 1e6
    }

    /// Degrees, east above zero.
    pub fn longitude(&self) -> f64 {
        f64::from(self.longitude_udeg) / 1e6
    }

    /// Pressure of the standard atmosphere at this height, hPa:
    /// `1013.25 · (1 − 2.25577e-5 · h)^5.25588` (ICAO standard atmosphere, from memory).
    pub fn pressure_hpa(&self) -> f64 {
        let left = 1.0 - 2.255_77e-5 * self.height.metres().clamp(-500.0, 9_000.0);
        1013.25 * libm::pow(left, 5.255_88)
    }
}
