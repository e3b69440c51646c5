//! Phones, their disks, and a model of the server.

use super::super::*;
use crate::entry::{BinKept, Digest, EntryId, RoomSet, Seq};
use crate::ids::*;
use crate::units::{Grams, MilliCelsius, Reading};
use crate::wire::limits::CLOCK_AHEAD_MAX_MS;
use crate::wire::{
    Content, ExchangeReply, ExchangeRequest, LogRow, RefusalCode, Snapshot, VERSION,
};

pub fn device(n: u8) -> DeviceId {
    DeviceId::new(Millis(0), [n; 10])
}

/// A bin of `grams`, the `n`th of its phone.
pub fn bin(phone: u8, n: u8, grams: i64) -> Fact {
    let mut random = [phone; 10];
    random[9] = n;
    Fact::BinKept(BinKept {
        bin: BinId::new(Millis(i64::from(n)), random),
        pick: PickId::new(Millis(0), [1; 10]),
        place: PlaceId::new(Millis(0), [2; 10]),
        crop: "tomato".into(),
        class: "ripe".into(),
        gross: Reading::from_grams(Grams(grams)),
        tare: Grams(0),
        person: PersonId::new(Millis(0), [phone; 10]),
        at: Millis(0),
        variety: None,
        stage: None,
        defect: None,
        bin_type: None,
        room: None,
        tag: None,
    })
}

pub fn room(degrees: i32) -> Fact {
    Fact::RoomSet(RoomSet {
        room: RoomId::new(Millis(0), [9; 10]),
        name: None,
        temperature: Some(MilliCelsius::from_celsius(degrees)),
        humidity: None,
        retired: None,
    })
}

/// What the counted bins weigh.
pub fn net(book: &Book) -> Grams {
    book.counted().map(|(_, bin)| bin.net()).sum()
}

/// The specification's server, in memory.
pub struct Server {
    pub epoch: EpochId,
    pub log: Vec<Entry>,
    /// Rows before this one are kept only folded.
    pub oldest: Seq,
    pub page: usize,
}

impl Server {
    pub fn new(epoch: u8) -> Self {
        Self { epoch: EpochId::new(Millis(0), [epoch; 10]), log: Vec::new(), oldest: 1, page: 3 }
    }

    pub fn held(&self, device: DeviceId) -> u64 {
        self.log.iter().filter(|entry| entry.device == device).count() as u64
    }

    fn digest(&self, seq: Seq) -> Digest {
        self.log[..to_len(seq)].iter().fold(Digest::default(), |d, entry| d.then(entry.hash()))
    }

    pub fn exchange(
        &mut self,
        device: DeviceId,
        request: &ExchangeRequest,
        now: Millis,
    ) -> Result<ExchangeReply, RefusalCode> {
        let latest = self.log.len() as Seq;
        if request.epoch.is_some_and(|epoch| epoch != self.epoch) {
            return Err(RefusalCode::EpochChanged { epoch: self.epoch });
        }
        if request.cursor > latest {
            return Err(RefusalCode::CursorAhead { latest });
        }
        if request.cursor + 1 < self.oldest {
            return Err(RefusalCode::CursorExpired { oldest: self.oldest });
        }
        let mut log = self.log.clone();
        for entry in &request.entries {
            let stored_through = log.iter().filter(|e| e.device == device).count() as u64;
            match log.iter().find(|e| e.id() == entry.id()) {
                Some(known) if known.hash() == entry.hash() => {}
                Some(_) => return Err(RefusalCode::DeviceForked { device_seq: entry.device_seq }),
                None if entry.device_seq != stored_through + 1 => {
                    return Err(RefusalCode::Gap { expected: stored_through + 1 });
                }
                None if entry.hlc.0.since(now) > CLOCK_AHEAD_MAX_MS => {
                    let stored_through = self.held(device);
                    return Err(RefusalCode::ClockAhead { server_time: now, stored_through });
                }
                None => log.push(entry.clone()),
            }
        }
        self.log = log;
        let rows: Vec<LogRow> = (request.cursor + 1..)
            .zip(&self.log[to_len(request.cursor)..])
            .take(self.page)
            .map(|(seq, entry)| {
                let own = entry.device == device;
                let content = if own {
                    Content::Own(entry.device_seq)
                } else {
                    Content::Entry(entry.clone())
                };
                LogRow { seq, content }
            })
            .collect();
        let cursor = request.cursor + rows.len() as Seq;
        Ok(ExchangeReply {
            v: VERSION,
            epoch: self.epoch,
            acked: self.held(device),
            rows,
            cursor,
            more: cursor < self.log.len() as Seq,
            digest: self.digest(cursor),
            server_time: now,
        })
    }

    pub fn snapshot(&self, device: DeviceId) -> Snapshot {
        let mut book = Book::default();
        for entry in &self.log {
            book.fold(entry);
        }
        let seq = self.log.len() as Seq;
        Snapshot {
            epoch: self.epoch,
            seq,
            fold_version: crate::book::FOLD_VERSION,
            digest: self.digest(seq),
            own: self.held(device),
            state: Checkpoint::of(&book, seq, crate::book::FOLD_VERSION).state,
            devices: self.log.iter().map(|entry| (entry.device, self.held(entry.device))).collect(),
        }
    }

