//! The first frosts of a season: the first noted, and the first that killed.

use serde::Serialize;

use crate::book::Book;
use crate::outlook::Today;
use crate::units::{Day, MilliCelsius};

/// The first frosts after midsummer.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize)]
pub struct Frosts {
    /// First night noted at 0 °C or below: the day whose evening began it.
    pub first: Option<Day>,
    /// How low it went.
    pub first_low: Option<MilliCelsius>,
    /// First morning on which vines were found dead after thaw.
    pub killing: Option<Day>,
    /// Where, in words.
    pub killing_at: Vec<String>,
    /// The lowest noted there that night.
    pub killing_low: Option<MilliCelsius>,
}

/// Frosts of the year's second half; south of the equator of its first, where autumn is.
pub(super) fn frosts(book: &Book, year: i32, today: Today) -> Frosts {
    let south = book.nights.site.latitude_udeg.get().is_some_and(|latitude| *latitude < 0);
    let half = Day::from_ymd(year, 7, 1);
    let autumn = |day: Day| day.year() == year && half.is_some_and(|half| (day < half) == south);
    let cold = book.nights.lows.values().map(|low| &low.fact);
    let cold = cold.filter(|low| autumn(low.day) && low.temperature.0 <= 0);
    let first = cold.min_by_key(|low| (low.day, low.temperature));
    let dead: Vec<_> = book
        .cold_checks
        .values()
        .map(|check| (Day::at(check.fact.at, today.offset_minutes), &check.fact))
        .filter(|(day, check)| autumn(*day) && check.look == "thawed" && check.vines == "dead")
        .collect();
    let killing = dead.iter().map(|(day, _)| *day).min();
    let there = || dead.iter().filter(|(day, _)| Some(*day) == killing).map(|(_, check)| check);
    let mut killing_at: Vec<String> =
        there().map(|check| book.place_name(check.place).to_owned()).collect();
    killing_at.sort();
    killing_at.dedup();
    Frosts {
        first: first.map(|low| low.day),
        first_low: first.map(|low| low.temperature),
        killing,
        killing_at,
        killing_low: there().filter_map(|check| check.low).min(),
    }
}
