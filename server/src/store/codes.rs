//! Table `codes`: what lets devices in.

use rusqlite::{Connection, OptionalExtension as _, params};
use shared_types::units::Millis;
use shared_types::wire::Role;

use super::devices::RoleColumn;

/// A code as the table holds it.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct CodeRow {
    /// SHA-256 of its bytes.
    pub code_hash: [u8; 32],
    /// Until when it can be used.
    pub until: Millis,
    /// How many devices may still come in with it.
    pub uses_left: u32,
    /// What they may do once in.
    pub role: Role,
    /// When it was made.
    pub created: Millis,
}

/// Keeps a new code, and drops those past their time.
pub fn put(conn: &Connection, code: &CodeRow) -> rusqlite::Result<()> {
    conn.execute("delete from codes where until < ?1", [code.created.0])?;
    conn.execute(
        "insert into codes (code_hash, until, uses_left, role, created)
         values (?1, ?2, ?3, ?4, ?5)",
        params![
            code.code_hash,
            code.until.0,
            code.uses_left,
            RoleColumn(code.role),
            code.created.0
        ],
    )?;
    Ok(())
}

/// Takes one use of a code. `None` when there is no such code, or not any more.
pub fn take(
    conn: &Connection,
    code_hash: &[u8; 32],
    now: Millis,
) -> rusqlite::Result<Option<CodeRow>> {
    conn.prepare_cached(
        "update codes set uses_left = uses_left - 1
         where code_hash = ?1 and until >= ?2 and uses_left > 0
         returning code_hash, until, uses_left, role, created",
    )?
    .query_row(params![code_hash, now.0], |row| {
        Ok(CodeRow {
            code_hash: row.get(0)?,
            until: Millis(row.get(1)?),
            uses_left: row.get(2)?,
            role: row.get::<_, RoleColumn>(3)?.0,
            created: Millis(row.get(4)?),
        })
    })
    .optional()
}
