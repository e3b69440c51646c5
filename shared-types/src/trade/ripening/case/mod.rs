//! A forecast asked for as a JSON file.
//!
//! ```json
//! {
//!   "today": "2026-10-20",
//!   "days": 14,
//!   "quantiles": [0.05, 0.25, 0.5, 0.75, 0.95],
//!   "rooms": {
//!     "porch": { "min": 8, "max": 16, "humidity": 80 },
//!     "kitchen": { "celsius": 20, "readings": [ { "at": "2026-10-19T18:00", "celsius": 21.4, "humidity": 55 } ] }
//!   },
//!   "lots": [
//!     { "lot": "A", "crop": "tomato", "variety": "paste", "class": "colouring", "kg": 25,
//!       "picked": "2026-10-09", "celsius": 20.0,
//!       "rounds": [ { "day": "2026-10-13", "ripe_kg": 4.2, "lost_kg": 0.3 },
//!                   { "day": "2026-10-17", "ripe_kg": 6.0, "lost_kg": 0.2, "left_kg": 13.9 } ] },
//!     { "lot": "B", "crop": "tomato", "stages": { "breakers": 12, "pink": 4 }, "room": "porch" },
//!     { "crop": "tomato", "class": "green", "stage": "green", "grams": 40000,
//!       "picked": "2026-10-09", "room": "kitchen" },
//!     { "crop": "pepper", "class": "colouring", "kg": 3.5, "humidity": 60, "celsius":
//!       [ { "day": "2026-10-09", "celsius": 12 }, { "day": "2026-10-14", "celsius": 20 } ] }
//!   ]
//! }
//! ```
//!
//! Of the whole:
//! - `today`: the forecast's first day. `days`: 1 to 366; 14 when left out.
//! - `quantiles`: between 0 and 1. 10, 50 and 90 % always come back; these are added as
//!   `quantile_days`, in the order given.
//! - `belief`: replaces parts of the prior for all lots: `{"rate": {"median": 0.9, "sd_log": 0.1}}`;
//!   parts are `rate`, `lag_days`, `never`, `loss` and `lag_fruit_sd_log`.
//! - `learn`: whether rounds teach the varieties; `true` when left out. What was learned comes back
//!   as `learned`.
//!
//! Of a lot:
//! - `crop`; `class`, or how many fruit of each stage: `stages` (by number) or `stage_grams`. With
//!   `stages` the weight may be left out: then a fruit weighs `fruit_grams`, or what the crop
//!   table says. `stage`: one for the whole lot. Stages are green (meaning *mature* green),
//!   breakers, turning, pink, light_red, red.
//! - weight: `kg` or `grams`, one of them, above nothing: as picked; with `sorted`, as left then.
//! - `variety`: any name; rounds of lots of one name teach each other most.
//! - `picked`: `today` when left out. `sorted`: a day on which nothing ripe was left in it.
//! - `rounds`: `day`, and `ripe_kg`, `lost_kg` (0 when left out) and `left_kg` (reckoned when left
//!   out), or the same ending in `_grams`.
//! - where it stands: `celsius` (a number, or a list of `{day, celsius}`) with `humidity` in percent
//!   (75 when left out), or `room`: an object, or the name of one in `rooms`. Objects may hold all
//!   that [`RoomClimate`] reads: `celsius`, `swing`, `min` and `max`, `humidity`, `readings`.
//! - `belief`: for this lot alone; then nothing learned is used for it.
//!
//! An unknown field is an error that names it. The answer is a [`Forecast`] with, where asked for,
//! `quantile_days` and `learned`; grams throughout.

mod error;
mod lot;

use std::collections::BTreeMap;

use serde::{Deserialize, Serialize};

use super::belief::Belief;
use super::climate::RoomClimate;
use super::forecast::{Forecast, QuantileDay, at_quantiles};
use super::learn::{Learned, Observed, learn};
use super::lot::LotInput;
use super::{MAX_DAYS, explain};
use crate::units::Day;
pub use error::{CaseError, LotFault};
pub use lot::{CaseLot, CaseRound};

/// Most lots one case may have, so that a slip does not stop a phone.
pub const MAX_LOTS: usize = 10_000;
/// Most quantiles one case may ask for.
const MAX_QUANTILES: usize = 99;
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
    /// Quantiles besides 10, 50 and 90 %.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub quantiles: Vec<f64>,
    /// What is believed, for every lot without its own.
    #[serde(default)]
    pub belief: Belief,
    /// Whether rounds teach.
    #[serde(default = "yes")]
    pub learn: bool,
    /// Rooms by name.
    #[serde(default, skip_serializing_if = "BTreeMap::is_empty")]
    pub rooms: BTreeMap<String, RoomClimate>,
    /// The lots.
    pub lots: Vec<CaseLot>,
}

