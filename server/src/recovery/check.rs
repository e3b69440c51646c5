//! Everything there is to say about the health of a data folder, in words.

use rusqlite::Connection;
use serde::Serialize;
use shared_types::book::Book;
use shared_types::units::Grams;

use super::verify::{Verified, verify};
use crate::error::Error;
use crate::exchange::Shelf;

/// What [`check`] found.
#[derive(Clone, Debug, Serialize)]
pub struct Health {
    /// Entries in the log.
    pub entries: u64,
    /// Devices that wrote them.
    pub devices: usize,
    /// The digest of the log, in hexadecimal: two folders with the same one hold the same log.
    pub digest: String,
    /// What must not be. Any of these means that a backup should be restored.
    pub problems: Vec<String>,
    /// What may be and is worth a look.
    pub notes: Vec<String>,
}

impl Health {
    /// Whether nothing is wrong.
    pub fn is_sound(&self) -> bool {
        self.problems.is_empty()
    }
}

/// Reads the whole database: SQLite's own checks, each row's hash, the digest, dense numbers, and
/// the book's balance. `conn` should be inside a transaction when others write.
///
/// # Errors
/// A failure of the database.
pub fn check(conn: &Connection) -> Result<Health, Error> {
    let mut health = Health {
        entries: 0,
        devices: 0,
        digest: String::new(),
        problems: foreign_keys(conn)?,
        notes: Vec::new(),
    };
    match verify(conn)? {
        Err(broken) => health.problems.push(broken.to_string()),
        Ok(Verified { entries, devices, digest }) => {
            health.entries = entries;
            health.devices = devices;
            health.digest = digest.to_string();
            let book = Shelf::default().read(conn, |folded| Ok(folded.book.clone()))?;
            balance(&book, &mut health.problems);
            notes(&book, &mut health.notes);
        }
    }
    Ok(health)
}

fn foreign_keys(conn: &Connection) -> rusqlite::Result<Vec<String>> {
    conn.prepare("pragma foreign_key_check")?
        .query_map([], |row| {
            let (table, parent): (String, String) = (row.get(0)?, row.get(2)?);
            Ok(format!("a row of table `{table}` names a row of `{parent}` that is not there"))
        })?
        .collect()
}

/// What came in is what is left, what was taken and what was never there; lots and bins agree.
fn balance(book: &Book, problems: &mut Vec<String>) {
    let lots = book.lots();
    let mut in_lots = Grams::ZERO;
    for (id, lot) in &lots.all {
        let taken: Grams = lot.taken.values().copied().sum();
        if lot.came + lot.overdrawn() != lot.left() + taken {
            problems.push(format!("lot {id} does not balance: {} g came in", lot.came.0));
        }
        in_lots += lot.came;
    }
    let in_bins: Grams = book.counted().map(|(_, bin)| bin.net()).sum();
    if in_lots != in_bins {
        problems.push(format!("lots hold {} g and bins {} g", in_lots.0, in_bins.0));
    }
}

fn notes(book: &Book, notes: &mut Vec<String>) {
    if !book.deferred.is_empty() {
        let kinds: std::collections::BTreeSet<&str> =
            book.deferred.iter().map(|entry| entry.kind.as_str()).collect();
        notes.push(format!(
            "{} entries were written by a newer program ({}); update this one to count them",
            book.deferred.len(),
            kinds.into_iter().collect::<Vec<_>>().join(", ")
        ));
    }
    for aside in &book.set_aside {
        notes.push(format!(
            "entry {} of device {} ({}) was set aside: {}",
            aside.id.device_seq, aside.id.device, aside.kind, aside.reason
        ));
    }
    for (id, lot) in &book.lots().all {
        if lot.overdrawn() > Grams::ZERO {
            notes.push(format!(
                "{} g more were taken from lot {id} than it held",
                lot.overdrawn().0
            ));
        }
    }
    notes.extend(book.orphans().iter().map(ToString::to_string));
}
