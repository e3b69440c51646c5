//! Readings of thermometers, from a sensor with a token of its own.
//!
//! `POST /api/v1/readings`, `authorization: Bearer TOKEN`, one reading or a list of at most
//! [`MOST`]:
//!
//! ```json
//! {"room": "Back room", "celsius": 14.2, "humidity": 61, "at": "2026-10-10T07:05:00+02:00"}
//! ```
//!
//! | field | |
//! |---|---|
//! | `room` | its name (in any case) or its id |
//! | `celsius` | −60 to 80 |
//! | `humidity` | percent, 0 to 100; can be left out |
//! | `at` | ISO 8601 with a zone; now when left out |
//!
//! The answer is `{"kept": 1}` once they are on the disk. Either all are kept or none. A reading
//! sent twice with its `at` counts once.

use std::collections::BTreeMap;

use axum::Json;
use axum::body::Body;
use axum::extract::State;
use axum::http::HeaderMap;
use axum::http::header::AUTHORIZATION;
use chrono::DateTime;
use serde::{Deserialize, Serialize};
use shared_types::book::Book;
use shared_types::entry::{READINGS_MAX, ReadingsTaken, RoomReading};
use shared_types::ids::{DeviceId, ReadingsId, RoomId};
use shared_types::units::{DAY_MS, MilliCelsius, Millis};
use shared_types::wire::RefusalCode;

use super::App;
use super::body::text;
use crate::auth::bearer;
use crate::error::Error;
use crate::join::Token;
use crate::random;
use crate::store::Device;

/// Readings in one request: a logger that was out of reach for a week at ten minutes.
const MOST: usize = 1_000;

/// One reading as it is sent.
#[derive(Clone, Debug, Deserialize)]
#[serde(deny_unknown_fields)]
struct Sent {
    room: String,
    celsius: f64,
    humidity: Option<f64>,
    at: Option<String>,
}

/// One or many.
#[derive(Deserialize)]
#[serde(untagged)]
enum Posted {
    Many(Vec<serde_json::Value>),
    One(serde_json::Value),
}

/// How many were kept.
#[derive(Debug, Serialize)]
pub(super) struct Answer {
    kept: usize,
}

/// `POST /api/v1/readings`
pub(super) async fn take(
    State(app): State<App>,
    headers: HeaderMap,
    body: Body,
) -> Result<Json<Answer>, Error> {
    let header = headers.get(AUTHORIZATION).and_then(|value| value.to_str().ok());
    let token = header.and_then(bearer).ok_or(RefusalCode::TokenUnknown)?;
    let sensor = app.store.sensor(&token).await?;
    let now = (app.clock)();
    let sent = parse(&text(body).await?)?;
    let kept = sent.len();
    let source = sensor.name.clone();
    let readings = app.store.look(move |book| sort(book, &sent, &source, now)).await??;
    app.store.write_readings(sensor.device, readings, now).await?;
    Ok(Json(Answer { kept }))
}

fn malformed(reason: String) -> RefusalCode {
    RefusalCode::Malformed { reason }
}

fn parse(text: &str) -> Result<Vec<Sent>, RefusalCode> {
    let posted = serde_json::from_str(text).map_err(|error| malformed(error.to_string()))?;
    let values = match posted {
        Posted::Many(values) => values,
        Posted::One(value) => vec![value],
    };
    if values.len() > MOST {
        return Err(malformed(format!(
            "at most {MOST} readings at once; send the rest after them"
        )));
    }
    let one = |(n, value)| {
        serde_json::from_value(value).map_err(|error| malformed(format!("reading {n}: {error}")))
    };
    (1..).zip(values).map(one).collect()
}

/// The readings by room, as entries take them.
fn sort(
    book: &Book,
    sent: &[Sent],
    source: &str,
    now: Millis,
) -> Result<Vec<ReadingsTaken>, RefusalCode> {
    let mut rooms: BTreeMap<RoomId, Vec<RoomReading>> = BTreeMap::new();
    for (n, one) in (1..).zip(sent) {
        let told = |what: String| malformed(format!("reading {n}: {what}"));
        let room = room(book, &one.room).map_err(told)?;
        let reading = reading(one, now).map_err(told)?;
        rooms.entry(room).or_default().push(reading);
    }
    let of_room = |(room, all): (RoomId, Vec<RoomReading>)| {
        let entry = |taken: &[RoomReading]| ReadingsTaken {
            readings: ReadingsId::new(now, random::bytes()),
            room,
            source: source.to_owned(),
            taken: taken.to_vec(),
        };
        all.chunks(READINGS_MAX).map(entry).collect::<Vec<_>>()
    };
    Ok(rooms.into_iter().flat_map(of_room).collect())
}

