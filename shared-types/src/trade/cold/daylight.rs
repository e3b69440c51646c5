//! Sunrise, sunset and the night between.

use serde::{Deserialize, Serialize};

use super::site::Site;
use super::sun::{HORIZON_DEGREES, altitude};
use crate::units::{DAY_MS, Day, HOUR_MS, MINUTE_MS, Millis};

/// How far apart the sun is looked at before a crossing is narrowed down. Shorter crossings are
/// found by the turning point between three looks.
const STEP_MS: i64 = 10 * MINUTE_MS;

/// How closely a crossing is narrowed down.
const CLOSE_MS: i64 = 100;

/// Sun over one local day. Instants are UTC; none where the sun does not cross the horizon.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct SunTimes {
    /// The local civil day.
    pub day: Day,
    /// First sunrise of that day, on a plain.
    pub rise: Option<Millis>,
    /// Last sunset of that day, on a plain.
    pub set: Option<Millis>,
    /// Sunrise with the hill's shadow.
    pub rise_here: Option<Millis>,
    /// Sunset with the hill's shadow.
    pub set_here: Option<Millis>,
    /// Whether there is day and night at all.
    pub light: Light,
}

/// Whether the sun crosses the horizon on a day.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Light {
    /// It rises, or sets, or both.
    RisesAndSets,
    /// It stays up.
    PolarDay,
    /// It stays down.
    PolarNight,
}

/// The night after a day: from the sunset after that day's noon to the next sunrise, with the
/// hill's shadow. Sunset may fall after midnight in a northern summer.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct Night {
    /// Sunset at the place.
    pub sunset: Millis,
    /// Next sunrise at the place.
    pub sunrise: Millis,
}

impl Night {
    /// Hours from sunset to sunrise: the `n` of the trend through the night.
    pub fn hours(&self) -> f64 {
        self.sunrise.since(self.sunset) as f64 / HOUR_MS as f64
    }

    /// Hours after sunset of a moment.
    pub fn hours_after_sunset(&self, at: Millis) -> f64 {
        at.since(self.sunset) as f64 / HOUR_MS as f64
    }

    /// The moment `hours` after sunset.
    pub fn moment(&self, hours: f64) -> Millis {
        self.sunset.plus(libm::round(hours * HOUR_MS as f64) as i64)
    }
}

/// Sunrise and sunset of a local civil day, for a clock `offset_minutes` ahead of UTC.
///
/// The day is looked through as a whole, so nothing depends on which UTC day an event falls on:
/// west of the date line, east of it and beyond the polar circles are no special cases. On a day on
/// which the clock changes give the offset that holds at noon.
pub fn sun(site: &Site, day: Day, offset_minutes: i32) -> SunTimes {
    let start = local_midnight(day, offset_minutes);
    let crossings = crossings(site, start, start.plus(DAY_MS));
    let of = |rising| crossings.iter().filter(move |c| c.rising == rising).map(|c| c.at);
    let (rise, set) = (of(true).next(), of(false).next_back());
    let light = match crossings.first() {
        Some(_) => Light::RisesAndSets,
        None => stays(site, start.plus(DAY_MS / 2)),
    };
    SunTimes {
        day,
        rise,
        set,
        rise_here: rise.map(|at| later(site, at)),
        set_here: set.map(|at| earlier(site, at)),
        light,
    }
}

/// The night that follows a local civil day.
///
/// # Errors
/// [`Light::PolarDay`] or [`Light::PolarNight`] when the sun does not set, or does not come back,
/// within a day and a half.
pub fn night(site: &Site, day: Day, offset_minutes: i32) -> Result<Night, Light> {
    // The sun's own noon, not the clock's: a clock may be hours off the sun.
    let sun_noon = day.start().plus(DAY_MS / 2 - (site.longitude() * 240_000.0) as i64);
    let clock_noon = local_midnight(day, offset_minutes).plus(DAY_MS / 2);
    let days_off = libm::round(clock_noon.since(sun_noon) as f64 / DAY_MS as f64) as i64;
    let noon = sun_noon.plus(days_off * DAY_MS);
    let crossings = crossings(site, noon, noon.plus(DAY_MS + DAY_MS / 2));
    let set = crossings.iter().position(|c| !c.rising && c.at < noon.plus(DAY_MS));
    let Some(set) = set else { return Err(stays(site, noon)) };
    let sunset = earlier(site, crossings[set].at);
    let rise = crossings[set..].iter().find(|c| c.rising);
    let rise = rise.ok_or_else(|| stays(site, noon.plus(DAY_MS)))?;
    Ok(Night { sunset, sunrise: later(site, rise.at) })
}

fn local_midnight(day: Day, offset_minutes: i32) -> Millis {
    day.start().plus(-i64::from(offset_minutes) * MINUTE_MS)
}

fn later(site: &Site, at: Millis) -> Millis {
    at.plus(i64::from(site.shadow.morning_minutes) * MINUTE_MS)
}

fn earlier(site: &Site, at: Millis) -> Millis {
    at.plus(-i64::from(site.shadow.evening_minutes) * MINUTE_MS)
}

fn stays(site: &Site, at: Millis) -> Light {
    if height(site, at) > 0.0 { Light::PolarDay } else { Light::PolarNight }
}

/// Height of the sun above the altitude at which it rises and sets.
fn height(site: &Site, at: Millis) -> f64 {
    altitude(site, at) - HORIZON_DEGREES
}

#[derive(Clone, Copy, Debug)]
struct Crossing {
    at: Millis,
    rising: bool,
}

/// All crossings of the horizon from `start` on and before `end`, in order.
fn crossings(site: &Site, start: Millis, end: Millis) -> Vec<Crossing> {
    let mut found = Vec::new();
    let mut before = start.plus(-STEP_MS);
    let mut here = start;
    let (mut low, mut mid) = (height(site, before), height(site, here));
    while here < end {
        let next = here.plus(STEP_MS);
        let high = height(site, next);
        // A turning point lies between three looks of one side: the sun may just touch.
        let touches = (mid < 0.0 && mid >= low && mid >= high && low < 0.0 && high < 0.0)
            || (mid > 0.0 && mid <= low && mid <= high && low > 0.0 && high > 0.0);
        if touches {
            let turn = turning_point(site, before, next, mid < 0.0);
            if (height(site, turn) > 0.0) != (mid > 0.0) {
                found.push(narrow(site, before, turn));
                found.push(narrow(site, turn, next));
            }
        }
        if (mid > 0.0) != (high > 0.0) {
            found.push(narrow(site, here, next));
        }
        (before, here, low, mid) = (here, next, mid, high);
    }
    found.retain(|crossing| start <= crossing.at && crossing.at < end);
    found.sort_by_key(|crossing| crossing.at);
    found.dedup_by_key(|crossing| crossing.at);
    found
}

/// Halves the stretch between two moments on either side of the horizon.
fn narrow(site: &Site, mut from: Millis, mut to: Millis) -> Crossing {
    let rising = height(site, to) > 0.0;
    while to.since(from) > CLOSE_MS {
        let middle = from.plus(to.since(from) / 2);
        if (height(site, middle) > 0.0) == rising { to = middle } else { from = middle }
    }
    Crossing { at: to, rising }
}

/// The highest (or lowest) moment between two, by thirds.
fn turning_point(site: &Site, mut from: Millis, mut to: Millis, highest: bool) -> Millis {
    while to.since(from) > CLOSE_MS {
        let third = to.since(from) / 3;
        let (a, b) = (from.plus(third), to.plus(-third));
        if (height(site, a) < height(site, b)) == highest { from = a } else { to = b }
    }
    from.plus(to.since(from) / 2)
}
