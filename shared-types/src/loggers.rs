//! Files of temperature loggers: comma-separated text into readings of a room.
//!
//! Two shapes are read, told apart by their heading:
//!
//! ```text
//! timestamp,temperature,humidity          one column of time, ISO 8601, with or without a zone
//! date,time,temp_f                        day and time apart; or one local `dd/mm/yyyy hh:mm`
//! ```
//!
//! The delimiter is what the heading uses (comma, semicolon or tab); decimals may have a comma
//! where the delimiter is another. Degrees are Celsius unless the heading says Fahrenheit. A time
//! without a zone is read by the clock the caller names: it is asked, never guessed.
//!
//! Nothing is kept here: what comes back says line by line what is wrong, for a person to look at
//! first.

use chrono::{DateTime, NaiveDateTime};
use csv::{ReaderBuilder, StringRecord, Trim};
use thiserror::Error;

use crate::entry::RoomReading;
use crate::units::{MINUTE_MS, MilliCelsius, Millis};

/// How the file is to be understood where it does not say so itself.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Clock {
    /// Minutes that the logger's clock is ahead of UTC, for times without a zone.
    pub offset_minutes: i32,
    /// Whether `10/9/2026` is the tenth of September; the ninth of October otherwise.
    pub day_first: bool,
}

/// What a file holds.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Logged {
    /// The readings, in the file's order.
    pub readings: Vec<RoomReading>,
    /// Lines that could not be read.
    pub faults: Vec<Fault>,
    /// Whether degrees were Fahrenheit.
    pub fahrenheit: bool,
    /// Whether at least one time had no zone of its own.
    pub local_times: bool,
}

/// A line that could not be read.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Fault {
    /// Which line of the file, from 1.
    pub line: u64,
    /// What is wrong with it.
    pub what: String,
}

/// Why a file is not a logger's.
#[derive(Clone, Debug, PartialEq, Eq, Error)]
pub enum NotALog {
    /// No heading that says where the time stands.
    #[error(
        "the first line must name the columns: `timestamp` (or `date` and `time`) and \
         `temperature`; it is `{0}`"
    )]
    Heading(String),
    /// Nothing in it.
    #[error("the file is empty")]
    Empty,
}

/// Where things stand in a line.
struct Columns {
    date: usize,
    /// The time of day, where it stands apart.
    time: Option<usize>,
    temperature: usize,
    fahrenheit: bool,
    humidity: Option<usize>,
}

/// Reads a file.
///
/// # Errors
/// When its heading does not tell what the columns are.
pub fn read(text: &str, clock: Clock) -> Result<Logged, NotALog> {
    let text = text.trim_start_matches('\u{feff}');
    let heading = text.lines().find(|line| !line.trim().is_empty()).ok_or(NotALog::Empty)?;
    let delimiter = [b';', b'\t', b','].into_iter().find(|d| heading.as_bytes().contains(d));
    let delimiter = delimiter.unwrap_or(b',');
    let mut reader = ReaderBuilder::new()
        .delimiter(delimiter)
        .trim(Trim::All)
        .flexible(true)
        .from_reader(text.as_bytes());
    let names = reader.headers().map_err(|_| NotALog::Heading(heading.to_owned()))?;
    let columns = columns(names).ok_or_else(|| NotALog::Heading(heading.to_owned()))?;
    let mut logged = Logged { fahrenheit: columns.fahrenheit, ..Logged::default() };
    let comma = delimiter != b',';
    for (n, record) in (2..).zip(reader.into_records()) {
        let record = match record {
            Ok(record) => record,
            Err(error) => {
                logged.faults.push(Fault { line: n, what: error.to_string() });
                continue;
            }
        };
        let line = record.position().map_or(n, csv::Position::line);
        match reading(&record, &columns, clock, comma) {
            Ok((reading, local)) => {
                logged.local_times |= local;
                logged.readings.push(reading);
            }
            Err(what) => logged.faults.push(Fault { line, what }),
        }
    }
    Ok(logged)
}

fn columns(names: &StringRecord) -> Option<Columns> {
    let names: Vec<String> = names.iter().map(str::to_lowercase).collect();
    let starts = |with: &[&str]| {
        names.iter().position(|name| with.iter().any(|with| name.starts_with(with)))
    };
    let temperature = starts(&["temp", "celsius", "fahrenheit", "°c", "°f"])?;
    let name = &names[temperature];
    let fahrenheit = ["_f", "°f", "(f", "fahrenheit", " f"].iter().any(|f| name.contains(f));
    let (date, time) = match (starts(&["date"]), starts(&["timestamp", "datetime", "time"])) {
        (Some(date), Some(time)) if date != time => (date, Some(time)),
        (Some(only), _) | (None, Some(only)) => (only, None),
        (None, None) => return None,
    };
    Some(Columns { date, time, temperature, fahrenheit, humidity: starts(&["hum", "rh"]) })
}

