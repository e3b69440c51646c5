//! A device: the real engine over a disk in memory, and what the app's shell does around it.

use std::collections::{BTreeSet, VecDeque};

use shared_types::engine::{Action, Engine, Event, Link, MemoryDisk, Meta, Program, Transaction};
use shared_types::entry::Fact;
use shared_types::ids::DeviceId;
use shared_types::units::Millis;

/// Who the device is, as its disk knows it beside the engine's own numbers.
#[derive(Clone, Debug)]
pub(super) struct Me {
    pub device: DeviceId,
    pub token: Option<String>,
    /// The id asked for, until its answer came.
    pub renewing: Option<DeviceId>,
}

#[derive(Debug)]
pub(super) struct Device {
    /// None while the app is closed.
    pub engine: Option<Engine>,
    /// Counts starts, so that what was meant for an earlier one is not delivered.
    pub life: u64,
    pub disk: MemoryDisk,
    pub me: Me,
    /// The ids it ever had.
    pub ids: BTreeSet<DeviceId>,
    /// Its clock less the true time, milliseconds.
    pub clock_off: i64,
    /// Without network until then.
    pub cut_until: Millis,
    /// It runs a program that does not know rooms.
    pub old: bool,
    /// Reads and writes of the disk under way.
    pub pending: u32,
    /// Events the engine takes only while nothing is being stored.
    pub quiet: VecDeque<Event>,
    /// What was ever on this disk since the browser last emptied it, by `deeds::key`.
    pub ever: BTreeSet<String>,
    /// Emptied under the open app, and not yet written anew.
    pub evicted: bool,
    /// Lost for good.
    pub gone: bool,
    /// Killed at the next transaction; before or after it is written.
    pub armed: Option<Armed>,
    pub quota_full: bool,
    /// Its person has noticed that it stopped and will see to it.
    pub mending: bool,
    /// Exchanges since everything is calm.
    pub rounds: u32,
}

#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Armed {
    Before,
    After,
}

impl Device {
    pub fn new(device: DeviceId) -> Self {
        Self {
            engine: None,
            life: 0,
            disk: MemoryDisk::default(),
            me: Me { device, token: None, renewing: None },
            ids: BTreeSet::from([device]),
            clock_off: 0,
            cut_until: Millis(0),
            old: false,
            pending: 0,
            quiet: VecDeque::new(),
            ever: BTreeSet::new(),
            evicted: false,
            gone: false,
            armed: None,
            quota_full: false,
            mending: false,
            rounds: 0,
        }
    }

    /// Another device with a copy of this one's storage.
    pub fn copied(&self) -> Self {
        Self {
            disk: self.disk.clone(),
            me: self.me.clone(),
            ever: self.ever.clone(),
            ids: self.ids.clone(),
            clock_off: self.clock_off,
            old: self.old,
            ..Self::new(self.me.device)
        }
    }

    pub fn start(&mut self, program: Program) -> Vec<Event> {
        self.life += 1;
        let stored = self.disk.load_for(program.fold_version);
        let engine = Engine::running(program, self.me.device, stored);
        let mut events = Vec::new();
        if self.me.token.is_some() {
            if self.me.device != engine.device() {
                // A renewal that was confirmed, and cut off before the entries got their new name.
                events.push(Event::Renewed { device: self.me.device });
            }
            events.push(Event::Joined);
        }
        events.push(Event::Leads(true));
        self.engine = Some(engine);
        events
    }

    /// The app is closed or killed: only the disk is left. Says whether the disk was empty.
    pub fn stop(&mut self, fresh: DeviceId) -> bool {
        self.engine = None;
        self.life += 1;
        self.pending = 0;
        self.quiet.clear();
        let lost = std::mem::take(&mut self.evicted);
        if lost {
            self.forget_all(fresh);
        }
        lost
    }

    /// The browser has emptied the storage of a closed app: it is as new.
    pub fn forget_all(&mut self, fresh: DeviceId) {
        self.disk = MemoryDisk::default();
        self.me = Me { device: fresh, token: None, renewing: None };
        self.ids = BTreeSet::from([fresh]);
        self.ever.clear();
    }

    /// A second tab keeps `fact` and is closed again. Returns what it wrote.
    pub fn keep_in_other_tab(&mut self, program: Program, fact: Fact, now: Millis) -> Vec<String> {
        let stored = self.disk.load_for(program.fold_version);
        let mut tab = Engine::running(program, self.me.device, stored);
        let mut wrote = Vec::new();
        for action in tab.on_event(Event::Keep { ticket: 0, fact }, now) {
            if let Action::Store(transaction) = action
                && self.disk.write(&transaction)
            {
                wrote.extend(transaction.own.iter().map(super::deeds::key));
            }
        }
        wrote
    }

    /// Nothing left to do but to wait for others.
    pub fn at_rest(&self) -> bool {
        let Some(engine) = &self.engine else { return false };
        let status = engine.status();
        self.pending == 0
            && self.quiet.is_empty()
            && status.unsent == 0
            && status.link == Link::Good
    }
}

impl Device {
    /// Sabotage: another epoch, and everything not acknowledged is thrown away.
    pub fn begin_anew_without_outbox(&mut self) {
        let stored = self.disk.load();
        let Some(meta) = stored.meta else { return };
        let kept = usize::try_from(meta.acked).expect("a small number");
        let mut own = stored.own;
        own.truncate(kept);
        let transaction = Transaction {
            number: 0,
            expects: meta.generation,
            forget_own: true,
            forget_log: true,
            own,
            former: None,
            rows: Vec::new(),
            checkpoint: None,
            meta: Meta { generation: meta.generation, clock: meta.clock, ..Meta::new(meta.device) },
        };
        assert!(self.disk.write(&transaction), "made from what stands there");
    }
}
