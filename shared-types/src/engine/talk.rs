//! When to exchange, and what to send.

use super::{Action, Engine, Link, Notice, Replied, to_len};
use crate::entry::{DeviceSeq, Entry, Seq};
use crate::ids::DeviceId;
use crate::units::Millis;
use crate::wire::limits::{
    BACKOFF_FIRST_MS, BACKOFF_MAX_MS, BATCH_MAX_BYTES, BATCH_MAX_ENTRIES, ENTRY_ENVELOPE_BYTES,
    IDLE_EXCHANGE_MS, SKEW_SHOWN_MS,
};
use crate::wire::{Announcement, ExchangeReply, ExchangeRequest, Refusal, RefusalCode, VERSION};

/// How long an answer may take before it counts as lost. The shell gives up sooner.
const ANSWER_WITHIN_MS: i64 = 60_000;

/// The state of the talk with the server. Not stored: a start begins afresh.
#[derive(Debug)]
pub(super) struct Talk {
    /// This tab exchanges.
    pub leads: bool,
    /// The device has a token.
    pub joined: bool,
    /// Phone less server clock.
    pub skew_ms: Option<i64>,
    /// Own entries per push, halved when the server finds a batch too large.
    pub batch: usize,
    /// Digests that did not match, in a row.
    pub mismatches: u32,
    state: State,
    /// The number of the last call.
    calls: u64,
    /// Failures in a row.
    failures: u32,
    /// An exchange is wanted though nothing is unsent: at the start, and when told to.
    wanted: bool,
    /// The last row the server announced.
    latest: Seq,
    asked_to_wake: Option<Millis>,
}

#[derive(Clone, Debug)]
enum State {
    Idle { since: Option<Millis> },
    InFlight { number: u64, cursor: Seq, offered: DeviceSeq, sent: Millis },
    Waiting { until: Millis },
    Stopped(Refusal),
}

impl Default for Talk {
    fn default() -> Self {
        Self {
            leads: false,
            joined: false,
            skew_ms: None,
            batch: BATCH_MAX_ENTRIES,
            mismatches: 0,
            state: State::Idle { since: None },
            calls: 0,
            failures: 0,
            wanted: true,
            latest: 0,
            asked_to_wake: None,
        }
    }
}

impl Talk {
    pub(super) fn link(&self) -> Link {
        match &self.state {
            _ if !self.joined => Link::NotJoined,
            State::Stopped(refusal) => Link::Stopped(refusal.clone()),
            _ if !self.leads => Link::Following,
            State::Waiting { .. } => Link::Waiting,
            State::Idle { since: Some(_) } => Link::Good,
            State::InFlight { .. } if self.failures > 0 => Link::Waiting,
            State::Idle { since: None } | State::InFlight { .. } => Link::Trying,
        }
    }

    pub(super) fn announced(&mut self, announcement: Announcement) {
        self.latest = announcement.seq;
        self.wanted = true;
        self.try_now();
    }

    /// Ends a pause. A stop stays: it needs a person.
    pub(super) fn try_now(&mut self) {
        self.wanted = true;
        if matches!(self.state, State::Waiting { .. }) {
            self.state = State::Idle { since: None };
        }
    }

    /// Waits before the next try: doubled each time up to a minute, less up to a quarter that
    /// differs from device to device, so that phones do not come back all at once.
    pub(super) fn back_off(&mut self, device: DeviceId, now: Millis) {
        let doubled = BACKOFF_FIRST_MS << self.failures.min(16);
        let whole = doubled.min(BACKOFF_MAX_MS);
        let spread = i64::from(device.0.as_bytes()[15] ^ (self.failures as u8).wrapping_mul(31));
        self.failures = self.failures.saturating_add(1);
        self.wait(now.plus(whole - whole * spread / 1024));
    }

    pub(super) fn wait(&mut self, until: Millis) {
        self.wanted = true;
        self.state = State::Waiting { until };
    }

    pub(super) fn stop(&mut self, refusal: Refusal) {
        self.state = State::Stopped(refusal);
    }

    /// Ready for the next call at once.
    pub(super) fn idle(&mut self, since: Option<Millis>) {
        self.state = State::Idle { since };
    }

    pub(super) fn want(&mut self) {
        self.wanted = true;
    }

    /// A call other than an exchange goes out.
    pub(super) fn call(&mut self, cursor: Seq, offered: DeviceSeq, now: Millis) -> u64 {
        self.calls += 1;
        self.state = State::InFlight { number: self.calls, cursor, offered, sent: now };
        self.calls
    }

    /// Whether `number` is the call under way; then the cursor it was made from, and the last own
    /// entry acknowledged before or offered by it.
    fn under_way(&self, number: u64) -> Option<(Seq, DeviceSeq)> {
        match self.state {
            State::InFlight { number: n, cursor, offered, .. } if n == number => {
                Some((cursor, offered))
            }
            _ => None,
        }
    }
}

impl Engine {
    pub(super) fn joined(&mut self) {
        self.talk.joined = true;
        self.talk.failures = 0;
        self.talk.wanted = true;
        self.talk.idle(None);
    }

