//! Height above the sea, for process times.

use serde::{Deserialize, Serialize};

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
}
