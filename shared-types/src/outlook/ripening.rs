//! When the lots that still stand will be ripe.

use serde::Serialize;

use super::learning::{learned, stretches, variety_key};
use super::rooms::Rooms;
use super::{Today, asked};
use crate::book::Book;
use crate::book::lots::{Lot, Lots};
use crate::ids::{LotId, RoomId};
use crate::trade::crops::{self, Group};
use crate::trade::fitness::{Fitness, fitness};
use crate::trade::ripening::{
    Band, Belief, DayForecast, Learned, LotForecast, LotInput, RoomClimate, forecast,
};
use crate::units::{Day, Grams, MilliCelsius, Millis};

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
    /// Whether that is only [`super::ROOM_UNSET`].
    pub room_assumed: bool,
    /// What is left of it, as weighed when picked.
    pub left: Grams,
    /// What it may be used for.
    pub fitness: Fitness,
    /// When it will be ripe.
    pub forecast: LotForecast,
    /// What it was forecast with.
    pub belief: Belief,
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
    outlook_with(book, &learned(book, today), today, days)
}

/// The same with what was learned, for who has it at hand already.
pub fn outlook_with(book: &Book, learned: &Learned, today: Today, days: usize) -> Outlook {
    let lots = book.lots();
    let rooms = rooms(book, &lots, today);
    let frame = Frame { rooms: &rooms, today };
    let (ripening, other): (Vec<&Lot>, Vec<&Lot>) =
        lots.standing().into_iter().partition(|lot| awaited(lot));
    let prior = Belief::default();
    let belief = |lot: &Lot| learned.belief(&lot.crop, variety_key(lot.variety).as_deref());
    let asked: Vec<Asked> =
        ripening.iter().map(|lot| frame.asked(lot, &belief(lot), &lot.moves)).collect();
    let inputs: Vec<LotInput> = asked.iter().map(|asked| asked.input.clone()).collect();
    let told = forecast(&inputs, &prior, today.day, days);
    let mut taken_ripe = Grams::ZERO;
    let mut standing = Vec::with_capacity(ripening.len() + other.len());
    for ((lot, mut of_lot), asked) in ripening.into_iter().zip(told.lots).zip(&asked) {
        taken_ripe += asked.off_ripe.min(of_lot.ready_today.p50);
        of_lot.ready_today = less(of_lot.ready_today, asked.off_ripe);
        standing.push(standing_lot(book, &rooms, lot, belief(lot), of_lot, today));
    }
    let inputs: Vec<LotInput> =
        other.iter().map(|lot| frame.asked(lot, &prior, &lot.moves).input).collect();
    let of_others = forecast(&inputs, &prior, today.day, 1).lots;
    standing.extend(
        other
            .into_iter()
            .zip(of_others)
            .map(|(lot, of_lot)| standing_lot(book, &rooms, lot, prior, of_lot, today)),
    );
    let lots = standing;
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

/// The rooms since the first lot came that still holds something.
fn rooms(book: &Book, lots: &Lots, today: Today) -> Rooms {
    let came = lots.standing().into_iter().map(|lot| lot.day_at(today.offset_minutes)).min();
    Rooms::of(book, came.unwrap_or(today.day), today)
}

fn standing_lot(
    book: &Book,
    rooms: &Rooms,
    lot: &Lot,
    belief: Belief,
    forecast: LotForecast,
    today: Today,
) -> StandingLot {
    let (room_temperature, room_assumed) = rooms.on(lot.room(), today.day);
    StandingLot {
        name: name(book, lot),
        place_name: book.place_name(lot.place).to_owned(),
        room_name: lot.room().map(|room| book.room_name(room).to_owned()),
        room_temperature,
        room_assumed,
        left: lot.left(),
        fitness: fitness(&asked(lot)),
        forecast,
        belief,
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
pub(super) fn ripe_by_day(
    book: &Book,
    lot: &Lot,
    belief: &Belief,
    today: Today,
    days: usize,
) -> Vec<Grams> {
    let rooms = Rooms::of(book, lot.day_at(today.offset_minutes), today);
    let frame = Frame { rooms: &rooms, today };
    let Asked { input, off_ripe } = frame.asked(lot, belief, &lot.moves);
    let told = forecast(&[input], belief, today.day, days);
    let mut ripe: Vec<Grams> = told.days.into_iter().map(|day| day.ripe.p50).collect();
    if let Some(first) = ripe.first_mut() {
        *first = (*first - off_ripe).max(Grams::ZERO);
    }
    ripe
}

/// The dates of a lot where it stands and in another room; `None` when there is no such lot.
pub fn move_lot(book: &Book, lot: LotId, room: RoomId, today: Today, days: usize) -> Option<Moved> {
    let learned = learned(book, today);
    let lots = book.lots();
    let lot = lots.all.get(&lot)?;
    let belief = learned.belief(&lot.crop, variety_key(lot.variety).as_deref());
    moves_of(book, lot, &belief, &[room], today, days).pop().map(|(_, moved)| moved)
}

/// The dates of a lot in each of these rooms.
pub fn moves_of(
    book: &Book,
    lot: &Lot,
    belief: &Belief,
    to: &[RoomId],
    today: Today,
    days: usize,
) -> Vec<(RoomId, Moved)> {
    let rooms = Rooms::of(book, lot.day_at(today.offset_minutes), today);
    let frame = Frame { rooms: &rooms, today };
    let one = |moves: &[(Millis, RoomId)]| {
        let Asked { input, off_ripe } = frame.asked(lot, belief, moves);
        let mut told = forecast(&[input], belief, today.day, days).lots.remove(0);
        told.ready_today = less(told.ready_today, off_ripe);
        told
    };
    let before = one(&lot.moves);
    let after = |room: RoomId| {
        let mut moves = lot.moves.clone();
        moves.push((today.start(), room));
        one(&moves)
    };
    to.iter().map(|room| (*room, Moved { before: before.clone(), after: after(*room) })).collect()
}

fn name(book: &Book, lot: &Lot) -> String {
    match lot.variety {
        Some(variety) => book.variety_name(variety).to_owned(),
        None => crops::crop(&lot.crop).map_or_else(|| lot.crop.to_string(), |c| c.name.clone()),
    }
}

/// A lot as the forecast takes it, and how much of its ripe fruit was taken since its last round.
struct Asked {
    input: LotInput,
    off_ripe: Grams,
}

/// Everything a forecast of one book needs besides the lot.
struct Frame<'a> {
    rooms: &'a Rooms,
    today: Today,
}

impl Frame<'_> {
    /// The lot since its last stretch of rounds. Where more was taken than had ripened by today,
    /// it goes in as sorted today with what is left.
    fn asked(&self, lot: &Lot, belief: &Belief, moves: &[(Millis, RoomId)]) -> Asked {
        let last = stretches(lot, self.today).pop().expect("there is always one");
        let mut input = last.input(lot, self.rooms, moves, self.today);
        input.belief = Some(*belief);
        let since = lot.rounds.last().map(|round| round.at);
        let used = lot.uses.iter().filter(|used| since.is_none_or(|since| used.at > since));
        let taken: Grams = used.map(|used| used.grams).sum();
        if taken == Grams::ZERO || !ripens(lot) {
            return Asked { input, off_ripe: taken };
        }
        let alone = forecast(std::slice::from_ref(&input), belief, self.today.day, 1);
        if taken <= alone.ready_today.p50 {
            return Asked { input, off_ripe: taken };
        }
        let sorted = Some(self.today.day);
        let input = LotInput { grams: lot.left(), sorted, rounds: Vec::new(), ..input };
        Asked { input, off_ripe: Grams::ZERO }
    }
}

fn ripens(lot: &Lot) -> bool {
    crops::class(&lot.crop, &lot.class).is_some_and(|class| class.ripens)
}

fn less(band: Band, off: Grams) -> Band {
    let less = |grams: Grams| (grams - off).max(Grams::ZERO);
    Band { p10: less(band.p10), p50: less(band.p50), p90: less(band.p90) }
}

/// The climate a lot has stood in, as it was read or set.
pub(super) fn climate(
    book: &Book,
    lot: &Lot,
    moves: &[(Millis, RoomId)],
    today: Today,
) -> RoomClimate {
    Rooms::of(book, lot.day_at(today.offset_minutes), today).climate(lot, moves, today)
}
