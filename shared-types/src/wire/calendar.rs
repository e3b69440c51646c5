//! Links to the calendar feed.
//!
//! - `GET /api/v1/calendar`: the links that hold, as a list of [`CalendarLink`].
//! - `POST /api/v1/calendar`: makes one, [`NewCalendarLink`]. The secret is told this once.
//! - `POST /api/v1/calendar/revoke` of [`CalendarRevoke`]: it answers no more.
//! - `GET /api/v1/calendar/SECRET.ics`: the feed (RFC 5545), without a token: calendar programs send
//!   none. A secret that is not known, or not any more, is `not_found`.

use serde::{Deserialize, Serialize};

use crate::units::Millis;

/// A link that holds.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct CalendarLink {
    /// What it is revoked by; not the secret.
    pub id: String,
    /// When it was made.
    pub created: Millis,
    /// When a calendar last read it.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub read: Option<Millis>,
}

/// A link just made.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct NewCalendarLink {
    /// What it is revoked by.
    pub id: String,
    /// Where the feed is, on this server, secret and all.
    pub path: String,
}

/// Which link answers no more.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct CalendarRevoke {
    /// Its id.
    pub id: String,
}
