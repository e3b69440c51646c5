//! What was learned, for the forecast, for a chart and in words.

use serde::{Deserialize, Serialize};

use super::super::band::Band;
use super::super::belief::{Belief, Spread};
use super::super::forecast::forecast;
use super::super::lot::LotInput;
use super::axes::{Axis, Grid, LAGS, NEVERS, RATES};
use super::levels::{Posterior, Settled};
use super::strands::strands;
use super::words::middle_days;
use crate::ids::CropId;
use crate::trade::crops;
use crate::units::Day;

/// The middle of a belief and the range that holds four fifths of it.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Spread80 {
    /// A tenth lies below.
    pub p10: f64,
    /// Half lies below.
    pub median: f64,
    /// A tenth lies above.
    pub p90: f64,
}

/// One parameter before and after.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Change {
    /// By the references.
    pub before: Spread80,
    /// After the rounds.
    pub after: Spread80,
}

/// What was learned of one variety.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct LearnedVariety {
    /// The crop.
    pub crop: CropId,
    /// What the caller calls the variety; `None` for lots without one.
    pub variety: Option<String>,
    /// Lots with rounds.
    pub lots: usize,
    /// Rounds of them.
    pub rounds: usize,
    /// For the forecast.
    pub belief: Belief,
    /// Multiplier on every rate: 1 is the book.
    pub rate: Change,
    /// Median days at 20 °C until unsorted green fruit breaks colour; only of a crop with such.
    pub lag_days: Option<Change>,
    /// Share of unsorted green fruit that never ripens; only of a crop with such.
    pub never: Option<Change>,
    /// Multiplier on drying and rot.
    pub loss: Change,
    /// Days that colouring fruit is behind the book at 20 °C, as expected; less than nothing when
    /// it is ahead.
    pub colouring_behind: f64,
    /// The same of unsorted green fruit.
    pub green_behind: Option<f64>,
}

/// What was learned of all varieties.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Learned {
    /// What was believed before.
    pub prior: Belief,
    /// By crop, then variety.
    pub varieties: Vec<LearnedVariety>,
    /// For varieties of a crop of which no round was seen.
    pub crops: Vec<(CropId, Belief)>,
}

impl Learned {
    /// Nothing but the prior.
    pub fn nothing(prior: &Belief) -> Self {
        Self { prior: *prior, varieties: Vec::new(), crops: Vec::new() }
    }

    /// What was learned of a variety, if a round of it was seen.
    pub fn of(&self, crop: &CropId, variety: Option<&str>) -> Option<&LearnedVariety> {
        let is = |one: &&LearnedVariety| one.crop == *crop && one.variety.as_deref() == variety;
        self.varieties.iter().find(is)
    }

    /// What to forecast a lot with: its variety's belief, or else its crop's, or the prior.
    pub fn belief(&self, crop: &CropId, variety: Option<&str>) -> Belief {
        let of_crop = || self.crops.iter().find(|(of, _)| of == crop).map(|(_, belief)| *belief);
        self.of(crop, variety).map(|one| one.belief).or_else(of_crop).unwrap_or(self.prior)
    }

    pub(super) fn add(
        &mut self,
        grid: &Grid,
        crop: CropId,
        names: Vec<(Option<String>, usize, usize)>,
        settled: Settled,
    ) {
        for ((variety, lots, rounds), posterior) in names.into_iter().zip(settled.varieties) {
            let one = summary(&self.prior, grid, crop.clone(), variety, &posterior);
            self.varieties.push(LearnedVariety { lots, rounds, ..one });
        }
        let unseen = belief(&self.prior, grid, &settled.unseen);
        self.crops.push((crop, unseen));
    }
}

