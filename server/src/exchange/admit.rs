//! A batch is admitted whole or not at all.

use rusqlite::Connection;
use shared_types::entry::{DeviceSeq, Entry, Seq};
use shared_types::ids::DeviceId;
use shared_types::units::Millis;
use shared_types::wire::RefusalCode;
use shared_types::wire::limits::{BATCH_MAX_BYTES, BATCH_MAX_ENTRIES};

use super::decide::{Decision, Standing, decide};
use crate::error::Error;
use crate::store::log;

/// What a batch came to. It is true once the transaction is committed.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Admitted {
    /// Everything of the device up to this one is held.
    pub acked: DeviceSeq,
    /// How many entries were new.
    pub new: usize,
    /// The last row of the log.
    pub latest: Seq,
}

/// Admits `entries` of `device` in order, giving each new one the next place in the log. Runs
/// inside a transaction of the caller's, which must not be committed after an error.
///
/// The server's clock counts from the last admission when it has gone back since: a board without
/// a battery starts in the past, and must not tell every phone that its clock is wrong.
///
/// # Errors
/// A refusal for the whole batch, or a failure of the database.
pub fn admit(
    tx: &Connection,
    device: DeviceId,
    entries: &[Entry],
    now: Millis,
) -> Result<Admitted, Error> {
    let bytes: usize = entries.iter().map(Entry::size).sum();
    if entries.len() > BATCH_MAX_ENTRIES || bytes > BATCH_MAX_BYTES {
        return Err(RefusalCode::BatchTooLarge.into());
    }
    let begin = log::end(tx)?;
    let now = now.max(begin.received);
    let stored_through = log::stored_through(tx, device)?;
    let mut standing = Standing { device, stored_through, admitted_through: stored_through, now };
    let mut end = begin;
    for entry in entries {
        let is_known =
            entry.device == device && (1..=standing.admitted_through).contains(&entry.device_seq);
        let held = is_known.then(|| log::hash_of(tx, device, entry.device_seq)).transpose()?;
        let hash = entry.hash();
        match decide(&standing, entry, hash, held) {
            Decision::Keep => {
                end = log::append(tx, end, entry, hash, now)?;
                standing.admitted_through = entry.device_seq;
            }
            Decision::Held => {}
            Decision::Refuse(code) => return Err(code.into()),
        }
    }
    let new = usize::try_from(end.seq - begin.seq).expect("no more rows than entries");
    Ok(Admitted { acked: standing.admitted_through, new, latest: end.seq })
}
