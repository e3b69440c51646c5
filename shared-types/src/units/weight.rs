//! Weights as they are read and as they are added up.

use std::fmt;
use std::iter::Sum;
use std::ops::{Add, AddAssign, Neg, Sub};

use serde::{Deserialize, Serialize};
use thiserror::Error;

/// A weight in grams. Signed, because a correction can take away.
#[derive(
    Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize,
)]
#[serde(transparent)]
pub struct Grams(pub i64);

/// The heaviest reading a bin may have: 2 t. A person means a typing slip above it.
pub const HEAVIEST: Grams = Grams(2_000_000);

impl Grams {
    /// Nothing.
    pub const ZERO: Self = Self(0);

    /// In kilograms, for showing and for rates.
    pub fn kg(self) -> f64 {
        self.0 as f64 / 1000.0
    }
}

impl Add for Grams {
    type Output = Self;
    fn add(self, other: Self) -> Self {
        Self(self.0.saturating_add(other.0))
    }
}

impl Sub for Grams {
    type Output = Self;
    fn sub(self, other: Self) -> Self {
        Self(self.0.saturating_sub(other.0))
    }
}

impl Neg for Grams {
    type Output = Self;
    fn neg(self) -> Self {
        Self(-self.0)
    }
}

impl AddAssign for Grams {
    fn add_assign(&mut self, other: Self) {
        *self = *self + other;
    }
}

impl Sum for Grams {
    fn sum<I: Iterator<Item = Self>>(all: I) -> Self {
        all.fold(Self::ZERO, Add::add)
    }
}

/// What the scale shows in.
#[derive(
    Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize,
)]
#[serde(rename_all = "snake_case")]
pub enum WeightUnit {
    /// Kilogram.
    #[default]
    Kg,
    /// International avoirdupois pound, 0.453 592 37 kg exactly (international yard and pound
    /// agreement, 1959).
    Lb,
}

impl WeightUnit {
    /// How the unit is written.
    pub const fn symbol(self) -> &'static str {
        match self {
            Self::Kg => "kg",
            Self::Lb => "lb",
        }
    }
}

/// One reading of a scale, as it was read: thousandths of its unit, never converted back.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
pub struct Reading {
    /// The unit the scale showed.
    pub unit: WeightUnit,
    /// Thousandths of that unit.
    pub thousandths: i64,
}

/// A hundred-millionth of a gram per thousandth of a pound: 0.453 592 37 g.
const LB_THOUSANDTH: i128 = 45_359_237;
const LB_SCALE: i128 = 100_000_000;

impl Reading {
    /// A reading in kilograms of `grams`.
    pub const fn from_grams(grams: Grams) -> Self {
        Self { unit: WeightUnit::Kg, thousandths: grams.0 }
    }

    /// In grams, rounded half to even (IEEE 754 §4.3.1; asked of trade scales' arithmetic so that
    /// sums do not drift upwards).
    pub fn grams(self) -> Grams {
        match self.unit {
            WeightUnit::Kg => Grams(self.thousandths),
            WeightUnit::Lb => {
                let scaled = i128::from(self.thousandths) * LB_THOUSANDTH;
                let floor = scaled.div_euclid(LB_SCALE);
                let rest = scaled.rem_euclid(LB_SCALE);
                let up = rest * 2 > LB_SCALE || (rest * 2 == LB_SCALE && floor % 2 != 0);
                Grams(i64::try_from(floor + i128::from(up)).unwrap_or(i64::MAX))
            }
        }
    }

    /// Reads what a person typed: digits with a point or a comma, at most three decimals.
    pub fn parse(text: &str, unit: WeightUnit) -> Result<Self, WeightError> {
        let text = text.trim();
        if text.is_empty() {
            return Err(WeightError::Empty);
        }
        if text.starts_with(['-', '\u{2212}']) {
            return Err(WeightError::Negative);
        }
        let (whole, part) = text.split_once(['.', ',']).unwrap_or((text, ""));
        let digits = |s: &str| s.bytes().all(|b| b.is_ascii_digit());
        if !digits(whole) || !digits(part) || (whole.is_empty() && part.is_empty()) {
            return Err(WeightError::NotANumber { text: text.to_owned() });
        }
        let kept = part.trim_end_matches('0');
        if kept.len() > 3 {
            return Err(WeightError::TooFine { text: text.to_owned() });
        }
        let too_heavy = || WeightError::TooHeavy { unit };
        let whole: i64 =
            if whole.is_empty() { 0 } else { whole.parse().map_err(|_| too_heavy())? };
        let part: i64 = format!("{kept:0<3}").parse().map_err(|_| too_heavy())?;
        let thousandths =
            whole.checked_mul(1000).and_then(|w| w.checked_add(part)).ok_or_else(too_heavy)?;
        Self { unit, thousandths }.checked()
    }

