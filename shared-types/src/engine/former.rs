//! What this device wrote under ids it had before, and a server acknowledged.
//!
//! A device that shares its id with a twin takes another ([`Event::Renewed`](super::Event)). What
//! was acknowledged under the old id stays in the log under it; but a server restored from an older
//! copy may have lost it, and the twin may be gone for good. So the device keeps those entries,
//! notes which of them it meets while it reads the log, and whatever is missing at the log's end it
//! writes again under its own id: the old one is no longer its to write under.
//!
//! Should the twin come later and offer the same under the old id, the log has the fact twice under
//! two names and the book once: what adds has a name of its own, of which the first stands.

use std::collections::BTreeMap;

use super::storage::{Meta, Transaction};
use super::{Action, Engine, Work};
use crate::entry::{DeviceSeq, Entry, EntryId};
use crate::ids::DeviceId;

/// Whether `meta` says that the log up to its cursor holds `entry`.
pub(super) fn is_held(meta: &Meta, entry: &Entry) -> bool {
    meta.former_held.get(&entry.device).is_some_and(|through| entry.device_seq <= *through)
}

impl Engine {
    /// Notes an entry of the log that this device once wrote. One with other content is the twin's:
    /// then this device's own, and what followed it, is not there.
    pub(super) fn note_former(&self, meta: &mut Meta, entry: &Entry) {
        let Ok(at) = self.former.binary_search_by_key(&entry.id(), Entry::id) else { return };
        let through = meta.former_held.entry(entry.device).or_insert(0);
        if self.former[at] == *entry && entry.device_seq == *through + 1 {
            *through = entry.device_seq;
        }
    }

    /// What a server says it holds of the earlier ids, for a log that is not read row by row.
    pub(super) fn held_of_former(
        &self,
        devices: &BTreeMap<DeviceId, DeviceSeq>,
    ) -> BTreeMap<DeviceId, DeviceSeq> {
        let ours = |device: &DeviceId| self.former.iter().any(|entry| entry.device == *device);
        devices.iter().filter(|(device, _)| ours(device)).map(|(d, n)| (*d, *n)).collect()
    }

    /// The log is read to its end: what it lacks of the earlier ids is written again.
    pub(super) fn bring_back_former(&mut self, actions: &mut Vec<Action>) {
        let (held, lacking): (Vec<Entry>, Vec<Entry>) =
            self.former.iter().cloned().partition(|entry| is_held(&self.meta, entry));
        if lacking.is_empty() {
            return;
        }
        let device = self.meta.device;
        let next = self.own.len() as DeviceSeq + 1;
        let again: Vec<Entry> = (next..)
            .zip(&lacking)
            .map(|(device_seq, entry)| entry.reissued(EntryId { device, device_seq }, entry.hlc))
            .collect();
        let own = self.own.iter().chain(&again).cloned().collect();
        let transaction = Transaction {
            own: again,
            former: Some(held.clone()),
            ..Transaction::of(self.meta.clone())
        };
        let work = Work::Recover { own: Some(own), former: Some(held), confirmed: None };
        self.store(transaction, work, actions);
    }
}
