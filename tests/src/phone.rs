//! A phone without a screen: the real engine on a disk in memory, talking real HTTP.

use std::collections::VecDeque;

use serde::Serialize;
use serde::de::DeserializeOwned;
use shared_types::engine::{Action, Engine, Event, MemoryDisk, Notice, Stored};
use shared_types::entry::{BinKept, EntryId, Fact};
use shared_types::ids::*;
use shared_types::units::{Grams, Reading};
use shared_types::wire::{
    Code, EnrolRequest, Enrolled, Refusal, RefusalCode, RenewRequest, VERSION,
};

use crate::now;

/// A phone of number `n`; its ids and bins are derived from the number.
#[derive(Debug)]
pub struct Phone {
    /// Its number.
    pub n: u8,
    /// The engine it runs.
    pub engine: Engine,
    /// Its disk.
    pub disk: MemoryDisk,
    /// What it was told to be kept.
    pub kept: Vec<EntryId>,
    /// What else it was told.
    pub told: Vec<Notice>,
    /// How the house refused its exchanges.
    pub refused: Vec<RefusalCode>,
    /// Exchanges it made.
    pub calls: u32,
    url: String,
    token: Option<String>,
    http: reqwest::Client,
    names: u8,
}

/// How a call ended.
pub enum Answer<T> {
    /// Well.
    Came(T),
    /// With a refusal.
    Refused(Refusal),
    /// Not at all: no server, or one that broke off.
    Lost,
}

impl Phone {
    /// A new phone that will talk to the house at `url`.
    pub fn new(n: u8, url: &str) -> Self {
        let mut phone = Self {
            n,
            engine: Engine::new(device(n, 0), Stored::default()),
            disk: MemoryDisk::default(),
            kept: Vec::new(),
            told: Vec::new(),
            refused: Vec::new(),
            calls: 0,
            url: url.to_owned(),
            token: None,
            http: reqwest::Client::new(),
            names: 0,
        };
        phone.engine.on_event(Event::Leads(true), now());
        phone
    }

    /// Joins with a code.
    ///
    /// # Errors
    /// With the refusal.
    ///
    /// # Panics
    /// When the house does not answer.
    pub async fn join(&mut self, code: &str) -> Result<(), Refusal> {
        let request = EnrolRequest {
            v: VERSION,
            code: code.to_owned(),
            name: format!("Helper {}", self.n),
            device: self.engine.device(),
            person: PersonId::new(now(), [self.n; 10]),
        };
        match self.post::<Enrolled>("enrol", &request).await {
            Answer::Came(enrolled) => {
                self.token = Some(enrolled.token);
                Ok(())
            }
            Answer::Refused(refusal) => Err(refusal),
            Answer::Lost => panic!("no answer from {}", self.url),
        }
    }

    /// Asks the house for another code; only an owner gets one.
    ///
    /// # Panics
    /// When refused or not answered.
    pub async fn another_code(&self) -> String {
        match self.post::<Code>("codes", &serde_json::json!({})).await {
            Answer::Came(code) => code.code,
            Answer::Refused(refusal) => panic!("{refusal:?}"),
            Answer::Lost => panic!("no answer from {}", self.url),
        }
    }

    /// Keeps a bin of `grams`, its `bin`th, without talking to anyone.
    pub fn keep_bin(&mut self, bin: u32, grams: i64) {
        self.keep(bin_of(self.n, bin, grams));
    }

    /// Keeps a fact without talking to anyone.
    pub fn keep(&mut self, fact: impl Into<Fact>) {
        let fact = fact.into();
        let actions = self.engine.on_event(Event::Keep { ticket: 1, fact }, now());
        let mut queue: VecDeque<Action> = actions.into();
        while let Some(action) = queue.pop_front() {
            match self.on_disk(action) {
                Ok(event) => queue.extend(self.engine.on_event(event, now())),
                // A phone out of range: what it would send waits.
                Err(Action::Exchange { number, .. }) => {
                    queue.extend(self.engine.on_event(Event::Unreachable { number }, now()));
                }
                Err(other) => self.note(other),
            }
        }
    }

