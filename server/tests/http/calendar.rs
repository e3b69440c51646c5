//! The calendar feed by its secret link.

use std::process::Command;

use reqwest::Method;
use serde_json::json;
use shared_types::wire::{CalendarLink, CalendarRevoke, NewCalendarLink, RefusalCode};

use crate::support::{House, answer, refused};

#[tokio::test]
async fn a_link_is_read_without_a_token_until_it_is_revoked() {
    let house = House::new().await;
    let owner = house.phone(1).await;
    let path = "/api/v1/calendar";
    let link: NewCalendarLink = owner.post(&house, path, &json!({})).await.unwrap();
    let read = house.request(Method::GET, &link.path).send().await.unwrap();
    assert_eq!(read.status(), 200);
    assert_eq!(read.headers()["content-type"], "text/calendar; charset=utf-8");
    assert_eq!(read.headers()["cache-control"], "no-store");
    let text = read.text().await.unwrap();
    assert!(
        text.starts_with("BEGIN:VCALENDAR\r\n") && text.ends_with("END:VCALENDAR\r\n"),
        "{text}"
    );

    let links: Vec<CalendarLink> = owner.get(&house, path).await.unwrap();
    assert_eq!(links.len(), 1);
    assert_eq!(links[0].id, link.id);
    assert!(links[0].read.is_some());
    assert!(!link.path.contains(&link.id), "the id is no part of the secret");

    let revoke = CalendarRevoke { id: link.id };
    let _: () = owner.post(&house, &format!("{path}/revoke"), &revoke).await.unwrap();
    let gone: Result<(), _> = answer(house.request(Method::GET, &link.path)).await;
    assert_eq!(refused(gone), RefusalCode::NotFound);
    let again: Result<(), _> = owner.post(&house, &format!("{path}/revoke"), &revoke).await;
    assert!(matches!(refused(again), RefusalCode::Malformed { .. }));
}

#[tokio::test]
async fn a_wrong_secret_is_told_nothing_and_links_are_for_devices() {
    let house = House::new().await;
    let wrong: Result<(), _> =
        answer(house.request(Method::GET, "/api/v1/calendar/AAAA.ics")).await;
    assert_eq!(refused(wrong), RefusalCode::NotFound);
    let stranger: Result<Vec<CalendarLink>, _> =
        answer(house.request(Method::GET, "/api/v1/calendar")).await;
    assert_eq!(refused(stranger), RefusalCode::TokenUnknown);
}

/// Another program's reader: Python's `icalendar`, where `LUGBOOK_PYTHON` names a Python that has
/// it (see `tests/reference/calendar.py`).
#[test]
#[ignore = "needs LUGBOOK_PYTHON, a Python with `icalendar`"]
fn python_reads_the_demo_s_feed() {
    let python = std::env::var("LUGBOOK_PYTHON").expect("LUGBOOK_PYTHON names a Python");
    let now = shared_types::units::Millis(1_791_547_200_000);
    let mut book = shared_types::book::Book::default();
    for entry in server::demo::story(now, 0).entries {
        book.fold(&entry);
    }
    let file = tempfile::NamedTempFile::new().unwrap();
    std::fs::write(file.path(), server::calendar::feed(&book, now)).unwrap();
    let script = concat!(env!("CARGO_MANIFEST_DIR"), "/../tests/reference/calendar.py");
    let told = Command::new(python).arg(script).arg(file.path()).output().unwrap();
    let words = String::from_utf8_lossy(&told.stdout).into_owned();
    assert!(told.status.success(), "{words} {}", String::from_utf8_lossy(&told.stderr));
    assert!(words.contains("events"), "{words}");
}
