//! The room a lot stands in: a temperature, set or logged by day, and a humidity.

use serde::{Deserialize, Serialize};
use thiserror::Error;

use super::path::Span;
use super::table::{Model, tables};
use crate::units::{Day, MilliCelsius};

/// Temperature of a room.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Temperature {
    /// The same every day.
    Constant(MilliCelsius),
    /// From each day on, until the next; the first also holds before its day. Never empty, in
    /// order of day.
    Steps(Vec<(Day, MilliCelsius)>),
}

/// Relative humidity in thousandths.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct HumidityPermille(pub u16);

/// The climate of a room.
///
/// In JSON: `{"celsius": 18.5}`, or `{"celsius": [{"day": "2026-10-09", "celsius": 12}, {"day":
/// "2026-10-14", "celsius": 20}], "humidity": 80}`. Humidity in percent; 75 when left out.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize)]
#[serde(try_from = "Written", into = "Written")]
pub struct RoomClimate {
    /// Its temperature.
    pub temperature: Temperature,
    /// Its humidity when somebody measured it.
    pub humidity: Option<HumidityPermille>,
}

/// What is wrong with a room's climate.
#[derive(Clone, Debug, PartialEq, Error)]
pub enum ClimateError {
    /// No step at all.
    #[error(
        "a room needs at least one temperature: give `celsius` a number or one {{day, celsius}}"
    )]
    NoTemperature,
    /// Not a room.
    #[error("{0} °C is not a room's temperature: give -30 to 60, in Celsius")]
    Temperature(f64),
    /// Not a humidity.
    #[error("{0} % is not a humidity: give 1 to 100")]
    Humidity(f64),
    /// One day, two temperatures.
    #[error("the room has two temperatures for {0}: leave one out")]
    TwoForOneDay(Day),
}

#[derive(Clone, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct Written {
    celsius: Celsius,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    humidity: Option<f64>,
}

/// `celsius` as a case writes it.
#[derive(Clone, Debug, Serialize, Deserialize)]
#[serde(untagged, expecting = "celsius is a number, or a list of {day, celsius}")]
pub(super) enum Celsius {
    Constant(f64),
    Steps(Vec<Step>),
}

#[derive(Clone, Debug, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct Step {
    day: Day,
    celsius: f64,
}

fn milli(celsius: f64) -> Result<MilliCelsius, ClimateError> {
    if (-30.0..=60.0).contains(&celsius) {
        Ok(MilliCelsius(libm::round(celsius * 1000.0) as i32))
    } else {
        Err(ClimateError::Temperature(celsius))
    }
}

impl RoomClimate {
    /// A room that is the same every day, of unmeasured humidity.
    pub fn constant(temperature: MilliCelsius) -> Self {
        Self { temperature: Temperature::Constant(temperature), humidity: None }
    }

    /// A room whose temperature changed; steps in any order.
    ///
    /// # Errors
    /// Without a step, or with two for one day.
    pub fn steps(mut steps: Vec<(Day, MilliCelsius)>) -> Result<Self, ClimateError> {
        steps.sort_unstable();
        if let Some(pair) = steps.windows(2).find(|pair| pair[0].0 == pair[1].0) {
            return Err(ClimateError::TwoForOneDay(pair[0].0));
        }
        if steps.is_empty() {
            return Err(ClimateError::NoTemperature);
        }
        Ok(Self { temperature: Temperature::Steps(steps), humidity: None })
    }

    pub(super) fn from_written(
        celsius: Celsius,
        humidity: Option<f64>,
    ) -> Result<Self, ClimateError> {
        let mut room = match celsius {
            Celsius::Constant(celsius) => Self::constant(milli(celsius)?),
            Celsius::Steps(steps) => Self::steps(
                steps
                    .into_iter()
                    .map(|step| Ok((step.day, milli(step.celsius)?)))
                    .collect::<Result<_, ClimateError>>()?,
            )?,
        };
        if let Some(percent) = humidity {
            if !(1.0..=100.0).contains(&percent) {
                return Err(ClimateError::Humidity(percent));
            }
            room.humidity = Some(HumidityPermille(libm::round(percent * 10.0) as u16));
        }
        Ok(room)
    }

    /// The temperature on a day, °C.
    pub fn celsius_on(&self, day: Day) -> f64 {
        let temperature = match &self.temperature {
            Temperature::Constant(t) => *t,
            Temperature::Steps(steps) => {
                let after = steps.partition_point(|(from, _)| *from <= day);
                steps[after.saturating_sub(1)].1
            }
        };
        temperature.celsius()
    }

