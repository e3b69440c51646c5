//! The whole log as JSON Lines: one entry a line, in the server's order, as phones send it.
//!
//! A backup is a database and serves this program; this is text, and serves any. Reading it back
//! into an empty folder gives an equal book. The devices' tokens are not in it: every phone joins
//! again, under the id it has, and goes on counting where it stopped.

use std::io::{BufRead, Write};

use rusqlite::Connection;
use shared_types::entry::{Entry, Seq};
use shared_types::units::Millis;
use shared_types::wire::limits::{BATCH_MAX_ENTRIES, ENTRY_ENVELOPE_BYTES, ENTRY_MAX_BYTES};
use thiserror::Error;

use crate::error::Error;
use crate::exchange::admit;
use crate::store::log;

#[cfg(test)]
mod tests;

/// Bytes one line may hold; a longer one is no entry.
const LINE_MAX_BYTES: usize = 2 * (ENTRY_MAX_BYTES + ENTRY_ENVELOPE_BYTES);

/// Why the lines could not be written or read.
#[derive(Debug, Error)]
pub enum LinesError {
    /// The file failed.
    #[error(transparent)]
    File(#[from] std::io::Error),
    /// The database failed.
    #[error(transparent)]
    Database(#[from] rusqlite::Error),
    /// A line is no entry.
    #[error("line {line} is not an entry: {why}; nothing was taken from the file")]
    Line {
        /// Which, from 1.
        line: usize,
        /// What is wrong.
        why: String,
    },
    /// The log does not take an entry.
    #[error(
        "line {line} does not fit the log that is here: {why}; nothing was taken from the file"
    )]
    Refused {
        /// The first line of the run that was refused, from 1.
        line: usize,
        /// Why.
        why: Error,
    },
}

/// What was read back.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Taken {
    /// Lines that held an entry.
    pub lines: usize,
    /// Of them, how many were new here.
    pub new: usize,
}

/// Writes the whole log; says how many entries it holds.
///
/// # Errors
/// A failure of the database or of `to`.
pub fn write(conn: &Connection, to: &mut impl Write) -> Result<Seq, LinesError> {
    let mut last = 0;
    log::after(conn, 0, |row| -> Result<bool, LinesError> {
        let entry = serde_json::to_string(&row.to_entry()?).map_err(std::io::Error::from)?;
        writeln!(to, "{entry}")?;
        last = row.seq;
        Ok(true)
    })?;
    to.flush()?;
    Ok(last)
}

/// Reads lines into the log, in their order. Entries that are there already are passed over. Runs
/// inside a transaction of the caller's, which must not be committed after an error.
///
/// # Errors
/// The first line that is no entry or that the log does not take.
pub fn read(tx: &Connection, from: impl BufRead, now: Millis) -> Result<Taken, LinesError> {
    let mut taken = Taken::default();
    let mut run: Vec<Entry> = Vec::new();
    let mut begins = 1;
    for (line, text) in (1..).zip(from.lines()) {
        let text = text?;
        if text.trim().is_empty() {
            continue;
        }
        let entry = entry(&text).map_err(|why| LinesError::Line { line, why })?;
        taken.lines += 1;
        let other = run.first().is_some_and(|first| first.device != entry.device);
        // A tenth of what one batch may hold, so that its bytes fit as well.
        if other || run.len() >= BATCH_MAX_ENTRIES / 10 {
            taken.new += admit_run(tx, &mut run, begins, now)?;
        }
        if run.is_empty() {
            begins = line;
        }
        run.push(entry);
    }
    taken.new += admit_run(tx, &mut run, begins, now)?;
    Ok(taken)
}

fn entry(text: &str) -> Result<Entry, String> {
    if text.len() > LINE_MAX_BYTES {
        return Err(format!("it is {} bytes long", text.len()));
    }
    serde_json::from_str(text).map_err(|error| error.to_string())
}

fn admit_run(
    tx: &Connection,
    run: &mut Vec<Entry>,
    line: usize,
    now: Millis,
) -> Result<usize, LinesError> {
    let Some(device) = run.first().map(|entry| entry.device) else { return Ok(0) };
    let admitted = admit(tx, device, run, now).map_err(|why| LinesError::Refused { line, why })?;
    run.clear();
    Ok(admitted.new)
}
