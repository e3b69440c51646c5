//! The fixed grid over what is not known, and quantiles on it.
//!
//! Three axes: rate (9 points), median lag (3) and waste (3: the share that never ripens and the
//! losses go up and down together, the cautious side). A lot's unevenness from a finite number of
//! fruit is a fourth (5 points), laid on when quantiles are taken. Every lot reads the same grid
//! point at the same time: a slow season is slow for all.

use libm::exp;
use serde::{Deserialize, Serialize};

use super::belief::Belief;
use crate::units::Grams;

/// Standard normal places of the rate axis, weighted by density.
pub(super) const RATE_Z: [f64; 9] = [-2.4, -1.8, -1.2, -0.6, 0.0, 0.6, 1.2, 1.8, 2.4];
/// Three-point Gauss-Hermite places of a standard normal: 0 and ±√3, weights 2/3 and 1/6.
const NUISANCE: [(f64, f64); 3] =
    [(-1.732_050_807_568_877_2, 1.0 / 6.0), (0.0, 2.0 / 3.0), (1.732_050_807_568_877_2, 1.0 / 6.0)];
/// Middles of five equal shares of a standard normal: its 10, 30, 50, 70 and 90 %.
const FRUIT_Z: [f64; 5] = [
    -1.281_551_565_544_600_4,
    -0.524_400_512_708_040_9,
    0.0,
    0.524_400_512_708_040_9,
    1.281_551_565_544_600_4,
];

/// Points of one nuisance axis.
pub(super) const SIDE: usize = NUISANCE.len();
/// Points of the whole grid: `(rate · SIDE + lag) · SIDE + waste`.
pub(super) const POINTS: usize = RATE_Z.len() * SIDE * SIDE;

/// Kilograms as a range: with 10, 50 and 90 % that no more comes.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
pub struct Band {
    /// One time in ten it is less.
    pub p10: Grams,
    /// As often more as less.
    pub p50: Grams,
    /// One time in ten it is more.
    pub p90: Grams,
}

/// Weights of the grid's points, summing to 1.
pub(super) fn weights() -> [f64; POINTS] {
    let density = RATE_Z.map(|z| exp(-z * z / 2.0));
    let total: f64 = density.iter().sum();
    let mut all = [0.0; POINTS];
    for (i, weight) in all.iter_mut().enumerate() {
        let (rate, lag, waste) = (i / (SIDE * SIDE), i / SIDE % SIDE, i % SIDE);
        *weight = density[rate] / total * NUISANCE[lag].1 * NUISANCE[waste].1;
    }
    all
}

impl Belief {
    pub(super) fn rate_at(&self, i: usize) -> f64 {
        self.rate.at(RATE_Z[i])
    }

    pub(super) fn lag_at(&self, i: usize) -> f64 {
        self.lag_days.at(NUISANCE[i].0)
    }

    pub(super) fn loss_at(&self, i: usize) -> f64 {
        self.loss.at(NUISANCE[i].0)
    }

    pub(super) fn never_at(&self, i: usize) -> f64 {
        self.never.at_logit(NUISANCE[i].0)
    }
}

/// 10, 50 and 90 % of grams whose mean and variance are known at every point of the grid, held
/// between nothing and `most`.
pub(super) fn band(weights: &[f64; POINTS], moments: &[(f64, f64)], most: f64) -> Band {
    if let Some(certain) = certain(moments) {
        let sure = grams(certain.clamp(0.0, most));
        return Band { p10: sure, p50: sure, p90: sure };
    }
    let mut places = Vec::with_capacity(POINTS * FRUIT_Z.len());
    for (weight, &(mean, variance)) in weights.iter().zip(moments) {
        if variance <= 0.0 {
            places.push((mean.clamp(0.0, most) + 0.0, *weight));
            continue;
        }
        let sd = libm::sqrt(variance);
        for z in FRUIT_Z {
            places.push(((mean + sd * z).clamp(0.0, most) + 0.0, weight / FRUIT_Z.len() as f64));
        }
    }
    // None lies below nothing, so bits sort as numbers do; of equal places the order is no matter
    // but must be the same everywhere.
    places.sort_unstable_by_key(|(value, weight)| (value.to_bits(), weight.to_bits()));
    let [p10, p50, p90] = quantiles(&places, [0.1, 0.5, 0.9]).map(grams);
    Band { p10, p50, p90 }
}

/// The one value all points agree on, when nothing is uncertain.
fn certain(moments: &[(f64, f64)]) -> Option<f64> {
    let (first, _) = *moments.first()?;
    let same =
        |(mean, variance): &(f64, f64)| mean.to_bits() == first.to_bits() && *variance <= 0.0;
    moments.iter().all(same).then_some(first)
}

/// Weighted quantiles of sorted places, each place at the middle of its weight, linear between.
fn quantiles(places: &[(f64, f64)], wanted: [f64; 3]) -> [f64; 3] {
    let mut found = [places.last().map_or(0.0, |place| place.0); 3];
    let (mut before, mut last) = (0.0, None);
    let mut next = 0;
    for &(value, weight) in places {
        let middle = before + weight / 2.0;
        while next < wanted.len() && wanted[next] <= middle {
            found[next] = match last {
                Some((at, was)) => was + (value - was) * (wanted[next] - at) / (middle - at),
                None => value,
            };
            next += 1;
        }
        last = Some((middle, value));
        before += weight;
    }
    found
}

/// Whole grams, half away from nothing.
pub(super) fn grams(value: f64) -> Grams {
    Grams(libm::round(value) as i64)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn weights_are_a_whole() {
        assert!((weights().iter().sum::<f64>() - 1.0).abs() < 1e-12);
    }

    #[test]
    fn quantiles_of_a_known_lot_are_the_normals() {
        // Nothing uncertain but the count of fruit: 10 % lies 1.2816 standard deviations below.
        let moments = [(5000.0, 250_000.0); POINTS];
        let band = band(&weights(), &moments, 10_000.0);
        assert_eq!((band.p10, band.p50, band.p90), (Grams(4359), Grams(5000), Grams(5641)));
    }

    #[test]
    fn a_band_stays_within_the_lot() {
        let moments = [(900.0, 1_000_000.0); POINTS];
        let band = band(&weights(), &moments, 1000.0);
        assert_eq!((band.p10, band.p90), (Grams(0), Grams(1000)));
    }
}
