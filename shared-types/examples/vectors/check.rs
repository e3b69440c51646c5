//! Reads the golden vectors and says, line by line, what this build makes of them.
//!
//! The same text must come out of a native build and of the wasm build inside a browser: that is
//! how the two are known to agree. A line that begins with `differs` means that a frozen format
//! changed. Phones in the field hold entries in it; see `entry::Entry` before touching either.

use std::fmt::Write as _;

use serde::Serialize;
use serde::de::DeserializeOwned;
use shared_types::book::Book;
use shared_types::entry::{Decoded, Digest, Entry};
use shared_types::trade::ripening::case::{self, Case};
use shared_types::wire;

/// Lines of `hash entry`, one of every kind.
const ENTRIES: &str = include_str!("../../../tests/golden/entries.txt");
/// Lines of `type message`.
const MESSAGES: &str = include_str!("../../../tests/golden/messages.txt");

/// One line per vector, then the digest of the entries as a log and the book they fold to.
pub fn report() -> String {
    let mut report = String::new();
    let mut line = |name: &str, verdict: Result<String, String>| {
        match verdict {
            Ok(text) => writeln!(report, "same {name} {text}"),
            Err(text) => writeln!(report, "differs {name} {text}"),
        }
        .expect("writing to a string does not fail");
    };

    let mut digest = Digest::default();
    let mut book = Book::default();
    for (hash, json) in lines(ENTRIES) {
        match check_entry(hash, json) {
            Ok(entry) => {
                digest = digest.then(entry.hash());
                book.fold(&entry);
                line(&entry.kind, Ok(hash.to_owned()));
            }
            Err(error) => line("entry", Err(error)),
        }
    }
    line("forecast", forecast());
    line("digest", Ok(digest.to_string()));
    line("book", serde_json::to_string(&book).map_err(|error| error.to_string()));
    for (name, json) in lines(MESSAGES) {
        line(name, check_message(name, json).map(|()| String::new()));
    }
    report
}

fn lines(text: &str) -> impl Iterator<Item = (&str, &str)> {
    text.lines().filter_map(|line| line.split_once(' '))
}

/// A forecast with every sort of lot and room, learning from rounds: floating-point work that must
/// not differ by a bit.
fn forecast() -> Result<String, String> {
    const CASE: &str = r#"{
        "today": "2026-10-12", "days": 21, "quantiles": [0.05, 0.25, 0.75],
        "lots": [
            {"crop": "tomato", "class": "colouring", "kg": 25, "picked": "2026-10-09", "celsius": 20},
            {"crop": "tomato", "class": "green", "kg": 40, "picked": "2026-10-09", "celsius": 14.5},
            {"crop": "tomato", "class": "green", "stage": "green", "grams": 9999, "celsius": [
                {"day": "2026-10-09", "celsius": 9.3}, {"day": "2026-10-16", "celsius": 26.1}]},
            {"crop": "pepper", "class": "colouring", "kg": 3.3, "celsius": 18, "humidity": 55},
            {"crop": "tomato", "stages": {"breakers": 12, "pink": 4}, "room": {"min": 9, "max": 21}},
            {"crop": "tomato", "variety": "paste", "class": "green", "kg": 18, "picked": "2026-09-28",
                "room": {"celsius": 15, "readings": [
                    {"at": "2026-10-01T07:00", "celsius": 11.2, "humidity": 71},
                    {"at": "2026-10-01T15:30", "celsius": 17.9}]},
                "rounds": [{"day": "2026-10-06", "ripe_kg": 0.4, "lost_kg": 0.2},
                    {"day": "2026-10-11", "ripe_kg": 2.1, "lost_kg": 0.3, "left_kg": 14.6}]}
        ]}"#;
    let case = Case::parse(CASE).map_err(|error| error.to_string())?;
    let forecast = case::run(&case).map_err(|error| error.to_string())?;
    serde_json::to_string(&forecast).map_err(|error| error.to_string())
}

/// The entry reads, writes back to the same bytes, hashes to the given hash, and its fact encodes
/// to the same payload.
fn check_entry(hash: &str, json: &str) -> Result<Entry, String> {
    let entry: Entry = read(json)?;
    if entry.hash().to_string() != hash {
        return Err(format!("hash {} of {json}", entry.hash()));
    }
    match entry.decode() {
        Decoded::Fact(fact) if fact.encode().get() == entry.payload.get() => Ok(entry),
        other => Err(format!("{json} reads as {other:?}")),
    }
}

fn check_message(name: &str, json: &str) -> Result<(), String> {
    match name {
        "hello" => read::<wire::Hello>(json).map(drop),
        "enrol-request" => read::<wire::EnrolRequest>(json).map(drop),
        "enrolled" => read::<wire::Enrolled>(json).map(drop),
        "renew-request" => read::<wire::RenewRequest>(json).map(drop),
        "exchange-request" => read::<wire::ExchangeRequest>(json).map(drop),
        "exchange-reply" => read::<wire::ExchangeReply>(json).map(drop),
        "snapshot" => read::<wire::Snapshot>(json).map(drop),
        "announcement" => read::<wire::Announcement>(json).map(drop),
        "code" => read::<wire::Code>(json).map(drop),
        "device-info" => read::<wire::DeviceInfo>(json).map(drop),
        "revoke-request" => read::<wire::RevokeRequest>(json).map(drop),
        "refusal" => read::<wire::Refusal>(json).map(drop),
        _ => Err("no message of this name".to_owned()),
    }
}

/// Reads a value and makes sure that it writes back to the same bytes.
fn read<T: DeserializeOwned + Serialize>(json: &str) -> Result<T, String> {
    let value: T = serde_json::from_str(json).map_err(|error| format!("{error} in {json}"))?;
    let back = serde_json::to_string(&value).map_err(|error| error.to_string())?;
    if back == json { Ok(value) } else { Err(format!("{json} writes back as {back}")) }
}
