//! What travels between phone and server: the specification of the exchange.
//!
//! # The path
//! Everything is JSON over HTTP/1.1 under `/api/v1`. The path carries the major version, the body
//! the minor one (`v`, now [`VERSION`]). A server takes `v` and `v - 1`; `GET /api/v1/hello` and
//! `GET /healthz` answer any version, so that an old phone can always learn what to do next.
//!
//! | call | who may | body → answer |
//! |---|---|---|
//! | `GET /healthz` | anyone | → `ok` |
//! | `GET /api/v1/hello` | anyone | → [`Hello`] |
//! | `POST /api/v1/enrol` | a code | [`EnrolRequest`] → [`Enrolled`] |
//! | `POST /api/v1/exchange` | a device | [`ExchangeRequest`] → [`ExchangeReply`] |
//! | `GET /api/v1/live` | a device | → server-sent events, each [`Announcement`] |
//! | `GET /api/v1/snapshot` | a device | → [`Snapshot`] |
//! | `POST /api/v1/renew` | a device | [`RenewRequest`] → [`Enrolled`] |
//! | `POST /api/v1/codes` | an owner | → [`Code`] |
//! | `GET /api/v1/devices` | a device | → list of [`DeviceInfo`] |
//! | `POST /api/v1/devices/revoke` | an owner | [`RevokeRequest`] → nothing |
//! | `POST /api/v1/sensors` | an owner | `{"name"}` → `{"device", "token"}`: lets a thermometer in, its token told this once |
//! | `POST /api/v1/readings` | a sensor | `{"room", "celsius", "humidity"?, "at"?}` or a list of at most 1,000 → `{"kept"}`; `room` is a name or an id, `humidity` percent, `at` ISO 8601 with a zone, now when left out |
//! | `GET /api/v1/totals?by=&across=&pick=` | a device | → `book::totals::Totals`, as the command line's `--json` |
//! | `GET /api/v1/forecast?days=&today=&offset_minutes=` | a device | → `outlook::Outlook` |
//! | `POST /api/v1/forecast` | a device | a case (`trade::ripening::case`) → `trade::ripening::Forecast` |
//! | `GET /api/v1/kitchen?today=&offset_minutes=` | a device | → `trade::kitchen::SimplePlan` |
//! | `POST /api/v1/plan` | a device | `trade::kitchen::planner::Problem` → `Plan`; one at a time |
//!
//! "A device" means `authorization: Bearer TOKEN`. A refusal is a [`Refusal`] in the body with the
//! HTTP status its code names.
//!
//! # The exchange
//! 1. The phone sends what no server has acknowledged, in its own order, at most
//!    [`limits::BATCH_MAX_ENTRIES`] or [`limits::BATCH_MAX_BYTES`], and the cursor it has read to.
//! 2. The server admits the batch in order in one transaction, giving each entry the next `seq`.
//!    An acknowledgement means it is on disk. Nothing of a refused batch is kept.
//! 3. The answer acknowledges everything of this device up to `acked`, and carries the log after
//!    the cursor, one page. The phone's own entries come back as stubs.
//! 4. The phone folds the page in `seq` order, checks `digest` at `cursor`, stores page and cursor
//!    in one transaction, and repeats until its outbox is empty and `more` is false.
//!
//! Because a device's entries are dense and admitted in order, "up to which one" says exactly
//! which entries are safe; no list of acknowledgements is needed.
//!
//! # When it does not go well
//! | what | refusal | what the phone does |
//! |---|---|---|
//! | a known id with other content | `device_forked` | takes a new id ([`RenewRequest`]), re-issues what was not acknowledged |
//! | an id past the next expected | `gap` | offers again from the expected one |
//! | a clock a day or more ahead | `clock_ahead` | restamps what the server does not hold, tells the person |
//! | another epoch | `epoch_changed` | drops the cursor, keeps every entry, offers all its own again, and at the log's end writes again what is lacking of its earlier ids |
//! | a cursor before the kept log | `cursor_expired` | takes the snapshot |
//! | a cursor beyond the log | `cursor_ahead` | as for another epoch |
//!
//! `acked`, a snapshot's `own` and `stored_through` are numbers: they count what a twin wrote under
//! the same id as well. A phone takes as acknowledged only entries whose content the server has
//! compared, or that it met itself in the log under the digest.
//!
//! For an id the server already holds the content decides, before any look at the clock: the same
//! content is acknowledged again, however late.

pub mod limits;

mod calendar;
mod enrol;
mod exchange;
mod refusal;

pub use calendar::{CalendarLink, CalendarRevoke, NewCalendarLink};
pub use enrol::{
    Code, DeviceInfo, EnrolRequest, Enrolled, Hello, RenewRequest, RevokeRequest, Role,
};
pub use exchange::{Announcement, Content, ExchangeReply, ExchangeRequest, LogRow, Snapshot};
pub use refusal::{Refusal, RefusalCode};

/// The minor version this program speaks.
pub const VERSION: u32 = 1;

/// The oldest minor version a server of this program takes.
pub const OLDEST: u32 = 1;
