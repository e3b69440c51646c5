//! The points at which a forecast is worked out, and their values for a belief.
//!
//! Rate is cut into nine strata of equal probability, each at its mean and with what spread is
//! left inside it. Median lag, share that never ripens and losses take three places each, at
//! −√(3/2), 0 and √(3/2) standard deviations, which keep mean and variance; nine runs of an
//! orthogonal array (L9) combine them so that every two of them meet in every combination once.
//! That makes 81 points of equal weight. Every lot reads the same point at the same time: a slow
//! season is slow for all, which is the cautious side for totals.

use std::sync::LazyLock;

use super::belief::{Belief, Strand};
use super::normal::bell;

/// Strata of rate.
pub(super) const STRATA: usize = 9;
/// Places of the other axes.
pub(super) const SIDE: usize = 3;
/// Runs of the array.
pub(super) const RUNS: usize = SIDE * SIDE;
/// All points: `stratum · RUNS + run`.
pub(super) const POINTS: usize = STRATA * RUNS;
/// Where three equal places of a standard normal lie: ±√(3/2).
pub(super) const PLACES: [f64; SIDE] = [-1.224_744_871_391_589, 0.0, 1.224_744_871_391_589];

/// Place of the lag in a run.
pub(super) const fn lag_of(run: usize) -> usize {
    run / SIDE
}

/// Place of the share that never ripens in a run.
pub(super) const fn never_of(run: usize) -> usize {
    run % SIDE
}

/// Place of the losses in a run.
pub(super) const fn loss_of(run: usize) -> usize {
    (run / SIDE + run) % SIDE
}

/// Where the strata of a standard normal end: its 1/9 to 4/9; the others are their mirror.
const ENDS: [f64; 4] = [
    -1.220_640_348_847_349_6,
    -0.764_709_673_786_387_1,
    -0.430_727_299_295_457_4,
    -0.139_710_298_881_862_15,
];

/// Mean and standard deviation of each stratum of a standard normal.
///
/// Of z between a and b: mean 9 (φ(a) − φ(b)), mean square 1 + 9 (a φ(a) − b φ(b)).
static NORMAL_STRATA: LazyLock<[(f64, f64); STRATA]> = LazyLock::new(|| {
    let density = |z: f64| bell(z) / libm::sqrt(std::f64::consts::TAU);
    let n = STRATA as f64;
    let one = |i: usize| {
        let (a, b) = (i.checked_sub(1).map(|i| ENDS[i]), ENDS.get(i).map_or(-ENDS[3], |end| *end));
        let (at_a, a_at_a) = a.map_or((0.0, 0.0), |a| (density(a), a * density(a)));
        let mean = n * (at_a - density(b));
        let square = 1.0 + n * (a_at_a - b * density(b));
        (mean, libm::sqrt((square - mean * mean).max(0.0)))
    };
    std::array::from_fn(|i| {
        let (mean, sd) = one(i.min(STRATA - 1 - i));
        if i < STRATA / 2 { (mean, sd) } else { (-mean, sd) }
    })
});

/// A belief's values at the points.
#[derive(Clone, Debug)]
pub(super) struct Points {
    /// Multiplier on rate, by stratum.
    pub(super) rates: [f64; STRATA],
    /// ln of it.
    pub(super) log_rates: [f64; STRATA],
    /// Standard deviation of ln rate within the stratum.
    pub(super) within: [f64; STRATA],
    /// ln of the median lag, by stratum and place.
    pub(super) log_lags: [[f64; SIDE]; STRATA],
    /// Share that never ripens, by stratum and run.
    pub(super) nevers: [[f64; RUNS]; STRATA],
    /// Multiplier on losses, by place.
    pub(super) losses: [f64; SIDE],
    /// How the lag differs from fruit to fruit.
    pub(super) lag_sd_log: f64,
}

impl Points {
    pub(super) fn new(belief: &Belief) -> Self {
        let strands = belief.strands.unwrap_or_else(|| prior_strands(belief));
        let log_lag = |strand: &Strand, place: usize| {
            libm::log(strand.lag_days) + strand.lag_sd_log * PLACES[place]
        };
        let never = |strand: &Strand, run: usize| {
            let from_lag = strand.never_by_lag * strand.lag_sd_log * PLACES[lag_of(run)];
            let logit = libm::log(strand.never / (1.0 - strand.never));
            let logit = logit + from_lag + strand.never_sd_logit * PLACES[never_of(run)];
            1.0 / (1.0 + libm::exp(-logit))
        };
        Self {
            rates: strands.map(|strand| strand.rate),
            log_rates: strands.map(|strand| libm::log(strand.rate)),
            within: strands.map(|strand| strand.rate_sd_log),
            log_lags: strands.map(|strand| std::array::from_fn(|place| log_lag(&strand, place))),
            nevers: strands.map(|strand| std::array::from_fn(|run| never(&strand, run))),
            losses: PLACES.map(|z| belief.loss.at(z)),
            lag_sd_log: belief.lag_fruit_sd_log,
        }
    }
}

/// The strata of a belief nothing was learned for.
fn prior_strands(belief: &Belief) -> [Strand; STRATA] {
    NORMAL_STRATA.map(|(mean, sd)| Strand {
        rate: belief.rate.at(mean),
        rate_sd_log: belief.rate.sd_log * sd,
        lag_days: belief.lag_days.median,
        lag_sd_log: belief.lag_days.sd_log,
        never: belief.never.median,
        never_sd_logit: belief.never.sd_log,
        never_by_lag: 0.0,
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn strata_keep_the_normals_variance() {
        let between: f64 = NORMAL_STRATA.iter().map(|(mean, _)| mean * mean).sum::<f64>() / 9.0;
        let within: f64 = NORMAL_STRATA.iter().map(|(_, sd)| sd * sd).sum::<f64>() / 9.0;
        assert!((between + within - 1.0).abs() < 1e-9, "{between} and {within}");
        assert!(NORMAL_STRATA.is_sorted_by(|a, b| a.0 < b.0));
        assert!(NORMAL_STRATA[4].0.abs() < 1e-9);
    }

    #[test]
    fn every_two_places_meet_once() {
        for of in [
            (lag_of as fn(usize) -> usize, never_of as fn(usize) -> usize),
            (lag_of, loss_of),
            (never_of, loss_of),
        ] {
            let mut met = [0; RUNS];
            (0..RUNS).for_each(|run| met[of.0(run) * SIDE + of.1(run)] += 1);
            assert_eq!(met, [1; RUNS]);
        }
    }
}
