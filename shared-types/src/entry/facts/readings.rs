//! How warm rooms are, and what learning from rounds is to forget.

use serde::{Deserialize, Serialize};

use crate::ids::*;
use crate::units::{MilliCelsius, Millis};

/// The most readings one entry may hold, so that it stays within an entry's size: each is at most
/// 67 bytes.
pub const READINGS_MAX: usize = 200;

/// One reading of a thermometer.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct RoomReading {
    /// When.
    pub at: Millis,
    /// Thousandths of a degree Celsius.
    pub millidegrees: MilliCelsius,
    /// Relative humidity in thousandths, when it was measured.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub humidity_permille: Option<i64>,
}

impl RoomReading {
    /// Whether a room can be so: −60 to 80 °C, humidity from nothing to all.
    pub fn is_likely(&self) -> bool {
        let range = MilliCelsius::from_celsius(-60)..=MilliCelsius::from_celsius(80);
        let humid = self.humidity_permille.is_none_or(|humid| (0..=1_000).contains(&humid));
        range.contains(&self.millidegrees) && humid
    }
}

fact! {
    /// Readings of a room's thermometer: by hand, from a logger's file, or sent by a sensor.
    ReadingsTaken {
        /// Their own name. Of two readings of one moment, the one of the later name stands.
        readings: ReadingsId,
        /// Of which room.
        room: RoomId,
        /// Where they come from: `hand`, a file's name, a sensor's.
        source: String,
        /// At most [`READINGS_MAX`] of them, in any order.
        taken: Vec<RoomReading>,
        ?
    }
}

fact! {
    /// Says what a room's temperature is reckoned by.
    RoomClimateSet {
        /// Which room.
        room: RoomId,
        ?
        /// `log`: its readings where there are any; `setting`: its usual temperature, whatever
        /// was read; `swing`: day and night, where nothing was read.
        follow: String,
        /// Usual temperature by day.
        by_day: MilliCelsius,
        /// Usual temperature by night.
        by_night: MilliCelsius,
    }
}

fact! {
    /// Forgets what rounds taught before `at`. The rounds themselves stay.
    LearningReset {
        /// Of which crop.
        crop: CropId,
        /// Rounds from then on count.
        at: Millis,
        /// Who says so.
        person: PersonId,
        ?
        /// Of this variety alone; of the whole crop when absent.
        variety: VarietyId,
    }
}
