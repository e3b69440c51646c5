//! Keeping: a fact becomes an entry in one transaction.

use super::storage::Transaction;
use super::{Action, Engine, Ticket, Work};
use crate::entry::{DeviceSeq, Entry, EntryId, Fact};
use crate::units::Millis;
use crate::wire::limits::CLOCK_AHEAD_MAX_MS;

impl Engine {
    /// Fixes the fact's number, bytes and clock, and asks for it to be stored. Refuses only what is
    /// over the entry's size; not for a wrong clock, a missing server or an unknown place.
    pub(super) fn keep(
        &mut self,
        ticket: Ticket,
        fact: Fact,
        now: Millis,
        actions: &mut Vec<Action>,
    ) {
        let mut meta = self.meta.clone();
        let over = self.shown.written(&fact);
        let hlc = meta.clock.tick(self.stamping_time(now), over);
        let id = EntryId { device: meta.device, device_seq: self.own.len() as DeviceSeq + 1 };
        let entry = match Entry::new(id, hlc, &fact) {
            Ok(entry) => entry,
            Err(too_large) => {
                let reason = too_large.to_string();
                actions.push(Action::NotKept { ticket, fact: Box::new(fact), reason });
                return;
            }
        };
        let transaction = Transaction { own: vec![entry.clone()], ..Transaction::of(meta) };
        self.store(transaction, Work::Keep { ticket, entry: Box::new(entry), fact }, actions);
    }

    /// The time to stamp with: the phone's own, or the server's when the phone is known to run so
    /// far ahead that the server would refuse its stamps.
    pub(super) fn stamping_time(&self, now: Millis) -> Millis {
        match self.talk.skew_ms {
            Some(ahead) if ahead > CLOCK_AHEAD_MAX_MS => now.plus(-ahead),
            _ => now,
        }
    }
}
