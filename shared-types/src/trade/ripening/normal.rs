//! The standard normal, from a table: a forecast asks for it a million times.

use std::sync::LazyLock;

use libm::{erfc, exp, sqrt};

/// Steps of the table to one standard deviation.
const STEPS: usize = 256;
/// The table's ends, standard deviations; beyond them nothing is left, 6e−16.
const ENDS: f64 = 8.0;
const POINTS: usize = 2 * 8 * STEPS + 1;

/// Φ(z) = erfc(−z/√2)/2.
static TABLE: LazyLock<Vec<f64>> = LazyLock::new(|| {
    let z = |i: usize| i as f64 / STEPS as f64 - ENDS;
    (0..POINTS).map(|i| 0.5 * erfc(-z(i) / sqrt(2.0))).collect()
});

/// The table, for a loop that asks often.
#[derive(Clone, Copy)]
pub(super) struct Normal(&'static [f64]);

impl Normal {
    pub(super) fn new() -> Self {
        Self(&TABLE)
    }

    /// Share of a standard normal below `z`, straight between the table's points: within 5e−7.
    #[inline]
    pub(super) fn below(self, z: f64) -> f64 {
        let at = (z + ENDS) * STEPS as f64;
        if at <= 0.0 {
            return 0.0;
        }
        let below = at as usize;
        if below + 1 >= POINTS {
            return 1.0;
        }
        let (low, high) = (self.0[below], self.0[below + 1]);
        low + (at - below as f64) * (high - low)
    }
}

/// φ(z), without its constant 1/√(2π).
pub(super) fn bell(z: f64) -> f64 {
    exp(-z * z / 2.0)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_table_is_the_normal() {
        let normal = Normal::new();
        for i in -900..=900 {
            let z = f64::from(i) * 0.00917;
            let exact = 0.5 * erfc(-z / sqrt(2.0));
            assert!((normal.below(z) - exact).abs() < 5e-7, "{z}");
        }
        assert!((normal.below(0.0) - 0.5).abs() < 1e-15);
        assert!(normal.below(-40.0) <= 0.0 && normal.below(40.0) >= 1.0);
    }
}
