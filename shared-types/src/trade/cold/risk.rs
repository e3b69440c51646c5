//! Who is at risk tonight: what grows, and what is picked and stands in the cold.

use serde::{Deserialize, Serialize};

use super::adjust::{Credit, cover, covered, height};
use super::evening::Tonight;
use super::hardiness::{Threshold, growing, picked, plant_height_mm};
use super::table::Cover;
use super::tonight::hundredths;
use super::trend::{Crossing, Trend};
use crate::ids::CropId;
use crate::trade::stores::{Waits, waits};

/// Something the cold may harm.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct Thing {
    /// Its key, handed back and used in the keys of chores.
    pub id: String,
    /// Its name on a screen: "Pepper, bed 3".
    pub label: String,
    /// The crop.
    pub crop: CropId,
    /// How it stands.
    pub stands: Stands,
    /// Ids of covers that are over it already, a closed tunnel among them.
    pub covers: Vec<String>,
    /// Ids of covers that could be put over it tonight.
    pub at_hand: Vec<String>,
}

/// How a thing stands.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Stands {
    /// It grows, so high (millimetres); the table's height when nobody said.
    Growing {
        /// Height of the plants, millimetres.
        #[serde(default, skip_serializing_if = "Option::is_none")]
        height_mm: Option<u32>,
    },
    /// Picked, out in the open or on the ground.
    Open,
    /// Picked, under a roof without walls.
    Porch,
    /// Picked, under the plastic of a tunnel.
    Tunnel,
    /// Picked, in an unheated shed.
    Shed,
    /// Picked, in a room that does not freeze.
    Indoors,
}

impl Stands {
    /// In words.
    pub const fn words(self) -> &'static str {
        match self {
            Self::Growing { .. } => "growing",
            Self::Open => "picked, in the open",
            Self::Porch => "picked, on a porch",
            Self::Tunnel => "picked, under plastic",
            Self::Shed => "picked, in a shed",
            Self::Indoors => "picked, indoors",
        }
    }
}

/// How sure the harm is.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Level {
    /// The expected low harms it.
    Expected,
    /// The cold end of the range harms it.
    Possible,
    /// Neither does.
    Safe,
}

/// A low where the thing stands, °C.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
pub struct LowHere {
    /// Expected, with the cautious end of each cover.
    pub low: f64,
    /// Cold end.
    pub from: f64,
    /// Warm end.
    pub to: f64,
}

/// A thing's risk.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct Risk {
    /// The thing.
    pub thing: Thing,
    /// As it stands now.
    pub level: Level,
    /// With what is at hand put over it; the same as `level` when nothing is.
    pub level_covered: Level,
    /// The low there.
    pub here: LowHere,
    /// The low there with what is at hand.
    pub here_covered: LowHere,
    /// What gives the alarm: the warmest of its thresholds.
    pub threshold: Option<Threshold>,
    /// Its other thresholds: other sources, other parts, chilling.
    pub others: Vec<Threshold>,
    /// When its threshold is crossed at the cold end of the range.
    pub crossing: Option<Crossing>,
    /// Below its chilling limit tonight.
    pub chills: bool,
    /// How it waits outside, where a source says.
    pub waits: Option<Waits>,
    /// Why, in words.
    pub why: String,
    /// What was taken off and added on the way from the sensor.
    pub credits: Vec<Credit>,
}

/// The risk of each thing tonight, the surest and tenderest first.
///
/// Things indoors are safe and come last. An unknown crop has no threshold and is told as such.
pub fn at_risk(things: &[Thing], tonight: &Tonight) -> Vec<Risk> {
    let mut risks: Vec<Risk> = things.iter().map(|thing| risk(thing, tonight)).collect();
    let warmest = |risk: &Risk| risk.threshold.as_ref().map_or(f64::NEG_INFINITY, |t| t.celsius);
    risks.sort_by(|a, b| a.level.cmp(&b.level).then(warmest(b).total_cmp(&warmest(a))));
    risks
}

