//! Crops that wait outside, and how long they may.

use serde::{Deserialize, Serialize};

use super::table::tables;
use crate::ids::CropId;
use crate::trade::provenance::Mark;

/// How a crop stands the cold where it grows.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Waits {
    /// The crop.
    pub crop: CropId,
    /// In which way.
    pub way: Way,
    /// What to tell the grower.
    pub words: String,
    /// Pick before a night colder than this, °C, where one is given.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub no_colder_celsius: Option<f64>,
    /// Id of the source.
    pub source: String,
    /// How sure.
    pub mark: Mark,
    /// What a reader should know before relying on it.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub note: Option<String>,
}

/// In which way a crop waits.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Way {
    /// Gets better with cold; pick within days after the first hard frost.
    Sweetens,
    /// May freeze outright where it stands.
    MayFreeze,
    /// Stays in the ground, mulched, until that freezes.
    UntilSoilFreezes,
    /// In before the frost.
    DoNotWait,
}

impl Way {
    /// May it be left out tonight for the cold's sake?
    pub const fn waits(self) -> bool {
        !matches!(self, Self::DoNotWait)
    }
}

/// How a crop waits; none when no source names it.
pub fn waits(crop: &CropId) -> Option<&'static Waits> {
    waits_all().iter().find(|waits| waits.crop == *crop)
}

/// All crops that a source names.
pub fn waits_all() -> &'static [Waits] {
    &tables().waits
}
