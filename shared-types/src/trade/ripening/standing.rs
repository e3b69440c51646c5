//! What of a lot still stands after its rounds.

use super::lot::{LotInput, RoundSeen};
use super::room::RoomDays;
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
    /// ∫ drying and ∫ rot over it.
    pub(super) losses: (f64, f64),
}

/// The lot's rounds in order, each with the grams before and after it.
///
/// ```text
/// left = before · exp(−λ ∫ drying dt) − ripe − lost      when nobody weighed it
/// ```
///
/// Rot is not taken off: what had rotted was thrown, and is `lost`.
pub(super) fn stretches(lot: &LotInput, room: &RoomDays, loss: f64) -> Vec<Stretch> {
    let (mut from, mut before) = (lot.weighed(), lot.grams.0.max(0) as f64);
    let mut all = Vec::new();
    for round in lot.seen() {
        let losses = room.losses(from, round.day);
        let taken = (round.ripe + round.lost).0.max(0) as f64;
        let left = match round.left {
            Some(left) => left.0.max(0) as f64,
            None => (before * libm::exp(-loss * losses.0) - taken).max(0.0),
        };
        all.push(Stretch { from, to: round.day, before, round, left, losses });
        (from, before) = (round.day, left);
    }
    all
}

/// The last time a lot was weighed or gone through.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) struct Standing {
    /// The day.
    pub(super) day: Day,
    /// Was everything ripe taken out that day?
    pub(super) sorted: bool,
    /// What stood there then.
    pub(super) grams: Grams,
}

pub(super) fn standing(lot: &LotInput, room: &RoomDays, loss: f64) -> Standing {
    if lot.rounds.is_empty() {
        return unsorted(lot);
    }
    match stretches(lot, room, loss).last() {
        Some(last) => {
            let grams = Grams(libm::round(last.left) as i64);
            Standing { day: last.to, sorted: true, grams }
        }
        None => unsorted(lot),
    }
}

/// A lot of which no round counts.
pub(super) fn unsorted(lot: &LotInput) -> Standing {
    let grams = Grams(lot.grams.0.max(0));
    Standing { day: lot.weighed(), sorted: lot.sorted.is_some(), grams }
}
