//! The forecast of many lots, day by day.

use std::collections::BTreeMap;

use serde::{Deserialize, Serialize};

use super::MAX_DAYS;
use super::answer::{self, Told};
use super::band::{BAND, Band};
use super::belief::Belief;
use super::curve::{Curve, Shape};
use super::lot::{LotForecast, LotInput};
use super::piles::{Key, Piles};
use super::points::Points;
use super::standing::Standing;
use super::start::Start;
use super::table::evidence;
use super::totals::{Totals, Weight};
use crate::trade::crops::Crop;
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

/// One day of a forecast at quantiles of the caller's choice.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct QuantileDay {
    /// The day.
    pub day: Day,
    /// Grams that turn ripe on it, by quantile; on the first day, all that stands ripe.
    pub ripe: Vec<Grams>,
    /// Grams that will have turned ripe by its evening, by quantile.
    pub by_then: Vec<Grams>,
}

/// Lots with one curve: their weight, and what was worked out.
struct Pile {
    /// The first of them.
    of: usize,
    grams: f64,
    told: Option<Told>,
}

/// Forecasts `days` days (1 to [`MAX_DAYS`], held there) from `today`.
///
/// `belief` holds for every lot that does not bring its own. A lot of a crop or class that is not
/// in the table, or that does not ripen, keeps its grams in `never`; its `why` says so. Call it
/// twice, with another room, to see what a move would do.
pub fn forecast(lots: &[LotInput], belief: &Belief, today: Day, days: usize) -> Forecast {
    at_quantiles(lots, belief, today, days, &[]).0
}

/// [`forecast`], and with it its days at other quantiles, each between 0 and 1.
pub fn at_quantiles(
    lots: &[LotInput],
    belief: &Belief,
    today: Day,
    days: usize,
    quantiles: &[f64],
) -> (Forecast, Vec<QuantileDay>) {
    let days = days.clamp(1, MAX_DAYS);
    let rooms = Piles::new(lots, belief, today, today.plus(days as i32));
    let stands: Vec<Standing> =
        lots.iter().enumerate().map(|(i, lot)| rooms.standing(i, lot)).collect();
    let mut piles: BTreeMap<Key, Pile> = BTreeMap::new();
    let mut keys = Vec::with_capacity(lots.len());
    for (i, (lot, stands)) in lots.iter().zip(&stands).enumerate() {
        let key = rooms.key(i, lot, *stands);
        let pile = piles.entry(key.clone()).or_insert(Pile { of: i, grams: 0.0, told: None });
        pile.grams += stands.grams.0 as f64;
        keys.push(key);
    }
    let mut totals = Totals::new(days);
    for pile in piles.values_mut() {
        let lot = &lots[pile.of];
        let Some((crop, curve, shape, now)) =
            curve(lot, pile.of, &rooms, stands[pile.of], today, days)
        else {
            continue;
        };
        totals.add(&curve, weight(crop, pile.grams, stands[pile.of].sorted));
        pile.told = Some(Told::new(&curve, &shape, now));
    }
    let answers = lots.iter().enumerate().map(|(i, lot)| {
        let told = piles[&keys[i]].told.as_ref();
        answer::of(lot, i, &rooms, stands[i], told, today, days)
    });
    let answers: Vec<LotForecast> = answers.collect();
    let points = Points::new(belief);
    let bands =
        totals.by_day(&points, &BAND).into_iter().enumerate().map(|(i, [ripe, by_then])| {
            let band = |of: Vec<Grams>| Band { p10: of[0], p50: of[1], p90: of[2] };
            DayForecast { day: today.plus(i as i32), ripe: band(ripe), by_then: band(by_then) }
        });
    let told: Vec<DayForecast> = bands.collect();
    let others = if quantiles.is_empty() { Vec::new() } else { totals.by_day(&points, quantiles) };
    let others = others.into_iter().enumerate().map(|(i, [ripe, by_then])| QuantileDay {
        day: today.plus(i as i32),
        ripe,
        by_then,
    });
    let forecast = Forecast {
        today,
        ready_today: told[0].ripe,
        still_to_come: totals.still_to_come(&points),
        never: answers.iter().map(|lot| lot.never).sum(),
        days: told,
        lots: answers,
    };
    (forecast, others.collect())
}

/// A lot's weight with how unevenly it turns.
pub(super) fn weight(crop: &Crop, grams: f64, sorted: bool) -> Weight {
    let told = evidence();
    let alike = if sorted { &told.sorted_correlation } else { &told.lot_correlation };
    Weight::new(grams, crop.fruit_grams.value, alike.value)
}

type Worked<'a> = (&'static Crop, Curve, Shape<'a>, usize);

fn curve<'a>(
    lot: &LotInput,
    i: usize,
    rooms: &'a Piles,
    stands: Standing,
    today: Day,
    days: usize,
) -> Option<Worked<'a>> {
    let (crop, _, model, start) = lot.known()?;
    if start == Start::AsItIs {
        return None;
    }
    let (room, reaches) = rooms.place(i, model)?;
    let evening = |day: Day| (room.index(day).max(0) as usize).min(room.days());
    let shape = Shape {
        sorted: stands.sorted && start != Start::Ripe,
        start,
        points: rooms.points(i),
        room,
        reaches,
        picked: evening(lot.picked),
        weighed: evening(stands.day),
    };
    let now = evening(today);
    Some((crop, Curve::new(&shape, now, days), shape, now))
}
