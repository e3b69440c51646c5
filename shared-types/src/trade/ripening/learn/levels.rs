//! Varieties of a crop and what they have in common: two levels on one grid, summed over exactly.
//!
//! ```text
//! M_v(c) = Σ_g K(g|c) L_v(g)                     what variety v says of crop point c
//! P(c)   ∝ π(c) Π_v M_v(c)
//! P_v(g) ∝ L_v(g) Σ_c K(g|c) π(c) Π_{u≠v} M_u(c)
//! ```
//!
//! The kernel is a product over the axes, so each sum over the grid is done an axis at a time.

use libm::{exp, log};

use super::axes::{Axis, Grid, LAGS, LOSSES, NEVERS, POINTS, RATES, normalised};
use super::likely::Surface;

/// The evidence of one variety, scaled so that its greatest is 1.
#[derive(Clone, Debug)]
pub(super) struct Level {
    ripening: Vec<f64>,
    losses: Vec<f64>,
}

impl Level {
    pub(super) fn of(surface: Surface) -> Self {
        Self { ripening: from_logs(surface.ripening), losses: from_logs(surface.losses) }
    }
}

/// A posterior as weights on the grid, each summing to 1.
#[derive(Clone, Debug)]
pub(super) struct Posterior {
    /// Of rate, lag and never together.
    pub(super) ripening: Vec<f64>,
    /// Of losses.
    pub(super) losses: Vec<f64>,
}

/// What was learned of a crop.
#[derive(Clone, Debug)]
pub(super) struct Settled {
    /// Of its varieties, in the order given.
    pub(super) varieties: Vec<Posterior>,
    /// Of a variety not seen yet.
    pub(super) unseen: Posterior,
}

/// Likelihoods below this share of the greatest count as this, so that no point is ruled out by
/// rounding: e^−600.
const LEAST_LOG: f64 = -600.0;

/// exp(x − max), for every x.
fn from_logs(logs: Vec<f64>) -> Vec<f64> {
    let most = logs.iter().copied().fold(f64::NEG_INFINITY, f64::max);
    logs.into_iter().map(|x| exp((x - most).max(LEAST_LOG))).collect()
}

pub(super) fn settle(grid: &Grid, levels: &[Level]) -> Settled {
    let cube = [&grid.rate, &grid.lag, &grid.never];
    let ripening: Vec<&[f64]> = levels.iter().map(|level| level.ripening.as_slice()).collect();
    let losses: Vec<&[f64]> = levels.iter().map(|level| level.losses.as_slice()).collect();
    let mut prior = Vec::with_capacity(POINTS);
    for rate in &grid.rate.prior {
        for lag in &grid.lag.prior {
            prior.extend(grid.never.prior.iter().map(|never| rate * lag * never));
        }
    }
    debug_assert_eq!((prior.len(), RATES * LAGS * NEVERS), (POINTS, POINTS));
    debug_assert_eq!(grid.loss.prior.len(), LOSSES);
    let (ripening, unseen_ripening) = of_one(&cube, &prior, &ripening);
    let (losses, unseen_losses) = of_one(&[&grid.loss], &grid.loss.prior, &losses);
    let varieties = ripening.into_iter().zip(losses);
    Settled {
        varieties: varieties.map(|(ripening, losses)| Posterior { ripening, losses }).collect(),
        unseen: Posterior { ripening: unseen_ripening, losses: unseen_losses },
    }
}

/// The posterior of each variety, and of an unseen one.
fn of_one(axes: &[&Axis], prior: &[f64], likelihoods: &[&[f64]]) -> (Vec<Vec<f64>>, Vec<f64>) {
    let says: Vec<Vec<f64>> =
        likelihoods.iter().map(|of| through(axes, of, Way::ToCrop).map_log()).collect();
    let crop: Vec<f64> = prior
        .iter()
        .enumerate()
        .map(|(c, prior)| log(prior.max(1e-300)) + says.iter().map(|of| of[c]).sum::<f64>())
        .collect();
    let posterior = |without: Option<&Vec<f64>>, likelihood: Option<&[f64]>| {
        let others = crop.iter().enumerate().map(|(c, all)| all - without.map_or(0.0, |of| of[c]));
        let mut weights = through(axes, &from_logs(others.collect()), Way::ToVariety);
        for (weight, likelihood) in weights.iter_mut().zip(likelihood.into_iter().flatten()) {
            *weight *= likelihood;
        }
        normalised(weights)
    };
    let each = says.iter().zip(likelihoods).map(|(says, of)| posterior(Some(says), Some(of)));
    (each.collect(), posterior(None, None))
}

