//! US kitchen measures, in which tested recipes are written.

use serde::{Deserialize, Serialize};

/// Millilitres in a cubic inch: (2.54 cm)³, exact by the 1959 definition of the inch.
pub const ML_PER_CUBIC_INCH: f64 = 16.387_064;

/// Litres in a US liquid quart: a quarter of the gallon of 231 in³ (NIST Handbook 44, appendix C).
pub const LITRES_PER_QUART: f64 = 0.946_352_946;

/// Kilograms in a pound, exact (international yard and pound agreement, 1959).
pub const KG_PER_LB: f64 = 0.453_592_37;

/// A spoon, cup or jar measure. Ratios between them are whole numbers of teaspoons, so scaling a
/// recipe never meets a rounded millilitre.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Measure {
    /// tsp.
    Teaspoon,
    /// Tbsp, 3 tsp.
    Tablespoon,
    /// 16 Tbsp.
    Cup,
    /// 2 cups.
    Pint,
    /// 2 pints.
    Quart,
}

impl Measure {
    /// How many teaspoons it holds.
    pub const fn teaspoons(self) -> u32 {
        match self {
            Self::Teaspoon => 1,
            Self::Tablespoon => 3,
            Self::Cup => 48,
            Self::Pint => 96,
            Self::Quart => 192,
        }
    }

    /// Millilitres: a gallon is 231 in³ and 768 teaspoons.
    pub fn millilitres(self) -> f64 {
        f64::from(self.teaspoons()) * 231.0 * ML_PER_CUBIC_INCH / 768.0
    }

    /// How a recipe writes one of it.
    pub const fn word(self) -> &'static str {
        match self {
            Self::Teaspoon => "teaspoon",
            Self::Tablespoon => "tablespoon",
            Self::Cup => "cup",
            Self::Pint => "pint",
            Self::Quart => "quart",
        }
    }
}

/// Kilograms of fruit per litre of product, from a recipe's pounds per quart.
///
/// kg/L = lb/qt · 0.453 592 37 / 0.946 352 946. Dividing, not multiplying, by the quart: 5 lb/qt
/// is 2.397 kg/L, and a table in circulation that prints 2.1 has it the wrong way round.
pub fn kg_per_litre(lb_per_quart: f64) -> f64 {
    lb_per_quart * KG_PER_LB / LITRES_PER_QUART
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_quart_is_a_quarter_of_231_cubic_inches() {
        assert!((Measure::Quart.millilitres() - 1000.0 * LITRES_PER_QUART).abs() < 1e-9);
        assert_eq!(Measure::Quart.teaspoons(), 4 * Measure::Cup.teaspoons());
    }
}
