//! A disk in memory: what a shell's disk must do, in the fewest lines.
//!
//! The simulation, the benchmarks and the engine's own tests keep their phones on it. The browser's
//! shell does the same in one IndexedDB transaction.

use std::collections::BTreeMap;

use super::storage::{Checkpoint, Meta, Stored, Transaction, read_from};
use crate::book::FOLD_VERSION;
use crate::entry::{DeviceSeq, Entry, Seq};
use crate::wire::LogRow;

/// A disk in memory.
#[derive(Clone, Debug, Default)]
pub struct MemoryDisk {
    meta: Option<Meta>,
    own: BTreeMap<DeviceSeq, Entry>,
    former: Vec<Entry>,
    rows: BTreeMap<Seq, LogRow>,
    checkpoint: Option<Checkpoint>,
}

impl MemoryDisk {
    /// Everything on it, rows from [`read_from`] on.
    pub fn load(&self) -> Stored {
        self.load_for(FOLD_VERSION)
    }

    /// As [`MemoryDisk::load`], for a program of this fold.
    pub fn load_for(&self, fold_version: u32) -> Stored {
        let first_row = self.rows.keys().next().copied();
        let from = read_from(self.checkpoint.as_ref(), first_row, fold_version);
        Stored {
            meta: self.meta.clone(),
            own: self.own.values().cloned().collect(),
            former: self.former.clone(),
            checkpoint: self.checkpoint.clone(),
            rows: self.rows.range(from..).map(|(_, row)| row.clone()).collect(),
        }
    }

    /// Writes all of it and says so, or nothing when it was made from another generation.
    pub fn write(&mut self, transaction: &Transaction) -> bool {
        if self.meta.as_ref().map_or(0, |meta| meta.generation) != transaction.expects {
            return false;
        }
        if transaction.forget_own {
            self.own.clear();
        }
        if transaction.forget_log {
            self.rows.clear();
            self.checkpoint = None;
        }
        self.own.extend(transaction.own.iter().map(|e| (e.device_seq, e.clone())));
        if let Some(former) = &transaction.former {
            self.former.clone_from(former);
        }
        self.rows.extend(transaction.rows.iter().map(|row| (row.seq, row.clone())));
        self.checkpoint = transaction.checkpoint.clone().or_else(|| self.checkpoint.take());
        self.meta = Some(transaction.meta.clone());
        true
    }
}