    /// Talks until nothing is left to send or fetch, or a call is lost. Says whether all went well.
    pub async fn exchange(&mut self) -> bool {
        let start = if self.token.is_some() { Event::Joined } else { Event::Online };
        let mut queue: VecDeque<Action> = self.engine.on_event(start, now()).into();
        let mut well = true;
        while let Some(action) = queue.pop_front() {
            let action = match self.on_disk(action) {
                Ok(event) => {
                    queue.extend(self.engine.on_event(event, now()));
                    continue;
                }
                Err(action) => action,
            };
            let (number, event) = match action {
                Action::Exchange { number, request } => {
                    self.calls += 1;
                    let reply = self.post("exchange", &*request).await;
                    (number, reply.map(|reply| Event::Replied { number, reply: Box::new(reply) }))
                }
                Action::FetchSnapshot { number } => {
                    (number, self.get("snapshot").await.map(|s| Event::SnapshotCame(Box::new(s))))
                }
                Action::Renew { number } => (number, self.renew().await),
                other => {
                    self.note(other);
                    continue;
                }
            };
            let event = match event {
                Answer::Came(event) => event,
                Answer::Refused(refusal) => {
                    self.refused.push(refusal.code.clone());
                    Event::Refused { number, refusal }
                }
                Answer::Lost => {
                    well = false;
                    Event::Unreachable { number }
                }
            };
            queue.extend(self.engine.on_event(event, now()));
        }
        well
    }

    /// The house moved, or is a new one at another port.
    pub fn talk_to(&mut self, url: &str) {
        url.clone_into(&mut self.url);
    }

    /// What the disk has to do with an action; any other action comes back.
    fn on_disk(&mut self, action: Action) -> Result<Event, Action> {
        match action {
            Action::Store(transaction) => {
                let number = transaction.number;
                Ok(if self.disk.write(&transaction) {
                    Event::Stored { number }
                } else {
                    Event::Overtaken { number, stored: Box::new(self.disk.load()) }
                })
            }
            Action::Load => Ok(Event::Loaded(Box::new(self.disk.load()))),
            other => Err(other),
        }
    }

    fn note(&mut self, action: Action) {
        match action {
            Action::Kept { id, .. } => self.kept.push(id),
            Action::NotKept { reason, .. } => panic!("not kept: {reason}"),
            Action::Tell(notice) => self.told.push(notice),
            _ => {}
        }
    }

    async fn renew(&mut self) -> Answer<Event> {
        self.names += 1;
        let device = device(self.n, self.names);
        match self.post::<Enrolled>("renew", &RenewRequest { v: VERSION, device }).await {
            Answer::Came(enrolled) => {
                self.token = Some(enrolled.token);
                Answer::Came(Event::Renewed { device })
            }
            Answer::Refused(refusal) => Answer::Refused(refusal),
            Answer::Lost => Answer::Lost,
        }
    }

    async fn get<T: DeserializeOwned>(&self, call: &str) -> Answer<T> {
        self.call(self.http.get(self.address(call))).await
    }

    async fn post<T: DeserializeOwned>(&self, call: &str, body: &impl Serialize) -> Answer<T> {
        self.call(self.http.post(self.address(call)).json(body)).await
    }

    fn address(&self, call: &str) -> String {
        format!("{}/api/v1/{call}", self.url)
    }

    async fn call<T: DeserializeOwned>(&self, request: reqwest::RequestBuilder) -> Answer<T> {
        let request = match &self.token {
            Some(token) => request.bearer_auth(token),
            None => request,
        };
        let Ok(response) = request.send().await else { return Answer::Lost };
        let well = response.status().is_success();
        let Ok(body) = response.bytes().await else { return Answer::Lost };
        if well {
            serde_json::from_slice(&body).map_or(Answer::Lost, Answer::Came)
        } else {
            serde_json::from_slice(&body).map_or(Answer::Lost, Answer::Refused)
        }
    }
}

impl<T> Answer<T> {
    fn map<U>(self, f: impl FnOnce(T) -> U) -> Answer<U> {
        match self {
            Self::Came(value) => Answer::Came(f(value)),
            Self::Refused(refusal) => Answer::Refused(refusal),
            Self::Lost => Answer::Lost,
        }
    }
}

fn device(n: u8, name: u8) -> DeviceId {
    let mut random = [n; 10];
    random[9] = name;
    DeviceId::new(shared_types::units::Millis(0), random)
}

/// The `bin`th bin of phone `n`.
pub fn bin_of(n: u8, bin: u32, grams: i64) -> Fact {
    let mut random = [n; 10];
    random[6..].copy_from_slice(&bin.to_be_bytes());
    let classes = ["ripe", "colouring", "green", "hurt"];
    BinKept {
        bin: BinId::new(now(), random),
        pick: PickId::new(shared_types::units::Millis(0), [1; 10]),
        place: PlaceId::new(shared_types::units::Millis(0), [bin as u8 % 5; 10]),
        crop: "tomato".into(),
        class: classes[bin as usize % classes.len()].into(),
        gross: Reading::from_grams(Grams(grams + 700)),
        tare: Grams(700),
        person: PersonId::new(shared_types::units::Millis(0), [n; 10]),
        at: now(),
        variety: Some(VarietyId::new(shared_types::units::Millis(0), [2; 10])),
        stage: None,
        defect: None,
        bin_type: Some(BinTypeId::new(shared_types::units::Millis(0), [3; 10])),
        room: None,
        tag: None,
    }
    .into()
}
