//! A posterior on the grid, as the strands that a forecast reads.

use super::super::belief::{Belief, Strand};
use super::super::points::STRATA;
use super::axes::{Grid, LAGS, NEVERS, RATES};

/// Sums of weight, and of weighted lag and never with their squares and product, in standard
/// deviations of the prior.
#[derive(Clone, Copy, Default)]
struct Sums {
    weight: f64,
    rate: f64,
    rate_2: f64,
    lag: f64,
    lag_2: f64,
    never: f64,
    never_2: f64,
    lag_never: f64,
}

impl Sums {
    /// Adds the share `of` of another's.
    fn add(&mut self, other: &Self, of: f64) {
        self.weight += of * other.weight;
        self.rate += of * other.rate;
        self.rate_2 += of * other.rate_2;
        self.lag += of * other.lag;
        self.lag_2 += of * other.lag_2;
        self.never += of * other.never;
        self.never_2 += of * other.never_2;
        self.lag_never += of * other.lag_never;
    }
}

/// Cuts the posterior at ninths of the rate's weight; a place of the grid on a cut is shared out.
/// Within each ninth: mean and spread of the lag, and of never with its slope on the lag.
pub(super) fn strands(prior: &Belief, grid: &Grid, weights: &[f64]) -> [Strand; STRATA] {
    let mut ninths = [Sums::default(); STRATA];
    let (mut filled, mut at) = (0.0, 0);
    for rate in 0..RATES {
        let sums = of_rate(grid, weights, rate);
        let mut rest = sums.weight;
        while rest > 0.0 {
            let room = (at + 1) as f64 / STRATA as f64 - filled;
            let last = at + 1 == STRATA;
            let part = if last { rest } else { rest.min(room.max(0.0)) };
            ninths[at].add(&sums, part / sums.weight);
            filled += part;
            rest -= part;
            if !last && rest > 0.0 {
                at += 1;
            }
        }
    }
    ninths.map(|sums| strand(prior, &sums))
}

/// The sums of one place of the rate.
fn of_rate(grid: &Grid, weights: &[f64], rate: usize) -> Sums {
    let mut sums = Sums::default();
    for lag in 0..LAGS {
        let (mut weight, mut never, mut never_2) = (0.0, 0.0, 0.0);
        for (i, z) in grid.never.z.iter().enumerate() {
            let w = weights[(rate * LAGS + lag) * NEVERS + i];
            weight += w;
            never += w * z;
            never_2 += w * z * z;
        }
        let z = grid.lag.z[lag];
        sums.weight += weight;
        sums.lag += weight * z;
        sums.lag_2 += weight * z * z;
        sums.never += never;
        sums.never_2 += never_2;
        sums.lag_never += z * never;
    }
    let z = grid.rate.z[rate];
    sums.rate = sums.weight * z;
    sums.rate_2 = sums.weight * z * z;
    sums
}

fn strand(prior: &Belief, sums: &Sums) -> Strand {
    let weight = sums.weight.max(1e-300);
    let mean = |sum: f64| sum / weight;
    let variance = |sum_2: f64, sum: f64| (mean(sum_2) - mean(sum) * mean(sum)).max(0.0);
    let of_lag = variance(sums.lag_2, sums.lag);
    let together = mean(sums.lag_never) - mean(sums.lag) * mean(sums.never);
    let slope = if of_lag > 1e-12 { together / of_lag } else { 0.0 };
    let rest = (variance(sums.never_2, sums.never) - slope * slope * of_lag).max(0.0);
    let per_lag = if prior.lag_days.sd_log > 0.0 {
        slope * prior.never.sd_log / prior.lag_days.sd_log
    } else {
        0.0
    };
    Strand {
        rate: prior.rate.at(mean(sums.rate)),
        rate_sd_log: prior.rate.sd_log * libm::sqrt(variance(sums.rate_2, sums.rate)),
        lag_days: prior.lag_days.at(mean(sums.lag)),
        lag_sd_log: prior.lag_days.sd_log * libm::sqrt(of_lag),
        never: prior.never.at_logit(mean(sums.never)),
        never_sd_logit: prior.never.sd_log * libm::sqrt(rest),
        never_by_lag: per_lag,
    }
}

#[cfg(test)]
mod tests {
    use super::super::axes::POINTS;
    use super::*;

    /// Weights of the prior, tilted so that slow rates go with short lags.
    fn weights(grid: &Grid, tilt: f64) -> Vec<f64> {
        let mut weights = Vec::with_capacity(POINTS);
        for (i, rate) in grid.rate.z.iter().enumerate() {
            for (j, lag) in grid.lag.z.iter().enumerate() {
                let together = libm::exp(tilt * rate * lag);
                let of = grid.rate.prior[i] * grid.lag.prior[j] * together;
                weights.extend(grid.never.prior.iter().map(|never| of * never));
            }
        }
        super::super::axes::normalised(weights)
    }

    #[test]
    fn strands_keep_mean_and_variance() {
        let prior = Belief::default();
        let grid = Grid::new(&prior);
        let strands = strands(&prior, &grid, &weights(&grid, 0.0));
        let z = strands.map(|strand| libm::log(strand.rate) / prior.rate.sd_log);
        let within = strands.map(|strand| strand.rate_sd_log / prior.rate.sd_log);
        let variance: f64 =
            z.iter().zip(within).map(|(z, within)| z * z + within * within).sum::<f64>() / 9.0;
        assert!((variance - 1.0).abs() < 0.01, "{variance}");
        for strand in strands {
            assert!((strand.lag_days - 5.0).abs() < 1e-9 && strand.never_by_lag.abs() < 1e-9);
            assert!((strand.lag_sd_log - 0.25).abs() < 0.005, "{}", strand.lag_sd_log);
        }
    }

    #[test]
    fn what_is_entangled_stays_so() {
        let prior = Belief::default();
        let grid = Grid::new(&prior);
        let strands = strands(&prior, &grid, &weights(&grid, 0.6));
        assert!(strands.is_sorted_by(|a, b| a.rate < b.rate && a.lag_days < b.lag_days));
    }
}