fn summary(
    prior: &Belief,
    grid: &Grid,
    crop: CropId,
    variety: Option<String>,
    posterior: &Posterior,
) -> LearnedVariety {
    let green = crops::crop(&crop)
        .is_some_and(|crop| crop.classes.iter().any(|class| class.ripens && class.fill <= 0.0));
    let [rate, lag, never] = marginals(posterior);
    let change = |axis: &Axis, values: &[f64], after: &[f64]| Change {
        before: spread80(values, &axis.prior),
        after: spread80(values, after),
    };
    let middle = |rate: &[f64], lag: &[f64]| {
        let median = |values: &[f64], weights: &[f64]| spread80(values, weights).median;
        middle_days(&crop, median(&grid.rates, rate), median(&grid.lags, lag))
    };
    let (before, after) = (middle(&grid.rate.prior, &grid.lag.prior), middle(&rate, &lag));
    let (colouring_behind, green_behind) = match (before, after) {
        (Some(before), Some(after)) => {
            (after.0 - before.0, after.1.zip(before.1).map(|(after, before)| after - before))
        }
        _ => (0.0, None),
    };
    LearnedVariety {
        crop,
        variety,
        lots: 0,
        rounds: 0,
        belief: belief(prior, grid, posterior),
        rate: change(&grid.rate, &grid.rates, &rate),
        lag_days: green.then(|| change(&grid.lag, &grid.lags, &lag)),
        never: green.then(|| change(&grid.never, &grid.nevers, &never)),
        loss: change(&grid.loss, &grid.losses, &posterior.losses),
        colouring_behind,
        green_behind,
    }
}

/// The weights along each axis of the cube.
fn marginals(posterior: &Posterior) -> [Vec<f64>; 3] {
    let mut all = [vec![0.0; RATES], vec![0.0; LAGS], vec![0.0; NEVERS]];
    for (i, weight) in posterior.ripening.iter().enumerate() {
        all[0][i / (LAGS * NEVERS)] += weight;
        all[1][i / NEVERS % LAGS] += weight;
        all[2][i % NEVERS] += weight;
    }
    all
}

/// A belief with the posterior's means and spreads on the log scale, and its strands.
fn belief(prior: &Belief, grid: &Grid, posterior: &Posterior) -> Belief {
    let [rate, lag, never] = marginals(posterior);
    let moved = |spread: Spread, axis: &Axis, weights: &[f64]| {
        let (mean, sd) = moments(&axis.z, weights);
        Spread { median: spread.at(mean), sd_log: spread.sd_log * sd }
    };
    let of_never = moved(prior.never, &grid.never, &never);
    let (mean, _) = moments(&grid.never.z, &never);
    Belief {
        rate: moved(prior.rate, &grid.rate, &rate),
        lag_days: moved(prior.lag_days, &grid.lag, &lag),
        lag_fruit_sd_log: prior.lag_fruit_sd_log,
        never: Spread { median: prior.never.at_logit(mean), ..of_never },
        loss: moved(prior.loss, &grid.loss, &posterior.losses),
        strands: Some(strands(prior, grid, &posterior.ripening)),
    }
}

fn moments(z: &[f64], weights: &[f64]) -> (f64, f64) {
    let mean: f64 = z.iter().zip(weights).map(|(z, w)| z * w).sum();
    let variance: f64 = z.iter().zip(weights).map(|(z, w)| (z - mean) * (z - mean) * w).sum();
    (mean, libm::sqrt(variance))
}

/// Quantiles of weights at places in order, each place at the middle of its weight.
fn spread80(values: &[f64], weights: &[f64]) -> Spread80 {
    let at = |wanted: f64| {
        let (mut before, mut last) = (0.0, None);
        for (value, weight) in values.iter().zip(weights) {
            let middle = before + weight / 2.0;
            if wanted <= middle {
                return match last {
                    Some((at, was)) => was + (value - was) * (wanted - at) / (middle - at),
                    None => *value,
                };
            }
            last = Some((middle, *value));
            before += weight;
        }
        last.map_or(0.0, |(_, value)| value)
    };
    Spread80 { p10: at(0.1), median: at(0.5), p90: at(0.9) }
}

/// One day of a chart of what learning changed.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct BeforeAfter {
    /// The day.
    pub day: Day,
    /// Ripe by its evening, by the prior.
    pub before: Band,
    /// Ripe by its evening, with what was learned.
    pub after: Band,
}

/// Ripe grams by day of these lots, by the prior and with what was learned. The lots' own beliefs
/// are not read.
pub fn before_after(
    lots: &[LotInput],
    prior: &Belief,
    learned: &Belief,
    today: Day,
    days: usize,
) -> Vec<BeforeAfter> {
    let lots: Vec<LotInput> =
        lots.iter().map(|lot| LotInput { belief: None, ..lot.clone() }).collect();
    let before = forecast(&lots, prior, today, days).days;
    let after = forecast(&lots, learned, today, days).days;
    let days = before.into_iter().zip(after);
    days.map(|(b, a)| BeforeAfter { day: b.day, before: b.by_then, after: a.by_then }).collect()
}
