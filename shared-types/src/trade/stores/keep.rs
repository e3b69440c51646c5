//! How long a lot keeps in the rooms it stood and stands in.
//!
//! ```text
//! used per day = f(T) / L        L the life in the best room: once for each end of its range
//! f(T) = 2^((T − Tbest)/10)      above the best room: respiration halves per 10 °C drop (V)
//!      = 1                       in it, or below it when cold does not harm
//!      = 2 towards the short end below the chilling limit (an assumption)
//! kept until Σ used = 1
//! ```

use serde::{Deserialize, Serialize};
use thiserror::Error;

use super::table::{Cure, Kind, Life, kind, tables};
use crate::ids::CropId;
use crate::trade::provenance::{Mark, Said};
use crate::trade::ripening::RoomClimate;
use crate::units::Day;

/// The farthest a keep-by date is looked for, days.
pub const MAX_KEEP_DAYS: i32 = 400;

/// A lot in store.
#[derive(Clone, Debug, PartialEq)]
pub struct Asked<'a> {
    /// The crop.
    pub crop: &'a CropId,
    /// A variety's name, or the key of a kind.
    pub variety: Option<&'a str>,
    /// The day it was picked.
    pub picked: Day,
    /// Where it stood and stands, as one climate with steps.
    pub room: &'a RoomClimate,
    /// Whether it was cured; none when nobody said, or it still cures.
    pub cured: Option<bool>,
    /// Days below its chilling limit before it came in: cold nights in the field, a night of some
    /// hours as its share of a day.
    pub chilled_before: f64,
}

/// The chilling clock.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
pub struct Chill {
    /// Below this, °C.
    pub below_celsius: f64,
    /// Days so far, in the field and in store.
    pub days: f64,
    /// It is running today.
    pub running: bool,
}

/// How long it keeps.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct KeepBy {
    /// The kind it was taken for.
    pub name: String,
    /// Eat by this day to be on the safe side.
    pub from: Day,
    /// It may keep until this day.
    pub to: Day,
    /// The share of the short end that is used up today, 0 to 1 and more.
    pub used: f64,
    /// Why, in words.
    pub why: String,
    /// The lives it rests on; several where sources conflict (the cautious ends were taken).
    pub lives: Vec<Life>,
    /// Cure or not.
    pub cure: Cure,
    /// The chilling clock, for what chilling harms.
    pub chill: Option<Chill>,
    /// What to do, and what to know.
    pub said: Vec<Said>,
}

/// Why there is no keep-by.
#[derive(Clone, Debug, PartialEq, Error)]
pub enum KeepError {
    /// Not in the table.
    #[error("nothing is known of storing `{0}`: it must be one of {known}", known = known().join(", "))]
    Crop(String),
    /// Picked in the future.
    #[error("it cannot have been picked on {picked}, after {today}")]
    Picked {
        /// As given.
        picked: Day,
        /// The day asked about.
        today: Day,
    },
    /// A clock that cannot be.
    #[error("{0} chilled days before storing is not possible: give 0 to 200")]
    Chilled(f64),
}

fn known() -> Vec<String> {
    let common = super::table::kinds().iter().filter(|kind| kind.kind.is_none());
    common.map(|kind| kind.crop.to_string()).collect()
}

/// How long a lot keeps, as of `today`; the room stays as it is last known.
///
/// # Errors
/// For a crop that is not in the table, or a day of picking after today.
pub fn keep_by(asked: &Asked, today: Day) -> Result<KeepBy, KeepError> {
    let kind =
        kind(asked.crop, asked.variety).ok_or_else(|| KeepError::Crop(asked.crop.to_string()))?;
    if asked.picked > today {
        return Err(KeepError::Picked { picked: asked.picked, today });
    }
    if !(0.0..=200.0).contains(&asked.chilled_before) {
        return Err(KeepError::Chilled(asked.chilled_before));
    }
    let rules = &tables().rules;
    let [least, most] = kind.life().map(f64::from);
    let mut short = least;
    let against = asked.cured.is_some_and(|cured| kind.cure.verdict.goes_against(cured));
    if against {
        short *= rules.uncured_short_end.value;
    }
    let damp = off_humidity(kind, asked.room);
    if damp.is_some() {
        short *= rules.humidity_short_end.value;
    }

    let counts = rules.chilled_day_counts.value;
    let chills = |day: Day| {
        kind.chills_below_celsius.is_some_and(|limit| asked.room.celsius_on(day) < limit)
    };
    let mut used = [asked.chilled_before * (counts - 1.0) / short, 0.0];
    let (mut from, mut to) = (None, None);
    let mut chilled = asked.chilled_before;
    let mut used_today = used[0];
    for n in 1..=MAX_KEEP_DAYS {
        let day = asked.picked.plus(n);
        let factor = warmth(kind, asked.room.celsius_on(day));
        let cold = if chills(day) { counts } else { 1.0 };
        used[0] += factor * cold / short;
        used[1] += factor / most;
        if chills(day) && day <= today {
            chilled += 1.0;
        }
        if day <= today {
            used_today = used[0];
        }
        // A day's rounding noise must not cost a day.
        if from.is_none() && used[0] >= 1.0 - 1e-9 {
            from = Some(day);
        }
        if to.is_none() && used[1] >= 1.0 - 1e-9 {
            to = Some(day);
        }
    }
    let end = asked.picked.plus(MAX_KEEP_DAYS);
    let (from, to) = (from.unwrap_or(end), to.unwrap_or(end));
    let chill = kind.chills_below_celsius.map(|below_celsius| Chill {
        below_celsius,
        days: libm::round(chilled * 100.0) / 100.0,
        running: chills(today),
    });
    Ok(KeepBy {
        name: kind.name.clone(),
        from,
        to: to.max(from),
        used: libm::round(used_today * 1000.0) / 1000.0,
        why: why(kind, asked, today, against),
        lives: kind.lives.clone(),
        cure: kind.cure.clone(),
        said: said(kind, asked, today, chill, damp, against),
        chill,
    })
}

