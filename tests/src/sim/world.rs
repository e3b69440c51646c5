//! The world: virtual time, one queue of what is to happen, and everything that happens in it.

use std::collections::{BTreeMap, BTreeSet, VecDeque};
use std::hash::{DefaultHasher, Hash as _, Hasher as _};

use shared_types::engine::{Event, Link, Notice, Transaction};
use shared_types::entry::Fact;
use shared_types::ids::{DeviceId, EpochId};
use shared_types::units::{HOUR_MS, MINUTE_MS, Millis};
use shared_types::wire::{Announcement, Role};

use super::case::SPAN_S;
use super::deeds::{self, key};
use super::device::{Armed, Device};
use super::net::{Arrival, Reply};
use super::server::{Plug, Server};
use super::{Broken, Case, Do, Fate, Report, Sabotage, Step, What};

/// When a case begins: evening of a day in October 2026.
pub(super) const BEGIN: Millis = Millis(1_791_500_000_000);

/// How long the devices have to come to rest once nothing goes wrong any more.
const REST_WITHIN_MS: i64 = HOUR_MS;

/// How long a transaction takes to be on the disk.
const DISK_MS: i64 = 5;

#[derive(Debug)]
pub(super) enum Ev {
    Step(usize),
    Trouble(usize),
    Calm,
    Wake { device: usize, life: u64 },
    DiskDone { device: usize, life: u64, transaction: Box<Transaction> },
    DiskRead { device: usize, life: u64 },
    Open(usize),
    Mend(usize),
    Arrive(Box<Arrival>),
    Answer(Box<Reply>),
    Announced { device: usize, life: u64, announcement: Announcement },
    ServerUp,
    ServerHasRoom,
}

pub(super) struct World<'a> {
    pub case: &'a Case,
    pub sabotage: Sabotage,
    pub now: Millis,
    queue: BTreeMap<(Millis, u64), Ev>,
    order: u64,
    pub server: Server,
    pub server_down: bool,
    /// Counts copies put in the server's place: what was promised before no longer binds it.
    pub server_life: u64,
    /// What phones were told to be on the server's disk, by device.
    pub promised: BTreeMap<DeviceId, u64>,
    pub devices: Vec<Device>,
    pub calls: usize,
    pub calm: bool,
    names: u64,
    tickets: u64,
    /// What was ever on some disk, and how often; see `deeds::key`.
    pub committed: BTreeMap<String, u32>,
    /// What every holder of it lost.
    pub destroyed: BTreeSet<String>,
    pub report: Report,
    pub trace: DefaultHasher,
}

impl<'a> World<'a> {
    pub fn new(case: &'a Case, sabotage: Sabotage) -> Self {
        let mut world = Self {
            case,
            sabotage,
            now: BEGIN,
            queue: BTreeMap::new(),
            order: 0,
            server: Server::new(EpochId::new(BEGIN, [1; 10]), sabotage),
            server_down: false,
            server_life: 0,
            promised: BTreeMap::new(),
            devices: Vec::new(),
            calls: 0,
            calm: false,
            names: 0,
            tickets: 0,
            committed: BTreeMap::new(),
            destroyed: BTreeSet::new(),
            report: Report::default(),
            trace: DefaultHasher::new(),
        };
        for device in 0..case.devices {
            let name = world.fresh();
            world.devices.push(Device::new(name));
            world.at(device as i64 * 1_000, Ev::Open(device));
        }
        for (n, Step(second, ..)) in case.steps.iter().enumerate() {
            world.at(second * 1_000, Ev::Step(n));
        }
        for (n, trouble) in case.troubles.iter().enumerate() {
            world.at(trouble.0 * 1_000, Ev::Trouble(n));
        }
        world.at(SPAN_S * 1_000, Ev::Calm);
        world
    }

    /// Lives the case to its end and holds the laws against it.
    pub fn live(mut self) -> Result<Report, Broken> {
        let mut until = None;
        while let Some(((at, _), event)) = self.queue.pop_first() {
            self.now = self.now.max(at);
            self.happens(event)?;
            if self.calm {
                let until = *until.get_or_insert(self.now.plus(REST_WITHIN_MS));
                if self.at_rest() {
                    break;
                }
                if self.now > until {
                    return Err(self.restless());
                }
            }
        }
        self.hold_laws_at_rest()?;
        self.report.device_days +=
            self.devices.len() as f64 * self.now.since(BEGIN) as f64 / (24 * HOUR_MS) as f64;
        self.server.epoch().hash(&mut self.trace);
        for entry in self.server.log() {
            entry.hash().0.hash(&mut self.trace);
        }
        self.report.trace = self.trace.finish();
        Ok(self.report)
    }

