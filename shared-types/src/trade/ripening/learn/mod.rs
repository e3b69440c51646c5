//! What rounds teach of a variety: exact Bayes on a grid.
//!
//! # Context
//! The book knows sorted fruit of somebody else's cultivars. A grower who has sorted a lot three
//! times knows better, and the forecast must know it too, without believing more than was seen.
//!
//! # Design
//! **What is learned.** A variety's multiplier on rates `m`, the median lag `L` of its unsorted
//! green fruit, the share `p` of it that never ripens, and the multiplier `λ` on drying and rot.
//! Each lies on a fixed axis (`axes`) of its prior: ln m, ln L, logit p, ln λ.
//!
//! **What a round says.** Between two rounds each fruit that stood there unripe turned ripe with
//!
//! ```text
//! q = (F(t₂) − F(t₁)) / (1 − F(t₁)),   F(t) = (1 − p) · P(ripe by t | m, L)
//! ```
//!
//! by the same path through the stages as the forecast's. Grams ripe against grams ripe and left
//! are a binomial of as many fruit as the lot is worth (`likely`): fruit of a lot are not
//! independent, and a few are sorted wrongly. Grams thrown out are rot; what a weighing misses
//! beyond that is drying.
//!
//! **Varieties of a crop** inform each other (`levels`): half of the prior's variance is the
//! crop's, half the variety's own. Both levels lie on the same grid and are summed over, so the
//! result is exact and does not depend on the order in which anything was seen. Observations are
//! sorted first: the same rounds give the same bits.
//!
//! `λ` and the other three do not meet in any likelihood, so their joint posterior is a product
//! and is kept as one.
//!
//! # Not yet true
//! A lot's own luck is not learned, only its variety's ways.

mod axes;
mod learned;
mod levels;
mod likely;
mod strands;
mod words;

#[cfg(test)]
mod tests;

use std::collections::BTreeMap;

use serde::{Deserialize, Serialize};

use super::belief::Belief;
use super::lot::LotInput;
use crate::ids::CropId;
use axes::Grid;
pub use learned::{BeforeAfter, Change, Learned, LearnedVariety, Spread80, before_after};
use levels::Level;

/// One lot with its rounds, and whose fruit it is. The lot's own belief is not read.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Observed {
    /// What the caller calls its variety; lots without one are taken for one variety.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub variety: Option<String>,
    /// The lot, with the grams it began with and its rounds.
    pub lot: LotInput,
}

/// The evidence of one variety.
#[derive(Default)]
struct Seen<'a> {
    lots: Vec<&'a LotInput>,
    rounds: usize,
}

/// Learns from all rounds that were ever made. Lots without a round, and those that do not ripen
/// in a room, say nothing. In any order, the same observations give the same bits.
pub fn learn(prior: &Belief, observations: &[Observed]) -> Learned {
    let mut crops: BTreeMap<CropId, BTreeMap<Option<String>, Seen<'_>>> = BTreeMap::new();
    for one in observations.iter().filter(|one| likely::says_something(&one.lot)) {
        let varieties = crops.entry(one.lot.crop.clone()).or_default();
        let seen = varieties.entry(one.variety.clone()).or_default();
        seen.rounds += one.lot.seen().len();
        seen.lots.push(&one.lot);
    }
    let grid = Grid::new(prior);
    let mut learned = Learned::nothing(prior);
    for (crop, varieties) in crops {
        let mut levels: Vec<Level> = Vec::with_capacity(varieties.len());
        let mut names = Vec::with_capacity(varieties.len());
        for (variety, mut seen) in varieties {
            seen.lots.sort_by(|a, b| likely::order(a).cmp(&likely::order(b)));
            levels.push(Level::of(likely::surface(&grid, &seen.lots)));
            names.push((variety, seen.lots.len(), seen.rounds));
        }
        let settled = levels::settle(&grid, &levels);
        learned.add(&grid, crop, names, settled);
    }
    learned
}
