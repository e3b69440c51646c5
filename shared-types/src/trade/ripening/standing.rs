//! What of a lot still stands after its rounds.

use super::loss::drying_log;
use super::lot::{LotInput, RoundSeen};
use crate::units::{Day, Grams};

/// One round, with what was there for it to find.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Stretch {
    /// The last weighing or round before it.
    pub(super) from: Day,
    /// The round's own day.
    pub(super) to: Day,
    /// Stood there from then on, grams.
    pub(super) before: f64,
    /// What was found.
    pub(super) round: RoundSeen,
    /// Stays, grams: weighed, or reckoned by drying.
    pub(super) left: f64,
}

/// The lot's rounds in order, each with the grams before and after it.
///
/// ```text
/// left = before · exp(−λ ∫ drying dt) − ripe − lost      when nobody weighed it
/// ```
///
/// Rot is not taken off: what had rotted was thrown, and is `lost`.
pub(super) fn stretches(lot: &LotInput, loss: f64) -> Vec<Stretch> {
    let (mut from, mut before) = (lot.weighed(), lot.grams.0.max(0) as f64);
    let mut all = Vec::new();
    for round in lot.seen() {
        let dried = drying_log(&lot.room, from, round.day);
        let taken = (round.ripe + round.lost).0.max(0) as f64;
        let left = match round.left {
            Some(left) => left.0.max(0) as f64,
            None => (before * libm::exp(-loss * dried) - taken).max(0.0),
        };
        all.push(Stretch { from, to: round.day, before, round, left });
        (from, before) = (round.day, left);
    }
    all
}

/// The day of the last weighing or round, whether fruit was sorted that day, and the grams that
/// stood there then.
pub(super) fn standing(lot: &LotInput, loss: f64) -> (Day, bool, Grams) {
    match stretches(lot, loss).last() {
        Some(last) => (last.to, true, Grams(libm::round(last.left) as i64)),
        None => (lot.weighed(), lot.sorted.is_some(), Grams(lot.grams.0.max(0))),
    }
}
