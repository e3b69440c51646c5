//! What a calendar program reads is what the kitchen says, on both sides of a clock change.

use super::*;
use icalendar::parser::{read_calendar, unfold};

const VIENNA: Zone = Zone::Named(chrono_tz::Europe::Vienna);

fn day(year: i32, month: u32, day: u32) -> Day {
    Day::from_ymd(year, month, day).expect("a day")
}

#[test]
fn a_time_of_day_is_the_same_on_the_clock_before_and_after_it_changes() {
    // Summer time ends on 2026-10-25 at 3:00 in Vienna, and begins on 2027-03-28 at 2:00.
    for (on, minute, utc) in [
        (day(2026, 10, 24), 510, "2026-10-24T06:30:00Z"),
        (day(2026, 10, 25), 510, "2026-10-25T07:30:00Z"),
        // Twice on the clock: the first.
        (day(2026, 10, 25), 150, "2026-10-25T00:30:00Z"),
        // Skipped by the clock: an hour later.
        (day(2027, 3, 28), 150, "2027-03-28T01:30:00Z"),
        (day(2027, 3, 28), 510, "2027-03-28T06:30:00Z"),
        // Past midnight is the next day.
        (day(2026, 10, 24), 25 * 60, "2026-10-24T23:00:00Z"),
    ] {
        let at = VIENNA.moment(on, minute).expect("a moment");
        assert_eq!(at.format("%Y-%m-%dT%H:%M:%SZ").to_string(), utc, "{on} {minute}");
    }
}

#[test]
fn the_demo_s_feed_reads_back_with_its_alarms() {
    let now = Millis(1_791_547_200_000);
    let mut book = Book::default();
    for entry in crate::demo::story(now, 0).entries {
        book.fold(&entry);
    }
    let text = feed(&book, now);
    let zone = Zone::of(&book);
    let today = zone.today(now);
    let open = tasks(&book, today, now);
    let open: Vec<_> =
        open.iter().filter(|task| !task.done && task.day >= today.day.plus(-7)).collect();
    assert!(!open.is_empty(), "the demo keeps a plan");
    let unfolded = unfold(&text);
    let read = read_calendar(&unfolded).expect("a calendar program reads it");
    let events: Vec<_> = read.components.iter().filter(|c| c.name == "VEVENT").collect();
    assert_eq!(events.len(), open.len());
    for task in open {
        let uid = format!("{}@lugbook", task.key);
        let of = |name: &str, event: &icalendar::parser::Component<'_>| {
            event.find_prop(name).map(|prop| prop.val.to_string())
        };
        let event = events.iter().find(|event| of("UID", event) == Some(uid.clone()));
        let event = event.expect("an event for each task");
        let begins = zone.moment(task.day, task.minute).expect("a moment");
        assert_eq!(of("DTSTART", event), Some(begins.format("%Y%m%dT%H%M%SZ").to_string()));
        let alarms = event.components.iter().filter(|c| c.name == "VALARM").count();
        assert_eq!(alarms, usize::from(task.alarm.is_some()), "{}", task.text);
    }
    // No line of a feed is longer than 75 bytes (RFC 5545, 3.1).
    assert!(text.lines().all(|line| line.len() <= 75), "{text}");
    assert!(text.contains("\r\n"));
}
