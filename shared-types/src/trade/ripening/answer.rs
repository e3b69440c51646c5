//! What is answered of one lot.

use super::band::{Band, Moment, band, grams};
use super::curve::{Curve, Shape};
use super::forecast::weight;
use super::lot::{Balance, LotForecast, LotInput};
use super::piles::Piles;
use super::room::RoomDays;
use super::standing::Standing;
use super::{warnings, why, window};
use crate::trade::crops;
use crate::units::{Day, Grams};

/// What is kept of a curve for the lots that share it: all per gram.
pub(super) struct Told {
    ready: Vec<Moment>,
    still: Vec<Moment>,
    /// Ripe, waiting, never: today and on the last day.
    parts: [[f64; 3]; 2],
    window: (Option<Day>, Option<Day>),
}

impl Told {
    pub(super) fn new(curve: &Curve, shape: &Shape<'_>, today: usize) -> Self {
        Self {
            ready: (0..curve.points).map(|point| curve.new_ripe(0, point)).collect(),
            still: (0..curve.points).map(|point| curve.still_to_come(point)).collect(),
            parts: [curve.parts(0), curve.parts(curve.days - 1)],
            window: window::dates(shape, curve, today),
        }
    }
}

pub(super) fn of(
    lot: &LotInput,
    i: usize,
    rooms: &Piles,
    stands: Standing,
    told: Option<&Told>,
    today: Day,
    days: usize,
) -> LotForecast {
    let start = stands.grams;
    let crop = crops::crop(&lot.crop);
    let mut answer = LotForecast {
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
    if let (Some(told), Some(crop)) = (told, crop) {
        let weight = weight(crop, start.0 as f64, stands.sorted);
        let of_lot = |units: &[Moment]| {
            let moments: Vec<Moment> = units.iter().map(|unit| weight.of(*unit)).collect();
            band(rooms.points(i), &moments, start.0 as f64)
        };
        answer.ready_today = of_lot(&told.ready);
        answer.still_to_come = of_lot(&told.still);
        answer.today = balance(told.parts[0], start);
        answer.end = balance(told.parts[1], start);
        answer.never = answer.today.never;
        (answer.from, answer.to) = told.window;
    }
    let room: Option<&RoomDays> =
        lot.known().and_then(|(_, _, model, _)| rooms.place(i, model)).map(|place| place.0);
    answer.warnings = warnings::of(lot, crop, room, answer.ready_today.p50, today, days);
    answer.why = why::of(lot, crop, &answer, today, days);
    answer
}

/// Expected grams, whole; rounding falls to what is lost, or else to what waits.
fn balance([ripe, waiting, never]: [f64; 3], start: Grams) -> Balance {
    let of_start = |share: f64| grams(share * start.0 as f64);
    let (ripe, never) = (of_start(ripe), of_start(never));
    let ripe = ripe.min(start);
    let never = never.min(start - ripe);
    let waiting = of_start(waiting).min(start - ripe - never);
    Balance { start, ripe, waiting, never, lost: start - ripe - waiting - never }
}
