//! Cold: how low it goes tonight at this spot, who is at risk, and what to do in time.
mod adjust;
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
