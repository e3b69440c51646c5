//! Rows of printed tables: times, pressures, yields. The build script reads this file too.

use serde::{Deserialize, Serialize};

use super::{Jar, Mark, Sourced};

/// One row of a printed table of boiling-water times.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct ProcessRow {
    /// The canner it is printed for: boiling water.
    pub canner: Canner,
    /// Hot or raw.
    pub pack: String,
    /// The jar.
    pub jar: Jar,
    /// Which bands its columns are.
    pub bands: String,
    /// Minutes by band.
    pub minutes: Vec<Sourced<u32>>,
}

/// A canner.
#[derive(
    Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize,
)]
#[serde(rename_all = "snake_case")]
pub enum Canner {
    /// Jars under boiling water.
    #[default]
    BoilingWater,
    /// Jars in steam at the pressure of the air, by the boiling-water time.
    Steam,
    /// Jars under pressure, read on a dial.
    Dial,
    /// Jars under pressure, kept by a weight.
    Weighted,
}

impl Canner {
    /// All, as they are offered.
    pub const ALL: [Self; 4] = [Self::BoilingWater, Self::Steam, Self::Dial, Self::Weighted];

    /// In words.
    pub const fn words(self) -> &'static str {
        match self {
            Self::BoilingWater => "boiling water",
            Self::Steam => "steam",
            Self::Dial => "pressure, dial gauge",
            Self::Weighted => "pressure, weighted gauge",
        }
    }

    /// The canner of a word as people write it: `boiling-water`, `steam`, `dial`, `weighted`.
    pub fn from_word(word: &str) -> Option<Self> {
        let plain: String = word.to_lowercase().chars().filter(|c| c.is_alphabetic()).collect();
        match plain.trim_end_matches("canner") {
            "boilingwater" | "boiling" | "waterbath" => Some(Self::BoilingWater),
            "steam" | "atmosphericsteam" => Some(Self::Steam),
            "dial" | "dialgauge" => Some(Self::Dial),
            "weighted" | "weight" | "weightedgauge" => Some(Self::Weighted),
            _ => None,
        }
    }
}

/// One row: minutes, with the pressure each band asks for. Rows are alternatives.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct PressureRow {
    /// The gauge.
    pub gauge: Gauge,
    /// Minutes at pressure.
    pub minutes: u32,
    /// psi by band; nothing where it is not recommended.
    pub psi: Vec<Option<u32>>,
    /// Jars it is for.
    pub jars: Vec<Jar>,
    /// Id of the source.
    pub source: String,
    /// How sure.
    pub mark: Mark,
}

/// A pressure canner's gauge.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Gauge {
    /// A dial, in bands of 2,000 ft up to 8,000 ft.
    Dial,
    /// A weight, up to 1,000 ft and above.
    Weighted,
}

impl Gauge {
    /// The name of its bands.
    pub const fn bands(self) -> &'static str {
        match self {
            Self::Dial => "dial",
            Self::Weighted => "weighted",
        }
    }
}

/// One published figure of yield.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct YieldRow {
    /// What the figure is of.
    pub basis: Basis,
    /// The jar.
    pub jar: Jar,
    /// How many of them.
    pub jars: f64,
    /// Pounds of fruit for them, as printed.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub lb: Option<f64>,
    /// Kilograms for them, where the source has no weight.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub kg: Option<f64>,
    /// Id of the source.
    pub source: String,
    /// How sure.
    pub mark: Mark,
    /// What to know.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub note: Option<String>,
}

/// What a figure of yield is of.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Basis {
    /// A canner load: what a load is planned with.
    Load,
    /// The stated average. The guide's averages and loads do not agree exactly.
    Average,
    /// One making of the recipe.
    Batch,
}
