//! Table `sensors`: thermometers that may send readings, and nothing else.

use rusqlite::{Connection, OptionalExtension as _, params};
use shared_types::entry::{Entry, EntryId, ReadingsTaken};
use shared_types::hlc::Hlc;
use shared_types::ids::{DeviceId, PersonId};
use shared_types::units::Millis;
use shared_types::wire::{RefusalCode, Role};
use uuid::Uuid;

use super::{Device, devices, log};
use crate::error::Error;
use crate::exchange::{Admitted, admit};
use crate::join::Token;

/// Lets a sensor in under its name. `nobody` is a token that is thrown away.
pub fn put(
    tx: &Connection,
    device: DeviceId,
    name: &str,
    token: &Token,
    nobody: &Token,
    now: Millis,
) -> rusqlite::Result<()> {
    let row = Device {
        device,
        person: PersonId(device.0),
        name: name.to_owned(),
        role: Role::Viewer,
        enrolled: now,
        seen: None,
        revoked: None,
        renewed_from: None,
    };
    devices::put(tx, &row, &nobody.hash())?;
    tx.execute(
        "insert into sensors (device, token_hash) values (?1, ?2)",
        params![device.0.as_bytes(), token.hash()],
    )?;
    Ok(())
}

/// The sensor a token belongs to.
///
/// # Errors
/// `token_unknown`, `revoked`, or a failure of the database.
pub fn by_token(conn: &Connection, token: &Token) -> Result<Device, Error> {
    let device = conn
        .prepare_cached("select device from sensors where token_hash = ?1")?
        .query_row([token.hash()], |row| row.get::<_, [u8; 16]>(0))
        .optional()?
        .ok_or(RefusalCode::TokenUnknown)?;
    let device = devices::by_id(conn, DeviceId(Uuid::from_bytes(device)))?;
    match device {
        Some(device) if device.revoked.is_none() => Ok(device),
        Some(_) => Err(RefusalCode::Revoked.into()),
        None => Err(RefusalCode::TokenUnknown.into()),
    }
}

/// Writes readings as the sensor's next entries. The server keeps its place in its own order, so
/// that a sensor need not remember anything.
///
/// # Errors
/// A refusal of the admission, or a failure of the database.
pub fn write(
    tx: &Connection,
    sensor: DeviceId,
    readings: Vec<ReadingsTaken>,
    now: Millis,
) -> Result<Option<Admitted>, Error> {
    let through = log::stored_through(tx, sensor)?;
    let mut entries = Vec::with_capacity(readings.len());
    for (count, (device_seq, fact)) in (0..).zip((through + 1..).zip(readings)) {
        let id = EntryId { device: sensor, device_seq };
        let entry = Entry::new(id, Hlc(now, count), &fact.into())
            .map_err(|_| RefusalCode::EntryTooLarge { device_seq })?;
        entries.push(entry);
    }
    if entries.is_empty() {
        return Ok(None);
    }
    let admitted = admit(tx, sensor, &entries, now)?;
    devices::mark_seen(tx, sensor, now)?;
    Ok(Some(admitted))
}
