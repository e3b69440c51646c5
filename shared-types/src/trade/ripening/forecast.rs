//! The forecast of many lots, day by day.

use std::collections::BTreeMap;

use serde::{Deserialize, Serialize};

use super::MAX_DAYS;
use super::belief::Belief;
use super::climate::RoomClimate;
use super::curve::{Curve, Frame};
use super::grid::{Band, POINTS, band, grams, weights};
use super::lot::{Balance, LotForecast, LotInput};
use super::standing::standing;
use super::start::Start;
use super::table::model;
use super::{warnings, why};
use crate::ids::{ClassId, CropId};
use crate::trade::crops::{self, Crop, Stage};
use crate::units::{Day, Grams};

/// One day of a forecast.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct DayForecast {
    /// The day.
    pub day: Day,
    /// Grams that turn ripe on it; on the first day, all that stands ripe until its evening.
    pub ripe: Band,
    /// Grams that will have turned ripe by its evening, each as weighed the day it turned.
    pub by_then: Band,
}

/// What will be ripe when.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct Forecast {
    /// Its first day.
    pub today: Day,
    /// Today and the days after it.
    pub days: Vec<DayForecast>,
    /// Stands ripe today, over all lots.
    pub ready_today: Band,
    /// Will ripen yet, at today's weight.
    pub still_to_come: Band,
    /// Will not ripen in a room, at today's weight, as expected.
    pub never: Grams,
    /// Each lot, in the order given.
    pub lots: Vec<LotForecast>,
}

/// All lots with one curve: their weight, and their weight times that of a fruit.
struct Pile {
    curve: Option<Curve>,
    grams: f64,
    grams_by_fruit: f64,
}

type Key = (CropId, ClassId, Option<Stage>, Day, Day, bool, RoomClimate, [u64; 9]);

/// Forecasts `days` days (1 to [`MAX_DAYS`], held there) from `today`.
///
/// `belief` holds for every lot that does not bring its own. A lot of a crop or class that is not
/// in the table, or that does not ripen, keeps its grams in `never`; its `why` says so. Call it
/// twice, with another room, to see what a move would do.
pub fn forecast(lots: &[LotInput], belief: &Belief, today: Day, days: usize) -> Forecast {
    let days = days.clamp(1, MAX_DAYS);
    let weights = weights();
    let mut piles: BTreeMap<Key, Pile> = BTreeMap::new();
    for lot in lots {
        let crop = crops::crop(&lot.crop);
        let pile = piles.entry(key(lot, belief)).or_insert_with(|| Pile {
            curve: curve(lot, crop, belief, today, days),
            grams: 0.0,
            grams_by_fruit: 0.0,
        });
        let weight = stands(lot, belief).0 as f64;
        pile.grams += weight;
        pile.grams_by_fruit += weight * crop.map_or(0.0, |crop| crop.fruit_grams.value);
    }
    let lots: Vec<_> = lots
        .iter()
        .map(|lot| {
            let curve = piles[&key(lot, belief)].curve.as_ref();
            answer(lot, stands(lot, belief), curve, &weights, today, days)
        })
        .collect();
    let whole: f64 = piles.values().filter(|p| p.curve.is_some()).map(|pile| pile.grams).sum();
    let total = |moment: &dyn Fn(&Curve, usize) -> (f64, f64)| {
        let mut moments = [(0.0, 0.0); POINTS];
        for pile in piles.values() {
            let Some(curve) = &pile.curve else { continue };
            for (point, (mean, variance)) in moments.iter_mut().enumerate() {
                let (m, v) = moment(curve, point);
                *mean += m * pile.grams;
                *variance += v * pile.grams_by_fruit;
            }
        }
        band(&weights, &moments, whole)
    };
    let mut told = Vec::with_capacity(days);
    let mut least = Band::default();
    for i in 0..days {
        let ripe = total(&|curve, point| new_ripe(curve, i, point));
        let by_then = above(total(&|curve, point| ripe_by(curve, i, point)), least);
        least = by_then;
        told.push(DayForecast { day: today.plus(i as i32), ripe, by_then });
    }
    Forecast {
        today,
        ready_today: told[0].ripe,
        still_to_come: total(&still_to_come),
        never: lots.iter().map(|lot| lot.never).sum(),
        days: told,
        lots,
    }
}

fn key(lot: &LotInput, belief: &Belief) -> Key {
    let belief = lot.belief.as_ref().unwrap_or(belief);
    let (from, sorted, _) = standing(lot, belief.loss.median);
    let LotInput { crop, class, stage, picked, room, .. } = lot.clone();
    (crop, class, stage, picked, from, sorted, room, belief.key())
}

