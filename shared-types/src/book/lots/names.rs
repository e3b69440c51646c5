//! What lots were once called: where to look for bins that have since moved to another lot.
//!
//! A phone names a lot by what it knew of the bins then. So a bin may have been called by each of
//! its earlier values, in each condition its place could have been thought to be in.

use std::collections::{BTreeMap, BTreeSet};

use super::super::bin::{apply, net};
use super::{Condition, Looks, Lot, condition_at, id};
use crate::book::{Bin, Book};
use crate::entry::{BinKept, ColdChecked};
use crate::ids::LotId;
use crate::units::Grams;

/// A phone may have heard of any of a bin's corrections and not of the others. Up to so many are
/// all tried together and apart; of more, only the orderly beginnings.
const APART_MOST: usize = 5;

/// Former names of lots. A name that a lot bears now is never among them, except in `may`.
#[derive(Debug, Default)]
pub(super) struct Names {
    /// The lots that hold what was once called so, each with how much of it.
    now: BTreeMap<LotId, BTreeMap<LotId, Grams>>,
    /// What each lot's fruit was once called.
    once: BTreeMap<LotId, BTreeSet<LotId>>,
    /// The lots that hold anything that may ever have been called so, by this name or another's.
    may: BTreeMap<LotId, BTreeSet<LotId>>,
    /// Everything a lot's fruit may ever have been called, its present name too.
    ever: BTreeMap<LotId, BTreeSet<LotId>>,
}

impl Names {
    /// The former names of everything picked.
    pub(super) fn of(book: &Book, looks: &Looks<'_>, picked: &BTreeMap<LotId, Lot>) -> Self {
        let mut names = Self::default();
        for lot in picked.keys() {
            names.ever(*lot, *lot);
        }
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
                    if !tried.insert(name) {
                        continue;
                    }
                    names.ever(name, lot);
                    if !picked.contains_key(&name) {
                        names.add(name, lot, net(&now));
                    }
                }
            }
        }
        names
    }

    /// Whether former names are known at all.
    pub(super) fn is_known(&self) -> bool {
        !self.ever.is_empty()
    }

    /// Says that `grams` of `lot` were once called `name`, which no lot bears now.
    pub(super) fn add(&mut self, name: LotId, lot: LotId, grams: Grams) {
        *self.now.entry(name).or_default().entry(lot).or_default() += grams;
        self.once.entry(lot).or_default().insert(name);
    }

    /// Says that fruit of `lot` may ever have been called `name`, borne now or not.
    pub(super) fn ever(&mut self, name: LotId, lot: LotId) {
        self.may.entry(name).or_default().insert(lot);
        self.ever.entry(lot).or_default().insert(name);
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

    /// Whether fruit of `lot` may ever have been called `name`.
    pub(super) fn is_ever(&self, name: LotId, lot: LotId) -> bool {
        self.ever.get(&lot).is_some_and(|names| names.contains(&name))
    }

    /// Every lot that something called `name` may at any time have been taken for.
    pub(super) fn kin(&self, name: LotId) -> BTreeSet<LotId> {
        let lots = self.may.get(&name).into_iter().flatten();
        lots.filter_map(|lot| self.ever.get(lot)).flatten().copied().chain([name]).collect()
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

/// Every condition that a phone may have thought a bin was picked in, having heard of some of the
/// looks: what [`condition_at`] says of any of their subsets.
fn conditions(looks: &Looks<'_>, bin: &BinKept) -> BTreeSet<Condition> {
    let mut all = BTreeSet::from([Condition::default()]);
    let looks = looks.get(&bin.place).map_or(&[][..], Vec::as_slice);
    let thawed = |look: &&&ColdChecked| look.look == "thawed";
    let frozen_before = looks.iter().any(|look| look.at <= bin.at && look.look != "thawed");
    if frozen_before {
        all.insert(Condition { unsettled: true, ..Condition::default() });
    }
    let may = looks.iter().filter(thawed).filter(|look| look.at <= bin.at || frozen_before);
    all.extend(may.map(|look| Condition::seen(look)));
    all
}