trait MapLog {
    fn map_log(self) -> Self;
}

impl MapLog for Vec<f64> {
    fn map_log(mut self) -> Self {
        self.iter_mut().for_each(|x| *x = log(x.max(1e-300)));
        self
    }
}

#[derive(Clone, Copy)]
enum Way {
    /// Σ_g K(g|c) x(g)
    ToCrop,
    /// Σ_c K(g|c) x(c)
    ToVariety,
}

/// The kernel's sum over the whole grid, one axis after the other.
fn through(axes: &[&Axis], values: &[f64], way: Way) -> Vec<f64> {
    let mut values = values.to_vec();
    for (i, axis) in axes.iter().enumerate() {
        let n = axis.z.len();
        let inner: usize = axes[i + 1..].iter().map(|axis| axis.z.len()).product();
        let mut sums = vec![0.0; values.len()];
        for (block, sums) in values.chunks_exact(n * inner).zip(sums.chunks_exact_mut(n * inner)) {
            for to in 0..n {
                let row = &mut sums[to * inner..(to + 1) * inner];
                for from in 0..n {
                    let weight = match way {
                        Way::ToCrop => axis.kernel[to][from],
                        Way::ToVariety => axis.kernel[from][to],
                    };
                    let of = &block[from * inner..(from + 1) * inner];
                    for (sum, value) in row.iter_mut().zip(of) {
                        *sum += weight * value;
                    }
                }
            }
        }
        values = sums;
    }
    values
}

#[cfg(test)]
mod tests {
    use super::super::super::belief::Belief;
    use super::*;

    fn mean(axis: &Axis, weights: &[f64]) -> f64 {
        axis.z.iter().zip(weights).map(|(z, w)| z * w).sum()
    }

    /// A normal likelihood about `centre` on one axis.
    fn likelihood(axis: &Axis, centre: f64, sd: f64) -> Vec<f64> {
        axis.z.iter().map(|z| exp(-(z - centre) * (z - centre) / (2.0 * sd * sd))).collect()
    }

    #[test]
    fn two_levels_are_the_normals_textbook_answer() {
        // Normal with normal: z_v ~ N(0, 1), two varieties correlate by ½. Seen z_1 = 1 ± ½:
        // posterior mean of 1 is 1/(1 + ¼) = 0.8, of 2 half of that.
        let grid = Grid::new(&Belief::default());
        let axis = &grid.rate;
        let seen = likelihood(axis, 1.0, 0.5);
        let (each, unseen) = of_one(&[axis], &axis.prior, &[&seen]);
        assert!((mean(axis, &each[0]) - 0.8).abs() < 0.005, "{}", mean(axis, &each[0]));
        assert!((mean(axis, &unseen) - 0.4).abs() < 0.005, "{}", mean(axis, &unseen));
    }

    #[test]
    fn a_variety_seen_moves_the_others_half_as_much() {
        let grid = Grid::new(&Belief::default());
        let axis = &grid.rate;
        let nothing = vec![1.0; axis.z.len()];
        let seen = likelihood(axis, -2.0, 0.3);
        let (each, unseen) = of_one(&[axis], &axis.prior, &[&seen, &nothing]);
        let (one, two) = (mean(axis, &each[0]), mean(axis, &each[1]));
        assert!((two - one / 2.0).abs() < 0.01, "{one} and {two}");
        assert!((mean(axis, &unseen) - two).abs() < 1e-9);
    }
}
