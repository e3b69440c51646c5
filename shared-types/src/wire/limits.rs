//! Every limit of the log and the exchange, each with its unit and its reason.

use crate::units::{HOUR_MS, MINUTE_MS};

/// Bytes of kind and payload one entry may hold: a bin is about 400; the rest is room for notes.
/// Checked where an entry is written, so that an outbox never holds one no server will take.
pub const ENTRY_MAX_BYTES: usize = 16 * 1024;

/// Entries a phone pushes in one exchange: a helper's whole day in one or two.
pub const BATCH_MAX_ENTRIES: usize = 500;

/// Bytes of entries in one push. Larger than any one entry, so a phone can always make progress.
pub const BATCH_MAX_BYTES: usize = 1024 * 1024;

/// Entries the server sends in one reply.
pub const PAGE_MAX_ENTRIES: usize = 1000;

/// Bytes of entries in one reply, as far as entries go in whole.
pub const PAGE_MAX_BYTES: usize = 2 * 1024 * 1024;

/// Bytes an entry's own fields add around kind and payload in JSON: ids, clock, names of fields.
pub const ENTRY_ENVELOPE_BYTES: usize = 256;

/// Bytes of request body the server reads before it refuses.
pub const BODY_MAX_BYTES: usize =
    BATCH_MAX_BYTES + BATCH_MAX_ENTRIES * ENTRY_ENVELOPE_BYTES + 64 * 1024;

/// How far ahead of the server an entry's clock may be. A phone set to the wrong day is told.
pub const CLOCK_AHEAD_MAX_MS: i64 = 24 * HOUR_MS;

/// How far a phone's clock may be off before the screen says so.
pub const SKEW_SHOWN_MS: i64 = 2 * MINUTE_MS;

/// First pause after a failed exchange.
pub const BACKOFF_FIRST_MS: i64 = 1_000;

/// Longest pause between tries: someone walking back into range should not wait longer.
pub const BACKOFF_MAX_MS: i64 = MINUTE_MS;

/// Pause between exchanges when all is well and the live stream is quiet.
pub const IDLE_EXCHANGE_MS: i64 = 5 * MINUTE_MS;

/// Characters of a name a person may give (a person, a place, a pick).
pub const NAME_MAX_CHARS: usize = 80;

/// How long an enrolment code can be used.
pub const CODE_LIFE_MS: i64 = HOUR_MS;

/// Wrong enrolment codes within [`CODE_WINDOW_MS`], over all phones, before the server rests.
/// With 40 random bits a code, five tries a minute for its whole life find it with odds of
/// one in three thousand million.
pub const CODE_TRIES_MAX: u32 = 5;

/// The window in which wrong codes are counted.
pub const CODE_WINDOW_MS: i64 = MINUTE_MS;

/// A day's picking by one phone: the size the exchange is made for.
pub const DAY_OF_PICKING: usize = 2_000;

const _: () = assert!(ENTRY_MAX_BYTES + ENTRY_ENVELOPE_BYTES <= BATCH_MAX_BYTES);
const _: () = assert!(ENTRY_MAX_BYTES + ENTRY_ENVELOPE_BYTES <= PAGE_MAX_BYTES);
const _: () = assert!(DAY_OF_PICKING <= 4 * BATCH_MAX_ENTRIES, "a day moves in four round trips");
const _: () = assert!(BATCH_MAX_ENTRIES <= PAGE_MAX_ENTRIES, "what was pushed comes back at once");
const _: () = assert!(BODY_MAX_BYTES > BATCH_MAX_BYTES);
