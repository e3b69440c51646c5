//! What a device keeps on its disk, and how it changes.

use std::collections::BTreeMap;

use serde::{Deserialize, Serialize};
use serde_json::value::RawValue;

use super::Program;
use crate::book::Book;
use crate::entry::{DeviceSeq, Digest, Entry, Seq};
use crate::hlc::Clock;
use crate::ids::{DeviceId, EpochId};
use crate::wire::{Content, LogRow};

/// Rows between checkpoints: folding this many at start takes a phone a few milliseconds.
pub const CHECKPOINT_EVERY: usize = 500;

/// The few numbers that say where a device stands.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct Meta {
    /// Counts transactions, so that two tabs notice each other.
    pub generation: u64,
    /// This device.
    pub device: DeviceId,
    /// The log the cursor belongs to.
    pub epoch: Option<EpochId>,
    /// The last row read.
    pub cursor: Seq,
    /// The digest of the log up to the cursor.
    pub digest: Digest,
    /// Own entries up to this one are on the server's disk.
    pub acked: DeviceSeq,
    /// Own entries up to this one are in the confirmed book.
    pub placed: DeviceSeq,
    /// The clock's last stamp.
    pub clock: Clock,
    /// Of each id this device had before, how far the log up to the cursor holds its entries.
    #[serde(default, skip_serializing_if = "BTreeMap::is_empty")]
    pub former_held: BTreeMap<DeviceId, DeviceSeq>,
}

impl Meta {
    /// A device that has done nothing yet.
    pub fn new(device: DeviceId) -> Self {
        Self {
            generation: 0,
            device,
            epoch: None,
            cursor: 0,
            digest: Digest::default(),
            acked: 0,
            placed: 0,
            clock: Clock::default(),
            former_held: BTreeMap::new(),
        }
    }

    /// The same device before its first exchange: everything of its own is to be offered again.
    pub(super) fn before_exchange(&self) -> Self {
        Self { generation: self.generation, clock: self.clock, ..Self::new(self.device) }
    }
}

/// The confirmed book at a row, so that a start need not fold the whole log.
#[derive(Clone, Debug, Serialize, Deserialize)]
pub struct Checkpoint {
    /// Folded up to and with this row.
    pub seq: Seq,
    /// By this version of the fold.
    pub fold_version: u32,
    /// The book.
    pub state: Box<RawValue>,
}

impl Checkpoint {
    /// A checkpoint of `book`, folded by `fold_version`, at `seq`.
    pub fn of(book: &Book, seq: Seq, fold_version: u32) -> Self {
        let state = serde_json::value::to_raw_value(book)
            .expect("a book holds only strings, integers, lists and maps with text keys");
        Self { seq, fold_version, state }
    }
}

/// One change of the disk: all of it or nothing.
#[derive(Clone, Debug)]
pub struct Transaction {
    /// Its number, for the report.
    pub number: u64,
    /// The generation it was made from; 0 stands for an empty disk. Where another stands, nothing
    /// of this may be written.
    pub expects: u64,
    /// Drop every own entry first.
    pub forget_own: bool,
    /// Drop every row and the checkpoint first.
    pub forget_log: bool,
    /// Own entries to put, each under its `device_seq`.
    pub own: Vec<Entry>,
    /// What to put in the place of everything written under earlier ids; absent leaves it.
    pub former: Option<Vec<Entry>>,
    /// Rows to put, each under its `seq`.
    pub rows: Vec<LogRow>,
    /// The checkpoint to put.
    pub checkpoint: Option<Checkpoint>,
    /// The numbers to put.
    pub meta: Meta,
}

impl Transaction {
    /// A change of nothing but `meta`, to be filled in.
    pub(super) fn of(meta: Meta) -> Self {
        Self {
            number: 0,
            expects: 0,
            forget_own: false,
            forget_log: false,
            own: Vec::new(),
            former: None,
            rows: Vec::new(),
            checkpoint: None,
            meta,
        }
    }
}

/// Everything on the disk. The shell reads rows from [`read_from`] on.
#[derive(Clone, Debug, Default)]
pub struct Stored {
    /// The numbers; absent on an empty disk.
    pub meta: Option<Meta>,
    /// Own entries in order, all of them.
    pub own: Vec<Entry>,
    /// What was written under earlier ids, ordered by id.
    pub former: Vec<Entry>,
    /// The checkpoint, if any.
    pub checkpoint: Option<Checkpoint>,
    /// Rows in order, from [`read_from`] on.
    pub rows: Vec<LogRow>,
}

/// The first row to read at a start. After the checkpoint; but from the very first when the
/// checkpoint was folded by another program than `fold_version` and the whole log is at hand.
pub fn read_from(
    checkpoint: Option<&Checkpoint>,
    first_row: Option<Seq>,
    fold_version: u32,
) -> Seq {
    match checkpoint {
        Some(point) if point.fold_version == fold_version || first_row != Some(1) => point.seq + 1,
        _ => 1,
    }
}

/// What stood on the disk, folded.
pub(super) struct Unfolded {
    pub meta: Meta,
    pub own: Vec<Entry>,
    pub former: Vec<Entry>,
    pub confirmed: Book,
    /// Rows that came after the checkpoint.
    pub since_checkpoint: usize,
}

impl Stored {
    /// Folds it as `program` does.
    pub(super) fn unfold(self, device: DeviceId, program: Program) -> Unfolded {
        let mut meta = self.meta.unwrap_or_else(|| Meta::new(device));
        // A disk that lost entries must not claim them; the server then says that it knows more.
        let held = self.own.len() as DeviceSeq;
        meta.acked = meta.acked.min(held);
        meta.placed = meta.placed.min(held);
        let starts_at = self.rows.first().map_or(meta.cursor + 1, |row| row.seq);
        let mut book = match &self.checkpoint {
            Some(point) if starts_at > 1 => {
                // A state this program wrote, or that an earlier one did: fields are only ever added.
                let mut book: Book = serde_json::from_str(point.state.get()).unwrap_or_default();
                if point.fold_version != program.fold_version {
                    program.upgrade(&mut book);
                }
                book
            }
            _ => Book::default(),
        };
        let entries = self.rows.iter().filter_map(|row| match &row.content {
            Content::Entry(entry) => Some(entry),
            Content::Own(n) => {
                usize::try_from(*n).ok().and_then(|n| self.own.get(n.checked_sub(1)?))
            }
        });
        program.fold(&mut book, entries);
        let since_checkpoint = self.rows.len();
        Unfolded { meta, own: self.own, former: self.former, confirmed: book, since_checkpoint }
    }
}
