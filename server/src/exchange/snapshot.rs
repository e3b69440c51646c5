//! The log folded up to its end, for a phone that has been away too long to read it row by row.

use std::collections::BTreeMap;
use std::mem;
use std::sync::{Mutex, PoisonError};

use rusqlite::Connection;
use serde::Serialize;
use shared_types::book::{Book, FOLD_VERSION};
use shared_types::entry::{DeviceSeq, Digest, Seq};
use shared_types::ids::{DeviceId, EpochId};

use crate::error::Error;
use crate::store::{log, meta};

/// A book, and how far into the log it goes.
#[derive(Clone, Debug, Default)]
pub struct Folded {
    /// The last row folded, 0 for none.
    pub seq: Seq,
    /// The digest of the log up to and with it.
    pub digest: Digest,
    /// The book.
    pub book: Book,
}

impl Folded {
    /// Folds what the log holds beyond this book. `conn` should be inside a transaction.
    ///
    /// # Errors
    /// A failure of the database. The book is then folded part of the way, and still right.
    pub fn catch_up(&mut self, conn: &Connection) -> Result<(), Error> {
        let from = self.seq;
        log::after(conn, from, |row| {
            let entry = row.to_entry()?;
            self.book.fold(&entry);
            self.digest = self.digest.then(entry.hash());
            self.seq = row.seq;
            Ok::<_, Error>(true)
        })
    }
}

/// The last book folded, kept in memory so that the next one only folds what came since.
#[derive(Debug, Default)]
pub struct Shelf {
    last: Mutex<Folded>,
}

impl Shelf {
    /// Calls `with` on the book of the whole log. One caller at a time: a reading transaction
    /// begins with its first read, so as long as that is here, no book is ahead of its connection.
    ///
    /// # Errors
    /// A failure of the database, or what `with` fails with.
    pub fn read<T>(
        &self,
        conn: &Connection,
        with: impl FnOnce(&Folded) -> Result<T, Error>,
    ) -> Result<T, Error> {
        let mut last = self.last.lock().unwrap_or_else(PoisonError::into_inner);
        // Taken off the shelf: should the fold panic, a half-folded book is not put back.
        let mut folded = mem::take(&mut *last);
        let caught_up = folded.catch_up(conn);
        let last = &mut *last;
        *last = folded;
        caught_up.and_then(|()| with(last))
    }
}

/// Writes a [`Snapshot`](shared_types::wire::Snapshot) of `folded` for `device`, without a second
/// copy of the book. `conn` should be inside the transaction that `folded` was caught up in.
///
/// # Errors
/// A failure of the database.
pub fn snapshot(conn: &Connection, folded: &Folded, device: DeviceId) -> Result<Vec<u8>, Error> {
    let snapshot = SnapshotOf {
        epoch: meta::epoch(conn)?,
        seq: folded.seq,
        fold_version: FOLD_VERSION,
        digest: folded.digest,
        own: log::stored_through(conn, device)?,
        devices: log::stored_by_device(conn)?,
        state: &folded.book,
    };
    Ok(serde_json::to_vec(&snapshot).expect("a book is written as JSON"))
}

/// `Snapshot` with the book itself in the place of its JSON.
#[derive(Serialize)]
struct SnapshotOf<'a> {
    epoch: EpochId,
    seq: Seq,
    fold_version: u32,
    digest: Digest,
    own: DeviceSeq,
    devices: BTreeMap<DeviceId, DeviceSeq>,
    state: &'a Book,
}

#[cfg(test)]
mod tests {
    use serde_json::value::RawValue;
    use shared_types::entry::{Entry, EntryId, Fact, PersonSet};
    use shared_types::hlc::Hlc;
    use shared_types::ids::PersonId;
    use shared_types::units::Millis;
    use shared_types::wire::Snapshot;

    use super::*;
    use crate::exchange::admit;
    use crate::store::open_in_memory;

    const NOW: Millis = Millis(1_800_000_000_000);

    fn device() -> DeviceId {
        DeviceId::new(NOW, [1; 10])
    }

    /// A fact, an entry of a newer program and one that makes no sense, in turn.
    fn entry(device_seq: DeviceSeq) -> Entry {
        let person = PersonId::new(NOW, [2; 10]);
        let fact = Fact::from(PersonSet { person, name: format!("Ida {device_seq}") });
        let id = EntryId { device: device(), device_seq };
        let entry = Entry::new(id, Hlc(NOW.plus(device_seq as i64), 0), &fact).unwrap();
        let nonsense = RawValue::from_string("{ \"a\" : 1.0 }".into()).unwrap();
        match device_seq % 3 {
            0 => Entry { kind: "of-tomorrow".into(), payload: nonsense, ..entry },
            1 => entry,
            _ => Entry { payload: nonsense, ..entry },
        }
    }

    #[test]
    fn a_snapshot_is_the_fold_of_the_log_and_grows_with_it() {
        let conn = open_in_memory(EpochId::new(NOW, [9; 10])).unwrap();
        let shelf = Shelf::default();
        let mut whole = Book::default();
        for from in [1, 5, 9] {
            let entries: Vec<_> = (from..from + 4).map(entry).collect();
            let admitted = admit(&conn, device(), &entries, NOW).unwrap();
            for entry in &entries {
                whole.fold(entry);
            }
            let read = shelf.read(&conn, |folded| {
                assert_eq!(folded.book, whole);
                snapshot(&conn, folded, device())
            });
            let read: Snapshot = serde_json::from_slice(&read.unwrap()).unwrap();
            assert_eq!((read.seq, read.own), (admitted.latest, admitted.acked));
            assert_eq!(read.devices, [(device(), admitted.acked)].into());
            assert_eq!(read.digest, log::digest_at(&conn, read.seq).unwrap());
            assert_eq!(read.epoch, meta::epoch(&conn).unwrap());
            assert_eq!(read.fold_version, FOLD_VERSION);
            let state: Book = serde_json::from_str(read.state.get()).unwrap();
            assert_eq!(state, whole);
        }
        let other = DeviceId::new(NOW, [3; 10]);
        let theirs = shelf.read(&conn, |folded| snapshot(&conn, folded, other)).unwrap();
        assert_eq!(serde_json::from_slice::<Snapshot>(&theirs).unwrap().own, 0);
    }
}
