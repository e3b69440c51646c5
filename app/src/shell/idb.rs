//! The phone's disk: IndexedDB.
//!
//! Database `lugbook`, version 1:
//!
//! | store | key | value |
//! |---|---|---|
//! | `own` | device seq | an [`Entry`] of this device |
//! | `rows` | seq | a [`LogRow`] |
//! | `state` | `meta`, `checkpoint`, `former`, `me` | [`Meta`], [`Checkpoint`], list of [`Entry`], [`Me`](crate::farm::Me) |
//!
//! Values are JSON text, so that a payload's bytes come back exactly as they were written. Success
//! is the transaction's `complete` under `durability: "strict"`, never a request's: a full disk may
//! show only as the transaction's `abort`, and without `strict` the browser says complete before
//! the bytes are on the disk. iOS can end the browser's storage process under a page: then the
//! database is opened once more and the work tried once more.

mod request;
mod store;

use std::cell::RefCell;
use std::fmt;
use std::rc::Rc;

use serde::Serialize;
use serde::de::DeserializeOwned;
use shared_types::engine::{Stored, Transaction};
use wasm_bindgen::closure::Closure;
use wasm_bindgen::{JsCast as _, JsValue};
use web_sys::{Event, IdbDatabase, IdbOpenDbRequest};

use super::js;
use request::Mode;

#[cfg(doc)]
use shared_types::engine::{Checkpoint, Meta};
#[cfg(doc)]
use shared_types::{entry::Entry, wire::LogRow};

const DATABASE: &str = "lugbook";
const VERSION: u32 = 1;
const OWN: &str = "own";
const ROWS: &str = "rows";
const STATE: &str = "state";

/// What came of storing a transaction.
#[derive(Debug)]
pub enum Outcome {
    /// It is on the disk.
    Stored,
    /// Another tab wrote first; nothing of it was written, and this is what stands there.
    Overtaken(Box<Stored>),
}

/// Why the disk could not be used.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Trouble {
    /// The browser's name for it, such as `QuotaExceededError`.
    pub name: String,
    /// What the browser says.
    pub message: String,
}

impl Trouble {
    /// Trouble of our own finding.
    fn own(message: impl Into<String>) -> Self {
        Self { name: "Unreadable".to_owned(), message: message.into() }
    }

    /// The connection is gone and another may work; if not, only a new page helps.
    pub fn is_lost(&self) -> bool {
        let may_be = matches!(self.name.as_str(), "InvalidStateError" | "UnknownError")
            || self.message.contains("onnection");
        may_be && !self.is_full() && !self.is_shut()
    }

    /// There is no room: by the browser's own count, or (in Chromium's words) on the disk itself.
    pub fn is_full(&self) -> bool {
        self.name == "QuotaExceededError" || self.message.contains("NO_SPACE")
    }

    /// Chromium cannot open its files; on a full disk this is how it goes on after the first
    /// failure. A new page would meet the same.
    pub fn is_shut(&self) -> bool {
        self.message.contains("Internal error")
    }
}

impl From<JsValue> for Trouble {
    fn from(error: JsValue) -> Self {
        Self { name: js::error_name(&error), message: js::error_message(&error) }
    }
}

impl fmt::Display for Trouble {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{}: {}", self.name, self.message)
    }
}

/// The database, opened when first needed.
#[derive(Debug, Default)]
pub struct Disk {
    handle: Rc<RefCell<Option<IdbDatabase>>>,
}

impl Disk {
    /// Everything the engine needs at a start.
    pub async fn load(&self) -> Result<Stored, Trouble> {
        self.twice(async |db, _| store::load(db).await).await
    }

    /// Stores a transaction, all or nothing.
    pub async fn store(&self, transaction: &Transaction) -> Result<Outcome, Trouble> {
        let stored =
            self.twice(async |db, again| store::store(db, transaction, again).await).await?;
        if stored {
            Ok(Outcome::Stored)
        } else {
            Ok(Outcome::Overtaken(Box::new(self.load().await?)))
        }
    }

    /// What stands in `state` under `key`.
    pub async fn state<T: DeserializeOwned>(&self, key: &str) -> Result<Option<T>, Trouble> {
        self.twice(async |db, _| {
            let (transaction, _ended) = request::begin(db, &[STATE], Mode::Read)?;
            request::read(&transaction.object_store(STATE)?.get(&key.into())?).await
        })
        .await
    }

    /// Puts `value` in `state` under `key`.
    pub async fn put_state(&self, key: &str, value: &impl Serialize) -> Result<(), Trouble> {
        let text = request::text(value)?;
        self.twice(async |db, _| {
            let (transaction, ended) = request::begin(db, &[STATE], Mode::Write)?;
            transaction.object_store(STATE)?.put_with_key(&text, &key.into())?;
            ended.wait().await
        })
        .await
    }

    /// Does `work`; once more with a new connection when the first one is lost. `work` is told
    /// whether it is the second time.
    async fn twice<T>(
        &self,
        work: impl AsyncFn(&IdbDatabase, bool) -> Result<T, Trouble>,
    ) -> Result<T, Trouble> {
        let first = match self.open().await {
            Ok(db) => work(&db, false).await,
            Err(trouble) => Err(trouble),
        };
        match first {
            Err(trouble) if trouble.is_lost() => {
                self.let_go();
                work(&self.open().await?, true).await
            }
            // A connection that failed for want of room is closed by the browser.
            Err(trouble) if trouble.is_full() => {
                self.let_go();
                Err(trouble)
            }
            other => other,
        }
    }

    fn let_go(&self) {
        if let Some(db) = self.handle.take() {
            db.close();
        }
    }

    async fn open(&self) -> Result<IdbDatabase, Trouble> {
        if let Some(db) = self.handle.borrow().as_ref() {
            return Ok(db.clone());
        }
        let factory = js::window().indexed_db()?.ok_or_else(|| Trouble {
            name: "NotSupportedError".to_owned(),
            message: "this browser has no IndexedDB, or denies it".to_owned(),
        })?;
        let opening = factory.open_with_u32(DATABASE, VERSION)?;
        let upgrade = Closure::once(|event: Event| make_stores(&event));
        opening.set_onupgradeneeded(Some(upgrade.as_ref().unchecked_ref()));
        let db: IdbDatabase = request::answer(&opening).await?.dyn_into()?;
        self.give_way(&db);
        *self.handle.borrow_mut() = Some(db.clone());
        Ok(db)
    }

    /// A newer program in another tab may change the stores: this one closes, so as not to be in
    /// its way, and a browser that ends the connection is not held on to.
    fn give_way(&self, db: &IdbDatabase) {
        let handle = Rc::clone(&self.handle);
        let gone = Closure::<dyn FnMut(Event)>::new(move |_| {
            if let Some(db) = handle.take() {
                db.close();
            }
        });
        db.set_onversionchange(Some(gone.as_ref().unchecked_ref()));
        db.set_onclose(Some(gone.as_ref().unchecked_ref()));
        // Lives as long as the connection, of which there are few.
        gone.forget();
    }
}

/// Makes the stores that are not there. Never drops one: they may hold what was not sent.
fn make_stores(event: &Event) {
    let made = || -> Option<()> {
        let opening: IdbOpenDbRequest = event.target()?.dyn_into().ok()?;
        let db: IdbDatabase = opening.result().ok()?.dyn_into().ok()?;
        let names = db.object_store_names();
        for name in [OWN, ROWS, STATE] {
            if !names.contains(name) {
                db.create_object_store(name).ok()?;
            }
        }
        Some(())
    };
    // A store that could not be made shows at once: every later transaction names it.
    let _shows_later = made();
}
