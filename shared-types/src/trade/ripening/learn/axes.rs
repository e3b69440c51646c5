//! The grid that is learned on.

use super::super::belief::{Belief, Spread};
use super::super::table::evidence;

/// Points of the axis of rate: 4 prior standard deviations to either side, a quarter apart.
pub(super) const RATES: usize = 33;
/// Points of the axis of median lag: 3.2 to either side, two fifths apart.
pub(super) const LAGS: usize = 17;
/// Points of the axis of the share that never ripens: 3 to either side, a half apart.
pub(super) const NEVERS: usize = 13;
/// Points of the axis of losses: 4 to either side, two fifths apart.
pub(super) const LOSSES: usize = 21;
/// Points of rate, lag and never together: `(rate · LAGS + lag) · NEVERS + never`.
pub(super) const POINTS: usize = RATES * LAGS * NEVERS;

/// One axis, in standard deviations of its prior.
#[derive(Clone, Debug)]
pub(super) struct Axis {
    /// Places, in order.
    pub(super) z: Vec<f64>,
    /// The crop's prior: a standard normal's weights at the places, summing to 1.
    pub(super) prior: Vec<f64>,
    /// Row `c`: weights of a variety's places when its crop stands at place `c`.
    pub(super) kernel: Vec<Vec<f64>>,
}

impl Axis {
    /// `n` places `step` apart about 0.
    ///
    /// ```text
    /// z_crop ~ N(0, 1),   z_variety = κ z_crop + √(1 − κ²) ε,   κ² = the share in common
    /// ```
    fn new(n: usize, step: f64) -> Self {
        let z: Vec<f64> = (0..n).map(|i| (i as f64 - (n - 1) as f64 / 2.0) * step).collect();
        let shared = evidence().shared.value;
        let kappa = libm::sqrt(shared);
        let row = |centre: f64, variance: f64| {
            let density =
                z.iter().map(|z| libm::exp(-(z - centre) * (z - centre) / 2.0 / variance));
            normalised(density.collect())
        };
        let kernel = z.iter().map(|crop| row(kappa * crop, 1.0 - shared)).collect();
        Self { prior: row(0.0, 1.0), kernel, z }
    }
}

/// Scaled to sum to 1.
pub(super) fn normalised(mut weights: Vec<f64>) -> Vec<f64> {
    let sum: f64 = weights.iter().sum();
    weights.iter_mut().for_each(|weight| *weight /= sum);
    weights
}

/// The axes with the values their places stand for.
#[derive(Clone, Debug)]
pub(super) struct Grid {
    pub(super) rate: Axis,
    pub(super) lag: Axis,
    pub(super) never: Axis,
    pub(super) loss: Axis,
    /// Multipliers on rate.
    pub(super) rates: Vec<f64>,
    /// Median lags, days at 20 °C.
    pub(super) lags: Vec<f64>,
    /// Shares that never ripen.
    pub(super) nevers: Vec<f64>,
    /// Multipliers on losses.
    pub(super) losses: Vec<f64>,
    /// How the lag differs from fruit to fruit; not learned.
    pub(super) lag_fruit_sd_log: f64,
    /// The losses reckoned with where nobody weighed.
    pub(super) loss_median: f64,
}

impl Grid {
    /// The grid about a prior.
    pub(super) fn new(prior: &Belief) -> Self {
        let (rate, lag) = (Axis::new(RATES, 0.25), Axis::new(LAGS, 0.4));
        let (never, loss) = (Axis::new(NEVERS, 0.5), Axis::new(LOSSES, 0.4));
        let log = |axis: &Axis, spread: Spread| axis.z.iter().map(|z| spread.at(*z)).collect();
        Self {
            rates: log(&rate, prior.rate),
            lags: log(&lag, prior.lag_days),
            nevers: never.z.iter().map(|z| prior.never.at_logit(*z)).collect(),
            losses: log(&loss, prior.loss),
            lag_fruit_sd_log: prior.lag_fruit_sd_log,
            loss_median: prior.loss.median,
            rate,
            lag,
            never,
            loss,
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_variety_of_an_unknown_crop_has_the_prior() {
        // Summed over the crop's places, a variety's weights are the standard normal's again.
        for axis in [Axis::new(RATES, 0.25), Axis::new(NEVERS, 0.5)] {
            let n = axis.z.len();
            let at = |g: usize| (0..n).map(|c| axis.prior[c] * axis.kernel[c][g]).sum::<f64>();
            let mean: f64 = (0..n).map(|g| at(g) * axis.z[g]).sum();
            let variance: f64 = (0..n).map(|g| at(g) * axis.z[g] * axis.z[g]).sum();
            assert!(mean.abs() < 1e-12, "{mean}");
            assert!((variance - 1.0).abs() < 0.02, "{variance}");
        }
    }
}
