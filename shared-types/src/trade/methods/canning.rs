//! Figures common to all jars, as they are read from `canning.json`.

use std::collections::BTreeMap;
use std::sync::LazyLock;

use serde::{Deserialize, Serialize};

use super::{Jar, Mark, Measure, Said, Sourced};
use crate::trade::provenance::embedded;
use crate::units::Altitude;

/// Bands of altitude a printed table has columns for.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Bands {
    /// Tops of the bands, feet.
    pub tops_feet: Vec<i64>,
    /// Ends at the last top; otherwise one more band is open above it.
    #[serde(default)]
    pub closed: bool,
    /// Id of the source.
    pub source: String,
    /// How sure.
    pub mark: Mark,
    /// What to know.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub note: Option<String>,
}

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct AcidRow {
    pub(super) what: String,
    pub(super) jar: Jar,
    pub(super) amount: f64,
    pub(super) unit: Measure,
    pub(super) source: String,
    pub(super) mark: Mark,
}

/// How many jars a home canner takes at once.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct LoadRow {
    /// The jar.
    pub jar: Jar,
    /// How many.
    pub jars: u32,
    /// Id of the source.
    pub source: String,
    /// How sure.
    pub mark: Mark,
}

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct JarRules {
    pub(super) half_pint_as_pint: Sourced<bool>,
    pub(super) pint_and_half_as_quart: Sourced<bool>,
    pub(super) nothing_larger: Sourced<String>,
}

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct Canning {
    pub(super) bands: BTreeMap<String, Bands>,
    pub(super) acid_per_jar: Vec<AcidRow>,
    pub(super) canner_load: Vec<LoadRow>,
    pub(super) jar_rules: JarRules,
    pub(super) acid_needed: Sourced<String>,
    pub(super) low_acid: Sourced<String>,
    pub(super) heat_up_minutes: Sourced<[u32; 2]>,
    pub(super) wait_minutes: Sourced<u32>,
    pub(super) pressure_heat_minutes: Sourced<[u32; 2]>,
    pub(super) pressure_vent_minutes: Sourced<u32>,
    pub(super) pressure_rise_minutes: Sourced<u32>,
    pub(super) pressure_cool_minutes: Sourced<[u32; 2]>,
    pub(super) cool_hours: Sourced<[u32; 2]>,
    pub(super) reprocess_within_hours: Sourced<u32>,
    pub(super) best_months: Sourced<u32>,
    pub(super) stale_months: Sourced<u32>,
    pub(super) sterile_below_minutes: Sourced<u32>,
    pub(super) sterile_boil_minutes: Sourced<u32>,
    pub(super) steam_canner_most_minutes: Sourced<u32>,
    pub(super) lowest_metres: Sourced<i64>,
    pub(super) highest_metres: Sourced<i64>,
    pub(super) open_band_doubted_above_feet: Sourced<i64>,
    pub(super) above_open_band: Vec<Said>,
    pub(super) at_boiling: Vec<Said>,
    pub(super) at_steam: Vec<Said>,
    pub(super) at_pressure: Vec<Said>,
    pub(super) at_dial: Vec<Said>,
    pub(super) at_filling: Vec<Said>,
    pub(super) after_every_jar: Vec<Said>,
}

static CANNING: LazyLock<Canning> =
    LazyLock::new(|| embedded("canning.json", include_str!("../../../data/canning.json")));

pub(super) fn canning() -> &'static Canning {
    &CANNING
}

/// The bands of that name: `four`, `three`, `dial`, `weighted`.
pub fn bands(name: &str) -> Option<&'static Bands> {
    CANNING.bands.get(name)
}

/// Canner loads as published.
pub fn canner_loads() -> &'static [LoadRow] {
    &CANNING.canner_load
}

/// How many jars of a size a home canner takes at once: 7 quarts or 9 pints. Nothing is published
/// for half-pints, so they count as pints; a pint-and-a-half as a quart.
pub fn load_jars(jar: Jar) -> u32 {
    let like = match jar {
        Jar::HalfPint | Jar::Pint => Jar::Pint,
        Jar::PintAndHalf | Jar::Quart | Jar::HalfGallon => Jar::Quart,
    };
    canner_loads().iter().find(|row| row.jar == like).map_or(0, |row| row.jars)
}

