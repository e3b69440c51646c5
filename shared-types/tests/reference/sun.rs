//! Sunrise and sunset against skyfield (a general astronomy library), within a minute: 75 pairs of
//! latitude and date, through clock changes, on both sides of the date line, beyond the polar
//! circles. The table was made by `generate/sun.py`.

use serde::Deserialize;
use shared_types::trade::cold::{Light, Shadow, Site, altitude, night, sun};
use shared_types::units::{Day, HOUR_MS, MINUTE_MS, Millis};

#[derive(Deserialize)]
struct Table {
    rows: Vec<Row>,
}

#[derive(Debug, Deserialize)]
struct Row {
    latitude: f64,
    longitude: f64,
    zone: String,
    day: Day,
    offset_minutes: i32,
    rise: Option<i64>,
    set: Option<i64>,
    noon_altitude: f64,
}

fn rows() -> Vec<Row> {
    let table: Table = serde_json::from_str(include_str!("sun.json")).expect("reads");
    table.rows
}

fn site(row: &Row) -> Site {
    Site::from_degrees(row.latitude, row.longitude).expect("on earth")
}

/// Seconds between two events; none when only one of them takes place.
fn apart(ours: Option<Millis>, theirs: Option<i64>) -> Option<f64> {
    match (ours, theirs) {
        (None, None) => Some(0.0),
        (Some(ours), Some(theirs)) => Some((ours.0 - theirs).abs() as f64 / 1000.0),
        _ => None,
    }
}

#[test]
fn every_rise_and_set_is_within_a_minute() {
    let rows = rows();
    assert!(rows.len() == 75);
    let mut worst = 0.0_f64;
    for row in &rows {
        let told = sun(&site(row), row.day, row.offset_minutes);
        for (event, ours, theirs) in [("rise", told.rise, row.rise), ("set", told.set, row.set)] {
            let seconds = apart(ours, theirs);
            let place = format!("{event} {} {}: {ours:?} {theirs:?}", row.zone, row.day);
            assert!(seconds.is_some_and(|seconds| seconds <= 60.0), "{place}");
            worst = worst.max(seconds.unwrap_or(0.0));
        }
    }
    println!("{} places and days, at most {worst:.1} s apart", rows.len());
}

#[test]
fn the_sun_stands_where_the_library_says() {
    for row in rows() {
        let noon = row.day.start().plus(12 * HOUR_MS - i64::from(row.offset_minutes) * MINUTE_MS);
        let ours = altitude(&site(&row), noon);
        // Their altitude has the parallax of 0.002°.
        assert!((ours - row.noon_altitude).abs() < 0.015, "{row:?}: {ours}");
    }
}

#[test]
fn without_rise_and_set_it_says_which() {
    let mut seen = [0, 0];
    for row in rows().iter().filter(|row| row.rise.is_none() && row.set.is_none()) {
        let light = sun(&site(row), row.day, row.offset_minutes).light;
        let up = row.noon_altitude > -0.833;
        assert_eq!(light, if up { Light::PolarDay } else { Light::PolarNight }, "{row:?}");
        seen[usize::from(up)] += 1;
        // At the edge of the polar day the sun may set after midnight: that is the next day's.
        match night(&site(row), row.day, row.offset_minutes) {
            Err(found) => assert_eq!(found, light, "{row:?}"),
            Ok(night) => assert_eq!(Day::at(night.sunset, row.offset_minutes), row.day.plus(1)),
        }
    }
    assert!(seen[0] >= 4 && seen[1] >= 4, "{seen:?}");
}

#[test]
fn the_night_runs_from_one_days_set_to_the_next_days_rise() {
    for row in rows().iter().filter(|row| row.latitude.abs() < 60.0) {
        let here = site(row);
        let set = sun(&here, row.day, row.offset_minutes).set;
        let rise = sun(&here, row.day.plus(1), row.offset_minutes).rise;
        let night = night(&here, row.day, row.offset_minutes).expect("a night");
        assert!(set.is_some_and(|set| set.since(night.sunset).abs() < 1000), "{row:?}");
        assert!(rise.is_some_and(|rise| rise.since(night.sunrise).abs() < 1000), "{row:?}");
        assert!((6.0..=18.0).contains(&night.hours()), "{row:?}: {}", night.hours());
    }
}

#[test]
fn a_sunset_after_midnight_still_begins_the_evenings_night() {
    // Iceland at midsummer: the sun sets past midnight by the clock.
    let here = Site::from_degrees(64.1, -21.9).expect("on earth");
    let day = Day::from_ymd(2026, 6, 21).expect("a day");
    let night = night(&here, day, 0).expect("a short night");
    assert_eq!(Day::at(night.sunset, 0), day.plus(1));
    assert!(night.hours() > 2.0 && night.hours() < 4.0, "{}", night.hours());
}

#[test]
fn a_hill_takes_its_minutes_off_both_ends() {
    let plain = Site::from_degrees(46.7, 9.9).expect("on earth");
    let shadow = Shadow { morning_minutes: 40, evening_minutes: 75 };
    let valley = plain.shaded(shadow).expect("not too long");
    let day = Day::from_ymd(2026, 10, 9).expect("a day");
    let (open, shaded) = (sun(&plain, day, 120), sun(&valley, day, 120));
    assert_eq!(open.rise, shaded.rise, "the plain's times stay");
    assert_eq!(shaded.rise_here, open.rise.map(|at| at.plus(40 * MINUTE_MS)));
    assert_eq!(shaded.set_here, open.set.map(|at| at.plus(-75 * MINUTE_MS)));
    let longer = night(&valley, day, 120).expect("a night").hours()
        - night(&plain, day, 120).expect("a night").hours();
    assert!((longer - 115.0 / 60.0).abs() < 1e-6, "{longer}");
}

#[test]
fn what_is_not_on_earth_is_told() {
    for (latitude, longitude, word) in
        [(91.0, 0.0, "beyond a pole"), (f64::NAN, 0.0, "beyond a pole"), (0.0, 181.0, "west below")]
    {
        let error = Site::from_degrees(latitude, longitude).expect_err("refuses").to_string();
        assert!(error.contains(word), "{error}");
    }
    let plain = Site::from_degrees(0.0, 0.0).expect("on earth");
    let long = plain.shaded(Shadow { morning_minutes: 0, evening_minutes: 600 });
    assert!(long.is_err_and(|error| error.to_string().contains("0 to 240")));
}
