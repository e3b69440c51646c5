//! Table `meta`: what identifies the log.

use rusqlite::{Connection, params};
use shared_types::entry::Seq;
use shared_types::ids::EpochId;
use uuid::Uuid;

/// Writes the identity of a new log.
pub(super) fn begin(conn: &Connection, epoch: EpochId) -> rusqlite::Result<()> {
    conn.execute(
        "insert into meta (name, value) values ('epoch', ?1), ('oldest', 1)",
        [epoch.0.as_bytes()],
    )?;
    Ok(())
}

/// The identity of the log.
pub fn epoch(conn: &Connection) -> rusqlite::Result<EpochId> {
    let bytes = conn
        .prepare_cached("select value from meta where name = 'epoch'")?
        .query_row([], |row| row.get(0))?;
    Ok(EpochId(Uuid::from_bytes(bytes)))
}

/// Makes this another log than the one it was copied from.
pub(super) fn renew_epoch(conn: &Connection, epoch: EpochId) -> rusqlite::Result<()> {
    conn.execute("update meta set value = ?1 where name = 'epoch'", [epoch.0.as_bytes()])?;
    Ok(())
}

/// The first row still sent row by row, from 1.
pub fn oldest(conn: &Connection) -> rusqlite::Result<Seq> {
    conn.prepare_cached("select value from meta where name = 'oldest'")?
        .query_row([], |row| row.get(0))
}

/// Sends the log row by row only from `oldest` on; a phone that has read less takes the snapshot.
/// The rows themselves stay: a season of them is a few MB, and the snapshot is folded from them.
pub fn keep_from(conn: &Connection, oldest: Seq) -> rusqlite::Result<()> {
    conn.execute("update meta set value = ?1 where name = 'oldest'", params![oldest])?;
    Ok(())
}