    pub fn book(&self) -> Book {
        let mut book = Book::default();
        for entry in &self.log {
            book.fold(entry);
        }
        book
    }
}

/// What goes wrong on the way, decided by the test.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Luck {
    Fine,
    /// The request never arrives.
    Lost,
    /// It arrives, the answer does not.
    ReplyLost,
    /// The disk refuses the next transaction.
    DiskFull,
    /// The phone is killed and started again before the answer is stored.
    Killed,
}

/// A phone: an engine on a disk.
pub struct Phone {
    pub engine: Engine,
    pub disk: MemoryDisk,
    /// What was said to be kept.
    pub kept: Vec<EntryId>,
    pub not_kept: Vec<String>,
    pub told: Vec<Notice>,
    names: u8,
    n: u8,
}

impl Phone {
    pub fn new(n: u8) -> Self {
        let mut phone = Self {
            engine: Engine::new(device(n), Stored::default()),
            disk: MemoryDisk::default(),
            kept: Vec::new(),
            not_kept: Vec::new(),
            told: Vec::new(),
            names: 0,
            n,
        };
        phone.start(Millis(0));
        phone
    }

    fn start(&mut self, now: Millis) {
        for event in [Event::Leads(true), Event::Joined] {
            let actions = self.engine.on_event(event, now);
            self.carry_out(actions, None, Luck::Fine, now);
        }
    }

    /// Killed and opened again: only the disk is left.
    pub fn restart(&mut self, now: Millis) {
        self.engine = Engine::new(device(self.n), self.disk.load());
        self.start(now);
    }

    pub fn keep(&mut self, fact: Fact, now: Millis) {
        let actions = self.engine.on_event(Event::Keep { ticket: 1, fact }, now);
        self.carry_out(actions, None, Luck::Fine, now);
    }

    /// Lets the phone talk, if it wants to, with one kind of luck for the first call.
    pub fn exchange(&mut self, server: &mut Server, luck: Luck, now: Millis) {
        let actions = self.engine.on_event(Event::Online, now);
        self.carry_out(actions, Some(server), luck, now);
    }

    /// Carries out actions until none are left. Without a server every call is lost.
    pub fn carry_out(
        &mut self,
        actions: Vec<Action>,
        mut server: Option<&mut Server>,
        mut luck: Luck,
        now: Millis,
    ) {
        let mut queue: VecDeque<Action> = actions.into();
        let mut rounds = 0;
        while let Some(action) = queue.pop_front() {
            rounds += 1;
            assert!(rounds < 10_000, "the phone does not come to rest");
            let event = match action {
                Action::Store(transaction) if luck == Luck::DiskFull => {
                    luck = Luck::Fine;
                    Event::StoreFailed { number: transaction.number, reason: "disk full".into() }
                }
                Action::Store(transaction) => {
                    let number = transaction.number;
                    if self.disk.write(&transaction) {
                        Event::Stored { number }
                    } else {
                        Event::Overtaken { number, stored: Box::new(self.disk.load()) }
                    }
                }
                Action::Load => Event::Loaded(Box::new(self.disk.load())),
                Action::Exchange { number, request } => {
                    let lost = Event::Unreachable { number };
                    let this_time = std::mem::replace(&mut luck, Luck::Fine);
                    match (&mut server, this_time) {
                        (None, _) | (_, Luck::Lost) => lost,
                        (Some(server), this_time) => {
                            let answer = server.exchange(self.engine.device(), &request, now);
                            match (this_time, answer) {
                                (Luck::ReplyLost, _) => lost,
                                (Luck::Killed, _) => {
                                    self.restart(now);
                                    queue.clear();
                                    Event::Woke
                                }
                                (luck_now, Ok(reply)) => {
                                    if luck_now == Luck::DiskFull {
                                        luck = Luck::DiskFull;
                                    }
                                    Event::Replied { number, reply: Box::new(reply) }
                                }
                                (_, Err(code)) => Event::Refused { number, refusal: code.into() },
                            }
                        }
                    }
                }
                Action::FetchSnapshot { number } => match &server {
                    Some(server) => {
                        Event::SnapshotCame(Box::new(server.snapshot(self.engine.device())))
                    }
                    None => Event::Unreachable { number },
                },
                Action::Renew { .. } => {
                    self.names += 1;
                    Event::Renewed { device: device(100 + self.n * 10 + self.names) }
                }
                Action::Kept { id, .. } => {
                    self.kept.push(id);
                    continue;
                }
                Action::NotKept { reason, .. } => {
                    self.not_kept.push(reason);
                    continue;
                }
                Action::Tell(notice) => {
                    self.told.push(notice);
                    continue;
                }
                Action::Wake(_) | Action::Show => continue,
            };
            queue.extend(self.engine.on_event(event, now));
        }
    }
}
