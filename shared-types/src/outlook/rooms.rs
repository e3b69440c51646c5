//! How warm a room was, day by day, and how warm it is taken to be.

use std::collections::BTreeMap;

use super::Today;
use crate::book::Book;
use crate::book::lots::Lot;
use crate::book::readings::RoomDay;
use crate::ids::RoomId;
use crate::trade::ripening::{HumidityPermille, RoomClimate};
use crate::units::{Day, MilliCelsius, Millis};

/// The temperature reckoned with where a lot's room is not known or has none: the cool end of
/// "18-21 °C for standard ripening" (UC Davis fact sheet, see the ripening tables).
pub const ROOM_UNSET: MilliCelsius = MilliCelsius::from_celsius(18);

/// How long a room goes on as it was last read, days. After that its setting is believed again:
/// the weather or the stove has turned (assumption).
const GOES_ON_DAYS: i32 = 3;

/// How a room's temperature is known.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Follows {
    /// By its readings, where there are any.
    Log,
    /// By its usual temperature, whatever was read.
    Setting,
    /// By day and night, where nothing was read.
    Swing,
}

/// What a room's temperature is reckoned by.
pub fn follows(book: &Book, room: RoomId) -> Follows {
    let climate = book.climates.get(&room);
    match climate.and_then(|climate| climate.follow.get()).map(String::as_str) {
        Some("setting") => Follows::Setting,
        Some("swing") => Follows::Swing,
        _ => Follows::Log,
    }
}

/// One room, as far back as anybody asks.
#[derive(Clone, Debug, Default)]
pub(super) struct RoomPast {
    usual: Option<MilliCelsius>,
    humidity: Option<i64>,
    days: BTreeMap<Day, RoomDay>,
}

/// The rooms of a book, from a day on. Readings of before are not needed by anything that stands.
pub(super) struct Rooms {
    rooms: BTreeMap<RoomId, RoomPast>,
}

impl Rooms {
    pub(super) fn of(book: &Book, from: Day, today: Today) -> Self {
        let past = |(id, room): (&RoomId, &crate::book::Room)| {
            let follows = follows(book, *id);
            let usual = match follows {
                Follows::Swing => swing(book, *id).or(room.temperature.get().copied()),
                _ => room.temperature.get().copied(),
            };
            let mut days = match (follows, book.readings.get(id)) {
                (Follows::Setting, _) | (_, None) => BTreeMap::new(),
                (_, Some(log)) => log.days(from.plus(-GOES_ON_DAYS), today.offset_minutes),
            };
            // A sensor whose clock is ahead says nothing of tomorrow.
            days.split_off(&today.day.plus(1));
            let humidity = room.humidity.get().map(|percent| percent.saturating_mul(10));
            (*id, RoomPast { usual, humidity, days })
        };
        Self { rooms: book.rooms.iter().map(past).collect() }
    }

    /// What a room is reckoned at on a day, and whether that is only [`ROOM_UNSET`].
    pub(super) fn on(&self, room: Option<RoomId>, day: Day) -> (MilliCelsius, bool) {
        let known = room.and_then(|room| self.rooms.get(&room)?.on(day));
        // The tables are of rooms; a slip such as 200 °C is held to what a room can be.
        let held = |t: MilliCelsius| {
            t.clamp(MilliCelsius::from_celsius(-30), MilliCelsius::from_celsius(60))
        };
        known.map_or((ROOM_UNSET, true), |t| (held(t), false))
    }

    /// The climate a lot has stood in: its room on each day since it came, and from tomorrow on
    /// the room it is in.
    pub(super) fn climate(
        &self,
        lot: &Lot,
        moves: &[(Millis, RoomId)],
        today: Today,
    ) -> RoomClimate {
        let came = lot.day_at(today.offset_minutes);
        let room_on = |day: Day| {
            let moved = moves
                .iter()
                .rev()
                .find(|(at, _)| Day::at(*at, today.offset_minutes).max(came) <= day);
            moved.map(|(_, room)| *room).or(lot.first_room)
        };
        let mut steps: Vec<(Day, MilliCelsius)> = Vec::new();
        let days = today.day.since(came).max(0) + GOES_ON_DAYS + 1;
        for day in (0..=days).map(|n| came.plus(n)) {
            let degrees = self.on(room_on(day), day).0;
            if steps.last().is_none_or(|(_, last)| *last != degrees) {
                steps.push((day, degrees));
            }
        }
        let mut climate =
            RoomClimate::steps(steps).expect("days in order, and at least that of the picking");
        let last = moves.last().map(|(_, room)| *room).or(lot.first_room);
        climate.humidity = last
            .and_then(|room| self.rooms.get(&room)?.humid())
            .and_then(|permille| u16::try_from(permille.clamp(10, 1_000)).ok())
            .map(HumidityPermille);
        climate
    }
}

impl RoomPast {
    /// As read that day; for some days after, as on the last days that were read; as set.
    fn on(&self, day: Day) -> Option<MilliCelsius> {
        if let Some(read) = self.days.get(&day) {
            return Some(read.mean);
        }
        let lately = self.days.range(day.plus(-GOES_ON_DAYS)..day).map(|(_, day)| day.mean);
        mean(lately.map(|t| i64::from(t.0))).map(|t| MilliCelsius(t as i32)).or(self.usual)
    }

    /// As measured on the last days, as set otherwise.
    fn humid(&self) -> Option<i64> {
        let lately = self.days.values().rev().take(GOES_ON_DAYS as usize);
        mean(lately.filter_map(|day| day.humidity_permille)).or(self.humidity)
    }
}

fn mean(of: impl Iterator<Item = i64>) -> Option<i64> {
    let (sum, n) = of.fold((0, 0), |(sum, n), value| (sum + value, n + 1));
    (n > 0).then(|| sum / n)
}

/// The middle of day and night. Rates bend with temperature, so a wide swing ripens a little more
/// than its middle does; within a room's few degrees the difference is small.
fn swing(book: &Book, room: RoomId) -> Option<MilliCelsius> {
    let climate = book.climates.get(&room)?;
    let (day, night) = (climate.by_day.get()?, climate.by_night.get()?);
    Some(MilliCelsius(day.0.midpoint(night.0)))
}
