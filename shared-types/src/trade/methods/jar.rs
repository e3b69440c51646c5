//! Jar sizes.

use serde::{Deserialize, Serialize};

use super::canning::canner_loads;
use crate::units::{LITRES_PER_QUART, Measure};

/// A jar size of the guides.
#[derive(
    Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize,
)]
#[serde(rename_all = "snake_case")]
pub enum Jar {
    /// 8 US fl oz.
    HalfPint,
    /// 16 US fl oz.
    Pint,
    /// 24 US fl oz.
    PintAndHalf,
    /// 32 US fl oz.
    #[default]
    Quart,
    /// 64 US fl oz: no time is published for it.
    HalfGallon,
}

impl Jar {
    /// All, smallest first.
    pub const ALL: [Self; 5] =
        [Self::HalfPint, Self::Pint, Self::PintAndHalf, Self::Quart, Self::HalfGallon];

    /// In words.
    pub const fn words(self) -> &'static str {
        match self {
            Self::HalfPint => "half-pint",
            Self::Pint => "pint",
            Self::PintAndHalf => "pint-and-a-half",
            Self::Quart => "quart",
            Self::HalfGallon => "half-gallon",
        }
    }

    /// Litres.
    pub fn litres(self) -> f64 {
        let pint = LITRES_PER_QUART * f64::from(Measure::Pint.teaspoons())
            / f64::from(Measure::Quart.teaspoons());
        pint * match self {
            Self::HalfPint => 0.5,
            Self::Pint => 1.0,
            Self::PintAndHalf => 1.5,
            Self::Quart => 2.0,
            Self::HalfGallon => 4.0,
        }
    }
}

/// How many jars of a size a home canner takes at once: 7 quarts or 9 pints. Nothing is published
/// for half-pints, so they count as pints; a pint-and-a-half as a quart.
pub fn load_jars(jar: Jar) -> u32 {
    let like = match jar {
        Jar::HalfPint | Jar::Pint => Jar::Pint,
        Jar::PintAndHalf | Jar::Quart | Jar::HalfGallon => Jar::Quart,
    };
    canner_loads().iter().find(|row| row.jar == like).map_or(0, |row| row.jars)
}
