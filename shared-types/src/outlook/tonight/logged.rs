//! Evenings and lows of the log as the trade takes them.

use std::collections::BTreeSet;

use super::sensor_height;
use crate::book::Book;
use crate::entry::EveningNoted;
use crate::ids::PlaceId;
use crate::outlook::Today;
use crate::outlook::fitness::word;
use crate::trade::cold::{Evening, LoggedNight, Moisture, Site, Sky, dew_point, night};
use crate::units::{Day, MilliCelsius};

/// Wind in words, m/s. Calm and light lie within what the fit is for, windy does not; chosen here.
fn wind_m_s(words: &str) -> f64 {
    match words {
        "calm" => 0.5,
        "light" => 1.5,
        // A word this program does not know is taken for too much, so that it is not fitted on.
        _ => 5.0,
    }
}

/// The sky; a word this program does not know is cloud, which the fit leaves out.
fn sky(words: &str) -> Sky {
    word(words).unwrap_or(Sky::Cloud)
}

/// One evening, with the nights logged by the same thermometer before it.
pub(super) fn evening(book: &Book, site: &Site, noted: &EveningNoted, today: Today) -> Evening {
    Evening {
        day: noted.day,
        site: *site,
        offset_minutes: today.offset_minutes,
        celsius: Some(noted.temperature.celsius()),
        moisture: moisture(noted),
        read_at: Some(noted.at),
        sensor_height_mm: sensor_height(noted),
        sky: noted.sky.as_deref().map(sky),
        wind_m_s: noted.wind.as_deref().map(wind_m_s),
        official_low: noted.official_low.map(MilliCelsius::celsius),
        nights: nights(book, site, noted.place, noted.day, today),
    }
}

fn moisture(noted: &EveningNoted) -> Option<Moisture> {
    let dew = noted.dew_point.map(|dew| Moisture::DewPoint(dew.celsius()));
    dew.or_else(|| noted.humidity_permille.map(|rh| Moisture::Humidity(rh as f64 / 10.0)))
}

/// The nights of one thermometer before `before`, by day.
fn nights(
    book: &Book,
    site: &Site,
    place: Option<PlaceId>,
    before: Day,
    today: Today,
) -> Vec<LoggedNight> {
    let notes = book.nights.evenings.values().map(|note| &note.fact);
    let days: BTreeSet<Day> = notes
        .filter(|note| note.place == place && note.day < before)
        .map(|note| note.day)
        .collect();
    days.into_iter().filter_map(|day| logged(book, site, place, day, today)).collect()
}

fn logged(
    book: &Book,
    site: &Site,
    place: Option<PlaceId>,
    day: Day,
    today: Today,
) -> Option<LoggedNight> {
    let noted = book.nights.evening(day, place)?;
    let low = book.nights.low(day, place)?;
    let celsius = noted.temperature.celsius();
    let dew = match moisture(noted) {
        Some(Moisture::DewPoint(dew)) => Some(dew),
        // A humidity that cannot be leaves the night without dew point, not out of the fit.
        Some(Moisture::Humidity(percent)) => dew_point(celsius, percent).ok(),
        _ => None,
    };
    let read_hours = night(site, day, today.offset_minutes).ok();
    Some(LoggedNight {
        day: Some(day),
        evening: celsius,
        dew_point: dew,
        low: low.temperature.celsius(),
        official_low: noted.official_low.map(MilliCelsius::celsius),
        sky: noted.sky.as_deref().map(sky),
        wind_m_s: noted.wind.as_deref().map(wind_m_s),
        read_hours: read_hours.map(|night| night.hours_after_sunset(noted.at)),
    })
}

/// Every night with evening and low.
pub(super) fn all(book: &Book, site: &Site, today: Today) -> Vec<LoggedNight> {
    let notes = book.nights.evenings.values().map(|note| &note.fact);
    let all: BTreeSet<(Day, Option<PlaceId>)> = notes.map(|note| (note.day, note.place)).collect();
    all.into_iter().filter_map(|(day, place)| logged(book, site, place, day, today)).collect()
}