/// How much faster a day uses it up than in the best room.
fn warmth(kind: &Kind, celsius: f64) -> f64 {
    let over = (celsius - kind.celsius[1]).max(0.0);
    libm::exp2(over / tables().rules.doubling_celsius.value)
}

/// A sentence when the room is measured, and too dry or too moist.
fn off_humidity(kind: &Kind, room: &RoomClimate) -> Option<String> {
    room.humidity?;
    let percent = room.humidity_percent();
    let slack = tables().rules.humidity_slack_percent.value;
    let [dry, moist] = kind.humidity;
    let wanted = format!("{dry:.0} to {moist:.0} % is best");
    if percent < dry - slack {
        Some(format!("At {percent:.0} % the room is dry for it: it shrivels; {wanted}."))
    } else if percent > moist + slack {
        Some(format!("At {percent:.0} % the room is moist for it: it rots; {wanted}."))
    } else {
        None
    }
}

fn why(kind: &Kind, asked: &Asked, today: Day, against: bool) -> String {
    let [least, most] = kind.life();
    let [cool, warm] = kind.celsius;
    let mut why = format!(
        "{}: {least} to {most} days at {cool} to {warm} °C{}",
        kind.name,
        if kind.sources_conflict() { " (sources differ; the cautious ends)" } else { "" }
    );
    let celsius = asked.room.celsius_on(today);
    if celsius > warm {
        why += &format!("; at {celsius:.1} °C it goes {:.1} times as fast", warmth(kind, celsius));
    }
    if against {
        why += "; the short end is halved, since it was not cured as it should be";
    }
    why
}

fn said(
    kind: &Kind,
    asked: &Asked,
    today: Day,
    chill: Option<Chill>,
    damp: Option<String>,
    against: bool,
) -> Vec<Said> {
    let mut all = Vec::new();
    let mut say = |text: String, source: &str, mark: Mark| {
        all.push(Said { text, source: source.to_owned(), mark });
    };
    let rules = &tables().rules;
    let celsius = asked.room.celsius_on(today);
    if let Some(freezing) = crate::trade::cold::freezing_point(&kind.crop)
        && celsius <= freezing.celsius
    {
        let class = kind.freezing_class.map_or("", |class| class.words());
        let text = format!(
            "At {celsius:.1} °C it freezes (from {:.1} °C): {class}. Move it to a warmer room.",
            freezing.celsius
        );
        say(text, &freezing.source, freezing.mark);
    }
    if let Some(chill) = chill.filter(|chill| chill.days > 0.0) {
        let text = format!(
            "Chilled for {:.1} days so far (below {:.0} °C){}. Chilling adds up: eat it sooner.",
            chill.days,
            chill.below_celsius,
            if chill.running { ", and it goes on: move it to a warmer room" } else { "" }
        );
        say(text, &kind.room_source, kind.room_mark);
    }
    if let Some(text) = damp {
        say(text, &kind.room_source, kind.room_mark);
    }
    if against {
        let text = match asked.cured {
            Some(true) => "It was cured although that harms this kind: look at it often.",
            _ => "It was not cured: look at it often, and eat it before what was.",
        };
        say(text.to_owned(), &rules.uncured_short_end.source, rules.uncured_short_end.mark);
    }
    all.extend(kind.said.iter().cloned());
    all
}
