//! The exchange as plain functions over a connection: push, then pull.
//!
//! The rules are those of [`shared_types::wire`]. [`decide`] settles one entry without touching
//! anything; [`admit`] does what it says for a batch; [`pull`] reads a page;
//! [`snapshot`] stands in for many pages. The caller opens and
//! commits the transaction, so that the simulation can lose the machine at any point between.

mod admit;
mod decide;
mod page;
mod snapshot;

use rusqlite::Connection;
use shared_types::ids::EpochId;
use shared_types::units::{DAY_MS, HOUR_MS, Millis};
use shared_types::wire::{ExchangeRequest, OLDEST, RefusalCode, VERSION};

use crate::error::Error;
use crate::store::{Device, devices, log, meta};

pub use admit::{Admitted, admit};
pub use decide::{Decision, Standing, decide};
pub use page::{Reply, pull};
pub use snapshot::{Folded, Shelf, snapshot};

/// How old the note of a device's last exchange may grow before it is written again. Each writing
/// costs the disk a commit.
const SEEN_STEP_MS: i64 = HOUR_MS;

/// Before this moment (2026-01-01) a server's clock is plainly not set, as on a board without
/// battery and network; it then refuses no phone's clock.
pub const CLOCK_PLAUSIBLE_FROM: Millis = Millis(20_454 * DAY_MS);

/// Whether this server takes the minor version `v` of a sender.
///
/// # Errors
/// `app_too_old` or `server_too_old`: which side to update.
pub fn check_version(v: u64) -> Result<(), RefusalCode> {
    if v < OLDEST.into() {
        Err(RefusalCode::AppTooOld { oldest: OLDEST })
    } else if v > VERSION.into() {
        Err(RefusalCode::ServerTooOld { newest: VERSION })
    } else {
        Ok(())
    }
}

/// Whether an exchange has anything to write: entries, or a note of when the device was seen.
pub fn writes(device: &Device, request: &ExchangeRequest, now: Millis) -> bool {
    let stale = device.seen.is_none_or(|seen| now.since(seen).abs() >= SEEN_STEP_MS);
    stale || !request.entries.is_empty()
}

/// The writing half of an exchange, inside a transaction of the caller's: checks that the request
/// belongs to this log, then admits its entries. On an error the transaction must not be
/// committed.
///
/// # Errors
/// Any refusal of the exchange, or a failure of the database.
pub fn push(
    tx: &Connection,
    device: &Device,
    request: &ExchangeRequest,
    now: Millis,
) -> Result<Admitted, Error> {
    if !request.entries.is_empty() {
        device.must_write()?;
    }
    check_place(tx, request.epoch, request.cursor)?;
    let admitted = admit(tx, device.device, &request.entries, now)?;
    devices::mark_seen(tx, device.device, now)?;
    Ok(admitted)
}

/// Whether a cursor belongs to this log, and the log after it is still sent row by row.
fn check_place(conn: &Connection, epoch: Option<EpochId>, cursor: u64) -> Result<(), Error> {
    let here = meta::epoch(conn)?;
    // A cursor without an epoch belongs to no log at all.
    if epoch.map_or(cursor > 0, |epoch| epoch != here) {
        return Err(RefusalCode::EpochChanged { epoch: here }.into());
    }
    let latest = log::end(conn)?.seq;
    if cursor > latest {
        return Err(RefusalCode::CursorAhead { latest }.into());
    }
    let oldest = meta::oldest(conn)?;
    if cursor + 1 < oldest {
        return Err(RefusalCode::CursorExpired { oldest }.into());
    }
    Ok(())
}

#[cfg(test)]
mod tests;
