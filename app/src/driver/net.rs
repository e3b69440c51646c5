//! The engine's calls to the server, the stream of announcements, and the clock that wakes it.

use std::pin::Pin;
use std::rc::Rc;
use std::time::Duration;

use leptos::prelude::*;
use shared_types::engine::Event;
use shared_types::ids::DeviceId;
use shared_types::units::Millis;
use shared_types::wire::{
    Enrolled, ExchangeReply, ExchangeRequest, RenewRequest, Snapshot, VERSION,
};

use super::{Driver, start};
use crate::farm::fresh;
use crate::shell::http::{self, Answer};
use crate::shell::live::Live;
use crate::shell::tabs::Word;
use crate::shell::{clock, js};

impl Driver {
    pub(super) fn exchange(self: &Rc<Self>, number: u64, request: Box<ExchangeRequest>) {
        let token = self.token();
        let ask = async move {
            http::post::<ExchangeReply>("/api/v1/exchange", &request, token.as_deref())
                .await
                .map(|reply| Event::Replied { number, reply: Box::new(reply) })
        };
        self.call(number, Box::pin(ask));
    }

    pub(super) fn fetch_snapshot(self: &Rc<Self>, number: u64) {
        let token = self.token();
        let ask = async move {
            http::get::<Snapshot>("/api/v1/snapshot", token.as_deref())
                .await
                .map(|snapshot| Event::SnapshotCame(Box::new(snapshot)))
        };
        self.call(number, Box::pin(ask));
    }

    /// Asks for a new device id. The id is written down first, so that a try whose answer was lost
    /// is made again under the same name.
    pub(super) fn renew(self: &Rc<Self>, number: u64) {
        let driver = Rc::clone(self);
        let ask =
            async move {
                let mut me = driver.farm().me.get_untracked();
                let device = *me.renewing.get_or_insert_with(|| fresh(DeviceId::new));
                if let Err(trouble) = driver.write_me(&me).await {
                    return Answer::Unreachable(trouble);
                }
                let request = RenewRequest { v: VERSION, device };
                let enrolled =
                    match http::post::<Enrolled>("/api/v1/renew", &request, me.token.as_deref())
                        .await
                    {
                        Answer::Ok(enrolled) => enrolled,
                        // The name is taken, by a copy of this phone perhaps that asked for it too:
                        // the next try makes another.
                        Answer::Refused(refusal) if refusal.code.status() == 400 => {
                            me.renewing = None;
                            let written = driver.write_me(&me).await;
                            return Answer::Unreachable(written.err().unwrap_or(refusal.message));
                        }
                        other => return other.map(|_| Event::Woke),
                    };
                me.device = enrolled.device;
                me.token = Some(enrolled.token);
                me.role = Some(enrolled.role);
                me.renewing = None;
                match driver.write_me(&me).await {
                    Ok(()) => Answer::Ok(Event::Renewed { device: enrolled.device }),
                    Err(trouble) => Answer::Unreachable(trouble),
                }
            };
        self.call(number, Box::pin(ask));
    }

    /// Writes who this phone is, without joining or leaving.
    async fn write_me(self: &Rc<Self>, me: &crate::farm::Me) -> Result<(), String> {
        self.disk.put_state(start::ME, me).await.map_err(|trouble| trouble.to_string())?;
        self.farm().me.set(me.clone());
        Ok(())
    }

    /// Asks, and brings the answer back as an event.
    fn call(self: &Rc<Self>, number: u64, ask: Pin<Box<dyn Future<Output = Answer<Event>>>>) {
        let driver = Rc::clone(self);
        wasm_bindgen_futures::spawn_local(async move {
            match ask.await {
                Answer::Ok(event @ (Event::SnapshotCame(_) | Event::Renewed { .. })) => {
                    driver.when_quiet.borrow_mut().push_back(event);
                    driver.deliver_when_quiet();
                    driver.tell_tabs(Word::Me);
                    driver.live.take();
                    driver.look_at_live();
                }
                Answer::Ok(event) => driver.dispatch(event),
                Answer::Refused(refusal) => driver.dispatch(Event::Refused { number, refusal }),
                Answer::Unreachable(_) => driver.dispatch(Event::Unreachable { number }),
            }
        });
    }

    fn token(&self) -> Option<String> {
        self.farm().me.with_untracked(|me| me.token.clone())
    }

    pub(super) fn wake_at(self: &Rc<Self>, at: Millis) {
        let wait = u64::try_from(at.since(clock::now())).unwrap_or(0);
        let driver = Rc::clone(self);
        let set = set_timeout_with_handle(
            move || driver.dispatch(Event::Woke),
            Duration::from_millis(wait),
        );
        debug_assert!(set.is_ok(), "a timer can always be set");
        if let Some(before) = self.wake.replace(set.ok()) {
            before.clear();
        }
    }

    /// Reads the stream of announcements while this tab leads, is joined and is in sight.
    pub(super) fn look_at_live(self: &Rc<Self>) {
        let in_sight = js::window().document().is_some_and(|document| !document.hidden());
        let token = self.token().filter(|_| in_sight && self.leads.get());
        let Some(token) = token else {
            self.live.take();
            return;
        };
        if self.live.borrow().is_some() {
            return;
        }
        let driver = Rc::downgrade(self);
        let live = Live::start(token, move |announcement| {
            if let Some(driver) = driver.upgrade() {
                driver.dispatch(Event::Announced(announcement));
            }
        });
        *self.live.borrow_mut() = live;
    }
}
