//! The night in words and as a curve. Pure.

use shared_types::outlook::TonightBook;
use shared_types::trade::cold::{Tonight, Trend};
use shared_types::units::{HOUR_MS, MilliCelsius, Millis};

use crate::parts::chart::{NightCurve, NightPoint};
use crate::words;

/// The answer and what goes with it.
pub struct Lead {
    pub head: String,
    pub subs: Vec<String>,
}

/// Degrees to the nearest tenth: `−3.1°`.
pub fn degrees(celsius: f64) -> String {
    words::celsius(MilliCelsius((celsius * 1000.0).round() as i32))
}

/// The night to show first: that of the whole holding, or else of the first thermometer.
fn first(told: &TonightBook) -> Option<&Tonight> {
    told.sensors.iter().find_map(|sensor| sensor.night.as_ref())
}

/// The answer in one line, its range, how it was come by.
pub fn lead(told: &TonightBook, time: impl Fn(Millis) -> String) -> Lead {
    let mut subs = Vec::new();
    let sun = [("sunset", told.sun.set_here), ("sunrise", told.sun.rise_here)];
    let sun: Vec<String> =
        sun.iter().filter_map(|(name, at)| Some(format!("{name} {}", time((*at)?)))).collect();
    let Some(night) = first(told) else {
        let problem = told.sensors.iter().find_map(|sensor| sensor.problem.clone());
        subs.extend(problem.map(|why| words::sentence(&why)));
        match told.read_at {
            Some(at) if subs.is_empty() => subs.push(format!(
                "Nobody noted this evening yet. Read the thermometer at {}, two hours after sunset.",
                time(at)
            )),
            None if subs.is_empty() => {
                subs.push("The sun does not set today: go by the official low.".to_owned());
            }
            _ => {}
        }
        subs.push(sun.join(", "));
        return Lead { head: "How low will it go?".to_owned(), subs };
    };
    let best = &night.best;
    subs.push(format!("{} to {} · {}", degrees(best.from), degrees(best.to), best.how.words()));
    let frost = night.hours_below.iter().find(|below| below.celsius.abs() < 1e-9);
    match frost.and_then(|below| below.at_worst.at) {
        Some(at) => subs.push(format!("may fall below 0° from {}", time(at))),
        None if best.from > 0.0 => subs.push("no frost expected".to_owned()),
        None => {}
    }
    for sensor in &told.sensors {
        if let Some(night) = sensor.night.as_ref().filter(|_| sensor.place.is_some()) {
            subs.push(format!("{}: {} expected", sensor.name, degrees(night.best.low)));
        }
    }
    subs.extend(night.fit_refused.iter().map(|why| words::sentence(why)));
    subs.push(sun.join(", "));
    Lead { head: format!("{} expected", degrees(best.low)), subs }
}

/// The fall through the night, hour by hour.
pub fn curve(told: &TonightBook) -> Option<RawCurve> {
    let night = first(told)?;
    let (expected, coldest) = (night.trend?, night.coldest_trend?);
    let hours = expected.night.hours();
    let steps = (hours * 2.0).floor() as usize;
    let point = |trend: &Trend, hours: f64| trend.celsius(hours);
    let points = (4..=steps)
        .map(|step| step as f64 / 2.0)
        .chain([hours])
        .map(|at| NightPoint {
            hours: at,
            expected: point(&expected, at),
            coldest: point(&coldest, at),
        })
        .collect();
    Some(RawCurve { points, sunset: expected.night.sunset, sunrise: expected.night.sunrise })
}

/// A curve whose clock times are still to be told.
pub struct RawCurve {
    points: Vec<NightPoint>,
    sunset: Millis,
    sunrise: Millis,
}

impl RawCurve {
    /// With words under the axis: the reading, midnight hours, sunrise.
    pub fn with_times(self, time: impl Fn(Millis) -> String) -> NightCurve {
        let first = self.points.first().map_or(2.0, |point| point.hours);
        let last = self.points.last().map_or(12.0, |point| point.hours);
        let at = |hours: f64| self.sunset.plus((hours * HOUR_MS as f64) as i64);
        let middle = f64::midpoint(first, last);
        let ticks =
            vec![(first, time(at(first))), (middle, time(at(middle))), (last, time(self.sunrise))];
        let (low, cold) =
            self.points.last().map_or((0.0, 0.0), |point| (point.expected, point.coldest));
        let words = format!(
            "Temperature from {} to sunrise at {}: it falls to {}, at the cold end to {}.",
            time(at(first)),
            time(self.sunrise),
            degrees(low),
            degrees(cold)
        );
        NightCurve { points: self.points, ticks, words }
    }
}
