//! Calls from a device to the server, and what becomes of each.

use std::hash::Hash as _;

use server::error::Error;
use shared_types::engine::Event;
use shared_types::ids::DeviceId;
use shared_types::units::MINUTE_MS;
use shared_types::wire::{
    Announcement, Content, Enrolled, ExchangeReply, Refusal, RefusalCode, Snapshot,
};

use super::server::{Answer, Plug};
use super::world::{Ev, World};
use super::{Broken, Fate, Sabotage};

/// What is asked.
#[derive(Clone, Debug)]
pub(super) enum Call {
    Exchange(Vec<u8>),
    Snapshot,
    Renew(DeviceId),
}

/// A request at the server's door.
#[derive(Clone, Debug)]
pub(super) struct Arrival {
    from: From,
    call: Call,
    plug: Plug,
    way: Way,
}

/// Who asked, as what, and under which number.
#[derive(Clone, Debug)]
struct From {
    device: usize,
    life: u64,
    number: u64,
    token: String,
    id: DeviceId,
}

/// What becomes of the answer.
#[derive(Clone, Copy, Debug)]
enum Way {
    After(i64),
    Cut,
    Lost,
    /// The phone has given up already, or gets the answer to the other copy.
    Unwanted,
}

/// An answer at the device.
#[derive(Debug)]
pub(super) struct Reply {
    from: From,
    asked: Call,
    came: Came,
    server_life: u64,
}

#[derive(Debug)]
enum Came {
    Bytes(Vec<u8>),
    Refused(Refusal),
    Lost,
}

/// A phone gives a call up after this.
const GIVES_UP_MS: i64 = 10_000;