fn risk(thing: &Thing, tonight: &Tonight) -> Risk {
    let grows = matches!(thing.stands, Stands::Growing { .. });
    let mut thresholds = if grows { growing(&thing.crop) } else { picked(&thing.crop) };
    let frost = thresholds.iter().position(|threshold| !threshold.chilling);
    let threshold = frost.map(|first| thresholds.remove(first));

    let over = over(thing);
    let all: Vec<&Cover> = over.iter().copied().chain(by_id(&thing.at_hand)).collect();
    let height = height(tonight.sensor_height_mm, thing_height_mm(thing));
    let here = low_here(tonight, &height, &covered(&over));
    let here_covered = low_here(tonight, &height, &covered(&all));
    let indoors = thing.stands == Stands::Indoors;
    let level = |here: &LowHere| match &threshold {
        Some(threshold) if !indoors && here.low <= threshold.celsius => Level::Expected,
        Some(threshold) if !indoors && here.from <= threshold.celsius => Level::Possible,
        _ => Level::Safe,
    };
    let (level, level_covered) = (level(&here), level(&here_covered));
    let crossing = threshold.as_ref().filter(|_| level != Level::Safe).and_then(|threshold| {
        let trend = tonight.coldest_trend?;
        let shift = here.from - tonight.best.from;
        Trend { evening: trend.evening + shift, low: trend.low + shift, ..trend }
            .crossing(threshold.celsius)
            .into()
    });
    let chill = thresholds.iter().find(|threshold| threshold.chilling);
    let chills = !indoors && chill.is_some_and(|chill| here.low < chill.celsius);
    Risk {
        why: why(thing, level, &here, threshold.as_ref()),
        credits: vec![height, covered(&over), covered(&all)],
        waits: waits(&thing.crop).filter(|_| grows).cloned(),
        thing: thing.clone(),
        level,
        level_covered,
        here,
        here_covered,
        threshold,
        others: thresholds,
        crossing,
        chills,
    }
}

/// Covers by id; an unknown id credits nothing.
fn by_id(ids: &[String]) -> Vec<&'static Cover> {
    ids.iter().filter_map(|id| cover(id)).collect()
}

/// What is over it already; produce under the plastic of a tunnel has the tunnel.
fn over(thing: &Thing) -> Vec<&'static Cover> {
    let mut over = by_id(&thing.covers);
    if thing.stands == Stands::Tunnel && !over.iter().any(|cover| cover.id == "tunnel") {
        over.extend(cover("tunnel"));
    }
    over
}

fn thing_height_mm(thing: &Thing) -> u32 {
    match thing.stands {
        Stands::Growing { height_mm } => height_mm.unwrap_or_else(|| plant_height_mm(&thing.crop)),
        // A bin on the ground, a squash on a step.
        _ => 300,
    }
}

fn low_here(tonight: &Tonight, height: &Credit, cover: &Credit) -> LowHere {
    let best = &tonight.best;
    let middle = f64::midpoint(height.least, height.most);
    LowHere {
        low: hundredths(best.low + middle + cover.least),
        from: hundredths(best.from + height.least + cover.least),
        to: hundredths(best.to + height.most + cover.most),
    }
}

fn why(thing: &Thing, level: Level, here: &LowHere, threshold: Option<&Threshold>) -> String {
    let Some(threshold) = threshold else {
        return format!(
            "no hardiness or freezing point is known of {}: judge it yourself",
            thing.crop
        );
    };
    let at = format!("{} at {:.1} °C", threshold.words, threshold.celsius);
    match level {
        _ if thing.stands == Stands::Indoors => "stands indoors".to_owned(),
        Level::Expected => format!("{at}; {:.1} °C is expected there", here.low),
        Level::Possible => {
            format!("{at}; {:.1} °C is expected there, {:.1} °C is possible", here.low, here.from)
        }
        Level::Safe => format!("{at}; no colder than {:.1} °C is likely there", here.from),
    }
}
