//! What is believed of a variety's ripening, before or after learning.

use serde::{Deserialize, Serialize};

use super::points::STRATA;
use super::table::{PriorRow, tables};

/// An uncertain positive number: lognormal, by its median and the standard deviation of its log.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Spread {
    /// Half of the belief lies below.
    pub median: f64,
    /// Standard deviation on the log scale; 0 when known.
    pub sd_log: f64,
}

impl Spread {
    /// The value `z` standard deviations from the median.
    pub(super) fn at(self, z: f64) -> f64 {
        self.median * libm::exp(self.sd_log * z)
    }

    /// The same of a share, whose spread is on the logit scale: ln(p/(1−p)).
    pub(super) fn at_logit(self, z: f64) -> f64 {
        let logit = libm::log(self.median / (1.0 - self.median));
        1.0 / (1.0 + libm::exp(-(logit + self.sd_log * z)))
    }
}

/// What is believed of how a lot ripens. [`Default`] is the prior from the references; a caller
/// that has learned from rounds passes its own. Fields left out of JSON keep their prior.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields, default)]
pub struct Belief {
    /// Multiplier on every rate: 1 is the book, 0.8 a fifth slower.
    pub rate: Spread,
    /// Median days at 20 °C until unsorted green fruit breaks colour.
    pub lag_days: Spread,
    /// How that lag differs from fruit to fruit: standard deviation of its log.
    pub lag_fruit_sd_log: f64,
    /// Share of unsorted green fruit that never ripens properly; spread on the logit scale.
    pub never: Spread,
    /// Multiplier on drying and rot.
    pub loss: Spread,
    /// What was learned of rate, lag and never together, by ninths of the rate; then `rate`,
    /// `lag_days` and `never` only sum it up and are not read by the forecast.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub strands: Option<[Strand; STRATA]>,
}

/// One ninth of what is believed of the rate, and what is believed of the lag and the share that
/// never ripens if the rate lies in it: what is slow may have been slow to break colour, or slow
/// after it, and rounds leave the two entangled.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Strand {
    /// Mean multiplier on rate, of the log.
    pub rate: f64,
    /// Standard deviation of its log within the ninth.
    pub rate_sd_log: f64,
    /// Median lag, days at 20 °C.
    pub lag_days: f64,
    /// Standard deviation of its log.
    pub lag_sd_log: f64,
    /// Share that never ripens, at the median lag.
    pub never: f64,
    /// Standard deviation of its logit at a given lag.
    pub never_sd_logit: f64,
    /// By how much its logit rises with the log of the lag.
    pub never_by_lag: f64,
}

impl Default for Belief {
    fn default() -> Self {
        let prior = &tables().belief;
        let spread = |row: &PriorRow| Spread { median: row.median, sd_log: row.sd_log };
        Self {
            rate: spread(&prior.rate),
            lag_days: spread(&prior.lag_days),
            lag_fruit_sd_log: prior.lag_fruit_sd_log.value,
            never: spread(&prior.never),
            loss: spread(&prior.loss),
            strands: None,
        }
    }
}

impl Belief {
    /// Its numbers' bits, as a key that sorts.
    pub(super) fn key(&self) -> Vec<u64> {
        let spreads = [self.rate, self.lag_days, self.never, self.loss];
        let mut key: Vec<f64> = spreads.iter().flat_map(|one| [one.median, one.sd_log]).collect();
        key.push(self.lag_fruit_sd_log);
        key.extend(self.strands.iter().flatten().flat_map(Strand::numbers));
        key.into_iter().map(f64::to_bits).collect()
    }

    /// What is wrong with it, in words.
    pub(super) fn fault(&self) -> Option<&'static str> {
        let positive = |spread: Spread| {
            spread.median > 0.0 && spread.median.is_finite() && (0.0..=3.0).contains(&spread.sd_log)
        };
        if ![self.rate, self.lag_days, self.loss].into_iter().all(positive) {
            return Some("rate, lag_days and loss need a median above 0 and sd_log from 0 to 3");
        }
        if !(0.01..=3.0).contains(&self.lag_fruit_sd_log) {
            return Some("lag_fruit_sd_log needs 0.01 to 3");
        }
        if !(self.never.median > 0.0 && self.never.median < 1.0 && self.never.sd_log >= 0.0) {
            return Some("never needs a median between 0 and 1, and sd_log from 0");
        }
        let whole = |strand: &Strand| {
            strand.numbers().iter().all(|number| number.is_finite())
                && strand.rate > 0.0
                && strand.lag_days > 0.0
                && strand.never > 0.0
                && strand.never < 1.0
                && strand.rate_sd_log.min(strand.lag_sd_log).min(strand.never_sd_logit) >= 0.0
        };
        let strands = self.strands.iter().flatten();
        if !strands.clone().all(whole) || !strands.is_sorted_by(|a, b| a.rate <= b.rate) {
            return Some("strands are not as a program wrote them: leave them out");
        }
        None
    }
}

impl Strand {
    fn numbers(&self) -> [f64; 7] {
        [
            self.rate,
            self.rate_sd_log,
            self.lag_days,
            self.lag_sd_log,
            self.never,
            self.never_sd_logit,
            self.never_by_lag,
        ]
    }
}
