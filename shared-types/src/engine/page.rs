//! A page of the log into the confirmed book.

use super::storage::{CHECKPOINT_EVERY, Checkpoint, Transaction};
use super::{Action, Engine, Replied, Work, to_len};
use crate::book::Book;
use crate::entry::{Entry, Seq};
use crate::units::Millis;
use crate::wire::{Content, LogRow};

/// Why a page cannot be taken.
enum Misfit {
    /// The rows do not follow the cursor, or their digest is not the server's.
    Diverged,
    /// The server holds more of this device than the device does: a twin writes under its id, or
    /// its own disk is an older copy.
    KnowsMore,
}

impl Engine {
    /// Takes the page: folded on a copy, checked, stored with its cursor in one transaction.
    pub(super) fn take_page(&mut self, replied: &Replied, now: Millis, actions: &mut Vec<Action>) {
        let reply = &replied.reply;
        let nothing_new = reply.rows.is_empty()
            && (Some(reply.epoch), reply.acked) == (self.meta.epoch, self.meta.acked)
            && (reply.cursor, reply.digest) == (self.meta.cursor, self.meta.digest);
        if nothing_new {
            self.at_end = !reply.more;
            return;
        }
        match self.read_page(replied) {
            Ok((transaction, confirmed)) => {
                self.talk.mismatches = 0;
                let rows = transaction.rows.len();
                let checkpoint = transaction.checkpoint.is_some();
                self.store(
                    transaction,
                    Work::Page { confirmed, rows, checkpoint, at_end: !reply.more },
                    actions,
                );
            }
            Err(Misfit::KnowsMore) => self.part_from_twin(replied.offered, now, actions),
            Err(Misfit::Diverged) => self.read_anew(now, actions),
        }
    }

    fn read_page(&self, replied: &Replied) -> Result<(Transaction, Book), Misfit> {
        let Replied { offered, reply, .. } = replied;
        if to_len(reply.acked) > self.own.len() {
            return Err(Misfit::KnowsMore);
        }
        if reply.acked < self.meta.placed {
            return Err(Misfit::Diverged);
        }
        let mut meta = self.meta.clone();
        let mut entries = Vec::with_capacity(reply.rows.len());
        // What the server compared: offered in this exchange, or met in this page.
        let mut compared = self.meta.acked.max(*offered);
        for row in &reply.rows {
            let entry = self.entry_of(row)?;
            if row.seq != meta.cursor + 1 {
                return Err(Misfit::Diverged);
            }
            if let Content::Own(device_seq) = row.content {
                if device_seq != meta.placed + 1 {
                    return Err(Misfit::Diverged);
                }
                meta.placed = device_seq;
                compared = compared.max(device_seq);
            }
            meta.cursor = row.seq;
            meta.digest = meta.digest.then(entry.hash());
            self.note_former(&mut meta, entry);
            entries.push(entry);
        }
        if (meta.cursor, meta.digest) != (reply.cursor, reply.digest) {
            return Err(Misfit::Diverged);
        }
        meta.epoch = Some(reply.epoch);
        meta.acked = reply.acked.min(compared);
        let mut confirmed = Book::clone(&self.confirmed);
        self.program.fold(&mut confirmed, entries);
        let mut transaction = Transaction::of(meta);
        if self.since_checkpoint + reply.rows.len() >= CHECKPOINT_EVERY {
            transaction.checkpoint = Some(self.checkpoint(&confirmed, transaction.meta.cursor));
        }
        transaction.rows.clone_from(&reply.rows);
        Ok((transaction, confirmed))
    }

    pub(super) fn checkpoint(&self, book: &Book, seq: Seq) -> Checkpoint {
        Checkpoint::of(book, seq, self.program.fold_version)
    }

    fn entry_of<'a>(&'a self, row: &'a LogRow) -> Result<&'a Entry, Misfit> {
        match &row.content {
            Content::Entry(entry) => Ok(entry),
            Content::Own(device_seq) => device_seq
                .checked_sub(1)
                .and_then(|i| self.own.get(to_len(i)))
                .ok_or(Misfit::KnowsMore),
        }
    }
}