/// What to mind when jars are filled.
pub fn at_filling() -> &'static [Said] {
    &CANNING.at_filling
}

/// Hours a jar cools undisturbed before its seal is tested: least and most.
pub fn cooling_hours() -> &'static Sourced<[u32; 2]> {
    &CANNING.cool_hours
}

/// Hours within which a jar that did not seal is processed again, or chilled or frozen.
pub fn reprocess_within_hours() -> &'static Sourced<u32> {
    &CANNING.reprocess_within_hours
}

/// Months a jar is at its best.
pub fn best_months() -> &'static Sourced<u32> {
    &CANNING.best_months
}

/// Months after which a jar is called stale.
pub fn stale_months() -> &'static Sourced<u32> {
    &CANNING.stale_months
}

/// What holds for every jar: cooling, seals, and whose word comes first. Shown with each batch.
pub fn after_every_jar() -> &'static [Said] {
    &CANNING.after_every_jar
}

impl Bands {
    /// The band a height lies in, from 0; `None` above a closed table. A height above a band's top
    /// belongs to the next.
    pub fn index(&self, altitude: Altitude) -> Option<usize> {
        let above =
            self.tops_feet.iter().filter(|top| altitude > Altitude::from_feet(**top)).count();
        (!self.closed || above < self.tops_feet.len()).then_some(above)
    }

    /// How many columns a row of it has.
    pub fn columns(&self) -> usize {
        self.tops_feet.len() + usize::from(!self.closed)
    }

    /// A band in words, in feet and metres.
    pub fn words(&self, index: usize) -> String {
        let both = |feet: i64| format!("{feet} ft ({:.1} m)", Altitude::from_feet(feet).metres());
        match (index.checked_sub(1).map(|i| self.tops_feet[i]), self.tops_feet.get(index)) {
            (None, Some(top)) => format!("up to {}", both(*top)),
            (Some(bottom), Some(top)) => format!("above {} up to {}", both(bottom), both(*top)),
            (Some(bottom), None) => format!("above {}", both(bottom)),
            (None, None) => "at any height".to_owned(),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::trade::provenance::source;

    #[test]
    fn every_figure_has_a_source() {
        let c = canning();
        let mut ids: Vec<&str> = c.bands.values().map(|bands| bands.source.as_str()).collect();
        ids.extend(c.acid_per_jar.iter().map(|row| row.source.as_str()));
        ids.extend(c.canner_load.iter().map(|row| row.source.as_str()));
        let said = [
            &c.above_open_band,
            &c.at_boiling,
            &c.at_steam,
            &c.at_pressure,
            &c.at_dial,
            &c.at_filling,
            &c.after_every_jar,
        ];
        ids.extend(said.into_iter().flatten().map(|said| said.source.as_str()));
        ids.extend([&c.heat_up_minutes.source, &c.sterile_boil_minutes.source].map(String::as_str));
        ids.extend([&c.cool_hours, &c.pressure_heat_minutes].map(|range| range.source.as_str()));
        let months = [&c.best_months, &c.stale_months, &c.reprocess_within_hours];
        ids.extend(months.map(|months| months.source.as_str()));
        for id in ids {
            assert!(source(id).is_some(), "no source {id}");
        }
        assert!(c.bands.values().all(|bands| bands.mark.is_seen()));
        assert!(c.canner_load.iter().all(|row| row.mark.is_seen()));
        assert!(c.bands["dial"].note.is_some());
    }

    #[test]
    fn a_band_in_words() {
        let four = &canning().bands["four"];
        assert_eq!(four.words(0), "up to 1000 ft (304.8 m)");
        assert_eq!(four.words(1), "above 1000 ft (304.8 m) up to 3000 ft (914.4 m)");
        assert_eq!(four.words(3), "above 6000 ft (1828.8 m)");
        assert_eq!(four.columns(), 4);
    }
}
