//! What cold a crop stands, by source; where sources conflict all are kept and the cautious one
//! gives the alarm.

use serde::{Deserialize, Serialize};

use super::table::tables;
use crate::ids::CropId;
use crate::trade::provenance::Mark;

/// The freezing point of a crop's produce.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct FreezingPoint {
    /// The crop.
    pub crop: CropId,
    /// Highest freezing point, °C.
    pub celsius: f64,
    /// Of which state or part, where the source says.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub what: Option<String>,
    /// Id of the source.
    pub source: String,
    /// How sure.
    pub mark: Mark,
}

/// A class of hardiness of growing plants, as one source draws it.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Hardiness {
    /// Its key.
    pub id: String,
    /// Harm begins at or below this, °C.
    pub harmed_from_celsius: f64,
    /// As the source says it.
    pub words: String,
    /// Id of the source.
    pub source: String,
    /// How sure.
    pub mark: Mark,
    /// Slow chilling, not frost: told, but no alarm for one night.
    #[serde(default)]
    pub chilling: bool,
    /// The crops in it.
    pub crops: Vec<CropId>,
    /// What a reader should know before relying on it.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub note: Option<String>,
}

/// A temperature at which something is harmed.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct Threshold {
    /// Harm begins at or below this, °C.
    pub celsius: f64,
    /// What is harmed and how, in words.
    pub words: String,
    /// Id of the source.
    pub source: String,
    /// How sure.
    pub mark: Mark,
    /// Slow chilling, not frost.
    pub chilling: bool,
}

/// All freezing points of a crop, warmest first.
pub fn freezing_points(crop: &CropId) -> Vec<&'static FreezingPoint> {
    let mut all: Vec<_> = tables().freezing.iter().filter(|row| row.crop == *crop).collect();
    all.sort_by(|a, b| b.celsius.total_cmp(&a.celsius));
    all
}

/// The warmest of a crop's freezing points: the cautious one.
pub fn freezing_point(crop: &CropId) -> Option<&'static FreezingPoint> {
    freezing_points(crop).first().copied()
}

/// All classes a crop stands in, most tender first.
pub fn hardiness(crop: &CropId) -> Vec<&'static Hardiness> {
    let mut all: Vec<_> =
        tables().hardiness_classes.iter().filter(|class| class.crops.contains(crop)).collect();
    all.sort_by(|a, b| b.harmed_from_celsius.total_cmp(&a.harmed_from_celsius));
    all
}

/// What harms a crop that grows: its plants, and the fruit on tender ones. Warmest first, chilling
/// last; the first is the alarm's.
pub fn growing(crop: &CropId) -> Vec<Threshold> {
    let classes = hardiness(crop);
    let tender = classes.iter().any(|class| !class.chilling && class.harmed_from_celsius >= 0.0);
    let mut all: Vec<Threshold> = classes
        .into_iter()
        .map(|class| Threshold {
            celsius: class.harmed_from_celsius,
            words: format!("plants: {}", class.words),
            source: class.source.clone(),
            mark: class.mark,
            chilling: class.chilling,
        })
        .collect();
    // A hardy crop's leaves freeze and thaw unharmed; its freezing point is no alarm.
    if tender {
        all.extend(freezing_points(crop).into_iter().map(freezes));
    }
    order(all)
}

/// What harms a crop already picked: freezing, and chilling.
pub fn picked(crop: &CropId) -> Vec<Threshold> {
    let mut all: Vec<Threshold> = freezing_points(crop).into_iter().map(freezes).collect();
    if let Some(kind) = crate::trade::stores::kind(crop, None)
        && let Some(celsius) = kind.chills_below_celsius
    {
        all.push(Threshold {
            celsius,
            words: "chilling adds up below this".to_owned(),
            source: kind.room_source.clone(),
            mark: kind.room_mark,
            chilling: true,
        });
    }
    order(all)
}

fn freezes(row: &FreezingPoint) -> Threshold {
    let what = row.what.as_deref().map_or(String::new(), |what| format!(" ({what})"));
    Threshold {
        celsius: row.celsius,
        words: format!("freezes{what}"),
        source: row.source.clone(),
        mark: row.mark,
        chilling: false,
    }
}

fn order(mut all: Vec<Threshold>) -> Vec<Threshold> {
    all.sort_by(|a, b| a.chilling.cmp(&b.chilling).then(b.celsius.total_cmp(&a.celsius)));
    all
}

/// Height of a crop's plants, millimetres: an assumption; near the ground where the table has none.
pub fn plant_height_mm(crop: &CropId) -> u32 {
    let row = tables().plant_heights.iter().find(|row| row.crop == *crop);
    row.map_or(300, |row| row.millimetres)
}
