//! Height above the sea, for process times.

use std::str::FromStr;

use serde::{Deserialize, Serialize};
use thiserror::Error;

/// Height above the sea, held in tenths of a millimetre so that metres and feet are both exact:
/// 1 ft = 0.3048 m (international foot, exact by definition, 1959).
#[derive(
    Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize,
)]
#[serde(transparent)]
pub struct Altitude(i64);

const TENTHS_PER_METRE: i64 = 10_000;
const TENTHS_PER_FOOT: i64 = 3_048;

impl Altitude {
    /// From whole metres.
    pub const fn from_metres(metres: i64) -> Self {
        Self(metres * TENTHS_PER_METRE)
    }

    /// From whole feet.
    pub const fn from_feet(feet: i64) -> Self {
        Self(feet * TENTHS_PER_FOOT)
    }

    /// From tenths of a millimetre, as stored.
    pub const fn from_tenths_mm(tenths: i64) -> Self {
        Self(tenths)
    }

    /// In metres, for showing.
    pub fn metres(self) -> f64 {
        self.0 as f64 / TENTHS_PER_METRE as f64
    }

    /// In feet, for showing.
    pub fn feet(self) -> f64 {
        self.0 as f64 / TENTHS_PER_FOOT as f64
    }
}

/// Why a height cannot be read.
#[derive(Clone, Debug, PartialEq, Eq, Error)]
#[error("`{text}` is not a height: write metres or feet, such as 870m or 2855 ft")]
pub struct AltitudeError {
    /// What was typed.
    pub text: String,
}

impl FromStr for Altitude {
    type Err = AltitudeError;

    /// Reads a height as people write it: `870`, `870m`, `870 metres`, `2855 ft`, `-2.5 m`. Metres
    /// when no unit is given; a point or a comma before decimals.
    fn from_str(text: &str) -> Result<Self, Self::Err> {
        let wrong = || AltitudeError { text: text.to_owned() };
        let plain = text.trim().to_lowercase().replace(',', ".");
        let unit_at = plain.find(|c: char| c.is_alphabetic()).unwrap_or(plain.len());
        let (number, unit) = plain.split_at(unit_at);
        let tenths = match unit.trim_end_matches('.') {
            "" | "m" | "metre" | "metres" | "meter" | "meters" => TENTHS_PER_METRE,
            "ft" | "foot" | "feet" => TENTHS_PER_FOOT,
            _ => return Err(wrong()),
        };
        let number: f64 = number.trim().parse().map_err(|_| wrong())?;
        // Far beyond every height; also keeps the arithmetic exact.
        if !number.is_finite() || number.abs() > 1e6 {
            return Err(wrong());
        }
        Ok(Self(libm::round(number * tenths as f64) as i64))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_thousand_feet_is_exactly_304_8_metres() {
        // Source: exact definition of the foot; the same figure in the preserving reference, §3.
        assert_eq!(Altitude::from_feet(1000), Altitude::from_tenths_mm(3_048_000));
        assert_eq!(Altitude::from_feet(10_000), Altitude::from_metres(3048));
        assert!(Altitude::from_metres(305) > Altitude::from_feet(1000));
        assert!(Altitude::from_metres(304) < Altitude::from_feet(1000));
    }

    #[test]
    fn heights_as_people_write_them() {
        for (text, at) in [
            ("870", Altitude::from_metres(870)),
            ("870m", Altitude::from_metres(870)),
            (" 870 Metres", Altitude::from_metres(870)),
            ("1000 ft", Altitude::from_feet(1000)),
            ("1000ft.", Altitude::from_feet(1000)),
            ("304,8 m", Altitude::from_feet(1000)),
            ("-20m", Altitude::from_metres(-20)),
            ("0", Altitude::from_metres(0)),
        ] {
            assert_eq!(text.parse(), Ok(at), "{text}");
        }
        for text in ["", "high", "m", "870 yards", "1e9", "1 000", "nan", "inf"] {
            let wrong = text.parse::<Altitude>().expect_err("refuses");
            assert!(wrong.to_string().contains("such as 870m"), "{text}");
        }
    }
}
