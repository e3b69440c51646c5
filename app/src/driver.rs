//! Drives the engine: brings it what happened, carries out what it asks for, and brings back how
//! that went. Nothing is decided here.

pub(crate) mod disk;
mod net;
pub(crate) mod notices;
mod start;

use std::cell::{Cell, RefCell};
use std::collections::{BTreeMap, VecDeque};
use std::rc::Rc;
use std::sync::Arc;

use futures_channel::oneshot;
use leptos::prelude::*;
use shared_types::engine::{Action, Engine, Event, Notice, Ticket};
use shared_types::entry::{EntryId, Fact};
use shared_types::ids::DeviceId;

use crate::farm::{Farm, Me};
use crate::shell::clock;
use crate::shell::idb::{Disk, Trouble};
use crate::shell::live::Live;
use crate::shell::tabs::Tabs;

pub use start::Started;

/// Waits for what became of a keeping.
type Keeper = oneshot::Sender<Result<EntryId, String>>;

/// The engine and everything around it.
#[derive(Debug)]
pub struct Driver {
    engine: RefCell<Engine>,
    disk: Disk,
    /// Work for the disk, in the order the engine asked for it, and whether it is being done.
    work: RefCell<VecDeque<disk::Work>>,
    working: Cell<bool>,
    /// Answers that the engine takes only while it stores nothing.
    when_quiet: RefCell<VecDeque<Event>>,
    keepers: RefCell<BTreeMap<Ticket, Keeper>>,
    tickets: Cell<Ticket>,
    leads: Cell<bool>,
    live: RefCell<Option<Live>>,
    wake: RefCell<Option<TimeoutHandle>>,
    tabs: RefCell<Option<Tabs>>,
    farm: Cell<Option<Farm>>,
}

impl Driver {
    /// What happened, and everything that follows from it.
    fn dispatch(self: &Rc<Self>, event: Event) {
        let actions = self.engine.borrow_mut().on_event(event, clock::now());
        for action in actions {
            self.carry_out(action);
        }
        self.show_status();
        self.deliver_when_quiet();
    }

    fn carry_out(self: &Rc<Self>, action: Action) {
        match action {
            Action::Store(transaction) => self.do_later(disk::Work::Store(transaction)),
            Action::Load => self.do_later(disk::Work::Load),
            Action::Kept { ticket, id } => self.answer_keeper(ticket, Ok(id)),
            Action::NotKept { ticket, reason, .. } => self.answer_keeper(ticket, Err(reason)),
            Action::Exchange { number, request } => self.exchange(number, request),
            Action::FetchSnapshot { number } => self.fetch_snapshot(number),
            Action::Renew { number } => self.renew(number),
            Action::Wake(at) => self.wake_at(at),
            Action::Show => self.show_book(),
            Action::Tell(notice) => {
                if notice == Notice::Evicted {
                    self.write_me_anew();
                }
                self.farm().tell(notices::notice_words(&notice));
            }
        }
    }

    /// Writes down again who this phone is, after the browser emptied its storage.
    fn write_me_anew(self: &Rc<Self>) {
        let driver = Rc::clone(self);
        wasm_bindgen_futures::spawn_local(async move {
            let farm = driver.farm();
            let me = farm.me.get_untracked();
            if let Err(words) = driver.set_me(me).await {
                farm.tell(words);
            }
        });
    }

    /// Keeps a fact; resolves when the engine says what became of it.
    pub async fn keep(self: Rc<Self>, fact: Fact) -> Result<EntryId, String> {
        let ticket = self.tickets.get() + 1;
        self.tickets.set(ticket);
        let (keeper, kept) = oneshot::channel();
        self.keepers.borrow_mut().insert(ticket, keeper);
        self.dispatch(Event::Keep { ticket, fact });
        kept.await.unwrap_or_else(|_| Err("the app is closing: this was not kept".to_owned()))
    }

    fn answer_keeper(&self, ticket: Ticket, answer: Result<EntryId, String>) {
        if let Some(keeper) = self.keepers.borrow_mut().remove(&ticket)
            && let Err(Err(reason)) = keeper.send(answer)
        {
            // Whoever asked is gone, but a thing not kept must still be said.
            self.farm().tell(format!("Not kept. {reason}"));
        }
    }

    /// The device under which entries are written now.
    pub fn device(&self) -> DeviceId {
        self.engine.borrow().device()
    }

    /// Tries to reach the server now.
    pub fn try_now(self: &Rc<Self>) {
        self.dispatch(Event::Online);
        self.look_at_live();
    }

    /// Writes who this phone is; joined or left follows from the token.
    pub async fn set_me(self: Rc<Self>, me: Me) -> Result<(), String> {
        if let Err(trouble) = self.disk.put_state(start::ME, &me).await {
            return Err(self.words_for(&trouble).await);
        }
        self.take_me(me);
        self.tell_tabs(crate::shell::tabs::Word::Me);
        Ok(())
    }

    /// Shows who this phone is, and joins or leaves when the token changed.
    fn take_me(self: &Rc<Self>, me: Me) {
        let farm = self.farm();
        let before = farm.me.with_untracked(|me| me.token.clone());
        let now = me.token.clone();
        farm.me.set(me);
        if before != now {
            self.dispatch(if now.is_some() { Event::Joined } else { Event::Left });
            self.live.take();
            self.look_at_live();
        }
    }

    fn farm(&self) -> Farm {
        self.farm.get().expect("the driver is attached before its first event")
    }

    fn show_book(&self) {
        let book = self.engine.borrow().book();
        let farm = self.farm();
        if farm.book.with_untracked(|shown| !Arc::ptr_eq(shown, &book)) {
            farm.book.set(book);
        }
    }

    fn show_status(&self) {
        let status = self.engine.borrow().status();
        let farm = self.farm();
        if farm.status.with_untracked(|shown| *shown != status) {
            farm.status.set(status);
        }
    }

    fn deliver_when_quiet(self: &Rc<Self>) {
        let is_quiet = self.work.borrow().is_empty() && !self.working.get();
        if is_quiet {
            let event = self.when_quiet.borrow_mut().pop_front();
            if let Some(event) = event {
                self.dispatch(event);
            }
        }
    }

    /// Trouble with the disk in words for a person, with the numbers.
    async fn words_for(&self, trouble: &Trouble) -> String {
        let room = crate::shell::persist::room().await;
        notices::trouble_words(trouble, room)
    }
}
