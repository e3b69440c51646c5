//! The ways to a low, best first.

use statrs::distribution::{ContinuousCDF as _, StudentsT};

use super::evening::{Estimate, Evening, How};
use super::fit::Fit;
use super::nights::LoggedNight;
use super::table::{Shift, tables};
use super::tonight::hundredths;
use crate::trade::provenance::Mark;

/// Fewest nights with an official low from which a difference is taken. Chosen here.
pub const FEWEST_OFFICIAL: usize = 5;

/// The evening's reading as far as the rules need it.
#[derive(Clone, Copy, Debug)]
pub(super) struct Reading {
    pub(super) evening: f64,
    pub(super) dew_point: Option<f64>,
    /// Read about two hours after sunset.
    pub(super) on_time: bool,
}

/// How a place differs from the official low: mean and its standard deviation, °C.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Difference {
    /// Own low less the official, on average.
    pub mean: f64,
    /// Standard deviation from night to night.
    pub sd: f64,
    /// Over how many nights.
    pub nights: usize,
}

/// The difference between a place's own lows and the official ones; none before
/// [`FEWEST_OFFICIAL`] nights carry both. Any weather counts.
pub fn official_difference(nights: &[LoggedNight]) -> Option<Difference> {
    let apart: Vec<f64> =
        nights.iter().filter_map(|night| Some(night.low - night.official_low?)).collect();
    if apart.len() < FEWEST_OFFICIAL {
        return None;
    }
    let n = apart.len() as f64;
    let mean = apart.iter().sum::<f64>() / n;
    let squares: f64 = apart.iter().map(|x| (x - mean) * (x - mean)).sum();
    Some(Difference { mean, sd: libm::sqrt(squares / (n - 1.0)), nights: apart.len() })
}

impl How {
    /// Height of the thermometer that a low is for, millimetres: the official one stands at 2 m.
    pub(super) fn height_mm(self, own: Option<u32>) -> Option<u32> {
        match self {
            Self::Official => Some(tables().height.official_millimetres.value),
            _ => own,
        }
    }

    /// Order of preference. Without clear, calm weather the official low, which knows of cloud and
    /// wind, comes before the rules of radiation nights.
    fn rank(self, weather_fits: bool) -> u8 {
        match self {
            Self::Fitted => 0,
            Self::FittedOnTemperature => 1,
            Self::OfficialHere => 2,
            Self::Official if !weather_fits => 3,
            Self::HalfWayRule => 4,
            Self::DropRule => 5,
            Self::Official => 6,
            Self::DewPointRule => 7,
        }
    }
}

/// All lows that can be worked out, best first.
pub(super) fn estimates(
    evening: &Evening,
    reading: Option<Reading>,
    fit: Option<&Fit>,
    weather_fits: bool,
) -> Vec<Estimate> {
    let mut all = Vec::new();
    let rules = &tables().rules;
    if let Some(reading) = reading {
        let timely = reading.on_time.then_some(reading);
        all.extend(timely.zip(fit).map(|(reading, fit)| fitted(fit, reading)));
        match (reading.dew_point, reading.on_time) {
            (Some(dew), true) => {
                let start = f64::midpoint(reading.evening, dew);
                let why = "half-way between the evening's air and dew point, less 4.3 °C: between \
                           1.0 and 6.4 °C less on ten published nights";
                all.push(shifted(How::HalfWayRule, start, reading.evening, &rules.half_way, why));
            }
            (Some(dew), false) => {
                let why = "1.1 °C below the evening's dew point: ten published nights ended \
                           between 5.1 °C below it and 3.8 °C above it";
                all.push(shifted(How::DewPointRule, dew, reading.evening, &rules.dew_point, why));
            }
            (None, true) => {
                let why = "7.4 °C below the evening's air: ten published nights fell by 5.8 to \
                           8.9 °C. Without humidity it cannot do better";
                all.push(shifted(
                    How::DropRule,
                    reading.evening,
                    reading.evening,
                    &rules.drop,
                    why,
                ));
            }
            (None, false) => {}
        }
    }
    if let Some(official) = evening.official_low {
        let why = "the official low as it is, two degrees either way";
        all.push(shifted(How::Official, official, f64::INFINITY, &rules.official, why));
        all.extend(official_difference(&evening.nights).map(|apart| here(official, apart)));
    }
    all.sort_by_key(|estimate| estimate.how.rank(weather_fits));
    all
}

fn fitted(fit: &Fit, reading: Reading) -> Estimate {
    let with_dew = reading.dew_point.is_some() && fit.c.is_some();
    let how = if with_dew { How::Fitted } else { How::FittedOnTemperature };
    let told = fit.predict(reading.evening, reading.dew_point);
    let outside = if told.outside {
        "; tonight lies outside the evenings it was fitted on, so trust it less"
    } else {
        ""
    };
    let cap = reading.evening;
    Estimate {
        how,
        low: hundredths(told.low.min(cap)),
        from: hundredths(told.from.min(cap)),
        to: hundredths(told.to.min(cap)),
        fall_back: false,
        why: format!(
            "two-stage fit to {} of your own nights, typical error {:.1} °C; nine nights of ten \
             end above the cold end{outside}",
            fit.nights, fit.error
        ),
        source: "fao-frost".to_owned(),
        mark: Mark::V2,
    }
}

fn shifted(how: How, start: f64, cap: f64, shift: &Shift, why: &str) -> Estimate {
    Estimate {
        how,
        low: hundredths((start + shift.mean).min(cap)),
        from: hundredths((start + shift.least).min(cap)),
        to: hundredths((start + shift.most).min(cap)),
        fall_back: how.is_fall_back(),
        why: why.to_owned(),
        source: shift.source.clone(),
        mark: shift.mark,
    }
}

fn here(official: f64, apart: Difference) -> Estimate {
    let n = apart.nights as f64;
    // Five nights or more leave at least four degrees of freedom.
    let student = StudentsT::new(0.0, 1.0, n - 1.0).expect("freedom is above zero");
    let half = student.inverse_cdf(0.9) * apart.sd * libm::sqrt(1.0 + 1.0 / n);
    let low = official + apart.mean;
    Estimate {
        how: How::OfficialHere,
        low: hundredths(low),
        from: hundredths(low - half),
        to: hundredths(low + half),
        fall_back: false,
        why: format!(
            "the official low and {:+.1} °C, by which your own differed on {} nights (typical \
             error {:.1} °C)",
            apart.mean, apart.nights, apart.sd
        ),
        source: "lugbook".to_owned(),
        mark: Mark::D,
    }
}