fn room(book: &Book, wanted: &str) -> Result<RoomId, String> {
    if let Ok(id) = wanted.parse::<RoomId>()
        && book.rooms.contains_key(&id)
    {
        return Ok(id);
    }
    let named = |id: &&RoomId| book.room_name(**id).trim().eq_ignore_ascii_case(wanted.trim());
    let mut found = book.rooms.keys().filter(named);
    match (found.next(), found.next()) {
        (Some(room), None) => Ok(*room),
        (Some(_), Some(_)) => {
            Err(format!("two rooms are called `{wanted}`: give the room's id, or rename one"))
        }
        _ => {
            let names: Vec<_> = book.rooms.keys().map(|id| book.room_name(*id)).collect();
            Err(format!("no room is called `{wanted}`; there are: {}", names.join(", ")))
        }
    }
}

fn reading(one: &Sent, now: Millis) -> Result<RoomReading, String> {
    let at = match &one.at {
        None => now,
        Some(text) => {
            DateTime::parse_from_rfc3339(text).map(|at| Millis(at.timestamp_millis())).map_err(
                |_| format!("`at` is `{text}`: give ISO 8601 with a zone, as 2026-10-10T07:05:00Z"),
            )?
        }
    };
    if at.since(now) > DAY_MS {
        return Err("`at` is more than a day ahead: set the sensor's clock".to_owned());
    }
    let scaled = |value: f64, by: f64| {
        let scaled = (value * by).round();
        (scaled.abs() < 1e9).then_some(scaled as i64)
    };
    let millidegrees = scaled(one.celsius, 1_000.0).and_then(|t| i32::try_from(t).ok());
    let reading = RoomReading {
        at,
        millidegrees: MilliCelsius(millidegrees.unwrap_or(i32::MAX)),
        humidity_permille: one.humidity.map(|percent| scaled(percent, 10.0).unwrap_or(i64::MAX)),
    };
    match reading.is_likely() {
        true => Ok(reading),
        false => Err("no room is like that: -60 to 80 °C, humidity 0 to 100 %".to_owned()),
    }
}

/// What a new sensor is to be called.
#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct NewSensor {
    name: String,
}

/// A new sensor. Its token is told this once.
#[derive(Debug, Serialize)]
pub(super) struct NewToken {
    device: DeviceId,
    token: String,
}

/// `POST /api/v1/sensors`: for an owner.
pub(super) async fn enrol(
    State(app): State<App>,
    device: Device,
    body: Body,
) -> Result<Json<NewToken>, Error> {
    device.must_own()?;
    let new: NewSensor =
        serde_json::from_str(&text(body).await?).map_err(|error| malformed(error.to_string()))?;
    let now = (app.clock)();
    let sensor = DeviceId::new(now, random::bytes());
    let token = Token::new(random::bytes());
    let told = token.reveal().to_owned();
    app.store.let_sensor_in(sensor, new.name, token, now).await?;
    tracing::info!(device = %sensor, by = %device.device, "sensor.enrolled");
    Ok(Json(NewToken { device: sensor, token: told }))
}

#[cfg(test)]
mod tests {
    use super::*;

    const NOW: Millis = Millis(1_800_000_000_000);

    #[test]
    fn one_or_many_are_read_and_what_is_wrong_is_told_with_its_place() {
        assert_eq!(parse(r#"{"room": "Cellar", "celsius": 7.1}"#).map(|all| all.len()), Ok(1));
        let two = r#"[{"room": "Cellar", "celsius": 7}, {"room": "Cellar", "celsius": 7.5}]"#;
        assert_eq!(parse(two).map(|all| all.len()), Ok(2));
        for (text, word) in [
            ("{", "EOF"),
            (r#"[{"room": "Cellar", "celsius": 7}, {"room": "Cellar"}]"#, "reading 2: missing"),
            (r#"{"room": "Cellar", "fahrenheit": 50}"#, "unknown field"),
        ] {
            let Err(RefusalCode::Malformed { reason }) = parse(text) else { panic!("{text}") };
            assert!(reason.contains(word), "{reason}");
        }
    }

    #[test]
    fn a_reading_is_checked_before_it_is_kept() {
        let sent = |celsius, humidity, at: Option<&str>| Sent {
            room: String::new(),
            celsius,
            humidity,
            at: at.map(str::to_owned),
        };
        let good = reading(&sent(14.2, Some(61.0), Some("2026-10-10T07:05:00+02:00")), NOW);
        let good = good.expect("reads");
        assert_eq!((good.at, good.millidegrees.0), (Millis(1_791_608_700_000), 14_200));
        assert_eq!(good.humidity_permille, Some(610));
        assert_eq!(reading(&sent(1.0, None, None), NOW).map(|one| one.at), Ok(NOW));
        for (wrong, word) in [
            (sent(500.0, None, None), "-60 to 80"),
            (sent(f64::NAN, None, None), "-60 to 80"),
            (sent(5.0, Some(101.0), None), "0 to 100"),
            (sent(5.0, None, Some("2026-10-10T07:05:00")), "with a zone"),
            (sent(5.0, None, Some("2199-10-10T07:05:00Z")), "clock"),
        ] {
            let error = reading(&wrong, NOW).expect_err(word);
            assert!(error.contains(word), "{error}");
        }
    }
}
