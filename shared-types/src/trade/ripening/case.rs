//! A forecast asked for as a JSON file.
//!
//! ```json
//! {
//!   "today": "2026-10-12",
//!   "days": 14,
//!   "rooms": { "porch": { "celsius": 12, "humidity": 80 } },
//!   "lots": [
//!     { "lot": "A", "crop": "tomato", "class": "colouring", "kg": 25, "picked": "2026-10-09",
//!       "celsius": 20.0 },
//!     { "crop": "tomato", "class": "green", "stage": "green", "grams": 40000,
//!       "picked": "2026-10-09", "room": "porch" },
//!     { "crop": "tomato", "class": "green", "kg": 12, "room":
//!       { "celsius": [ { "day": "2026-10-09", "celsius": 12 }, { "day": "2026-10-14", "celsius": 20 } ] } }
//!   ]
//! }
//! ```
//!
//! - `days`: 1 to 366; 14 when left out. The answer's first day is `today`.
//! - weight: `kg` or `grams`, one of them, above nothing.
//! - `picked`: `today` when left out. `sorted`: the last round, if any; the weight is what was
//!   left then.
//! - where it stands: `celsius` (a number, or a list of `{day, celsius}`) with `humidity` in percent
//!   (75 when left out), or `room`: the same as an object, or the name of one in `rooms`.
//! - `stage`: one of green, breakers, turning, pink, light_red, red; `green` means mature green.
//! - `belief`: replaces parts of the prior, for all lots or for one:
//!   `{"rate": {"median": 0.9, "sd_log": 0.1}}`.

use std::collections::BTreeMap;

use serde::{Deserialize, Serialize};
use thiserror::Error;

use super::MAX_DAYS;
use super::belief::Belief;
use super::climate::{Celsius, ClimateError, RoomClimate};
use super::forecast::{Forecast, forecast};
use super::lot::LotInput;
use crate::ids::{ClassId, CropId};
use crate::trade::crops::{self, Stage};
use crate::units::{Day, Grams};

/// Most lots one case may have, so that a slip does not stop a phone.
pub const MAX_LOTS: usize = 10_000;
/// Heaviest lot: 100 t; above it somebody means grams.
const MAX_LOT_KG: f64 = 100_000.0;
const DEFAULT_DAYS: usize = 14;

/// A forecast to run. See the module's page for its JSON.
#[derive(Clone, Debug, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Case {
    /// The forecast's first day.
    pub today: Day,
    /// How many days.
    #[serde(default = "default_days")]
    pub days: usize,
    /// What is believed, for every lot without its own.
    #[serde(default)]
    pub belief: Belief,
    /// Rooms by name.
    #[serde(default, skip_serializing_if = "BTreeMap::is_empty")]
    pub rooms: BTreeMap<String, RoomClimate>,
    /// The lots.
    pub lots: Vec<CaseLot>,
}

fn default_days() -> usize {
    DEFAULT_DAYS
}

/// One lot of a [`Case`].
#[derive(Clone, Debug, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct CaseLot {
    #[serde(default, skip_serializing_if = "Option::is_none")]
    lot: Option<String>,
    crop: String,
    class: String,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    stage: Option<Stage>,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    kg: Option<f64>,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    grams: Option<f64>,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    picked: Option<Day>,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    sorted: Option<Day>,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    room: Option<RoomOrName>,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    celsius: Option<Celsius>,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    humidity: Option<f64>,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    belief: Option<Belief>,
}

#[derive(Clone, Debug, Serialize, Deserialize)]
#[serde(untagged, expecting = "room is the name of one of `rooms`, or {celsius, humidity}")]
enum RoomOrName {
    Name(String),
    Room(RoomClimate),
}

