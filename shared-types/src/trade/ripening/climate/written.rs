//! A room's climate as JSON.

use chrono::{NaiveDateTime, Timelike as _};
use serde::{Deserialize, Serialize};

use super::{ClimateError, HumidityPermille, RoomClimate, RoomReading, Setting};
use crate::units::{Day, MilliCelsius};

#[derive(Clone, Debug, Default, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub(in super::super) struct Written {
    #[serde(default, skip_serializing_if = "Option::is_none")]
    celsius: Option<Celsius>,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    swing: Option<f64>,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    min: Option<f64>,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    max: Option<f64>,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    humidity: Option<f64>,
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    readings: Vec<WrittenReading>,
}

/// `celsius` as a case writes it.
#[derive(Clone, Debug, Serialize, Deserialize)]
#[serde(untagged, expecting = "celsius is a number, or a list of {day, celsius}")]
pub(in super::super) enum Celsius {
    Constant(f64),
    Steps(Vec<Step>),
}

#[derive(Clone, Debug, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub(in super::super) struct Step {
    day: Day,
    celsius: f64,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    swing: Option<f64>,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    humidity: Option<f64>,
}

impl Written {
    /// As a lot writes it beside its other fields.
    pub(in super::super) fn inline(celsius: Celsius, humidity: Option<f64>) -> Self {
        Self { celsius: Some(celsius), humidity, ..Self::default() }
    }
}

#[derive(Clone, Debug, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
struct WrittenReading {
    at: String,
    celsius: f64,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    humidity: Option<f64>,
}

fn milli(celsius: f64) -> Result<MilliCelsius, ClimateError> {
    if (-30.0..=60.0).contains(&celsius) {
        Ok(MilliCelsius(libm::round(celsius * 1000.0) as i32))
    } else {
        Err(ClimateError::Temperature(celsius))
    }
}

fn swing(celsius: Option<f64>) -> Result<MilliCelsius, ClimateError> {
    let celsius = celsius.unwrap_or(0.0);
    if (0.0..=30.0).contains(&celsius) { milli(celsius) } else { Err(ClimateError::Swing(celsius)) }
}

fn permille(percent: Option<f64>) -> Result<Option<HumidityPermille>, ClimateError> {
    match percent {
        Some(percent) if !(1.0..=100.0).contains(&percent) => Err(ClimateError::Humidity(percent)),
        _ => Ok(percent.map(|percent| HumidityPermille(libm::round(percent * 10.0) as u16))),
    }
}

fn reading(written: &WrittenReading) -> Result<RoomReading, ClimateError> {
    let formats = ["%Y-%m-%dT%H:%M", "%Y-%m-%dT%H:%M:%S", "%Y-%m-%d %H:%M", "%Y-%m-%d %H:%M:%S"];
    let parse = |format| NaiveDateTime::parse_from_str(written.at.trim(), format).ok();
    let wrong = || ClimateError::Time(written.at.clone());
    let at = formats.into_iter().find_map(parse).ok_or_else(wrong)?;
    let day: Day = at.date().to_string().parse().map_err(|_| wrong())?;
    let minute = u16::try_from(at.hour() * 60 + at.minute()).map_err(|_| wrong())?;
    let (celsius, humidity) = (milli(written.celsius)?, permille(written.humidity)?);
    Ok(RoomReading { day, minute, celsius, humidity })
}

impl TryFrom<Written> for RoomClimate {
    type Error = ClimateError;

    fn try_from(written: Written) -> Result<Self, ClimateError> {
        let readings: Vec<RoomReading> =
            written.readings.iter().map(reading).collect::<Result<_, _>>()?;
        let one = |celsius: f64, of: Option<f64>| {
            let from = Day::from_number(0);
            Ok(vec![Setting { from, celsius: milli(celsius)?, swing: swing(of)?, humidity: None }])
        };
        let settings = match (written.celsius, written.min, written.max) {
            (Some(Celsius::Constant(celsius)), None, None) => one(celsius, written.swing)?,
            (Some(Celsius::Steps(steps)), None, None) => {
                let setting = |step: Step| {
                    Ok(Setting {
                        from: step.day,
                        celsius: milli(step.celsius)?,
                        swing: swing(step.swing.or(written.swing))?,
                        humidity: permille(step.humidity)?,
                    })
                };
                steps.into_iter().map(setting).collect::<Result<_, ClimateError>>()?
            }
            (None, Some(min), Some(max)) if min > max => {
                return Err(ClimateError::MinAboveMax(min, max));
            }
            (None, Some(min), Some(max)) if written.swing.is_none() => {
                milli(min)?;
                milli(max)?;
                one((min + max) / 2.0, Some((max - min) / 2.0))?
            }
            (None, None, None) if !readings.is_empty() => {
                let sum: f64 = readings.iter().map(|one| one.celsius.celsius()).sum();
                one(sum / readings.len() as f64, written.swing)?
            }
            (None, None, None) => return Err(ClimateError::NoTemperature),
            _ => return Err(ClimateError::TwoTemperatures),
        };
        let mut room = Self::settings(settings)?.with_readings(readings);
        room.humidity = permille(written.humidity)?;
        Ok(room)
    }
}

impl From<RoomClimate> for Written {
    fn from(room: RoomClimate) -> Self {
        let percent = |h: HumidityPermille| f64::from(h.0) / 10.0;
        let degrees = |swing: MilliCelsius| (swing.0 != 0).then(|| swing.celsius());
        let (celsius, of_all) = match room.settings.as_slice() {
            [one] if one.humidity.is_none() => {
                (Celsius::Constant(one.celsius.celsius()), degrees(one.swing))
            }
            settings => {
                let step = |one: &Setting| Step {
                    day: one.from,
                    celsius: one.celsius.celsius(),
                    swing: degrees(one.swing),
                    humidity: one.humidity.map(percent),
                };
                (Celsius::Steps(settings.iter().map(step).collect()), None)
            }
        };
        let reading = |one: &RoomReading| WrittenReading {
            at: format!("{}T{:02}:{:02}", one.day, one.minute / 60, one.minute % 60),
            celsius: one.celsius.celsius(),
            humidity: one.humidity.map(percent),
        };
        Self {
            celsius: Some(celsius),
            swing: of_all,
            min: None,
            max: None,
            humidity: room.humidity.map(percent),
            readings: room.readings.iter().map(reading).collect(),
        }
    }
}
