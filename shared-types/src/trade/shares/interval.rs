//! A share and its confidence interval.

use serde::{Deserialize, Serialize};
use statrs::distribution::{Beta, ContinuousCDF as _};

use crate::units::Grams;

/// Confidence of the interval.
pub const LEVEL: f64 = 0.95;

/// Correlation between fruits of one cluster: an assumption, of the size met in field trials of
/// disease incidence (0.05 to 0.3, from memory).
pub const CORRELATION: f64 = 0.1;

/// How fruits were counted.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Basis {
    /// Fruit by fruit.
    Counted,
    /// Weight divided by the mass of one fruit.
    FromWeight,
    /// Bins, each taken as one.
    Bins,
}

impl Basis {
    /// In words, to follow a number.
    pub const fn words(self) -> &'static str {
        match self {
            Self::Counted => "fruits, counted",
            Self::FromWeight => "fruits, estimated from weight",
            Self::Bins => "bins, each taken as one",
        }
    }
}

/// What was seen of a group: a place, a variety, a way of watering.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Tally {
    /// The group's name.
    pub label: String,
    /// Fruits with the defect.
    pub with_defect: f64,
    /// All fruits looked at, those included.
    pub fruits: f64,
    /// In how many clusters they grew: plants where known, else beds and pickings. At least 1.
    pub clusters: u32,
    /// How they were counted.
    pub basis: Basis,
}

/// A share with its interval.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct Share {
    /// The group's name.
    pub label: String,
    /// Share with the defect, 0 to 1.
    pub share: f64,
    /// Lower end, 95 %.
    pub from: f64,
    /// Upper end, 95 %.
    pub to: f64,
    /// Fruits looked at.
    pub fruits: f64,
    /// Independent fruits they are worth.
    pub effective: f64,
    /// Effective fruits with the defect.
    pub effective_with: f64,
    /// How they were counted.
    pub basis: Basis,
    /// The share in a sentence.
    pub words: String,
}

/// Fruits in a weight; 0 when the mass of one is none.
pub fn fruits_of(weight: Grams, grams_each: f64) -> f64 {
    if grams_each > 0.0 { (weight.0.max(0) as f64 / grams_each).max(0.0) } else { 0.0 }
}

/// A group's share; `None` when nothing was looked at, or the numbers cannot be.
pub fn share(tally: &Tally) -> Option<Share> {
    let Tally { with_defect, fruits, .. } = *tally;
    if !(fruits > 0.0 && fruits.is_finite() && (0.0..=fruits).contains(&with_defect)) {
        return None;
    }
    let each = fruits / f64::from(tally.clusters.max(1));
    // Fewer fruits than clusters are independent already.
    let effect = (1.0 + (each - 1.0) * CORRELATION).max(1.0);
    let (n, k) = (fruits / effect, with_defect / effect);
    let (from, to) = clopper_pearson(k, n, LEVEL);
    let share = with_defect / fruits;
    let percent = |share: f64| share * 100.0;
    Some(Share {
        label: tally.label.clone(),
        share: rounded(share),
        from: rounded(from),
        to: rounded(to),
        fruits: rounded(fruits),
        effective: rounded(n),
        effective_with: rounded(k),
        basis: tally.basis,
        words: format!(
            "{:.0} % ({:.0} to {:.0} %) of {fruits:.0} {}",
            percent(share),
            percent(from),
            percent(to),
            tally.basis.words()
        ),
    })
}

/// The exact interval of `k` in `n`, which need not be whole:
///
/// ```text
/// lower = Beta⁻¹(α/2;     k,     n − k + 1)     0 when k = 0
/// upper = Beta⁻¹(1 − α/2; k + 1, n − k)         1 when k = n
/// ```
///
/// # Panics
/// Never for `0 ≤ k ≤ n` and a level within 0 and 1.
pub fn clopper_pearson(k: f64, n: f64, level: f64) -> (f64, f64) {
    let half = (1.0 - level) / 2.0;
    let at = |a: f64, b: f64, p: f64| {
        Beta::new(a, b).expect("both shapes are above zero").inverse_cdf(p).clamp(0.0, 1.0)
    };
    let lower = if k <= 0.0 { 0.0 } else { at(k, n - k + 1.0, half) };
    let upper = if k >= n { 1.0 } else { at(k + 1.0, n - k, 1.0 - half) };
    (lower, upper)
}

/// To a millionth: what the platforms' logarithms differ by never shows.
pub(super) fn rounded(value: f64) -> f64 {
    libm::round(value * 1e6) / 1e6
}
