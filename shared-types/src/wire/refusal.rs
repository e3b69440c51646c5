//! Why a server says no: a closed set of codes, each with a person's next step.

use serde::{Deserialize, Serialize};

use crate::entry::{DeviceSeq, Seq};
use crate::ids::EpochId;
use crate::units::Millis;

/// A refusal as it travels: the code, its data, and what a person should do next.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct Refusal {
    /// Which, with its data.
    #[serde(flatten)]
    pub code: RefusalCode,
    /// What is wrong and what to do next, in plain words.
    pub message: String,
}

/// The closed set.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(tag = "code", rename_all = "snake_case")]
pub enum RefusalCode {
    /// The body is not what the call takes.
    Malformed {
        /// Where and why.
        reason: String,
    },
    /// The phone's program is older than the server takes.
    AppTooOld {
        /// The oldest version taken.
        oldest: u32,
    },
    /// The phone's program is newer than the server knows.
    ServerTooOld {
        /// The newest version known.
        newest: u32,
    },
    /// No token, or none this server gave.
    TokenUnknown,
    /// The device was shut out.
    Revoked,
    /// The device's role does not allow it.
    Forbidden,
    /// The code is wrong, used up or expired.
    CodeWrong,
    /// Too many tries.
    SlowDown {
        /// When to try again, milliseconds from now.
        retry_ms: i64,
    },
    /// An entry the server holds under this id has other content: two phones share one id.
    DeviceForked {
        /// The id in question.
        device_seq: DeviceSeq,
    },
    /// An entry before these is missing.
    Gap {
        /// The one the server expects next.
        expected: DeviceSeq,
    },
    /// An entry claims another device than the token's.
    DeviceMismatch,
    /// The phone's clock is more than a day ahead.
    ClockAhead {
        /// The server's clock.
        server_time: Millis,
        /// What the server holds of this device; entries up to this one keep their stamps.
        stored_through: DeviceSeq,
    },
    /// The cursor belongs to another log.
    EpochChanged {
        /// This log.
        epoch: EpochId,
    },
    /// The log before this cursor is no longer kept row by row.
    CursorExpired {
        /// The first row still kept.
        oldest: Seq,
    },
    /// The cursor is beyond the end of the log.
    CursorAhead {
        /// The last row.
        latest: Seq,
    },
    /// One entry is over the limit.
    EntryTooLarge {
        /// Which.
        device_seq: DeviceSeq,
    },
    /// The body or the batch is over the limit.
    BatchTooLarge,
    /// There is no such call.
    NotFound,
    /// The server cannot write: its disk is full or gone.
    StorageFailed,
    /// The server is stopping or overloaded.
    Busy,
    /// A fault of the server's own.
    Internal,
}

impl RefusalCode {
    /// Trying the same again later cannot help; a person or the phone must change something.
    pub const fn is_permanent(&self) -> bool {
        !matches!(self, Self::SlowDown { .. } | Self::StorageFailed | Self::Busy | Self::Internal)
    }

    /// The HTTP status it travels with.
    pub const fn status(&self) -> u16 {
        match self {
            Self::Malformed { .. } | Self::DeviceMismatch => 400,
            Self::TokenUnknown | Self::Revoked => 401,
            Self::Forbidden | Self::CodeWrong => 403,
            Self::NotFound => 404,
            Self::DeviceForked { .. }
            | Self::Gap { .. }
            | Self::ClockAhead { .. }
            | Self::EpochChanged { .. }
            | Self::CursorAhead { .. } => 409,
            Self::CursorExpired { .. } => 410,
            Self::EntryTooLarge { .. } | Self::BatchTooLarge => 413,
            Self::AppTooOld { .. } | Self::ServerTooOld { .. } => 426,
            Self::SlowDown { .. } => 429,
            Self::Internal => 500,
            Self::Busy => 503,
            Self::StorageFailed => 507,
        }
    }

    /// What a person should do next.
    pub fn message(&self) -> String {
        match self {
            Self::Malformed { reason } => {
                format!("the server could not read this ({reason}): update the app, or mend the request")
            }
            Self::AppTooOld { .. } => {
                "this app is older than the server takes: open it near the house and press Update; nothing kept is lost".into()
            }
            Self::ServerTooOld { .. } => {
                "this app is newer than the server: update the server at the house; bins stay on the phone until then".into()
            }
            Self::TokenUnknown => {
                "the server does not know this device: ask for a new code and join again; bins stay on the phone".into()
            }
            Self::Revoked => {
                "this device was shut out: ask the grower for a new code; bins stay on the phone".into()
            }
            Self::Forbidden => "this device may only look: ask the grower to let it write".into(),
            Self::CodeWrong => {
                "that code is not valid any more, or mistyped: check it, or ask for a new one".into()
            }
            Self::SlowDown { retry_ms } => {
                format!("too many tries: wait {} seconds and try again", (retry_ms + 999) / 1000)
            }
            Self::DeviceForked { .. } => {
                "another phone writes under this one's name, perhaps a copy of it: the app takes a new name by itself".into()
            }
            Self::Gap { expected } => {
                format!("entries before these are missing: send from number {expected} on")
            }
            Self::DeviceMismatch => {
                "these entries belong to another device: send them from there".into()
            }
            Self::ClockAhead { .. } => {
                "the phone's clock is more than a day ahead: set it right; bins keep, only their time is mended".into()
            }
            Self::EpochChanged { .. } => {
                "the server was restored or is a new one: the app reads it anew and offers its own bins again".into()
            }
            Self::CursorExpired { .. } => {
                "this phone was away long: the app takes the whole book at once".into()
            }
            Self::CursorAhead { .. } => {
                "the server knows less than this phone: the app reads it anew and offers its own bins again".into()
            }
            Self::EntryTooLarge { .. } => "one entry is too long: shorten its text".into(),
            Self::BatchTooLarge => "too much at once: the app sends less".into(),
            Self::NotFound => "there is no such call: see the list in the wire's documentation".into(),
            Self::StorageFailed => {
                "the server cannot write: is its disk full? bins stay on the phone until there is room".into()
            }
            Self::Busy => "the server is busy or stopping: the app tries again by itself".into(),
            Self::Internal => {
                "the server failed at this: the app tries again; see the server's log".into()
            }
        }
    }
}

impl From<RefusalCode> for Refusal {
    fn from(code: RefusalCode) -> Self {
        let message = code.message();
        Self { code, message }
    }
}