    /// Puts `event` in the queue `after_ms` from now.
    pub fn at(&mut self, after_ms: i64, event: Ev) {
        self.order += 1;
        self.queue.insert((self.now.plus(after_ms.max(0)), self.order), event);
    }

    /// A name no other device has.
    pub fn fresh(&mut self) -> DeviceId {
        self.names += 1;
        let mut random = [3; 10];
        random[2..].copy_from_slice(&self.names.to_be_bytes());
        DeviceId::new(self.now, random)
    }

    /// What device `d` takes the time to be.
    pub fn clock_of(&self, d: usize) -> Millis {
        self.now.plus(self.devices[d].clock_off)
    }

    pub fn is_life(&self, d: usize, life: u64) -> bool {
        self.devices[d].engine.is_some() && self.devices[d].life == life
    }

    pub fn count(&mut self, what: impl Into<String>) {
        *self.report.counts.entry(what.into()).or_default() += 1;
    }

    fn happens(&mut self, event: Ev) -> Result<(), Broken> {
        match event {
            Ev::Step(n) => self.step(self.case.steps[n]),
            Ev::Trouble(n) => self.trouble(self.case.troubles[n]),
            Ev::Calm => self.become_calm(),
            Ev::Wake { device, life } if self.is_life(device, life) => {
                self.tell(device, Event::Woke)
            }
            Ev::DiskDone { device, life, transaction } if self.is_life(device, life) => {
                self.disk_done(device, *transaction)
            }
            Ev::DiskRead { device, life } if self.is_life(device, life) => {
                self.devices[device].pending -= 1;
                let version = self.sabotage.program(self.devices[device].old).fold_version;
                let stored = self.devices[device].disk.load_for(version);
                self.tell(device, Event::Loaded(Box::new(stored)))
            }
            Ev::Open(device) => self.open(device),
            Ev::Mend(device) => self.mend(device),
            Ev::Arrive(arrival) => self.arrive(*arrival),
            Ev::Answer(reply) => self.answer(*reply),
            Ev::Announced { device, life, announcement } if self.is_life(device, life) => {
                self.tell(device, Event::Announced(announcement))
            }
            Ev::ServerUp => {
                self.server_down = false;
                Ok(())
            }
            Ev::ServerHasRoom => {
                self.server.set_full(false);
                Ok(())
            }
            Ev::Wake { .. } | Ev::DiskDone { .. } | Ev::DiskRead { .. } | Ev::Announced { .. } => {
                Ok(())
            }
        }
    }

    /// Tells the engine of device `d` something and carries out what it asks for.
    pub fn tell(&mut self, d: usize, event: Event) -> Result<(), Broken> {
        let mut events = VecDeque::from([event]);
        while let Some(event) = events.pop_front() {
            let now = self.clock_of(d);
            let Some(engine) = self.devices[d].engine.as_mut() else { return Ok(()) };
            let actions = engine.on_event(event, now);
            let meta = engine.meta();
            (self.now, d, actions.len(), meta.cursor, meta.acked, meta.placed)
                .hash(&mut self.trace);
            for action in actions {
                self.carry_out(d, action)?;
            }
            if self.devices[d].pending == 0 {
                events.extend(self.devices[d].quiet.pop_front());
            }
        }
        let link = self.devices[d].engine.as_ref().map(|engine| engine.status().link);
        let stopped = matches!(link, Some(Link::Stopped(_) | Link::NotJoined));
        if stopped && !self.devices[d].mending {
            self.devices[d].mending = true;
            self.at(2 * MINUTE_MS, Ev::Mend(d));
        }
        Ok(())
    }

    fn carry_out(&mut self, d: usize, action: shared_types::engine::Action) -> Result<(), Broken> {
        use shared_types::engine::Action;
        let life = self.devices[d].life;
        match action {
            Action::Store(transaction) => {
                self.devices[d].pending += 1;
                self.at(DISK_MS, Ev::DiskDone { device: d, life, transaction });
            }
            Action::Load => {
                self.devices[d].pending += 1;
                self.at(DISK_MS, Ev::DiskRead { device: d, life });
            }
            Action::Kept { id, .. } => {
                self.report.kept += 1;
                let own = self.devices[d].disk.load().own;
                if !own.iter().any(|entry| entry.id() == id) && !self.devices[d].evicted {
                    return Err(Broken(format!("{id:?} was called kept and is not on the disk")));
                }
            }
            Action::NotKept { .. } => self.count("not kept, and said so"),
            Action::Exchange { number, request } => {
                let body = serde_json::to_vec(&*request).expect("a request is written as JSON");
                self.devices[d].rounds += u32::from(self.calm);
                self.call(d, number, super::net::Call::Exchange(body));
            }
            Action::FetchSnapshot { number } => self.call(d, number, super::net::Call::Snapshot),
            Action::Renew { number } => {
                let fresh = self.fresh();
                let to = *self.devices[d].me.renewing.get_or_insert(fresh);
                self.call(d, number, super::net::Call::Renew(to));
            }
            Action::Wake(at) => {
                let wait = at.since(self.clock_of(d));
                self.at(wait, Ev::Wake { device: d, life });
            }
            Action::Show => self.hold_laws_of_showing(d)?,
            Action::Tell(notice) => {
                let name = format!("{notice:?}");
                let name = name.split([' ', '{']).next().unwrap_or_default();
                self.count(format!("told {name}"));
                if notice == Notice::Evicted {
                    self.count("evicted while open, written anew");
                }
            }
        }
        Ok(())
    }

