//! From the thermometer to the plant: height, tunnel, covers.
//!
//! Every credit is a range and the cautious end is the one alarms go by. Nothing is credited that
//! no source allows.

use serde::{Deserialize, Serialize};

use super::table::{Cover, tables};
use crate::trade::provenance::{Mark, Said};

/// A difference in °C as a range, with its reason.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct Credit {
    /// Coldest reading of the evidence: alarms go by this. Below zero for colder.
    pub least: f64,
    /// Warmest.
    pub most: f64,
    /// Why, in words.
    pub why: String,
    /// Id of the source.
    pub source: String,
    /// How sure.
    pub mark: Mark,
}

/// Height of a sensor whose height nobody noted, millimetres: a thermometer on a post. Chosen here,
/// on the side that takes the plants for colder.
pub const SENSOR_HEIGHT_MM: u32 = 1_500;

/// How plants differ from a sensor because of their height, on a clear calm night.
///
/// Near the ground it is 2 to 4 °F colder than four feet up (V); between heights the share of those
/// four feet is taken (D). For plants higher than the sensor nothing is credited.
pub fn height(sensor_mm: Option<u32>, plant_mm: u32) -> Credit {
    let sensor = sensor_mm.unwrap_or(SENSOR_HEIGHT_MM);
    let table = &tables().height;
    let over = f64::from(table.over_millimetres.value);
    let share = (f64::from(sensor.saturating_sub(plant_mm)) / over).min(1.0);
    let [least, most] = table.fall_fahrenheit.value.map(|fall| fall * 5.0 / 9.0 * share);
    let noted = if sensor_mm.is_some() { "" } else { " (height not noted, taken as 1.5 m)" };
    let why = if share > 0.0 {
        format!(
            "the plants at {:.1} m are {least:.1} to {most:.1} °C colder than the sensor at \
             {:.1} m{noted}",
            f64::from(plant_mm) / 1000.0,
            f64::from(sensor) / 1000.0
        )
    } else {
        format!("the sensor is no higher than the plants{noted}: nothing is added or taken off")
    };
    // `0.0 -` keeps a plain zero where nothing is taken off.
    Credit {
        least: 0.0 - most,
        most: 0.0 - least,
        why,
        source: table.fall_fahrenheit.source.clone(),
        mark: if share > 0.0 && share < 1.0 { Mark::D } else { table.fall_fahrenheit.mark },
    }
}

/// All covers, lightest credit first within each kind.
pub fn covers() -> &'static [Cover] {
    &tables().covers
}

/// The cover of that key.
pub fn cover(id: &str) -> Option<&'static Cover> {
    covers().iter().find(|cover| cover.id == id)
}

/// What a tunnel and covers over one another hold, closed before sunset.
///
/// Gains of layers do not simply add: of the cautious ends the best single one counts, and the
/// warm end is capped at the most that FAO gives for one cover. Nothing over the plants is nothing.
pub fn covered(layers: &[&Cover]) -> Credit {
    let cap = &tables().cover_cap_celsius;
    let gains = layers.iter().map(|cover| cover.gain_celsius());
    let (least, most) = gains.fold((0.0_f64, 0.0_f64), |(least, most), (low, high)| {
        (least.max(low), (most + high).min(cap.value))
    });
    let (why, source, mark) = match layers {
        [] => ("nothing over them".to_owned(), "lugbook".to_owned(), Mark::D),
        [one] => (
            format!("{}: {least:.1} to {most:.1} °C", lower(&one.name)),
            one.source.clone(),
            one.mark,
        ),
        several => {
            let names: Vec<String> = several.iter().map(|cover| lower(&cover.name)).collect();
            let why = format!(
                "{}: {least:.1} to {most:.1} °C together, since layers do not simply add",
                names.join("; ")
            );
            (why, cap.source.clone(), Mark::D)
        }
    };
    Credit { least, most, why, source, mark }
}

/// What to say wherever a cover is counted on.
pub fn cover_cautions() -> &'static [Said] {
    &tables().cover_cautions
}

fn lower(name: &str) -> String {
    let mut letters = name.chars();
    letters.next().map_or_else(String::new, |first| first.to_lowercase().chain(letters).collect())
}