fn default_days() -> usize {
    DEFAULT_DAYS
}

fn yes() -> bool {
    true
}

/// What a case comes to.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct Answer {
    /// The forecast, at 10, 50 and 90 %.
    #[serde(flatten)]
    pub forecast: Forecast,
    /// Its days at the quantiles asked for.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub quantile_days: Vec<QuantileDay>,
    /// What the rounds taught; nothing without rounds.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub learned: Option<Learned>,
}

impl Case {
    /// Reads a case.
    ///
    /// # Errors
    /// [`CaseError::NotACase`] with the line and what was expected.
    pub fn parse(text: &str) -> Result<Self, CaseError> {
        serde_json::from_str(text).map_err(|error| CaseError::NotACase(error.to_string()))
    }

    /// The lots as the forecast takes them, without what was learned.
    ///
    /// # Errors
    /// The first thing wrong with the case, in words for the person who wrote it.
    pub fn inputs(&self) -> Result<Vec<LotInput>, CaseError> {
        if !(1..=MAX_DAYS).contains(&self.days) {
            return Err(CaseError::Days(self.days));
        }
        if self.lots.len() > MAX_LOTS {
            return Err(CaseError::Lots(self.lots.len()));
        }
        if self.quantiles.len() > MAX_QUANTILES {
            return Err(CaseError::Quantile(self.quantiles[MAX_QUANTILES]));
        }
        if let Some(wrong) = self.quantiles.iter().find(|q| !(**q > 0.0 && **q < 1.0)) {
            return Err(CaseError::Quantile(*wrong));
        }
        if let Some(fault) = self.belief.fault() {
            return Err(CaseError::Belief(fault));
        }
        let input = |(i, lot): (usize, &CaseLot)| {
            lot.input(self).map_err(|fault| CaseError::Lot { lot: self.name(i), fault })
        };
        self.lots.iter().enumerate().map(input).collect()
    }

    /// What a lot is called: its name, or its number from 1.
    fn name(&self, i: usize) -> String {
        self.lots[i].lot.clone().unwrap_or_else(|| (i + 1).to_string())
    }
}

/// Runs a case.
///
/// # Errors
/// The first thing wrong with it, in words for the person who wrote it.
pub fn run(case: &Case) -> Result<Answer, CaseError> {
    let mut lots = case.inputs()?;
    let seen = lots.iter().zip(&case.lots).filter(|(lot, _)| !lot.rounds.is_empty());
    let seen: Vec<Observed> = seen
        .map(|(lot, told)| Observed { variety: told.variety.clone(), lot: lot.clone() })
        .collect();
    let learned = (case.learn && !seen.is_empty()).then(|| learn(&case.belief, &seen));
    if let Some(learned) = &learned {
        for (lot, told) in lots.iter_mut().zip(&case.lots).filter(|(lot, _)| lot.belief.is_none()) {
            lot.belief = Some(learned.belief(&lot.crop, told.variety.as_deref()));
        }
    }
    let (forecast, quantile_days) =
        at_quantiles(&lots, &case.belief, case.today, case.days, &case.quantiles);
    Ok(Answer { forecast, quantile_days, learned })
}

/// Says of one lot of a case, by its name or its number from 1, what is forecast and why.
///
/// # Errors
/// What is wrong with the case, or that it has no such lot.
pub fn explain_lot(case: &Case, lot: &str) -> Result<String, CaseError> {
    let answer = run(case)?;
    let names: Vec<String> = (0..case.lots.len()).map(|i| case.name(i)).collect();
    let found = names.iter().position(|name| name == lot);
    let Some(i) = found else {
        return Err(CaseError::NoLot { lot: lot.to_owned(), allowed: names });
    };
    let mut text = format!("Lot {lot}\n{}", explain(&answer.forecast.lots[i]));
    let variety = case.lots[i].variety.as_deref();
    let learned = answer.learned.as_ref().filter(|_| case.lots[i].belief.is_none());
    if let Some(of) = learned.and_then(|all| all.of(&answer.forecast.lots[i].crop, variety)) {
        let name = variety.unwrap_or("This variety");
        text.push_str(&format!("\nLearned: {}", of.words(name)));
    }
    Ok(text)
}