    fn disk_done(&mut self, d: usize, mut transaction: Transaction) -> Result<(), Broken> {
        self.devices[d].pending -= 1;
        if self.sabotage == Sabotage::FormerForgotten && transaction.former.is_some() {
            transaction.former = Some(Vec::new());
        }
        let number = transaction.number;
        let device = &mut self.devices[d];
        if device.armed == Some(Armed::Before) {
            self.count("killed before the store");
            return self.kill(d);
        }
        if std::mem::take(&mut device.quota_full) {
            self.count("quota full");
            return self.tell(d, Event::StoreFailed { number, reason: "no room".into() });
        }
        if !device.disk.write(&transaction) {
            self.count("overtaken by another tab");
            let version = self.sabotage.program(self.devices[d].old).fold_version;
            let stored = Box::new(self.devices[d].disk.load_for(version));
            return self.tell(d, Event::Overtaken { number, stored });
        }
        let was_evicted = std::mem::take(&mut device.evicted);
        let takes_back = transaction.former.is_some() && !transaction.forget_own;
        if takes_back && !was_evicted && !transaction.own.is_empty() {
            self.count("written again under a later id");
            self.hold_law_of_writing_again(d, &transaction)?;
        }
        let wrote: Vec<String> = transaction.own.iter().map(key).collect();
        self.note_committed(d, wrote);
        if self.devices[d].armed == Some(Armed::After) {
            self.count("killed between commit and send");
            return self.kill(d);
        }
        self.tell(d, Event::Stored { number })
    }

    pub fn note_committed(&mut self, d: usize, wrote: Vec<String>) {
        for key in wrote {
            if self.devices[d].ever.insert(key.clone()) {
                *self.committed.entry(key).or_default() += 1;
            }
        }
    }

    /// Killed at once; opened again later.
    pub fn kill(&mut self, d: usize) -> Result<(), Broken> {
        self.devices[d].armed = None;
        self.report.kills += 1;
        self.stop(d);
        self.at(MINUTE_MS, Ev::Open(d));
        Ok(())
    }

    pub fn stop(&mut self, d: usize) {
        let fresh = self.fresh();
        if self.devices[d].stop(fresh) {
            self.recount_destroyed();
        }
    }

    pub fn open(&mut self, d: usize) -> Result<(), Broken> {
        if self.devices[d].engine.is_some() || self.devices[d].gone {
            return Ok(());
        }
        let program = self.sabotage.program(self.devices[d].old);
        for event in self.devices[d].start(program) {
            self.tell(d, event)?;
        }
        Ok(())
    }

    /// The person sees that the app has stopped: asks for a code, or opens it again.
    fn mend(&mut self, d: usize) -> Result<(), Broken> {
        self.devices[d].mending = false;
        let Some(engine) = &self.devices[d].engine else { return Ok(()) };
        let link = engine.status().link;
        let out = match &link {
            Link::NotJoined => true,
            Link::Stopped(refusal) => matches!(refusal.code.status(), 401 | 403),
            _ => return Ok(()),
        };
        if !out {
            self.count(format!("opened again after: {link:?}"));
            self.stop(d);
            return self.open(d);
        }
        let device = self.devices[d].me.device;
        let (down, now) = (self.server_down, self.now);
        let let_in = |role, server: &mut Server| server.let_in(device, role, now);
        let enrolled = match down {
            true => None,
            false => let_in(Role::Helper, &mut self.server)
                .or_else(|_| let_in(Role::Owner, &mut self.server))
                .ok(),
        };
        match enrolled {
            Some(enrolled) => {
                self.devices[d].me.token = Some(enrolled.token);
                self.count("joined with a code");
                self.tell(d, Event::Joined)
            }
            None => {
                self.devices[d].mending = true;
                self.at(5 * MINUTE_MS, Ev::Mend(d));
                Ok(())
            }
        }
    }

