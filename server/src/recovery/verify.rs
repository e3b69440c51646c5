//! Reading a log back: is every row what it was when it was admitted?

use std::collections::BTreeMap;

use rusqlite::Connection;
use shared_types::entry::{DeviceSeq, Digest, Hash, Seq};
use shared_types::ids::DeviceId;
use thiserror::Error;

use crate::store::log;

/// What a log that can be trusted holds.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Verified {
    /// Entries, and the last row of the log: they are dense.
    pub entries: Seq,
    /// Devices that wrote some.
    pub devices: usize,
    /// The digest of the whole.
    pub digest: Digest,
}

/// The first thing found wrong with a log.
#[derive(Clone, Debug, PartialEq, Eq, Error)]
pub enum Broken {
    /// SQLite's own check.
    #[error("the database file is damaged ({0})")]
    Database(String),
    /// A row is missing.
    #[error("row {expected} of the log is missing")]
    Hole {
        /// Which row.
        expected: Seq,
    },
    /// A device's entries are not dense.
    #[error("entry {expected} of device {device} is missing before row {seq}")]
    DeviceHole {
        /// Whose.
        device: DeviceId,
        /// Which of its entries.
        expected: DeviceSeq,
        /// Where it was noticed.
        seq: Seq,
    },
    /// A row's content is not what was admitted.
    #[error("row {seq} of the log was changed after it was admitted")]
    Hash {
        /// Which row.
        seq: Seq,
    },
    /// The running digest does not follow from the rows.
    #[error("the digest at row {seq} does not follow from the rows before it")]
    Digest {
        /// Which row.
        seq: Seq,
    },
}

/// Reads the whole log and makes every hash and the running digest anew. `conn` should be inside
/// a transaction when others write.
///
/// # Errors
/// A failure of the database; the inner one is the first thing found wrong.
pub fn verify(conn: &Connection) -> rusqlite::Result<Result<Verified, Broken>> {
    let said: String = conn.query_row("pragma integrity_check(1)", [], |row| row.get(0))?;
    if said != "ok" {
        return Ok(Err(Broken::Database(said)));
    }
    let stored = stored(conn)?;
    let mut verified = Verified::default();
    let mut last: BTreeMap<DeviceId, DeviceSeq> = BTreeMap::new();
    let mut broken = None;
    log::after(conn, 0, |row| {
        broken = look(&row, &stored, &mut verified, &mut last).err();
        Ok::<_, rusqlite::Error>(broken.is_none())
    })?;
    verified.devices = last.len();
    Ok(broken.map_or(Ok(verified), Err))
}

/// Each row's hash and digest as stored, in order.
fn stored(conn: &Connection) -> rusqlite::Result<Vec<(Seq, Hash, Digest)>> {
    conn.prepare("select seq, hash, digest from log order by seq")?
        .query_map([], |row| Ok((row.get(0)?, Hash(row.get(1)?), Digest(row.get(2)?))))?
        .collect()
}

fn look(
    row: &log::LogRow<'_>,
    stored: &[(Seq, Hash, Digest)],
    verified: &mut Verified,
    last: &mut BTreeMap<DeviceId, DeviceSeq>,
) -> Result<(), Broken> {
    let seq = row.seq;
    if seq != verified.entries + 1 {
        return Err(Broken::Hole { expected: verified.entries + 1 });
    }
    let of_device = last.entry(row.device).or_default();
    if row.device_seq != *of_device + 1 {
        let (device, expected) = (row.device, *of_device + 1);
        return Err(Broken::DeviceHole { device, expected, seq });
    }
    *of_device = row.device_seq;
    let hash = row.to_entry().map_err(|_| Broken::Hash { seq })?.hash();
    let (_, stored_hash, stored_digest) =
        usize::try_from(seq - 1).ok().and_then(|at| stored.get(at)).ok_or(Broken::Hash { seq })?;
    if *stored_hash != hash {
        return Err(Broken::Hash { seq });
    }
    verified.digest = verified.digest.then(hash);
    if *stored_digest != verified.digest {
        return Err(Broken::Digest { seq });
    }
    verified.entries = seq;
    Ok(())
}