/// Why a case cannot be run, and what to write instead.
#[derive(Clone, Debug, PartialEq, Error)]
pub enum CaseError {
    /// Not JSON, or not in this shape.
    #[error("the case does not read: {0}")]
    NotACase(String),
    /// Days out of range.
    #[error("{0} days is out of range: ask for 1 to {MAX_DAYS}")]
    Days(usize),
    /// Too many lots.
    #[error("{0} lots are too many for one case: give at most {MAX_LOTS}")]
    Lots(usize),
    /// A belief that cannot be.
    #[error("the belief cannot be: {0}")]
    Belief(&'static str),
    /// Something about one lot.
    #[error("lot {lot}: {fault}")]
    Lot {
        /// Its name, or its number from 1.
        lot: String,
        /// What.
        fault: LotFault,
    },
}

/// What is wrong with a lot of a case.
#[derive(Clone, Debug, PartialEq, Error)]
pub enum LotFault {
    /// Not in the crop table.
    #[error("no crop `{crop}`: it must be one of {}", allowed.join(", "))]
    Crop {
        /// What was written.
        crop: String,
        /// What may be.
        allowed: Vec<String>,
    },
    /// Not a class of the crop.
    #[error("{crop} has no class `{class}`: it must be one of {}", allowed.join(", "))]
    Class {
        /// The crop.
        crop: String,
        /// What was written.
        class: String,
        /// What may be.
        allowed: Vec<String>,
    },
    /// A stage outside the class.
    #[error("stage {} is not within class {class}: {}", stage.words(), stages_allowed(allowed))]
    Stage {
        /// The class.
        class: String,
        /// What was written.
        stage: Stage,
        /// What may be.
        allowed: Vec<Stage>,
    },
    /// No weight, or two.
    #[error("give its weight once: `kg` or `grams`")]
    Weight,
    /// Not a weight.
    #[error("{0} kg is not a lot: give more than 0 and at most 100000")]
    Heavy(f64),
    /// Picked or sorted later than today, or sorted before it was picked.
    #[error("its days are out of order: picked, then sorted, then today")]
    Days,
    /// Nowhere to stand, or two places.
    #[error("say once where it stands: `celsius`, or `room`")]
    Room,
    /// Not one of the rooms.
    #[error("no room `{room}` in `rooms`: it must be one of {}", allowed.join(", "))]
    NoRoom {
        /// What was written.
        room: String,
        /// What may be.
        allowed: Vec<String>,
    },
    /// Not a climate.
    #[error(transparent)]
    Climate(#[from] ClimateError),
    /// A belief that cannot be.
    #[error("the belief cannot be: {0}")]
    Belief(&'static str),
}

fn stages_allowed(allowed: &[Stage]) -> String {
    if allowed.is_empty() {
        return "leave `stage` out".to_owned();
    }
    let words: Vec<_> = allowed.iter().map(|stage| stage.words()).collect();
    format!("it may be {}", words.join(", "))
}

impl Case {
    /// Reads a case.
    ///
    /// # Errors
    /// [`CaseError::NotACase`] with the line and what was expected.
    pub fn parse(text: &str) -> Result<Self, CaseError> {
        serde_json::from_str(text).map_err(|error| CaseError::NotACase(error.to_string()))
    }
}

/// Runs a case.
///
/// # Errors
/// The first thing wrong with it, in words for the person who wrote it.
pub fn run(case: &Case) -> Result<Forecast, CaseError> {
    if !(1..=MAX_DAYS).contains(&case.days) {
        return Err(CaseError::Days(case.days));
    }
    if case.lots.len() > MAX_LOTS {
        return Err(CaseError::Lots(case.lots.len()));
    }
    if let Some(fault) = case.belief.fault() {
        return Err(CaseError::Belief(fault));
    }
    let mut lots = Vec::with_capacity(case.lots.len());
    for (i, lot) in case.lots.iter().enumerate() {
        let name = || lot.lot.clone().unwrap_or_else(|| (i + 1).to_string());
        lots.push(input(lot, case).map_err(|fault| CaseError::Lot { lot: name(), fault })?);
    }
    Ok(forecast(&lots, &case.belief, case.today, case.days))
}

fn input(lot: &CaseLot, case: &Case) -> Result<LotInput, LotFault> {
    let id = CropId::from(lot.crop.as_str());
    let crop = crops::crop(&id).ok_or_else(|| LotFault::Crop {
        crop: lot.crop.clone(),
        allowed: crops::all().iter().map(|crop| crop.slug.to_string()).collect(),
    })?;
    let class_id = ClassId::from(lot.class.as_str());
    let class = crop.class(&class_id).ok_or_else(|| LotFault::Class {
        crop: lot.crop.clone(),
        class: lot.class.clone(),
        allowed: crop.classes.iter().map(|class| class.id.to_string()).collect(),
    })?;
    if let Some(stage) = lot.stage
        && !class.stages.contains(&stage)
    {
        let allowed = class.stages.clone();
        return Err(LotFault::Stage { class: lot.class.clone(), stage, allowed });
    }
    let picked = lot.picked.unwrap_or(case.today);
    let sorted = lot.sorted.unwrap_or(picked);
    if picked > sorted || sorted > case.today {
        return Err(LotFault::Days);
    }
    if let Some(fault) = lot.belief.and_then(|belief| belief.fault()) {
        return Err(LotFault::Belief(fault));
    }
    Ok(LotInput {
        lot: lot.lot.clone(),
        crop: id,
        class: class_id,
        stage: lot.stage,
        grams: weight(lot)?,
        picked,
        sorted: lot.sorted,
        rounds: Vec::new(),
        room: room(lot, case)?,
        belief: lot.belief,
    })
}

fn weight(lot: &CaseLot) -> Result<Grams, LotFault> {
    let kg = match (lot.kg, lot.grams) {
        (Some(kg), None) => kg,
        (None, Some(grams)) => grams / 1000.0,
        _ => return Err(LotFault::Weight),
    };
    if kg > 0.0 && kg <= MAX_LOT_KG {
        Ok(Grams(libm::round(kg * 1000.0) as i64))
    } else {
        Err(LotFault::Heavy(kg))
    }
}

fn room(lot: &CaseLot, case: &Case) -> Result<RoomClimate, LotFault> {
    match (&lot.room, &lot.celsius) {
        (None, Some(celsius)) => Ok(RoomClimate::from_written(celsius.clone(), lot.humidity)?),
        (Some(_), _) if lot.humidity.is_some() => Err(LotFault::Room),
        (Some(RoomOrName::Room(room)), None) => Ok(room.clone()),
        (Some(RoomOrName::Name(name)), None) => case.rooms.get(name).cloned().ok_or_else(|| {
            LotFault::NoRoom { room: name.clone(), allowed: case.rooms.keys().cloned().collect() }
        }),
        _ => Err(LotFault::Room),
    }
}
