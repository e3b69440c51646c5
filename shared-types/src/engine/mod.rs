//! The sync engine of one device, without any IO.
//!
//! **Context.** A phone must keep a bin whether or not there is a network, show it at once with
//! everyone else's, and bring the two together when there is one. The browser is full of ways to
//! get that wrong (see `wire`); so everything that decides lives here, where a simulation can drive
//! it, and the shell around it only carries out.
//!
//! **Design.** [`Engine::on_event`] takes what happened and the time, and answers with what to do:
//! [`Event`] in, [`Action`]s out, nothing else. Three rules hold it together:
//!
//! 1. *The disk leads.* Nothing changes in memory that is not first in one [`Transaction`]; "kept"
//!    is said when the shell reports that transaction stored. One transaction is under way at a
//!    time; keepings wait in line behind it.
//! 2. *A transaction says what it was made from* ([`Transaction::expects`]). If another tab wrote
//!    in between, the shell answers [`Event::Overtaken`] with what stands there now; the engine
//!    adopts that and makes its change anew. So all tabs may keep bins and no number is given twice.
//! 3. *Own entries are dense and admitted in order*, so two numbers say all about them: up to
//!    [`Meta::acked`] they are on the server's disk; up to [`Meta::placed`] they have their place
//!    in the confirmed book. Nothing but an acknowledgement moves the first.
//!
//! What a person sees is the confirmed book with the own entries not yet placed folded on top.
//! What it wrote under earlier ids is held as well; see `former`.
//!
//! **Decision.** The confirmed book is folded on a copy and swapped in when its page is stored; the
//! copy shares all bins, so it costs a pointer per bin.
//!
//! **Decision.** An acknowledgement counts only for entries whose content the server has compared:
//! those of a request it answered, and those met in the log under the digest. A number alone may
//! count what a twin wrote under the same id.

mod event;
mod former;
mod keep;
mod memory;
mod page;
mod program;
mod recover;
mod storage;
mod talk;
#[cfg(test)]
mod tests;

use std::collections::VecDeque;
use std::sync::Arc;

use crate::book::Book;
use crate::entry::{DeviceSeq, Entry, Fact, Seq};
use crate::ids::DeviceId;
use crate::units::Millis;
use crate::wire::ExchangeReply;

pub use event::{Action, Event, Link, Notice, Status};
pub use memory::MemoryDisk;
pub use program::Program;
pub use storage::{CHECKPOINT_EVERY, Checkpoint, Meta, Stored, Transaction, read_from};

/// Names a keeping, so that the shell can tell its screen what became of it.
pub type Ticket = u64;

/// One device's side of the exchange.
#[derive(Debug)]
pub struct Engine {
    /// As it stands on the disk.
    meta: Meta,
    /// Every entry this device wrote under its id: `own[i]` has `device_seq` `i + 1`.
    own: Vec<Entry>,
    /// What it wrote under earlier ids and a server acknowledged, ordered by id.
    former: Vec<Entry>,
    /// The log up to the cursor, folded.
    confirmed: Arc<Book>,
    /// With own entries not yet placed folded on top.
    shown: Arc<Book>,
    /// Rows stored since the last checkpoint.
    since_checkpoint: usize,
    /// The transaction under way.
    storing: Option<Job>,
    /// The number of the last transaction.
    transactions: u64,
    /// Keepings waiting for their transaction.
    waiting: VecDeque<(Ticket, Fact)>,
    /// A reply waiting for a transaction to end.
    replied: Option<Replied>,
    /// The last page taken was the end of the log.
    at_end: bool,
    /// The fold it runs.
    program: Program,
    /// Another tab wrote while a transaction was under way.
    stale: bool,
    /// The disk was emptied under us: the next transaction writes every own entry again.
    emptied: bool,
    /// The exchange.
    talk: talk::Talk,
}

/// A reply, and what was asked.
#[derive(Debug)]
struct Replied {
    /// The cursor it was asked from.
    cursor: Seq,
    /// The last own entry that was known to be held or offered.
    offered: DeviceSeq,
    reply: ExchangeReply,
}

/// A transaction under way and what it means once stored.
#[derive(Debug)]
struct Job {
    number: u64,
    meta: Meta,
    work: Work,
}

#[derive(Debug)]
enum Work {
    Keep { ticket: Ticket, entry: Box<Entry>, fact: Fact },
    Page { confirmed: Book, rows: usize, checkpoint: bool, at_end: bool },
    Recover { own: Option<Vec<Entry>>, former: Option<Vec<Entry>>, confirmed: Option<Book> },
}

