//! What lots were once called: where to look for bins that have since moved to another lot.
//!
//! A phone names a lot by what it knew of the bins then. So a bin may have been called by each of
//! its earlier values, in each condition its place could have been thought to be in.

use std::collections::{BTreeMap, BTreeSet};

use super::super::bin::{apply, net};
use super::{Condition, Looks, Lot, condition_at, id};
use crate::book::{Bin, Book};
use crate::entry::BinKept;
use crate::ids::LotId;
use crate::units::Grams;

/// A phone may have heard of any of a bin's corrections and not of the others. Up to so many are
/// all tried together and apart; of more, only the orderly beginnings.
const APART_MOST: usize = 5;

/// Former names of lots. A name that a lot bears now is never among them.
#[derive(Debug, Default)]
pub(super) struct Names {
    /// The lots that hold what was once called so, each with how much of it.
    now: BTreeMap<LotId, BTreeMap<LotId, Grams>>,
    /// What each lot's fruit was once called.
    once: BTreeMap<LotId, BTreeSet<LotId>>,
}

impl Names {
    /// The former names of everything picked.
    pub(super) fn of(book: &Book, looks: &Looks<'_>, picked: &BTreeMap<LotId, Lot>) -> Self {
        let mut names = Self::default();
        for (_, bin) in book.counted() {
            let Some(now) = bin.now() else { continue };
            let judged = looks.get(&now.place);
            if bin.corrections.is_empty() && judged.is_none() {
                continue;
            }
            let condition = judged.map_or_else(Condition::default, |l| condition_at(l, now.at));
            let lot = id::of_bin(&now, &condition);
            let mut tried = BTreeSet::new();
            for earlier in earlier(bin) {
                for condition in conditions(looks, &earlier) {
                    let name = id::of_bin(&earlier, &condition);
                    if !picked.contains_key(&name) && tried.insert(name) {
                        names.add(name, lot, net(&now));
                    }
                }
            }
        }
        names
    }

    /// Says that `grams` of `lot` were once called `name`.
    pub(super) fn add(&mut self, name: LotId, lot: LotId, grams: Grams) {
        *self.now.entry(name).or_default().entry(lot).or_default() += grams;
        self.once.entry(lot).or_default().insert(name);
    }

    /// The lots that hold what was once called `name`, with their weights in it; empty when nobody
    /// ever called anything so.
    pub(super) fn now(&self, name: LotId) -> Vec<(LotId, Grams)> {
        self.now
            .get(&name)
            .map_or_else(Vec::new, |lots| lots.iter().map(|(lot, grams)| (*lot, *grams)).collect())
    }

    /// What `lot` was once called.
    pub(super) fn once(&self, lot: LotId) -> Vec<LotId> {
        self.once.get(&lot).map_or_else(Vec::new, |names| names.iter().copied().collect())
    }
}

/// Every state a phone can have known a bin in.
fn earlier(bin: &Bin) -> Vec<BinKept> {
    let Some(kept) = &bin.kept else { return Vec::new() };
    let corrections: Vec<_> = bin.corrections.iter().filter(|c| c.stamp > kept.stamp).collect();
    let with = |heard: &dyn Fn(usize) -> bool| {
        let mut state = kept.fact.clone();
        for (_, correction) in corrections.iter().enumerate().filter(|(n, _)| heard(*n)) {
            apply(&mut state, &correction.fact);
        }
        state
    };
    if corrections.len() <= APART_MOST {
        (0..1_usize << corrections.len()).map(|some| with(&|n| some >> n & 1 == 1)).collect()
    } else {
        (0..=corrections.len()).map(|first| with(&|n| n < first)).collect()
    }
}

/// Every condition the bin's place can have been thought to be in.
fn conditions(looks: &Looks<'_>, bin: &BinKept) -> BTreeSet<Condition> {
    let mut all = BTreeSet::from([Condition::default()]);
    if let Some(looks) = looks.get(&bin.place) {
        all.insert(Condition { unsettled: true, ..Condition::default() });
        let thawed = looks.iter().filter(|look| look.look == "thawed");
        all.extend(thawed.map(|look| Condition::seen(look)));
    }
    all
}
