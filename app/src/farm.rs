//! What every screen works with: the book as it stands, who holds the phone, and how to keep.

use std::rc::Rc;
use std::sync::Arc;

use leptos::prelude::*;
use serde::de::DeserializeOwned;
use serde::{Deserialize, Serialize};
use shared_types::book::Book;
use shared_types::engine::{Link, Status};
use shared_types::entry::{EntryId, Fact};
use shared_types::ids::{DeviceId, PersonId};
use shared_types::units::{Day, Millis, WeightUnit};
use shared_types::wire::Role;

use crate::driver::Driver;
use crate::shell::http::{self, Answer};
use crate::shell::worker::Program;
use crate::shell::{clock, random};
use crate::words;

/// Who this phone is and whose. Stored under `me` on the phone's disk.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct Me {
    /// The id the device made for itself.
    pub device: DeviceId,
    /// The id it made for the person who holds it.
    pub person: PersonId,
    /// What the person is called, once they said.
    pub name: Option<String>,
    /// The secret of a joined device.
    pub token: Option<String>,
    /// What a joined device may do.
    pub role: Option<Role>,
    /// The first screen was answered.
    pub begun: bool,
    /// An id asked for and not yet confirmed; asked for again under the same name.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub renewing: Option<DeviceId>,
}

impl Me {
    /// A phone opened for the first time.
    pub fn first() -> Self {
        Self {
            device: fresh(DeviceId::new),
            person: fresh(PersonId::new),
            name: None,
            token: None,
            role: None,
            begun: false,
            renewing: None,
        }
    }
}

/// A new name for a thing: the phone's time and randomness.
pub fn fresh<T>(make: fn(Millis, [u8; 10]) -> T) -> T {
    make(clock::now(), random::bytes())
}

/// The context of every screen.
#[derive(Clone, Copy, Debug)]
pub struct Farm {
    /// The confirmed book with this phone's own entries on top.
    pub book: RwSignal<Arc<Book>>,
    /// How things stand with the server.
    pub status: RwSignal<Status>,
    /// Who this phone is.
    pub me: RwSignal<Me>,
    /// The calendar day where the phone is.
    pub today: RwSignal<Day>,
    /// Remarks for the person, in words, latest last.
    pub notices: RwSignal<Vec<String>>,
    /// The program and its service worker.
    pub program: RwSignal<Program>,
    /// Something is typed and not yet kept: no time for an update.
    pub typing: RwSignal<bool>,
    /// Keepings under way.
    pub keeping: RwSignal<usize>,
    driver: StoredValue<Rc<Driver>, LocalStorage>,
}

/// The farm, inside any screen.
pub fn use_farm() -> Farm {
    expect_context()
}

impl Farm {
    /// The signals around a driver; see [`Driver::start`].
    pub(crate) fn of(driver: Rc<Driver>, me: Me) -> Self {
        let status = Status { unsent: 0, kept: 0, link: Link::NotJoined, skew_ms: None };
        Self {
            book: RwSignal::new(Arc::default()),
            status: RwSignal::new(status),
            me: RwSignal::new(me),
            today: RwSignal::new(clock::day_of(clock::now())),
            notices: RwSignal::new(Vec::new()),
            program: RwSignal::new(Program::default()),
            typing: RwSignal::new(false),
            keeping: RwSignal::new(0),
            driver: StoredValue::new_local(driver),
        }
    }

    fn driver(self) -> Rc<Driver> {
        self.driver.get_value()
    }

    /// Keeps a fact: `Ok` only when it is on the phone's disk, otherwise words for the person.
    pub async fn keep(self, fact: impl Into<Fact>) -> Result<EntryId, String> {
        let fact = fact.into();
        self.keeping.update(|n| *n += 1);
        let kept = self.driver().keep(fact).await;
        self.keeping.update(|n| *n -= 1);
        kept
    }

    /// Keeps a fact from an event handler, and says how it went.
    pub fn keep_then(
        self,
        fact: impl Into<Fact>,
        then: impl FnOnce(Result<EntryId, String>) + 'static,
    ) {
        let fact = fact.into();
        wasm_bindgen_futures::spawn_local(async move { then(self.keep(fact).await) });
    }

    /// Now, by the phone's clock.
    pub fn now(self) -> Millis {
        clock::now()
    }

    /// The time of day of `at` where the phone is: `14:02`.
    pub fn time(self, at: Millis) -> String {
        words::time(at, clock::offset_minutes(at))
    }

    /// A new name for a thing.
    pub fn fresh<T>(self, make: fn(Millis, [u8; 10]) -> T) -> T {
        fresh(make)
    }

    /// Who holds this phone. Not tracked: it never changes.
    pub fn person(self) -> PersonId {
        self.me.with_untracked(|me| me.person)
    }

    /// What weights are shown in. Tracked.
    pub fn unit(self) -> WeightUnit {
        self.book.with(|book| book.holding.unit())
    }

    /// Whether the server takes what this phone writes; keeping works anyhow. Tracked.
    pub fn may_write(self) -> bool {
        self.me.with(|me| me.role != Some(Role::Viewer))
    }

    /// Whether this phone lets others in and out. Tracked.
    pub fn is_owner(self) -> bool {
        self.me.with(|me| me.role == Some(Role::Owner))
    }

    /// Asks the server, with this phone's token.
    pub async fn get<T: DeserializeOwned>(self, path: &str) -> Answer<T> {
        let token = self.me.with_untracked(|me| me.token.clone());
        http::get(path, token.as_deref()).await
    }

    /// Sends to the server, with this phone's token.
    pub async fn post<T: DeserializeOwned>(self, path: &str, body: &impl Serialize) -> Answer<T> {
        let token = self.me.with_untracked(|me| me.token.clone());
        http::post(path, body, token.as_deref()).await
    }

    /// Writes who this phone is to its disk, then shows it and tells the other tabs.
    pub async fn set_me(self, change: impl FnOnce(&mut Me)) -> Result<(), String> {
        let mut me = self.me.get_untracked();
        change(&mut me);
        self.driver().set_me(me).await
    }

    /// The device under which entries are written now. Differs from the first one after a fork.
    pub fn device(self) -> DeviceId {
        self.driver().device()
    }

    /// Tries to reach the server now.
    pub fn try_now(self) {
        self.driver().try_now();
    }

    /// Tells the person something, once.
    pub fn tell(self, words: String) {
        self.notices.update(|notices| {
            if !notices.contains(&words) {
                notices.push(words);
            }
        });
    }
}
