//! The laws, and the accounts they are held against.
//!
//! What must be in the log is what was ever on some device's disk, but for what every holder of it
//! lost: a disk the browser emptied, and a server put back to an older copy. That account is kept
//! here from the disks' side; it does not ask the engine what it believes it holds.

use std::collections::{BTreeMap, BTreeSet};

use shared_types::book::Book;
use shared_types::engine::{Engine, Transaction};
use shared_types::entry::{Decoded, DeviceSeq, Entry, Fact};
use shared_types::ids::DeviceId;

use super::deeds::{key, may_repeat};
use super::world::World;
use super::{Broken, Sabotage};

/// Exchanges a device may need to come to rest: a few of its own, and one for what each other
/// device pushes meanwhile and announces, with room for pages and ways back.
const ROUNDS_OWN: usize = 12;

/// Own entries looked at each time something is shown.
const LOOKED_AT: usize = 8;

impl World<'_> {
    /// An acknowledgement means on the server's disk: whatever phones were told is there still
    /// after the plug was pulled.
    pub(super) fn hold_promises(&self) -> Result<(), Broken> {
        for (device, promised) in &self.promised {
            let held = self.server.held(*device);
            if held < *promised {
                return Err(Broken(format!(
                    "{device} was told that {promised} entries are on the disk, and {held} are"
                )));
            }
        }
        Ok(())
    }

    /// What a device writes again under a later id is not in the log as far as it has read it.
    pub(super) fn hold_law_of_writing_again(
        &self,
        d: usize,
        transaction: &Transaction,
    ) -> Result<(), Broken> {
        let meta = &transaction.meta;
        if self.server.digest_at(meta.cursor) != Some(meta.digest) {
            // Another log stands there by now.
            return Ok(());
        }
        let again: BTreeSet<String> = transaction.own.iter().map(key).collect();
        let read = usize::try_from(meta.cursor).expect("a small number");
        let doubled = self.server.log().into_iter().take(read).find(|entry| {
            self.devices[d].ids.contains(&entry.device) && again.contains(&key(entry))
        });
        match doubled {
            Some(entry) => {
                let id = entry.id();
                Err(Broken(format!("device {d} wrote {id:?} again and had read it in the log")))
            }
            None => Ok(()),
        }
    }

    /// What waits on the device can be seen on it.
    pub(super) fn hold_laws_of_showing(&self, d: usize) -> Result<(), Broken> {
        let Some(engine) = &self.devices[d].engine else { return Ok(()) };
        let book = engine.book();
        let outbox = engine.outbox();
        let last = outbox.len().saturating_sub(LOOKED_AT);
        for entry in &outbox[last..] {
            if let Decoded::Fact(Fact::BinKept(fact)) = entry.decode()
                && book.bins.get(&fact.bin).is_none_or(|bin| bin.kept.is_none())
            {
                return Err(Broken(format!("device {d} does not show its own {:?}", entry.id())));
            }
        }
        Ok(())
    }

    /// Whatever nobody holds any more is destroyed; called when a disk or the server lost something.
    pub(super) fn recount_destroyed(&mut self) {
        let mut held: BTreeSet<String> = self.server.log().iter().map(key).collect();
        for device in &self.devices {
            held.extend(device.ever.iter().cloned());
        }
        for key in self.committed.keys() {
            if !held.contains(key) && self.destroyed.insert(key.clone()) {
                *self
                    .report
                    .counts
                    .entry("entries destroyed with every holder".into())
                    .or_default() += 1;
            }
        }
    }

    pub(super) fn hold_laws_at_rest(&mut self) -> Result<(), Broken> {
        let log = self.server.log();
        self.report.rows += log.len() as u64;
        is_dense(&log)?;
        self.is_what_was_committed(&log)?;
        let whole = fold(Book::default(), &log);
        self.is_equal_everywhere(&whole)?;
        self.bounded_rounds(log.len())?;
        snapshot_and_tail(&log, &whole)?;
        self.report.pairs += whole.pairs().len() as u64;
        Ok(())
    }

    fn is_what_was_committed(&self, log: &[Entry]) -> Result<(), Broken> {
        let mut times: BTreeMap<String, u32> = BTreeMap::new();
        for entry in log {
            *times.entry(key(entry)).or_default() += 1;
        }
        for (key, copies) in &self.committed {
            let there = times.remove(key).unwrap_or(0);
            if there == 0 && !self.destroyed.contains(key) {
                return Err(Broken(format!("lost: {}", short(key))));
            }
            // Copies of a device share what was on it; when each had to write it anew (a clock put
            // right, a server that lost it), it stands under several ids, and once in the book.
            if there > *copies && !may_repeat(key) {
                return Err(Broken(format!("{there} times in the log: {}", short(key))));
            }
        }
        match times.keys().next() {
            Some(key) => Err(Broken(format!("nobody kept this: {}", short(key)))),
            None => Ok(()),
        }
    }

    fn is_equal_everywhere(&self, whole: &Book) -> Result<(), Broken> {
        let pairs = whole.pairs();
        for (d, device) in self.devices.iter().enumerate() {
            let Some(engine) = &device.engine else { continue };
            let differs = |what: &str| Err(Broken(format!("device {d}: {what} differs")));
            if engine.confirmed() != whole {
                return differs("the confirmed book");
            }
            if *engine.book() != *whole {
                return differs("the shown book");
            }
            if engine.book().pairs() != pairs {
                return differs("the list of pairs");
            }
            let program = match self.sabotage {
                Sabotage::FoldByClock => continue,
                other => other.program(false),
            };
            let again = Engine::running(program, device.me.device, device.disk.load());
            if again.confirmed() != whole {
                return differs("what its disk folds to");
            }
        }
        Ok(())
    }

    fn bounded_rounds(&self, rows: usize) -> Result<(), Broken> {
        let most = ROUNDS_OWN + 4 * self.devices.len() + rows / 100;
        match self.devices.iter().map(|device| device.rounds as usize).max() {
            Some(rounds) if rounds > most => {
                Err(Broken(format!("a device took {rounds} exchanges to come to rest, not {most}")))
            }
            _ => Ok(()),
        }
    }
}

fn short(key: &str) -> String {
    key.chars().take(400).collect()
}

fn is_dense(log: &[Entry]) -> Result<(), Broken> {
    let mut through: BTreeMap<DeviceId, DeviceSeq> = BTreeMap::new();
    for entry in log {
        let through = through.entry(entry.device).or_default();
        if entry.device_seq != *through + 1 {
            return Err(Broken(format!("{:?} follows {through} of its device", entry.id())));
        }
        *through += 1;
    }
    Ok(())
}

fn fold(mut book: Book, log: &[Entry]) -> Book {
    for entry in log {
        book.fold(entry);
    }
    book
}

/// A snapshot, written down and read again, and what came after it give the same book.
fn snapshot_and_tail(log: &[Entry], whole: &Book) -> Result<(), Broken> {
    let (first, tail) = log.split_at(log.len() / 2);
    let written = serde_json::to_string(&fold(Book::default(), first)).expect("a book is JSON");
    let read: Book = serde_json::from_str(&written).expect("and is read again");
    match fold(read, tail) == *whole {
        true => Ok(()),
        false => Err(Broken("a snapshot and its tail give another book".into())),
    }
}
