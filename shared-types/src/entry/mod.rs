//! Entries: the immutable facts of which everything else is a fold.
//!
//! An [`Entry`] is fixed, bytes and clock and place in its device's order, at the moment a person
//! keeps it. It is never changed or deleted: a correction or a strike is another entry. What an
//! entry says is a [`Fact`]; inside the entry it travels as the exact bytes it was first written
//! in, so that a device which does not know a field or a kind still passes it on unharmed, and the
//! content hash means the same everywhere.
//!
//! Payloads hold integers only (grams, thousandths of a degree, milliseconds, counts), days as
//! `2026-10-09`, and words of the trade's tables. There are no floating-point numbers in the log.

mod fact;
mod facts;
mod hash;

use serde::{Deserialize, Serialize};
use serde_json::value::RawValue;
use thiserror::Error;

use crate::hlc::{Hlc, Stamp};
use crate::ids::DeviceId;
use crate::wire::limits::ENTRY_MAX_BYTES;

pub use fact::{Decoded, Fact};
pub use facts::*;
pub use hash::{Digest, Hash};

/// An entry's place in its device's own order: dense from 1.
pub type DeviceSeq = u64;

/// An entry's place in the server's order: dense from 1.
pub type Seq = u64;

/// Names an entry: which device wrote it, and as its how-manyeth.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
pub struct EntryId {
    /// The device that wrote it.
    pub device: DeviceId,
    /// Its place among that device's entries, from 1.
    pub device_seq: DeviceSeq,
}

/// One immutable fact as it is stored and sent.
///
/// The format is frozen: field order, names and the payload's bytes enter the content hash, and
/// `tests/golden` holds vectors of it. A change here would make every phone's outbox look forged.
#[derive(Clone, Debug, Serialize, Deserialize)]
pub struct Entry {
    /// The device that wrote it.
    pub device: DeviceId,
    /// Its place among that device's entries, from 1.
    pub device_seq: DeviceSeq,
    /// The writer's clock at the moment it was kept.
    pub hlc: Hlc,
    /// What kind of fact, such as `bin-kept`.
    pub kind: String,
    /// The version of that kind's payload.
    pub kind_version: u16,
    /// The fact itself, a JSON object, byte for byte as first written.
    pub payload: Box<RawValue>,
}

impl Entry {
    /// Writes `fact` as the entry `id` at `hlc`.
    pub fn new(id: EntryId, hlc: Hlc, fact: &Fact) -> Result<Self, EntryTooLarge> {
        let entry = Self {
            device: id.device,
            device_seq: id.device_seq,
            hlc,
            kind: fact.kind().to_owned(),
            kind_version: fact.version(),
            payload: fact.encode(),
        };
        match entry.size() {
            size if size > ENTRY_MAX_BYTES => Err(EntryTooLarge { size }),
            _ => Ok(entry),
        }
    }

    /// Its name.
    pub const fn id(&self) -> EntryId {
        EntryId { device: self.device, device_seq: self.device_seq }
    }

    /// Its stamp, for the fields it writes.
    pub const fn stamp(&self) -> Stamp {
        Stamp { hlc: self.hlc, device: self.device }
    }

    /// What it says, as far as this program knows its kind.
    pub fn decode(&self) -> Decoded {
        Fact::decode(&self.kind, self.kind_version, self.payload.get())
    }

    /// The bytes that count against [`ENTRY_MAX_BYTES`]: kind and payload.
    pub fn size(&self) -> usize {
        self.kind.len() + self.payload.get().len()
    }

    /// The same fact under another name and clock: for a device that had to take a new id, or
    /// whose clock was refused. Only for entries no server has acknowledged.
    pub fn reissued(&self, id: EntryId, hlc: Hlc) -> Self {
        Self { device: id.device, device_seq: id.device_seq, hlc, ..self.clone() }
    }
}

impl PartialEq for Entry {
    fn eq(&self, other: &Self) -> bool {
        self.id() == other.id()
            && self.hlc == other.hlc
            && self.kind == other.kind
            && self.kind_version == other.kind_version
            && self.payload.get() == other.payload.get()
    }
}

impl Eq for Entry {}

/// An entry over the limit, refused where it is written so that it never enters an outbox.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Error)]
#[error(
    "this is {size} bytes, more than the {ENTRY_MAX_BYTES} one entry may hold: shorten the text"
)]
pub struct EntryTooLarge {
    /// What it came to.
    pub size: usize,
}