impl Engine {
    /// An engine over what the disk holds; `device` is used when it holds nothing yet.
    pub fn new(device: DeviceId, stored: Stored) -> Self {
        Self::running(Program::NEWEST, device, stored)
    }

    /// As [`Engine::new`], with the fold of another program.
    pub fn running(program: Program, device: DeviceId, stored: Stored) -> Self {
        let mut engine = Self {
            meta: Meta::new(device),
            own: Vec::new(),
            former: Vec::new(),
            confirmed: Arc::default(),
            shown: Arc::default(),
            since_checkpoint: 0,
            storing: None,
            transactions: 0,
            waiting: VecDeque::new(),
            replied: None,
            at_end: false,
            program,
            stale: false,
            emptied: false,
            talk: talk::Talk::default(),
        };
        engine.adopt(stored);
        engine
    }

    /// What happened, and what to do about it.
    pub fn on_event(&mut self, event: Event, now: Millis) -> Vec<Action> {
        let mut actions = Vec::new();
        match event {
            Event::Keep { ticket, fact } => self.waiting.push_back((ticket, fact)),
            Event::Stored { number } => self.stored(number, &mut actions),
            Event::StoreFailed { number, reason } => {
                self.store_failed(number, reason, now, &mut actions);
            }
            Event::Overtaken { number, stored } => self.overtaken(number, *stored, &mut actions),
            Event::Loaded(stored) => self.take_over(*stored, &mut actions),
            Event::OtherTabWrote => self.stale = true,
            Event::Leads(leads) => self.talk.leads = leads,
            Event::Joined => self.joined(),
            Event::Left => self.talk.joined = false,
            Event::Online => self.talk.try_now(),
            Event::Woke => {}
            Event::Announced(announcement) => self.talk.announced(announcement),
            Event::Replied { number, reply } => self.on_reply(number, *reply, now, &mut actions),
            Event::Refused { number, refusal } => {
                self.on_refusal(number, refusal, now, &mut actions);
            }
            Event::Unreachable { number } => self.on_unreachable(number, now),
            Event::SnapshotCame(snapshot) => self.on_snapshot(&snapshot, now, &mut actions),
            Event::Renewed { device } => self.on_renewed(device, now, &mut actions),
        }
        self.go_on(now, &mut actions);
        actions
    }

    /// The book to show: everything confirmed, and what this device kept.
    pub fn book(&self) -> Arc<Book> {
        Arc::clone(&self.shown)
    }

    /// This device.
    pub const fn device(&self) -> DeviceId {
        self.meta.device
    }

    /// How things stand, for the screen's header.
    pub fn status(&self) -> Status {
        Status {
            unsent: self.own.len() - to_len(self.meta.acked),
            kept: self.own.len(),
            link: self.talk.link(),
            skew_ms: self.talk.skew_ms,
        }
    }

    /// Entries of this device that no server has acknowledged, in order.
    pub fn outbox(&self) -> &[Entry] {
        &self.own[to_len(self.meta.acked)..]
    }

    /// As it stands on the disk.
    pub const fn meta(&self) -> &Meta {
        &self.meta
    }

    /// The log up to the cursor, folded, without what waits on this device.
    pub fn confirmed(&self) -> &Book {
        &self.confirmed
    }

    /// Whatever can be done next, once the event itself is dealt with.
    fn go_on(&mut self, now: Millis, actions: &mut Vec<Action>) {
        if self.storing.is_none() {
            if std::mem::take(&mut self.stale) {
                actions.push(Action::Load);
                return;
            }
            match self.replied.take() {
                Some(replied) if replied.cursor == self.meta.cursor => {
                    self.take_page(&replied, now, actions);
                }
                // Another tab read on meanwhile; this page no longer fits.
                Some(_) => self.talk.want(),
                None => {}
            }
        }
        if self.storing.is_none() && std::mem::take(&mut self.at_end) {
            self.bring_back_former(actions);
        }
        while self.storing.is_none() {
            let Some((ticket, fact)) = self.waiting.pop_front() else { break };
            self.keep(ticket, fact, now, actions);
        }
        self.exchange_if_due(now, actions);
    }

