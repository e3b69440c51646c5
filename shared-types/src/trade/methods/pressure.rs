//! Pressure canning: listed as published, not planned.

use serde::{Deserialize, Serialize};

use super::Jar;
use super::canning::{bands, canning};
use super::table::Method;
use crate::trade::provenance::Mark;
use crate::units::Altitude;

/// One row: minutes, with the pressure each band asks for. Rows are alternatives.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct PressureRow {
    /// The gauge.
    pub gauge: Gauge,
    /// Minutes at pressure.
    pub minutes: u32,
    /// psi by band; nothing where it is not recommended.
    pub psi: Vec<Option<u32>>,
    /// Jars it is for.
    pub jars: Vec<Jar>,
    /// Id of the source.
    pub source: String,
    /// How sure.
    pub mark: Mark,
}

/// A pressure canner's gauge.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Gauge {
    /// A dial, in bands of 2,000 ft up to 8,000 ft.
    Dial,
    /// A weight, up to 1,000 ft and above.
    Weighted,
}

/// One published alternative at a height.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct PressureTime {
    /// The gauge.
    pub gauge: Gauge,
    /// Minutes at pressure, after 10 minutes of venting.
    pub minutes: u32,
    /// Pounds per square inch.
    pub psi: u32,
    /// The band of altitude.
    pub band_text: String,
    /// Id of the source.
    pub source: String,
    /// How sure; always seen.
    pub mark: Mark,
}

/// The published pressure alternatives for a jar at a height; empty where there is none that was
/// seen.
pub fn pressure_times(method: &Method, jar: Jar, altitude: Altitude) -> Vec<PressureTime> {
    let (low, high) = (canning().lowest_metres.value, canning().highest_metres.value);
    if !(Altitude::from_metres(low)..=Altitude::from_metres(high)).contains(&altitude) {
        return Vec::new();
    }
    method
        .pressure
        .iter()
        .filter(|row| row.mark.is_seen() && row.jars.contains(&jar))
        .filter_map(|row| {
            let name = match row.gauge {
                Gauge::Dial => "dial",
                Gauge::Weighted => "weighted",
            };
            let bands = bands(name)?;
            let band = bands.index(altitude)?;
            Some(PressureTime {
                gauge: row.gauge,
                minutes: row.minutes,
                psi: (*row.psi.get(band)?)?,
                band_text: bands.words(band),
                source: row.source.clone(),
                mark: row.mark,
            })
        })
        .collect()
}