    fn step(&mut self, Step(_, device, deed, n): Step) -> Result<(), Broken> {
        let d = device % self.devices.len();
        match deed {
            Do::Close(minutes) => {
                self.stop(d);
                self.at(i64::from(minutes) * MINUTE_MS, Ev::Open(d));
            }
            Do::Upgrade => return self.upgrade(d),
            Do::Revoke => {
                let id = self.devices[d].me.device;
                if !self.server_down && self.server.revoke(id, self.now).unwrap_or(false) {
                    self.count("shut out");
                }
            }
            Do::ManyBins(thirties) => {
                self.open(d)?;
                for i in 0..u32::from(thirties) * 30 {
                    let fact = deeds::bin(d, 100_000 + i, 1_000 + i64::from(i), self.now, None);
                    self.keep(d, fact)?;
                }
            }
            Do::InOtherTab => return self.keep_in_other_tab(d, n),
            _ => {
                // Whoever wants to keep something opens the app.
                self.open(d)?;
                let at = self.clock_of(d);
                let Some(engine) = &self.devices[d].engine else { return Ok(()) };
                if let Some(fact) = deeds::fact(deed, n, d, &engine.book(), at) {
                    self.keep(d, fact)?;
                }
            }
        }
        Ok(())
    }

    fn keep(&mut self, d: usize, fact: Fact) -> Result<(), Broken> {
        self.tickets += 1;
        self.tell(d, Event::Keep { ticket: self.tickets, fact })
    }

    fn keep_in_other_tab(&mut self, d: usize, n: u32) -> Result<(), Broken> {
        let now = self.clock_of(d);
        let program = self.sabotage.program(self.devices[d].old);
        let device = &mut self.devices[d];
        if device.engine.is_none() || device.evicted || device.disk.load().meta.is_none() {
            return Ok(());
        }
        let fact = deeds::bin(d, n, 1_000 + i64::from(n) * 53, now, None);
        let wrote = device.keep_in_other_tab(program, fact, now);
        self.note_committed(d, wrote);
        self.count("kept in another tab");
        // Every second time the word between tabs is late, and the next transaction finds out.
        if n.is_multiple_of(4) { self.tell(d, Event::OtherTabWrote) } else { Ok(()) }
    }

    pub fn upgrade(&mut self, d: usize) -> Result<(), Broken> {
        if !std::mem::take(&mut self.devices[d].old) {
            return Ok(());
        }
        self.count("old app upgraded");
        let Some(engine) = &self.devices[d].engine else { return Ok(()) };
        let (waits, unsent) = (engine.confirmed().deferred.len(), engine.status().unsent);
        if waits > 0 {
            self.count("upgraded with deferred entries");
        }
        if unsent > 0 {
            self.count("upgraded with a full outbox");
        }
        self.stop(d);
        self.open(d)
    }

    /// From here on nothing goes wrong any more.
    fn become_calm(&mut self) -> Result<(), Broken> {
        self.calm = true;
        self.server_down = false;
        self.server.set_full(false);
        for d in 0..self.devices.len() {
            let device = &mut self.devices[d];
            device.cut_until = self.now;
            device.armed = None;
            device.quota_full = false;
            self.upgrade(d)?;
            self.open(d)?;
            self.tell(d, Event::Online)?;
        }
        Ok(())
    }

    fn at_rest(&self) -> bool {
        let (latest, epoch) = (self.server.latest(), Some(self.server.epoch()));
        self.devices.iter().filter(|device| !device.gone).all(|device| {
            device.at_rest()
                && device.engine.as_ref().is_some_and(|engine| {
                    (engine.meta().cursor, engine.meta().epoch) == (latest, epoch)
                })
        })
    }

    fn restless(&self) -> Broken {
        let mut text = format!("not at rest: the log has {} rows;", self.server.latest());
        for (d, device) in self.devices.iter().enumerate().filter(|(_, d)| !d.at_rest()) {
            let status = device.engine.as_ref().map(|engine| (engine.status(), engine.meta()));
            text.push_str(&format!(" device {d}: {status:?}"));
        }
        Broken(text)
    }

    /// The fate of the next call.
    pub fn next_fate(&mut self) -> Fate {
        let fate = self.case.fates.get(self.calls).copied().unwrap_or_default();
        self.calls += 1;
        if self.calm { Fate::Fine } else { fate }
    }

    /// The server's plug is pulled.
    pub fn crash(&mut self, seconds: u16) -> Result<(), Broken> {
        self.server.roll_back();
        self.hold_promises()?;
        self.server_down = true;
        self.report.kills += 1;
        self.at(i64::from(seconds.max(1)) * 1_000, Ev::ServerUp);
        Ok(())
    }

    pub fn name_of(what: What) -> String {
        let name = format!("{what:?}");
        name.split('(').next().unwrap_or_default().to_owned()
    }

    /// A call to the door that is always open while the server is.
    pub const PLUG_IN: Plug = Plug::In;
}