/// What of a lot stands after its rounds.
fn stands(lot: &LotInput, belief: &Belief) -> Grams {
    standing(lot, lot.belief.as_ref().unwrap_or(belief).loss.median).2
}

fn curve(
    lot: &LotInput,
    crop: Option<&Crop>,
    belief: &Belief,
    today: Day,
    days: usize,
) -> Option<Curve> {
    let crop = crop?;
    let model = model(crop.model.as_deref()?)?;
    let start = Start::of(Some(model), crop.class(&lot.class)?, lot.stage);
    if start == Start::AsItIs {
        return None;
    }
    let frame = Frame::new(lot, model, start, lot.belief.unwrap_or(*belief));
    Some(Curve::new(&frame, today, days))
}

/// Mean per gram, and variance per gram and gram of fruit, of a share `p` of which `kept` is left:
/// a count of n fruit is binomial, n·p·(1−p).
fn moments(p: f64, kept: f64) -> (f64, f64) {
    (p * kept, p * (1.0 - p) * kept * kept)
}

fn new_ripe(curve: &Curve, i: usize, point: usize) -> (f64, f64) {
    moments(curve.new_share(i, point), curve.keep(i, point))
}

fn ripe_by(curve: &Curve, i: usize, point: usize) -> (f64, f64) {
    let (_, variance) = moments(curve.ripe[i][point], curve.keep(i, point));
    (curve.grams[i][point], variance)
}

fn still_to_come(curve: &Curve, point: usize) -> (f64, f64) {
    let share = (1.0 - curve.never[point] - curve.ripe[0][point]).max(0.0);
    moments(share, curve.keep(0, point))
}

/// What has turned stays turned: no day's band lies below the day before's.
fn above(band: Band, least: Band) -> Band {
    Band {
        p10: band.p10.max(least.p10),
        p50: band.p50.max(least.p50),
        p90: band.p90.max(least.p90),
    }
}

fn answer(
    lot: &LotInput,
    start: Grams,
    curve: Option<&Curve>,
    weights: &[f64; POINTS],
    today: Day,
    days: usize,
) -> LotForecast {
    let crop = crops::crop(&lot.crop);
    let mut told = LotForecast {
        lot: lot.lot.clone(),
        crop: lot.crop.clone(),
        class: lot.class.clone(),
        from: None,
        to: None,
        ready_today: Band::default(),
        still_to_come: Band::default(),
        never: start,
        today: Balance { start, never: start, ..Balance::default() },
        end: Balance { start, never: start, ..Balance::default() },
        warnings: Vec::new(),
        why: String::new(),
    };
    if let (Some(curve), Some(crop)) = (curve, crop) {
        let (weight, fruit) = (start.0 as f64, crop.fruit_grams.value);
        let of_lot = |moment: &dyn Fn(usize) -> (f64, f64)| {
            let moments: [(f64, f64); POINTS] = std::array::from_fn(|point| {
                let (mean, variance) = moment(point);
                (mean * weight, variance * weight * fruit)
            });
            band(weights, &moments, weight)
        };
        told.ready_today = of_lot(&|point| new_ripe(curve, 0, point));
        told.still_to_come = of_lot(&|point| still_to_come(curve, point));
        told.today = balance(curve, weights, start, 0);
        told.end = balance(curve, weights, start, days - 1);
        told.never = told.today.never;
        (told.from, told.to) = curve.window;
    }
    told.warnings = warnings::of(lot, crop, told.ready_today.p50, today, days);
    told.why = why::of(lot, crop, &told, today);
    told
}

/// Expected grams on day `i`, whole; rounding falls to what is lost, or else to what waits.
fn balance(curve: &Curve, weights: &[f64; POINTS], start: Grams, i: usize) -> Balance {
    let (mut ripe, mut waiting, mut never) = (0.0, 0.0, 0.0);
    for (point, weight) in weights.iter().enumerate() {
        let keep = curve.keep(i, point);
        ripe += weight * ripe_by(curve, i, point).0;
        never += weight * curve.never[point] * keep;
        waiting += weight * (1.0 - curve.never[point] - curve.ripe[i][point]).max(0.0) * keep;
    }
    let of_start = |share: f64| grams(share * start.0 as f64);
    let (ripe, never) = (of_start(ripe), of_start(never));
    let waiting = of_start(waiting).min(start - ripe - never);
    Balance { start, ripe, waiting, never, lost: start - ripe - waiting - never }
}
