//! What can happen to a device, and what it can be asked to do.

use super::Ticket;
use super::storage::{Stored, Transaction};
use crate::entry::{EntryId, Fact};
use crate::ids::DeviceId;
use crate::units::Millis;
use crate::wire::{Announcement, ExchangeReply, ExchangeRequest, Refusal, Snapshot};

/// What happened.
#[derive(Clone, Debug)]
#[allow(clippy::large_enum_variant, reason = "one at a time is made, passed on and gone")]
pub enum Event {
    /// A person keeps something.
    Keep {
        /// Comes back in [`Action::Kept`] or [`Action::NotKept`].
        ticket: Ticket,
        /// What is kept.
        fact: Fact,
    },
    /// The transaction is complete: on the disk, as far as the platform can promise.
    Stored {
        /// Which.
        number: u64,
    },
    /// The transaction failed or was aborted; nothing of it stands.
    StoreFailed {
        /// Which.
        number: u64,
        /// Why, with the numbers, for the person.
        reason: String,
    },
    /// Another tab wrote first; nothing of the transaction stands.
    Overtaken {
        /// Which.
        number: u64,
        /// What stands there now.
        stored: Box<Stored>,
    },
    /// The answer to [`Action::Load`].
    Loaded(Box<Stored>),
    /// Another tab says it wrote.
    OtherTabWrote,
    /// Whether this tab may exchange: one does at a time.
    Leads(bool),
    /// The device has a token, new or from before.
    Joined,
    /// The device has no token any more.
    Left,
    /// The network came back, the screen was woken, or a person asks to try now.
    Online,
    /// The time asked for by [`Action::Wake`] has come.
    Woke,
    /// The server says how long its log is.
    Announced(Announcement),
    /// The answer to [`Action::Exchange`].
    Replied {
        /// To which.
        number: u64,
        /// The answer.
        reply: Box<ExchangeReply>,
    },
    /// A refusal of an exchange, a snapshot or a renewal.
    Refused {
        /// Of which exchange; that under way when it was another call.
        number: u64,
        /// The refusal.
        refusal: Refusal,
    },
    /// No answer: no network, no server, a broken or late answer.
    Unreachable {
        /// To which.
        number: u64,
    },
    /// The answer to [`Action::FetchSnapshot`].
    SnapshotCame(Box<Snapshot>),
    /// The server took the new id asked for by [`Action::Renew`].
    Renewed {
        /// The new id.
        device: DeviceId,
    },
}

/// What to do.
#[derive(Clone, Debug)]
pub enum Action {
    /// Store this, all or nothing, and report.
    Store(Box<Transaction>),
    /// Read the disk, and report [`Event::Loaded`].
    Load,
    /// It is kept; say so.
    Kept {
        /// The keeping.
        ticket: Ticket,
        /// The entry it became.
        id: EntryId,
    },
    /// It could not be kept; say why and leave the input where it is.
    NotKept {
        /// The keeping.
        ticket: Ticket,
        /// What should have been kept.
        fact: Box<Fact>,
        /// Why.
        reason: String,
    },
    /// Send this to the server.
    Exchange {
        /// Comes back with the answer.
        number: u64,
        /// What to send.
        request: Box<ExchangeRequest>,
    },
    /// Fetch the snapshot.
    FetchSnapshot {
        /// Comes back with a refusal or failure.
        number: u64,
    },
    /// Make a new device id and ask the server to take it.
    Renew {
        /// Comes back with a refusal or failure.
        number: u64,
    },
    /// Come back at this time with [`Event::Woke`]; replaces the last such request.
    Wake(
        /// When.
        Millis,
    ),
    /// The book or the status changed.
    Show,
    /// Something a person or the diagnostics should know.
    Tell(Notice),
}

/// Something worth telling.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Notice {
    /// The phone's clock differs from the server's.
    ClockOff {
        /// Phone less server, milliseconds.
        by_ms: i64,
    },
    /// The logs differ though they should not; the phone reads the server's anew.
    Diverged,
    /// Another phone wrote under this one's id; it has another id now.
    Forked,
    /// The server is another one, or was restored; own entries are offered again.
    OtherServer,
    /// The browser dropped this phone's storage while it was open; what was in memory is on the
    /// disk again, own entries are offered again.
    Evicted,
    /// A page could not be stored.
    StorageFailed {
        /// Why.
        reason: String,
    },
}

/// How things stand.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Status {
    /// Entries no server has acknowledged.
    pub unsent: usize,
    /// Entries this device wrote in all.
    pub kept: usize,
    /// The link to the server.
    pub link: Link,
    /// Phone less server clock, when last compared.
    pub skew_ms: Option<i64>,
}

/// The link to the server. None of these is an error a picker has to deal with, but `Stopped`.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Link {
    /// The device has not joined yet.
    NotJoined,
    /// The last exchange went well.
    Good,
    /// An exchange is under way or about to be.
    Trying,
    /// The server could not be reached; tried again by itself.
    Waiting,
    /// Another tab of this browser does the exchanging.
    Following,
    /// The server refused; a person must do what the message says.
    Stopped(Refusal),
}
