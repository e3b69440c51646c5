//! The table of cold, as it is read from `cold.json`.

use std::sync::LazyLock;

use serde::{Deserialize, Serialize};

use super::hardiness::{FreezingPoint, Hardiness};
use crate::ids::CropId;
use crate::trade::provenance::{Mark, Said, Sourced, embedded};

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct Tables {
    pub(super) rules: Rules,
    pub(super) dew_point_words: Vec<DewPointWords>,
    pub(super) categories: Vec<Category>,
    pub(super) height: Height,
    pub(super) covers: Vec<Cover>,
    pub(super) cover_cap_celsius: Sourced<f64>,
    pub(super) cover_cautions: Vec<Said>,
    pub(super) freezing: Vec<FreezingPoint>,
    pub(super) hardiness_classes: Vec<Hardiness>,
    pub(super) plant_heights: Vec<PlantHeight>,
    pub(super) frost_lasts: Said,
    pub(super) heater: Heater,
}

/// Fall-back rules, each a shift with its range, °C.
#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct Rules {
    pub(super) half_way: Shift,
    pub(super) drop: Shift,
    pub(super) dew_point: Shift,
    pub(super) official: Shift,
}

/// What a rule adds to what it starts from, °C.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Shift {
    /// On average.
    pub mean: f64,
    /// Coldest.
    pub least: f64,
    /// Warmest.
    pub most: f64,
    /// Id of the source.
    pub source: String,
    /// How sure.
    pub mark: Mark,
    /// Where the numbers come from.
    pub note: String,
}

/// What an evening's dew point says of frost.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct DewPointWords {
    /// Holds below this, °C, down to the row above.
    pub below_celsius: f64,
    /// What it says.
    pub words: String,
    /// Id of the source.
    pub source: String,
    /// How sure.
    pub mark: Mark,
}

/// A category of freeze by the low in the air.
///
/// The printed ranges have one-degree holes (28 to 29, 24 to 25 °F). Here a category ends where the
/// next warmer one begins: below 25, below 29, below 33 °F.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Category {
    /// Holds below this, °F.
    pub below_fahrenheit: f64,
    /// Its name.
    pub name: String,
    /// What it does.
    pub words: String,
    /// Id of the source.
    pub source: String,
    /// How sure.
    pub mark: Mark,
}

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct Height {
    pub(super) fall_fahrenheit: Sourced<[f64; 2]>,
    pub(super) over_millimetres: Sourced<u32>,
    pub(super) official_millimetres: Sourced<u32>,
}

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct PlantHeight {
    pub(super) crop: CropId,
    pub(super) millimetres: u32,
    #[expect(dead_code, reason = "read to keep the row's provenance in shape")]
    source: String,
    #[expect(dead_code, reason = "read to keep the row's provenance in shape")]
    mark: Mark,
}

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct Heater {
    pub(super) glazings: Vec<Glazing>,
    pub(super) leaks_percent: Sourced<[f64; 2]>,
    pub(super) cautions: Vec<Said>,
}

/// A tunnel's skin.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Glazing {
    /// Its key, such as `single`.
    pub id: String,
    /// Its plain name.
    pub name: String,
    /// Heat transmission, least and most, BTU/(h·ft²·°F) as printed.
    pub u_btu: [f64; 2],
    /// Id of the source.
    pub source: String,
    /// How sure.
    pub mark: Mark,
    /// What a reader should know before relying on it.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub note: Option<String>,
}

/// A cover and what it holds on a frosty night.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Cover {
    /// Its key, such as `light-fabric`.
    pub id: String,
    /// Its plain name.
    pub name: String,
    /// Least and most, °F as printed.
    pub gain_fahrenheit: [f64; 2],
    /// Id of the source.
    pub source: String,
    /// How sure.
    pub mark: Mark,
    /// What a reader should know before relying on it.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub note: Option<String>,
}

impl Cover {
    /// Least and most, °C.
    pub fn gain_celsius(&self) -> (f64, f64) {
        let [least, most] = self.gain_fahrenheit.map(|gain| gain * 5.0 / 9.0);
        (least, most)
    }
}

static TABLES: LazyLock<Tables> =
    LazyLock::new(|| embedded("cold.json", include_str!("../../../data/cold.json")));

pub(super) fn tables() -> &'static Tables {
    &TABLES
}

/// The category of a low in the air, °C; none above 37 °F.
pub fn category(low: f64) -> Option<&'static Category> {
    let fahrenheit = low * 9.0 / 5.0 + 32.0;
    TABLES.categories.iter().find(|category| fahrenheit < category.below_fahrenheit)
}

/// What an evening's dew point, °C, says of frost.
pub fn dew_point_words(dew_point: f64) -> Option<&'static DewPointWords> {
    TABLES.dew_point_words.iter().find(|row| dew_point < row.below_celsius)
}

/// How long a frost must last to kill, as a sentence for screens.
pub fn frost_lasts() -> &'static Said {
    &TABLES.frost_lasts
}
