//! The ways back when phone and server do not fit together. None of them drops an entry that no
//! server has acknowledged.

use std::sync::Arc;

use super::storage::{Meta, Transaction};
use super::{Action, Engine, Notice, Work, to_len};
use crate::book::Book;
use crate::entry::{DeviceSeq, Entry, EntryId};
use crate::ids::DeviceId;
use crate::units::Millis;
use crate::wire::{RefusalCode, Snapshot};

/// Digest mismatches in a row after which reading anew is not tried again by itself.
const MISMATCHES_MAX: u32 = 2;

/// What a recovery changes in memory once its transaction is stored; absent leaves it.
#[derive(Debug, Default)]
struct Change {
    own: Option<Vec<Entry>>,
    former: Option<Vec<Entry>>,
    confirmed: Option<Book>,
}

impl Engine {
    /// Another log: forget the cursor and what was read, offer every own entry again.
    pub(super) fn offer_all_again(&mut self, notice: Notice, actions: &mut Vec<Action>) {
        let transaction =
            Transaction { forget_log: true, ..Transaction::of(self.meta.before_exchange()) };
        let change = Change { confirmed: Some(Book::default()), ..Change::default() };
        self.recover(transaction, change, actions);
        actions.push(Action::Tell(notice));
    }

    /// The browser dropped the storage of a phone that is open: what is in memory goes back on the
    /// disk, and every own entry is offered again.
    pub(super) fn write_anew(&mut self, actions: &mut Vec<Action>) {
        // The empty disk is of generation 0.
        self.meta = Meta { generation: 0, ..self.meta.before_exchange() };
        self.confirmed = Arc::default();
        self.since_checkpoint = 0;
        self.refold();
        self.emptied = true;
        self.recover(Transaction::of(self.meta.clone()), Change::default(), actions);
        actions.push(Action::Tell(Notice::Evicted));
    }

    /// The same log, read wrongly: as above, but not for ever.
    pub(super) fn read_anew(&mut self, now: Millis, actions: &mut Vec<Action>) {
        self.talk.mismatches += 1;
        if self.talk.mismatches > MISMATCHES_MAX {
            let reason = "its log does not match its own digest".to_owned();
            self.talk.stop(RefusalCode::Malformed { reason }.into());
            actions.push(Action::Tell(Notice::Diverged));
        } else {
            self.talk.idle(Some(now));
            self.talk.want();
            self.offer_all_again(Notice::Diverged, actions);
        }
    }

    /// Entries are missing on the server: offer again from the one it expects.
    pub(super) fn offer_from(&mut self, expected: DeviceSeq, actions: &mut Vec<Action>) {
        let acked = expected.saturating_sub(1).min(self.meta.acked);
        if acked < self.meta.placed {
            // It once had them in its log; so this is another log, or one cut short.
            self.offer_all_again(Notice::OtherServer, actions);
        } else {
            let meta = Meta { acked, ..self.meta.clone() };
            self.recover(Transaction::of(meta), Change::default(), actions);
        }
    }

    /// The clock was refused: entries the server does not hold get new stamps from its time.
    pub(super) fn restamp(
        &mut self,
        server_time: Millis,
        stored_through: DeviceSeq,
        now: Millis,
        actions: &mut Vec<Action>,
    ) {
        let by_ms = now.since(server_time);
        self.talk.skew_ms = Some(by_ms);
        actions.push(Action::Tell(Notice::ClockOff { by_ms }));
        let mut meta = self.meta.clone();
        // What the server counts of this device keeps its stamps. It is not acknowledged by that:
        // a twin may have written it.
        let counted = meta.acked.max(stored_through).min(self.own.len() as DeviceSeq);
        meta.clock.set_back(server_time);
        let (safe, unsent) = self.own.split_at(to_len(counted));
        let unsent: Vec<Entry> = unsent
            .iter()
            .map(|entry| entry.reissued(entry.id(), meta.clock.tick(server_time, None)))
            .collect();
        let own = safe.iter().chain(&unsent).cloned().collect();
        let transaction = Transaction { own: unsent, ..Transaction::of(meta) };
        self.recover(transaction, Change { own: Some(own), ..Change::default() }, actions);
    }

