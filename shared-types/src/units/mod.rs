//! Quantities, each in one unit, as integers, so that no device rounds differently from another.
//!
//! | type | unit | why |
//! |---|---|---|
//! | [`Grams`] | gram | scales of the trade show 5 g or more |
//! | [`Reading`] | thousandth of a kilogram or pound | a reading is kept as it was read |
//! | [`MilliCelsius`] | 0.001 °C | thermometers post 0.01 °C |
//! | [`Millis`] | millisecond since 1970-01-01 UTC | as browsers count |
//! | [`Day`] | a calendar day, no zone | picks and forecasts are by day |
//! | [`Altitude`] | 0.1 mm | a foot is exactly 0.3048 m, so band edges are exact in both |
//! | [`Measure`] | teaspoon | recipes are written in spoons and cups; their ratios are whole |

mod altitude;
mod temperature;
mod time;
mod volume;
mod weight;

pub use altitude::{Altitude, AltitudeError};
pub use temperature::MilliCelsius;
pub use time::{DAY_MS, Day, HOUR_MS, MINUTE_MS, Millis};
pub use volume::{KG_PER_LB, LITRES_PER_QUART, ML_PER_CUBIC_INCH, Measure, kg_per_litre};
pub use weight::{Grams, HEAVIEST, Reading, WeightError, WeightUnit};
