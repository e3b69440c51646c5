//! The temperature through the night, and the hour a threshold is crossed.
//!
//! ```text
//! b'   = (Tp − T0) / √(n − 2)          n hours from sunset to sunrise
//! T(i) = T0 + b'·√(i − 2)              i hours after sunset, 2 … n
//! i*   = 2 + ((Tc − T0)/b')²           when Tc is reached; hours below it are n − i*
//! ```
//!
//! UC Davis Biomet FP002 (V2); `i*` is algebra on it (D). Without cooling (Tp ≥ T0) there is no
//! trend.

use serde::{Deserialize, Serialize};

use super::daylight::Night;
use super::nights::READING_HOURS;
use crate::units::Millis;

/// A night's fall from the evening's reading to the low.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
pub struct Trend {
    /// The night.
    pub night: Night,
    /// Air two hours after sunset, °C: T0.
    pub evening: f64,
    /// The low, °C: Tp.
    pub low: f64,
}

/// When a threshold is crossed.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
pub struct Crossing {
    /// The threshold, °C.
    pub celsius: f64,
    /// When it is reached; the reading's own time when it was below already; `None` when it is not
    /// reached.
    pub at: Option<Millis>,
    /// Hours at or below it until sunrise.
    pub hours_below: f64,
}

impl Trend {
    /// A trend; none when the low is not below the evening, or the night no longer than two hours.
    pub fn new(night: Night, evening: f64, low: f64) -> Option<Self> {
        let cools = low < evening && night.hours() > READING_HOURS;
        cools.then_some(Self { night, evening, low })
    }

    /// Fall per root of an hour, °C: `b'`.
    pub fn rate(&self) -> f64 {
        (self.low - self.evening) / libm::sqrt(self.night.hours() - READING_HOURS)
    }

    /// Temperature `hours` after sunset, °C; held at the ends of the night.
    pub fn celsius(&self, hours: f64) -> f64 {
        let since = (hours - READING_HOURS).clamp(0.0, self.night.hours() - READING_HOURS);
        self.evening + self.rate() * libm::sqrt(since)
    }

    /// When `threshold` (°C) is crossed, and for how long it stays below.
    pub fn crossing(&self, threshold: f64) -> Crossing {
        let n = self.night.hours();
        let hours = if self.evening <= threshold {
            Some(READING_HOURS)
        } else if self.low <= threshold {
            let roots = (threshold - self.evening) / self.rate();
            Some((READING_HOURS + roots * roots).min(n))
        } else {
            None
        };
        Crossing {
            celsius: threshold,
            at: hours.map(|hours| self.night.moment(hours)),
            hours_below: hours.map_or(0.0, |hours| n - hours),
        }
    }
}