    /// This reading if a bin can weigh it: above nothing, at most [`HEAVIEST`].
    pub fn checked(self) -> Result<Self, WeightError> {
        match self.thousandths {
            0 => Err(WeightError::Zero),
            n if n < 0 => Err(WeightError::Negative),
            _ if self.grams() > HEAVIEST => Err(WeightError::TooHeavy { unit: self.unit }),
            _ => Ok(self),
        }
    }

    /// What is in the bin: this reading less the bin itself.
    pub fn less_tare(self, tare: Grams) -> Result<Grams, WeightError> {
        let gross = self.checked()?.grams();
        if tare < Grams::ZERO || gross <= tare {
            return Err(WeightError::TareAboveGross { gross, tare });
        }
        Ok(gross - tare)
    }
}

impl fmt::Display for Reading {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let sign = if self.thousandths < 0 { "-" } else { "" };
        let n = self.thousandths.unsigned_abs();
        let part = format!("{:03}", n % 1000);
        let part = part.trim_end_matches('0');
        let point = if part.is_empty() { "" } else { "." };
        write!(f, "{sign}{}{point}{part} {}", n / 1000, self.unit.symbol())
    }
}

/// Why a weight cannot be kept, in words for the person who typed it.
#[derive(Clone, Debug, PartialEq, Eq, Error)]
pub enum WeightError {
    /// Nothing was typed.
    #[error("no weight yet: type what the scale shows")]
    Empty,
    /// Letters, two points, and the like.
    #[error("`{text}` is not a weight: type digits, with one point or comma")]
    NotANumber {
        /// What was typed.
        text: String,
    },
    /// More decimals than a scale shows.
    #[error("`{text}` has more than three decimals: leave the last ones off")]
    TooFine {
        /// What was typed.
        text: String,
    },
    /// An empty bin is not kept.
    #[error("0 is not a bin: weigh it again, or leave it out")]
    Zero,
    /// A minus sign.
    #[error("a bin cannot weigh less than nothing: leave off the minus")]
    Negative,
    /// Above [`HEAVIEST`].
    #[error("over 2 t: is there a point missing? (typed in {})", unit.symbol())]
    TooHeavy {
        /// What it was typed in.
        unit: WeightUnit,
    },
    /// The container alone weighs as much.
    #[error("the scale shows {:.2} kg but the empty bin weighs {:.2} kg: choose the right bin, or weigh again", gross.kg(), tare.kg())]
    TareAboveGross {
        /// What the scale shows.
        gross: Grams,
        /// What the empty bin weighs.
        tare: Grams,
    },
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn typed_weights() {
        let kg = |text| Reading::parse(text, WeightUnit::Kg).map(Reading::grams);
        for (text, grams) in [
            ("9.4", 9400),
            ("9,4", 9400),
            (".5", 500),
            ("12", 12_000),
            ("10.", 10_000),
            ("2000", 2_000_000),
            ("1.2500", 1250),
        ] {
            assert_eq!(kg(text), Ok(Grams(grams)), "{text}");
        }
        assert_eq!(kg(""), Err(WeightError::Empty));
        assert_eq!(kg("0"), Err(WeightError::Zero));
        assert_eq!(kg("0,000"), Err(WeightError::Zero));
        assert_eq!(kg("-3"), Err(WeightError::Negative));
        assert_eq!(kg("2000.001"), Err(WeightError::TooHeavy { unit: WeightUnit::Kg }));
        assert_eq!(kg("99999999999999999999"), Err(WeightError::TooHeavy { unit: WeightUnit::Kg }));
        for text in ["nine", "9.4.1", "9 4", ".", "1e3", "9.4kg"] {
            assert_eq!(kg(text), Err(WeightError::NotANumber { text: text.to_owned() }), "{text}");
        }
        assert_eq!(kg("1.0005"), Err(WeightError::TooFine { text: "1.0005".to_owned() }));
    }

    #[test]
    fn pounds_convert_once_and_exactly() {
        // Source: 1 lb = 0.45359237 kg exactly (1959 agreement; NIST Handbook 44, appendix C).
        let lb = |thousandths| Reading { unit: WeightUnit::Lb, thousandths }.grams();
        assert_eq!(lb(100_000_000), Grams(45_359_237));
        assert_eq!(lb(1000), Grams(454));
        assert_eq!(lb(53_000), Grams(24_040), "a bushel of tomatoes, 53 lb, is 24.04 kg");
    }

    #[test]
    fn the_tare_must_leave_something() {
        let gross = Reading::from_grams(Grams(700));
        assert_eq!(gross.less_tare(Grams(200)), Ok(Grams(500)));
        for tare in [700, 900, -1] {
            assert!(
                matches!(gross.less_tare(Grams(tare)), Err(WeightError::TareAboveGross { .. })),
                "{tare}"
            );
        }
    }

    #[test]
    fn a_reading_is_shown_as_it_was_read() {
        assert_eq!(Reading::parse("10,10", WeightUnit::Lb).expect("reads").to_string(), "10.1 lb");
    }
}
