//! Table `calendar_links`: secrets under which the calendar feed is read.

use rusqlite::{Connection, params};
use shared_types::ids::PersonId;
use shared_types::units::Millis;

/// Most links that hold at once: one for each phone of a large household.
pub const MOST: usize = 64;

/// A link as the table holds it.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct LinkRow {
    /// What it is revoked by.
    pub id: [u8; 8],
    /// SHA-256 of the secret.
    pub secret_hash: [u8; 32],
    /// Whose device made it.
    pub person: PersonId,
    /// When it was made.
    pub created: Millis,
    /// When it was last read.
    pub read: Option<Millis>,
}

/// Keeps a new link.
pub fn put(conn: &Connection, link: &LinkRow) -> rusqlite::Result<()> {
    conn.execute(
        "insert into calendar_links (id, secret_hash, person, created, read)
         values (?1, ?2, ?3, ?4, ?5)",
        params![
            link.id,
            link.secret_hash,
            link.person.0.as_bytes(),
            link.created.0,
            link.read.map(|at| at.0)
        ],
    )?;
    Ok(())
}

/// A link: its id, when it was made, and when it was last read.
pub type MadeLink = ([u8; 8], Millis, Option<Millis>);

/// All links, oldest first.
pub fn all(conn: &Connection) -> rusqlite::Result<Vec<MadeLink>> {
    conn.prepare_cached("select id, created, read from calendar_links order by created, id")?
        .query_map([], |row| {
            Ok((row.get(0)?, Millis(row.get(1)?), row.get::<_, Option<i64>>(2)?.map(Millis)))
        })?
        .collect()
}

/// Notes that the link of a secret was read; whether there is one.
pub fn mark_read(conn: &Connection, secret_hash: &[u8; 32], now: Millis) -> rusqlite::Result<bool> {
    let changed = conn
        .prepare_cached("update calendar_links set read = ?2 where secret_hash = ?1")?
        .execute(params![secret_hash, now.0])?;
    Ok(changed > 0)
}

/// Removes a link; whether there was one.
pub fn remove(conn: &Connection, id: &[u8; 8]) -> rusqlite::Result<bool> {
    Ok(conn.execute("delete from calendar_links where id = ?1", params![id])? > 0)
}
