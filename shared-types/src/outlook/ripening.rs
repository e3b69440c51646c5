//! When the lots that still stand will be ripe.

use std::collections::BTreeMap;

use serde::Serialize;

use super::fitness::word;
use super::{Today, asked};
use crate::book::Book;
use crate::book::lots::Lot;
use crate::ids::{LotId, RoomId};
use crate::trade::crops::{self, Group};
use crate::trade::fitness::{Fitness, fitness};
use crate::trade::ripening::{
    Band, Belief, DayForecast, HumidityPermille, LotForecast, LotInput, RoomClimate, forecast,
};
use crate::units::{Day, Grams, MINUTE_MS, MilliCelsius, Millis};

/// The temperature reckoned with where a lot's room is not known or has none: the cool end of
/// "18-21 °C for standard ripening" (UC Davis fact sheet, see the ripening tables).
pub const ROOM_UNSET: MilliCelsius = MilliCelsius::from_celsius(18);

/// What stands, and when it will be ripe.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Outlook {
    /// The first day.
    pub today: Day,
    /// Stands ripe today and has not been taken out.
    pub ready_today: Band,
    /// Will ripen yet.
    pub still_to_come: Band,
    /// Will not ripen in a room, as expected.
    pub never: Grams,
    /// Today and the days after it.
    pub days: Vec<DayForecast>,
    /// The lots, latest picked first.
    pub lots: Vec<StandingLot>,
}

/// A lot that still holds something.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct StandingLot {
    /// The lot.
    #[serde(flatten)]
    pub lot: Lot,
    /// Its crop or variety, for showing.
    pub name: String,
    /// Its place, for showing.
    pub place_name: String,
    /// Its room, for showing.
    pub room_name: Option<String>,
    /// What its room is reckoned at.
    pub room_temperature: MilliCelsius,
    /// Whether that is only [`ROOM_UNSET`].
    pub room_assumed: bool,
    /// What is left of it, as weighed when picked.
    pub left: Grams,
    /// What it may be used for.
    pub fitness: Fitness,
    /// When it will be ripe.
    pub forecast: LotForecast,
    /// Whether its ripening is waited for. Lots of crops that do not ripen in a room, and ripe ones
    /// that keep in the store, are listed and not counted in the outlook's totals.
    pub ripens: bool,
}

/// What moving a lot would do to its dates.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Moved {
    /// As it stands.
    pub before: LotForecast,
    /// In the other room from today on.
    pub after: LotForecast,
}

/// The outlook over `days` days from today.
///
/// What was taken out of a lot is taken off what has ripened in it first; only when more was taken
/// than had ripened (green fruit for a relish) does the rest count as less to ripen.
pub fn outlook(book: &Book, today: Today, days: usize) -> Outlook {
    let lots = book.lots();
    let (ripening, other): (Vec<&Lot>, Vec<&Lot>) =
        lots.standing().into_iter().partition(|lot| awaited(lot));
    let inputs: Vec<LotInput> =
        ripening.iter().map(|lot| input(book, lot, &lot.moves, today)).collect();
    let told = forecast(&inputs, &Belief::default(), today.day, days);
    let mut taken_ripe = Grams::ZERO;
    let mut lots = Vec::with_capacity(ripening.len() + other.len());
    for ((lot, mut of_lot), input) in ripening.into_iter().zip(told.lots).zip(&inputs) {
        let off = off_ripe(lot, input);
        taken_ripe += off.min(of_lot.ready_today.p50);
        of_lot.ready_today = less(of_lot.ready_today, off);
        lots.push(standing_lot(book, lot, of_lot));
    }
    let inputs: Vec<LotInput> =
        other.iter().map(|lot| input(book, lot, &lot.moves, today)).collect();
    let of_others = forecast(&inputs, &Belief::default(), today.day, 1).lots;
    lots.extend(
        other.into_iter().zip(of_others).map(|(lot, of_lot)| standing_lot(book, lot, of_lot)),
    );
    let day = |day: DayForecast| {
        let ripe = if day.day == today.day { less(day.ripe, taken_ripe) } else { day.ripe };
        DayForecast { ripe, by_then: less(day.by_then, taken_ripe), ..day }
    };
    Outlook {
        today: told.today,
        ready_today: less(told.ready_today, taken_ripe),
        still_to_come: told.still_to_come,
        never: told.never,
        days: told.days.into_iter().map(day).collect(),
        lots,
    }
}

fn standing_lot(book: &Book, lot: &Lot, forecast: LotForecast) -> StandingLot {
    let (room_temperature, room_assumed) = temperature(book, lot.room());
    StandingLot {
        name: name(book, lot),
        place_name: book.place_name(lot.place).to_owned(),
        room_name: lot.room().map(|room| book.room_name(room).to_owned()),
        room_temperature,
        room_assumed,
        left: lot.left(),
        fitness: fitness(&asked(lot)),
        forecast,
        ripens: awaited(lot),
        lot: lot.clone(),
    }
}

/// Whether a lot is among those whose ripening is waited for. A ripe squash is not: it keeps for
/// months in the store, and would drown what has to be dealt with today.
fn awaited(lot: &Lot) -> bool {
    crops::crop(&lot.crop).is_some_and(|crop| {
        let stored = crop.group == Group::Squash;
        crop.ripens() && !(stored && crop.class(&lot.class).is_some_and(|class| class.ready))
    })
}

