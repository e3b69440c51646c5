//! Tonight: how low it goes at each place, what is at risk, and what to do at which hour.
//!
//! A note of an evening is of one thermometer: of a place, or of the whole holding. Each becomes one
//! night of the trade ([`crate::trade::cold::tonight`]), fitted to the nights logged with that same
//! thermometer. A place without a note of its own goes by that of the holding.
//!
//! Not yet: a heater is sized but has no fact of its own, so no chore starts one; where picked
//! things stand is read off the room's name ([`shelter`]) and not asked.

mod logged;
mod things;

use serde::Serialize;
use thiserror::Error;

use super::Today;
use crate::book::Book;
use crate::entry::EveningNoted;
use crate::ids::PlaceId;
use crate::trade::cold::{
    self, Chore, Heat, Risk, SENSOR_HEIGHT_MM, Shadow, Site, SunTimes, Tunnel, at_risk, heater,
};
use crate::units::{Day, HOUR_MS, Millis};

pub use things::shelter;

/// What the heater is sized to hold under plastic, °C: clear of the freezing of tender leaves.
/// Chosen here.
const HOLD_CELSIUS: f64 = 2.0;

/// Mornings whose low is still asked for, days back.
const ASKED_BACK: i32 = 3;

/// The night ahead, for the whole holding.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct TonightBook {
    /// The day whose evening it is.
    pub day: Day,
    /// The sun that day, the hill's shadow included.
    pub sun: SunTimes,
    /// When the evening is best read: two hours after sunset.
    pub read_at: Option<Millis>,
    /// One for each thermometer that was read; the whole holding first. Empty until someone noted
    /// this evening.
    pub sensors: Vec<SensorTonight>,
    /// What the cold may harm, surest first.
    pub risks: Vec<Risk>,
    /// What to do, in order of time.
    pub chores: Vec<ChoreTold>,
    /// Heat for each tunnel whose size is known.
    pub heat: Vec<HeatTold>,
    /// Evenings that were noted and whose low was not.
    pub ask_low: Vec<AskLow>,
    /// Nights with evening and low, of all thermometers.
    pub logged: usize,
}

/// The night by one thermometer.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct SensorTonight {
    /// Where it hangs; the whole holding when nobody said.
    pub place: Option<PlaceId>,
    /// In words.
    pub name: String,
    /// What comes of it.
    pub night: Option<cold::Tonight>,
    /// Why nothing comes of it, and what to give.
    pub problem: Option<String>,
}

/// A chore and whether it is done.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct ChoreTold {
    /// What to do.
    #[serde(flatten)]
    pub chore: Chore,
    /// Ticked off.
    pub done: bool,
    /// By whom.
    pub by: Option<String>,
}

/// Heat for one tunnel.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct HeatTold {
    /// Which.
    pub place: PlaceId,
    /// In words.
    pub name: String,
    /// How much.
    pub heat: Option<Heat>,
    /// Why not, and what to give.
    pub problem: Option<String>,
}

/// A night whose low is to be noted.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct AskLow {
    /// The day whose evening began it.
    pub day: Day,
    /// Where.
    pub place: Option<PlaceId>,
    /// In words.
    pub name: String,
}

