//! The low of a radiation night, fitted to the grower's own nights.
//!
//! ```text
//! Tp = b·T0 + c·Td0 + d          °C; T0, Td0: air and dew point two hours past sunset
//! stage 1   least squares of Tn on T0:            b, d1
//! stage 2   least squares of (Tn − b·T0 − d1) on Td0:  c, d2
//! d = d1 + d2
//! ```
//!
//! Snyder and de Melo-Abreu, Frost Protection, FAO 2005, ch. 5 (V2). Two stages, not one regression
//! on both: only so does the published example come back (`tests/reference/fit.rs`). Coefficients
//! belong to one site; none are built in.

use serde::{Deserialize, Serialize};
use statrs::distribution::{ContinuousCDF as _, StudentsT};
use thiserror::Error;

use super::nights::{LoggedNight, OutOfScope};

/// Fewest nights a fit is made from (FAO's example has ten).
pub const FEWEST_NIGHTS: usize = 10;

/// A fit of one site and sensor.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct Fit {
    /// Per degree of the evening's air.
    pub b: f64,
    /// Per degree of the evening's dew point; none for a fit on temperature alone.
    pub c: Option<f64>,
    /// Constant, °C: `d1 + d2`.
    pub d: f64,
    /// The first stage alone.
    pub first: FirstStage,
    /// Root of the mean squared error over the nights, °C (divided by `n`).
    pub rmse: f64,
    /// Share of the variance explained.
    pub r2: f64,
    /// Typical error of one new night, °C: `√(SSE / (n − p))`.
    pub error: f64,
    /// What it gives for its own nights, in their order, °C.
    pub predicted: Vec<f64>,
    /// How many nights it stands on.
    pub nights: usize,
    /// Of those, how many whose weather nobody noted; they were taken as clear and calm.
    pub weather_not_noted: usize,
    /// Nights left out, by place in the list, and why.
    pub left_out: Vec<LeftOut>,
    /// Where the nights lie.
    pub evening: Spread,
    /// The same of their dew points.
    pub dew_point: Option<Spread>,
}

/// The fit on temperature alone: `Tp = b·T0 + d`.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
pub struct FirstStage {
    /// Constant, °C: `d1`.
    pub d: f64,
    /// Share of the variance explained.
    pub r2: f64,
}

/// Where the values of a fit lie, °C.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
pub struct Spread {
    /// Lowest.
    pub least: f64,
    /// Highest.
    pub most: f64,
    /// Mean.
    pub mean: f64,
    /// Sum of squared distances from the mean, °C².
    pub squares: f64,
}

/// A night that was not used.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
pub struct LeftOut {
    /// Its place in the list, from 0.
    pub night: usize,
    /// Why; `None` when only its dew point is missing.
    pub why: Option<OutOfScope>,
}

/// A low with its range, °C.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
pub struct Predicted {
    /// Expected.
    pub low: f64,
    /// Nine nights of ten end above this.
    pub from: f64,
    /// And nine of ten below this.
    pub to: f64,
    /// The evening lies outside the nights the fit stands on.
    pub outside: bool,
}

/// Why there is no fit.
#[derive(Clone, Debug, PartialEq, Error, Serialize, Deserialize)]
pub enum FitRefusal {
    /// Too few nights.
    #[error(
        "{have} clear, calm nights are logged here and a fit needs {FEWEST_NIGHTS}: note the \
         evening reading and the morning's low {} more time{}{}",
        FEWEST_NIGHTS - have,
        if FEWEST_NIGHTS - have == 1 { "" } else { "s" },
        left(*left_out)
    )]
    TooFew {
        /// In scope.
        have: usize,
        /// Not in scope.
        left_out: usize,
    },
    /// All alike.
    #[error(
        "the logged evenings are all alike, so nothing can be fitted: log warmer and colder ones"
    )]
    AllAlike,
}

fn left(nights: usize) -> String {
    match nights {
        0 => String::new(),
        1 => " (1 night of wind, cloud, fog, rain or an odd hour does not count)".to_owned(),
        n => format!(" ({n} nights of wind, cloud, fog, rain or an odd hour do not count)"),
    }
}

/// Fits the nights of one sensor.
///
/// With a dew point on at least [`FEWEST_NIGHTS`] nights both stages are fitted on those; else the
/// first stage alone on all nights in scope.
///
/// # Errors
/// With fewer nights in scope than [`FEWEST_NIGHTS`], or when their evenings are all alike.
pub fn fit(nights: &[LoggedNight]) -> Result<Fit, FitRefusal> {
    let mut left_out = Vec::new();
    let mut used = Vec::new();
    for (i, night) in nights.iter().enumerate() {
        match night.in_scope() {
            Ok(()) => used.push((i, night)),
            Err(why) => left_out.push(LeftOut { night: i, why: Some(why) }),
        }
    }
    if used.len() < FEWEST_NIGHTS {
        return Err(FitRefusal::TooFew { have: used.len(), left_out: left_out.len() });
    }
    let with_dew = used.iter().filter(|(_, night)| night.dew_point.is_some()).count();
    if with_dew >= FEWEST_NIGHTS {
        let without = used.iter().filter(|(_, night)| night.dew_point.is_none());
        left_out.extend(without.map(|(i, _)| LeftOut { night: *i, why: None }));
        left_out.sort_by_key(|left| left.night);
        used.retain(|(_, night)| night.dew_point.is_some());
    }
    let nights: Vec<&LoggedNight> = used.iter().map(|(_, night)| *night).collect();
    on(&nights, left_out, with_dew >= FEWEST_NIGHTS)
}

