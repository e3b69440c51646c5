//! The engine's disk work, one thing after the other.
//!
//! One at a time and in order, each reported before the next begins: so a read that was asked for
//! before a write never overtakes it on the way back.

use std::rc::Rc;

use shared_types::engine::{Event, Transaction};

use super::Driver;
use crate::shell::idb::{Outcome, Trouble};
use crate::shell::memory::{self, Span};
use crate::shell::tabs::Word;
use crate::shell::{clock, worker};

/// When the page was last loaded again because the browser lost its storage.
const RELOADED: &str = "lugbook.reloaded";

/// A page is not loaded again within this time, so that a broken phone is not caught in a circle.
const RELOAD_AGAIN_MS: i64 = 60_000;

/// Something for the disk to do.
#[derive(Debug)]
pub(super) enum Work {
    Store(Box<Transaction>),
    Load,
}

impl Driver {
    pub(super) fn do_later(self: &Rc<Self>, work: Work) {
        self.work.borrow_mut().push_back(work);
        if !self.working.replace(true) {
            let driver = Rc::clone(self);
            wasm_bindgen_futures::spawn_local(async move { driver.work_on().await });
        }
    }

    async fn work_on(self: Rc<Self>) {
        loop {
            let work = self.work.borrow_mut().pop_front();
            match work {
                Some(Work::Store(transaction)) => self.store(&transaction).await,
                Some(Work::Load) => self.load().await,
                None => break,
            }
        }
        self.working.set(false);
        self.deliver_when_quiet();
    }

    async fn store(self: &Rc<Self>, transaction: &Transaction) {
        let number = transaction.number;
        match self.disk.store(transaction).await {
            Ok(Outcome::Stored) => {
                self.tell_tabs(Word::Wrote);
                self.dispatch(Event::Stored { number });
            }
            Ok(Outcome::Overtaken(stored)) => self.dispatch(Event::Overtaken { number, stored }),
            Err(trouble) => {
                let reason = self.words_for(&trouble).await;
                self.dispatch(Event::StoreFailed { number, reason });
                start_over_if_lost(&trouble);
            }
        }
    }

    async fn load(self: &Rc<Self>) {
        match self.disk.load().await {
            Ok(stored) => self.dispatch(Event::Loaded(Box::new(stored))),
            Err(trouble) => {
                let reason = self.words_for(&trouble).await;
                self.farm().tell(format!("What another tab kept could not be read. {reason}"));
                start_over_if_lost(&trouble);
            }
        }
    }

    pub(super) fn tell_tabs(&self, word: Word) {
        if let Some(tabs) = self.tabs.borrow().as_ref() {
            tabs.tell(word);
        }
    }
}

/// A connection that is lost twice in a row comes back only with a new page. What is being typed
/// outlives that; see `screens::pick`.
pub fn start_over_if_lost(trouble: &Trouble) {
    if !trouble.is_lost() {
        return;
    }
    let now = clock::now().0;
    let last: i64 = memory::recall(Span::Tab, RELOADED).unwrap_or(0);
    if (now - last).abs() >= RELOAD_AGAIN_MS && memory::remember(Span::Tab, RELOADED, &now) {
        worker::reload();
    }
}