impl World<'_> {
    /// Sends a call of device `d` on its way.
    pub(super) fn call(&mut self, d: usize, number: u64, call: Call) {
        let device = &self.devices[d];
        let token = device.me.token.clone().unwrap_or_default();
        let from = From { device: d, life: device.life, number, token, id: device.me.device };
        let fate = self.next_fate();
        // Between 20 and 80 ms, by no rule that matters.
        let trip = 20 + (self.calls as i64 * 37) % 60;
        if self.now < self.devices[d].cut_until {
            self.count("calls into a partition");
            return self.comes(GIVES_UP_MS, from, call, Came::Lost);
        }
        if fate != Fate::Fine {
            let name = format!("{fate:?}");
            self.count(format!("fate {}", name.split('(').next().unwrap_or_default()));
        }
        let arrive = |plug, way| {
            Ev::Arrive(Box::new(Arrival { from: from.clone(), call: call.clone(), plug, way }))
        };
        match fate {
            Fate::Fine => self.at(trip, arrive(Plug::In, Way::After(trip))),
            Fate::DropRequest => self.comes(GIVES_UP_MS, from, call, Came::Lost),
            Fate::DropReply => self.at(trip, arrive(Plug::In, Way::Lost)),
            Fate::Duplicate => {
                self.at(trip, arrive(Plug::In, Way::After(trip)));
                self.at(trip * 3, arrive(Plug::In, Way::Unwanted));
            }
            Fate::Reorder => {
                self.at(MINUTE_MS + trip * 1_000, arrive(Plug::In, Way::Unwanted));
                self.comes(GIVES_UP_MS, from, call, Came::Lost);
            }
            Fate::Delay(seconds) => {
                self.at(trip, arrive(Plug::In, Way::After(i64::from(seconds) * 1_000)));
            }
            Fate::TruncateRequest => {
                let call = match call.clone() {
                    Call::Exchange(body) => Call::Exchange(body[..body.len() / 2].to_vec()),
                    other => other,
                };
                let arrival = Arrival { from, call, plug: Plug::In, way: Way::Lost };
                self.at(trip, Ev::Arrive(Box::new(arrival)));
            }
            Fate::TruncateReply => self.at(trip, arrive(Plug::In, Way::Cut)),
            Fate::CrashBefore => self.at(trip, arrive(Plug::OutBeforeCommit, Way::Lost)),
            Fate::CrashAfter => self.at(trip, arrive(Plug::OutAfterCommit, Way::Lost)),
            Fate::Stopping => {
                self.comes(trip, from, call, Came::Refused(Error::Closed.refusal()));
            }
            Fate::Panic => self.comes(trip, from, call, Came::Refused(Error::Panicked.refusal())),
        }
    }

    fn comes(&mut self, after_ms: i64, from: From, asked: Call, came: Came) {
        let server_life = self.server_life;
        self.at(after_ms, Ev::Answer(Box::new(Reply { from, asked, came, server_life })));
    }

    /// A request reaches the server.
    pub(super) fn arrive(&mut self, arrival: Arrival) -> Result<(), Broken> {
        let Arrival { from, call, plug, way } = arrival;
        if self.server_down {
            if !matches!(way, Way::Unwanted) {
                self.comes(50, from, call, Came::Lost);
            }
            return Ok(());
        }
        let now = self.now;
        let before = self.server.latest();
        let answer = match &call {
            Call::Exchange(body) => self.server.exchange(&from.token, body, now, plug),
            Call::Snapshot => self.server.snapshot(&from.token),
            Call::Renew(to) => self.server.renew(&from.token, *to, now),
        };
        let latest = self.server.latest();
        (now, before, latest).hash(&mut self.trace);
        if plug != Plug::In {
            self.crash(20)?;
        } else if latest > before {
            self.announce();
        }
        let came = match answer {
            Answer::Bytes(bytes) => Came::Bytes(bytes),
            Answer::Refused(refusal) => {
                self.report.refused(&refusal.code);
                Came::Refused(refusal)
            }
            Answer::Died => Came::Lost,
        };
        match (way, came) {
            (Way::Unwanted, _) => {}
            (Way::Lost, _) => self.comes(GIVES_UP_MS, from, call, Came::Lost),
            (Way::Cut, Came::Bytes(mut bytes)) => {
                bytes.truncate(bytes.len() * 2 / 3);
                self.comes(50, from, call, Came::Bytes(bytes));
            }
            (Way::Cut, came) => self.comes(50, from, call, came),
            (Way::After(ms), came) => self.comes(ms, from, call, came),
        }
        Ok(())
    }

    /// Every open device hears that the log has grown, but for every fifth, whose stream is stale.
    fn announce(&mut self) {
        let announcement = Announcement { epoch: self.server.epoch(), seq: self.server.latest() };
        for device in 0..self.devices.len() {
            let lost = !self.calm && (self.calls + device).is_multiple_of(5);
            if !lost && self.now >= self.devices[device].cut_until {
                let life = self.devices[device].life;
                self.at(30, Ev::Announced { device, life, announcement });
            }
        }
    }

    /// An answer reaches the device, or does not.
    pub(super) fn answer(&mut self, reply: Reply) -> Result<(), Broken> {
        let Reply { from, asked, came, server_life } = reply;
        let From { device: d, life, number, id, .. } = from;
        if !self.is_life(d, life) {
            return Ok(());
        }
        let lost = Event::Unreachable { number };
        if self.now < self.devices[d].cut_until {
            return self.tell(d, lost);
        }
        match (asked, came) {
            (_, Came::Lost) => self.tell(d, lost),
            (asked, Came::Refused(refusal)) => {
                if matches!(asked, Call::Renew(_)) && refusal.code.status() == 400 {
                    // The name is taken: the next try makes another.
                    self.devices[d].me.renewing = None;
                    return self.tell(d, lost);
                }
                let is_other = matches!(refusal.code, RefusalCode::EpochChanged { .. });
                if is_other && self.sabotage == Sabotage::OutboxClearedOnEpoch {
                    self.devices[d].begin_anew_without_outbox();
                    self.stop(d);
                    return self.open(d);
                }
                self.tell(d, Event::Refused { number, refusal })
            }
            (Call::Exchange(_), Came::Bytes(bytes)) => {
                let Ok(mut reply) = serde_json::from_slice::<ExchangeReply>(&bytes) else {
                    return self.tell(d, lost);
                };
                if server_life == self.server_life {
                    let promised = self.promised.entry(id).or_default();
                    *promised = reply.acked.max(*promised);
                }
                if self.sabotage == Sabotage::CursorSkipsOwn {
                    reply.rows.retain(|row| !matches!(row.content, Content::Own(_)));
                }
                self.tell(d, Event::Replied { number, reply: Box::new(reply) })
            }
            (Call::Snapshot, Came::Bytes(bytes)) => {
                match serde_json::from_slice::<Snapshot>(&bytes) {
                    Ok(snapshot) => {
                        self.count("snapshots taken");
                        self.when_quiet(d, Event::SnapshotCame(Box::new(snapshot)))
                    }
                    Err(_) => self.tell(d, lost),
                }
            }
            (Call::Renew(_), Came::Bytes(bytes)) => {
                let Ok(enrolled) = serde_json::from_slice::<Enrolled>(&bytes) else {
                    return self.tell(d, lost);
                };
                let me = &mut self.devices[d].me;
                me.device = enrolled.device;
                me.token = Some(enrolled.token);
                me.renewing = None;
                self.devices[d].ids.insert(enrolled.device);
                self.when_quiet(d, Event::Renewed { device: enrolled.device })
            }
        }
    }

    /// Tells the engine once nothing is being stored.
    fn when_quiet(&mut self, d: usize, event: Event) -> Result<(), Broken> {
        if self.devices[d].pending == 0 {
            return self.tell(d, event);
        }
        self.devices[d].quiet.push_back(event);
        Ok(())
    }
}
