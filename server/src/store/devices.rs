//! Table `devices`: who may come in.

use rusqlite::types::{FromSql, FromSqlError, FromSqlResult, ToSql, ToSqlOutput, ValueRef};
use rusqlite::{Connection, OptionalExtension as _, Row, params};
use shared_types::ids::{DeviceId, PersonId};
use shared_types::units::Millis;
use shared_types::wire::{DeviceInfo, RefusalCode, Role};
use uuid::Uuid;

/// A device as the table holds it, without its token's hash.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Device {
    /// Which device.
    pub device: DeviceId,
    /// Whose.
    pub person: PersonId,
    /// What they gave as name when joining.
    pub name: String,
    /// What it may do.
    pub role: Role,
    /// When it was let in.
    pub enrolled: Millis,
    /// When it last exchanged.
    pub seen: Option<Millis>,
    /// When it was shut out.
    pub revoked: Option<Millis>,
    /// The id it had before, when it took another after a fork.
    pub renewed_from: Option<DeviceId>,
}

impl Device {
    /// Refuses what only an owner may do.
    pub fn must_own(&self) -> Result<(), RefusalCode> {
        if self.role >= Role::Owner { Ok(()) } else { Err(RefusalCode::Forbidden) }
    }

    /// Refuses a device that may only look.
    pub fn must_write(&self) -> Result<(), RefusalCode> {
        if self.role >= Role::Helper { Ok(()) } else { Err(RefusalCode::Forbidden) }
    }

    fn read(row: &Row<'_>) -> rusqlite::Result<Self> {
        let renewed_from: Option<[u8; 16]> = row.get(7)?;
        Ok(Self {
            device: DeviceId(Uuid::from_bytes(row.get(0)?)),
            person: PersonId(Uuid::from_bytes(row.get(1)?)),
            name: row.get(2)?,
            role: row.get::<_, RoleColumn>(3)?.0,
            enrolled: Millis(row.get(4)?),
            seen: row.get::<_, Option<i64>>(5)?.map(Millis),
            revoked: row.get::<_, Option<i64>>(6)?.map(Millis),
            renewed_from: renewed_from.map(|bytes| DeviceId(Uuid::from_bytes(bytes))),
        })
    }
}

impl From<Device> for DeviceInfo {
    fn from(device: Device) -> Self {
        let Device { device, person, name, role, enrolled, seen, revoked, .. } = device;
        Self { device, person, name, role, enrolled, seen, revoked }
    }
}

/// A role as its column holds it.
pub(super) struct RoleColumn(pub(super) Role);

impl FromSql for RoleColumn {
    fn column_result(value: ValueRef<'_>) -> FromSqlResult<Self> {
        match value.as_str()? {
            "viewer" => Ok(Self(Role::Viewer)),
            "helper" => Ok(Self(Role::Helper)),
            "owner" => Ok(Self(Role::Owner)),
            _ => Err(FromSqlError::InvalidType),
        }
    }
}

impl ToSql for RoleColumn {
    fn to_sql(&self) -> rusqlite::Result<ToSqlOutput<'_>> {
        Ok(match self.0 {
            Role::Viewer => "viewer",
            Role::Helper => "helper",
            Role::Owner => "owner",
        }
        .into())
    }
}

/// The device whose token has this hash.
pub fn by_token(conn: &Connection, token_hash: &[u8; 32]) -> rusqlite::Result<Option<Device>> {
    conn.prepare_cached(
        "select device, person, name, role, enrolled, seen, revoked, renewed_from
         from devices where token_hash = ?1",
    )?
    .query_row([token_hash], Device::read)
    .optional()
}

/// The device of this id.
pub fn by_id(conn: &Connection, device: DeviceId) -> rusqlite::Result<Option<Device>> {
    conn.prepare_cached(
        "select device, person, name, role, enrolled, seen, revoked, renewed_from
         from devices where device = ?1",
    )?
    .query_row([device.0.as_bytes()], Device::read)
    .optional()
}

/// All devices, the ones let in first first.
pub fn all(conn: &Connection) -> rusqlite::Result<Vec<Device>> {
    conn.prepare_cached(
        "select device, person, name, role, enrolled, seen, revoked, renewed_from
         from devices order by enrolled, device",
    )?
    .query_map([], Device::read)?
    .collect()
}

/// Whether no device was ever let in. Sensors do not count: the first phone still owns the house.
pub fn is_empty(conn: &Connection) -> rusqlite::Result<bool> {
    conn.prepare_cached(
        "select not exists (
             select 1 from devices where device not in (select device from sensors))",
    )?
    .query_row([], |row| row.get(0))
}

/// Lets `device` in, or in again: its earlier token stops working and nothing shuts it out.
pub fn put(conn: &Connection, device: &Device, token_hash: &[u8; 32]) -> rusqlite::Result<()> {
    conn.prepare_cached(
        "insert into devices (device, person, name, token_hash, role, enrolled, seen, revoked,
                              renewed_from)
         values (?1, ?2, ?3, ?4, ?5, ?6, ?7, ?8, ?9)
         on conflict (device) do update set
             person = excluded.person, name = excluded.name, token_hash = excluded.token_hash,
             role = excluded.role, enrolled = excluded.enrolled, seen = excluded.seen,
             revoked = excluded.revoked, renewed_from = excluded.renewed_from",
    )?
    .execute(params![
        device.device.0.as_bytes(),
        device.person.0.as_bytes(),
        device.name,
        token_hash,
        RoleColumn(device.role),
        device.enrolled.0,
        device.seen.map(|at| at.0),
        device.revoked.map(|at| at.0),
        device.renewed_from.map(|from| *from.0.as_bytes()),
    ])?;
    Ok(())
}

/// Notes that a device exchanged.
pub fn mark_seen(conn: &Connection, device: DeviceId, now: Millis) -> rusqlite::Result<()> {
    conn.prepare_cached("update devices set seen = ?2 where device = ?1")?
        .execute(params![device.0.as_bytes(), now.0])?;
    Ok(())
}

/// Shuts a device out; the first time stays noted. Returns whether there is such a device.
pub fn revoke(conn: &Connection, device: DeviceId, now: Millis) -> rusqlite::Result<bool> {
    let changed = conn
        .prepare_cached("update devices set revoked = coalesce(revoked, ?2) where device = ?1")?
        .execute(params![device.0.as_bytes(), now.0])?;
    Ok(changed > 0)
}
