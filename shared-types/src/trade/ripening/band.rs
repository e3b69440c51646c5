//! Quantiles of grams that are not certain.

use serde::{Deserialize, Serialize};

use super::normal::Normal;
use super::points::Points;
use crate::units::Grams;

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

/// The quantiles of a [`Band`].
pub(super) const BAND: [f64; 3] = [0.1, 0.5, 0.9];

/// Mean and variance of grams at one point.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub(super) struct Moment {
    pub(super) mean: f64,
    pub(super) variance: f64,
}

/// By how much the inner strata are widened, so that nine normals side by side give a whole one's
/// 10 and 90 % back to within a hundredth of its deviation; exact strata would lie 4 % too near.
const INNER: f64 = 1.5;

/// A finer spread than this no scale shows, grams.
const FINEST: f64 = 0.5;

/// Quantiles of a mixture of normals of equal weight, one for each point, held between nothing and
/// `most`. `moments` has the same number of runs for every stratum of rate.
///
/// Each normal is as wide as its fruit are uneven, and as what is left of the rate's spread within
/// the stratum: `sd(ln m) · dμ/d(ln m)`, by the neighbouring strata.
pub(super) fn quantiles(
    points: &Points,
    moments: &[Moment],
    most: f64,
    wanted: &[f64],
) -> Vec<f64> {
    if let Some(certain) = certain(moments) {
        return vec![certain.clamp(0.0, most); wanted.len()];
    }
    let normals = widened(points, moments);
    let count = normals.len() as f64;
    let mean = normals.iter().map(|one| one.0).sum::<f64>() / count;
    let spread = |one: &(f64, f64)| (one.0 - mean) * (one.0 - mean) + 1.0 / (one.1 * one.1);
    let sd = libm::sqrt(normals.iter().map(spread).sum::<f64>() / count);
    let normal = Normal::new();
    let below = |q: f64| {
        normals.iter().map(|(mean, per_sd)| normal.below((q - mean) * per_sd)).sum::<f64>() / count
    };
    let mut least = 0.0_f64;
    let each = wanted.iter().map(|share| {
        let found = solve(&below, *share, (mean - 8.0 * sd, mean + 8.0 * sd), sd);
        least = least.max(found.clamp(0.0, most));
        least
    });
    each.collect()
}

/// The place at which `below` reaches `share`, by regula falsi (Illinois) between two ends, to a
/// thousandth of a standard deviation or a twentieth of a gram.
fn solve(below: &dyn Fn(f64) -> f64, share: f64, ends: (f64, f64), sd: f64) -> f64 {
    let ((mut low, mut high), close) = (ends, (sd * 1e-4).max(0.05));
    let (mut under, mut over) = (-share, 1.0 - share);
    let mut side = 0;
    for turn in 0..60 {
        if high - low < close {
            break;
        }
        // The first turns halve: the ends are far out, where nothing lies.
        let at = if turn < 3 {
            (low + high) / 2.0
        } else {
            (low * over - high * under) / (over - under)
        };
        let off = below(at) - share;
        if off.abs() < 1e-7 {
            return at;
        }
        if off < 0.0 {
            (low, under) = (at, off);
            if side == -1 {
                over /= 2.0;
            }
            side = -1;
        } else {
            (high, over) = (at, off);
            if side == 1 {
                under /= 2.0;
            }
            side = 1;
        }
    }
    (low + high) / 2.0
}

/// Mean, and one over the standard deviation, of each point.
fn widened(points: &Points, moments: &[Moment]) -> Vec<(f64, f64)> {
    let strata = points.rates.len();
    let runs = moments.len() / strata;
    let mut all = Vec::with_capacity(moments.len());
    for stratum in 0..strata {
        let (low, high) = (stratum.saturating_sub(1), (stratum + 1).min(strata - 1));
        let apart = points.log_rates[high] - points.log_rates[low];
        let wider = if stratum == 0 || stratum == strata - 1 { 1.0 } else { INNER };
        let within = if apart > 0.0 { wider * points.within[stratum] / apart } else { 0.0 };
        for run in 0..runs {
            let at = |stratum: usize| moments[stratum * runs + run];
            let inside = within * (at(high).mean - at(low).mean);
            let variance = at(stratum).variance.max(0.0) + inside * inside;
            all.push((at(stratum).mean, 1.0 / libm::sqrt(variance).max(FINEST)));
        }
    }
    all
}

/// The one value all points agree on, when nothing is uncertain.
fn certain(moments: &[Moment]) -> Option<f64> {
    let first = moments.first()?;
    let same = |one: &Moment| one.mean.to_bits() == first.mean.to_bits() && one.variance <= 0.0;
    moments.iter().all(same).then_some(first.mean)
}

/// The three quantiles of a [`Band`].
pub(super) fn band(points: &Points, moments: &[Moment], most: f64) -> Band {
    let found = quantiles(points, moments, most, &BAND);
    Band { p10: grams(found[0]), p50: grams(found[1]), p90: grams(found[2]) }
}

/// Whole grams, half away from nothing.
pub(super) fn grams(value: f64) -> Grams {
    Grams(libm::round(value) as i64)
}

#[cfg(test)]
mod tests {
    use super::super::belief::Belief;
    use super::super::points::POINTS;
    use super::*;

    #[test]
    fn quantiles_of_a_known_lot_are_the_normals() {
        // Nothing uncertain but the count of fruit: 10 % lies 1.2816 standard deviations below.
        let moments = [Moment { mean: 5000.0, variance: 250_000.0 }; POINTS];
        let band = band(&Points::new(&Belief::default()), &moments, 10_000.0);
        assert_eq!((band.p10, band.p50, band.p90), (Grams(4359), Grams(5000), Grams(5641)));
    }

    #[test]
    fn an_uncertain_rate_alone_is_its_own_distribution() {
        // Grams that follow ln m, a normal of sd 0.15: the strata must give its 10 and 90 % back.
        let points = Points::new(&Belief::default());
        let moments: Vec<Moment> = (0..POINTS)
            .map(|i| Moment { mean: 5000.0 + 10_000.0 * points.log_rates[i / 9], variance: 0.0 })
            .collect();
        let found = quantiles(&points, &moments, 10_000.0, &[0.1, 0.5, 0.9]);
        for (found, z) in found.into_iter().zip([-1.2816, 0.0, 1.2816]) {
            assert!((found - 5000.0 - 1500.0 * z).abs() < 60.0, "{found} for {z}");
        }
    }

    #[test]
    fn a_band_stays_within_the_lot() {
        let moments = [Moment { mean: 900.0, variance: 1_000_000.0 }; POINTS];
        let band = band(&Points::new(&Belief::default()), &moments, 1000.0);
        assert_eq!((band.p10, band.p90), (Grams(0), Grams(1000)));
        let nothing = [Moment::default(); POINTS];
        assert_eq!(super::band(&Points::new(&Belief::default()), &nothing, 9.0), Band::default());
    }
}