/// What turns ripe in one lot on each day, as expected; today, all that stands ripe in it.
pub(super) fn ripe_by_day(book: &Book, lot: &Lot, today: Today, days: usize) -> Vec<Grams> {
    let input = input(book, lot, &lot.moves, today);
    let off = off_ripe(lot, &input);
    let told = forecast(&[input], &Belief::default(), today.day, days);
    let mut ripe: Vec<Grams> = told.days.into_iter().map(|day| day.ripe.p50).collect();
    if let Some(first) = ripe.first_mut() {
        *first = (*first - off).max(Grams::ZERO);
    }
    ripe
}

/// The dates of a lot where it stands and in another room; `None` when there is no such lot.
pub fn move_lot(book: &Book, lot: LotId, room: RoomId, today: Today, days: usize) -> Option<Moved> {
    let lots = book.lots();
    let lot = lots.all.get(&lot)?;
    let mut moves = lot.moves.clone();
    moves.push((today.day.start().plus(-i64::from(today.offset_minutes) * MINUTE_MS), room));
    let one = |moves: &[(Millis, RoomId)]| {
        let input = input(book, lot, moves, today);
        let off = off_ripe(lot, &input);
        let mut told = forecast(&[input], &Belief::default(), today.day, days).lots.remove(0);
        told.ready_today = less(told.ready_today, off);
        told
    };
    Some(Moved { before: one(&lot.moves), after: one(&moves) })
}

fn name(book: &Book, lot: &Lot) -> String {
    match lot.variety {
        Some(variety) => book.variety_name(variety).to_owned(),
        None => crops::crop(&lot.crop).map_or_else(|| lot.crop.to_string(), |c| c.name.clone()),
    }
}

/// The lot as the forecast takes it: since its last round, if there was one. Where more was taken
/// than had ripened by today, it goes in as sorted today with what is left.
fn input(book: &Book, lot: &Lot, moves: &[(Millis, RoomId)], today: Today) -> LotInput {
    let last = lot.rounds.last();
    let whole = LotInput {
        lot: Some(lot.id.to_string()),
        crop: lot.crop.clone(),
        class: lot.class.clone(),
        stage: lot.stage.as_deref().and_then(word),
        grams: since(lot),
        picked: lot.day_at(today.offset_minutes),
        sorted: last.map(|round| Day::at(round.at, today.offset_minutes)),
        stages: BTreeMap::new(),
        rounds: Vec::new(),
        room: climate(book, lot, moves, today),
        belief: None,
    };
    let taken = whole.grams - lot.left();
    if taken <= Grams::ZERO {
        return whole;
    }
    let alone = forecast(std::slice::from_ref(&whole), &Belief::default(), today.day, 1);
    if taken <= alone.ready_today.p50 || !ripens(lot) {
        whole
    } else {
        LotInput { grams: lot.left(), sorted: Some(today.day), ..whole }
    }
}

fn ripens(lot: &Lot) -> bool {
    crops::class(&lot.crop, &lot.class).is_some_and(|class| class.ripens)
}

/// What there was of it at its last round, or else when it came.
fn since(lot: &Lot) -> Grams {
    lot.rounds.last().map_or(lot.came, |round| round.left)
}

/// What was taken out of a lot's ripe fruit, as far as the forecast still counts it.
fn off_ripe(lot: &Lot, input: &LotInput) -> Grams {
    (input.grams - lot.left()).max(Grams::ZERO)
}

fn less(band: Band, off: Grams) -> Band {
    let less = |grams: Grams| (grams - off).max(Grams::ZERO);
    Band { p10: less(band.p10), p50: less(band.p50), p90: less(band.p90) }
}

/// The climate a lot has stood in: each room's usual temperature, from the day it came there.
pub(super) fn climate(
    book: &Book,
    lot: &Lot,
    moves: &[(Millis, RoomId)],
    today: Today,
) -> RoomClimate {
    let came = lot.day_at(today.offset_minutes);
    let mut steps = BTreeMap::from([(came, temperature(book, lot.first_room).0)]);
    for (at, room) in moves {
        let day = Day::at(*at, today.offset_minutes).max(came);
        steps.insert(day, temperature(book, Some(*room)).0);
    }
    let last = moves.last().map(|(_, room)| *room).or(lot.first_room);
    let humidity = last.and_then(|room| book.rooms.get(&room)?.humidity.get().copied());
    let mut climate = RoomClimate::steps(steps.into_iter().collect())
        .expect("one step for each day, and at least that of the picking");
    climate.humidity = humidity
        .and_then(|percent| u16::try_from(percent.clamp(1, 100) * 10).ok())
        .map(HumidityPermille);
    climate
}

fn temperature(book: &Book, room: Option<RoomId>) -> (MilliCelsius, bool) {
    let known = room.and_then(|room| book.rooms.get(&room)?.temperature.get().copied());
    // The tables are of rooms; a slip such as 200 °C is held to what a room can be.
    let held =
        |t: MilliCelsius| t.clamp(MilliCelsius::from_celsius(-30), MilliCelsius::from_celsius(60));
    known.map_or((ROOM_UNSET, true), |t| (held(t), false))
}
