//! Three phones' entries, written one after the other.

use std::collections::BTreeMap;

use shared_types::book::Book;
use shared_types::entry::{Entry, EntryId, Fact};
use shared_types::hlc::Hlc;
use shared_types::ids::{BinId, DeviceId, PersonId};
use shared_types::units::{DAY_MS, Day, HOUR_MS, MINUTE_MS, Millis};

/// Who writes: the index of a helper in [`super::holding::PEOPLE`].
pub(super) type Who = usize;

/// Writes entries, and folds them as it goes, so that later facts can name derived lots.
pub(super) struct Writer {
    pub(super) now: Millis,
    pub(super) today: Day,
    pub(super) entries: Vec<Entry>,
    pub(super) book: Book,
    written: BTreeMap<Who, (u64, Hlc)>,
    names: u32,
}

impl Writer {
    pub(super) fn new(now: Millis, today: Day) -> Self {
        Self {
            now,
            today,
            entries: Vec::new(),
            book: Book::default(),
            written: BTreeMap::new(),
            names: 0,
        }
    }

    /// A moment `days` days, and then `hours` and `minutes`, before now.
    pub(super) fn ago(&self, days: i64, hours: i64, minutes: i64) -> Millis {
        self.now.plus(-(days * DAY_MS + hours * HOUR_MS + minutes * MINUTE_MS))
    }

    /// Writes `fact` as `who`'s next entry, at `at` by that phone's clock.
    pub(super) fn write(&mut self, who: Who, at: Millis, fact: impl Into<Fact>) {
        let (device_seq, last) = self.written.get(&who).copied().unwrap_or_default();
        let next = Hlc(last.0, last.1 + 1);
        let (device_seq, hlc) = (device_seq + 1, Hlc(at, 0).max(next));
        self.written.insert(who, (device_seq, hlc));
        let id = EntryId { device: device(who), device_seq };
        let entry = Entry::new(id, hlc, &fact.into()).expect("the demo's facts are short");
        self.book.fold(&entry);
        self.entries.push(entry);
    }

    /// A name for a bin kept at `at`, another at each call.
    pub(super) fn bin(&mut self, at: Millis) -> BinId {
        self.names += 1;
        BinId::new(at, spread(self.names))
    }

    /// Ten bytes for the next other name.
    pub(super) fn random(&mut self) -> [u8; 10] {
        self.names += 1;
        spread(self.names)
    }
}

/// Ten bytes that differ for each `n`. Names of the demo need not be hard to guess.
pub(super) fn spread(n: u32) -> [u8; 10] {
    let mut bytes = [0xD0; 10];
    bytes[6..].copy_from_slice(&n.to_be_bytes());
    bytes
}

pub(super) fn device(who: Who) -> DeviceId {
    DeviceId::new(Millis(0), spread(who as u32 + 1))
}

pub(super) fn person(who: Who) -> PersonId {
    PersonId::new(Millis(0), spread(who as u32 + 1))
}