    pub(super) fn exchange_if_due(&mut self, now: Millis, actions: &mut Vec<Action>) {
        if !self.talk.joined || !self.talk.leads {
            return;
        }
        let overdue = |since: Millis, wait: i64| now.since(since) >= wait || now < since;
        match self.talk.state {
            State::InFlight { sent, .. } if overdue(sent, ANSWER_WITHIN_MS) => {
                self.talk.back_off(self.meta.device, now);
            }
            State::Waiting { until } if now >= until => self.talk.idle(None),
            State::Idle { since: Some(since) } if overdue(since, IDLE_EXCHANGE_MS) => {
                self.talk.wanted = true;
            }
            _ => {}
        }
        let due = self.talk.wanted
            || self.talk.latest > self.meta.cursor
            || to_len(self.meta.acked) < self.own.len();
        let free = self.storing.is_none() && self.replied.is_none();
        if let State::Idle { .. } = self.talk.state
            && due
            && free
        {
            let request = self.request();
            let offered = self.meta.acked + request.entries.len() as DeviceSeq;
            let number = self.talk.call(self.meta.cursor, offered, now);
            self.talk.wanted = false;
            actions.push(Action::Exchange { number, request: Box::new(request) });
        }
        self.ask_to_wake(actions);
    }

    fn ask_to_wake(&mut self, actions: &mut Vec<Action>) {
        let at = match self.talk.state {
            State::Idle { since: Some(since) } => Some(since.plus(IDLE_EXCHANGE_MS)),
            State::InFlight { sent, .. } => Some(sent.plus(ANSWER_WITHIN_MS)),
            State::Waiting { until } => Some(until),
            State::Idle { since: None } | State::Stopped(_) => None,
        };
        if let Some(at) = at
            && self.talk.asked_to_wake != Some(at)
        {
            self.talk.asked_to_wake = Some(at);
            actions.push(Action::Wake(at));
        }
    }

    fn request(&self) -> ExchangeRequest {
        let mut bytes = 0;
        let fits = |entry: &&Entry| {
            bytes += entry.size() + ENTRY_ENVELOPE_BYTES;
            bytes <= BATCH_MAX_BYTES
        };
        let entries =
            self.outbox().iter().take(self.talk.batch).take_while(fits).cloned().collect();
        ExchangeRequest { v: VERSION, epoch: self.meta.epoch, cursor: self.meta.cursor, entries }
    }

    pub(super) fn on_reply(
        &mut self,
        number: u64,
        reply: ExchangeReply,
        now: Millis,
        actions: &mut Vec<Action>,
    ) {
        let Some((cursor, offered)) = self.talk.under_way(number) else { return };
        self.talk.failures = 0;
        let by_ms = now.since(reply.server_time);
        if by_ms.abs() > SKEW_SHOWN_MS && self.talk.skew_ms.is_none_or(|s| s.abs() <= SKEW_SHOWN_MS)
        {
            actions.push(Action::Tell(Notice::ClockOff { by_ms }));
        }
        self.talk.skew_ms = Some(by_ms);
        self.talk.idle(Some(now));
        self.talk.wanted |= reply.more;
        if !reply.more {
            // Whatever was announced is in this page, or was of a log that is no more.
            self.talk.latest = 0;
        }
        self.replied = Some(Replied { cursor, offered, reply });
        actions.push(Action::Show);
    }

    pub(super) fn on_unreachable(&mut self, number: u64, now: Millis) {
        if self.talk.under_way(number).is_some() {
            self.talk.back_off(self.meta.device, now);
        }
    }

    pub(super) fn on_refusal(
        &mut self,
        number: u64,
        refusal: Refusal,
        now: Millis,
        actions: &mut Vec<Action>,
    ) {
        let Some((_, offered)) = self.talk.under_way(number) else { return };
        actions.push(Action::Show);
        self.talk.idle(Some(now));
        self.talk.wanted = true;
        match refusal.code {
            RefusalCode::EpochChanged { .. } | RefusalCode::CursorAhead { .. } => {
                self.offer_all_again(Notice::OtherServer, actions);
            }
            RefusalCode::CursorExpired { .. } => {
                let number = self.talk.call(self.meta.cursor, self.meta.acked, now);
                actions.push(Action::FetchSnapshot { number });
            }
            // Entries are held densely: what was offered before this one was found to be the same.
            RefusalCode::DeviceForked { device_seq }
                if (self.meta.acked + 2..=offered).contains(&device_seq) =>
            {
                self.part_from_twin(device_seq - 1, now, actions);
            }
            RefusalCode::DeviceForked { .. } => self.ask_for_new_name(now, actions),
            RefusalCode::Gap { expected } => self.offer_from(expected, actions),
            RefusalCode::ClockAhead { server_time, stored_through } => {
                self.restamp(server_time, stored_through, now, actions);
            }
            RefusalCode::BatchTooLarge if self.talk.batch > 1 => self.talk.batch /= 2,
            RefusalCode::SlowDown { retry_ms } => {
                self.talk.wait(now.plus(retry_ms.max(BACKOFF_FIRST_MS)));
            }
            ref code if code.is_permanent() => self.talk.stop(refusal),
            _ => self.talk.back_off(self.meta.device, now),
        }
    }
}
