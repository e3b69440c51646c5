//! Stores asked about as a JSON file.
//!
//! ```json
//! {
//!   "today": "2026-12-01",
//!   "rooms": { "cellar": { "celsius": 8, "humidity": 80 } },
//!   "lots": [
//!     { "lot": "A", "crop": "winter-squash", "variety": "acorn", "picked": "2026-10-09", "room": "cellar",
//!       "cured": false, "chilled_days": 1.5, "frosted": "2026-10-09", "softening": false },
//!     { "crop": "onion", "picked": "2026-09-20", "fahrenheit": 35, "humidity": 65, "cured": true }
//!   ],
//!   "rounds": [ { "crop": "winter-squash", "count": 40, "looks": [ { "day": 63, "lost": 4, "taken": 10 } ] } ],
//!   "shares": [ { "label": "drip", "with_defect": 1, "fruits": 220, "clusters": 24, "basis": "counted" } ]
//! }
//! ```
//!
//! - Every list may be left out. `today` is required.
//! - A lot stands in `room` (the name of one in `rooms`, or an object `{celsius, humidity}`; `celsius`
//!   may be a list of `{day, celsius}`), or has `celsius` or `fahrenheit`, with `humidity` in percent.
//! - `variety`: a variety's name or the key of a kind ("acorn"); the crop's common row when left out.
//!   `cured`: left out while nobody said. `chilled_days`: days of cold before it came in.
//!   `frosted`: the day frost touched it.
//! - `rounds`: `day` counts from the day they came in; `lost` were soft or rotten in that round,
//!   `taken` were taken out sound.
//! - `shares`: `clusters` are plants, or beds and pickings; 1 when left out, which is the widest
//!   answer. `basis` is counted, from_weight or bins.
//!
//! The answer holds `eat_first` ([`super::Ranked`], in order), `rounds` ([`super::Survival`]), `shares`
//! ([`Share`]) and `compared` ([`Compared`], every pair of shares).

use std::collections::BTreeMap;

use serde::{Deserialize, Serialize};
use thiserror::Error;

use super::eat_first::{Ranked, StoreLot, eat_first};
use super::keep::KeepError;
use super::survival::{Look, Survival, SurvivalError, survival};
use crate::ids::CropId;
use crate::trade::ripening::{HumidityPermille, RoomClimate};
use crate::trade::shares::{Basis, Compared, Share, Tally, compare, share};
use crate::units::{Day, MilliCelsius};

/// Most lots one case may have, so that a slip does not stop a phone.
const MAX_LOTS: usize = 10_000;
/// Most groups whose shares are compared: pairs grow with the square.
const MAX_SHARES: usize = 100;

/// Stores to look at. See the module's page for its JSON.
#[derive(Clone, Debug, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Case {
    today: Day,
    #[serde(default)]
    rooms: BTreeMap<String, RoomClimate>,
    #[serde(default)]
    lots: Vec<CaseLot>,
    #[serde(default)]
    rounds: Vec<CaseRounds>,
    #[serde(default)]
    shares: Vec<CaseShare>,
}

#[derive(Clone, Debug, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
struct CaseLot {
    lot: Option<String>,
    crop: CropId,
    variety: Option<String>,
    picked: Day,
    room: Option<RoomOrName>,
    celsius: Option<f64>,
    fahrenheit: Option<f64>,
    humidity: Option<f64>,
    cured: Option<bool>,
    #[serde(default)]
    chilled_days: f64,
    frosted: Option<Day>,
    #[serde(default)]
    softening: bool,
}

#[derive(Clone, Debug, Serialize, Deserialize)]
#[serde(untagged, expecting = "room is the name of one of `rooms`, or {celsius, humidity}")]
enum RoomOrName {
    Name(String),
    Room(RoomClimate),
}

#[derive(Clone, Debug, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
struct CaseRounds {
    crop: CropId,
    count: u32,
    looks: Vec<Look>,
}

#[derive(Clone, Debug, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
struct CaseShare {
    label: String,
    with_defect: f64,
    fruits: f64,
    #[serde(default = "one")]
    clusters: u32,
    #[serde(default = "counted")]
    basis: Basis,
}

fn one() -> u32 {
    1
}

fn counted() -> Basis {
    Basis::Counted
}

/// The answer to a case.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct Answer {
    /// The lots, in the order to eat them.
    pub eat_first: Vec<Ranked>,
    /// Curves of own rounds.
    pub rounds: Vec<Curve>,
    /// Shares with their intervals.
    pub shares: Vec<Share>,
    /// Every pair of them.
    pub compared: Vec<Compared>,
}

/// A curve and whose it is.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct Curve {
    /// The crop.
    pub crop: CropId,
    /// Its curve.
    #[serde(flatten)]
    pub survival: Survival,
}

