//! Air and fruit temperature.

use serde::{Deserialize, Serialize};

/// Temperature in thousandths of a degree Celsius.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
#[serde(transparent)]
pub struct MilliCelsius(pub i32);

impl MilliCelsius {
    /// From whole degrees Celsius.
    pub const fn from_celsius(degrees: i32) -> Self {
        Self(degrees * 1000)
    }

    /// In degrees Celsius.
    pub fn celsius(self) -> f64 {
        f64::from(self.0) / 1000.0
    }

    /// In degrees Fahrenheit: F = C · 9/5 + 32.
    pub fn fahrenheit(self) -> f64 {
        self.celsius() * 9.0 / 5.0 + 32.0
    }
}
