//! What the simple plan is made from.

use serde::{Deserialize, Serialize};

use crate::ids::{ClassId, CropId};
use crate::trade::fitness::Fitness;
use crate::trade::methods::Jar;
use crate::units::{Altitude, Day, Grams};

/// A household's kitchen for the next days.
///
/// In JSON `altitude_m` is a number of metres; everything but `today`, `altitude_m` and `lots` may
/// be left out.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Kitchen {
    /// The plan's first day.
    pub today: Day,
    /// Height above the sea.
    #[serde(rename = "altitude_m", with = "metres")]
    pub altitude: Altitude,
    /// Hands-on hours a day, all hands together.
    #[serde(default = "hours")]
    pub hours_per_day: f64,
    /// Canner loads a day.
    #[serde(default = "loads")]
    pub loads_per_day: u32,
    /// The jar the household likes; smaller ones are used where no time is published for it.
    #[serde(default)]
    pub jar: Jar,
    /// What the freezer takes a day; no limit when left out.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub freezer_per_day: Option<Grams>,
    /// What the dryer takes a day; none when left out.
    #[serde(default)]
    pub dryer_per_day: Grams,
    /// What the household eats fresh in a day.
    #[serde(default = "fresh")]
    pub fresh_per_day: Grams,
    /// What there is.
    pub lots: Vec<KitchenLot>,
}

fn hours() -> f64 {
    3.0
}

fn loads() -> u32 {
    2
}

fn fresh() -> Grams {
    Grams(2000)
}

/// A lot for the kitchen.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct KitchenLot {
    /// What the caller calls it.
    pub id: String,
    /// What a person calls it.
    pub label: String,
    /// Its crop.
    pub crop: CropId,
    /// Its class as sorted.
    pub class: ClassId,
    /// What it may be used for.
    pub fitness: Fitness,
    /// Grams that turn ready on each day from today on; the first, all that is ready today.
    pub ready: Vec<Grams>,
    /// Grams not ready that may be used as they are (green fruit for relish). They hold what turns
    /// ready on later days too; the plan leaves that alone.
    #[serde(default)]
    pub waiting: Grams,
    /// The room it stands in, °C; 20 when nobody knows.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub celsius: Option<f64>,
}

mod metres {
    use serde::de::Error as _;
    use serde::{Deserialize, Deserializer, Serializer};

    use crate::units::Altitude;

    pub(super) fn serialize<S: Serializer>(at: &Altitude, to: S) -> Result<S::Ok, S::Error> {
        to.serialize_f64(at.metres())
    }

    pub(super) fn deserialize<'de, D: Deserializer<'de>>(from: D) -> Result<Altitude, D::Error> {
        let metres = f64::deserialize(from)?;
        if metres.abs() > 100_000.0 {
            return Err(D::Error::custom(format!("{metres} m is not a height: give metres")));
        }
        Ok(Altitude::from_tenths_mm(libm::round(metres * 10_000.0) as i64))
    }
}
