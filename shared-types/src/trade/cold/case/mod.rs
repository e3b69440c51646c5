//! A night asked for as a JSON file.
//!
//! ```json
//! {
//!   "day": "2026-10-09",
//!   "latitude": 46.7, "longitude": 9.9, "height_m": 870, "utc_offset_minutes": 120,
//!   "hill_shadow": { "morning_minutes": 40, "evening_minutes": 75 },
//!   "unit": "C",
//!   "evening": 5.2, "dew_point": 0.4, "read_at": "20:45",
//!   "sensor_height_m": 1.5, "sky": "clear", "wind_m_s": 0.5, "official_low": 2,
//!   "nights": [ { "evening": 3.2, "dew_point": -4.2, "low": -3.1 } ],
//!   "things": [
//!     { "id": "bed-3", "label": "Pepper, bed 3", "crop": "pepper", "stands": "growing",
//!       "covers": ["tunnel"], "at_hand": ["light-fabric"] },
//!     { "crop": "winter-squash", "stands": "porch" }
//!   ],
//!   "tunnels": [ { "id": "t1", "label": "the tunnel", "heater": true } ],
//!   "heater": { "length_m": 20, "width_m": 6, "skin": "single", "inside": 2 }
//! }
//! ```
//!
//! - Only `day`, `latitude` and `longitude` are required, and something to go by: `evening` or
//!   `official_low`.
//! - **Temperatures** are numbers in `unit` (`"C"` when left out, or `"F"`), or texts with their own
//!   unit: `"41 F"`, `"5 °C"`. **Lengths** end in `_m` or `_ft`; **wind** is `wind_m_s`, `wind_km_h` or
//!   `wind_mph`.
//! - **Moisture**, one of: `dew_point`, `humidity` (percent), `wet_bulb`. Without it the answer is
//!   wider.
//! - `read_at`: the clock time `"20:45"` of the reading, or `hours_after_sunset`; two hours after
//!   sunset when left out. `utc_offset_minutes`: the clock's; by the longitude when left out.
//! - `sky`: clear, part_cloud, cloud, fog, rain. Sky and wind count as clear and calm when left out.
//! - `nights`: the grower's own, ten or more for a fit; each with `evening`, `low`, and if known
//!   `dew_point`, `official_low`, `sky`, wind, `read_hours` (hours after sunset), `day`.
//! - `things`: `stands` is growing, open, porch, tunnel, shed or indoors; growing when left out.
//!   `covers` are over it already, `at_hand` could be; ids as in [`super::covers`].
//! - `heater`: a tunnel in metres or feet; `skin` is single, double, polycarbonate or glass (single);
//!   `inside` is what to hold (0 °C), `outside` the cold end of tonight's range when left out.
//!
//! The answer holds `tonight` ([`super::Tonight`]), `clock` (local times as text), `at_risk`
//! ([`super::Risk`]), `chores` ([`super::Chore`], with `clock`) and `heater` ([`super::Heat`]).
//! Temperatures are °C; instants are milliseconds since 1970, UTC.

mod given;
mod run;
#[cfg(test)]
mod tests;

pub use given::{Degrees, Unit};
pub use run::{Answer, Case, CaseChore, CaseError, Clock, run};