    fn store(&mut self, mut transaction: Transaction, work: Work, actions: &mut Vec<Action>) {
        assert!(self.storing.is_none(), "one transaction at a time");
        self.transactions += 1;
        transaction.number = self.transactions;
        transaction.expects = self.meta.generation;
        transaction.meta.generation = self.meta.generation + 1;
        if self.emptied && !transaction.forget_own {
            transaction.own.splice(0..0, self.own.iter().cloned());
            transaction.former.get_or_insert_with(|| self.former.clone());
        }
        self.storing =
            Some(Job { number: self.transactions, meta: transaction.meta.clone(), work });
        actions.push(Action::Store(Box::new(transaction)));
    }

    /// The job of transaction `number`, if that is the one under way.
    fn finish(&mut self, number: u64) -> Option<Job> {
        self.storing.take_if(|job| job.number == number)
    }

    fn stored(&mut self, number: u64, actions: &mut Vec<Action>) {
        let Some(job) = self.finish(number) else { return };
        self.meta = job.meta;
        self.emptied = false;
        match job.work {
            Work::Keep { ticket, entry, .. } => {
                self.program.fold(Arc::make_mut(&mut self.shown), [&*entry]);
                actions.push(Action::Kept { ticket, id: entry.id() });
                self.own.push(*entry);
            }
            Work::Page { confirmed, rows, checkpoint, at_end } => {
                self.at_end = at_end;
                self.since_checkpoint = if checkpoint { 0 } else { self.since_checkpoint + rows };
                self.confirmed = Arc::new(confirmed);
                self.refold();
            }
            Work::Recover { own, former, confirmed } => {
                self.at_end = false;
                self.own = own.unwrap_or_else(|| std::mem::take(&mut self.own));
                self.former = former.unwrap_or_else(|| std::mem::take(&mut self.former));
                if let Some(confirmed) = confirmed {
                    self.confirmed = Arc::new(confirmed);
                    self.since_checkpoint = 0;
                }
                self.refold();
            }
        }
        actions.push(Action::Show);
    }

    fn store_failed(
        &mut self,
        number: u64,
        reason: String,
        now: Millis,
        actions: &mut Vec<Action>,
    ) {
        let Some(job) = self.finish(number) else { return };
        match job.work {
            Work::Keep { ticket, fact, .. } => {
                actions.push(Action::NotKept { ticket, fact: Box::new(fact), reason });
            }
            // Nothing changed in memory; the next exchange brings the same page again.
            Work::Page { .. } | Work::Recover { .. } => {
                actions.push(Action::Tell(Notice::StorageFailed { reason }));
                self.talk.back_off(self.meta.device, now);
            }
        }
    }

    fn overtaken(&mut self, number: u64, stored: Stored, actions: &mut Vec<Action>) {
        let Some(job) = self.finish(number) else { return };
        if let Work::Keep { ticket, fact, .. } = job.work {
            self.waiting.push_front((ticket, fact));
        }
        self.talk.want();
        self.take_over(stored, actions);
    }

    /// What stands on the disk leads; but an empty disk under entries in memory was emptied by the
    /// browser, and then memory is all there is.
    fn take_over(&mut self, stored: Stored, actions: &mut Vec<Action>) {
        if stored.meta.is_none() && !self.own.is_empty() {
            self.write_anew(actions);
        } else {
            self.adopt(stored);
        }
        actions.push(Action::Show);
    }

    /// Takes over what the disk holds.
    fn adopt(&mut self, stored: Stored) {
        let device = self.meta.device;
        let unfolded = stored.unfold(device, self.program);
        self.meta = unfolded.meta;
        self.own = unfolded.own;
        self.former = unfolded.former;
        self.confirmed = Arc::new(unfolded.confirmed);
        self.since_checkpoint = unfolded.since_checkpoint;
        self.at_end = false;
        self.refold();
    }

    /// The shown book anew: the confirmed one, and what this device wrote that is not surely in it.
    /// Folding twice what is in it changes nothing that is shown.
    fn refold(&mut self) {
        self.shown = Arc::clone(&self.confirmed);
        let surely = to_len(self.meta.placed.min(self.meta.acked));
        let former = self.former.iter().filter(|entry| !former::is_held(&self.meta, entry));
        let mut waiting = former.chain(&self.own[surely..]).peekable();
        if waiting.peek().is_some() {
            self.program.fold(Arc::make_mut(&mut self.shown), waiting);
        }
    }
}

/// A device order as a length of `own`.
fn to_len(device_seq: DeviceSeq) -> usize {
    usize::try_from(device_seq).expect("a device holds its own entries in memory")
}