    /// A twin writes under this id. What it shares with this device is noted as held first; when
    /// everything that can be compared has been, another id is asked for. `compared` is the last
    /// own entry the server found to be the same.
    pub(super) fn part_from_twin(
        &mut self,
        compared: DeviceSeq,
        now: Millis,
        actions: &mut Vec<Action>,
    ) {
        if compared > self.meta.acked {
            let meta = Meta { acked: compared, ..self.meta.clone() };
            self.talk.want();
            self.recover(Transaction::of(meta), Change::default(), actions);
        } else if compared < self.own.len() as DeviceSeq {
            // Kept while the request was under way: offered next.
            self.talk.want();
        } else {
            self.ask_for_new_name(now, actions);
        }
    }

    /// Two devices write under one id: ask for another.
    pub(super) fn ask_for_new_name(&mut self, now: Millis, actions: &mut Vec<Action>) {
        let number = self.talk.call(self.meta.cursor, self.meta.acked, now);
        actions.push(Action::Renew { number });
    }

    /// The new id is taken: what no server has acknowledged is issued anew under it.
    pub(super) fn on_renewed(&mut self, device: DeviceId, now: Millis, actions: &mut Vec<Action>) {
        if device == self.meta.device {
            // The answer to a second try: it has that name already.
            return;
        }
        if self.storing.is_some() {
            // Keepings under way still carry the old id; the server will refuse and this comes again.
            self.talk.back_off(self.meta.device, now);
            return;
        }
        let own: Vec<Entry> = (1..)
            .zip(self.outbox())
            .map(|(device_seq, entry)| entry.reissued(EntryId { device, device_seq }, entry.hlc))
            .collect();
        let meta = Meta { device, ..self.meta.before_exchange() };
        let mut former = self.former.clone();
        former.extend(self.own[..to_len(self.meta.acked)].iter().cloned());
        former.sort_by_key(Entry::id);
        let transaction = Transaction {
            forget_own: true,
            forget_log: true,
            own: own.clone(),
            former: Some(former.clone()),
            ..Transaction::of(meta)
        };
        self.talk.idle(Some(now));
        self.talk.want();
        let change =
            Change { own: Some(own), former: Some(former), confirmed: Some(Book::default()) };
        self.recover(transaction, change, actions);
        actions.push(Action::Tell(Notice::Forked));
    }

    /// The log before the cursor is gone: the whole book at once.
    pub(super) fn on_snapshot(
        &mut self,
        snapshot: &Snapshot,
        now: Millis,
        actions: &mut Vec<Action>,
    ) {
        if self.storing.is_some() {
            self.talk.back_off(self.meta.device, now);
            return;
        }
        if to_len(snapshot.own) > self.own.len() {
            self.ask_for_new_name(now, actions);
            return;
        }
        let Ok(mut book) = serde_json::from_str::<Book>(snapshot.state.get()) else {
            self.talk.stop(RefusalCode::AppTooOld { oldest: snapshot.fold_version }.into());
            return;
        };
        if snapshot.fold_version < self.program.fold_version {
            self.program.upgrade(&mut book);
        }
        let meta = Meta {
            epoch: Some(snapshot.epoch),
            cursor: snapshot.seq,
            digest: snapshot.digest,
            // A number alone acknowledges nothing: what is beyond is offered, and compared, next.
            acked: self.meta.acked.min(snapshot.own),
            placed: snapshot.own,
            former_held: self.held_of_former(&snapshot.devices),
            ..self.meta.clone()
        };
        let checkpoint = Some(self.checkpoint(&book, snapshot.seq));
        let transaction = Transaction { forget_log: true, checkpoint, ..Transaction::of(meta) };
        self.talk.idle(Some(now));
        self.talk.want();
        self.recover(transaction, Change { confirmed: Some(book), ..Change::default() }, actions);
    }

    fn recover(&mut self, transaction: Transaction, change: Change, actions: &mut Vec<Action>) {
        if self.storing.is_some() {
            // A keeping is being stored. The next exchange meets the same refusal and comes back.
            self.talk.want();
            return;
        }
        let Change { own, former, confirmed } = change;
        self.store(transaction, Work::Recover { own, former, confirmed }, actions);
    }
}