/// Why a case cannot be answered, and what to write instead.
#[derive(Clone, Debug, PartialEq, Error)]
pub enum CaseError {
    /// Not JSON, or not in this shape.
    #[error("the case does not read: {0}")]
    NotACase(String),
    /// Too many.
    #[error("give at most {MAX_LOTS} lots and {MAX_SHARES} shares")]
    TooMany,
    /// Where a lot stands.
    #[error("lot {lot}: {fault}")]
    Room {
        /// Its name, or its number from 1.
        lot: String,
        /// What, and what to write.
        fault: String,
    },
    /// A lot that cannot be.
    #[error("lot {lot}: {fault}")]
    Lot {
        /// Its name, or its number from 1.
        lot: String,
        /// What.
        fault: KeepError,
    },
    /// Rounds that cannot be.
    #[error("rounds of {crop}: {fault}")]
    Rounds {
        /// The crop.
        crop: CropId,
        /// What.
        fault: SurvivalError,
    },
    /// A share that cannot be.
    #[error("share {0}: give fruits above 0, and with_defect from 0 to as many")]
    Share(String),
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

/// Answers a case.
///
/// # Errors
/// The first thing wrong with it, in words for the person who wrote it.
pub fn run(case: &Case) -> Result<Answer, CaseError> {
    if case.lots.len() > MAX_LOTS || case.shares.len() > MAX_SHARES {
        return Err(CaseError::TooMany);
    }
    let mut lots = Vec::with_capacity(case.lots.len());
    for (i, given) in case.lots.iter().enumerate() {
        let lot = given.lot.clone().unwrap_or_else(|| (i + 1).to_string());
        let room =
            room(given, case).map_err(|fault| CaseError::Room { lot: lot.clone(), fault })?;
        lots.push(StoreLot {
            lot,
            crop: given.crop.clone(),
            variety: given.variety.clone(),
            picked: given.picked,
            room,
            cured: given.cured,
            chilled_before: given.chilled_days,
            frosted: given.frosted,
            softening: given.softening,
        });
    }
    let eat_first =
        eat_first(&lots, case.today).map_err(|(lot, fault)| CaseError::Lot { lot, fault })?;
    let rounds = case.rounds.iter().map(|rounds| {
        let crop = rounds.crop.clone();
        survival(crop.as_str(), rounds.count, &rounds.looks)
            .map(|survival| Curve { crop: crop.clone(), survival })
            .map_err(|fault| CaseError::Rounds { crop, fault })
    });
    let rounds = rounds.collect::<Result<_, _>>()?;
    let shares = case.shares.iter().map(|given| {
        let CaseShare { with_defect, fruits, clusters, basis, .. } = *given;
        let label = given.label.clone();
        share(&Tally { label, with_defect, fruits, clusters, basis })
            .ok_or_else(|| CaseError::Share(given.label.clone()))
    });
    let shares: Vec<Share> = shares.collect::<Result<_, _>>()?;
    let mut compared = Vec::new();
    for (i, a) in shares.iter().enumerate() {
        compared.extend(shares[i + 1..].iter().map(|b| compare(a, b)));
    }
    Ok(Answer { eat_first, rounds, shares, compared })
}

fn room(lot: &CaseLot, case: &Case) -> Result<RoomClimate, String> {
    let celsius = match (lot.celsius, lot.fahrenheit) {
        (Some(_), Some(_)) => return Err("give its temperature once".to_owned()),
        (celsius, fahrenheit) => celsius.or(fahrenheit.map(|f| (f - 32.0) * 5.0 / 9.0)),
    };
    let mut room = match (&lot.room, celsius) {
        (Some(RoomOrName::Room(room)), None) => room.clone(),
        (Some(RoomOrName::Name(name)), None) => case.rooms.get(name).cloned().ok_or_else(|| {
            let known: Vec<&str> = case.rooms.keys().map(String::as_str).collect();
            format!("no room `{name}` in `rooms`: it must be one of {}", known.join(", "))
        })?,
        (None, Some(celsius)) if (-30.0..=60.0).contains(&celsius) => {
            RoomClimate::constant(MilliCelsius(libm::round(celsius * 1000.0) as i32))
        }
        (None, Some(celsius)) => {
            return Err(format!(
                "{celsius:.1} °C is not a room's temperature: give -30 to 60 °C, or `fahrenheit`"
            ));
        }
        _ => return Err("say once where it stands: `room`, `celsius` or `fahrenheit`".to_owned()),
    };
    if let Some(percent) = lot.humidity {
        if !(1.0..=100.0).contains(&percent) {
            return Err(format!("{percent} % is not a humidity: give 1 to 100"));
        }
        room.humidity = Some(HumidityPermille(libm::round(percent * 10.0) as u16));
    }
    Ok(room)
}
