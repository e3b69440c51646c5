//! The kitchen's side of the book: limits, stock, wants, the plan, batches and their jars.
//!
//! A batch is planned in registers (anyone may move or pin it), made once, and struck for ever if
//! that was a slip. What a made batch took is entered among the book's takings under names derived
//! from the batch, so that lots know nothing of batches and every gram is still accounted for.
//!
//! A plan stands whole: see [`Book::planned`].

#[cfg(test)]
mod tests;

use std::collections::BTreeMap;

use serde::{Deserialize, Serialize};
use sha2::{Digest as _, Sha256};
use uuid::Builder;

use super::bin::Signed;
use super::field::Field;
use super::fold::Reason;
use super::things::record;
use super::{Book, once};
use crate::entry::{
    BatchMade, BatchSet, BatchStruck, JarsUsed, KitchenSet, LotPart, LotUsed, PlanKept,
    RowConfirmed, SealsChecked, TickSet, WantSet,
};
use crate::hlc::{Hlc, Stamp};
use crate::ids::*;
use crate::units::{Day, Grams};

record! {
    /// What the kitchen has and can do in a day.
    Limits from KitchenSet {
        burners: i64,
        loads_per_day: i64,
        jars_per_load: i64,
        pressure_canner: String,
        steam_canner: bool,
        dryer_per_day: Grams,
        freezer_per_day: Grams,
        freezer_free: Grams,
        fresh_per_day: Grams,
        jar: String,
        weekday_minutes: Vec<i64>,
    }
}

record! {
    /// How much is wanted of what a method makes.
    Want from WantSet { weight: i64, most: Grams, }
}

record! {
    /// A batch as planned.
    Planned from BatchSet {
        plan: PlanId,
        method: MethodId,
        day: Day,
        start_minute: i64,
        jar: String,
        jars: i64,
        lots: Vec<LotPart>,
        why: String,
        pinned: bool,
        dropped: bool,
        begun: bool,
    }
}

/// Everything ever said of one batch.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
pub struct Batch {
    /// As planned.
    pub planned: Planned,
    /// As made. Struck ones keep it, and do not count.
    pub made: Option<Signed<BatchMade>>,
    /// The record of it was a slip.
    pub struck: Option<Signed<BatchStruck>>,
}

impl Batch {
    /// As made, if that counts.
    pub fn counted(&self) -> Option<&BatchMade> {
        self.made.as_ref().filter(|_| self.struck.is_none()).map(|made| &made.fact)
    }

    /// Its method: as made, or else as planned.
    pub fn method(&self) -> Option<&MethodId> {
        self.counted().map(|made| &made.method).or_else(|| self.planned.method.get())
    }
}

/// The kitchen's part of a book.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
#[serde(default)]
pub struct Kitchen {
    /// What it has and can do.
    pub limits: Limits,
    /// Minutes of work on days that are not usual ones.
    pub hands: BTreeMap<Day, Field<i64>>,
    /// What was counted in the cupboard, by item.
    pub stock: BTreeMap<String, Field<i64>>,
    /// What is wanted, by method.
    pub wants: BTreeMap<MethodId, Want>,
    /// The plan that stands.
    pub plan: Field<PlanKept>,
    /// The batches, planned and made.
    pub batches: BTreeMap<BatchId, Batch>,
    /// What was ticked off, by task.
    pub ticks: BTreeMap<String, Field<TickSet>>,
    /// Looks at seals.
    pub seals: BTreeMap<SealCheckId, Signed<SealsChecked>>,
    /// Jars taken from the pantry.
    pub jars_used: BTreeMap<UseId, Signed<JarsUsed>>,
    /// Rows of methods compared with a printed guide, by method and row.
    pub confirmed: BTreeMap<MethodId, BTreeMap<String, Field<RowConfirmed>>>,
}

/// The key under which step `step` (from 0) of a batch is ticked off.
pub fn step_task(batch: BatchId, step: usize) -> String {
    format!("batch/{batch}/step/{step}")
}

impl Kitchen {
    /// Whether a task is ticked off.
    pub fn is_done(&self, task: &str) -> bool {
        self.ticked(task).is_some_and(|tick| tick.done)
    }

    /// The last word on a task.
    pub fn ticked(&self, task: &str) -> Option<&TickSet> {
        self.ticks.get(task)?.get()
    }

