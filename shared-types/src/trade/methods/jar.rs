//! Jar sizes. The build script reads this file too.

use serde::{Deserialize, Serialize};

use super::{LITRES_PER_QUART, Measure};

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

    /// The jar of a word as people write it: `pint`, `half-pint`, `half pint`, `quarts`.
    pub fn from_word(word: &str) -> Option<Self> {
        let plain: String = word.to_lowercase().chars().filter(|c| c.is_alphabetic()).collect();
        let plain = plain.trim_end_matches('s');
        Self::ALL.into_iter().find(|jar| jar.words().replace('-', "") == plain)
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