/// A reading, and whether its time had no zone.
fn reading(
    record: &StringRecord,
    columns: &Columns,
    clock: Clock,
    comma: bool,
) -> Result<(RoomReading, bool), String> {
    let cell = |at: usize| record.get(at).unwrap_or("");
    let when = match columns.time {
        Some(time) => format!("{} {}", cell(columns.date), cell(time)),
        None => cell(columns.date).to_owned(),
    };
    let (at, local) = moment(&when, clock)
        .ok_or_else(|| format!("`{when}` is not a time: 2026-10-10T07:05, or 10/10/2026 07:05"))?;
    let number = |text: &str| {
        let text = if comma { text.replace(',', ".") } else { text.to_owned() };
        text.trim_end_matches(['C', 'F', '%', '°', ' ']).parse::<f64>().ok()
    };
    let text = cell(columns.temperature);
    let degrees = number(text).ok_or_else(|| format!("`{text}` is not a temperature"))?;
    // C = (F − 32) · 5/9
    let celsius = if columns.fahrenheit { (degrees - 32.0) * 5.0 / 9.0 } else { degrees };
    let humid = columns.humidity.map(cell).filter(|text| !text.is_empty());
    let humidity_permille = match humid {
        None => None,
        Some(text) => {
            let percent = number(text).ok_or_else(|| format!("`{text}` is not a humidity"))?;
            Some(libm::round(percent * 10.0) as i64)
        }
    };
    let millidegrees = MilliCelsius(libm::round(celsius * 1_000.0) as i32);
    let reading = RoomReading { at, millidegrees, humidity_permille };
    match reading.is_likely() {
        true => Ok((reading, local)),
        false => Err(format!("no room is at `{text}`: is the column Celsius or Fahrenheit?")),
    }
}

fn moment(text: &str, clock: Clock) -> Option<(Millis, bool)> {
    // ISO 8601 as people write it: a space for the `T`, and a zone.
    let iso = text.replacen(' ', "T", 1);
    if let Ok(at) = DateTime::parse_from_rfc3339(&iso) {
        return Some((Millis(at.timestamp_millis()), false));
    }
    let days = if clock.day_first { ["%d/%m/%Y", "%d.%m.%Y"] } else { ["%m/%d/%Y", "%d.%m.%Y"] };
    let formats = ["%Y-%m-%dT", "%Y-%m-%d "]
        .into_iter()
        .map(str::to_owned)
        .chain(days.into_iter().map(|day| format!("{day} ")));
    let times = ["%H:%M:%S%.f", "%H:%M", "%I:%M:%S %p", "%I:%M %p"];
    let local = formats
        .flat_map(|day| times.map(|time| format!("{day}{time}")))
        .find_map(|format| NaiveDateTime::parse_from_str(text, &format).ok())?;
    let millis = Millis(local.and_utc().timestamp_millis());
    Some((millis.plus(-i64::from(clock.offset_minutes) * MINUTE_MS), true))
}

#[cfg(test)]
mod tests {
    use super::*;

    const CLOCK: Clock = Clock { offset_minutes: 120, day_first: true };
    /// 2026-10-10T05:05Z
    const AT: Millis = Millis(1_791_608_700_000);

    fn of(text: &str) -> Logged {
        read(text, CLOCK).expect("has a heading")
    }

    #[test]
    fn the_shapes_loggers_write() {
        for (text, humid) in [
            ("timestamp,temperature,humidity\n2026-10-10T07:05:00+02:00,14.2,61\n", true),
            ("Timestamp,Temperature (°C),Humidity (%)\n2026-10-10T07:05,14.2,61.0\n", true),
            ("\u{feff}date,time,temp_f\n10/10/2026,07:05,57.56\n", false),
            ("date;time;temp_f\r\n10.10.2026;07:05:00;57,56\r\n", false),
            ("Date Time\tTemp C\tRH\n10/10/2026 07:05\t14,2\t61\n", true),
            ("timestamp,temperature\n2026-10-10 05:05:00Z,14.2\n", false),
            ("date,time,temp_f\n10/10/2026,7:05:00 AM,57.56\n", false),
        ] {
            let logged = of(text);
            assert_eq!(logged.faults, [], "{text}");
            let reading = logged.readings[0];
            assert_eq!((reading.at, reading.millidegrees.0), (AT, 14_200), "{text}");
            assert_eq!(reading.humidity_permille, humid.then_some(610), "{text}");
        }
    }

    #[test]
    fn days_and_months_are_not_guessed() {
        let text = "date,time,temperature\n9/10/2026,07:05,14.2\n";
        let months = read(text, Clock { day_first: false, ..CLOCK }).expect("reads");
        let apart = of(text).readings[0].at.since(months.readings[0].at);
        assert_eq!(apart, 29 * crate::units::DAY_MS, "9 October and 10 September");
    }

    #[test]
    fn what_is_wrong_is_told_line_by_line_and_the_rest_is_read() {
        let text = "timestamp,temperature\n2026-10-10T07:05,14.2\nyesterday,14\n\
                    2026-10-10T07:25,warm\n2026-10-10T07:35,212\n2026-10-10T07:45,14.4\n";
        let logged = of(text);
        assert_eq!(logged.readings.len(), 2);
        assert!(logged.local_times && !logged.fahrenheit);
        let lines: Vec<_> = logged.faults.iter().map(|fault| fault.line).collect();
        assert_eq!(lines, [3, 4, 5]);
        assert!(logged.faults[2].what.contains("Fahrenheit"), "{:?}", logged.faults);
        assert_eq!(read("", CLOCK), Err(NotALog::Empty));
        assert!(matches!(read("a,b\n1,2\n", CLOCK), Err(NotALog::Heading(_))));
    }
}
