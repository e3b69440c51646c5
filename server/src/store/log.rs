//! Table `log`: every entry once, in the server's order.

use std::collections::BTreeMap;

use rusqlite::types::Type;
use rusqlite::{Connection, OptionalExtension as _, Row, params};
use serde_json::value::RawValue;
use shared_types::entry::{DeviceSeq, Digest, Entry, Hash, Seq};
use shared_types::hlc::Hlc;
use shared_types::ids::DeviceId;
use shared_types::units::Millis;
use uuid::Uuid;

/// Where the log ends.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct End {
    /// The last row, 0 for none.
    pub seq: Seq,
    /// The digest up to and with it.
    pub digest: Digest,
    /// When it was admitted, by the server's clock.
    pub received: Millis,
}

/// A row as it stands in the table, borrowed from the database: nothing is parsed again.
#[derive(Clone, Copy, Debug)]
pub struct LogRow<'a> {
    /// Its place in the server's order.
    pub seq: Seq,
    /// The device that wrote it.
    pub device: DeviceId,
    /// Its place among that device's entries.
    pub device_seq: DeviceSeq,
    /// The writer's clock.
    pub hlc: Hlc,
    /// What kind of fact.
    pub kind: &'a str,
    /// The version of its payload.
    pub kind_version: u16,
    /// The fact's JSON.
    pub payload: &'a str,
}

impl<'a> LogRow<'a> {
    fn read(row: &'a Row<'_>) -> rusqlite::Result<Self> {
        Ok(Self {
            seq: row.get(0)?,
            device: DeviceId(Uuid::from_bytes(row.get(1)?)),
            device_seq: row.get(2)?,
            hlc: Hlc(Millis(row.get(3)?), row.get(4)?),
            kind: row.get_ref(5)?.as_str()?,
            kind_version: row.get(6)?,
            payload: row.get_ref(7)?.as_str()?,
        })
    }

    /// The entry that stands here.
    ///
    /// # Errors
    /// When the payload is no longer the JSON it was when it was admitted: the file was damaged.
    pub fn to_entry(&self) -> rusqlite::Result<Entry> {
        let payload = RawValue::from_string(self.payload.to_owned()).map_err(|error| {
            rusqlite::Error::FromSqlConversionFailure(7, Type::Text, Box::new(error))
        })?;
        Ok(Entry {
            device: self.device,
            device_seq: self.device_seq,
            hlc: self.hlc,
            kind: self.kind.to_owned(),
            kind_version: self.kind_version,
            payload,
        })
    }
}

/// Where the log ends now.
pub fn end(conn: &Connection) -> rusqlite::Result<End> {
    let end = conn
        .prepare_cached("select seq, digest, received from log order by seq desc limit 1")?
        .query_row([], |row| {
            Ok(End { seq: row.get(0)?, digest: Digest(row.get(1)?), received: Millis(row.get(2)?) })
        })
        .optional()?;
    Ok(end.unwrap_or_default())
}

/// The digest of the log up to and with `seq`.
pub fn digest_at(conn: &Connection, seq: Seq) -> rusqlite::Result<Digest> {
    if seq == 0 {
        return Ok(Digest::default());
    }
    conn.prepare_cached("select digest from log where seq = ?1")?
        .query_row([seq], |row| row.get(0).map(Digest))
}

/// The last entry held of a device, by its own order; its entries are dense up to this one.
pub fn stored_through(conn: &Connection, device: DeviceId) -> rusqlite::Result<DeviceSeq> {
    conn.prepare_cached("select coalesce(max(device_seq), 0) from log where device = ?1")?
        .query_row([device.0.as_bytes()], |row| row.get(0))
}

/// The last entry held of every device; see [`stored_through`].
pub fn stored_by_device(conn: &Connection) -> rusqlite::Result<BTreeMap<DeviceId, DeviceSeq>> {
    conn.prepare_cached("select device, max(device_seq) from log group by device")?
        .query_map([], |row| Ok((DeviceId(Uuid::from_bytes(row.get(0)?)), row.get(1)?)))?
        .collect()
}

/// The content hash of one entry held of a device.
pub fn hash_of(
    conn: &Connection,
    device: DeviceId,
    device_seq: DeviceSeq,
) -> rusqlite::Result<Hash> {
    conn.prepare_cached("select hash from log where device = ?1 and device_seq = ?2")?
        .query_row(params![device.0.as_bytes(), device_seq], |row| row.get(0).map(Hash))
}

/// Adds `entry` after `end` and returns the new end.
pub fn append(
    conn: &Connection,
    end: End,
    entry: &Entry,
    hash: Hash,
    received: Millis,
) -> rusqlite::Result<End> {
    let next = End { seq: end.seq + 1, digest: end.digest.then(hash), received };
    conn.prepare_cached(
        "insert into log (seq, device, device_seq, wall, count, kind, kind_version, payload,
                          hash, digest, received)
         values (?1, ?2, ?3, ?4, ?5, ?6, ?7, ?8, ?9, ?10, ?11)",
    )?
    .execute(params![
        next.seq,
        entry.device.0.as_bytes(),
        entry.device_seq,
        entry.hlc.0.0,
        entry.hlc.1,
        entry.kind,
        entry.kind_version,
        entry.payload.get(),
        hash.0,
        next.digest.0,
        received.0,
    ])?;
    Ok(next)
}

/// Reads the log after `cursor` in order, row by row, until `each` says that it has enough.
pub fn after<E: From<rusqlite::Error>>(
    conn: &Connection,
    cursor: Seq,
    mut each: impl FnMut(LogRow<'_>) -> Result<bool, E>,
) -> Result<(), E> {
    let mut statement = conn.prepare_cached(
        "select seq, device, device_seq, wall, count, kind, kind_version, payload
         from log where seq > ?1 order by seq",
    )?;
    let mut rows = statement.query([cursor])?;
    while let Some(row) = rows.next()? {
        if !each(LogRow::read(row)?)? {
            break;
        }
    }
    Ok(())
}
