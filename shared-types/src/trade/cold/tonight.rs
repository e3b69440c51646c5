//! From an evening to the low and the hours below each threshold.

use super::daylight::{Light, Night, night, sun};
use super::evening::{Estimate, Evening, EveningError, HoursBelow, ReadingTold, Tonight};
use super::fit::{Fit, fit};
use super::lows::{Reading, estimates};
use super::nights::in_scope;
use super::table::{category, dew_point_words};
use super::trend::Trend;
use crate::trade::provenance::{Mark, Said};
use crate::units::HOUR_MS;

/// Thresholds told for every night, °C: cool for squash and peppers, near frost, freezing, and the
/// two steps of killing frosts.
pub const THRESHOLDS: [f64; 5] = [10.0, 2.0, 0.0, -2.0, -4.0];

/// Works out the night ahead.
///
/// # Errors
/// When there is nothing to go by, or a number that cannot be.
pub fn tonight(evening: &Evening) -> Result<Tonight, EveningError> {
    check(evening)?;
    let sun = sun(&evening.site, evening.day, evening.offset_minutes);
    let found = night(&evening.site, evening.day, evening.offset_minutes);
    let night = found.ok();
    let told = reading(evening, night)?;

    let fitted = fit(&evening.nights);
    let scope =
        in_scope(evening.sky, evening.wind_m_s, told.and_then(|told| told.hours_after_sunset));
    let refused = match (&fitted, scope, night) {
        (Err(refusal), ..) => Some(refusal.to_string()),
        (_, Err(why), _) => Some(format!("tonight is outside the fit's scope: {}", why.words())),
        (_, _, None) => Some("without a night there is no fit".to_owned()),
        _ => None,
    };
    let usable = fitted.as_ref().ok().filter(|_| refused.is_none());
    let reading = told.filter(|_| night.is_some()).map(|told| Reading {
        evening: told.celsius,
        dew_point: told.dew_point,
        on_time: in_scope(None, None, told.hours_after_sunset).is_ok(),
    });
    let weather = in_scope(evening.sky, evening.wind_m_s, None);
    let mut estimates = estimates(evening, reading, usable, weather.is_ok());
    if estimates.is_empty() {
        return Err(match found {
            Err(light) if told.is_some() => {
                EveningError::NoNight { day: evening.day, polar_day: light == Light::PolarDay }
            }
            _ => EveningError::Nothing,
        });
    }
    let best = estimates.remove(0);
    let trend_to = |low: f64| {
        let reading = reading.filter(|reading| reading.on_time)?;
        Trend::new(night?, reading.evening, low)
    };
    let (trend, coldest_trend) = (trend_to(best.low), trend_to(best.from));
    let notes = notes(evening, &best, fitted.as_ref().ok(), weather.is_ok(), trend.is_some());
    Ok(Tonight {
        day: evening.day,
        sun,
        night,
        reading: told,
        sensor_height_mm: best.how.height_mm(evening.sensor_height_mm),
        category: category(best.low).cloned(),
        category_at_worst: category(best.from).cloned(),
        dew_point_says: told.and_then(|told| dew_point_words(told.dew_point?)).cloned(),
        hours_below: hours_below(trend, coldest_trend),
        best,
        others: estimates,
        fit: fitted.ok(),
        fit_refused: refused,
        trend,
        coldest_trend,
        notes,
    })
}

fn check(evening: &Evening) -> Result<(), EveningError> {
    let temperatures = [evening.celsius, evening.official_low];
    if let Some(wrong) = temperatures.into_iter().flatten().find(|c| !(-60.0..=60.0).contains(c)) {
        return Err(EveningError::Air(wrong));
    }
    if let Some(wind) = evening.wind_m_s.filter(|wind| !(0.0..=100.0).contains(wind)) {
        return Err(EveningError::Wind(wind));
    }
    if evening.celsius.is_none() && evening.moisture.is_some() {
        return Err(EveningError::NoAir);
    }
    Ok(())
}

fn reading(evening: &Evening, night: Option<Night>) -> Result<Option<ReadingTold>, EveningError> {
    let Some(celsius) = evening.celsius else { return Ok(None) };
    let dew_point = match evening.moisture {
        Some(moisture) => Some(moisture.dew_point(celsius, &evening.site)?),
        None => None,
    };
    let at = evening.read_at.or_else(|| night.map(|night| night.sunset.plus(2 * HOUR_MS)));
    let hours_after_sunset = night.zip(at).map(|(night, at)| night.hours_after_sunset(at));
    Ok(Some(ReadingTold {
        celsius,
        dew_point: dew_point.map(hundredths),
        at,
        hours_after_sunset: hours_after_sunset.map(hundredths),
    }))
}

fn hours_below(trend: Option<Trend>, coldest: Option<Trend>) -> Vec<HoursBelow> {
    let Some(coldest) = coldest else { return Vec::new() };
    THRESHOLDS
        .into_iter()
        .map(|celsius| {
            let at_worst = coldest.crossing(celsius);
            // Without cooling to the expected low, the evening itself stands all night.
            let level = Trend { low: coldest.evening - 1e-6, ..coldest };
            let expected = trend.unwrap_or(level).crossing(celsius);
            HoursBelow { celsius, expected, at_worst }
        })
        .collect()
}

fn notes(
    evening: &Evening,
    best: &Estimate,
    fit: Option<&Fit>,
    weather_fits: bool,
    trend: bool,
) -> Vec<Said> {
    let mut notes = Vec::new();
    let mut say = |text: &str, source: &str, mark| {
        notes.push(Said { text: text.to_owned(), source: source.to_owned(), mark });
    };
    if !weather_fits {
        say(
            "Wind, cloud and fog usually keep a night warmer than these rules say, since they were \
             made on clear, calm ones. No correction is taken for that.",
            "fao-frost",
            Mark::V2,
        );
    }
    if evening.sky.is_none() || evening.wind_m_s.is_none() {
        say(
            "Nobody noted both sky and wind: the night is taken as clear and calm.",
            "lugbook",
            Mark::Assumption,
        );
    }
    if fit.is_some_and(|fit| fit.weather_not_noted > 0) && !best.fall_back {
        say(
            "Logged nights without sky and wind were taken as clear and calm.",
            "lugbook",
            Mark::Assumption,
        );
    }
    if !trend {
        say(
            "Without a reading about two hours after sunset, and cooling from there, the hour a \
             threshold is crossed cannot be told.",
            "ucd-fp002",
            Mark::V2,
        );
    }
    if best.fall_back {
        say(
            "A fall-back rule knows nothing of this place. Note the evening and the morning's low \
             on ten clear, calm nights and it is replaced by a fit of your own.",
            "fao-frost",
            Mark::V2,
        );
    }
    say(
        "Cold air settles lowest first: the foot of a slope freezes before its head.",
        "common-practice",
        Mark::Practice,
    );
    notes
}

/// To 0.01, so that screens and bytes do not carry noise.
pub(super) fn hundredths(value: f64) -> f64 {
    libm::round(value * 100.0) / 100.0
}
