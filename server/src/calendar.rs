//! The calendar feed: tasks of the kitchen and chores of cold nights as events with alarms
//! (RFC 5545), for any calendar program that can subscribe to an address.
//!
//! Times go out as UTC instants, worked out from the holding's zone for each event's own day, so
//! that a feed read in October is right in November, after the clocks have changed.

use chrono::{DateTime, Duration, LocalResult, NaiveDateTime, TimeZone as _, Utc};
use chrono_tz::Tz;
use icalendar::{Alarm, Calendar, Component as _, Event, EventLike as _, Trigger};
use shared_types::book::Book;
use shared_types::outlook::Today;
use shared_types::outlook::kitchen::{Task, tasks};
use shared_types::units::{Day, Millis};

use crate::clock;

/// Events further back are no longer of use in a calendar.
const DAYS_BACK: i32 = 7;
/// An event without a length is shown so long.
const LEAST_MINUTES: i64 = 5;
/// How often a calendar is asked to read the feed again.
const REFRESH_MINUTES: i64 = 15;

/// The zone of a holding.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Zone {
    /// As the holding says.
    Named(Tz),
    /// Nobody said: that of the machine the server runs on.
    Machine,
}

impl Zone {
    /// The zone the book names, if this program knows it.
    pub fn of(book: &Book) -> Self {
        let named = book.nights.site.zone.get().and_then(|name| name.trim().parse().ok());
        named.map_or(Self::Machine, Self::Named)
    }

    /// The moment of a time of day. One that the clocks skip is an hour later, one that they show
    /// twice is the first.
    pub fn moment(self, day: Day, minute: u32) -> Option<DateTime<Utc>> {
        let local = day.date().and_hms_opt(0, 0, 0)? + Duration::minutes(i64::from(minute));
        match self {
            Self::Named(zone) => in_zone(&zone, local),
            Self::Machine => in_zone(&chrono::Local, local),
        }
    }

    /// Which day it is there.
    pub fn today(self, now: Millis) -> Today {
        let offset = match self {
            Self::Named(zone) => {
                use chrono::Offset as _;
                let at = zone.timestamp_millis_opt(now.0).earliest();
                at.map_or(0, |at| at.offset().fix().local_minus_utc() / 60)
            }
            Self::Machine => clock::offset_minutes(now),
        };
        Today::at(now, offset)
    }
}

fn in_zone<Z: chrono::TimeZone>(zone: &Z, local: NaiveDateTime) -> Option<DateTime<Utc>> {
    match zone.from_local_datetime(&local) {
        LocalResult::Single(at) => Some(at.to_utc()),
        LocalResult::Ambiguous(first, _) => Some(first.to_utc()),
        LocalResult::None => {
            let later = local + Duration::hours(1);
            zone.from_local_datetime(&later).earliest().map(|at| at.to_utc())
        }
    }
}

/// The feed of a book as it stands at `now`.
pub fn feed(book: &Book, now: Millis) -> String {
    let zone = Zone::of(book);
    let today = zone.today(now);
    let mut calendar = Calendar::new();
    let name = book.holding.name.get().map_or("Lugbook", String::as_str);
    calendar.name(&format!("{name}: kitchen and chores"));
    calendar.ttl(&Duration::minutes(REFRESH_MINUTES));
    let stamp = Utc.timestamp_millis_opt(now.0).earliest().unwrap_or_default();
    let from = today.day.plus(-DAYS_BACK);
    for task in tasks(book, today, now) {
        if task.done || task.day < from {
            continue;
        }
        let begins = zone.moment(task.day, task.minute);
        calendar.extend(begins.map(|begins| event(&task, begins, stamp)));
    }
    calendar.done().to_string()
}

fn event(task: &Task, begins: DateTime<Utc>, stamp: DateTime<Utc>) -> Event {
    let minutes = i64::from(task.minutes).max(LEAST_MINUTES);
    let mut event = Event::new();
    event
        // The same task keeps its event when the plan is moved.
        .uid(&format!("{}@lugbook", task.key))
        .timestamp(stamp)
        .starts(begins)
        .ends(begins + Duration::minutes(minutes))
        .summary(&task.text)
        .description(&task.detail);
    if let Some(before) = task.alarm {
        let before = Duration::minutes(i64::from(before));
        event.alarm(Alarm::display(&task.text, Trigger::before_start(before)));
    }
    event.done()
}

#[cfg(test)]
mod tests;
