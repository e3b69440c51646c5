//! Joining: who a device is, and what it may do.

use serde::{Deserialize, Serialize};

use crate::ids::{DeviceId, EpochId, PersonId};
use crate::units::Millis;

/// What anyone may know of a server.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct Hello {
    /// Always `lugbook`.
    pub name: String,
    /// The newest minor version the server speaks.
    pub v: u32,
    /// The oldest it takes.
    pub oldest: u32,
    /// The identity of its log.
    pub epoch: EpochId,
    /// Its clock.
    pub server_time: Millis,
}

/// What a device may do.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Role {
    /// Reads.
    Viewer,
    /// Reads and writes.
    Helper,
    /// Reads, writes, lets devices in and out.
    Owner,
}

/// Asks to be let in.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct EnrolRequest {
    /// Minor version of the sender.
    pub v: u32,
    /// The code as typed: case, spaces and dashes do not matter.
    pub code: String,
    /// What the person is called.
    pub name: String,
    /// The id the device made for itself.
    pub device: DeviceId,
    /// The id the device made for the person.
    pub person: PersonId,
}

/// Let in.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct Enrolled {
    /// The device the token belongs to.
    pub device: DeviceId,
    /// The secret to send as `authorization: Bearer …`. Shown once, stored hashed.
    pub token: String,
    /// What the device may do.
    pub role: Role,
    /// The identity of the server's log.
    pub epoch: EpochId,
}

/// Asks for another device id, after a fork. Sent with the old token.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct RenewRequest {
    /// Minor version of the sender.
    pub v: u32,
    /// The new id the device made for itself.
    pub device: DeviceId,
}

/// A code to let a device in with.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct Code {
    /// Eight characters in two groups, such as `K7QM-2RTX`.
    pub code: String,
    /// Until when it can be used.
    pub until: Millis,
}

/// A device as the House screen lists it.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct DeviceInfo {
    /// Which device.
    pub device: DeviceId,
    /// Whose.
    pub person: PersonId,
    /// What they gave as name when joining.
    pub name: String,
    /// What it may do.
    pub role: Role,
    /// When it joined.
    pub enrolled: Millis,
    /// When it last exchanged.
    pub seen: Option<Millis>,
    /// When it was shut out.
    pub revoked: Option<Millis>,
}

/// Shuts a device out.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct RevokeRequest {
    /// Which device.
    pub device: DeviceId,
}