    /// The rows that stand confirmed.
    pub fn confirmations(&self) -> impl Iterator<Item = &RowConfirmed> {
        let all = self.confirmed.values().flat_map(BTreeMap::values).filter_map(Field::get);
        all.filter(|row| row.withdrawn != Some(true))
    }
}

impl Book {
    /// The batches that are to be made: those of the plan that stands, and those someone pinned or
    /// began under an earlier one; not the dropped, not the made. By day, then by when they begin.
    pub fn planned(&self) -> Vec<(BatchId, &Batch)> {
        let stands = self.kitchen.plan.get().map(|plan| plan.plan);
        let mut all: Vec<_> = self.kitchen.batches.iter().map(|(id, batch)| (*id, batch)).collect();
        all.retain(|(_, batch)| {
            let Planned { plan, pinned, dropped, begun, .. } = &batch.planned;
            let held = is(pinned) || is(begun);
            let current = plan.get().is_some_and(|plan| stands == Some(*plan));
            let whole = batch.planned.method.get().is_some() && batch.planned.day.get().is_some();
            whole && (held || current) && !is(dropped) && batch.made.is_none()
        });
        all.sort_by_key(|(id, batch)| {
            let Planned { day, start_minute, .. } = &batch.planned;
            (day.get().copied(), start_minute.get().copied(), *id)
        });
        all
    }

    /// The batches that were made, latest first.
    pub fn made(&self) -> Vec<(BatchId, &BatchMade)> {
        let all = self.kitchen.batches.iter();
        let mut made: Vec<_> =
            all.filter_map(|(id, batch)| Some((*id, batch.counted()?))).collect();
        made.sort_by_key(|(id, made)| (std::cmp::Reverse(made.at), *id));
        made
    }

    /// Folds a made batch: its takings are entered under names derived from it, unless it was
    /// struck already.
    pub(super) fn make_batch(&mut self, fact: BatchMade, stamp: Stamp) -> Result<(), Reason> {
        let nothing = fact.used.iter().any(|part| part.grams.0 <= 0)
            || fact.out.iter().any(|out| out.count <= 0);
        if nothing {
            return Err(Reason::NotPositive);
        }
        let batch = self.kitchen.batches.entry(fact.batch).or_default();
        if batch.made.is_some() {
            return Err(Reason::NameTaken);
        }
        let taken: Vec<_> =
            if batch.struck.is_none() { takings(&fact).collect() } else { Vec::new() };
        batch.made = Some(Signed { stamp, fact });
        for fact in taken {
            once(&mut self.takings, fact.taking, Signed { stamp, fact })?;
        }
        Ok(())
    }

    /// Folds a strike: of two the earlier stays, and the takings go.
    pub(super) fn strike_batch(&mut self, fact: BatchStruck, stamp: Stamp) {
        let batch = self.kitchen.batches.entry(fact.batch).or_default();
        if let Some(made) = &batch.made {
            for taken in takings(&made.fact) {
                self.takings.remove(&taken.taking);
            }
        }
        if batch.struck.as_ref().is_none_or(|struck| stamp < struck.stamp) {
            batch.struck = Some(Signed { stamp, fact });
        }
    }
}

/// Whether a yes-or-no field says yes.
pub fn is(field: &Field<bool>) -> bool {
    field.get().copied().unwrap_or(false)
}

/// What a batch takes out of its lots.
fn takings(made: &BatchMade) -> impl Iterator<Item = LotUsed> {
    (0u32..).zip(&made.used).map(|(n, part)| LotUsed {
        taking: taking_id(made.batch, n),
        lot: part.lot,
        grams: part.grams,
        what: made.what.clone(),
        at: made.at,
    })
}

/// The name of the `n`th taking of a batch: the first 16 bytes of a SHA-256, marked as UUIDv8
/// (RFC 9562 §5.8), so that every phone calls it alike.
fn taking_id(batch: BatchId, n: u32) -> UseId {
    let mut sha = Sha256::new();
    sha.update(b"batch-made");
    sha.update(batch.0);
    sha.update(n.to_be_bytes());
    let mut bytes = [0; 16];
    bytes.copy_from_slice(&sha.finalize()[..16]);
    UseId(Builder::from_custom_bytes(bytes).into_uuid())
}