    /// Relative humidity, %.
    pub fn humidity_percent(&self) -> f64 {
        self.humidity.map_or(tables().loss.humidity_percent.value, |h| f64::from(h.0) / 10.0)
    }

    /// Stretches of one temperature since the evening of `picked`. The step into a day runs at
    /// that day's temperature.
    pub(super) fn spans(&self, model: &Model, picked: Day) -> Vec<Span> {
        let span = |from: f64, celsius: f64| Span { from, celsius, rates: model.rates(celsius) };
        let mut spans = vec![span(0.0, self.celsius_on(picked.plus(1)))];
        if let Temperature::Steps(steps) = &self.temperature {
            for (day, celsius) in steps.iter().filter(|(day, _)| day.since(picked) > 1) {
                let celsius = celsius.celsius();
                if spans.last().is_some_and(|last| last.celsius.to_bits() != celsius.to_bits()) {
                    spans.push(span(f64::from(day.since(picked) - 1), celsius));
                }
            }
        }
        spans
    }
}

impl TryFrom<Written> for RoomClimate {
    type Error = ClimateError;
    fn try_from(written: Written) -> Result<Self, ClimateError> {
        Self::from_written(written.celsius, written.humidity)
    }
}

impl From<RoomClimate> for Written {
    fn from(room: RoomClimate) -> Self {
        let celsius = match room.temperature {
            Temperature::Constant(t) => Celsius::Constant(t.celsius()),
            Temperature::Steps(steps) => Celsius::Steps(
                steps.into_iter().map(|(day, t)| Step { day, celsius: t.celsius() }).collect(),
            ),
        };
        Self { celsius, humidity: room.humidity.map(|h| f64::from(h.0) / 10.0) }
    }
}

#[cfg(test)]
mod tests {
    use super::super::table::model;
    use super::*;

    fn read(text: &str) -> Result<RoomClimate, serde_json::Error> {
        serde_json::from_str(text)
    }

    #[test]
    fn a_room_is_written_simply() {
        let room = read(r#"{"celsius": 18.5}"#).expect("reads");
        assert_eq!(room, RoomClimate::constant(MilliCelsius(18_500)));
        assert!((room.humidity_percent() - 75.0).abs() < 1e-12);
        let text = r#"{"celsius":[{"day":"2026-10-14","celsius":20},{"day":"2026-10-09","celsius":12}],"humidity":80}"#;
        let room = read(text).expect("reads");
        let day = |d| Day::from_ymd(2026, 10, d).expect("a day");
        for (d, celsius) in [(1, 12.0), (9, 12.0), (13, 12.0), (14, 20.0), (30, 20.0)] {
            assert!((room.celsius_on(day(d)) - celsius).abs() < 1e-12, "{d}");
        }
        let again: RoomClimate =
            serde_json::from_str(&serde_json::to_string(&room).expect("writes")).expect("reads");
        assert_eq!(again, room);
    }

    #[test]
    fn what_is_not_a_room_is_told() {
        for (text, word) in [
            (r#"{"celsius": 68}"#, "in Celsius"),
            (r#"{"celsius": []}"#, "at least one"),
            (r#"{"celsius": 20, "humidity": 0.6}"#, "1 to 100"),
            (r#"{"celsius": "warm"}"#, "a list of"),
            (
                r#"{"celsius":[{"day":"2026-10-09","celsius":1},{"day":"2026-10-09","celsius":2}]}"#,
                "two temperatures",
            ),
        ] {
            let error = read(text).expect_err(text).to_string();
            assert!(error.contains(word), "{error}");
        }
    }

    #[test]
    fn spans_begin_the_evening_before_a_step() {
        let day = |d| Day::from_ymd(2026, 10, d).expect("a day");
        let tomato = model("tomato").expect("is in the table");
        let steps = vec![(day(9), MilliCelsius(12_000)), (day(14), MilliCelsius(20_000))];
        let room = RoomClimate::steps(steps).expect("two steps");
        let spans = room.spans(tomato, day(9));
        let told: Vec<_> = spans.iter().map(|span| (span.from, span.celsius)).collect();
        assert_eq!(told, [(0.0, 12.0), (4.0, 20.0)]);
        assert_eq!(room.spans(tomato, day(20)).len(), 1);
    }
}
