//! Cold: how low it goes tonight at this spot, who is at risk, and what to do in time.
//!
//! # Context
//! In autumn one clear night ends the season. The official low is for a screen at two metres in
//! some other place; valley floors, slopes and sheds differ by degrees. What helps is the grower's
//! own thermometer, read two hours after sunset, and a log of what such evenings came to.
//!
//! # Design
//! ```text
//! site, day   -> sun, night          sunrise, sunset, length of the night (Meeus; polar-safe)
//! nights      -> fit                 Tp = b·T0 + c·Td0 + d in two stages, refused below ten nights
//! evening     -> tonight             the low with its range, hours below each threshold
//! things      -> at_risk             low where each thing stands against what it stands
//! risks       -> chores              close, cover, carry in, heat, look, open; with clock times
//! tunnel, ΔT  -> heater              U·A·ΔT
//! ```
//!
//! **Which low.** A fit of the place, when tonight is within its scope (clear, calm, read on time);
//! then the official low shifted by what own nights differed from it; then fall-back rules, each
//! called one. Their shifts come from FAO's ten nights, and so hold for those nights by
//! construction; elsewhere they are a guess with an honest width. No site's coefficients are built
//! in. In wind and cloud the official low comes before the rules of radiation nights.
//!
//! **Ranges.** Every low is expected, cold end, warm end; alarms go by the cold end. A fit's range is
//! that of a new observation, nine nights of ten on either side.
//!
//! **Where a thing stands.** Height of sensor against plant, tunnel and covers are ranges; layers do
//! not add; no more is credited than a source allows ([`covered`], [`height`]).
//!
//! **What it stands.** Hardiness by three lists, freezing points by several tables. All are shown,
//! the warmest gives the alarm ([`growing`], [`picked`]). A freezing point is not an injury class:
//! that is with the stores.
//!
//! **Polar and other odd places.** Days are searched as a whole for crossings of the horizon, so the
//! date line, a clock far from the sun, and a sunset past midnight are no special cases. Where the
//! sun does not set the rules refuse and the official low serves.
//!
//! A whole question as JSON is a [`case::Case`].
//!
//! # What it was checked against
//! Sun: a general astronomy library, 75 places and days, at most 14 s apart. Fit: every intermediate
//! and the printed prediction of FAO's ten nights. Dew point: psychrolib and AZMET's constants. See
//! `tests/reference`.
//!
//! # Not yet true
//! - A hill's shadow is two numbers for the whole year.
//! - A reading at an odd hour is not carried back to the second hour; only its dew point is used.
//! - How long a frost must last to kill is told ([`frost_lasts`]) and not weighed in.
//! - A shed is credited nothing: no source says what one holds. Hang a thermometer in it.

mod adjust;
pub mod case;
mod chores;
mod daylight;
mod evening;
mod fit;
mod hardiness;
mod heater;
mod lows;
mod moisture;
mod nights;
mod risk;
mod site;
mod sun;
mod table;
mod tonight;
mod trend;

pub use adjust::{Credit, SENSOR_HEIGHT_MM, cover, cover_cautions, covered, covers, height};
pub use chores::{Chore, ChoreKind, Closable, chores};
pub use daylight::{Light, Night, SunTimes, night, sun};
pub use evening::{Estimate, Evening, EveningError, HoursBelow, How, ReadingTold, Tonight};
pub use fit::{FEWEST_NIGHTS, FirstStage, Fit, FitRefusal, LeftOut, Predicted, Spread, fit};
pub use hardiness::{
    FreezingPoint, Hardiness, Threshold, freezing_point, freezing_points, growing, hardiness,
    picked, plant_height_mm,
};
pub use heater::{
    BTU_H_PER_KW, Heat, HeatError, SI_PER_U, Tunnel, glazings, heater, heater_cautions,
};
pub use lows::{Difference, FEWEST_OFFICIAL, official_difference};
pub use moisture::{MAGNUS_A, MAGNUS_B_CELSIUS, Moisture, MoistureError, dew_point, saturated_hpa};
pub use nights::{
    LoggedNight, OutOfScope, READING_HOURS, READING_SLACK_HOURS, Sky, WIND_LIMIT_M_S, in_scope,
};
pub use risk::{Level, LowHere, Risk, Stands, Thing, at_risk};
pub use site::{MAX_SHADOW_MINUTES, Shadow, Site, SiteError};
pub use sun::altitude;
pub use table::{
    Category, Cover, DewPointWords, Glazing, Shift, category, dew_point_words, frost_lasts,
};
pub use tonight::{THRESHOLDS, tonight};
pub use trend::{Crossing, Trend};
