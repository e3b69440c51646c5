//! What a yield, or a bushel, is likely to weigh: to ask about a slip, never to weigh with.

use std::sync::LazyLock;

use serde::{Deserialize, Serialize};

use crate::ids::CropId;
use crate::trade::provenance::{Mark, Sourced, embedded};
use crate::units::{Grams, KG_PER_LB};

/// A crop's yield per row, as printed.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct RowYield {
    /// The crop.
    pub crop: CropId,
    /// Pounds per 100 feet of row, least and most.
    pub lb_per_100_ft: [f64; 2],
    /// Id of the source.
    pub source: String,
    /// How sure.
    pub mark: Mark,
    /// What to know.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub note: Option<String>,
}

/// What a bushel of a crop weighs by custom and statute, which differ from place to place: nominal,
/// never in place of a weighing.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Bushel {
    /// The crop.
    pub crop: CropId,
    /// Pounds, least and most.
    pub lb: [f64; 2],
    /// Id of the source.
    pub source: String,
    /// How sure.
    pub mark: Mark,
    /// What to know.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub note: Option<String>,
}

/// Whether a yield per plant can be.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(tag = "is", rename_all = "snake_case")]
pub enum Sanity {
    /// Nothing to ask; there is no floor.
    Ordinary,
    /// High: worth a second look.
    High {
        /// What to ask.
        words: String,
    },
    /// A slip of the unit or of the count, most likely.
    Unlikely {
        /// What to ask.
        words: String,
    },
}

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
struct Tables {
    yields: Vec<RowYield>,
    tomato_lb_per_plant: Sourced<[f64; 2]>,
    per_plant_lb_ceilings: Sourced<[f64; 2]>,
    bushels: Vec<Bushel>,
    bushel_cubic_inches: Sourced<f64>,
}

static TABLES: LazyLock<Tables> =
    LazyLock::new(|| embedded("bounds.json", include_str!("../../../data/bounds.json")));

/// A crop's yield per row.
pub fn row_yield(crop: &CropId) -> Option<&'static RowYield> {
    TABLES.yields.iter().find(|row| row.crop == *crop)
}

/// A crop's bushel.
pub fn bushel(crop: &CropId) -> Option<&'static Bushel> {
    TABLES.bushels.iter().find(|row| row.crop == *crop)
}

/// A bushel's volume, cubic inches.
pub fn bushel_cubic_inches() -> f64 {
    TABLES.bushel_cubic_inches.value
}

/// Marketable tomatoes per plant in a trial, pounds: field and high tunnel.
pub fn tomato_lb_per_plant() -> &'static Sourced<[f64; 2]> {
    &TABLES.tomato_lb_per_plant
}

/// Can tomato plants have given that much? Other crops have no published ceiling and are ordinary.
pub fn per_plant(crop: &CropId, weight: Grams, plants: u32) -> Sanity {
    if crop.as_str() != "tomato" || plants == 0 {
        return Sanity::Ordinary;
    }
    let lb = weight.kg() / KG_PER_LB / f64::from(plants);
    let [soft, hard] = TABLES.per_plant_lb_ceilings.value;
    let words = |what: &str| {
        let kg = lb * KG_PER_LB;
        format!("{kg:.1} kg a plant is {what}: are the plants counted, and is the unit right?")
    };
    if lb > hard {
        Sanity::Unlikely { words: words("hardly possible") }
    } else if lb > soft {
        Sanity::High { words: words("a great deal") }
    } else {
        Sanity::Ordinary
    }
}
