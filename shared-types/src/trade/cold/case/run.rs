//! Reading a case, and answering it.

use serde::{Deserialize, Serialize};
use thiserror::Error;

use super::given::{Degrees, Unit, clock_minutes, metres, wind};
use crate::ids::CropId;
use crate::trade::cold::{
    Chore, Closable, Evening, EveningError, Heat, HeatError, LoggedNight, Moisture, Night, Risk,
    Shadow, Site, SiteError, Sky, Stands, Thing, Tonight, Tunnel, at_risk, chores, cover, covers,
    heater, night, tonight,
};
use crate::units::{Altitude, DAY_MS, Day, MINUTE_MS, Millis};

/// Most nights and things one case may have, so that a slip does not stop a phone.
const MAX_LIST: usize = 10_000;

/// A night to work out. See the module's page for its JSON.
#[derive(Clone, Debug, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Case {
    day: Day,
    latitude: f64,
    longitude: f64,
    height_m: Option<f64>,
    height_ft: Option<f64>,
    utc_offset_minutes: Option<i32>,
    hill_shadow: Option<CaseShadow>,
    #[serde(default)]
    unit: Unit,
    evening: Option<Degrees>,
    dew_point: Option<Degrees>,
    humidity: Option<f64>,
    wet_bulb: Option<Degrees>,
    read_at: Option<String>,
    hours_after_sunset: Option<f64>,
    sensor_height_m: Option<f64>,
    sensor_height_ft: Option<f64>,
    sky: Option<Sky>,
    wind_m_s: Option<f64>,
    wind_km_h: Option<f64>,
    wind_mph: Option<f64>,
    official_low: Option<Degrees>,
    #[serde(default)]
    nights: Vec<CaseNight>,
    #[serde(default)]
    things: Vec<CaseThing>,
    #[serde(default)]
    tunnels: Vec<Closable>,
    heater: Option<CaseHeater>,
}

#[derive(Clone, Copy, Debug, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
struct CaseShadow {
    #[serde(default)]
    morning_minutes: u16,
    #[serde(default)]
    evening_minutes: u16,
}

#[derive(Clone, Debug, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
struct CaseNight {
    day: Option<Day>,
    evening: Degrees,
    dew_point: Option<Degrees>,
    low: Degrees,
    official_low: Option<Degrees>,
    sky: Option<Sky>,
    wind_m_s: Option<f64>,
    wind_km_h: Option<f64>,
    wind_mph: Option<f64>,
    read_hours: Option<f64>,
}

#[derive(Clone, Debug, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
struct CaseThing {
    id: Option<String>,
    label: Option<String>,
    crop: CropId,
    #[serde(default = "growing")]
    stands: String,
    height_m: Option<f64>,
    height_ft: Option<f64>,
    #[serde(default)]
    covers: Vec<String>,
    #[serde(default)]
    at_hand: Vec<String>,
}

fn growing() -> String {
    "growing".to_owned()
}

#[derive(Clone, Debug, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
struct CaseHeater {
    length_m: Option<f64>,
    length_ft: Option<f64>,
    width_m: Option<f64>,
    width_ft: Option<f64>,
    height_m: Option<f64>,
    height_ft: Option<f64>,
    #[serde(default = "single")]
    skin: String,
    inside: Option<Degrees>,
    outside: Option<Degrees>,
}

fn single() -> String {
    "single".to_owned()
}

/// The answer to a case.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct Answer {
    /// The night.
    pub tonight: Tonight,
    /// Local times in words.
    pub clock: Clock,
    /// Who is at risk, surest first.
    pub at_risk: Vec<Risk>,
    /// What to do, in order of time.
    pub chores: Vec<CaseChore>,
    /// Heat for the tunnel, when it was asked for.
    pub heater: Option<Heat>,
}

/// Local times like `2026-10-09 18:42`.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct Clock {
    /// The clock's offset, minutes ahead of UTC.
    pub utc_offset_minutes: i32,
    /// The offset was taken from the longitude.
    pub offset_assumed: bool,
    /// Sunset at the place.
    pub sunset: Option<String>,
    /// When to read the evening: two hours after it.
    pub read_at: Option<String>,
    /// Sunrise at the place.
    pub sunrise: Option<String>,
}

/// A chore with its local time.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct CaseChore {
    /// The chore.
    #[serde(flatten)]
    pub chore: Chore,
    /// Its local time, like `2026-10-09 17:42`.
    pub clock: Option<String>,
}