/// Why there is no tonight.
#[derive(Clone, Debug, PartialEq, Error)]
pub enum NoTonight {
    /// The site was never said.
    #[error("where does the holding lie? sunset depends on it: set the site under Tonight")]
    NoSite,
    /// It was said wrongly.
    #[error("{0}: set the site under Tonight")]
    Site(#[from] cold::SiteError),
}

/// The site as the trade takes it.
///
/// # Errors
/// When it was not said, or cannot be.
pub fn site(book: &Book) -> Result<Site, NoTonight> {
    let said = &book.nights.site;
    let (Some(latitude), Some(longitude)) = (said.latitude_udeg.get(), said.longitude_udeg.get())
    else {
        return Err(NoTonight::NoSite);
    };
    let held = |udeg: i64| i32::try_from(udeg).unwrap_or(i32::MAX);
    let minutes = |minutes: Option<&i64>| {
        u16::try_from(minutes.copied().unwrap_or(0).max(0)).unwrap_or(u16::MAX)
    };
    let height = book.holding.altitude.get().copied().unwrap_or_default();
    let site = Site::new(held(*latitude), held(*longitude))?.at_height(height);
    Ok(site.shaded(Shadow {
        morning_minutes: minutes(said.shadow_morning_minutes.get()),
        evening_minutes: minutes(said.shadow_evening_minutes.get()),
    })?)
}

/// The night ahead; before sunrise it is still the night that runs.
///
/// # Errors
/// Without a site nothing can be said, not even when to look.
pub fn tonight(book: &Book, today: Today, now: Millis) -> Result<TonightBook, NoTonight> {
    let site = site(book)?;
    let day = evening_day(&site, today, now);
    let sun = cold::sun(&site, day, today.offset_minutes);
    let sensors = sensors(book, &site, day, today);
    let night_of = |place: PlaceId| {
        let own = sensors.iter().find(|sensor| sensor.place == Some(place));
        let whole = || sensors.iter().find(|sensor| sensor.place.is_none());
        own.and_then(|own| own.night.as_ref()).or_else(|| whole()?.night.as_ref())
    };
    let whole = sensors.iter().find_map(|sensor| sensor.night.as_ref());
    let mut risks = Vec::new();
    let mut chores: Vec<Chore> = Vec::new();
    let closables = things::closables(book, day);
    for (night, of) in things::by_night(book, today, day, &night_of, whole) {
        let mut told = at_risk(&of, night);
        for chore in cold::chores(night, &told, &closables) {
            if !chores.iter().any(|known| known.key == chore.key) {
                chores.push(chore);
            }
        }
        risks.append(&mut told);
    }
    risks.sort_by_key(|risk| risk.level);
    chores.sort_by_key(|chore| (chore.at, chore.kind));
    Ok(TonightBook {
        day,
        read_at: sun.set_here.map(|at| at.plus(2 * HOUR_MS)),
        sun,
        heat: heat(book, whole.map(|night| night.best.from)),
        ask_low: ask_low(book, day),
        logged: logged::all(book, &site, today).len(),
        chores: chores.into_iter().map(|chore| told(book, chore)).collect(),
        risks,
        sensors,
    })
}

/// The chores of tonight that are not done, for the calendar.
pub fn chores(book: &Book, today: Today, now: Millis) -> Vec<Chore> {
    let of = |tonight: TonightBook| tonight.chores.into_iter().filter(|told| !told.done);
    tonight(book, today, now)
        .map_or_else(|_| Vec::new(), |tonight| of(tonight).map(|told| told.chore).collect())
}

fn evening_day(site: &Site, today: Today, now: Millis) -> Day {
    let rise = cold::sun(site, today.day, today.offset_minutes).rise_here;
    let morning = rise.unwrap_or_else(|| today.start().plus(6 * HOUR_MS));
    if now < morning { today.day.plus(-1) } else { today.day }
}

fn sensors(book: &Book, site: &Site, day: Day, today: Today) -> Vec<SensorTonight> {
    let mut places: Vec<Option<PlaceId>> = book
        .nights
        .evenings
        .values()
        .filter(|note| note.fact.day == day)
        .map(|note| note.fact.place)
        .collect();
    places.sort_unstable();
    places.dedup();
    let of = |place: Option<PlaceId>| {
        let noted = book.nights.evening(day, place)?;
        let (night, problem) = match cold::tonight(&logged::evening(book, site, noted, today)) {
            Ok(night) => (Some(night), None),
            Err(why) => (None, Some(why.to_string())),
        };
        Some(SensorTonight { place, name: name(book, place), night, problem })
    };
    places.into_iter().filter_map(of).collect()
}

fn name(book: &Book, place: Option<PlaceId>) -> String {
    place.map_or_else(|| "the holding".to_owned(), |place| book.place_name(place).to_owned())
}

fn told(book: &Book, chore: Chore) -> ChoreTold {
    let tick = book.kitchen.ticked(&chore.key).filter(|tick| tick.done);
    ChoreTold {
        done: tick.is_some(),
        by: tick.map(|tick| book.person_name(tick.person).to_owned()),
        chore,
    }
}

fn heat(book: &Book, outside: Option<f64>) -> Vec<HeatTold> {
    let Some(outside) = outside else { return Vec::new() };
    let metres = |mm: Option<&i64>| mm.map(|mm| *mm as f64 / 1000.0);
    let of = |(place, cover): (&PlaceId, &crate::book::nights::Cover)| {
        if cover.cover.get().map(String::as_str) != Some("tunnel") {
            return None;
        }
        let tunnel = Tunnel {
            length_m: metres(cover.length_mm.get())?,
            width_m: metres(cover.width_mm.get())?,
            height_m: metres(cover.height_mm.get()),
        };
        let skin = if cover.layers.get().is_some_and(|n| *n >= 2) { "double" } else { "single" };
        let (heat, problem) = match heater(&tunnel, skin, HOLD_CELSIUS, outside) {
            Ok(heat) => (Some(heat), None),
            Err(why) => (None, Some(why.to_string())),
        };
        let name = book.place_name(*place).to_owned();
        Some(HeatTold { place: *place, name, heat, problem })
    };
    book.nights.covers.iter().filter_map(of).collect()
}

fn ask_low(book: &Book, day: Day) -> Vec<AskLow> {
    let notes = book.nights.evenings.values().map(|note| &note.fact);
    let mut asked: Vec<(Day, Option<PlaceId>)> = notes
        .filter(|note| (day.plus(-ASKED_BACK)..day).contains(&note.day))
        .filter(|note| book.nights.low(note.day, note.place).is_none())
        .map(|note| (note.day, note.place))
        .collect();
    asked.sort_unstable();
    asked.dedup();
    let ask = |(day, place)| AskLow { day, place, name: name(book, place) };
    asked.into_iter().rev().map(ask).collect()
}

/// Height of a thermometer, as the trade takes it.
fn sensor_height(note: &EveningNoted) -> Option<u32> {
    let mm = note.sensor_height_mm.and_then(|mm| u32::try_from(mm).ok());
    mm.filter(|mm| *mm <= 20 * SENSOR_HEIGHT_MM)
}

#[cfg(test)]
mod tests;
