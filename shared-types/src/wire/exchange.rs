//! Push and pull in one round trip.

use std::collections::BTreeMap;

use serde::ser::SerializeStruct as _;
use serde::{Deserialize, Serialize, Serializer};
use serde_json::value::RawValue;

use crate::entry::{DeviceSeq, Digest, Entry, Seq};
use crate::ids::{DeviceId, EpochId};
use crate::units::Millis;

/// What a phone sends.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct ExchangeRequest {
    /// Minor version of the sender.
    pub v: u32,
    /// The log the cursor belongs to; absent before the first exchange.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub epoch: Option<EpochId>,
    /// The last `seq` read, 0 for none.
    #[serde(default)]
    pub cursor: Seq,
    /// What this device wrote and no server has acknowledged, in its own order.
    #[serde(default)]
    pub entries: Vec<Entry>,
}

/// What the server answers.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct ExchangeReply {
    /// Minor version of the server.
    pub v: u32,
    /// The identity of this log.
    pub epoch: EpochId,
    /// Everything this device wrote up to and with this one is on the server's disk.
    pub acked: DeviceSeq,
    /// The log after the request's cursor, in `seq` order, one page.
    pub rows: Vec<LogRow>,
    /// The `seq` of the last row, or the request's cursor when there is none.
    pub cursor: Seq,
    /// There is more after this page.
    pub more: bool,
    /// The digest of the log up to `cursor`.
    pub digest: Digest,
    /// The server's clock, for telling a person that the phone's is off.
    pub server_time: Millis,
}

/// One row of the log as the server sends it: `{"seq": 7, "entry": {…}}`, or
/// `{"seq": 7, "own": 3}` for the reader's own entry, which it holds already.
#[derive(Clone, Debug, PartialEq, Eq, Deserialize)]
#[serde(try_from = "WireRow")]
pub struct LogRow {
    /// Its place in the server's order.
    pub seq: Seq,
    /// What stands there.
    pub content: Content,
}

/// What stands in a row.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Content {
    /// Another device's entry, whole.
    Entry(Entry),
    /// The reader's own entry of this device order.
    Own(DeviceSeq),
}

/// A row as it is read. Two optional fields and not a flattened enum, because flattening would
/// re-write the payload's bytes.
#[derive(Deserialize)]
struct WireRow {
    seq: Seq,
    entry: Option<Entry>,
    own: Option<DeviceSeq>,
}

impl TryFrom<WireRow> for LogRow {
    type Error = &'static str;

    fn try_from(row: WireRow) -> Result<Self, Self::Error> {
        let content = match (row.entry, row.own) {
            (Some(entry), None) => Content::Entry(entry),
            (None, Some(device_seq)) => Content::Own(device_seq),
            _ => return Err("a row holds either `entry` or `own`"),
        };
        Ok(Self { seq: row.seq, content })
    }
}

impl Serialize for LogRow {
    fn serialize<S: Serializer>(&self, to: S) -> Result<S::Ok, S::Error> {
        let mut row = to.serialize_struct("LogRow", 2)?;
        row.serialize_field("seq", &self.seq)?;
        match &self.content {
            Content::Entry(entry) => row.serialize_field("entry", entry)?,
            Content::Own(device_seq) => row.serialize_field("own", device_seq)?,
        }
        row.end()
    }
}

/// The log folded up to a place, for a phone whose cursor is too old to continue from.
#[derive(Clone, Debug, Serialize, Deserialize)]
pub struct Snapshot {
    /// The identity of this log.
    pub epoch: EpochId,
    /// Folded up to and with this row.
    pub seq: Seq,
    /// The version of the fold that made `state`.
    pub fold_version: u32,
    /// The digest of the log up to `seq`.
    pub digest: Digest,
    /// Everything the asking device wrote up to this one is inside.
    pub own: DeviceSeq,
    /// How many entries of each device are inside, so that a phone that had other ids before knows
    /// which of its entries are lacking.
    #[serde(default, skip_serializing_if = "BTreeMap::is_empty")]
    pub devices: BTreeMap<DeviceId, DeviceSeq>,
    /// The book, as `book::Book` serialises it.
    pub state: Box<RawValue>,
}

/// Told to every listening phone when the log grows.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct Announcement {
    /// The identity of this log.
    pub epoch: EpochId,
    /// Its last row.
    pub seq: Seq,
}
