//! A start: read the disk, make the engine, and listen to the browser.

use std::cell::{Cell, RefCell};
use std::rc::Rc;

use leptos::prelude::*;
use shared_types::engine::{Engine, Event, Stored};

use super::Driver;
use crate::farm::{Farm, Me};
use crate::shell::idb::{Disk, Trouble};
use crate::shell::tabs::{Tabs, Word};
use crate::shell::{clock, js, locks, persist, worker};

/// Where [`Me`] stands in the store `state`.
pub(super) const ME: &str = "me";

/// What a start needs from the disk.
#[derive(Debug)]
pub struct Started {
    disk: Disk,
    stored: Stored,
    me: Me,
}

impl Started {
    /// Reads the disk; on the very first start also writes who this phone is.
    pub async fn read() -> Result<Self, Trouble> {
        let disk = Disk::default();
        let me = match disk.state(ME).await? {
            Some(me) => me,
            None => {
                let me = Me::first();
                disk.put_state(ME, &me).await?;
                me
            }
        };
        let stored = disk.load().await?;
        Ok(Self { disk, stored, me })
    }

    /// Makes the engine and everything around it. Called where signals may be made.
    pub fn begin(self) -> Farm {
        let engine = Engine::new(self.me.device, self.stored);
        let driver = Rc::new(Driver {
            engine: RefCell::new(engine),
            disk: self.disk,
            work: RefCell::default(),
            working: Cell::default(),
            when_quiet: RefCell::default(),
            keepers: RefCell::default(),
            tickets: Cell::default(),
            leads: Cell::default(),
            live: RefCell::default(),
            wake: RefCell::default(),
            tabs: RefCell::default(),
            farm: Cell::default(),
        });
        let farm = Farm::of(Rc::clone(&driver), self.me);
        driver.farm.set(Some(farm));
        driver.show_book();
        driver.listen();
        clock::keep_day(farm.today);
        worker::watch(farm.program);
        if farm.me.with_untracked(|me| me.token.is_some()) {
            driver.settle_renewal();
            driver.dispatch(Event::Joined);
        }
        driver.show_status();
        driver.lead_when_free();
        ask_to_last();
        farm
    }
}

impl Driver {
    /// A renewal that was confirmed, and cut off before the entries got their new name.
    fn settle_renewal(self: &Rc<Self>) {
        let device = self.farm().me.with_untracked(|me| me.device);
        if device != self.device() {
            self.dispatch(Event::Renewed { device });
        }
    }

    fn listen(self: &Rc<Self>) {
        let driver = Rc::clone(self);
        js::listen(&js::window(), "online", move |_| driver.try_now());
        if let Some(document) = js::window().document() {
            let driver = Rc::clone(self);
            js::listen(&document, "visibilitychange", move |_| driver.on_visibility());
        }
        let driver = Rc::clone(self);
        let tabs = Tabs::open(move |word| match word {
            Word::Wrote => driver.dispatch(Event::OtherTabWrote),
            Word::Me => driver.read_me(),
        });
        *self.tabs.borrow_mut() = Some(tabs);
    }

    fn on_visibility(self: &Rc<Self>) {
        if js::window().document().is_some_and(|document| !document.hidden()) {
            self.dispatch(Event::Online);
        }
        self.look_at_live();
    }

    fn read_me(self: &Rc<Self>) {
        let driver = Rc::clone(self);
        wasm_bindgen_futures::spawn_local(async move {
            match driver.disk.state(ME).await {
                Ok(Some(me)) => driver.take_me(me),
                Ok(None) => {}
                Err(trouble) => {
                    let reason = driver.words_for(&trouble).await;
                    driver.farm().tell(reason);
                }
            }
        });
    }

    fn lead_when_free(self: &Rc<Self>) {
        let driver = Rc::clone(self);
        locks::lead(move || {
            driver.leads.set(true);
            driver.dispatch(Event::Leads(true));
            driver.look_at_live();
        });
    }
}

/// Asks for storage that lasts. A no is shown under House, and asked again at the next start.
fn ask_to_last() {
    wasm_bindgen_futures::spawn_local(async {
        persist::ask().await;
    });
}