/// Why a case cannot be worked out, and what to write instead.
#[derive(Clone, Debug, PartialEq, Error)]
pub enum CaseError {
    /// Not JSON, or not in this shape.
    #[error("the case does not read: {0}")]
    NotACase(String),
    /// A value that cannot be.
    #[error("{0}")]
    Value(String),
    /// Not on earth.
    #[error(transparent)]
    Site(#[from] SiteError),
    /// Nothing to go by, or a number that cannot be.
    #[error(transparent)]
    Evening(#[from] EveningError),
    /// A heater that cannot be.
    #[error("heater: {0}")]
    Heater(#[from] HeatError),
}

impl Case {
    /// Reads a case.
    ///
    /// # Errors
    /// [`CaseError::NotACase`] with the line and what was expected.
    pub fn parse(text: &str) -> Result<Self, CaseError> {
        serde_json::from_str(text).map_err(|error| CaseError::NotACase(error.to_string()))
    }
}

/// Works a case out.
///
/// # Errors
/// The first thing wrong with it, in words for the person who wrote it.
pub fn run(case: &Case) -> Result<Answer, CaseError> {
    let site = site(case)?;
    let offset = case.utc_offset_minutes.unwrap_or_else(|| by_longitude(case.longitude));
    if !(-24 * 60..=24 * 60).contains(&offset) {
        return Err(CaseError::Value(format!(
            "a clock {offset} minutes from UTC is not possible: give -1440 to 1440"
        )));
    }
    if case.nights.len().max(case.things.len()) > MAX_LIST {
        return Err(CaseError::Value(format!("give at most {MAX_LIST} nights and things")));
    }
    let dark = night(&site, case.day, offset).ok();
    let told = tonight(&evening(case, site, offset, dark)?)?;
    let things: Vec<Thing> = case
        .things
        .iter()
        .enumerate()
        .map(|(i, given)| thing(i, given).map_err(CaseError::Value))
        .collect::<Result<_, _>>()?;
    let risks = at_risk(&things, &told);
    let heater = match &case.heater {
        Some(given) => Some(heat(given, case.unit, told.best.from)?),
        None => None,
    };
    let chores = chores(&told, &risks, &case.tunnels)
        .into_iter()
        .map(|chore| CaseChore { clock: chore.at.map(|at| local(at, offset)), chore })
        .collect();
    let clock = Clock {
        utc_offset_minutes: offset,
        offset_assumed: case.utc_offset_minutes.is_none(),
        sunset: dark.map(|night| local(night.sunset, offset)),
        read_at: dark.map(|night| local(night.moment(2.0), offset)),
        sunrise: dark.map(|night| local(night.sunrise, offset)),
    };
    Ok(Answer { tonight: told, clock, at_risk: risks, chores, heater })
}

fn site(case: &Case) -> Result<Site, CaseError> {
    let height = metres("the site's height", case.height_m, case.height_ft)
        .map_err(CaseError::Value)?
        .unwrap_or(0.0);
    if !(-500.0..=9_000.0).contains(&height) {
        return Err(CaseError::Value(format!(
            "a height of {height:.0} m is not a garden's: give -500 to 9000 m, or `height_ft`"
        )));
    }
    let tenths = libm::round(height * 10_000.0) as i64;
    let site = Site::from_degrees(case.latitude, case.longitude)?
        .at_height(Altitude::from_tenths_mm(tenths));
    match case.hill_shadow {
        Some(CaseShadow { morning_minutes, evening_minutes }) => {
            Ok(site.shaded(Shadow { morning_minutes, evening_minutes })?)
        }
        None => Ok(site),
    }
}

/// The whole hour that the longitude lies in.
fn by_longitude(longitude: f64) -> i32 {
    libm::round(longitude / 15.0) as i32 * 60
}

fn evening(
    case: &Case,
    site: Site,
    offset: i32,
    dark: Option<Night>,
) -> Result<Evening, CaseError> {
    let value = CaseError::Value;
    let celsius = |given: &Option<Degrees>| {
        given.as_ref().map(|given| given.celsius(case.unit)).transpose().map_err(value)
    };
    let moisture = match (&case.dew_point, case.humidity, &case.wet_bulb) {
        (None, None, None) => None,
        (Some(_), None, None) => celsius(&case.dew_point)?.map(Moisture::DewPoint),
        (None, Some(percent), None) => Some(Moisture::Humidity(percent)),
        (None, None, Some(_)) => celsius(&case.wet_bulb)?.map(Moisture::WetBulb),
        _ => {
            let text = "give the moisture once: `dew_point`, `humidity` or `wet_bulb`";
            return Err(value(text.to_owned()));
        }
    };
    let read_at = match (&case.read_at, case.hours_after_sunset) {
        (Some(_), Some(_)) => {
            let text = "say once when it was read: `read_at` or `hours_after_sunset`";
            return Err(value(text.to_owned()));
        }
        (Some(clock), None) => Some(read_at(case.day, offset, clock).map_err(value)?),
        (None, hours) => {
            if let Some(hours) = hours.filter(|hours| !(-12.0..=24.0).contains(hours)) {
                let text = format!("{hours} hours after sunset is not an evening: give -12 to 24");
                return Err(value(text));
            }
            hours.and_then(|hours| dark.map(|night| night.moment(hours)))
        }
    };
    let sensor = metres("the sensor's height", case.sensor_height_m, case.sensor_height_ft)
        .map_err(value)?;
    if let Some(height) = sensor.filter(|height| !(0.0..=100.0).contains(height)) {
        let text = format!("a sensor at {height} m is not possible: give 0 to 100 m above ground");
        return Err(value(text));
    }
    let nights = case.nights.iter().enumerate().map(|(i, given)| {
        logged(given, case.unit).map_err(|why| value(format!("night {}: {why}", i + 1)))
    });
    Ok(Evening {
        day: case.day,
        site,
        offset_minutes: offset,
        celsius: celsius(&case.evening)?,
        moisture,
        read_at,
        sensor_height_mm: sensor.map(|metres| libm::round(metres * 1000.0) as u32),
        sky: case.sky,
        wind_m_s: wind(case.wind_m_s, case.wind_km_h, case.wind_mph).map_err(value)?,
        official_low: celsius(&case.official_low)?,
        nights: nights.collect::<Result<_, _>>()?,
    })
}

/// A clock time belongs to the evening: before noon it is the next day's.
fn read_at(day: Day, offset: i32, clock: &str) -> Result<Millis, String> {
    let minutes = clock_minutes(clock)?;
    let late = if minutes < 12 * 60 { DAY_MS } else { 0 };
    Ok(day.start().plus((minutes - i64::from(offset)) * MINUTE_MS + late))
}

fn logged(given: &CaseNight, unit: Unit) -> Result<LoggedNight, String> {
    let celsius =
        |given: &Option<Degrees>| given.as_ref().map(|given| given.celsius(unit)).transpose();
    Ok(LoggedNight {
        day: given.day,
        evening: given.evening.celsius(unit)?,
        dew_point: celsius(&given.dew_point)?,
        low: given.low.celsius(unit)?,
        official_low: celsius(&given.official_low)?,
        sky: given.sky,
        wind_m_s: wind(given.wind_m_s, given.wind_km_h, given.wind_mph)?,
        read_hours: given.read_hours,
    })
}

fn thing(i: usize, given: &CaseThing) -> Result<Thing, String> {
    let name = given.label.clone().unwrap_or_else(|| format!("{} ({})", given.crop, i + 1));
    let height = metres("its height", given.height_m, given.height_ft)
        .map_err(|why| format!("{name}: {why}"))?;
    let height_mm = height.map(|metres| libm::round(metres.clamp(0.0, 20.0) * 1000.0) as u32);
    let stands = match given.stands.as_str() {
        "growing" => Stands::Growing { height_mm },
        "open" => Stands::Open,
        "porch" => Stands::Porch,
        "tunnel" => Stands::Tunnel,
        "shed" => Stands::Shed,
        "indoors" => Stands::Indoors,
        other => {
            return Err(format!(
                "{name}: `stands` cannot be `{other}`: it must be one of growing, open, porch, \
                 tunnel, shed, indoors"
            ));
        }
    };
    if let Some(wrong) = given.covers.iter().chain(&given.at_hand).find(|id| cover(id).is_none()) {
        let known: Vec<&str> = covers().iter().map(|cover| cover.id.as_str()).collect();
        let known = known.join(", ");
        return Err(format!("{name}: no cover `{wrong}`: it must be one of {known}"));
    }
    Ok(Thing {
        id: given.id.clone().unwrap_or_else(|| (i + 1).to_string()),
        label: name,
        crop: given.crop.clone(),
        stands,
        covers: given.covers.clone(),
        at_hand: given.at_hand.clone(),
    })
}

fn heat(given: &CaseHeater, unit: Unit, coldest: f64) -> Result<Heat, CaseError> {
    let length =
        |what: &str, metres_given, feet| metres(what, metres_given, feet).map_err(CaseError::Value);
    let missing = |what: &str| CaseError::Value(format!("the heater's tunnel needs {what}"));
    let tunnel = Tunnel {
        length_m: length("the tunnel's length", given.length_m, given.length_ft)?
            .ok_or_else(|| missing("`length_m` or `length_ft`"))?,
        width_m: length("the tunnel's width", given.width_m, given.width_ft)?
            .ok_or_else(|| missing("`width_m` or `width_ft`"))?,
        height_m: length("the tunnel's height", given.height_m, given.height_ft)?,
    };
    let celsius = |given: &Option<Degrees>, else_: f64| match given {
        Some(given) => given.celsius(unit).map_err(CaseError::Value),
        None => Ok(else_),
    };
    let (inside, outside) = (celsius(&given.inside, 0.0)?, celsius(&given.outside, coldest)?);
    Ok(heater(&tunnel, &given.skin, inside, outside)?)
}

/// A moment on the holding's clock.
fn local(at: Millis, offset_minutes: i32) -> String {
    let there = at.plus(i64::from(offset_minutes) * MINUTE_MS + MINUTE_MS / 2);
    let minutes = there.0.rem_euclid(DAY_MS) / MINUTE_MS;
    format!("{} {:02}:{:02}", Day::at(there, 0), minutes / 60, minutes % 60)
}