fn on(nights: &[&LoggedNight], left_out: Vec<LeftOut>, with_dew: bool) -> Result<Fit, FitRefusal> {
    let t0: Vec<f64> = nights.iter().map(|night| night.evening).collect();
    let tn: Vec<f64> = nights.iter().map(|night| night.low).collect();
    let first = line(&t0, &tn).ok_or(FitRefusal::AllAlike)?;
    let at_first: Vec<f64> = t0.iter().map(|t0| first.slope * t0 + first.constant).collect();
    let residual: Vec<f64> = tn.iter().zip(&at_first).map(|(tn, tp)| tn - tp).collect();

    let dew: Vec<f64> = nights.iter().filter_map(|night| night.dew_point).collect();
    let second = if with_dew { line(&dew, &residual) } else { None };
    let d = first.constant + second.map_or(0.0, |line| line.constant);
    let c = second.map(|line| line.slope);
    let predicted: Vec<f64> = match c {
        Some(c) => t0.iter().zip(&dew).map(|(t0, td)| first.slope * t0 + c * td + d).collect(),
        None => at_first.clone(),
    };

    let n = nights.len() as f64;
    let total = spread(&tn).squares;
    let sse = squared_error(&tn, &predicted);
    let explained = |sse: f64| if total > 0.0 { 1.0 - sse / total } else { 1.0 };
    let freedom = n - if c.is_some() { 3.0 } else { 2.0 };
    Ok(Fit {
        b: first.slope,
        c,
        d,
        first: FirstStage { d: first.constant, r2: explained(squared_error(&tn, &at_first)) },
        rmse: libm::sqrt(sse / n),
        r2: explained(sse),
        error: libm::sqrt(sse / freedom),
        predicted,
        nights: nights.len(),
        weather_not_noted: nights.iter().filter(|night| !night.weather_was_noted()).count(),
        left_out,
        evening: spread(&t0),
        dew_point: c.map(|_| spread(&dew)),
    })
}

impl Fit {
    /// `b·T0 + c·Td0 + d`, °C; without a dew point, or a fit on it, `b·T0 + d1`.
    pub fn low(&self, evening: f64, dew_point: Option<f64>) -> f64 {
        match (self.c, dew_point) {
            (Some(c), Some(dew)) => self.b * evening + c * dew + self.d,
            _ => self.b * evening + self.first.d,
        }
    }

    /// The low with the range that nine new nights of ten are expected to keep to on either side.
    ///
    /// `low ± t(0.90; n − p) · s · √(1 + 1/n + (T0 − T̄0)²/S)`: the usual interval of a new
    /// observation, with Student's t. The leverage of the dew point is added in the same way, which
    /// is near enough for two stages.
    pub fn predict(&self, evening: f64, dew_point: Option<f64>) -> Predicted {
        let low = self.low(evening, dew_point);
        let n = self.nights as f64;
        let leverage = |x: f64, spread: &Spread| match spread.squares {
            squares if squares > 0.0 => (x - spread.mean) * (x - spread.mean) / squares,
            _ => 0.0,
        };
        let mut variance = 1.0 + 1.0 / n + leverage(evening, &self.evening);
        let mut outside = !self.evening.holds(evening);
        if let (Some(dew), Some(spread)) = (dew_point, &self.dew_point) {
            variance += leverage(dew, spread);
            outside |= !spread.holds(dew);
        }
        let freedom = n - if self.c.is_some() { 3.0 } else { 2.0 };
        // Ten nights or more leave at least seven degrees of freedom.
        let student = StudentsT::new(0.0, 1.0, freedom.max(1.0)).expect("freedom is above zero");
        let half = student.inverse_cdf(0.9) * self.error * libm::sqrt(variance);
        Predicted { low, from: low - half, to: low + half, outside }
    }
}

impl Spread {
    /// Within what was seen, by a degree either way.
    fn holds(&self, x: f64) -> bool {
        (self.least - 1.0..=self.most + 1.0).contains(&x)
    }
}

#[derive(Clone, Copy)]
struct Line {
    slope: f64,
    constant: f64,
}

/// Least squares of `y` on `x`; none when all `x` are alike.
fn line(x: &[f64], y: &[f64]) -> Option<Line> {
    let across = spread(x);
    if across.squares < 1e-9 {
        return None;
    }
    let mean_y = y.iter().sum::<f64>() / y.len() as f64;
    let together: f64 = x.iter().zip(y).map(|(x, y)| (x - across.mean) * (y - mean_y)).sum();
    let slope = together / across.squares;
    Some(Line { slope, constant: mean_y - slope * across.mean })
}

fn spread(values: &[f64]) -> Spread {
    let mean = values.iter().sum::<f64>() / values.len() as f64;
    Spread {
        least: values.iter().copied().fold(f64::INFINITY, f64::min),
        most: values.iter().copied().fold(f64::NEG_INFINITY, f64::max),
        mean,
        squares: values.iter().map(|value| (value - mean) * (value - mean)).sum(),
    }
}

fn squared_error(seen: &[f64], told: &[f64]) -> f64 {
    seen.iter().zip(told).map(|(seen, told)| (seen - told) * (seen - told)).sum()
}
