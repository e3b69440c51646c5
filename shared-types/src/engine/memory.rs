//! A disk in memory: what a shell's disk must do, in the fewest lines.
//!
//! The simulation, the benchmarks and the engine's own tests keep their phones on it. The browser's
//! shell does the same in one IndexedDB transaction.

use std::collections::BTreeMap;

use super::storage::{Checkpoint, Meta, Stored, Transaction, read_from};
use crate::entry::{DeviceSeq, Entry, Seq};
use crate::wire::LogRow;

/// A disk in memory.
#[derive(Clone, Debug, Default)]
pub struct MemoryDisk {
    meta: Option<Meta>,
    own: BTreeMap<DeviceSeq, Entry>,
    rows: BTreeMap<Seq, LogRow>,
    checkpoint: Option<Checkpoint>,
}

impl MemoryDisk {
    /// Everything on it, rows from [`read_from`] on.
    pub fn load(&self) -> Stored {
        let first_row = self.rows.keys().next().copied();
        let from = read_from(self.checkpoint.as_ref(), first_row);
        Stored {
            meta: self.meta.clone(),
            own: self.own.values().cloned().collect(),
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
        self.rows.extend(transaction.rows.iter().map(|row| (row.seq, row.clone())));
        self.checkpoint = transaction.checkpoint.clone().or_else(|| self.checkpoint.take());
        self.meta = Some(transaction.meta.clone());
        true
    }
}
